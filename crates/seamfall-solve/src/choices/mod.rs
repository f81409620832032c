//! One of a few labels for every node, with the least sum of costs.
//!
//! In: for every node what each of its labels costs, and for pairs of nodes what each pair of labels costs ([`Choices`]). Out:
//! labels with the least sum, and the proof ([`cheapest`]). Who asks: copies of a block, each of which gets one of a few
//! pressings, with the stacks along their common seams for the pairs.
//!
//! How: parts that share no pair are solved apart, node by node over tables of all cases (`tables`), if none of them grows too
//! large for the budget. Otherwise labels are looked for by changing one node at a time, from several starts (`improve`), and the
//! bound comes from the same elimination with its tables split up where they are too large, after costs were moved to where they
//! count most (`shift`); the answer may then be better than the bound can show.
//!
//! Among equal answers each node has its lowest label in the order of elimination, which depends on the order of nodes and pairs
//! alone. It does not handle costs of three nodes at once, nor more than [`MOST_LABELS`] labels a node.

mod check;
mod improve;
mod shift;
#[cfg(test)]
mod tests;

pub use check::{Wrong, check};

use std::collections::{BTreeMap, BTreeSet};

use crate::order::{across, cheapest as cheapest_order};
use crate::tables::{Table, least_sum};
use crate::{Argument, Budget, Proven};

/// The most labels a node may have.
pub const MOST_LABELS: usize = 8;

/// Cells of the largest table filled, 8 bytes each.
const LARGEST: usize = 1 << 20;

/// What labels of two nodes cost together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// One node.
    pub a: usize,
    /// Another one.
    pub b: usize,
    /// A row for every label of `a`, in it a cost for every label of `b`.
    pub costs: Vec<Vec<u32>>,
}

/// Nodes, their labels, and what those cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choices {
    alone: Vec<Vec<u32>>,
    pairs: Vec<Pair>,
}

/// Why costs of labels make no sense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ChoicesError {
    /// A node has no label, or too many.
    #[error("node {node} has {labels} labels, not 1 to {MOST_LABELS}")]
    Labels {
        /// The node.
        node: usize,
        /// How many labels it has.
        labels: usize,
    },
    /// A pair is not one of two nodes that exist.
    #[error("pair {pair} is not of two nodes")]
    Nodes {
        /// The place of the pair in the list.
        pair: usize,
    },
    /// A pair does not have a cost for each pair of labels.
    #[error("pair {pair} has not one cost for each pair of labels")]
    Costs {
        /// The place of the pair in the list.
        pair: usize,
    },
}

impl Choices {
    /// Nodes with what each of their labels costs `alone`, and pairs of them. A pair of nodes may come several times.
    ///
    /// # Errors
    /// [`ChoicesError`] if a node has no labels or too many, or a pair's nodes or costs are not right.
    pub fn new(alone: Vec<Vec<u32>>, pairs: Vec<Pair>) -> Result<Self, ChoicesError> {
        if let Some(node) = alone.iter().position(|costs| costs.is_empty() || costs.len() > MOST_LABELS) {
            return Err(ChoicesError::Labels { node, labels: alone[node].len() });
        }
        for (pair, Pair { a, b, costs }) in pairs.iter().enumerate() {
            if a == b || *a.max(b) >= alone.len() {
                return Err(ChoicesError::Nodes { pair });
            }
            if costs.len() != alone[*a].len() || costs.iter().any(|row| row.len() != alone[*b].len()) {
                return Err(ChoicesError::Costs { pair });
            }
        }
        Ok(Self { alone, pairs })
    }

    /// What each label of each node costs by itself.
    pub fn alone(&self) -> &[Vec<u32>] {
        &self.alone
    }

    /// The pairs, as they were given.
    pub fn pairs(&self) -> &[Pair] {
        &self.pairs
    }
}

/// Labels with the least sum of costs, and the proof.
///
/// Time: for nodes of k labels in an arrangement of width w about k^(w+1) a node while that fits the budget; otherwise the
/// budget.
pub fn cheapest(problem: &Choices, mut budget: Budget) -> Proven<Vec<usize>> {
    let mut answer = vec![0; problem.alone.len()];
    let (mut cost, mut bound, mut by) = (0, 0, Argument::Elimination);
    for part in parts(problem) {
        let found = part.settle(&mut budget);
        for (&node, &label) in part.nodes.iter().zip(&found.answer) {
            answer[node] = label;
        }
        cost += found.cost;
        bound += found.bound;
        by = by.max(found.by);
    }
    assert!(bound <= cost, "a bound above what was found is a mistake in the proof");
    Proven { answer, cost, bound, by }
}

