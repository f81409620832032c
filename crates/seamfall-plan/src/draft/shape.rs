//! What shape an outline has, wherever it lies: equal keys mean congruent by turning, never by mirroring.
//!
//! In: an outline and its holes. Out: a key, and the directions in which the shape can be said to start.
//!
//! Going round, every edge is described by the turn before it, its length and its bend. The description that starts where it is
//! smallest is the key; a shape that looks the same after a turn has several such starts.

use seamfall_geom::{Edge, Loop, Point, Pose, TOLERANCE, Turn, Vec2};
use std::cmp::Ordering;

/// One edge, rounded: turn before it, length, bend. One corner of a hole: across, up, bend of the edge behind it.
type Step = [i64; 3];

/// Congruent by turning if equal.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Key {
    steps: Vec<Step>,
    /// The corners of each hole, seen from the start of the outline.
    holes: Vec<Vec<Step>>,
}

/// A shape and how it lies.
#[derive(Debug, Clone)]
pub(crate) struct Lie {
    /// Its shape.
    pub key: Key,
    /// Where it starts; several where the shape looks the same after a turn.
    pub starts: Vec<Start>,
}

/// The corner at which a shape can be said to start.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Start {
    /// Where it is.
    pub at: Point,
    /// Direction of the edge behind it, in degrees.
    pub deg: f64,
}

impl Start {
    /// Where `point` lies, seen from here along the edge.
    pub fn seen(&self, point: Point) -> Vec2 {
        Pose::turn_deg(-self.deg).apply_vec(point - self.at)
    }

    /// The point seen from here as `seen`.
    pub fn point(&self, seen: Vec2) -> Point {
        self.at + Pose::turn_deg(self.deg).apply_vec(seen)
    }
}

/// How `outline` lies. Its edges must run from corner to corner, see [`corner_to_corner`].
pub(crate) fn lie(outline: &Loop, holes: &[Loop]) -> Lie {
    let edges = outline.edges();
    let n = edges.len();
    let steps: Vec<Step> = (0..n).map(|i| step(&edges[(i + n - 1) % n], &edges[i])).collect();
    let from = |start: usize| (0..n).map(move |i| (start + i) % n).map(|i| steps[i]);
    let mut first = vec![0];
    for start in 1..n {
        match from(start).cmp(from(first[0])) {
            Ordering::Less => first = vec![start],
            Ordering::Equal => first.push(start),
            Ordering::Greater => {}
        }
    }
    let steps = from(first[0]).collect();
    let seen: Vec<_> = first.iter().map(|start| holes_from(&edges[*start], holes)).collect();
    let nearest = seen.iter().min().cloned().unwrap_or_default();
    let same = first.iter().zip(&seen).filter(|(_, holes)| **holes == nearest);
    let start = |edge: &Edge| Start { at: edge.from(), deg: degrees(edge.direction_from()) };
    let starts = same.map(|(first, _)| start(&edges[*first])).collect();
    Lie { key: Key { steps, holes: nearest }, starts }
}

fn step(before: &Edge, edge: &Edge) -> Step {
    let (a, b) = (before.direction_to(), edge.direction_from());
    let turn = libm::atan2(a.cross(b), a.dot(b)).to_degrees();
    [rounded_angle(turn, 360), rounded(edge.length()), rounded(bend(edge))]
}

/// The holes as they look from the start of `edge`, along it: each from its smallest corner on, the smallest hole first.
fn holes_from(edge: &Edge, holes: &[Loop]) -> Vec<Vec<Step>> {
    let along = edge.direction_from();
    let corner = |of: &Edge| {
        let away: Vec2 = of.from() - edge.from();
        [rounded(along.dot(away)), rounded(along.cross(away)), rounded(bend(of))]
    };
    let mut all: Vec<Vec<Step>> = holes
        .iter()
        .map(|hole| {
            let mut corners: Vec<Step> = hole.edges().iter().map(corner).collect();
            let smallest = (0..corners.len()).min_by_key(|i| corners[*i]).unwrap_or(0);
            corners.rotate_left(smallest);
            corners
        })
        .collect();
    all.sort();
    all
}

/// To a hundred-thousandth of a unit. The steps are shifted, so that no length that is drawn (a fraction with a power of two
/// below the line, say) lies on the edge between two of them, where the last bit would decide.
fn rounded(value: f64) -> i64 {
    (value * 1e5 + 0.381_966).floor() as i64
}

/// Degrees to a ten-thousandth, as many apart as `circle` counting as the same.
pub(super) fn rounded_angle(deg: f64, circle: i64) -> i64 {
    rounded(deg / 10.0).rem_euclid(circle * 10_000)
}

/// Radius of an arc, positive to the left, negative to the right; 0 for a line.
fn bend(edge: &Edge) -> f64 {
    match edge {
        Edge::Line { .. } => 0.0,
        Edge::Arc { turn, .. } => edge.radius().unwrap_or(0.0) * if *turn == Turn::Left { 1.0 } else { -1.0 },
    }
}

/// Direction of a vector in degrees, -180 to 180; whole ones are exact.
pub(super) fn degrees(v: Vec2) -> f64 {
    let deg = libm::atan2(v.y, v.x).to_degrees();
    if (deg - deg.round()).abs() < 1e-9 { deg.round() } else { deg }
}

/// `outline` with lines joined that go on straight, and for each edge which of its old edges it is made of.
///
/// Meetings along a straight side are no corners of a patch. Along an arc they stay: there they are match marks.
pub(super) fn corner_to_corner(outline: &Loop) -> (Loop, Vec<Vec<usize>>) {
    let old = outline.edges();
    let n = old.len();
    let goes_on = |i: usize| straight_on(&old[(i + n - 1) % n], &old[i]);
    let Some(start) = (0..n).find(|i| !goes_on(*i)) else {
        return (outline.clone(), (0..n).map(|i| vec![i]).collect());
    };
    let mut edges: Vec<Edge> = Vec::with_capacity(n);
    let mut made_of: Vec<Vec<usize>> = Vec::with_capacity(n);
    for i in (0..n).map(|i| (start + i) % n) {
        match (edges.last_mut(), made_of.last_mut()) {
            (Some(Edge::Line { from, to }), Some(made_of)) if straight_on(&Edge::Line { from: *from, to: *to }, &old[i]) => {
                *to = old[i].to();
                made_of.push(i);
            }
            _ => {
                edges.push(old[i]);
                made_of.push(vec![i]);
            }
        }
    }
    (Loop::new(edges), made_of)
}

/// Whether line `b` goes on where line `a` ends without a corner: the point between them is on the line from end to end.
fn straight_on(a: &Edge, b: &Edge) -> bool {
    let (Edge::Line { from, to }, Edge::Line { to: end, .. }) = (a, b) else { return false };
    let (whole, part) = (*end - *from, *to - *from);
    part.dot(*end - *to) > 0.0 && whole.cross(part).abs() <= TOLERANCE * whole.hypot2().sqrt()
}
