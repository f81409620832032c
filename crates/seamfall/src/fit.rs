//! `seamfall fit`: single questions about a bed, with a quilt or without, in words or as JSON.
//!
//! In: a bed by its name or as measured, drops, and what may vary. Out: sizes, hangs and settings with their workings. What cannot be had
//! is told with the nearest that can.

use crate::asked::{Asked, say};
use crate::failure::Failure;
use clap::{Args, Subcommand, ValueEnum};
use seamfall_geom::Vec2;
use seamfall_model::{BEDS, Bed, CornerShape, Length, PerCent, Quilt, StandardBed};
use seamfall_plan::answer::{Answer, Impossible};
use seamfall_plan::caution::Caution;
use seamfall_plan::fit::{self, Base, Drops, Found, Parity, Standing, Wishes};
use seamfall_plan::{wire, words};
use std::path::PathBuf;
use tr::tr;

/// What holds for every question.
#[derive(Debug, Args)]
pub struct Options {
    /// The answer as JSON
    #[arg(long, global = true)]
    json: bool,
    /// In centimetres instead of inches
    #[arg(long, global = true)]
    cm: bool,
}

/// A bed.
#[derive(Debug, Args)]
pub struct BedArgs {
    /// A standard bed by its name, such as "us queen"; `seamfall fit beds` lists them
    #[arg(long, value_name = "NAME", required_unless_present = "mattress")]
    bed: Option<String>,
    /// Width and length of the mattress as measured, such as "60 x 80"
    #[arg(long, value_name = "SIZE")]
    mattress: Option<String>,
    /// Top of the mattress above the floor; 24 in or 60 cm unless said
    #[arg(long, value_name = "LENGTH")]
    height: Option<String>,
    /// How far it is to hang at the sides; 12 in or 30 cm unless said
    #[arg(long, value_name = "LENGTH")]
    sides: Option<String>,
    /// How far it is to hang at the foot; 12 in or 30 cm unless said
    #[arg(long, value_name = "LENGTH")]
    foot: Option<String>,
    /// Cloth for tucking in at the pillows; none unless said
    #[arg(long, value_name = "LENGTH")]
    tuck: Option<String>,
    /// What quilting takes off, in per cent, least and most: "2,5"
    #[arg(long, value_name = "SHARES", value_delimiter = ',', num_args = 2)]
    take_up: Option<Vec<f64>>,
    /// What the first wash takes off, in per cent, least and most: "2,5"
    #[arg(long, value_name = "SHARES", value_delimiter = ',', num_args = 2)]
    shrinkage: Option<Vec<f64>>,
}

/// How blocks stand.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Stands {
    /// Square to the edges
    Straight,
    /// On their corners
    OnPoint,
}

/// Which numbers of columns and rows.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Numbers {
    /// Odd ones
    Odd,
    /// Even ones
    Even,
}

/// The questions.
#[derive(Debug, Subcommand)]
pub enum Question {
    /// Lists the standard beds with the size of their mattress
    Beds,
    /// How large the quilt for a bed should be, finished and pieced
    Size {
        #[command(flatten)]
        bed: BedArgs,
    },
    /// How far down the corners at the foot hang, shape by shape
    Corner {
        /// Drop at the side
        #[arg(long, value_name = "LENGTH")]
        side: String,
        /// Drop at the foot; that of the side unless said
        #[arg(long, value_name = "LENGTH")]
        foot: Option<String>,
        /// Top of the mattress above the floor; 24 in or 60 cm unless said
        #[arg(long, value_name = "LENGTH")]
        height: Option<String>,
        /// Side of the block in the corner, for one that is set back
        #[arg(long, value_name = "LENGTH")]
        block: Option<String>,
    },
    /// Which settings reach a size: blocks, rows, sashing and bands, ranked
    Settings {
        /// A quilt file whose blocks, frames, sashing and bands may vary; square blocks unless said
        file: Option<PathBuf>,
        /// Width and length to reach as pieced, such as "90 x 108"; that of the quilt's bed unless said
        #[arg(long, value_name = "SIZE", required_unless_present = "file")]
        size: Option<String>,
        /// Blocks at least so large
        #[arg(long, value_name = "LENGTH")]
        from: Option<String>,
        /// Blocks at most so large
        #[arg(long, value_name = "LENGTH")]
        to: Option<String>,
        /// How the blocks stand; either way unless said
        #[arg(long, value_enum)]
        standing: Option<Stands>,
        /// Which numbers of columns and rows; any unless said
        #[arg(long, value_enum)]
        numbers: Option<Numbers>,
        /// Whole sizes only
        #[arg(long)]
        whole: bool,
        /// How far off either side may be; 1 in or 2.5 cm unless said
        #[arg(long, value_name = "LENGTH")]
        within: Option<String>,
    },
}

