//! Measured sections on the wire.
//!
//! Sides stand in the order lower, right, upper, left; their lengths are from raw edge to raw edge unless they are said to be finished.

use super::cutting::WorkingWire;
use super::sewing::ArgumentWire;
use super::shape::length;
use crate::Plan;
use crate::truing::{Eased, EasedSeam, Places, Remedy, TrimmedSize, Trued};
use schemars::JsonSchema;
use serde::Serialize;

/// What a measured quilt is trimmed to, and how it is put together.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TruingWire {
    /// One for each planned length of which something is measured, the shortest first.
    pub sizes: Vec<TrimmedSizeWire>,
    /// The measured sections.
    pub sections: Vec<TruedWire>,
    /// Which section goes where.
    pub places: Option<NewPlacesWire>,
    /// Seams of measured sections in their places.
    pub seams: Vec<EasedSeamWire>,
    /// Finished width and height of the top with its sections trimmed; nothing for a setting on point.
    pub size: Option<[WorkingWire; 2]>,
}

/// To what sides of one planned length are trimmed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TrimmedSizeWire {
    /// As planned.
    pub planned: f64,
    /// To what it is trimmed.
    pub trimmed: WorkingWire,
    /// The least to which it could be.
    pub least: WorkingWire,
    /// The section that is the guide; nothing where it is the plan.
    pub guide: Option<String>,
    /// Measured sections with such a side.
    pub measured: usize,
    /// All sections with such a side.
    pub of: usize,
}

/// A measured section.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TruedWire {
    /// `S3`.
    pub section: String,
    /// Its sides once it is trimmed.
    pub sides: [f64; 4],
    /// Trimmed off its width and its height.
    pub off: [f64; 2],
    /// How much it is too small.
    pub short: f64,
    /// Ways out, the mildest first.
    pub remedies: Vec<RemedyWire>,
}

/// A way out for a section that is too small.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "way", rename_all = "kebab-case")]
pub enum RemedyWire {
    /// Its neighbours are eased to it.
    Ease {
        /// What is to be eased.
        short: WorkingWire,
        /// What cloth takes.
        most: WorkingWire,
    },
    /// Its neighbours' seams at both ends of the common side are taken deeper.
    WiderSeam {
        /// By how much each.
        by: WorkingWire,
    },
    /// Wider strips are sewn on at both ends.
    FrameAnew {
        /// Width to which they are cut.
        cut: WorkingWire,
    },
    /// It is made again.
    Remake,
}

/// Which section goes where.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct NewPlacesWire {
    /// Sections that go elsewhere than they are, each with the section whose place it takes.
    pub moves: Vec<[String; 2]>,
    /// All easing together, where sections are now.
    pub before: f64,
    /// The same after the moves.
    pub after: f64,
    /// No places need less.
    pub bound: f64,
    /// Why.
    pub by: ArgumentWire,
    /// Whether it is proven that no places need less.
    pub proven: bool,
}

/// A seam between two sections.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EasedSeamWire {
    /// The two sections.
    pub sections: [String; 2],
    /// Finished length on either side.
    pub lengths: [f64; 2],
    /// What is to be eased.
    pub easing: WorkingWire,
    /// What cloth takes.
    pub most: WorkingWire,
    /// Whether it does.
    pub how: EasedWire,
}

/// Whether a seam can be eased.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum EasedWire {
    /// Both sides are of one length.
    Even,
    /// The longer side is eased in.
    Eased,
    /// More than cloth takes.
    Beyond,
}

impl TruingWire {
    /// Nothing while nothing is measured.
    pub(super) fn new(plan: &Plan) -> Option<Self> {
        let truing = &plan.truing;
        let name = |section: usize| plan.top.sections[section].name.clone();
        (!truing.sections.is_empty()).then(|| Self {
            sizes: truing.sizes.iter().map(|size| TrimmedSizeWire::new(size, &name)).collect(),
            sections: truing.sections.iter().map(|trued| TruedWire::new(trued, &name)).collect(),
            places: truing.places.as_ref().map(|places| NewPlacesWire::new(places, &name)),
            seams: truing.seams.iter().map(|seam| EasedSeamWire::new(seam, &name)).collect(),
            size: truing.size.as_ref().map(|size| size.each_ref().map(WorkingWire::new)),
        })
    }
}

impl TrimmedSizeWire {
    fn new(size: &TrimmedSize, name: &impl Fn(usize) -> String) -> Self {
        Self {
            planned: length(size.planned),
            trimmed: WorkingWire::new(&size.trimmed),
            least: WorkingWire::new(&size.least),
            guide: size.guide.map(name),
            measured: size.measured,
            of: size.of,
        }
    }
}

impl TruedWire {
    fn new(trued: &Trued, name: &impl Fn(usize) -> String) -> Self {
        Self {
            section: name(trued.section),
            sides: trued.sides.map(length),
            off: trued.off.map(length),
            short: length(trued.short),
            remedies: trued.remedies.iter().map(RemedyWire::new).collect(),
        }
    }
}

impl RemedyWire {
    fn new(remedy: &Remedy) -> Self {
        match remedy {
            Remedy::Ease { short, most } => Self::Ease { short: WorkingWire::new(short), most: WorkingWire::new(most) },
            Remedy::WiderSeam { by } => Self::WiderSeam { by: WorkingWire::new(by) },
            Remedy::FrameAnew { cut } => Self::FrameAnew { cut: WorkingWire::new(cut) },
            Remedy::Remake => Self::Remake,
        }
    }
}

impl NewPlacesWire {
    fn new(places: &Places, name: &impl Fn(usize) -> String) -> Self {
        Self {
            moves: places.moved.iter().map(|&section| [name(section), name(places.at[section])]).collect(),
            before: length(places.before),
            after: length(places.after),
            bound: length(places.bound),
            by: ArgumentWire::new(places.by),
            proven: places.is_proven(),
        }
    }
}

impl EasedSeamWire {
    fn new(seam: &EasedSeam, name: &impl Fn(usize) -> String) -> Self {
        Self {
            sections: seam.sections.map(name),
            lengths: seam.lengths.map(length),
            easing: WorkingWire::new(&seam.easing),
            most: WorkingWire::new(&seam.most),
            how: match seam.how {
                Eased::Even => EasedWire::Even,
                Eased::Eased => EasedWire::Eased,
                Eased::Beyond => EasedWire::Beyond,
            },
        }
    }
}
