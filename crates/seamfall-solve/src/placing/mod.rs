//! Which item goes to which place, so that sides that meet differ least.
//!
//! In: items with four side values each, places numbered like the items (item `i` is at home in place `i`), of what kind each is, which
//! stay at home, and which side of which place meets which side of which other ([`Placing`]). Out: an item for every place, each in a place of its own
//! kind, with the least sum of differences over all meetings that could be found, and a bound below which there is nothing ([`place`]).
//!
//! In general this is a quadratic assignment. What helps is that a sum of differences is a sum over *levels*: for every gap between two
//! neighbouring values the gap, times the number of meetings between a side above it and one below.
//! - `grid`: one value an item, all of one kind, a whole rectangle of places. Solved exactly, by shapes of the sets below each level.
//! - `levels`: anything else. Rows need equal upright sides and columns equal level ones; a bound on mixed rows and columns, level by level.
//! - `deal`: a bound by what every item costs by itself at every place, each meeting charged to the larger.
//! - `search`: exchanges of two items, from good starts. `small`: all cases, for a dozen places.
//!
//! Sides are 0 to 3, counted round; side `s` is opposite to `s + 2`. Items are not turned: one that may be is not known here.

mod check;
mod deal;
mod grid;
mod levels;
mod lines;
mod search;
mod small;
#[cfg(test)]
mod tests;

pub use check::{Misplaced, check};

use crate::{Argument, Budget, Proven};
use search::Search;

/// A side of one place that lies at a side of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meeting {
    /// Place and side, twice.
    pub ends: [(usize, usize); 2],
}

/// Items, places and meetings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placing {
    sides: Vec<[i64; 4]>,
    kinds: Vec<usize>,
    fixed: Vec<bool>,
    meetings: Vec<Meeting>,
}

/// Why items and places make no sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlacingError {
    /// There is not one kind, and one word on staying, for every item.
    #[error("{kinds} kinds and {fixed} words on staying for {items} items")]
    Lists {
        /// How many items.
        items: usize,
        /// How many kinds.
        kinds: usize,
        /// How many words on staying.
        fixed: usize,
    },
    /// A meeting is not one of two places and their sides.
    #[error("meeting {meeting} is not of two places and their sides")]
    Meeting {
        /// Its number.
        meeting: usize,
    },
    /// A side value is further from 0 than the sum of all could bear.
    #[error("item {item} has a side beyond what can be added up")]
    Value {
        /// The item.
        item: usize,
    },
}

/// The furthest a value may be from 0.
const FURTHEST: u64 = 1 << 40;

impl Placing {
    /// Items by their four sides, the kind of each item and of its place, and whether it stays there.
    ///
    /// # Errors
    /// [`PlacingError`].
    pub fn new(sides: Vec<[i64; 4]>, kinds: Vec<usize>, fixed: Vec<bool>, meetings: Vec<Meeting>) -> Result<Self, PlacingError> {
        let items = sides.len();
        if kinds.len() != items || fixed.len() != items {
            return Err(PlacingError::Lists { items, kinds: kinds.len(), fixed: fixed.len() });
        }
        if let Some(item) = sides.iter().position(|sides| sides.iter().any(|side| side.unsigned_abs() > FURTHEST)) {
            return Err(PlacingError::Value { item });
        }
        let wrong = |&Meeting { ends: [(a, s), (b, t)] }: &Meeting| a == b || a.max(b) >= items || s.max(t) > 3;
        if let Some(meeting) = meetings.iter().position(wrong) {
            return Err(PlacingError::Meeting { meeting });
        }
        Ok(Self { sides, kinds, fixed, meetings })
    }

    /// The four sides of every item.
    pub fn sides(&self) -> &[[i64; 4]] {
        &self.sides
    }

    /// The kind of every item, and of the place where it is at home.
    pub fn kinds(&self) -> &[usize] {
        &self.kinds
    }

    /// Whether an item stays at home.
    pub fn fixed(&self) -> &[bool] {
        &self.fixed
    }

    /// What meets.
    pub fn meetings(&self) -> &[Meeting] {
        &self.meetings
    }

    /// Whether all sides of every item are of one value.
    fn is_level(&self) -> bool {
        self.sides.iter().all(|sides| sides.iter().all(|side| *side == sides[0]))
    }
}

/// Steps of every exchange looked at.
const EXCHANGE: u64 = 60;

/// The most places of which all cases are gone through.
const SMALL: usize = 16;

/// For every place its item: the best found, with the proof as far as it goes.
///
/// Whatever costs as little stays at home: where items are alike, each keeps its own place if it can. Time: about the budget, unless the bound
/// is met before.
pub fn place(problem: &Placing, budget: Budget) -> Proven<Vec<usize>> {
    let mut budget = budget;
    let mut search = Search::new(problem);
    let levels = if search.cost() == 0 { 0 } else { levels::bound(problem, &mut budget) };
    let (mut bound, mut by) = (levels, if search.cost() == 0 { Argument::Balanced } else { Argument::Levels });
    if search.cost() > bound
        && let Some((answer, least)) = grid::solve(problem, &mut budget)
    {
        bound = bound.max(least);
        search.offer(&answer);
    }
    if search.cost() > bound {
        let dealt = deal::bound(problem, &mut budget);
        if dealt > bound {
            (bound, by) = (dealt, Argument::Dealt);
        }
    }
    let free = problem.fixed.iter().filter(|fixed| !**fixed).count();
    let small = free <= SMALL;
    if search.cost() > bound {
        let mut part = budget.part(1, if small { 2 } else { 1 });
        search.improve(bound, &mut part);
    }
    if search.cost() > bound
        && small
        && let Some(better) = small::all(problem, search.cost(), &mut budget)
    {
        better.iter().for_each(|answer| search.offer(answer));
        (bound, by) = (search.cost(), Argument::Search);
    }
    let (cost, answer) = (search.cost(), search.answer());
    assert!(bound <= cost, "a bound above what was found is a mistake in the proof");
    Proven { answer, cost, bound, by }
}
