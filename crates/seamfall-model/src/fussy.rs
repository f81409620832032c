//! Motifs that are chosen for patches (fussy cutting).
//!
//! Which point of a photographed cloth comes to the middle of a patch, and how the cloth is turned under its template.

use crate::{BlockId, ClothId, PartId, Quilt};

/// A motif of a cloth that is cut for all copies of a patch (fussy cutting).
#[derive(Debug, Clone, PartialEq)]
pub struct Fussy {
    /// The cloth. A copy that a place has in another one is cut as usual.
    pub cloth: ClothId,
    /// The block.
    pub block: BlockId,
    /// Its patches.
    pub of: FussyOf,
    /// What comes to the middle of the patch: in per cent of the picture from its left and from its top. Of a photograph that is all of it.
    pub at: [f64; 2],
    /// How far the cloth is turned to the left under the template, in degrees.
    pub turn_deg: f64,
}

/// For which patches a motif is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FussyOf {
    /// All of a part of the colouring, shapes laid over too.
    Part(PartId),
    /// One, by its number from 1.
    Patch(usize),
}

impl Quilt {
    /// The motif that a patch shows, by its number in [`Quilt::fussy`]: that of the patch (from 1, where it is one and not a shape laid over) before
    /// that of its part.
    #[must_use]
    pub fn motif(&self, block: BlockId, patch: Option<usize>, part: Option<PartId>, cloth: ClothId) -> Option<usize> {
        let own =
            |of: FussyOf| self.fussy.iter().position(|fussy| fussy.cloth == cloth && fussy.block == block && fussy.of == of);
        if self.fussy.is_empty() {
            return None;
        }
        patch.and_then(|patch| own(FussyOf::Patch(patch))).or_else(|| own(FussyOf::Part(part?)))
    }
}
