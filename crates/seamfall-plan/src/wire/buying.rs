//! What to buy on the wire, and where every piece lies on it.

use super::cutting::WorkingWire;
use super::shape::length;
use crate::cut::{Cutting, Laid, OffTheBolt, OutOfSizes, Part, ThreadToBuy, ToBuy, ticks_per_unit};
use schemars::JsonSchema;
use seamfall_cutting::steps::{self, Cut, Gives};
use seamfall_model::Quilt;
use serde::Serialize;

/// What to buy of a cloth or of the batting.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ToBuyWire {
    /// Key of the cloth, or `batting`.
    pub of: String,
    /// `1 7/8 yd`, `1.8 m`, or `4 × fat quarter`.
    pub shown: String,
    /// What it costs, in hundredths, where that is known.
    pub price: Option<u64>,
    /// What the batting would be, bought the other way.
    pub instead: Option<String>,
    /// Where the pieces lie; nothing where they cannot, which is a finding.
    pub laid: Option<LaidWire>,
    /// Remnants worth keeping, the largest first.
    pub offcuts: Vec<OffcutWire>,
}

/// Where pieces lie.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum LaidWire {
    /// On a length of one width.
    Length {
        /// Usable width.
        width: f64,
        /// Length of the layout.
        needed: Box<WorkingWire>,
        /// Length to buy.
        length: Box<WorkingWire>,
        /// No layout is shorter than this.
        bound: f64,
        /// What would have to be bought for the bound.
        least: Box<WorkingWire>,
        /// Whether the layout is as long as the bound: nothing shorter exists.
        proven: bool,
        /// What the ruler is set to, the widest first.
        rulers: Vec<f64>,
        /// The cuts, in the order of cutting: strips across the cloth.
        cuts: Vec<CutWire>,
    },
    /// On sheets of several sizes.
    Sizes {
        /// The sheets that are taken.
        sheets: Vec<SheetWire>,
        /// No choice of sheets is cheaper than this: in hundredths, or in square steps of the ruler where nothing has a price.
        bound: u64,
        /// What they cost, in the same.
        cost: u64,
    },
}

/// Equal sheets, cut up alike.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SheetWire {
    /// What the maker calls the size.
    pub name: String,
    /// Across.
    pub width: f64,
    /// Along.
    pub length: f64,
    /// How many.
    pub times: u32,
    /// Whether it is turned a quarter before the first cut.
    pub turned: bool,
    /// The cuts.
    pub cuts: Vec<CutWire>,
}

/// Equal cuts, one after another.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CutWire {
    /// `2`, `2.1`, `2.1.3`.
    pub number: String,
    /// What the ruler is set to.
    pub ruler: f64,
    /// How often.
    pub times: u32,
    /// The piece that comes off, if it is one.
    pub piece: Option<CutOffWire>,
    /// How the part that comes off is cut up, if it is none.
    pub cuts: Vec<CutWire>,
}

/// A piece that comes off.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CutOffWire {
    /// `c1`.
    pub name: String,
    /// `whole`; of a joined strip `strip` and `rest`; `block` of several pieces by template; `motifs` of a length that holds all pieces that show a motif.
    pub part: String,
    /// Pieces in it: 1, or those of a block.
    pub pieces: usize,
    /// Whether it lies a quarter turn from how it is listed.
    pub turned: bool,
    /// What it is trimmed to, across and along, where it comes off larger.
    pub trim: Option<[f64; 2]>,
}

/// A remnant.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OffcutWire {
    /// Across.
    pub width: f64,
    /// Along.
    pub length: f64,
    /// How many.
    pub count: u32,
}

/// Thread for piecing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ThreadWire {
    /// Length of all seams.
    pub seams: WorkingWire,
    /// Length of thread.
    pub thread: WorkingWire,
    /// Spools, where the maker says how long one is.
    pub spools: Option<WorkingWire>,
    /// What they cost, in hundredths.
    pub price: Option<u64>,
}

