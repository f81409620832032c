//! `seamfall edge`: single questions about an edge, without a quilt, in words or as JSON.
//!
//! In: sizes as people type them. Out: figures with their workings, steps, notes. What cannot be had is told with the nearest that can.

use crate::asked::Asked;
use crate::failure::Failure;
use crate::files;
use clap::{Args, Subcommand, ValueEnum};
use seamfall_draw::{bias_svg, edge_template_svg, point_svg};
use seamfall_model::{Allowance, ClothId, Cover, Length, PointFold, SeamKind};
use seamfall_plan::finish::scallops::{self, Curve, Wish};
use seamfall_plan::finish::{Answer, Impossible, Round, bias, binding, cover, points, ruffle, sleeve};
use seamfall_plan::wire;
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
    /// Seam allowance; 1/4 in or 0.75 cm unless said
    #[arg(long, global = true, value_name = "LENGTH")]
    seam: Option<String>,
    /// Usable width of the cloth; 40 in or 102 cm unless said
    #[arg(long, global = true, value_name = "LENGTH")]
    cloth: Option<String>,
    /// Also draws it, as SVG: bias and points step by step, scallops and waves of a quilt as a template at full size
    #[arg(long, global = true, value_name = "FILE")]
    draw: Option<PathBuf>,
}

/// The edge that is asked about.
#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct Around {
    /// Width and height of the quilt, such as "60 x 80"
    #[arg(long, value_name = "SIZE")]
    quilt: Option<String>,
    /// Length of the edge, straight or as measured along its curves
    #[arg(long, value_name = "LENGTH")]
    round: Option<String>,
}

/// The sides that are asked about.
#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct Sides {
    /// Width and height of the quilt, such as "60 x 80"
    #[arg(long, value_name = "SIZE")]
    quilt: Option<String>,
    /// Length of one side
    #[arg(long, value_name = "LENGTH")]
    side: Option<String>,
}

/// Scallops or waves.
#[derive(Debug, Args)]
pub struct Arcs {
    #[command(flatten)]
    sides: Sides,
    /// About how wide each shall be; 8 in or 20 cm unless said
    #[arg(long, value_name = "LENGTH")]
    width: Option<String>,
    /// From the highest point to the lowest; 1 1/2 in or 4 cm unless said
    #[arg(long, value_name = "LENGTH")]
    depth: Option<String>,
    /// What a corner takes of either side; nothing of one side, and of a quilt what suits, unless said
    #[arg(long, value_name = "LENGTH")]
    corner: Option<String>,
    /// Width of the outer band
    #[arg(long, value_name = "LENGTH")]
    band: Option<String>,
}

/// How points are folded.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Fold {
    /// Twice from corner to corner
    Nested,
    /// In half, then both corners to the middle
    Overlapping,
}

/// How the seams of a cover are sewn.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Seams {
    /// Pressed open
    Open,
    /// To one side
    Plain,
    /// Overedged together
    Overedged,
    /// Lapped and sewn flat
    Lapped,
    /// Sewn twice, allowances inside
    French,
}

