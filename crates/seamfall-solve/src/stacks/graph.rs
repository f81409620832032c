//! A signed graph that shrinks as it is worked on.
//!
//! In: a part, its weights made larger by a power of two so that halves stay whole. Nodes have a *side*; an edge has a signed
//! weight, positive where it asks for the same side. Parallel edges are one: weights of one sign add up, and of opposite signs
//! the lesser is paid in any case while the difference stays. Turning all sides over changes no cost.

use std::collections::BTreeMap;

use super::parts::Part;

/// By how much weights were made larger, and by what all costs of the graph differ.
pub(super) struct Scale {
    /// Weights are 2^`shift` times what they were.
    pub shift: u32,
    /// Costs of two answers differ by a multiple of this.
    pub grain: u64,
}

/// Nodes, edges between them, and what is paid already.
#[derive(Clone, Debug, Default)]
pub(super) struct Graph {
    /// For every node its neighbours and the weight of the edge to each, never 0.
    pub near: Vec<BTreeMap<usize, i64>>,
    /// What any answer pays besides the edges that are left.
    pub paid: u64,
}

impl Graph {
    pub fn new(nodes: usize) -> Self {
        Self { near: vec![BTreeMap::new(); nodes], paid: 0 }
    }

    /// The graph of a part and its ground.
    pub fn of_part(part: &Part) -> (Self, Scale) {
        let total: u64 = part.edges.iter().map(|edge| u64::from(edge.weight)).sum();
        // Sums of all weights stay below 2^60, and a star can be turned into a triangle twelve times running.
        let shift = (60u32.saturating_sub(u64::BITS - total.leading_zeros())).min(12);
        let mut graph = Self::new(part.nodes.len() + 1);
        let mut grain = 0;
        for edge in &part.edges {
            let weight = u64::from(edge.weight) << shift;
            grain = greatest_divisor(grain, weight);
            graph.add(edge.a, edge.b, if edge.same { weight as i64 } else { -(weight as i64) });
        }
        (graph, Scale { shift, grain })
    }

    /// Adds an edge, beside what there is between its ends. A loop is paid, or met, at once.
    pub fn add(&mut self, a: usize, b: usize, weight: i64) {
        if a == b || weight == 0 {
            self.paid += if weight < 0 { weight.unsigned_abs() } else { 0 };
            return;
        }
        let before = self.near[a].get(&b).copied().unwrap_or(0);
        if (before < 0) != (weight < 0) {
            self.paid += before.unsigned_abs().min(weight.unsigned_abs());
        }
        match before + weight {
            0 => {
                self.near[a].remove(&b);
                self.near[b].remove(&a);
            }
            now => {
                self.near[a].insert(b, now);
                self.near[b].insert(a, now);
            }
        }
    }

    /// Takes a node out with its edges, which are given back.
    pub fn take(&mut self, node: usize) -> BTreeMap<usize, i64> {
        let edges = std::mem::take(&mut self.near[node]);
        for other in edges.keys() {
            self.near[*other].remove(&node);
        }
        edges
    }

    /// Makes `gone` one with `kept`: on the same side, or opposite. Gives the nodes that were next to `gone`.
    pub fn join(&mut self, gone: usize, kept: usize, opposite: bool) -> Vec<usize> {
        let edges = self.take(gone);
        for (&other, &weight) in &edges {
            self.add(kept, other, if opposite { -weight } else { weight });
        }
        edges.into_keys().collect()
    }

    /// What these sides cost.
    pub fn cost(&self, sides: &[bool]) -> u64 {
        let unmet = self.edges().filter(|&(a, b, weight)| (sides[a] == sides[b]) != (weight > 0));
        self.paid + unmet.map(|(_, _, weight)| weight.unsigned_abs()).sum::<u64>()
    }

    /// All edges, each from its lower end.
    pub fn edges(&self) -> impl Iterator<Item = (usize, usize, i64)> {
        let one = |(a, near): (usize, &BTreeMap<usize, i64>)| {
            near.range(a..).map(move |(&b, &weight)| (a, b, weight)).collect::<Vec<_>>()
        };
        self.near.iter().enumerate().flat_map(one)
    }
}

fn greatest_divisor(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
pub(super) mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;

    use super::*;

    /// Any graph of two to `most` nodes, with what parallel edges and loops left to pay.
    pub fn any_graph(most: usize) -> impl Strategy<Value = Graph> {
        (2..=most).prop_flat_map(|nodes| {
            vec((0..nodes, 0..nodes, -6..7i64), 0..3 * nodes).prop_map(move |edges| {
                let mut graph = Graph::new(nodes);
                edges.into_iter().for_each(|(a, b, weight)| graph.add(a, b, weight));
                graph
            })
        })
    }

    /// The cheapest sides and their cost, by trying all of them.
    pub fn by_trying_all(graph: &Graph) -> (Vec<bool>, u64) {
        let sides = |case: usize| (0..graph.near.len()).map(|node| case >> node & 1 == 1).collect::<Vec<_>>();
        let cases = (0..1usize << graph.near.len()).map(|case| (sides(case), graph.cost(&sides(case))));
        cases.min_by_key(|(_, cost)| *cost).expect("at least one case")
    }

    #[test]
    fn parallel_edges_of_opposite_signs_pay_the_lesser() {
        let mut graph = Graph::new(2);
        graph.add(0, 1, 5);
        graph.add(1, 0, -3);
        assert_eq!((graph.near[0][&1], graph.paid), (2, 3));
        graph.add(0, 1, -2);
        assert_eq!((graph.edges().count(), graph.paid), (0, 5));
    }

    #[test]
    fn a_loop_is_paid_if_it_asks_for_opposite_sides() {
        let mut graph = Graph::new(1);
        graph.add(0, 0, 4);
        graph.add(0, 0, -3);
        assert_eq!(graph.paid, 3);
    }
}
