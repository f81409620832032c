//! The sides of sections, and where they meet.
//!
//! In: the top. Out: for every section that is a rectangle its four sides, lower, right, upper, left as it lies (on point: turned back by an eighth of a
//! turn first); and every stretch that two sides of different sections have in common.

use crate::set::Top;
use crate::sewn::planned_sides;
use seamfall_geom::{Edge, Loop, Point, Vec2};
use seamfall_model::Quilt;

/// Corners of sections side by side differ by their rounding only.
pub(super) const SAME: f64 = 1e-5;

/// A section as a rectangle.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    /// Start and end of the lower, right, upper and left side, anticlockwise.
    pub sides: [(Point, Point); 4],
    /// Planned width and height, raw edge to raw edge.
    pub planned: [f64; 2],
    /// Whether it lies on its point.
    pub on_point: bool,
}

impl Shape {
    /// How far inside its side a point lies.
    pub fn depth(&self, side: usize, at: Point) -> f64 {
        let (from, to) = self.sides[side];
        let along = to - from;
        along.cross(at - from) / along.hypot2().sqrt()
    }

    /// Planned length of a side, raw edge to raw edge.
    pub fn planned_side(&self, side: usize) -> f64 {
        self.planned[side % 2]
    }
}

/// A stretch that two sides have in common. Numbers are those of sections, or of the places made for them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shared {
    /// Section and side, twice, the lower section first.
    pub ends: [(usize, usize); 2],
    /// Planned finished length.
    pub length: f64,
    /// Whether it is the whole of both sides.
    pub whole: bool,
}

/// One a section; nothing for one that is not a rectangle.
pub(super) fn shapes(quilt: &Quilt, top: &Top) -> Vec<Option<Shape>> {
    let shape = |section: &crate::set::Section| {
        let (sides, on_point) = rectangle(&section.outline)?;
        let [width, height, ..] = planned_sides(quilt, section);
        Some(Shape { sides, planned: [width.value(), height.value()], on_point })
    };
    top.sections.iter().map(shape).collect()
}

/// The sides of a rectangle, level or on its point.
fn rectangle(outline: &Loop) -> Option<([(Point, Point); 4], bool)> {
    let edges: Vec<(Point, Point)> = joined(outline)?;
    let [a, b, c, d] = edges[..] else { return None };
    let all = [a, b, c, d];
    let way = |(from, to): (Point, Point)| {
        let along: Vec2 = to - from;
        along / along.hypot2().sqrt()
    };
    if (0..4).any(|i| way(all[i]).dot(way(all[(i + 1) % 4])).abs() > SAME) {
        return None;
    }
    let half = std::f64::consts::FRAC_1_SQRT_2;
    for (on_point, right) in [(false, Vec2::new(1.0, 0.0)), (true, Vec2::new(half, half))] {
        if let Some(lower) = (0..4).find(|&i| (way(all[i]) - right).hypot2() < SAME) {
            return Some(([0, 1, 2, 3].map(|side| all[(lower + side) % 4]), on_point));
        }
    }
    None
}

/// The straight sides of an outline, those that go straight on put together.
fn joined(outline: &Loop) -> Option<Vec<(Point, Point)>> {
    if outline.edges().iter().any(|edge| !matches!(edge, Edge::Line { .. })) {
        return None;
    }
    let turns = |before: &Edge, after: &Edge| {
        let (a, b) = (before.to() - before.from(), after.to() - after.from());
        a.cross(b).abs() > SAME * a.hypot2().sqrt() * b.hypot2().sqrt()
    };
    let edges = outline.edges();
    let corners: Vec<Point> = (0..edges.len())
        .filter(|&i| turns(&edges[(i + edges.len() - 1) % edges.len()], &edges[i]))
        .map(|i| edges[i].from())
        .collect();
    Some((0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()])).collect())
}

/// Every stretch that two sides share.
pub(super) fn meetings(top: &Top, shapes: &[Option<Shape>]) -> Vec<Shared> {
    let bounds: Vec<_> = top.sections.iter().map(|section| section.outline.bounds().inflate(SAME, SAME)).collect();
    let mut all = Vec::new();
    for (a, first) in shapes.iter().enumerate() {
        for (b, second) in shapes.iter().enumerate().skip(a + 1) {
            let (Some(first), Some(second)) = (first, second) else { continue };
            if !bounds[a].overlaps(bounds[b]) {
                continue;
            }
            for side in 0..4 {
                for other in 0..4 {
                    let length = common(first.sides[side], second.sides[other]);
                    if length > SAME {
                        let long = |(from, to): (Point, Point)| (to - from).hypot2().sqrt();
                        let whole = length + SAME > long(first.sides[side]).max(long(second.sides[other]));
                        all.push(Shared { ends: [(a, side), (b, other)], length, whole });
                    }
                }
            }
        }
    }
    all
}

/// How far two sides lie on each other, running opposite ways.
fn common(a: (Point, Point), b: (Point, Point)) -> f64 {
    let along = a.1 - a.0;
    let length = along.hypot2().sqrt();
    let seen = |point: Point| (along.dot(point - a.0) / length, along.cross(point - a.0) / length);
    let ((last, off), (first, off_too)) = (seen(b.0), seen(b.1));
    if off.abs().max(off_too.abs()) > SAME { 0.0 } else { last.min(length) - first.max(0.0) }
}
