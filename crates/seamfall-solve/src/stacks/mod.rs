//! Two values for every node of a signed graph, with the fewest edges unmet.
//!
//! In: nodes, edges that ask for the same or for opposite values at their ends, each with a weight, and nodes whose value is
//! given ([`Signed`]). Out: a value for every node, with the least weight of edges not met, and the proof ([`fewest`]). That
//! least weight is the *frustration index* of the signed graph; it is none exactly where every ring has an even number of
//! opposites (F. Harary, "On the notion of balance of a signed graph", 1953). With all edges opposite it is what a largest cut
//! leaves. Who asks: seams that fall to one side or the other are nodes, seams that meet are edges, and an edge not met is a
//! meeting that stacks.
//!
//! How, in order of what it costs:
//! 1. Parts that share no node but given ones are solved apart; a part without odd rings is met throughout, a part that is
//!    one ring pays its cheapest edge (`rings`). Linear time.
//! 2. Steps that keep the least cost make the rest smaller (`reduce`), and what hangs together in single nodes is taken apart
//!    there (`split`): F. Hüffner, N. Betzler, R. Niedermeier, "Separator-based data reduction for signed graph balancing",
//!    2010, of which these are cases.
//! 3. What is left is eliminated node by node over tables of all cases, if no table needs more than 2^20 cells.
//! 4. Otherwise a good answer is looked for by flipping nodes, and a bound by packing odd cycles; where they do not meet,
//!    cases are gone through until the budget ends (`search`).
//!
//! Among equal answers: every part without given values has `false` at its lowest node; a ring leaves unmet the first of its
//! cheapest edges in the list; beyond that the answer depends on the order of nodes and edges alone. It does not list all best
//! answers.

mod check;
mod cover;
mod graph;
mod improve;
mod packing;
mod parity;
mod parts;
mod programme;
mod reduce;
mod rings;
mod search;
mod settle;
mod split;
#[cfg(test)]
mod tests;

pub use check::{Wrong, check};
pub use parts::free_parts;

use crate::{Argument, Budget, Proven};
use graph::Graph;
use parts::Part;
use settle::{Settled, settle};

/// Cells of the largest table filled: 8 bytes each, so that a few of them fit into what a small machine has.
const LARGEST: usize = 1 << 20;

/// An edge of a signed graph: it is met when its ends have the same value, or opposite ones if not `same`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SignedEdge {
    /// One end.
    pub a: usize,
    /// The other end. A loop is met if it asks for the same.
    pub b: usize,
    /// Whether it asks for the same value at both ends.
    pub same: bool,
    /// What it costs if it is not met. An edge of no weight joins nothing.
    pub weight: u32,
}

/// A signed graph, some of whose nodes have their value given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signed {
    edges: Vec<SignedEdge>,
    given: Vec<Option<bool>>,
}

/// Why a signed graph makes no sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SignedError {
    /// An edge or a given value names a node that is not there.
    #[error("node {node} is not one of {nodes}")]
    NoSuchNode {
        /// The number named.
        node: usize,
        /// How many nodes there are.
        nodes: usize,
    },
    /// One node is given both values.
    #[error("node {node} is given both values")]
    GivenTwice {
        /// The node.
        node: usize,
    },
}

impl Signed {
    /// A graph of nodes `0..nodes`. Loops, parallel edges and edges without weight are allowed, a value may be given twice.
    ///
    /// # Errors
    /// [`SignedError`] if a node does not exist, or is fixed to both values.
    pub fn new(nodes: usize, edges: Vec<SignedEdge>, fixed: &[(usize, bool)]) -> Result<Self, SignedError> {
        let named = edges.iter().flat_map(|edge| [edge.a, edge.b]).chain(fixed.iter().map(|&(node, _)| node));
        if let Some(node) = named.into_iter().find(|&node| node >= nodes) {
            return Err(SignedError::NoSuchNode { node, nodes });
        }
        let mut given = vec![None; nodes];
        for &(node, value) in fixed {
            if given[node].replace(value) == Some(!value) {
                return Err(SignedError::GivenTwice { node });
            }
        }
        Ok(Self { edges, given })
    }

    /// How many nodes there are.
    pub fn nodes(&self) -> usize {
        self.given.len()
    }

    /// The edges, as they were given.
    pub fn edges(&self) -> &[SignedEdge] {
        &self.edges
    }

    /// The value given to a node, if one is.
    pub fn given(&self, node: usize) -> Option<bool> {
        self.given[node]
    }
}

/// Values with the fewest edges unmet by weight, and the proof.
///
/// Time: linear for chains, rings and all that is balanced; about linear for what reductions take away; 2^w a node for a rest of
/// width w ≤ 20; exponential at worst, ended by the budget, from which its steps are taken. An answer whose bound is below its
/// cost is the best one found.
pub fn fewest(problem: &Signed, budget: &mut Budget) -> Proven<Vec<bool>> {
    solved(problem, u64::MAX, budget)
}

/// Values with few edges unmet by weight, and what is known of the least at once: for what is too wide for tables a good answer is looked for,
/// and no proof.
pub fn few(problem: &Signed, budget: &mut Budget) -> Proven<Vec<bool>> {
    solved(problem, 0, budget)
}

/// Solves every part. Bounds above `limit` are of no interest.
fn solved(problem: &Signed, limit: u64, budget: &mut Budget) -> Proven<Vec<bool>> {
    let mut values: Vec<bool> = problem.given.iter().map(|given| given.unwrap_or(false)).collect();
    let (mut bound, mut by) = (0, Argument::Balanced);
    for part in parts::parts(problem) {
        let settled = rings::balanced(&part).or_else(|| rings::ring(&part)).unwrap_or_else(|| settle_part(&part, limit, budget));
        bound += settled.bound;
        by = by.max(settled.by);
        for (&node, &side) in part.nodes.iter().zip(&settled.sides) {
            values[node] = side != settled.sides[part.reference()];
        }
    }
    let unmet = |edge: &&SignedEdge| (values[edge.a] == values[edge.b]) != edge.same;
    let weight = |edges: &mut dyn Iterator<Item = &SignedEdge>| edges.map(|edge| u64::from(edge.weight)).sum::<u64>();
    let cost = weight(&mut problem.edges.iter().filter(unmet));
    let beyond_choice =
        |edge: &&SignedEdge| edge.a == edge.b || (problem.given[edge.a].is_some() && problem.given[edge.b].is_some());
    bound += weight(&mut problem.edges.iter().filter(unmet).filter(beyond_choice));
    assert!(bound <= cost, "a bound above what was found is a mistake in the proof");
    Proven { answer: values, cost, bound, by }
}

/// Solves a part in which rings run into each other.
fn settle_part(part: &Part, limit: u64, budget: &mut Budget) -> Settled {
    let (graph, scale) = Graph::of_part(part);
    let mut settled = settle(graph, scale.grain, limit, budget);
    settled.cost >>= scale.shift;
    settled.bound = settled.bound.div_ceil(1 << scale.shift);
    settled
}
