//! Parts of a signed graph that can be solved apart.
//!
//! In: the problem. Out: its connected parts. Given values hold nothing together: every edge to a node whose value is given is an
//! edge to the part's own *ground*, a node of value `false` that comes after all others. Loops, edges between given values and
//! edges without weight are no part's. Time: nearly linear.

use super::Signed;
use super::parity::Parity;

/// What hangs together without given values, its nodes numbered anew.
#[derive(Clone, Debug, Default)]
pub(super) struct Part {
    /// The nodes in the problem, rising. The ground, after the last of them, is not listed.
    pub nodes: Vec<usize>,
    /// The edges, in the problem's order.
    pub edges: Vec<PartEdge>,
    /// Whether any edge goes to the ground.
    pub grounded: bool,
}

/// An edge of a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct PartEdge {
    pub a: usize,
    pub b: usize,
    pub same: bool,
    pub weight: u32,
}

impl Part {
    /// The node that is to come out `false`: the ground, or else the first.
    pub fn reference(&self) -> usize {
        if self.grounded { self.nodes.len() } else { 0 }
    }
}

/// All parts with an edge, in the order of their lowest nodes.
pub(super) fn parts(problem: &Signed) -> Vec<Part> {
    let joins = |edge: &&super::SignedEdge| edge.weight > 0 && edge.a != edge.b;
    let free = |node: usize| problem.given[node].is_none();
    let mut groups = Parity::new(problem.nodes());
    let mut lonely = vec![true; problem.nodes()];
    for edge in problem.edges.iter().filter(joins) {
        (lonely[edge.a], lonely[edge.b]) = (false, false);
        if free(edge.a) && free(edge.b) {
            groups.tie(edge.a, edge.b, true);
        }
    }
    let mut parts: Vec<Part> = Vec::new();
    let mut part_of_root = vec![usize::MAX; problem.nodes()];
    let mut place = vec![(0, 0); problem.nodes()];
    for node in (0..problem.nodes()).filter(|&node| free(node) && !lonely[node]) {
        let part = &mut part_of_root[groups.root(node).0];
        if *part == usize::MAX {
            *part = parts.len();
            parts.push(Part::default());
        }
        place[node] = (*part, parts[*part].nodes.len());
        parts[*part].nodes.push(node);
    }
    for edge in problem.edges.iter().filter(joins) {
        let (end, other) = if free(edge.a) { (edge.a, edge.b) } else { (edge.b, edge.a) };
        if !free(end) {
            continue;
        }
        let part = &mut parts[place[end].0];
        let (b, same) = match problem.given[other] {
            None => (place[other].1, edge.same),
            Some(value) => (part.nodes.len(), edge.same != value),
        };
        part.grounded |= b == part.nodes.len();
        part.edges.push(PartEdge { a: place[end].1, b, same, weight: edge.weight });
    }
    parts
}

/// For every node the number of its connected part, or `None` where the part has a node whose value is given.
///
/// Parts hang together by edges of nonzero weight, and are numbered in the order of their lowest nodes. Turning all values of a
/// part over leaves the cost as it is, so that a caller may choose between the two.
pub fn free_parts(problem: &Signed) -> Vec<Option<usize>> {
    let mut groups = Parity::new(problem.nodes());
    for edge in problem.edges.iter().filter(|edge| edge.weight > 0) {
        groups.tie(edge.a, edge.b, true);
    }
    let mut held = vec![false; problem.nodes()];
    for node in (0..problem.nodes()).filter(|&node| problem.given[node].is_some()) {
        held[groups.root(node).0] = true;
    }
    let (mut number, mut next) = (vec![None; problem.nodes()], 0);
    let one = |node| {
        let root = groups.root(node).0;
        if held[root] {
            return None;
        }
        Some(*number[root].get_or_insert_with(|| {
            next += 1;
            next - 1
        }))
    };
    (0..problem.nodes()).map(one).collect()
}
