//! A bound from odd cycles, greedily.
//!
//! In: a graph. Out: what its answers cost at least. Every odd cycle (one whose edges cannot all be met) leaves an edge unmet. A
//! cycle is given a share of the weight of each of its edges; where the shares of an edge do not exceed its weight, the sum of
//! all shares is paid by every answer. Shares are whole, so that the bound is exact. Cycles are taken greedily, the short ones
//! first, each with all that is left of its lightest edge.
//!
//! Time: O(n · m) for every length tried. Ended by the budget the bound is lower, but still one.

use std::collections::BTreeMap;

use super::cover::Cover;
use crate::Budget;

/// Weights of which cycles take their shares, and what they took.
pub(super) struct Packing {
    rest: Vec<BTreeMap<usize, i64>>,
    /// The sum of all shares.
    pub taken: u64,
}

impl Packing {
    pub fn new(near: &[BTreeMap<usize, i64>]) -> Self {
        Self { rest: near.to_vec(), taken: 0 }
    }

    /// Takes short odd cycles until there is none.
    pub fn fill(&mut self, budget: &mut Budget) {
        let nodes = self.rest.len();
        let mut cover = Cover::new(nodes);
        let mut longest = 3;
        while longest < 2 * nodes as u64 {
            for node in 0..nodes {
                while let Some(cycle) = cover.short(&self.rest, node, longest, budget) {
                    self.take(&cycle, u64::MAX);
                }
            }
            longest += 1.max(longest / 2);
        }
    }

    /// Gives an odd cycle a share, at most what is left of its lightest edge.
    pub fn take(&mut self, cycle: &[usize], share: u64) {
        let edges = || cycle.iter().zip(cycle.iter().cycle().skip(1));
        let left = |a: &usize, b: &usize| self.rest[*a].get(b).map_or(0, |weight| weight.unsigned_abs());
        let share = edges().map(|(a, b)| left(a, b)).fold(share, u64::min);
        if share == 0 {
            return;
        }
        for (&a, &b) in edges() {
            let left = self.rest[a][&b] - self.rest[a][&b].signum() * share as i64;
            for (a, b) in [(a, b), (b, a)] {
                if left == 0 {
                    self.rest[a].remove(&b);
                } else {
                    self.rest[a].insert(b, left);
                }
            }
        }
        self.taken += share;
    }
}