/// The questions.
#[derive(Debug, Subcommand)]
pub enum Question {
    /// How much binding goes round an edge
    Binding {
        #[command(flatten)]
        around: Around,
        /// Width of the strip as cut; 2 1/2 in or 6.5 cm unless said
        #[arg(long, value_name = "LENGTH")]
        width: Option<String>,
        /// Added for the ends; 12 in or 30 cm unless said
        #[arg(long, value_name = "LENGTH")]
        more: Option<String>,
        /// How wide it shows; the seam allowance unless said
        #[arg(long, value_name = "LENGTH")]
        finished: Option<String>,
    },
    /// How wide a binding is cut for a width that shows
    BindingWidth {
        /// How wide it shows
        #[arg(long, value_name = "LENGTH")]
        finished: String,
    },
    /// How much bias a square gives, or which square gives a length of it
    Bias {
        /// Side of the square
        #[arg(long, value_name = "LENGTH", required_unless_present = "length", conflicts_with = "length")]
        square: Option<String>,
        /// Length that is wanted
        #[arg(long, value_name = "LENGTH")]
        length: Option<String>,
        /// Width of the strip as cut
        #[arg(long, value_name = "LENGTH")]
        width: String,
    },
    /// How many prairie points stand along a side
    Points {
        #[command(flatten)]
        sides: Sides,
        /// Side of the squares as cut; 4 in or 10 cm unless said
        #[arg(long, value_name = "LENGTH")]
        square: Option<String>,
        /// How far the points stand beyond the edge, instead of the square
        #[arg(long, value_name = "LENGTH", conflicts_with = "square")]
        height: Option<String>,
        /// From one point to the next, at most; two thirds of a point's base unless said
        #[arg(long, value_name = "LENGTH")]
        spacing: Option<String>,
        /// How they are folded
        #[arg(long, value_enum, default_value_t = Fold::Nested)]
        fold: Fold,
    },
    /// How many scallops stand along a side, and how long their edge is
    Scallops(Arcs),
    /// How many waves go along a side, and how long their edge is
    Waves(Arcs),
    /// How long a ruffle is before it is gathered
    Ruffle {
        #[command(flatten)]
        around: Around,
        /// Finished depth; 3 in or 7.5 cm unless said
        #[arg(long, value_name = "LENGTH")]
        depth: Option<String>,
        /// How many times as long as the edge
        #[arg(long, default_value_t = 2.0)]
        fullness: f64,
    },
    /// How wide a strip for piping is cut
    Piping {
        /// How thick the cord is; of a flat fold what shows
        #[arg(long, value_name = "LENGTH")]
        cord: String,
        /// A flat fold without a cord
        #[arg(long)]
        flat: bool,
    },
    /// How a rod sleeve is cut
    Sleeve {
        /// Length of the upper edge
        #[arg(long, value_name = "LENGTH")]
        side: String,
        /// Finished depth; 4 in or 10 cm unless said
        #[arg(long, value_name = "LENGTH")]
        depth: Option<String>,
    },
    /// How a facing is cut
    Facing {
        /// Width and height of the quilt, such as "60 x 80"
        #[arg(long, value_name = "SIZE")]
        quilt: String,
        /// Finished depth; 2 in or 5 cm unless said
        #[arg(long, value_name = "LENGTH")]
        depth: Option<String>,
    },
    /// Which band brings a quilt to another size
    Enlarge {
        /// Width and height of the quilt, such as "60 x 80"
        #[arg(long, value_name = "SIZE")]
        quilt: String,
        /// Width and height that are wanted
        #[arg(long, value_name = "SIZE")]
        to: String,
        /// Width of the pieces of a pieced band
        #[arg(long, value_name = "LENGTH")]
        piece: Option<String>,
    },
    /// The quilt as a cover: its lining, insert, ties and closures
    Cover {
        /// Width and height of the quilt, such as "60 x 80"
        #[arg(long, value_name = "SIZE")]
        quilt: String,
        /// How much larger the insert is; 1 in or 2.5 cm unless said
        #[arg(long, value_name = "LENGTH")]
        larger: Option<String>,
        /// Channels of a loose filling, at most so wide
        #[arg(long, value_name = "LENGTH")]
        channel: Option<String>,
        /// Weight of the filling, in grams a square metre
        #[arg(long)]
        grams: Option<f64>,
        /// Ties, at most so far apart
        #[arg(long, value_name = "LENGTH")]
        ties: Option<String>,
        /// A flap at the head, so deep
        #[arg(long, value_name = "LENGTH")]
        flap: Option<String>,
        /// How its seams are sewn
        #[arg(long, value_enum, default_value_t = Seams::French)]
        seams: Seams,
    },
}

/// The answer as it is printed; or, where it cannot be had, why, as JSON where that was asked for.
pub fn answer(question: &Question, options: &Options) -> Result<String, Failure> {
    let asked = Edge::new(options)?;
    let answer = asked.answer(question)?.map_err(Failure::Impossible)?;
    if let Some(file) = &options.draw {
        let drawn = asked.drawing(question)?.map_err(Failure::Impossible)?;
        let drawn = drawn.ok_or_else(|| {
            Failure::Length(tr!("this question has no drawing; `bias`, `points`, and `scallops` and `waves` with `--quilt` have"))
        })?;
        files::write(file, drawn.as_bytes())?;
    }
    Ok(if options.json { wire::answer_json(asked.ruler.measure, &answer) + "\n" } else { asked.words(&answer) })
}

