//! A signed graph in which rings run into each other, from reductions down to tables or search.
//!
//! In: a graph, and a limit above which nothing is of interest. Out: sides for its nodes, their cost, and a bound. Reduce, take
//! apart in single nodes, and do the same with every block, until nothing is left or one block is. That is eliminated node by
//! node if it is narrow enough, and goes to `search` otherwise. One node of a block keeps its side, since turning all over
//! changes nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::LARGEST;
use super::graph::Graph;
use super::reduce::{reduce, undo};
use super::search::search;
use super::split::{blocks, part_of};
use crate::order::cheapest;
use crate::tables::{Table, least_sum};
use crate::{Argument, Budget};

/// Sides for all nodes, and what is known of them.
pub(super) struct Settled {
    pub sides: Vec<bool>,
    pub cost: u64,
    /// Nothing is cheaper. Below the cost only where the limit was reached or the budget ended.
    pub bound: u64,
    pub by: Argument,
}

/// Settles a graph whose costs differ by multiples of `grain`. The bound meets the cost or reaches `limit`, unless the budget
/// ends.
pub(super) fn settle(mut graph: Graph, grain: u64, limit: u64, budget: &mut Budget) -> Settled {
    let steps = reduce(&mut graph);
    let blocks = blocks(&graph);
    let mut settled =
        Settled { sides: vec![false; graph.near.len()], cost: graph.paid, bound: graph.paid, by: Argument::Reduced };
    let mut place = vec![0; graph.near.len()];
    let whole = blocks.len() == 1;
    for block in blocks {
        let part = part_of(&graph, &block, &mut place);
        let limit = limit.saturating_sub(settled.bound);
        let found = if whole { core(part, grain, limit, budget) } else { settle(part, grain, limit, budget) };
        let turned = found.sides[0] != settled.sides[block[0]];
        for (&node, &side) in block.iter().zip(&found.sides) {
            settled.sides[node] = side != turned;
        }
        settled.cost += found.cost;
        settled.bound += found.bound;
        settled.by = settled.by.max(found.by);
    }
    undo(&steps, &mut settled.sides);
    settled
}

/// Settles one block to which no reduction applies.
fn core(graph: Graph, grain: u64, limit: u64, budget: &mut Budget) -> Settled {
    let kept = (0..graph.near.len()).max_by_key(|&node| (graph.near[node].len(), usize::MAX - node)).expect("a block has nodes");
    match order(&graph, kept, budget) {
        Some((steps, order)) if budget.spend(steps) => eliminate(&graph, kept, &order),
        _ => search(graph, grain, limit, budget),
    }
}

/// An order for all nodes but `kept` and the steps it takes, if there is one narrow enough.
fn order(graph: &Graph, kept: usize, budget: &mut Budget) -> Option<(u64, Vec<usize>)> {
    let others = |(node, near): (usize, &BTreeMap<usize, i64>)| -> BTreeSet<usize> {
        if node == kept { BTreeSet::new() } else { near.keys().copied().filter(|&other| other != kept).collect() }
    };
    cheapest(&vec![2; graph.near.len()], &graph.near.iter().enumerate().map(others).collect::<Vec<_>>(), LARGEST, budget)
}

/// Best sides by tables, `kept` on the side `false`.
fn eliminate(graph: &Graph, kept: usize, order: &[usize]) -> Settled {
    let tables = graph.edges().map(|(a, b, weight)| {
        let (met, unmet) = (if weight > 0 { 0 } else { weight.unsigned_abs() }, weight.max(0).unsigned_abs());
        match (a == kept, b == kept) {
            (true, _) => Table { scope: vec![b], costs: vec![met, unmet] },
            (_, true) => Table { scope: vec![a], costs: vec![met, unmet] },
            _ => Table { scope: vec![a, b], costs: vec![met, unmet, unmet, met] },
        }
    });
    let least = least_sum(&vec![2; graph.near.len()], order, tables.collect(), LARGEST);
    assert!(least.exact, "the order was chosen so that every table fits");
    let sides = least.values.into_iter().map(|value| value == 1).collect();
    Settled { sides, cost: least.bound, bound: least.bound, by: Argument::Elimination }
}
