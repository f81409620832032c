//! Stretches that carry on one another, made one.

use super::Source;
use super::split::Stretch;
use crate::plane::distance;
use crate::{Edge, TOLERANCE};

/// Joins stretches that carry on one another where nothing else meets them.
pub(super) fn join(mut stretches: Vec<Stretch>, vertices: usize) -> Vec<Stretch> {
    const NONE: u32 = u32::MAX;
    let mut count = vec![0u32; vertices];
    let mut two = vec![[NONE; 2]; vertices];
    for (i, s) in stretches.iter().enumerate() {
        for vertex in [s.from as usize, s.to as usize] {
            if count[vertex] < 2 {
                two[vertex][count[vertex] as usize] = i as u32;
            }
            count[vertex] += 1;
        }
    }
    let mut gone = vec![false; stretches.len()];
    for v in 0..vertices {
        let [a, b] = two[v];
        if count[v] != 2 || a == b {
            continue;
        }
        let (keep, lose) = (a.min(b) as usize, a.max(b) as usize);
        if let Some(joined) = joined(&stretches[keep], &stretches[lose], v as u32) {
            let far = if joined.from == stretches[keep].from { joined.to } else { joined.from };
            for slot in &mut two[far as usize] {
                if *slot == lose as u32 {
                    *slot = keep as u32;
                }
            }
            stretches[keep] = joined;
            gone[lose] = true;
        }
    }
    stretches.into_iter().zip(gone).filter_map(|(s, gone)| (!gone).then_some(s)).collect()
}

/// The one stretch that two make, in the direction of the first.
fn joined(keep: &Stretch, lose: &Stretch, v: u32) -> Option<Stretch> {
    match (keep.source, lose.source) {
        (Source::Frame(a), Source::Frame(b)) if a == b => {}
        (Source::Given(_), Source::Given(_)) => {}
        _ => return None,
    }
    let along = (keep.to == v) == (lose.from == v);
    let (lost, lost_from, lost_to) =
        if along { (lose.edge, lose.from, lose.to) } else { (lose.edge.reversed(), lose.to, lose.from) };
    let ((first, from), (second, to)) =
        if keep.to == v { ((keep.edge, keep.from), (lost, lost_to)) } else { ((lost, lost_from), (keep.edge, keep.to)) };
    if from == to || from == v || to == v {
        return None;
    }
    let (start, middle, end) = (first.from(), first.to(), second.to());
    let edge = match (keep.edge, lost) {
        (Edge::Line { .. }, Edge::Line { .. }) => {
            let line = Edge::Line { from: start, to: end };
            let straight = (middle - start).dot(end - middle) > 0.0 && distance(line.nearest(middle), middle) <= TOLERANCE;
            straight.then_some(line)?
        }
        (Edge::Arc { centre, turn, .. }, Edge::Arc { centre: other, turn: way, .. }) => {
            let arc = Edge::Arc { from: start, to: end, centre, turn };
            let whole = keep.edge.sweep()? + lost.sweep()?;
            let radii_agree = (distance(start, centre) - distance(end, centre)).abs() <= TOLERANCE;
            let same = turn == way && distance(centre, other) <= TOLERANCE && radii_agree;
            (same && (arc.sweep()? - whole).abs() < 1e-3).then_some(arc)?
        }
        _ => return None,
    };
    Some(Stretch { edge, from, to, source: keep.source })
}
