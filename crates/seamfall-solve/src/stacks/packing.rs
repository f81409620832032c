//! A bound from odd cycles.
//!
//! In: a graph. Out: what its answers cost at least. Every odd cycle (one whose edges cannot all be met) leaves an edge unmet. A cycle is
//! given a share of the weight of each of its edges; where the shares of an edge do not exceed its weight, the sum of all shares is paid
//! by every answer. Shares are whole, so that the bound is exact. Cycles are taken greedily, the short ones first, each with all
//! that is left of its lightest edge. A cycle through a node is found breadth first, in the graph that has every node once for either side.
//!
//! Time: O(n · m) for every length tried. Ended by the budget the bound is lower, but still one.

use std::collections::{BTreeMap, VecDeque};

use super::graph::Graph;
use crate::Budget;

/// What every answer pays, by a packing of odd cycles.
pub(super) fn packing(graph: &Graph, budget: &mut Budget) -> u64 {
    let mut rest = graph.near.clone();
    let mut bound = graph.paid;
    let mut search = Search::new(graph.near.len());
    let mut longest = 3;
    while longest < 2 * graph.near.len() {
        for node in 0..graph.near.len() {
            while let Some(cycle) = search.cycle(&rest, node, longest, budget) {
                bound += take_share(&mut rest, &cycle);
            }
        }
        longest += 1.max(longest / 2);
    }
    bound
}

/// Takes what is left of the cycle's lightest edge from all of its edges.
fn take_share(rest: &mut [BTreeMap<usize, i64>], cycle: &[usize]) -> u64 {
    let edges = || cycle.iter().zip(cycle.iter().cycle().skip(1));
    let share = edges().map(|(&a, b)| rest[a][b].abs()).min().expect("a cycle has edges");
    for (&a, &b) in edges() {
        let left = rest[a][&b] - rest[a][&b].signum() * share;
        for (a, b) in [(a, b), (b, a)] {
            if left == 0 {
                rest[a].remove(&b);
            } else {
                rest[a].insert(b, left);
            }
        }
    }
    share.unsigned_abs()
}

/// Room for searches, used again and again.
struct Search {
    /// From which place a place was reached, and in which search. A place is twice the node, plus one on the other side.
    from: Vec<(usize, usize)>,
    number: usize,
}

impl Search {
    fn new(nodes: usize) -> Self {
        Self { from: vec![(0, 0); 2 * nodes], number: 0 }
    }

    /// An odd cycle near `start` with at most `longest` edges on the way there, round and back.
    fn cycle(&mut self, near: &[BTreeMap<usize, i64>], start: usize, longest: usize, budget: &mut Budget) -> Option<Vec<usize>> {
        self.number += 1;
        let (first, last) = (2 * start, 2 * start + 1);
        self.from[first] = (first, self.number);
        let mut waiting = VecDeque::from([(first, 0)]);
        while let Some((place, edges)) = waiting.pop_front() {
            if edges == longest || !budget.spend(near[place / 2].len() as u64) {
                continue;
            }
            for (&other, &weight) in &near[place / 2] {
                let next = 2 * other + ((place % 2) ^ usize::from(weight < 0));
                if self.from[next].1 != self.number {
                    self.from[next] = (place, self.number);
                    waiting.push_back((next, edges + 1));
                }
                if next == last {
                    return Some(self.simple(first, last));
                }
            }
        }
        None
    }

    /// The odd cycle without any node twice that the way from `first` to `last` contains.
    fn simple(&self, first: usize, last: usize) -> Vec<usize> {
        let mut way = vec![last];
        while way[way.len() - 1] != first {
            way.push(self.from[way[way.len() - 1]].0);
        }
        for end in 1..way.len() {
            if let Some(start) = way[..end].iter().rposition(|&place| place / 2 == way[end] / 2) {
                return way[start..end].iter().map(|&place| place / 2).collect();
            }
        }
        unreachable!("the way begins and ends in one node")
    }
}
