//! The cuts of a material as a table: line by line in the order of cutting.
//!
//! In: what is bought. Out: a list for the length, or one for each of the sizes it is cut out of. Drawings bear the same numbers.

use super::{Cutting, KindOf, Laid, Part, ToBuy, ticks_per_unit};
use seamfall_cutting::job::Kind;
use seamfall_cutting::layout::Strip;
use seamfall_cutting::steps::{self, Cut, Gives};
use seamfall_model::{Length, Quilt};
use tr::tr;

/// What is cut up in one go: the whole length, or equal sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSheet {
    /// What the maker calls the size; nothing for a length.
    pub name: Option<String>,
    /// How many sheets are cut so.
    pub times: u32,
    /// Whether a sheet is turned a quarter before the first cut.
    pub turned: bool,
    /// Width across the first cuts, as it lies while it is cut.
    pub width: Length,
    /// Length that is used.
    pub length: Length,
    /// Strips, in the order of cutting, in ticks.
    pub strips: Vec<Strip>,
    /// Kinds as they lie while they are cut.
    pub kinds: Vec<Kind>,
    /// The lines of the table.
    pub lines: Vec<CutLine>,
}

/// Equal cuts, one after another.
#[derive(Debug, Clone, PartialEq)]
pub struct CutLine {
    /// `2`, `2.1`, `2.1.3`.
    pub number: String,
    /// How deep it stands: 0 for strips off the cloth.
    pub depth: usize,
    /// What the ruler is set to.
    pub ruler: Length,
    /// How often.
    pub times: u32,
    /// `strip`, `c3`, `part`, `c4, trimmed to 2 × 3`.
    pub gives: String,
}

/// The tables of a material, none where it cannot be laid out.
#[must_use]
pub fn sheets(quilt: &Quilt, cutting: &Cutting, bought: &ToBuy) -> Vec<CutSheet> {
    let telling = Telling { quilt, cutting, bought };
    match &bought.laid {
        None => Vec::new(),
        Some(Laid::OffTheBolt(laid)) => {
            let (strips, kinds) = (laid.cutting.layout.strips.clone(), laid.job.kinds().to_vec());
            vec![CutSheet {
                name: None,
                times: 1,
                turned: false,
                width: telling.size(laid.job.width()),
                length: laid.needed.length(),
                lines: telling.lines(&strips, &kinds),
                strips,
                kinds,
            }]
        }
        Some(Laid::OutOfSizes(laid)) => {
            let sheet = |sheet: &seamfall_cutting::sheets::CutSheet| {
                let size = &laid.job.sheets()[sheet.sheet];
                let (strips, kinds) = steps::of_sheet(&laid.job, sheet);
                let [width, length] = if sheet.turned { [size.height, size.width] } else { [size.width, size.height] };
                CutSheet {
                    name: Some(size.name.clone()),
                    times: sheet.times,
                    turned: sheet.turned,
                    width: telling.size(width),
                    length: telling.size(length),
                    lines: telling.lines(&strips, &kinds),
                    strips,
                    kinds,
                }
            };
            laid.cutting.sheets.iter().map(sheet).collect()
        }
    }
}

/// `c3`, `c3 strip`, `c3 rest`, `12 × c3`: what a kind of rectangle is called.
#[must_use]
pub fn kind_name(cutting: &Cutting, bought: &ToBuy, of: KindOf) -> String {
    let name = &cutting.pieces[of.piece].name;
    match of.part {
        Part::Whole => name.clone(),
        Part::Strip => tr!("{name} strip", name),
        Part::Rest => tr!("{name} rest", name),
        Part::Motifs => tr!("{name} by the motif", name),
        Part::Nest(block) => format!("{} × {name}", bought.nests[block].places.len()),
    }
}

struct Telling<'a> {
    quilt: &'a Quilt,
    cutting: &'a Cutting,
    bought: &'a ToBuy,
}

impl Telling<'_> {
    fn size(&self, ticks: u32) -> Length {
        Length::new(f64::from(ticks) / f64::from(ticks_per_unit(self.quilt.step)))
    }

    fn lines(&self, strips: &[Strip], kinds: &[Kind]) -> Vec<CutLine> {
        let mut lines = Vec::new();
        steps::cuts(strips, kinds).iter().for_each(|cut| self.line(cut, 0, &mut lines));
        lines
    }

    fn line(&self, cut: &Cut, depth: usize, lines: &mut Vec<CutLine>) {
        let gives = match &cut.gives {
            Gives::Part(_) if depth == 0 => tr!("strip"),
            Gives::Part(_) => tr!("part"),
            Gives::Piece { kind, trim, .. } => {
                let name = kind_name(self.cutting, self.bought, self.bought.kinds[*kind]);
                match trim {
                    Some([width, height]) => {
                        let shown = |side| self.size(side).shown(self.quilt.step);
                        tr!("{name}, trimmed to {width} × {height}", name, width = shown(*width), height = shown(*height))
                    }
                    None => name,
                }
            }
        };
        lines.push(CutLine { number: cut.number.clone(), depth, ruler: self.size(cut.ruler), times: cut.times, gives });
        if let Gives::Part(inside) = &cut.gives {
            inside.iter().for_each(|cut| self.line(cut, depth + 1, lines));
        }
    }
}
