//! Lines cut where they come nearer to an outline than a margin.
//!
//! In: a closed outline and a margin ([`Inset`]), and a chain of edges. Out: the chain in runs, each inside or outside ([`Run`]);
//! together they are the chain, edge by edge, arcs as arcs. Inside are the points within the outline that are at least the margin
//! from it, so that the inside is round at hollow corners; a point that is as far as the margin to the tolerance is inside.
//!
//! No inset outline is built: every edge is cut where it crosses the lines and circles that lie the margin from the outline's edges
//! and corners, and each piece is asked by its middle. So it holds for any simple outline, and for a margin that leaves nothing.

use crate::arrange::{Tangent, circle_circle, line_circle, line_crossing};
use crate::plane::{distance, length, right_of, unit};
use crate::{Edge, Loop, Point, Rect, TOLERANCE, Vec2};

/// A part of a chain that is all inside or all outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Whether it is inside.
    pub inside: bool,
    /// Its edges, each starting where the one before ends.
    pub edges: Vec<Edge>,
}

/// The inside of an outline, less a margin.
#[derive(Debug, Clone)]
pub struct Inset {
    outline: Loop,
    margin: f64,
    /// All of this is inside, where there is such a rectangle: what lies in it need not be cut.
    core: Option<Rect>,
    bounds: Rect,
}

/// A line or a circle along which the inside may end.
enum Border {
    Line(Point, Vec2),
    Circle(Point, f64),
}

impl Inset {
    /// The inside of a simple, anticlockwise `outline`, less `margin`, which is not negative.
    #[must_use]
    pub fn new(outline: &Loop, margin: f64) -> Self {
        let bounds = outline.bounds();
        let upright = outline.edges().iter().all(|edge| {
            let way = edge.to() - edge.from();
            edge.radius().is_none() && (way.x == 0.0 || way.y == 0.0)
        });
        let inner = bounds.inset(-margin);
        let core = (upright && outline.edges().len() == 4 && inner.x0 < inner.x1 && inner.y0 < inner.y1).then_some(inner);
        Self { outline: outline.clone(), margin, core, bounds }
    }

    /// Whether `point` is inside.
    #[must_use]
    pub fn holds(&self, point: Point) -> bool {
        let edges = self.outline.edges();
        let near = edges.iter().map(|edge| distance(edge.nearest(point), point)).fold(f64::INFINITY, f64::min);
        if self.margin <= TOLERANCE && near <= TOLERANCE {
            return true;
        }
        near >= self.margin - TOLERANCE && self.outline.encloses(point)
    }

    /// Whether `point` lies within the outline, whatever the margin; on the line counts as outside.
    #[must_use]
    pub fn encloses(&self, point: Point) -> bool {
        self.outline.encloses(point)
    }

    /// Cuts a chain into runs inside and outside, in its order.
    #[must_use]
    pub fn cut(&self, chain: &[Edge]) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        let mut put = |inside: bool, edge: Edge| match runs.last_mut() {
            Some(run) if run.inside == inside => run.edges.push(edge),
            _ => runs.push(Run { inside, edges: vec![edge] }),
        };
        for edge in chain {
            let bounds = edge.bounds();
            if self.core.is_some_and(|core| within(&bounds, &core)) {
                put(true, *edge);
                continue;
            }
            if apart(&bounds, &self.bounds) {
                put(false, *edge);
                continue;
            }
            let mut whole: Option<(bool, Edge)> = None;
            for piece in pieces(edge, &self.cuts(edge)) {
                let inside = self.holds(piece.at(0.5));
                // Pieces on one side of a border that was only touched are one.
                whole = match whole {
                    Some((side, before)) if side == inside => Some((side, joined(edge, &before, &piece))),
                    Some((side, before)) => {
                        put(side, before);
                        Some((inside, piece))
                    }
                    None => Some((inside, piece)),
                };
            }
            if let Some((inside, piece)) = whole {
                put(inside, piece);
            }
        }
        runs
    }

    /// Points of `edge` at which it may change sides.
    fn cuts(&self, edge: &Edge) -> Vec<Point> {
        let mut borders = Vec::new();
        for side in self.outline.edges() {
            match *side {
                Edge::Line { from, to } => {
                    let off = right_of(unit(to - from)) * -self.margin;
                    borders.push(Border::Line(from + off, to - from));
                }
                Edge::Arc { centre, .. } => {
                    let radius = side.radius().unwrap_or(0.0);
                    borders.extend([radius - self.margin, radius + self.margin].map(|radius| Border::Circle(centre, radius)));
                }
            }
            if self.margin > TOLERANCE {
                borders.push(Border::Circle(side.from(), self.margin));
            }
        }
        borders
            .iter()
            .filter(|border| !matches!(border, Border::Circle(_, radius) if *radius <= 0.0))
            .flat_map(|border| crossings(edge, border))
            .flatten()
            .collect()
    }
}