/// A question, its sizes read in the measure that was chosen.
struct Edge {
    asked: Asked,
    cloth: Length,
}

impl std::ops::Deref for Edge {
    type Target = Asked;

    fn deref(&self) -> &Asked {
        &self.asked
    }
}

impl Edge {
    fn new(options: &Options) -> Result<Self, Failure> {
        let mut asked = Asked::new(options.cm);
        if let Some(seam) = &options.seam {
            asked.ruler.allowance = Allowance(asked.length(seam)?);
        }
        Ok(Self { asked, cloth: asked.or(options.cloth.as_ref(), [40.0, 102.0])? })
    }

    fn round(&self, around: &Around) -> Result<Round, Failure> {
        if let Some(quilt) = &around.quilt {
            let size = self.size(quilt)?;
            return Ok(Round::rectangle(size.x, size.y));
        }
        let length = self.length(around.round.as_deref().unwrap_or_default())?.value();
        Ok(Round { length, outside: 0, square_corners: 0.0, ..Round::rectangle(0.0, 0.0) })
    }

    fn answer(&self, question: &Question) -> Result<Result<Answer, Impossible>, Failure> {
        let ruler = self.ruler;
        Ok(match question {
            Question::Binding { around, width, more, finished } => {
                let (round, strip) = (self.round(around)?, self.or(width.as_ref(), [2.5, 6.5])?);
                binding::answer(&round, strip, self.cloth, self.maybe(more.as_ref())?, self.maybe(finished.as_ref())?, ruler)
            }
            Question::BindingWidth { finished } => Ok(binding::widths(self.length(finished)?, ruler)),
            Question::Bias { square: Some(square), width, .. } => {
                bias::tube(self.length(square)?, self.length(width)?, ruler).map(|tube| tube.answer(ruler))
            }
            Question::Bias { square: None, length, width } => {
                self.square_for(length.as_deref(), width)?.map(|square| square.answer(ruler))
            }
            Question::Points { sides, square, height, spacing, fold } => {
                let (point, fold) = (self.point(square.as_ref(), height.as_ref())?, folded(*fold));
                let (sides, spacing) = (self.sides(sides)?, self.maybe(spacing.as_ref())?);
                point.and_then(|point| points::answer(&sides, &point, spacing, fold, self.cloth, ruler))
            }
            Question::Scallops(arcs) => self.arcs(Curve::Scallops, arcs)?,
            Question::Waves(arcs) => self.arcs(Curve::Waves, arcs)?,
            Question::Ruffle { around, depth, fullness } => {
                ruffle::answer(&self.round(around)?, *fullness, self.or(depth.as_ref(), [3.0, 7.5])?, self.cloth, ruler)
            }
            Question::Piping { cord, flat } => ruffle::piping_answer(self.length(cord)?, *flat, ruler),
            Question::Sleeve { side, depth } => {
                sleeve::rod_sleeve(self.length(side)?, self.or(depth.as_ref(), [4.0, 10.0])?, ruler).map(|sleeve| sleeve.answer())
            }
            Question::Facing { quilt, depth } => {
                sleeve::facing(self.size(quilt)?, self.or(depth.as_ref(), [2.0, 5.0])?, ruler).map(|facing| facing.answer())
            }
            Question::Enlarge { quilt, to, piece } => {
                sleeve::enlarge(self.size(quilt)?, self.size(to)?, self.maybe(piece.as_ref())?, ruler).map(|made| made.answer())
            }
            Question::Cover { quilt, larger, channel, grams, ties, flap, seams } => {
                let usual = Cover::usual(ruler.measure, ClothId(0));
                let chosen = Cover {
                    larger: self.maybe(larger.as_ref())?.unwrap_or(usual.larger),
                    channel: self.maybe(channel.as_ref())?,
                    ties: self.maybe(ties.as_ref())?,
                    flap: self.maybe(flap.as_ref())?,
                    grams: *grams,
                    seam: match seams {
                        Seams::Open => SeamKind::Open,
                        Seams::Plain => SeamKind::Plain,
                        Seams::Overedged => SeamKind::Overedged,
                        Seams::Lapped => SeamKind::Lapped,
                        Seams::French => SeamKind::French,
                    },
                    ..usual
                };
                cover::plan(self.size(quilt)?, &chosen, ruler).map(|made| made.answer(chosen.seam))
            }
        })
    }

