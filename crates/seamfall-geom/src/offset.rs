//! Outlines moved outward, corners kept sharp, tips trimmed.

use crate::{Loop, Point};

/// How the sharp corners of a grown loop end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TipTrim {
    /// Corners run out to their full point.
    Full,
    /// A corner sharper than a right angle is cut off square where the neighbour's cut edge will lie, so that two pieces put
    /// together along a seam line up.
    Aligned,
}

/// Why a loop could not be grown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetError {
    /// A hollow arc (edge number given) is tighter than the distance: nothing of it would be left.
    HollowTooTight { edge: usize, at: Point },
    /// Two parts of the grown loop run into each other near `at`.
    Collides { at: Point },
}

/// `outline` moved outward by `distance`: lines stay lines, arcs stay arcs about the same centre.
///
/// # Errors
/// [`OffsetError`] where the outline leaves no room.
pub fn grow(outline: &Loop, distance: f64, tips: TipTrim) -> Result<Loop, OffsetError> {
    let _ = (outline, distance, tips);
    todo!()
}