/// Nodes that hang together, numbered anew, with one table for each pair.
struct Part {
    nodes: Vec<usize>,
    alone: Vec<Vec<u64>>,
    /// Costs by the lower and the higher node; the lower one's label counts fastest.
    pairs: BTreeMap<(usize, usize), Vec<u64>>,
}

impl Part {
    fn settle(&self, budget: &mut Budget) -> Proven<Vec<usize>> {
        let sizes: Vec<usize> = self.alone.iter().map(Vec::len).collect();
        let mut near = vec![BTreeSet::new(); self.nodes.len()];
        for &(a, b) in self.pairs.keys() {
            near[a].insert(b);
            near[b].insert(a);
        }
        if let Some((steps, order)) = cheapest_order(&sizes, &near, LARGEST, budget)
            && budget.spend(steps)
        {
            let least = least_sum(&sizes, &order, self.tables(), LARGEST);
            assert!(least.exact, "the order was chosen so that every table fits");
            return Proven { answer: least.values, cost: least.bound, bound: least.bound, by: Argument::Elimination };
        }
        let (shifted, paid) = shift::shift(self, &mut budget.part(1, 4));
        // Then a quarter for tables: there are no more than so many, each for at most eight labels. The least size leaves pairs
        // whole.
        let tables = (MOST_LABELS * (self.nodes.len() + self.pairs.len())) as u64;
        let largest = (budget.left() / 4 / tables).clamp(MOST_LABELS as u64, 1 << 16);
        budget.spend((largest * tables).min(budget.left()));
        let least = least_sum(&sizes, &across(&near), shifted.tables(), largest as usize);
        let bound = (least.bound + paid).div_ceil(1 << shift::SHIFT);
        let (answer, cost) = improve::improve(self, least.values, bound, budget);
        Proven { answer, cost, bound, by: Argument::Buckets }
    }

    fn tables(&self) -> Vec<Table> {
        let alone = self.alone.iter().enumerate().map(|(node, costs)| Table { scope: vec![node], costs: costs.clone() });
        let pairs = self.pairs.iter().map(|(&(a, b), costs)| Table { scope: vec![a, b], costs: costs.clone() });
        alone.chain(pairs).collect()
    }
}

/// The connected parts, in the order of their lowest nodes.
fn parts(problem: &Choices) -> Vec<Part> {
    let mut near = vec![Vec::new(); problem.alone.len()];
    for pair in &problem.pairs {
        near[pair.a].push(pair.b);
        near[pair.b].push(pair.a);
    }
    let mut place = vec![None; problem.alone.len()];
    let mut parts: Vec<Part> = Vec::new();
    for start in 0..problem.alone.len() {
        if place[start].is_some() {
            continue;
        }
        let mut nodes = vec![start];
        place[start] = Some((parts.len(), 0));
        let mut next = 0;
        while next < nodes.len() {
            for &other in &near[nodes[next]] {
                if place[other].is_none() {
                    place[other] = Some((parts.len(), nodes.len()));
                    nodes.push(other);
                }
            }
            next += 1;
        }
        let alone = nodes.iter().map(|&node| problem.alone[node].iter().copied().map(u64::from).collect()).collect();
        parts.push(Part { nodes, alone, pairs: BTreeMap::new() });
    }
    for Pair { a, b, costs } in &problem.pairs {
        let (Some((part, a)), Some((_, b))) = (place[*a], place[*b]) else { continue };
        let (low, high) = (a.min(b), a.max(b));
        let size = parts[part].alone[low].len();
        let cells = size * parts[part].alone[high].len();
        let sums = parts[part].pairs.entry((low, high)).or_insert_with(|| vec![0; cells]);
        for (label_a, row) in costs.iter().enumerate() {
            for (label_b, &cost) in row.iter().enumerate() {
                let (label_low, label_high) = if a < b { (label_a, label_b) } else { (label_b, label_a) };
                sums[label_low + size * label_high] += u64::from(cost);
            }
        }
    }
    parts
}
