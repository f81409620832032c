//! Thread for piecing.
//!
//! In: the top. Out: how long all its seams are, how much thread they take, how many spools. Every seam of the top lies between two
//! pieces, and what lies at no seam is the edge, so that the seams are half of what all outlines measure beyond the outline of the
//! top. Thread for quilting, for the joins and for the binding is not in it.

use super::rules;
use crate::draft::Draft;
use crate::set::Top;
use seamfall_model::{Quilt, Working};

/// Thread to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct ThreadToBuy {
    /// Length of all seams, finished.
    pub seams: Working,
    /// Length of thread, needle and bobbin together.
    pub thread: Working,
    /// Spools, where the maker says how long one is.
    pub spools: Option<Working>,
    /// What they cost, in hundredths.
    pub price: Option<u64>,
}

impl ThreadToBuy {
    /// How all of it came about.
    pub fn workings(&self) -> impl Iterator<Item = &Working> {
        [&self.seams, &self.thread].into_iter().chain(&self.spools)
    }
}

/// Works out the thread.
pub(super) fn derive(quilt: &Quilt, drafts: &[Draft], top: &Top) -> ThreadToBuy {
    let lengths = |draft: &Draft| -> f64 { draft.patches.iter().map(|patch| patch.outline.perimeter()).sum() };
    let of_block: Vec<f64> = drafts.iter().map(lengths).collect();
    let blocks: f64 = top.places.iter().map(|place| of_block[place.block.0]).sum();
    let strips: f64 = top.strips.iter().map(|strip| strip.outline.perimeter()).sum();
    let seams = rules::seams(blocks + strips, top.outline.perimeter());
    let thread = rules::thread(&seams);
    let spools = quilt.thread.map(|kind| rules::spools(&thread, kind.spool));
    let price = quilt.thread.and_then(|kind| kind.price).zip(spools.as_ref());
    let price = price.map(|(price, spools)| u64::from(price.0) * spools.count() as u64);
    ThreadToBuy { seams, thread, spools, price }
}
