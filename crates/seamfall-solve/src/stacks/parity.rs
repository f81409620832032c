//! Groups of nodes with their values relative to each other.
//!
//! In: pairs of nodes, each the same or opposite. Out: whether a pair contradicts what came before. A union-find whose links
//! carry a sign; nearly linear time (R. Tarjan, "Efficiency of a good but not linear set union algorithm", 1975).

/// Nodes in groups, each with its value relative to the group's root.
pub(super) struct Parity {
    above: Vec<usize>,
    /// Whether a node is opposite to the one above it.
    opposite: Vec<bool>,
    size: Vec<usize>,
}

impl Parity {
    pub fn new(nodes: usize) -> Self {
        Self { above: (0..nodes).collect(), opposite: vec![false; nodes], size: vec![1; nodes] }
    }

    /// The root of a node's group, and whether the node is opposite to it.
    pub fn root(&mut self, node: usize) -> (usize, bool) {
        let (mut top, mut turned) = (node, false);
        while self.above[top] != top {
            turned ^= self.opposite[top];
            top = self.above[top];
        }
        let (mut at, mut rest) = (node, turned);
        while self.above[at] != top {
            let (next, step) = (self.above[at], self.opposite[at]);
            (self.above[at], self.opposite[at]) = (top, rest);
            rest ^= step;
            at = next;
        }
        (top, turned)
    }

    /// Takes two nodes to be the same or opposite. False where they were known to be otherwise.
    pub fn tie(&mut self, a: usize, b: usize, same: bool) -> bool {
        let ((top_a, turned_a), (top_b, turned_b)) = (self.root(a), self.root(b));
        let opposite = turned_a ^ turned_b ^ !same;
        if top_a == top_b {
            return !opposite;
        }
        let (low, high) = if self.size[top_a] < self.size[top_b] { (top_a, top_b) } else { (top_b, top_a) };
        self.above[low] = high;
        self.opposite[low] = opposite;
        self.size[high] += self.size[low];
        true
    }

    /// For every node, whether it is opposite to its root.
    pub fn sides(&mut self) -> Vec<bool> {
        (0..self.above.len()).map(|node| self.root(node).1).collect()
    }
}
