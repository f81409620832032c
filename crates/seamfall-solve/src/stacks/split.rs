//! A graph taken apart where it hangs together in single nodes.
//!
//! In: a graph. Out: its blocks (2-connected parts; single edges too) as lists of nodes, such that a block shares at most its
//! first node with all blocks before it. Blocks are independent, since each may be turned over as a whole. J. Hopcroft, R.
//! Tarjan, "Efficient algorithms for graph manipulation", 1973. Linear time, without recursion.

use super::graph::Graph;

/// The blocks of a graph. Nodes without edges are in none.
pub(super) fn blocks(graph: &Graph) -> Vec<Vec<usize>> {
    let mut walk =
        Walk { seen: vec![0; graph.near.len()], low: vec![0; graph.near.len()], clock: 0, open: Vec::new(), blocks: Vec::new() };
    for root in 0..graph.near.len() {
        if walk.seen[root] == 0 && !graph.near[root].is_empty() {
            walk.from(graph, root);
        }
    }
    // A block is closed before the one it hangs on.
    walk.blocks.reverse();
    walk.blocks
}

struct Walk {
    /// When a node was first met, from 1; 0 if not yet.
    seen: Vec<usize>,
    /// The earliest node that can be reached by one edge back from here or below.
    low: Vec<usize>,
    clock: usize,
    /// Nodes not yet in a block of their own.
    open: Vec<usize>,
    blocks: Vec<Vec<usize>>,
}

impl Walk {
    fn enter(&mut self, node: usize) {
        self.clock += 1;
        (self.seen[node], self.low[node]) = (self.clock, self.clock);
        self.open.push(node);
    }

    fn from(&mut self, graph: &Graph, root: usize) {
        let mut path = vec![(root, graph.near[root].keys())];
        self.enter(root);
        while let Some((node, ways)) = path.last_mut() {
            let node = *node;
            if let Some(&next) = ways.next() {
                if self.seen[next] == 0 {
                    self.enter(next);
                    path.push((next, graph.near[next].keys()));
                } else {
                    self.low[node] = self.low[node].min(self.seen[next]);
                }
                continue;
            }
            path.pop();
            let Some(&(above, _)) = path.last() else { break };
            self.low[above] = self.low[above].min(self.low[node]);
            if self.low[node] >= self.seen[above] {
                let from = self.open.iter().rposition(|&open| open == node).expect("a node stays open until its block closes");
                let mut block = vec![above];
                block.extend(self.open.drain(from..));
                self.blocks.push(block);
            }
        }
        self.open.clear();
    }
}

/// The part of a graph on the nodes of a block, numbered as in its list. `place` is all 0 before and after.
pub(super) fn part_of(graph: &Graph, nodes: &[usize], place: &mut [usize]) -> Graph {
    for (i, &node) in nodes.iter().enumerate() {
        place[node] = i + 1;
    }
    let mut part = Graph::new(nodes.len());
    // The first node may have edges in many blocks: each edge is taken from its other end.
    for (i, &node) in nodes.iter().enumerate().skip(1) {
        for (&other, &weight) in graph.near[node].iter().filter(|&(&other, _)| place[other] > 0) {
            part.near[i].insert(place[other] - 1, weight);
            part.near[place[other] - 1].insert(i, weight);
        }
    }
    for &node in nodes {
        place[node] = 0;
    }
    part
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::super::graph::tests::any_graph;
    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, rng_seed: RngSeed::Fixed(1973), failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn every_edge_is_in_one_block_and_blocks_share_only_first_nodes(graph in any_graph(12)) {
            let (mut edges, mut known) = (0, vec![false; graph.near.len()]);
            for block in blocks(&graph) {
                edges += part_of(&graph, &block, &mut vec![0; graph.near.len()]).edges().count();
                prop_assert!(block[1..].iter().all(|&node| !known[node]));
                block.iter().for_each(|&node| known[node] = true);
            }
            prop_assert_eq!(edges, graph.edges().count());
        }
    }

    /// Two triangles at one node, and a tail: by hand.
    #[test]
    fn a_bow_tie_with_a_tail_has_three_blocks() {
        let mut graph = Graph::new(6);
        for (a, b) in [(0, 1), (1, 2), (2, 0), (2, 3), (3, 4), (4, 2), (4, 5)] {
            graph.add(a, b, 1);
        }
        let mut found = blocks(&graph);
        found.iter_mut().for_each(|block| block.sort_unstable());
        found.sort();
        assert_eq!(found, [vec![0, 1, 2], vec![2, 3, 4], vec![4, 5]]);
    }
}
