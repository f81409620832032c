//! The search for a short layout.
//!
//! First the linear programme over strips and its whole part ([`relax`]), then strips for the rest ([`refill`]), then again and again some strips
//! are taken out and what they held is cut anew. All on whole steps, kinds instead of copies, with a budget that is counted.

mod improve;
mod library;
mod refill;
mod relax;
pub(crate) mod sheets;
mod table;
mod zone;

use std::rc::Rc;

use crate::bound::{self, Proof};
use crate::grid::Grid;
use crate::handbook::handbook;
use crate::job::Job;
use crate::layout::{Layout, Strip};
use library::Block;
use refill::Strips;

/// How much may be tried, counted in steps of the tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget(pub u64);

impl Budget {
    /// Nothing is searched: the handbook way, with its bound.
    pub const FIRST: Self = Self(0);
    /// Enough for a good answer at once, bound included: some 2 or 3 ms for up to 10 kinds on cloth of usual width (40 to 54 in on a
    /// grid of an eighth), up to 8 ms for 20 kinds or for cloth 108 in wide. A list of long bands takes a start in four stages whatever the budget.
    pub const QUICK: Self = Self(80_000);
    /// Enough for the final answer on lists of up to 20 kinds: within 200 ms, whatever the number of copies.
    pub const FULL: Self = Self(10_000_000);
}

/// A layout with what is proven about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cutting {
    /// The shortest layout found.
    pub layout: Layout,
    /// A length that no layout is shorter than.
    pub bound: Proof,
    /// Steps that the search took. At the budget it was stopped.
    pub steps: u64,
}

/// The shortest layout that is found within a budget, and the bound beside it. Never longer than the handbook way.
#[must_use]
pub fn cut(job: &Job, budget: Budget) -> Cutting {
    cut_while(job, budget, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more, which is asked whenever the steps are looked at. Who has said no once says it from then on.
pub fn cut_while(job: &Job, budget: Budget, wanted: &dyn Fn() -> bool) -> Option<Cutting> {
    let bound = if job.stages().limit() == 2 { bound::two_stage(job) } else { bound::any_layout(job) };
    let mut layout = handbook(job);
    if budget == Budget::FIRST || layout.length == bound.length {
        return wanted().then_some(Cutting { layout, bound, steps: 0 });
    }
    let grid = Grid::of(job);
    let mut steps = Steps { done: 0, most: budget.0, seed: 1, wanted };
    let goal = bound.length;
    let found = match grid.wanted.len() {
        0..=16 => search::<16>(&grid, job, goal, &mut steps),
        17..=32 => search::<32>(&grid, job, goal, &mut steps),
        33..=96 => search::<96>(&grid, job, goal, &mut steps),
        _ => search::<304>(&grid, job, goal, &mut steps),
    };
    if let Some(found) = found.filter(|found| found.length < layout.length) {
        layout = found;
    }
    wanted().then_some(Cutting { layout, bound, steps: steps.done })
}

/// Steps done, and the chance that is drawn from: seeded, so that the same job gives the same layout.
pub(crate) struct Steps<'a> {
    pub done: u64,
    pub most: u64,
    pub seed: u64,
    pub wanted: &'a dyn Fn() -> bool,
}

impl Steps<'_> {
    /// Whether no more are to be done: that many were, or nobody wants them.
    pub fn spent(&self) -> bool {
        self.done >= self.most || !(self.wanted)()
    }

    /// A number below `end`, drawn as by D. Knuth's MMIX generator.
    pub fn below(&mut self, end: usize) -> usize {
        self.seed = self.seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.seed >> 33) % end.max(1) as u64) as usize
    }

    /// A number from 0 to 1.
    pub fn share(&mut self) -> f32 {
        self.below(1 << 16) as f32 / 65_536.0
    }
}

fn search<const N: usize>(grid: &Grid, job: &Job, goal: u64, steps: &mut Steps) -> Option<Layout> {
    let strips = improve::search::<N>(grid, job.stages().limit(), goal, steps)?;
    Some(layout(grid, strips))
}

/// The strips as a layout: highest first, equal ones together.
fn layout<const N: usize>(grid: &Grid, mut strips: Strips<N>) -> Layout {
    strips.sort_by(|a, b| b.0.height.cmp(&a.0.height).then(b.0.used.cmp(&a.0.used)));
    let mut told: Vec<Strip> = Vec::new();
    for (block, times) in strips {
        let panel = Rc::<Block<N>>::as_ref(&block).panel(grid);
        match told.last_mut() {
            Some(last) if last.panel == panel => last.times += times,
            _ => told.push(Strip { times, panel }),
        }
    }
    Layout::of(told, grid.kerf)
}
