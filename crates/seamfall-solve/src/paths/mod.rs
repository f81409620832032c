//! The fewest paths along all lines of a graph, each line once, with short ways between line ends that cost nothing.
//!
//! In: nodes, lines between them with whole lengths, and *ways*: hidden links between two nodes, with their lengths ([`Lines`]).
//! Out: paths that go along every line once and along no line twice, with the proof that there are no fewer ([`fewest`]).
//!
//! A way serves in one of two manners:
//! - as a *travel* from one odd node (where an odd number of lines ends) to another, each node in at most one travel;
//! - *there and back*, once each way, between two groups of lines that hang together.
//!
//! Groups linked by ways are a *cluster*. A cluster with `odd` odd nodes, `pairs` of which can be paired off by travels at most, needs
//! `max(1, odd / 2 - pairs)` paths: L. Euler, "Solutio problematis ad geometriam situs pertinentis", 1741, for what is left after pairing. The
//! largest pairing is found exactly, among the largest one whose travels are shortest in all (`matching`); that it is largest is
//! shown by a set of nodes whose removal leaves that many more odd parts than it has nodes (C. Berge, "Sur le couplage maximum d'un
//! graphe", 1958). Where the budget ends before that, the pairing is what was found by then and the bound that of the odd parts.
//!
//! Paths are then walked (`route`): groups whose nodes are all even or paired are tours, and hang as detours there and back on the
//! nearest other group. A line is not cut: how long a path may be is not known here.

mod check;
mod matching;
mod route;
#[cfg(test)]
mod tests;

pub use check::{Fault, check};

use crate::{Argument, Budget, Proven};

/// A line, or a hidden way, between two nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Its ends; the same node twice for a line that closes on itself.
    pub ends: [usize; 2],
    /// Its length, in the caller's ticks.
    pub length: u32,
}

impl Link {
    /// A link between two nodes.
    pub const fn new(a: usize, b: usize, length: u32) -> Self {
        Self { ends: [a, b], length }
    }
}

/// Lines to go along, and the ways there are between their nodes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    nodes: usize,
    lines: Vec<Link>,
    ways: Vec<Link>,
}

/// A line or a way names a node that is not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("node {node} is not one of {nodes}")]
pub struct NoSuchNode {
    /// The number named.
    pub node: usize,
    /// How many nodes there are.
    pub nodes: usize,
}

impl Lines {
    /// Lines and ways between nodes `0..nodes`. Parallel ones are allowed; a way that ends at a node without lines, or where it
    /// starts, is never used. A node that must not be travelled from has no way to another node.
    ///
    /// # Errors
    /// [`NoSuchNode`].
    pub fn new(nodes: usize, lines: Vec<Link>, ways: Vec<Link>) -> Result<Self, NoSuchNode> {
        match lines.iter().chain(&ways).flat_map(|link| link.ends).find(|&node| node >= nodes) {
            Some(node) => Err(NoSuchNode { node, nodes }),
            None => Ok(Self { nodes, lines, ways }),
        }
    }

    /// How many nodes there are.
    pub fn nodes(&self) -> usize {
        self.nodes
    }

    /// The lines, as they were given.
    pub fn lines(&self) -> &[Link] {
        &self.lines
    }

    /// The ways, as they were given.
    pub fn ways(&self) -> &[Link] {
        &self.ways
    }

    /// Number of line ends at every node.
    fn degrees(&self) -> Vec<u32> {
        let mut degrees = vec![0; self.nodes];
        for end in self.lines.iter().flat_map(|line| line.ends) {
            degrees[end] += 1;
        }
        degrees
    }

    /// The ways that can be travels, by number: between two different odd nodes.
    fn travels(&self, degrees: &[u32]) -> Vec<usize> {
        let odd = |node: usize| degrees[node] % 2 == 1;
        let can = |way: &Link| way.ends[0] != way.ends[1] && way.ends.iter().all(|&end| odd(end));
        (0..self.ways.len()).filter(|&way| can(&self.ways[way])).collect()
    }
}

/// A step of a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Along a line, from its first end to its second, or `back`.
    Line {
        /// Number of the line.
        line: usize,
        /// From the second end to the first.
        back: bool,
    },
    /// Hidden, along a way.
    Way {
        /// Number of the way.
        way: usize,
        /// From the second end to the first.
        back: bool,
    },
}

impl Step {
    /// Where it starts and where it ends.
    pub fn ends(self, lines: &Lines) -> [usize; 2] {
        let (link, back) = match self {
            Self::Line { line, back } => (&lines.lines[line], back),
            Self::Way { way, back } => (&lines.ways[way], back),
        };
        if back { [link.ends[1], link.ends[0]] } else { link.ends }
    }

    /// The same step the other way.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Line { line, back } => Self::Line { line, back: !back },
            Self::Way { way, back } => Self::Way { way, back: !back },
        }
    }

    /// Whether it goes along a line.
    pub fn is_line(self) -> bool {
        matches!(self, Self::Line { .. })
    }
}

/// Paths along all lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paths {
    /// The paths; each starts and ends with a line.
    pub paths: Vec<Vec<Step>>,
    /// How many it would take without any way: over all groups of lines, half the odd nodes, or one.
    pub unaided: u64,
    /// Length of all travels of the pairing. A tour need not close, so the paths may go along less.
    pub travelled: u64,
    /// No largest pairing has shorter travels than this in all; `travelled` where it is proven. Nothing is said (0) where the budget ended.
    pub travel_bound: u64,
    /// Nodes whose removal from the odd nodes and the ways between them shows that no more can be paired, ascending.
    pub barrier: Vec<usize>,
}

/// The fewest paths along all lines.
///
/// Among equal answers: the pairing with the shortest travels; of several the one that the order of nodes and ways gives. A detour is
/// hung on by the shortest way.
pub fn fewest(problem: &Lines, budget: &mut Budget) -> Proven<Paths> {
    let degrees = problem.degrees();
    let travels = problem.travels(&degrees);
    let links: Vec<Link> = travels.iter().map(|&way| problem.ways[way]).collect();
    let pairing = matching::shortest_largest(problem.nodes, &links, budget);
    let chosen: Vec<usize> = pairing.chosen.iter().map(|&link| travels[link]).collect();
    let paths = route::walk(problem, &degrees, &chosen);
    let travelled = chosen.iter().map(|&way| u64::from(problem.ways[way].length)).sum();
    let bound = check::bound(problem, &pairing.barrier);
    let cost = paths.len() as u64;
    let unaided = check::without_ways(problem);
    let answer = Paths { paths, unaided, travelled, travel_bound: pairing.bound, barrier: pairing.barrier };
    Proven { answer, cost, bound, by: Argument::Barrier }
}

/// The representative of every node under `links` of its nodes: a forest of disjoint sets.
struct Sets(Vec<u32>);

impl Sets {
    fn new(nodes: usize) -> Self {
        Self((0..nodes as u32).collect())
    }

    fn of(&mut self, node: usize) -> usize {
        let mut node = node as u32;
        while self.0[node as usize] != node {
            let above = self.0[self.0[node as usize] as usize];
            self.0[node as usize] = above;
            node = above;
        }
        node as usize
    }

    /// Joins two sets under the lower representative.
    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b)] = a.min(b) as u32;
    }
}
