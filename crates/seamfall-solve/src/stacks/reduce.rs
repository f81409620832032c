//! Steps that make a signed graph smaller and keep its least cost.
//!
//! In: a graph. Out: the same graph with fewer nodes, and the steps, by which sides for what is left become sides for all. Rules,
//! as long as one applies:
//! - A node one edge of which weighs as much as all its others together goes with that edge: it may be met in a best answer,
//!   or else the node could be turned over. Nodes with one edge or two are of this kind. The two ends become one node.
//! - A node with three edges becomes a triangle of its neighbours (the star and the triangle of electricity): with weights x,
//!   y, z the triangle gets (x + y - z) / 2 and so on, where these are whole. A node that the first rule leaves alone has
//!   none of them below 0.
//!
//! At a node with up to three edges both are cases of the separators in F. Hüffner, N. Betzler, R. Niedermeier, "Separator-based
//! data reduction for signed graph balancing", 2010; the first rule at any node is the edge criterion in J.-H. Lange, B. Andres,
//! P. Swoboda, "Combinatorial persistency criteria for multicut and max-cut", 2019. Time: about linear; a node is looked at again
//! when its edges change, but one with many edges only once nothing is left to do at the others.

use std::collections::VecDeque;

use super::graph::Graph;

/// How a node's side follows from others.
#[derive(Clone, Debug)]
pub(super) enum Step {
    /// It is on the side of another, or opposite.
    Joined { node: usize, to: usize, opposite: bool },
    /// It goes with the heavier of what its edges ask for.
    Star { node: usize, edges: Vec<(usize, i64)> },
}

/// A node with more edges than this waits until the others are done.
const MANY: usize = 64;

/// Applies the rules until none applies.
pub(super) fn reduce(graph: &mut Graph) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut waiting: VecDeque<usize> = (0..graph.near.len()).collect();
    let mut put_off = VecDeque::new();
    let mut waits = vec![true; graph.near.len()];
    while let Some(node) = waiting.pop_front().or_else(|| put_off.pop_front()) {
        waits[node] = false;
        let Some(changed) = join_heaviest(graph, node, &mut steps).or_else(|| star(graph, node, &mut steps)) else { continue };
        for node in changed {
            if !std::mem::replace(&mut waits[node], true) {
                if graph.near[node].len() > MANY { &mut put_off } else { &mut waiting }.push_back(node);
            }
        }
    }
    steps
}

/// Joins the ends of the node's heaviest edge if that weighs as much as all others. Gives the nodes whose edges changed.
fn join_heaviest(graph: &mut Graph, node: usize, steps: &mut Vec<Step>) -> Option<Vec<usize>> {
    let sum: u64 = graph.near[node].values().map(|weight| weight.unsigned_abs()).sum();
    let (&other, &weight) = graph.near[node].iter().rev().max_by_key(|(_, weight)| weight.unsigned_abs())?;
    if 2 * weight.unsigned_abs() < sum {
        return None;
    }
    // The one with fewer edges moves, so that each edge moves but a few times.
    let (gone, kept) = if graph.near[node].len() <= graph.near[other].len() { (node, other) } else { (other, node) };
    steps.push(Step::Joined { node: gone, to: kept, opposite: weight < 0 });
    let mut changed = graph.join(gone, kept, weight < 0);
    changed.push(kept);
    Some(changed)
}

/// Puts a triangle in the place of a node with three edges, if its weights come out whole.
fn star(graph: &mut Graph, node: usize, steps: &mut Vec<Step>) -> Option<Vec<usize>> {
    let edges: Vec<(usize, i64)> = graph.near[node].iter().map(|(&other, &weight)| (other, weight)).collect();
    let [(a, x), (b, y), (c, z)] = edges[..] else { return None };
    if (x + y + z) % 2 != 0 {
        return None;
    }
    graph.take(node);
    for (a, x, b, y, z) in [(a, x, b, y, z), (a, x, c, z, y), (b, y, c, z, x)] {
        graph.add(a, b, x.signum() * y.signum() * (x.abs() + y.abs() - z.abs()) / 2);
    }
    steps.push(Step::Star { node, edges });
    Some(vec![a, b, c])
}

/// Sides for the nodes that `steps` took away, from those of the nodes that were left.
pub(super) fn undo(steps: &[Step], sides: &mut [bool]) {
    for step in steps.iter().rev() {
        match step {
            Step::Joined { node, to, opposite } => sides[*node] = sides[*to] != *opposite,
            Step::Star { node, edges } => {
                let pull: i64 = edges.iter().map(|&(other, weight)| if sides[other] { weight } else { -weight }).sum();
                sides[*node] = pull > 0;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    use super::super::graph::tests::{any_graph, by_trying_all};
    use super::*;

    /// Applies one rule to one node, and holds the least cost and its sides against those of before.
    fn check(graph: &Graph, rule: impl FnOnce(&mut Graph, &mut Vec<Step>) -> Option<Vec<usize>>) -> Result<(), TestCaseError> {
        let (mut after, mut steps) = (graph.clone(), Vec::new());
        if rule(&mut after, &mut steps).is_none() {
            prop_assume!(false, "the rule does not apply");
        }
        let (mut sides, cost) = by_trying_all(&after);
        undo(&steps, &mut sides);
        prop_assert_eq!(cost, by_trying_all(graph).1);
        prop_assert_eq!(graph.cost(&sides), cost);
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, rng_seed: RngSeed::Fixed(2010), failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn joining_along_the_heaviest_edge_keeps_the_least_cost(graph in any_graph(7), node in 0..7usize) {
            check(&graph, |graph, steps| join_heaviest(graph, node % graph.near.len(), steps))?;
        }

        /// The star is made from a triangle, since few stars come by chance that the other rule does not apply to.
        #[test]
        fn a_triangle_for_a_star_keeps_the_least_cost(
            mut graph in any_graph(7),
            [p, q, r] in prop::array::uniform3(1..9i64),
            signs in prop::array::uniform3(any::<bool>()),
        ) {
            graph.near.resize(graph.near.len().max(4), Default::default());
            graph.take(0);
            for (other, (weight, positive)) in [p + q, p + r, q + r].into_iter().zip(signs).enumerate() {
                graph.add(0, other + 1, if positive { weight } else { -weight });
            }
            check(&graph, |graph, steps| star(graph, 0, steps))?;
        }

        #[test]
        fn all_rules_together_keep_the_least_cost(graph in any_graph(9)) {
            check(&graph, |graph, steps| {
                steps.extend(reduce(graph));
                Some(Vec::new())
            })?;
        }
    }

    /// A tree goes altogether; so does a ladder, whose nodes have three edges, with weights that can be halved.
    #[test]
    fn trees_and_ladders_are_reduced_to_nothing() {
        let mut tree = Graph::new(30);
        (1..30).for_each(|node| tree.add(node / 3, node, if node % 2 == 0 { 1 } else { -1 }));
        let mut ladder = Graph::new(30);
        (0..28).for_each(|node| ladder.add(node, node + 2, 4096));
        (0..15).for_each(|rung| ladder.add(2 * rung, 2 * rung + 1, if rung % 3 == 0 { -4096 } else { 4096 }));
        for mut graph in [tree, ladder] {
            reduce(&mut graph);
            assert_eq!(graph.edges().count(), 0);
        }
    }
}
