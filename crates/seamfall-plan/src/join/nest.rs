//! To which side each join falls, and what crosses it.
//!
//! In: a tree of joins, and the falls of the top's seams. Out: a fall for every join, where each of its ends is crossed by a later join, and
//! whether what meets there nests. A later join with one earlier join ending on either side at one point wants them to fall to
//! opposite sides along it. Every end is in at most one such meeting, so that meetings form chains and rings; each has two states, of which
//! that is taken which agrees with more length of the falls chosen for the whole top, else that which falls down or to the right at its first
//! join. A ring of an odd number keeps one stack, as `docs/sewing.md` has it.

use super::Part;
use super::mesh::{Mesh, SAME};
use super::orders::Node;
use crate::fall::{Fall, Falls};
use crate::piece::Piecing;
use seamfall_geom::{Edge, Point};

/// What is known of the ends and falls of all joins of an order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Nesting {
    /// For each join whether it falls to its left, to the first of its parts.
    pub left: Vec<bool>,
    /// Whether that is the side the falls of the top have, where they have one.
    pub agrees: Vec<Option<bool>>,
    /// For each join and each end the later join that crosses there; nothing at the edge of the quilt.
    pub ends: Vec<[Option<usize>; 2]>,
    /// Where joins end on later ones.
    pub crossings: Vec<Crossed>,
}

/// A point of a join at which earlier joins end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Crossed {
    /// The later join.
    pub by: usize,
    pub at: Point,
    /// What ends there on its left and on its right, and whether it starts there.
    pub ends: [Option<(usize, bool)>; 2],
    /// Whether they nest, if there are two.
    pub nests: Option<bool>,
}

/// Falls of the top's straight seams by line: where each stretch lies along it, and how much falls to its left, less what falls to its right.
pub(super) fn leanings(mesh: &Mesh, piecing: &Piecing, falls: &Falls) -> Vec<Vec<([f64; 2], f64)>> {
    let mut all = vec![Vec::new(); mesh.lines.len()];
    for (seam, fall) in falls.top_sewing(piecing).seams.iter().zip(&falls.top) {
        let sign = match fall {
            Fall::Left => 1.0,
            Fall::Right => -1.0,
            Fall::Open => continue,
        };
        for stretch in &seam.course {
            let Edge::Line { from, to } = stretch.edge else { continue };
            if let Some((line, [a, b])) = mesh.line_of(from, to) {
                all[line].push(([a.min(b), a.max(b)], if a < b { sign } else { -sign }));
            }
        }
    }
    all
}

/// How far the falls of the top lean to the left of a join.
fn lean(leanings: &[Vec<([f64; 2], f64)>], node: &Node) -> f64 {
    let shared = |on: &[f64; 2]| (on[1].min(node.on[1]) - on[0].max(node.on[0])).max(0.0);
    leanings[node.line].iter().map(|(on, sign)| sign * shared(on)).sum()
}

pub(super) fn nest(mesh: &Mesh, nodes: &[Node], leanings: &[Vec<([f64; 2], f64)>]) -> Nesting {
    let (ends, mut crossings) = cross(mesh, nodes);
    let leans: Vec<f64> = nodes.iter().map(|node| lean(leanings, node)).collect();
    let left = choose(&leans, &crossings);
    for crossing in &mut crossings {
        if let [Some(a), Some(b)] = crossing.ends {
            crossing.nests = Some(left[a.0] == (left[b.0] == alike(a, b)));
        }
    }
    let agrees = leans.iter().zip(&left).map(|(lean, left)| (lean.abs() > SAME).then_some((*lean > 0.0) == *left)).collect();
    Nesting { left, agrees, ends, crossings }
}

/// Whether two joins that end at one point from either side nest when both fall to the same hand; else they nest when they do not.
///
/// They nest when they fall the same way round the point, and of two that fall to the left one that starts there falls the other way
/// round than one that ends there.
fn alike(a: (usize, bool), b: (usize, bool)) -> bool {
    a.1 == b.1
}

/// Chooses the state of every chain and ring.
fn choose(leans: &[f64], crossings: &[Crossed]) -> Vec<bool> {
    let mut beside: Vec<Vec<(usize, bool)>> = vec![Vec::new(); leans.len()];
    for crossing in crossings {
        if let [Some(a), Some(b)] = crossing.ends {
            beside[a.0].push((b.0, alike(a, b)));
            beside[b.0].push((a.0, alike(a, b)));
        }
    }
    let mut left: Vec<Option<bool>> = vec![None; leans.len()];
    for first in 0..leans.len() {
        if left[first].is_some() {
            continue;
        }
        // To its right is down for a level join and to the right for an upright one.
        left[first] = Some(false);
        let (mut group, mut next) = (vec![first], 0);
        while let Some(&at) = group.get(next) {
            next += 1;
            for &(other, alike) in &beside[at] {
                if left[other].is_none() {
                    left[other] = left[at].map(|own| own == alike);
                    group.push(other);
                }
            }
        }
        let agreement: f64 = group.iter().map(|&join| if left[join] == Some(true) { leans[join] } else { -leans[join] }).sum();
        if agreement < -SAME {
            group.iter().for_each(|&join| left[join] = left[join].map(|own| !own));
        }
    }
    left.into_iter().map(|own| own.unwrap_or(false)).collect()
}

/// For every end the later join that crosses there, and all crossings, by the later join and then from its start.
fn cross(mesh: &Mesh, nodes: &[Node]) -> (Vec<[Option<usize>; 2]>, Vec<Crossed>) {
    let mut parents = vec![None; nodes.len()];
    for (number, node) in nodes.iter().enumerate() {
        for (side, part) in node.parts.iter().enumerate() {
            if let Part::Join(join) = part {
                parents[*join] = Some((number, side));
            }
        }
    }
    let mut ends = vec![[None; 2]; nodes.len()];
    let mut on: Vec<Vec<(f64, Crossed)>> = vec![Vec::new(); nodes.len()];
    for (join, node) in nodes.iter().enumerate() {
        for end in [0, 1] {
            let at = mesh.point(node.line, node.on[end]);
            let mut above = parents[join];
            while let Some((by, side)) = above {
                let way = mesh.direction(nodes[by].line);
                let along = way.on(at);
                let reaches = nodes[by].on[0] - SAME < along && along < nodes[by].on[1] + SAME;
                if reaches && (way.off(at) - mesh.lines[nodes[by].line].off).abs() < SAME {
                    ends[join][end] = Some(by);
                    let known = on[by].iter_mut().find(|(known, _)| (known - along).abs() < 10.0 * SAME);
                    let own = Some((join, end == 0));
                    match known {
                        Some((_, crossed)) => crossed.ends[side] = crossed.ends[side].max(own),
                        None => {
                            let mut crossed = Crossed { by, at, ends: [None; 2], nests: None };
                            crossed.ends[side] = own;
                            on[by].push((along, crossed));
                        }
                    }
                    break;
                }
                above = parents[by];
            }
        }
    }
    for all in &mut on {
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    (ends, on.into_iter().flatten().map(|(_, crossed)| crossed).collect())
}
