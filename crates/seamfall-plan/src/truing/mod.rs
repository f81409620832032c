//! Measured sections: to what size they are trimmed, what is done about those too small, and which goes where.
//!
//! In: the top and what is sewn of it, with the sides as measured; the drafts for their points, the falls and the quilting for what is alike. Out:
//! one trimmed size for all sides that are planned alike; for every measured section what is trimmed off it, or by how much it is too small and the ways out; a
//! place for every section so that the least has to be eased, with the proof; every seam with what is to be eased against what cloth takes.
//! Nothing measured, nothing out. Definitions and proofs: `docs/truing.md`.
//!
//! In the order of work: `sides` finds the sides of sections and where they meet, `points` how much may be trimmed off each, `sizes` settles the
//! trimmed sizes, `remedy` the ways out, `alike` what may change places, `places` who does, `seams` what is eased. `say` has the words.
//!
//! Only sections that are rectangles are trued; triangles along the edge of a setting on point are left as they are. A section is never turned.

mod alike;
mod places;
mod points;
mod remedy;
mod say;
mod seams;
mod sides;
mod sizes;
#[cfg(test)]
mod tests;

pub use places::Places;
pub use remedy::Remedy;
pub use seams::{Eased, EasedSeam};
pub use sizes::TrimmedSize;

use crate::Staged;
use crate::draft::Draft;
use crate::fall::Falls;
use crate::lap::LapWork;
use crate::set::Top;
use crate::sewn::Sewn;
use seamfall_model::{Quilt, Working};
use seamfall_solve::Budget;

/// What a measured quilt is trimmed to, and how it is put together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Truing {
    /// The size to which sides are trimmed, one for each planned length of which something is measured, the shortest first.
    pub sizes: Vec<TrimmedSize>,
    /// The measured sections, in the order of the top.
    pub sections: Vec<Trued>,
    /// Which section goes where.
    pub places: Option<Places>,
    /// The seams between sections in their places, in the order of the top.
    pub seams: Vec<EasedSeam>,
    /// Finished width and height of the top with its sections trimmed; nothing for a setting on point.
    pub size: Option<[Working; 2]>,
}

/// A measured section.
#[derive(Debug, Clone, PartialEq)]
pub struct Trued {
    /// Its number in the top.
    pub section: usize,
    /// Its lower, right, upper and left side when it is trimmed, raw edge to raw edge.
    pub sides: [f64; 4],
    /// How much is trimmed off: of its width and of its height, at the longer of the two sides.
    pub off: [f64; 2],
    /// How much its shortest side is short of the trimmed size; nothing if none is.
    pub short: f64,
    /// The ways out where a side is short, the mildest first.
    pub remedies: Vec<Remedy>,
}

/// What the stage reads.
#[derive(Clone, Copy)]
pub struct Before<'a> {
    /// One a block.
    pub drafts: &'a [Draft],
    /// The top.
    pub top: &'a Top,
    /// What is sewn of it.
    pub sewn: &'a Sewn,
    /// Which blocks are pressed alike.
    pub falls: &'a Falls,
    /// Which sections are quilted alike.
    pub lap: &'a LapWork,
}

/// How long better places are looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort(pub Budget);

impl Effort {
    /// What an edit waits for: a few milliseconds.
    pub const FIRST: Self = Self(Budget::steps(3_000_000));
    /// What is printed and exported: up to half a second.
    pub const FULL: Self = Self(Budget::steps(200_000_000));
}

/// Trues what is measured.
#[must_use]
pub fn derive(quilt: &Quilt, before: Before, effort: Effort) -> Staged<Truing> {
    let mut findings = Vec::new();
    if before.sewn.sections.iter().all(|section| section.measured.is_none()) {
        return Staged { result: Truing::default(), findings };
    }
    let shapes = sides::shapes(quilt, before.top);
    let room = points::room(quilt, before.drafts, before.top, &shapes);
    let trims = sizes::settle(before.sewn, &shapes, &room);
    let meetings = sides::meetings(before.top, &shapes);
    let sections = remedy::sections(quilt, before.sewn, &shapes, &trims, &room, &meetings);
    let joined = remedy::as_joined(&shapes, &trims, &sections);
    let places = places::settle(before, &shapes, &trims, &joined, &meetings, effort);
    let seams = seams::seams(quilt, before.sewn, &shapes, &joined, &meetings, &places);
    let size = sizes::finished(before.top, &shapes, &trims, &meetings);
    let truing = Truing { sizes: trims.measured(), sections, places: Some(places), seams, size };
    say::findings(quilt, before, &truing, &mut findings);
    Staged { result: truing, findings }
}
