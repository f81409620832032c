//! Whether labels are what they say, from the definition alone.
//!
//! In: the problem and an answer. Out: nothing, or what is wrong. Shares no code with the search, and does not show that
//! nothing is cheaper.

use super::Choices;
use crate::Proven;

/// What is wrong with an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Wrong {
    /// There is not one label for every node.
    #[error("{labels} labels for {nodes} nodes")]
    Labels {
        /// How many labels there are.
        labels: usize,
        /// How many nodes there are.
        nodes: usize,
    },
    /// A node has a label that it cannot have.
    #[error("node {node} has no label {label}")]
    NoSuchLabel {
        /// The node.
        node: usize,
        /// The label.
        label: usize,
    },
    /// The labels cost something else.
    #[error("the labels cost {summed}, not {said}")]
    Cost {
        /// What they cost.
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

/// Sums what the labels cost, and holds the answer against it.
///
/// # Errors
/// [`Wrong`], the first fault in its order.
pub fn check(problem: &Choices, proven: &Proven<Vec<usize>>) -> Result<(), Wrong> {
    let labels = &proven.answer;
    let alone = problem.alone();
    if labels.len() != alone.len() {
        return Err(Wrong::Labels { labels: labels.len(), nodes: alone.len() });
    }
    let mut summed = 0;
    for (node, &label) in labels.iter().enumerate() {
        let Some(&cost) = alone[node].get(label) else { return Err(Wrong::NoSuchLabel { node, label }) };
        summed += u64::from(cost);
    }
    for pair in problem.pairs() {
        summed += u64::from(pair.costs[labels[pair.a]][labels[pair.b]]);
    }
    if summed != proven.cost {
        return Err(Wrong::Cost { summed, said: proven.cost });
    }
    if proven.bound > proven.cost {
        return Err(Wrong::Bound { bound: proven.bound, cost: proven.cost });
    }
    Ok(())
}
