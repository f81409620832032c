//! Division into groups no longer than a limit, and the outline of pieces put together.

use seamfall_geom::{Beside, Edge, Loop, Point, TOLERANCE, Vec2};
use std::collections::BTreeMap;

/// Divides consecutive `items` into the fewest groups whose sums do not exceed `limit`; among those the one whose largest
/// group is smallest, the earlier groups being the larger where that still leaves a choice. An item longer than the limit stands
/// alone. Returns the first item of each group. Dynamic programming over the ends of groups, O(n²).
pub(super) fn group(items: &[f64], limit: f64) -> Vec<usize> {
    // Best way to divide the items from `i` on: groups, largest sum, end of the first group.
    let mut best: Vec<(usize, f64, usize)> = vec![(0, 0.0, 0); items.len() + 1];
    for start in (0..items.len()).rev() {
        let mut sum = 0.0;
        let mut choice: Option<(usize, f64, usize)> = None;
        for end in start + 1..=items.len() {
            sum += items[end - 1];
            if end > start + 1 && sum > limit + TOLERANCE {
                break;
            }
            let (groups, largest, _) = best[end];
            let candidate = (groups + 1, f64::max(largest, sum), end);
            let better = choice.is_none_or(|(g, l, _)| candidate.0 < g || (candidate.0 == g && candidate.1 <= l + TOLERANCE));
            if better {
                choice = Some(candidate);
            }
        }
        best[start] = choice.expect("the loop ran for the first item at least");
    }
    let mut firsts = Vec::new();
    let mut at = 0;
    while at < items.len() {
        firsts.push(at);
        at = best[at].2;
    }
    firsts
}

/// Where the cuts between groups of `items` lie, both ends included, going from `start` in `direction` (1 or -1).
pub(super) fn cuts(items: &[f64], limit: f64, start: f64, direction: f64) -> Vec<f64> {
    let mut firsts = group(items, limit).into_iter().peekable();
    let mut at = start;
    let mut all = Vec::new();
    for (i, item) in items.iter().enumerate() {
        if firsts.next_if_eq(&i).is_some() {
            all.push(at);
        }
        at += direction * item;
    }
    all.push(at);
    all
}

/// The outline round pieces with straight edges that lie side by side without gap or overlap and without enclosing a hole.
///
/// Edges that two pieces share cancel; what is left is the outline. Edges are first split wherever another piece has a corner.
pub(super) fn union(outlines: &[&Loop]) -> Loop {
    let mut corners: Vec<Point> = Vec::new();
    let mut numbers: BTreeMap<(i64, i64), usize> = BTreeMap::new();
    let mut number = |point: Point, corners: &mut Vec<Point>| -> usize {
        let key = ((point.x / SNAP).round() as i64, (point.y / SNAP).round() as i64);
        for dx in -1..=1 {
            for dy in -1..=1 {
                if let Some(&known) = numbers.get(&(key.0 + dx, key.1 + dy)) {
                    return known;
                }
            }
        }
        numbers.insert(key, corners.len());
        corners.push(point);
        corners.len() - 1
    };
    let mut sides: Vec<(usize, usize)> = Vec::new();
    for edge in outlines.iter().flat_map(|outline| outline.edges()) {
        let (from, to) = (number(edge.from(), &mut corners), number(edge.to(), &mut corners));
        sides.push((from, to));
    }
    let mut open: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let beside = Beside::new(&corners);
    for (from, to) in sides {
        let between = beside.along(corners[from], corners[to], SNAP);
        let stops: Vec<usize> = std::iter::once(from).chain(between).chain([to]).collect();
        for pair in stops.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            match open.get_mut(&(b, a)) {
                Some(count) if *count > 0 => *count -= 1,
                _ => *open.entry((a, b)).or_insert(0) += 1,
            }
        }
    }
    let next: BTreeMap<usize, usize> = open.into_iter().filter(|&(_, count)| count > 0).map(|((a, b), _)| (a, b)).collect();
    let Some((&start, _)) = next.iter().next() else { return outlines[0].clone() };
    let mut points = vec![corners[start]];
    let mut at = next[&start];
    while at != start && points.len() <= next.len() {
        points.push(corners[at]);
        let Some(&onward) = next.get(&at) else { break };
        at = onward;
    }
    Loop::polygon(&without_straight_corners(&points))
}

/// Grid on which corners of neighbouring pieces are recognised as one: their rounding differs by far less.
const SNAP: f64 = 1e-5;

/// `points` less those at which a polygon goes straight on.
fn without_straight_corners(points: &[Point]) -> Vec<Point> {
    let n = points.len();
    (0..n)
        .filter(|&i| {
            let (before, here, after) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
            let (v, w): (Vec2, Vec2) = (here - before, after - here);
            v.cross(w).abs() > SNAP * (v.hypot2().sqrt() + w.hypot2().sqrt())
        })
        .map(|i| points[i])
        .collect()
}

/// `outline` (convex, straight edges) where it lies inside the convex `cell`; nothing where only an edge is shared.
pub(super) fn clip(outline: &Loop, cell: &Loop) -> Option<Loop> {
    let (a, b) = (outline.bounds(), cell.bounds());
    if a.x1 <= b.x0 + TOLERANCE || b.x1 <= a.x0 + TOLERANCE || a.y1 <= b.y0 + TOLERANCE || b.y1 <= a.y0 + TOLERANCE {
        return None;
    }
    let inside = cell.edges().iter().try_fold(outline.clone(), |rest, side: &Edge| rest.clipped(side.from(), side.to()))?;
    (inside.area() > TOLERANCE).then_some(inside)
}
