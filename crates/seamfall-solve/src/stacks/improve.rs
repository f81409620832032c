//! Good sides for a signed graph, without proof.
//!
//! In: a graph, and its edges in an order. Out: sides that flipping no single node betters. First a forest of the first edges in
//! the order is met (J. Kruskal, "On the shortest spanning subtree of a graph", 1956). Then nodes are flipped in turn, at first
//! also where that costs something, less and less so (simulated annealing: S. Kirkpatrick, C. Gelatt, M. Vecchi, "Optimization by
//! simulated annealing", 1983). The best of all is kept. The chance in it is seeded, and counted in whole numbers, the same on
//! every machine.

use super::graph::Graph;
use super::parity::Parity;
use crate::Budget;
use crate::chance::Chance;

/// Sides found by going round all nodes so many times, and their cost.
pub(super) fn improve<'a>(
    graph: &Graph,
    order: impl IntoIterator<Item = &'a (usize, usize, i64)>,
    rounds: u64,
    budget: &mut Budget,
) -> (Vec<bool>, u64) {
    let mut sides = forest(graph.near.len(), order);
    let mut gains: Vec<i64> = (0..graph.near.len()).map(|node| gain(graph, &sides, node)).collect();
    let mut cost = graph.cost(&sides) as i64;
    let (mut best, mut least) = (sides.clone(), cost);
    let (sum, ends) =
        graph.near.iter().flat_map(|near| near.values()).fold((0, 1), |(sum, n), weight| (sum + weight.abs(), n + 1));
    let mut chance = Chance::new(1953);
    let mut round = 0;
    loop {
        // A flip that costs as much as two middling edges is taken now and then at first, none that costs anything in the end.
        let heat = (sum / ends) as u64 * rounds.saturating_sub(round + 1) / rounds;
        let mut still = true;
        for node in 0..graph.near.len() {
            if gains[node] > 0 || (gains[node].unsigned_abs() as u128) << 16 < u128::from(heat) * u128::from(chance.rarity()) {
                cost -= gains[node];
                still = false;
                flip(graph, &mut sides, &mut gains, node);
            }
        }
        if cost < least {
            (best, least) = (sides.clone(), cost);
        }
        round += 1;
        if !budget.spend(4 * graph.near.len() as u64) || (round >= rounds && still) {
            return (best, least as u64);
        }
    }
}

/// What flipping a node saves.
fn gain(graph: &Graph, sides: &[bool], node: usize) -> i64 {
    graph.near[node].iter().map(|(&other, &weight)| if sides[node] == sides[other] { -weight } else { weight }).sum()
}

fn flip(graph: &Graph, sides: &mut [bool], gains: &mut [i64], node: usize) {
    sides[node] = !sides[node];
    gains[node] = -gains[node];
    for (&other, &weight) in &graph.near[node] {
        gains[other] += 2 * if sides[node] == sides[other] { -weight } else { weight };
    }
}

/// Sides that meet every edge not contradicted by those before it.
fn forest<'a>(nodes: usize, order: impl IntoIterator<Item = &'a (usize, usize, i64)>) -> Vec<bool> {
    let mut parity = Parity::new(nodes);
    for &(a, b, weight) in order {
        parity.tie(a, b, weight > 0);
    }
    parity.sides()
}