/// The answer as it is printed. `read` reads a quilt file.
pub fn answer(
    question: &Question,
    options: &Options,
    read: impl Fn(&std::path::Path) -> Result<Quilt, Failure>,
) -> Result<String, Failure> {
    let asked = Asked::new(options.cm);
    match question {
        Question::Beds => Ok(if options.json { wire::beds_json(asked.ruler.measure) + "\n" } else { beds(&asked) }),
        Question::Size { bed } => {
            let bed = asked.bed(bed)?;
            let answer = fit::wanted(&bed, asked.ruler).answer(&bed, asked.ruler);
            Ok(told(&asked, options, &[answer], &fit::cautions(&bed, asked.ruler)))
        }
        Question::Corner { side, foot, height, block } => {
            let side = asked.length(side)?;
            let drops = Drops { side, foot: asked.maybe(foot.as_ref())?.unwrap_or(side) };
            let (height, block) = (asked.or(height.as_ref(), [24.0, 60.0])?, asked.maybe(block.as_ref())?);
            Ok(told(&asked, options, &corners(&asked, drops, height, block)?, &[]))
        }
        Question::Settings { file, size, from, to, standing, numbers, whole, within } => {
            let quilt = file.as_deref().map(read).transpose()?;
            let asked = quilt.as_ref().map_or(asked, |quilt| Asked { ruler: seamfall_plan::answer::Ruler::of(quilt) });
            let (mut wishes, base) = wished(&asked, quilt.as_ref(), size.as_ref())?;
            if let Some(standing) = standing {
                let wanted = if matches!(standing, Stands::OnPoint) { Standing::OnPoint } else { Standing::Straight };
                wishes.standings.retain(|one| *one == wanted);
            }
            wishes.parity = match numbers {
                None => Parity::Any,
                Some(Numbers::Odd) => Parity::Odd,
                Some(Numbers::Even) => Parity::Even,
            };
            if *whole {
                wishes.in_whole_steps(asked.ruler.measure);
            }
            wishes.blocks.from = asked.maybe(from.as_ref())?.map_or(wishes.blocks.from, Length::value);
            wishes.blocks.to = asked.maybe(to.as_ref())?.map_or(wishes.blocks.to, Length::value);
            wishes.tolerance = asked.maybe(within.as_ref())?.map_or(wishes.tolerance, Length::value);
            let found = fit::search(&wishes, &base, asked.ruler).map_err(Failure::Impossible)?;
            Ok(if options.json { wire::found_json(asked.ruler.measure, &found) + "\n" } else { settings(&asked, &found) })
        }
    }
}

fn told(asked: &Asked, options: &Options, answers: &[Answer], cautions: &[Caution]) -> String {
    if options.json {
        return wire::answers_json(asked.ruler.measure, answers) + "\n";
    }
    let mut text: String = answers.iter().map(|answer| asked.words(answer)).collect();
    for caution in cautions {
        say(
            &mut text,
            format_args!("  {}", tr!("caution: {words} Source: {source}.", words = caution.words(), source = caution.source())),
        );
    }
    text
}

impl Asked {
    fn bed(&self, args: &BedArgs) -> Result<Bed, Failure> {
        let measure = self.ruler.measure;
        let standard = args.bed.as_deref().map(named).transpose()?;
        let mut bed = standard.map_or_else(|| Bed::usual(measure, Length::ZERO, Length::ZERO), |bed| Bed::standard(measure, bed));
        if let Some(mattress) = &args.mattress {
            let size = self.size(mattress)?;
            (bed.width, bed.length) = (Length::new(size.x), Length::new(size.y));
        }
        bed.height = self.maybe(args.height.as_ref())?.unwrap_or(bed.height);
        // What is usual is too much for a low bed.
        let usual = |drop: Length| Length::new(drop.value().min(bed.height.value()));
        let (sides, foot) = (usual(bed.sides), usual(bed.foot));
        bed.sides = self.maybe(args.sides.as_ref())?.unwrap_or(sides);
        bed.foot = self.maybe(args.foot.as_ref())?.unwrap_or(foot);
        bed.tuck = self.maybe(args.tuck.as_ref())?.unwrap_or(bed.tuck);
        bed.take_up = share(args.take_up.as_deref(), bed.take_up)?;
        bed.shrinkage = share(args.shrinkage.as_deref(), bed.shrinkage)?;
        fit::check(&bed, self.ruler).map_err(Failure::Impossible)?;
        Ok(bed)
    }
}

