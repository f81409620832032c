//! Polygons as convex parts, and sums of convex polygons.
//!
//! In: the corners of a simple polygon, anticlockwise. Out: convex polygons that cover it exactly, or its hull where it cannot be
//! divided into few; the hull is larger, so that what keeps clear of it keeps clear of the polygon. Ears are cut off, then neighbours are
//! put together again while they stay convex (S. Hertel & K. Mehlhorn, "Fast triangulation of simple polygons", 1983).

use seamfall_geom::{Point, Vec2};

/// Corners nearer to a straight line than this, times the lengths beside them, are on it.
const STRAIGHT: f64 = 1e-9;

/// The corner `b` between `a` and `c`: positive when it turns left.
pub(super) fn bend(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - b)
}

/// Whether no corner turns right.
pub(super) fn is_convex(points: &[Point]) -> bool {
    let n = points.len();
    (0..n).all(|i| bend(points[i], points[(i + 1) % n], points[(i + 2) % n]) >= -STRAIGHT)
}

/// A polygon of more corners, or of more parts, is taken as its hull.
const MOST_CORNERS: usize = 400;
/// Two shapes of so many parts meet in the square of it.
const MOST_PARTS: usize = 40;

/// Convex polygons that together cover the polygon.
pub(super) fn parts(points: &[Point]) -> Vec<Vec<Point>> {
    if is_convex(points) {
        return vec![points.to_vec()];
    }
    let found = if points.len() > MOST_CORNERS { None } else { triangles(points) };
    match found.map(|triangles| merged(triangles, points)) {
        Some(parts) if parts.len() <= MOST_PARTS => {
            parts.into_iter().map(|part| part.into_iter().map(|i| points[i]).collect()).collect()
        }
        _ => vec![hull(points)],
    }
}

/// Triangles by cutting off ears, as places in `points`; nothing where no ear is left to cut.
fn triangles(points: &[Point]) -> Option<Vec<Vec<usize>>> {
    let mut ring: Vec<usize> = (0..points.len()).collect();
    let mut cut = Vec::new();
    while ring.len() > 3 {
        let n = ring.len();
        let corner = |k: usize| [ring[(k + n - 1) % n], ring[k], ring[(k + 1) % n]];
        let ear = (0..n).find(|&k| {
            let [a, b, c] = corner(k);
            let (a, b, c) = (points[a], points[b], points[c]);
            bend(a, b, c) > STRAIGHT && ring.iter().all(|&i| is_outside(points[i], a, b, c))
        })?;
        cut.push(corner(ear).to_vec());
        ring.remove(ear);
    }
    cut.push(ring);
    Some(cut)
}

/// Whether `p` does not lie in the triangle; its corners do not count.
fn is_outside(p: Point, a: Point, b: Point, c: Point) -> bool {
    p == a || p == b || p == c || bend(a, b, p) < 0.0 || bend(b, c, p) < 0.0 || bend(c, a, p) < 0.0
}

/// Neighbours put together while the result is convex.
fn merged(mut parts: Vec<Vec<usize>>, points: &[Point]) -> Vec<Vec<usize>> {
    let mut first = 0;
    while first < parts.len() {
        let found = (first + 1..parts.len()).find_map(|other| Some((other, joined(&parts[first], &parts[other], points)?)));
        match found {
            Some((other, joined)) => {
                parts[first] = joined;
                parts.swap_remove(other);
            }
            None => first += 1,
        }
    }
    parts
}

/// Both in one ring along a side they share, if that is convex.
fn joined(one: &[usize], two: &[usize], points: &[Point]) -> Option<Vec<usize>> {
    let (n, m) = (one.len(), two.len());
    let (i, j) = (0..n).find_map(|i| {
        let (from, to) = (one[i], one[(i + 1) % n]);
        (0..m).find(|&j| two[j] == to && two[(j + 1) % m] == from).map(|j| (i, j))
    })?;
    let ring: Vec<usize> = (1..n).map(|k| one[(i + k) % n]).chain((1..m).map(|k| two[(j + k) % m])).collect();
    let corners: Vec<Point> = ring.iter().map(|&k| points[k]).collect();
    is_convex(&corners).then_some(ring)
}

/// The convex hull, anticlockwise (A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", 1979).
pub(super) fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    let mut hull: Vec<Point> = Vec::new();
    let half = |hull: &mut Vec<Point>, points: &mut dyn Iterator<Item = Point>| {
        let kept = hull.len();
        for p in points {
            while hull.len() >= kept + 2 && bend(hull[hull.len() - 2], hull[hull.len() - 1], p) <= 0.0 {
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
    };
    half(&mut hull, &mut sorted.iter().copied());
    half(&mut hull, &mut sorted.iter().rev().copied());
    hull
}

/// All sums of a point of one and a point of the other convex polygon: their edges in the order of their directions.
pub(super) fn sum(one: &[Point], two: &[Point]) -> Vec<Point> {
    let (one, two) = (from_lowest(one), from_lowest(two));
    let edge = |points: &[Point], i: usize| points[(i + 1) % points.len()] - points[i];
    let mut at = one[0] + two[0].to_vec2();
    let (mut i, mut j) = (0, 0);
    let mut points = Vec::with_capacity(one.len() + two.len());
    while i < one.len() || j < two.len() {
        points.push(at);
        let step = if j == two.len() {
            1.0
        } else if i == one.len() {
            -1.0
        } else {
            edge(&one, i).cross(edge(&two, j))
        };
        let mut by = Vec2::ZERO;
        if step >= 0.0 {
            by += edge(&one, i);
            i += 1;
        }
        if step <= 0.0 {
            by += edge(&two, j);
            j += 1;
        }
        at += by;
    }
    points
}

/// The ring told from its lowest, then leftmost corner on.
fn from_lowest(points: &[Point]) -> Vec<Point> {
    let lowest = |&i: &usize, &j: &usize| points[i].y.total_cmp(&points[j].y).then(points[i].x.total_cmp(&points[j].x));
    let start = (0..points.len()).min_by(lowest).unwrap_or(0);
    (0..points.len()).map(|i| points[(start + i) % points.len()]).collect()
}

/// Area of a ring, positive when it runs anticlockwise.
pub(super) fn area(points: &[Point]) -> f64 {
    let n = points.len();
    (0..n).map(|i| points[i].to_vec2().cross(points[(i + 1) % n].to_vec2())).sum::<f64>() / 2.0
}
