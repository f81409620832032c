//! Whether a placing is what it says, from the definition alone.
//!
//! In: the problem and an answer. Out: nothing, or what is wrong. Shares no code with the search, and does not show that
//! nothing is cheaper.

use super::Placing;
use crate::Proven;

/// What is wrong with a placing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Misplaced {
    /// There is not one item for every place.
    #[error("{placed} items placed in {places} places")]
    Number {
        /// How many are placed.
        placed: usize,
        /// How many places there are.
        places: usize,
    },
    /// An item is not there, or is in two places.
    #[error("item {item} is not in one place")]
    Item {
        /// The item.
        item: usize,
    },
    /// An item is in a place of another kind.
    #[error("item {item} is not of the kind of place {place}")]
    Kind {
        /// The item.
        item: usize,
        /// The place.
        place: usize,
    },
    /// An item that stays at home is elsewhere.
    #[error("item {item} does not stay at home")]
    Moved {
        /// The item.
        item: usize,
    },
    /// The placing costs something else.
    #[error("the placing costs {summed}, not {said}")]
    Cost {
        /// What it costs.
        summed: u64,
        /// What the answer says.
        said: u64,
    },
    /// The bound is above the cost.
    #[error("the bound {bound} is above the cost {cost}")]
    Bound {
        /// The bound.
        bound: u64,
        /// The cost.
        cost: u64,
    },
}

/// Sums the differences and holds the answer against the problem.
///
/// # Errors
/// [`Misplaced`], the first fault in its order.
pub fn check(problem: &Placing, proven: &Proven<Vec<usize>>) -> Result<(), Misplaced> {
    let (placed, places) = (&proven.answer, problem.kinds().len());
    if placed.len() != places {
        return Err(Misplaced::Number { placed: placed.len(), places });
    }
    let mut seen = vec![false; places];
    for &item in placed {
        match seen.get_mut(item) {
            Some(seen) if !*seen => *seen = true,
            _ => return Err(Misplaced::Item { item }),
        }
    }
    for (place, &item) in placed.iter().enumerate() {
        if problem.kinds()[item] != problem.kinds()[place] {
            return Err(Misplaced::Kind { item, place });
        }
        if problem.fixed()[item] && item != place {
            return Err(Misplaced::Moved { item });
        }
    }
    let mut summed = 0;
    for meeting in problem.meetings() {
        let [a, b] = meeting.ends.map(|(place, side)| problem.sides()[placed[place]][side]);
        summed += a.abs_diff(b);
    }
    if summed != proven.cost {
        return Err(Misplaced::Cost { summed, said: proven.cost });
    }
    if proven.bound > proven.cost {
        return Err(Misplaced::Bound { bound: proven.bound, cost: proven.cost });
    }
    Ok(())
}