impl ThreadWire {
    pub(super) fn new(thread: &ThreadToBuy) -> Self {
        Self {
            seams: WorkingWire::new(&thread.seams),
            thread: WorkingWire::new(&thread.thread),
            spools: thread.spools.as_ref().map(WorkingWire::new),
            price: thread.price,
        }
    }
}

/// What cuts are told with.
struct Telling<'a> {
    cutting: &'a Cutting,
    bought: &'a ToBuy,
    unit: f64,
}

impl ToBuyWire {
    pub(super) fn new(quilt: &Quilt, cutting: &Cutting, bought: &ToBuy) -> Self {
        let telling = Telling { cutting, bought, unit: f64::from(ticks_per_unit(quilt.step)) };
        let offcut = |(width, height, count): (seamfall_model::Length, seamfall_model::Length, u32)| OffcutWire {
            width: length(width.value()),
            length: length(height.value()),
            count,
        };
        Self {
            of: bought.of.key(quilt).to_owned(),
            shown: bought.shown(quilt),
            price: bought.price,
            instead: bought.instead.clone(),
            laid: bought.laid.as_ref().map(|laid| match laid {
                Laid::OffTheBolt(laid) => telling.length(laid),
                Laid::OutOfSizes(laid) => telling.sizes(laid),
            }),
            offcuts: bought.offcuts(quilt).into_iter().map(offcut).collect(),
        }
    }
}

impl Telling<'_> {
    fn size(&self, ticks: impl Into<f64>) -> f64 {
        length(ticks.into() / self.unit)
    }

    fn length(&self, laid: &OffTheBolt) -> LaidWire {
        let cuts = steps::cuts(&laid.cutting.layout.strips, laid.job.kinds());
        LaidWire::Length {
            width: self.size(laid.job.width()),
            needed: Box::new(WorkingWire::new(&laid.needed)),
            length: Box::new(WorkingWire::new(&laid.length)),
            bound: self.size(laid.cutting.bound.length as f64),
            least: Box::new(WorkingWire::new(&laid.least)),
            proven: laid.is_least(),
            rulers: steps::rulers(&cuts).into_iter().map(|ruler| self.size(ruler)).collect(),
            cuts: cuts.iter().map(|cut| self.cut(cut)).collect(),
        }
    }

    fn sizes(&self, laid: &OutOfSizes) -> LaidWire {
        let sheets = laid.cutting.sheets.iter().map(|sheet| {
            let size = &laid.job.sheets()[sheet.sheet];
            let (strips, kinds) = steps::of_sheet(&laid.job, sheet);
            SheetWire {
                name: size.name.clone(),
                width: self.size(size.width),
                length: self.size(size.height),
                times: sheet.times,
                turned: sheet.turned,
                cuts: steps::cuts(&strips, &kinds).iter().map(|cut| self.cut(cut)).collect(),
            }
        });
        LaidWire::Sizes { sheets: sheets.collect(), bound: laid.cutting.bound, cost: laid.cutting.price }
    }

    fn cut(&self, cut: &Cut) -> CutWire {
        let (piece, cuts) = match &cut.gives {
            Gives::Piece { kind, turned, trim } => {
                let of = self.bought.kinds[*kind];
                let part = match of.part {
                    Part::Whole => "whole",
                    Part::Strip => "strip",
                    Part::Rest => "rest",
                    Part::Motifs => "motifs",
                    Part::Nest(_) => "block",
                };
                let pieces = if let Part::Nest(block) = of.part { self.bought.nests[block].places.len() } else { 1 };
                let name = self.cutting.pieces[of.piece].name.clone();
                let trim = trim.map(|sides| sides.map(|side| self.size(side)));
                (Some(CutOffWire { name, part: part.to_owned(), pieces, turned: *turned, trim }), Vec::new())
            }
            Gives::Part(inside) => (None, inside.iter().map(|cut| self.cut(cut)).collect()),
        };
        CutWire { number: cut.number.clone(), ruler: self.size(cut.ruler), times: cut.times, piece, cuts }
    }
}
