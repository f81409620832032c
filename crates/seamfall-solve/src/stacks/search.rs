//! What is too wide for tables: good sides, a bound, and branching while they differ.
//!
//! In: one block without reductions left. Out: sides, and a bound that is exact when the search came to its end. Two ends of an edge are
//! on one side or on opposite ones: either way they become one node, and the smaller graph is settled like any other, reductions,
//! tables and all. A case is left out once a packing of odd cycles shows that it holds nothing better (A. Land, A. Doig, "An automatic
//! method of solving discrete programming problems", 1960). Exponential time at worst, ended by the budget.

use super::graph::Graph;
use super::improve::{heaviest_first, improve};
use super::packing::packing;
use super::settle::{Settled, settle};
use crate::{Argument, Budget};

/// Flips tried for every node before branching.
const FLIPS_A_NODE: usize = 40;

/// Settles a block by branch and bound. The bound meets the cost or reaches `limit`, unless the budget ends.
pub(super) fn search(graph: Graph, grain: u64, limit: u64, budget: &mut Budget) -> Settled {
    let order = heaviest_first(&graph);
    let (sides, cost) = improve(&graph, &order, FLIPS_A_NODE * graph.near.len(), budget);
    let mut best = Settled { sides, cost, bound: packing(&graph, budget), by: Argument::Cycles };
    best.meet(grain);
    if best.bound == best.cost || best.bound >= limit || !budget.spend(1) {
        return best;
    }
    let (a, b) = branch(&graph);
    let agreed = best.sides[a] != best.sides[b];
    let mut least = u64::MAX;
    for opposite in [agreed, !agreed] {
        let mut half = graph.clone();
        let (gone, kept) = if half.near[a].len() <= half.near[b].len() { (a, b) } else { (b, a) };
        half.join(gone, kept, opposite);
        let found = settle(half, grain, limit.min(best.cost), budget);
        least = least.min(found.bound);
        if found.cost < best.cost {
            (best.sides, best.cost) = (found.sides, found.cost);
            best.sides[gone] = best.sides[kept] != opposite;
        }
    }
    if least.min(best.cost) > best.bound {
        (best.bound, best.by) = (least.min(best.cost), Argument::Search);
    }
    best.meet(grain);
    best
}

impl Settled {
    /// Lifts the bound to the cost where nothing lies between: costs differ by multiples of `grain`.
    fn meet(&mut self, grain: u64) {
        if self.cost - self.bound < grain {
            self.bound = self.cost;
        }
    }
}

/// The edge to decide next: the one whose ends have the most neighbours.
fn branch(graph: &Graph) -> (usize, usize) {
    let degree = |node: usize| graph.near[node].len();
    let (a, b, _) = graph.edges().max_by_key(|&(a, b, weight)| (degree(a) + degree(b), weight.abs())).expect("a block has edges");
    (a, b)
}