    /// One side; or of a quilt top, side, bottom and side.
    fn sides(&self, sides: &Sides) -> Result<Vec<Length>, Failure> {
        if let Some(quilt) = &sides.quilt {
            let size = self.size(quilt)?;
            return Ok([size.x, size.y, size.x, size.y].map(Length::new).into());
        }
        Ok(vec![self.length(sides.side.as_deref().unwrap_or_default())?])
    }

    fn square_for(&self, length: Option<&str>, width: &str) -> Result<Result<bias::BiasSquare, Impossible>, Failure> {
        Ok(bias::square_for(self.length(length.unwrap_or_default())?, self.length(width)?, self.ruler))
    }

    fn point(&self, square: Option<&String>, height: Option<&String>) -> Result<Result<points::Point, Impossible>, Failure> {
        Ok(match self.maybe(height)? {
            Some(height) => points::of_height(height, self.ruler),
            None => points::of_square(self.or(square, [4.0, 10.0])?, self.ruler),
        })
    }

    /// What is wished of a curve: of one side with nothing for its corners, of a quilt with what suits, unless said.
    fn wish(&self, curve: Curve, arcs: &Arcs) -> Result<Wish, Failure> {
        let about = self.or(arcs.width.as_ref(), [8.0, 20.0])?;
        let depth = self.or(arcs.depth.as_ref(), [1.5, 4.0])?;
        let usual = if arcs.sides.quilt.is_some() { Wish::usual_corner(curve, about, depth) } else { Length::ZERO };
        Ok(Wish { curve, about, depth, corner: self.maybe(arcs.corner.as_ref())?.unwrap_or(usual) })
    }

    fn arcs(&self, curve: Curve, arcs: &Arcs) -> Result<Result<Answer, Impossible>, Failure> {
        let (wish, band) = (self.wish(curve, arcs)?, self.maybe(arcs.band.as_ref())?);
        Ok(match &arcs.sides.quilt {
            Some(quilt) => scallops::answer_round(self.size(quilt)?, &wish, band, self.ruler),
            None => {
                let side = self.length(arcs.sides.side.as_deref().unwrap_or_default())?;
                scallops::answer(side, &wish, band, self.ruler)
            }
        })
    }

    /// The drawing of an answer, where it has one.
    fn drawing(&self, question: &Question) -> Result<Result<Option<String>, Impossible>, Failure> {
        let measure = self.ruler.measure;
        let template = |curve, arcs: &Arcs| -> Result<Result<Option<String>, Impossible>, Failure> {
            let Some(quilt) = &arcs.sides.quilt else { return Ok(Ok(None)) };
            let edge = scallops::round(self.size(quilt)?, &self.wish(curve, arcs)?, self.ruler);
            Ok(edge.map(|edge| Some(edge_template_svg(&edge, measure).svg)))
        };
        Ok(match question {
            Question::Bias { square: Some(square), width, .. } => {
                let tube = bias::tube(self.length(square)?, self.length(width)?, self.ruler);
                tube.map(|tube| Some(bias_svg(&tube, measure)))
            }
            Question::Bias { square: None, length, width } => {
                self.square_for(length.as_deref(), width)?.map(|square| Some(bias_svg(&square.tube, measure)))
            }
            Question::Points { square, height, fold, .. } => {
                let point = self.point(square.as_ref(), height.as_ref())?;
                point.map(|point| Some(point_svg(&point, folded(*fold), measure)))
            }
            Question::Scallops(arcs) => template(Curve::Scallops, arcs)?,
            Question::Waves(arcs) => template(Curve::Waves, arcs)?,
            _ => Ok(None),
        })
    }
}

fn folded(fold: Fold) -> PointFold {
    match fold {
        Fold::Nested => PointFold::Nested,
        Fold::Overlapping => PointFold::Overlapping,
    }
}
