//! Odd cycles through a node.
//!
//! In: neighbours with signed weights. Out: a short odd cycle near a node. Every node is there twice, once for either side, and
//! an edge leads to the place it asks for (the signed double cover): a way from a node's one place to its other is an odd closed
//! walk, and contains an odd cycle. Breadth first it has the fewest edges; with prices on the edges it is the cheapest (E.
//! Dijkstra, "A note on two problems in connexion with graphs", 1959; cycles found so: F. Barahona, A. Mahjoub, "On the cut
//! polytope", 1986).

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap, VecDeque};

use crate::Budget;

/// Room for searches, used again and again. A place is twice the node, plus one on the other side.
pub(super) struct Cover {
    /// From which place a place was reached, how far, and in which search.
    reached: Vec<Reached>,
    number: usize,
}

#[derive(Clone, Copy, Default)]
struct Reached {
    from: usize,
    far: u64,
    number: usize,
}

impl Cover {
    pub fn new(nodes: usize) -> Self {
        Self { reached: vec![Reached::default(); 2 * nodes], number: 0 }
    }

    /// An odd cycle near `start` with at most `longest` edges on the way there, round and back: its nodes in turn.
    pub fn short(
        &mut self,
        near: &[BTreeMap<usize, i64>],
        start: usize,
        longest: u64,
        budget: &mut Budget,
    ) -> Option<Vec<usize>> {
        let last = self.begin(start);
        let mut waiting = VecDeque::from([2 * start]);
        while let Some(place) = waiting.pop_front() {
            let far = self.reached[place].far + 1;
            if far > longest || !budget.spend(near[place / 2].len() as u64) {
                return None;
            }
            for (&other, &weight) in &near[place / 2] {
                let next = beyond(place, other, weight);
                if self.shorter(next, place, far) {
                    waiting.push_back(next);
                }
                if next == last {
                    return Some(self.simple(last));
                }
            }
        }
        None
    }

    /// An odd cycle near `start` whose prices add up to less than `limit`, with those prices.
    pub fn cheap(&mut self, near: &[Vec<Priced>], start: usize, limit: u64, budget: &mut Budget) -> Option<Vec<usize>> {
        let last = self.begin(start);
        let mut waiting = BinaryHeap::from([Reverse((0, 2 * start))]);
        while let Some(Reverse((so_far, place))) = waiting.pop() {
            if place == last {
                return Some(self.simple(last));
            }
            if so_far > self.reached[place].far {
                continue;
            }
            if !budget.spend(near[place / 2].len() as u64) {
                return None;
            }
            for edge in &near[place / 2] {
                let (next, far) = (beyond(place, edge.to, edge.weight), so_far + edge.price);
                if far < limit && self.shorter(next, place, far) {
                    waiting.push(Reverse((far, next)));
                }
            }
        }
        None
    }

    fn begin(&mut self, start: usize) -> usize {
        self.number += 1;
        self.reached[2 * start] = Reached { from: 2 * start, far: 0, number: self.number };
        2 * start + 1
    }

    /// Takes down that a place is reached, if it was not, or not from so near.
    fn shorter(&mut self, next: usize, from: usize, far: u64) -> bool {
        let reached = &mut self.reached[next];
        let shorter = reached.number != self.number || far < reached.far;
        if shorter {
            *reached = Reached { from, far, number: self.number };
        }
        shorter
    }

    /// The odd cycle without any node twice in the way that ends at `last`.
    fn simple(&self, last: usize) -> Vec<usize> {
        let mut way = vec![last];
        let first = last - 1;
        while way[way.len() - 1] != first {
            way.push(self.reached[way[way.len() - 1]].from);
        }
        for end in 1..way.len() {
            if let Some(start) = way[..end].iter().rposition(|&place| place / 2 == way[end] / 2) {
                return way[start..end].iter().map(|&place| place / 2).collect();
            }
        }
        unreachable!("the way begins and ends in one node")
    }
}

/// An edge with a price.
#[derive(Clone, Copy)]
pub(super) struct Priced {
    pub to: usize,
    pub weight: i64,
    pub price: u64,
}

/// The place an edge leads to.
fn beyond(place: usize, to: usize, weight: i64) -> usize {
    2 * to + ((place % 2) ^ usize::from(weight < 0))
}