fn named(name: &str) -> Result<&'static StandardBed, Failure> {
    let none = || {
        let nearest = tr!("`seamfall fit beds` lists them; or give the mattress as measured, with `--mattress \"60 x 80\"`");
        Failure::Impossible(Impossible {
            reason: tr!("there is no standard bed `{name}`", name),
            nearest: nearest.to_owned(),
            value: 0.0,
        })
    };
    StandardBed::named(&name.to_lowercase()).ok_or_else(none)
}

fn share(typed: Option<&[f64]>, usual: PerCent) -> Result<PerCent, Failure> {
    match typed {
        None => Ok(usual),
        Some(&[least, most]) if 0.0 <= least && least <= most && most <= seamfall_model::limits::SHRINKAGE => {
            Ok(PerCent { least, most })
        }
        Some(_) => Err(Failure::Impossible(Impossible {
            reason: tr!("a share is two numbers in per cent, the least first"),
            nearest: tr!("write it like `2,5`, up to {most} per cent", most = seamfall_model::limits::SHRINKAGE),
            value: seamfall_model::limits::SHRINKAGE,
        })),
    }
}

/// Every shape that can be had; that which is set back where a block is named.
fn corners(asked: &Asked, drops: Drops, height: Length, block: Option<Length>) -> Result<Vec<Answer>, Failure> {
    let shapes = CornerShape::ALL.into_iter().filter(|shape| *shape != CornerShape::SetBack || block.is_some());
    let cut = |shape| fit::corner_cut(shape, drops, [block.unwrap_or(Length::ZERO); 2], asked.ruler);
    shapes.map(|shape| Ok(cut(shape).map_err(Failure::Impossible)?.answer(height, asked.ruler))).collect()
}

fn wished(asked: &Asked, quilt: Option<&Quilt>, size: Option<&String>) -> Result<(Wishes, Base), Failure> {
    let measure = asked.ruler.measure;
    let size = match (size, quilt) {
        (Some(size), _) => asked.size(size)?,
        (None, Some(Quilt { bed: Some(bed), .. })) => fit::wanted(bed, asked.ruler).to_piece(),
        (None, _) => return Err(Failure::Length(tr!("the quilt has no bed; say which size, with `--size \"90 x 108\"`"))),
    };
    match quilt {
        Some(quilt) => fit::wishes(quilt, size).map_err(Failure::Impossible),
        None => Ok((Wishes::usual(measure, size), Base::usual(measure))),
    }
}

fn beds(asked: &Asked) -> String {
    let mut text = tr!("beds ({unit})", unit = asked.ruler.measure.sign()) + "\n";
    for bed in BEDS {
        let [width, length] = bed.mattress(asked.ruler.measure).map(|side| side.shown(asked.ruler.step));
        say(&mut text, format_args!("  {:<16} {width:>7} x {length:<7} {}", bed.key, seamfall_model::spoken(bed.source)));
    }
    text
}

fn settings(asked: &Asked, found: &Found) -> String {
    let ruler = asked.ruler;
    let mut text = tr!(
        "{settings} settings looked at, {within} within {tolerance}",
        settings = found.settings,
        within = found.within,
        tolerance = ruler.shown(Length::new(found.tolerance))
    ) + "\n";
    for one in &found.best {
        let Vec2 { x, y } = one.size;
        let [x, y] = [x, y].map(|side| Length::new(side).shown(ruler.step));
        say(&mut text, format_args!("{}", one.reason));
        say(&mut text, format_args!("  {}", one.words(ruler)));
        say(
            &mut text,
            format_args!(
                "  {}",
                tr!(
                    "{width} x {height}, {blocks} blocks, {hours}",
                    width = x,
                    height = y,
                    blocks = one.blocks,
                    hours = words::hours(one.figures.hours)
                )
            ),
        );
        for working in &one.workings {
            say(&mut text, format_args!("    {}", working.line()));
        }
    }
    text
}
