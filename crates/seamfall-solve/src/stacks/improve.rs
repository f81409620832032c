//! Good sides for a signed graph, without proof.
//!
//! In: a graph. Out: sides that no single node and no node with those flipped shortly before betters. First a forest of the
//! first edges in an order is met (J. Kruskal, "On the shortest spanning subtree of a graph", 1956), then nodes are flipped, the best first, those flipped lately
//! left alone (tabu search: F. Glover, "Tabu search, part I", 1989). The chance in it is seeded and the same on every machine.

use super::graph::Graph;
use super::parity::Parity;
use crate::Budget;

/// Sides found by `flips` flips, and their cost.
pub(super) fn improve<'a>(
    graph: &Graph,
    order: impl IntoIterator<Item = &'a (usize, usize, i64)>,
    flips: usize,
    budget: &mut Budget,
) -> (Vec<bool>, u64) {
    let mut sides = forest(graph.near.len(), order);
    let mut cost = graph.cost(&sides);
    let (mut best, mut least) = (sides.clone(), cost);
    let mut gains: Vec<i64> = (0..graph.near.len()).map(|node| gain(graph, &sides, node)).collect();
    let mut until = vec![0; graph.near.len()];
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    for now in 1..=flips {
        if !budget.spend(graph.near.len() as u64) {
            break;
        }
        let improves = |node: usize| (cost as i64) - gains[node] < least as i64;
        let Some(node) = (0..gains.len()).filter(|&node| until[node] < now || improves(node)).max_by_key(|&node| gains[node])
        else {
            continue;
        };
        cost = (cost as i64 - gains[node]) as u64;
        sides[node] = !sides[node];
        gains[node] = -gains[node];
        for (&other, &weight) in &graph.near[node] {
            let met = (sides[node] == sides[other]) == (weight > 0);
            gains[other] += 2 * if met { -weight.abs() } else { weight.abs() };
        }
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        until[node] = now + 5 + (seed % 8) as usize;
        if cost < least {
            (best, least) = (sides.clone(), cost);
        }
    }
    (best, least)
}

/// What flipping a node saves.
fn gain(graph: &Graph, sides: &[bool], node: usize) -> i64 {
    let one = |(&other, &weight): (&usize, &i64)| {
        if (sides[node] == sides[other]) == (weight > 0) { -weight.abs() } else { weight.abs() }
    };
    graph.near[node].iter().map(one).sum()
}

/// Sides that meet every edge not contradicted by those before it.
fn forest<'a>(nodes: usize, order: impl IntoIterator<Item = &'a (usize, usize, i64)>) -> Vec<bool> {
    let mut parity = Parity::new(nodes);
    for &(a, b, weight) in order {
        parity.tie(a, b, weight > 0);
    }
    parity.sides()
}
