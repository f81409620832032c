//! What is cut for the edge, as it is asked for.
//!
//! In and out: pieces with their uses. Which they are is worked out where the edge is finished; here they only join the list.

use super::Way;
use seamfall_model::{ClothId, Grain, Working};
use tr::tr;

/// What a piece of the finish is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeUse {
    /// The binding.
    Binding,
    /// A square for a binding on the bias.
    BiasBinding,
    /// Prairie points.
    Points,
    /// A ruffle.
    Ruffle,
    /// A facing.
    Facing,
    /// A square for piping.
    Piping,
    /// The rod sleeve.
    Sleeve,
    /// The label.
    Label,
    /// The other side of a cover.
    Lining,
    /// The flap of a cover.
    Flap,
}

impl EdgeUse {
    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Binding => tr!("binding"),
            Self::BiasBinding => tr!("binding, on the bias"),
            Self::Points => tr!("prairie points"),
            Self::Ruffle => tr!("ruffle"),
            Self::Facing => tr!("facing"),
            Self::Piping => tr!("piping, on the bias"),
            Self::Sleeve => tr!("rod sleeve"),
            Self::Label => tr!("label"),
            Self::Lining => tr!("lining of the cover"),
            Self::Flap => tr!("flap of the cover"),
        }
    }
}

/// Pieces of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgePiece {
    /// What they are for.
    pub what: EdgeUse,
    /// Their cloth.
    pub cloth: ClothId,
    /// How many.
    pub count: usize,
    /// How they are cut.
    pub way: Way,
    /// Across, or the side of a square.
    pub width: Working,
    /// Along.
    pub length: Working,
    /// How they lie.
    pub grain: Grain,
}
