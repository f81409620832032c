//! Lengths that no layout can be shorter than, each with a proof that anyone can add up again.
//!
//! In: a job. Out: a [`Proof`] for any layout at all, and one for cross strips, sub-cuts and a trim. A proof is a list of worths in
//! whole numbers: what the pieces are worth together is more than what the cloth could hold, were it any shorter. The worths come
//! from linear programmes (`bars`, `strips`, `cases`); [`Proof::adds_up`] does not care where they come from.
//!
//! Terms: bar relaxation (a line across the cloth meets bars no wider together than the cloth), conservative scales (S. Fekete, J. Schepers,
//! "A general framework for bounds for higher-dimensional orthogonal packing problems", 2004), the linear programme of P. Gilmore and R. Gomory, 1961.

mod bars;
mod cases;
mod knapsack;
mod proof;
pub(crate) mod sheets;
mod strip_cases;
mod strips;

pub use proof::{Argument, Proof, Worth};
pub use strip_cases::{Case, Cases};

use crate::grid::Grid;
use crate::job::Job;
use knapsack::Sums;

/// No layout of any kind is shorter: straight cuts or not, any number of stages.
#[must_use]
pub fn any_layout(job: &Job) -> Proof {
    bars::any_layout(&Grid::of(job))
}

/// No layout of cross strips, sub-cuts and a trim is shorter.
#[must_use]
pub fn two_stage(job: &Job) -> Proof {
    let grid = Grid::of(job);
    let any = bars::any_layout(&grid);
    let strips = cases::two_stage(&grid);
    if strips.length > any.length { strips } else { any }
}

/// The sums of heights that a layout can be as long as, to beyond `least` steps.
fn sums(grid: &Grid, least: u64) -> Sums {
    let tallest = grid.lies.iter().map(|lie| lie.height).max().unwrap_or(1);
    let bars: Vec<(u32, u32)> = grid.lies.iter().map(|lie| (lie.height, grid.wanted[lie.kind])).collect();
    Sums::of(&bars, least + u64::from(tallest))
}
