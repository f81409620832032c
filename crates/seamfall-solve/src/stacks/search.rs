//! What is too wide for tables: good sides, a bound, and branching while they differ.
//!
//! In: one block without reductions left. Out: sides, and a bound that is exact when the search came to its end. Two ends of an edge are
//! on one side or on opposite ones: either way they become one node, and the smaller graph is settled like any other, reductions,
//! tables and all. A case is left out once odd cycles show that it holds nothing better (branch and bound: A. Land, A. Doig, "An
//! automatic method of solving discrete programming problems", 1960; with odd cycles for a largest cut: F. Barahona, M. Grötschel, M.
//! Jünger, G. Reinelt, "An application of combinatorial optimization to statistical physics and circuit layout design", 1988). The edge to decide is
//! the one on which the prices of the bound are least decided. Exponential time at worst, ended by the budget.

use std::cmp::Reverse;

use super::graph::Graph;
use super::improve::improve;
use super::packing::Packing;
use super::programme;
use super::settle::{Settled, settle};
use crate::{Argument, Budget};

/// How often all nodes are gone round for good sides, from each start. Found by trying.
const ROUNDS: u64 = 300;

/// With more edges than this there is no linear programme, which would fill more than 18 megabytes, and no branching.
const MANY: usize = 1500;

/// Settles a block by branch and bound. The bound meets the cost or reaches `limit`, unless the budget ends or there are too many edges.
pub(super) fn search(graph: Graph, grain: u64, limit: u64, budget: &mut Budget) -> Settled {
    let mut edges: Vec<(usize, usize, i64)> = graph.edges().collect();
    edges.sort_by_key(|&(a, b, weight)| (Reverse(weight.abs()), a, b));
    let (sides, cost) = improve(&graph, &edges, ROUNDS, &mut budget.part(1, 8));
    let mut packing = Packing::new(&graph.near);
    packing.fill(&mut budget.part(1, 4));
    let mut best = Settled { sides, cost, bound: graph.paid + packing.taken, by: Argument::Cycles };
    best.meet(grain);
    if best.bound >= best.cost.min(limit) || edges.len() > MANY {
        return best;
    }
    let enough = limit.min(best.cost - grain + 1) - graph.paid;
    let bounded = programme::bound(&graph, &edges, grain, enough, &mut budget.part(7, 8));
    best.bound = best.bound.max(graph.paid + bounded.bound);
    let mut order: Vec<usize> = (0..edges.len()).collect();
    order.sort_by(|&a, &b| bounded.prices[a].total_cmp(&bounded.prices[b]).then(a.cmp(&b)));
    best.take(improve(&graph, order.iter().map(|&i| &edges[i]), ROUNDS, &mut budget.part(1, 2)));
    best.meet(grain);
    if best.bound < best.cost.min(limit) && bounded.finished {
        let doubt = |i: usize| bounded.prices[i].min(1.0 - bounded.prices[i]);
        let next = order.into_iter().max_by(|&a, &b| doubt(a).total_cmp(&doubt(b)).then(b.cmp(&a))).expect("a block has edges");
        branch(&graph, edges[next], &mut best, grain, limit, budget);
    }
    best
}

/// Settles both cases of an edge, the one that is so in the best answer known first.
fn branch(graph: &Graph, (a, b, _): (usize, usize, i64), best: &mut Settled, grain: u64, limit: u64, budget: &mut Budget) {
    let (gone, kept) = if graph.near[a].len() <= graph.near[b].len() { (a, b) } else { (b, a) };
    let likely = best.sides[a] != best.sides[b];
    let mut least = u64::MAX;
    for opposite in [likely, !likely] {
        let mut half = graph.clone();
        half.join(gone, kept, opposite);
        let mut found = settle(half, grain, limit.min(best.cost), budget);
        least = least.min(found.bound);
        found.sides[gone] = found.sides[kept] != opposite;
        best.take((found.sides, found.cost));
    }
    if least.min(best.cost) > best.bound {
        (best.bound, best.by) = (least.min(best.cost), Argument::Search);
        best.meet(grain);
    }
}

impl Settled {
    /// Takes other sides if they are cheaper.
    fn take(&mut self, (sides, cost): (Vec<bool>, u64)) {
        if cost < self.cost {
            (self.sides, self.cost) = (sides, cost);
        }
    }

    /// Lifts the bound to the cost where nothing lies between: costs differ by multiples of `grain`.
    fn meet(&mut self, grain: u64) {
        if self.cost - self.bound < grain {
            self.bound = self.cost;
        }
    }
}
