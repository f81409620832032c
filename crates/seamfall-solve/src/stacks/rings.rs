//! Parts without odd rings, and parts that are one ring.
//!
//! In: a part. Out: its best values, where it is so simple. A part is met throughout exactly where no ring of it has an odd
//! number of opposites (F. Harary, "On the notion of balance of a signed graph", 1953). Where no node has more than two edges the
//! part is a chain or a ring, through the ground perhaps; an odd ring leaves one edge unmet, and one is enough. Nearly linear
//! time.

use super::parity::Parity;
use super::parts::{Part, PartEdge};
use super::settle::Settled;
use crate::Argument;

/// Values that meet every edge, if there are any.
pub(super) fn balanced(part: &Part) -> Option<Settled> {
    let sides = tied(part, part.edges.iter())?;
    Some(Settled { sides, cost: 0, bound: 0, by: Argument::Balanced })
}

/// Values for an odd ring: all edges met but the first of the cheapest.
pub(super) fn ring(part: &Part) -> Option<Settled> {
    let mut edges_at = vec![0; part.nodes.len() + 1];
    for edge in &part.edges {
        edges_at[edge.a] += 1;
        edges_at[edge.b] += 1;
    }
    if edges_at[..part.nodes.len()].iter().any(|&edges| edges > 2) {
        return None;
    }
    let cheapest = (0..part.edges.len()).min_by_key(|&i| (part.edges[i].weight, i))?;
    let others = part.edges[..cheapest].iter().chain(&part.edges[cheapest + 1..]);
    let cost = u64::from(part.edges[cheapest].weight);
    Some(Settled { sides: tied(part, others)?, cost, bound: cost, by: Argument::Rings })
}

fn tied<'a>(part: &Part, mut edges: impl Iterator<Item = &'a PartEdge>) -> Option<Vec<bool>> {
    let mut parity = Parity::new(part.nodes.len() + 1);
    edges.all(|edge| parity.tie(edge.a, edge.b, edge.same)).then(|| parity.sides())
}
