//! Steps that make a signed graph smaller and keep its least cost.
//!
//! In: a graph. Out: the same graph with fewer nodes, and the steps, by which sides for what is left become sides for all. Rules,
//! as long as one applies:
//! - A node one edge of which weighs as much as all its others together goes with that edge: it may be met in a best answer, or else the
//!   node could be turned over. Nodes with one edge or two are of this kind. The two ends become one node.
//! - A node with three edges becomes a triangle of its neighbours (the star and the triangle of electricity): with weights x, y, z the triangle
//!   gets (x + y - z) / 2 and so on, where these are whole. A node that the first rule leaves alone has none of them below 0.
//!
//! Both are found, as separators of size up to three, in F. Hüffner, N. Betzler, R. Niedermeier, "Separator-based data reduction for signed graph
//! balancing", 2010. Time: about linear; a node is looked at again when its edges change, but one
//! with many edges only once nothing is left to do at the others.

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
