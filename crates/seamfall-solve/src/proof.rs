//! What every solver gives back: an answer, and why none is better.

use std::ops::{Deref, DerefMut};

/// An answer, and the argument that none is better.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proven<T> {
    /// The answer itself.
    pub answer: T,
    /// What it costs.
    pub cost: u64,
    /// Nothing cheaper than this exists, because of `by`. Never above `cost`.
    pub bound: u64,
    /// Why nothing is cheaper than `bound`.
    pub by: Argument,
}

impl<T> Proven<T> {
    /// Whether the answer is a best one: its cost meets the bound.
    pub fn is_best(&self) -> bool {
        self.cost == self.bound
    }
}

/// Why nothing is cheaper than a bound. A problem of several parts gives the argument of its hardest part: the last in this list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Argument {
    /// Everything is met: there is no cost at all.
    Balanced,
    /// No node has more than two edges; an odd ring costs its cheapest edge.
    Rings,
    /// Steps that keep the least cost led to a problem with nothing left in it, or of which nothing is said.
    Reduced,
    /// Variables were eliminated one after the other, over tables of all cases.
    Elimination,
    /// Every odd cycle has an edge that is not met; cycles were packed so that none of their shares is paid twice.
    Cycles,
    /// All cases were gone through, those left out that a bound shows to be no better.
    Search,
    /// A set of nodes without which more odd parts are left than it has nodes.
    Barrier,
    /// Variables were eliminated over parts of the tables they stand in, every part at its own least.
    Buckets,
    /// At every level between two values at least so many neighbours differ.
    Levels,
    /// What everything costs by itself at its place, dealt out as cheaply as can be.
    Dealt,
}

/// How much work a solver may do before it gives what it has.
///
/// Counted in steps of about a nanosecond: an edge looked at, a quarter of a cell of a table filled. What takes linear time is always done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    steps: u64,
}

impl Budget {
    /// A budget of so many steps.
    pub const fn steps(steps: u64) -> Self {
        Self { steps }
    }

    /// Takes `steps` from what is left. False, and nothing taken, where that is too little.
    pub(crate) fn spend(&mut self, steps: u64) -> bool {
        let left = self.steps.checked_sub(steps);
        self.steps = left.unwrap_or(self.steps);
        left.is_some()
    }

    /// How many steps are left.
    #[must_use]
    pub fn left(&self) -> u64 {
        self.steps
    }

    /// So many parts `of` what is left, for one way of several. What it does not use is given back when it is dropped.
    pub(crate) fn part(&mut self, parts: u64, of: u64) -> Lent<'_> {
        let lent = (u128::from(self.steps) * u128::from(parts) / u128::from(of)) as u64;
        self.steps -= lent;
        Lent { part: Budget::steps(lent), lender: self }
    }
}

/// A part of a budget.
pub(crate) struct Lent<'a> {
    part: Budget,
    lender: &'a mut Budget,
}

impl Deref for Lent<'_> {
    type Target = Budget;

    fn deref(&self) -> &Budget {
        &self.part
    }
}

impl DerefMut for Lent<'_> {
    fn deref_mut(&mut self) -> &mut Budget {
        &mut self.part
    }
}

impl Drop for Lent<'_> {
    fn drop(&mut self) {
        self.lender.steps += self.part.steps;
    }
}

impl Default for Budget {
    /// A thousand million steps, one to two seconds on a machine of 2025.
    fn default() -> Self {
        Self::steps(1_000_000_000)
    }
}
