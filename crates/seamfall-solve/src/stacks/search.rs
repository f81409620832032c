//! What is too wide for tables: good sides, a bound, and branching while they differ.
//!
//! In: one block without reductions left. Out: sides, and a bound that is exact when the search came to its end. Two ends of an
//! edge are on one side or on opposite ones: either way they become one node, and the smaller graph is settled like any other,
//! reductions, tables and all. A case is left out once odd cycles show that it holds nothing better (branch and bound: A. Land,
//! A. Doig, "An automatic method of solving discrete programming problems", 1960; with odd cycles for a largest cut: F. Barahona,
//! M. Grötschel, M. Jünger, G. Reinelt, "An application of combinatorial optimization to statistical physics and circuit layout
//! design", 1988). The edge to decide is the one on which the prices of the bound are least decided. Exponential time at worst,
//! ended by the budget.

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

/// Settles a block by branch and bound. The bound meets the cost or reaches `limit`, unless the budget ends or there are too many
/// edges.
pub(super) fn search(graph: Graph, grain: u64, limit: u64, budget: &mut Budget) -> Settled {
    let mut edges: Vec<(usize, usize, i64)> = graph.edges().collect();
    edges.sort_by_key(|&(a, b, weight)| (Reverse(weight.abs()), a, b));
    let (sides, cost) = improve(&graph, &edges, ROUNDS, &mut budget.part(1, 8));
    if graph.paid >= limit {
        return Settled { sides, cost, bound: graph.paid, by: Argument::Reduced };
    }
    let mut packing = Packing::new(&graph.near);
    packing.fill(&mut budget.part(1, 4));
    let mut best = Settled { sides, cost, bound: graph.paid + packing.taken, by: Argument::Cycles };
    best.meet(grain);
    let room = (edges.len() * edges.len()) as u64;
    if best.bound >= best.cost.min(limit) || edges.len() > MANY || !budget.spend(room) {
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::super::graph::tests::{any_graph, by_trying_all};
    use super::*;

    /// The bound of the linear programme for a graph.
    fn programme_bound(graph: &Graph) -> u64 {
        let edges: Vec<_> = graph.edges().collect();
        graph.paid + programme::bound(graph, &edges, 1 << 12, u64::MAX >> 1, &mut Budget::default()).bound
    }

    /// The graph with its weights made larger, as `Graph::of_part` makes them.
    fn scaled(graph: &Graph) -> Graph {
        let mut scaled = Graph { paid: graph.paid << 12, ..Graph::new(graph.near.len()) };
        graph.edges().for_each(|(a, b, weight)| scaled.add(a, b, weight << 12));
        scaled
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, rng_seed: RngSeed::Fixed(1960), failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn search_finds_the_least_without_reductions_or_tables(graph in any_graph(10)) {
            prop_assume!(graph.edges().count() > 0);
            let graph = scaled(&graph);
            let found = search(graph.clone(), 1 << 12, u64::MAX, &mut Budget::default());
            prop_assert_eq!((found.cost, found.bound), (by_trying_all(&graph).1, found.cost));
            prop_assert_eq!(graph.cost(&found.sides), found.cost);
        }

        #[test]
        fn no_bound_is_above_the_least(graph in any_graph(9)) {
            let graph = scaled(&graph);
            let least = by_trying_all(&graph).1;
            let mut packing = Packing::new(&graph.near);
            packing.fill(&mut Budget::default());
            prop_assert!(graph.paid + packing.taken <= least);
            prop_assert!(programme_bound(&graph) <= least);
        }

        /// Whatever the limit, the bound reaches it or the least is found.
        #[test]
        fn a_limited_search_says_no_more_than_it_knows(graph in any_graph(9), limit in 1..20u64) {
            prop_assume!(graph.edges().count() > 0);
            let graph = scaled(&graph);
            let least = by_trying_all(&graph).1;
            let found = settle(graph.clone(), 1 << 12, limit << 12, &mut Budget::default());
            prop_assert!(found.bound <= least && least <= found.cost);
            prop_assert!(found.bound == found.cost || found.bound >= limit << 12);
        }
    }

    /// Forty nodes, eighty edges by chance, with signs and weights by chance: narrow enough for tables to say what is least.
    #[test]
    fn search_and_tables_agree() {
        let mut chance = crate::chance::Chance::new(40);
        for _ in 0..20 {
            let mut graph = Graph::new(40);
            for _ in 0..80 {
                let weight = (1 + chance.below(3) as i64) << 12;
                graph.add(chance.below(40), chance.below(40), if chance.below(2) == 0 { weight } else { -weight });
            }
            let by_tables = settle(graph.clone(), 1 << 12, u64::MAX, &mut Budget::default());
            let found = search(graph.clone(), 1 << 12, u64::MAX, &mut Budget::default());
            assert_eq!((found.cost, found.bound), (by_tables.cost, by_tables.bound));
            assert_eq!(graph.cost(&found.sides), found.cost);
            assert!(by_tables.by <= Argument::Elimination);
        }
    }

    /// Odd cycles bound a graph exactly if it has no minor of the complete graph of five nodes (B. Guenin, 2001), so every planar
    /// one. Here: a grid of squares, each with a diagonal, with signs by chance; tables give the least.
    #[test]
    fn odd_cycles_are_exact_on_planar_graphs() {
        let mut chance = crate::chance::Chance::new(7);
        for _ in 0..20 {
            let mut graph = Graph::new(36);
            let mut add = |a, b| graph.add(a, b, if chance.below(2) == 0 { 1 << 12 } else { -1 << 12 });
            for node in 0..36 {
                let (right, up) = (node % 6 < 5, node < 30);
                if right {
                    add(node, node + 1);
                }
                if up {
                    add(node, node + 6);
                }
                if right && up {
                    add(node, node + 7);
                }
            }
            let least = settle(graph.clone(), 1 << 12, u64::MAX, &mut Budget::default()).cost;
            assert_eq!(programme_bound(&graph).div_ceil(1 << 12), least >> 12);
        }
    }
}