fn within(inner: &Rect, outer: &Rect) -> bool {
    outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && inner.x1 <= outer.x1 && inner.y1 <= outer.y1
}

fn apart(a: &Rect, b: &Rect) -> bool {
    a.x1 < b.x0 || b.x1 < a.x0 || a.y1 < b.y0 || b.y1 < a.y0
}

fn crossings(edge: &Edge, border: &Border) -> [Option<Point>; 2] {
    match (*edge, border) {
        (Edge::Line { from, to }, Border::Line(p, r)) => [line_crossing(from, to - from, *p, *r), None],
        (Edge::Line { from, to }, Border::Circle(c, radius)) => line_circle(from, to - from, *c, *radius, Tangent::Parted),
        (Edge::Arc { centre, .. }, Border::Line(p, r)) => {
            line_circle(*p, *r, centre, edge.radius().unwrap_or(0.0), Tangent::Parted)
        }
        (Edge::Arc { centre, .. }, Border::Circle(c, radius)) => {
            circle_circle(centre, edge.radius().unwrap_or(0.0), *c, *radius, Tangent::Parted)
        }
    }
}

/// How far along `edge` a point of its course lies, as a share of its length; outside 0 to 1 it is not on the edge.
fn share(edge: &Edge, point: Point) -> f64 {
    match *edge {
        Edge::Line { from, to } => {
            let along = to - from;
            along.dot(point - from) / along.dot(along)
        }
        Edge::Arc { from, centre, turn, .. } => {
            let whole = edge.sweep().unwrap_or(1.0);
            let to_there = Edge::Arc { from, to: point, centre, turn }.sweep().unwrap_or(0.0);
            to_there / whole
        }
    }
}

/// `edge` cut at points on its course; nothing shorter than the tolerance is cut off.
fn pieces(edge: &Edge, cuts: &[Point]) -> Vec<Edge> {
    let long = edge.length();
    let least = if long > 0.0 { TOLERANCE / long } else { 1.0 };
    let mut at: Vec<(f64, Point)> = cuts.iter().map(|&point| (share(edge, point), point)).collect();
    at.retain(|(share, _)| *share > least && *share < 1.0 - least);
    at.sort_by(|a, b| a.0.total_cmp(&b.0));
    at.dedup_by(|later, earlier| later.0 - earlier.0 <= least);
    let mut from = edge.from();
    let ends = at.into_iter().map(|(_, point)| point).chain([edge.to()]);
    ends.map(|to| {
        let piece = edge.part(from, to);
        from = to;
        piece
    })
    .collect()
}

/// Two parts of `edge` that follow one another.
fn joined(edge: &Edge, before: &Edge, after: &Edge) -> Edge {
    edge.part(before.from(), after.to())
}

impl Edge {
    /// Its point nearest to `point`, and how far from it that is.
    #[must_use]
    pub fn distance_to(&self, point: Point) -> f64 {
        length(self.nearest(point) - point)
    }
}
