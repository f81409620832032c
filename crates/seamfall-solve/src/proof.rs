//! What every solver gives back: an answer, and why none is better.

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
    /// Steps that keep the least cost led to a problem with nothing left in it.
    Reduced,
    /// Variables were eliminated one after the other, over tables of all cases.
    Elimination,
    /// Every odd cycle has an edge that is not met; cycles were packed so that none of their shares is paid twice.
    Cycles,
    /// All cases were gone through, those left out that a bound shows to be no better.
    Search,
    /// Every term was taken at its own least, or at its least beside those it shares a node with.
    Terms,
}

/// How much work a solver may do before it gives what it has.
///
/// Counted in steps of a few nanoseconds: a cell of a table filled, an edge looked at. What takes linear time is always done.
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
}

impl Default for Budget {
    /// Three hundred million steps, about a second on a machine of 2025.
    fn default() -> Self {
        Self::steps(300_000_000)
    }
}
