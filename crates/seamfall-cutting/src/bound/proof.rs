//! A proof in whole numbers, and how it is added up again.

use super::knapsack::{Bar, Sums, most_worth};
use super::strip_cases::Cases;
use crate::grid::Grid;
use crate::job::Job;

/// What a side of a piece is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Worth {
    /// The side in steps of the cutting grid, kerf included.
    pub size: u32,
    /// Its worth.
    pub worth: u64,
}

/// Why nothing shorter exists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Argument {
    /// A piece is worth its width's worth times its height's worth, the less of its two ways when it may be turned. Side by side in the cloth's
    /// width lies at most `most_across`, one above the other in the `refuted` length at most `most_along`, so the cloth holds at most
    /// their product.
    Sides {
        /// Worths of widths.
        across: Vec<Worth>,
        /// Most that lies side by side.
        most_across: u64,
        /// Worths of heights; a height is worth itself when the list is empty.
        along: Vec<Worth>,
        /// Most that lies one above the other.
        most_along: u64,
    },
    /// Strips, in one case or several that are all there are.
    Strips(Cases),
    /// This kind, by its place in the list, is as long as that by itself.
    Tallest {
        /// Place in the list of kinds.
        kind: usize,
    },
}

/// A length that no layout is shorter than.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// The length, in ticks.
    pub length: u64,
    /// No layout is this long or shorter, in steps of the grid, kerf included; the next longer sum of heights is the length.
    pub refuted: u64,
    /// Ticks to a step of the grid: what divides all sides, kerf included.
    pub step: u32,
    /// Why.
    pub argument: Argument,
}

impl Proof {
    /// Adds the proof up again, from the job and the worths alone.
    #[must_use]
    pub fn adds_up(&self, job: &Job) -> bool {
        let grid = Grid::of(job);
        let next = super::sums(&grid, self.refuted + 1).next(self.refuted + 1);
        self.step == grid.step && self.length <= grid.length(next) && self.refutes(&grid)
    }

    fn refutes(&self, grid: &Grid) -> bool {
        match &self.argument {
            Argument::Sides { across, most_across, along, most_along } => {
                let refuted = u32::try_from(self.refuted).unwrap_or(u32::MAX);
                let wide = grid.lies.iter().map(|lie| (lie.width, lie.kind));
                let high = grid.lies.iter().map(|lie| (lie.height, lie.kind));
                let holds_across = most_worth(&bars(across, wide, grid), grid.width).0 <= *most_across;
                let holds_along = if along.is_empty() {
                    self.refuted <= *most_along
                } else {
                    most_worth(&bars(along, high, grid), refuted).0 <= *most_along
                };
                holds_across
                    && holds_along
                    && worth_of_all(grid, across, along, self.refuted) > u128::from(*most_across) * u128::from(*most_along)
            }
            Argument::Strips(cases) => cases.refute(grid, self.refuted, &mut Vec::new()),
            Argument::Tallest { kind } => {
                grid.lies.iter().filter(|lie| lie.kind == *kind).all(|lie| u64::from(lie.height) > self.refuted)
            }
        }
    }
}

/// Worth of a size; nothing when it is not listed.
pub(super) fn worth(list: &[Worth], size: u32) -> u64 {
    list.iter().find(|one| one.size == size).map_or(0, |one| one.worth)
}

/// Bars for the knapsack: each listed size, as often as there are pieces with such a side.
pub(super) fn bars(list: &[Worth], sides: impl Iterator<Item = (u32, usize)>, grid: &Grid) -> Vec<Bar> {
    let sides: Vec<(u32, usize)> = sides.collect();
    let limit = |size: u32| sides.iter().filter(|side| side.0 == size).map(|side| grid.wanted[side.1]).sum();
    list.iter().map(|one| Bar { size: one.size, worth: one.worth, limit: limit(one.size) }).collect()
}

/// What all the pieces are worth: width's worth times height's worth, the less of two ways. A way that is longer than `within` is none.
pub(super) fn worth_of_all(grid: &Grid, across: &[Worth], along: &[Worth], within: u64) -> u128 {
    let mut least: Vec<Option<u128>> = vec![None; grid.wanted.len()];
    for lie in grid.lies.iter().filter(|lie| u64::from(lie.height) <= within) {
        let height = if along.is_empty() { u64::from(lie.height) } else { worth(along, lie.height) };
        let here = u128::from(worth(across, lie.width)) * u128::from(height);
        let known = &mut least[lie.kind];
        *known = Some(known.map_or(here, |known| known.min(here)));
    }
    least.iter().zip(&grid.wanted).map(|(least, &count)| least.unwrap_or(0) * u128::from(count)).sum()
}

/// Sums of heights from `least` on, for those who raise a bound.
pub(super) fn raised(sums: &Sums, refuted: u64, grid: &Grid) -> u64 {
    grid.length(sums.next(refuted + 1))
}
