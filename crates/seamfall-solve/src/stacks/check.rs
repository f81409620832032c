//! Whether an answer is what it says, from the definition alone.
//!
//! In: the problem and an answer. Out: nothing, or what is wrong. Only what can be seen from the answer is looked at: values,
//! given values, cost, and that the bound is not above it. Shares no code with the search, and does not show that nothing is
//! cheaper.

use super::Signed;
use crate::Proven;

/// What is wrong with an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Wrong {
    /// There is not one value for every node.
    #[error("{values} values for {nodes} nodes")]
    Values {
        /// How many values there are.
        values: usize,
        /// How many nodes there are.
        nodes: usize,
    },
    /// A node does not have the value it was given.
    #[error("node {node} does not keep its given value")]
    Given {
        /// The node.
        node: usize,
    },
    /// The edges not met weigh something else.
    #[error("the edges not met weigh {weighed}, not {said}")]
    Cost {
        /// What they weigh.
        weighed: u64,
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

/// Weighs the edges not met, and holds the answer against it.
///
/// # Errors
/// [`Wrong`], the first fault in its order.
pub fn check(problem: &Signed, proven: &Proven<Vec<bool>>) -> Result<(), Wrong> {
    let values = &proven.answer;
    if values.len() != problem.nodes() {
        return Err(Wrong::Values { values: values.len(), nodes: problem.nodes() });
    }
    for (node, &value) in values.iter().enumerate() {
        if problem.given(node).is_some_and(|given| given != value) {
            return Err(Wrong::Given { node });
        }
    }
    let mut weighed = 0;
    for edge in problem.edges() {
        let alike = values[edge.a] == values[edge.b];
        if alike != edge.same {
            weighed += u64::from(edge.weight);
        }
    }
    if weighed != proven.cost {
        return Err(Wrong::Cost { weighed, said: proven.cost });
    }
    if proven.bound > proven.cost {
        return Err(Wrong::Bound { bound: proven.bound, cost: proven.cost });
    }
    Ok(())
}
