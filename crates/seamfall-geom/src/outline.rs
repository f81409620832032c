//! Closed loops of edges.

use crate::arrange::line_crossing;
use crate::label;
use crate::plane::distance;
use crate::{Edge, Point, Pose, Rect, TOLERANCE, Turn, Vec2};

/// A closed chain of edges, each starting where the one before ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    edges: Vec<Edge>,
}

impl Loop {
    /// A loop of edges that follow one another and close. The caller vouches for it; a debug assertion checks.
    #[must_use]
    pub fn new(edges: Vec<Edge>) -> Self {
        debug_assert!(
            (0..edges.len()).all(|i| {
                let gap = distance(edges[i].to(), edges[(i + 1) % edges.len()].from());
                gap <= 10.0 * TOLERANCE || gap.is_nan()
            }),
            "edges of a loop follow one another: {edges:?}"
        );
        Self { edges }
    }

    /// The polygon through `points`.
    #[must_use]
    pub fn polygon(points: &[Point]) -> Self {
        let edges = (0..points.len()).map(|i| Edge::Line { from: points[i], to: points[(i + 1) % points.len()] }).collect();
        Self { edges }
    }

    /// An upright rectangle, anticlockwise from its lower left corner.
    #[must_use]
    pub fn rect(rect: Rect) -> Self {
        Self::polygon(&[
            Point::new(rect.x0, rect.y0),
            Point::new(rect.x1, rect.y0),
            Point::new(rect.x1, rect.y1),
            Point::new(rect.x0, rect.y1),
        ])
    }

    /// Its edges, in order.
    #[must_use]
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// Its corners: where each edge starts.
    pub fn corners(&self) -> impl Iterator<Item = Point> + '_ {
        self.edges.iter().map(Edge::from)
    }

    /// Enclosed area, positive when it runs anticlockwise; exact for arcs.
    #[must_use]
    pub fn area(&self) -> f64 {
        let Some(origin) = self.edges.first().map(Edge::from) else { return 0.0 };
        self.edges.iter().map(|edge| swept_area(edge, origin)).sum()
    }

    /// Length all the way round, along the arcs.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// The smallest upright rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.edges.iter().map(Edge::bounds).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
    }

    /// Whether `point` lies inside; on the line counts as outside.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        let on_line = |edge: &Edge| distance(edge.nearest(point), point) <= TOLERANCE;
        self.encloses(point) && !self.edges.iter().any(on_line)
    }

    /// Whether `point` lies inside, without a look at how near the line is: an odd number of edges lies to its right.
    pub(crate) fn encloses(&self, point: Point) -> bool {
        let mut inside = false;
        self.each_crossing(point.y, |x| inside ^= x > point.x);
        inside
    }

    /// Tells `found` each x at which the loop crosses the level `y`. An end counts for the edge above it only.
    pub(crate) fn each_crossing(&self, y: f64, mut found: impl FnMut(f64)) {
        for edge in &self.edges {
            match *edge {
                Edge::Line { from, to } => {
                    if (from.y <= y) != (to.y <= y) {
                        found(from.x + (to.x - from.x) * ((y - from.y) / (to.y - from.y)));
                    }
                }
                Edge::Arc { from, to, centre, turn } => {
                    let radius = edge.radius().unwrap_or(0.0);
                    let half = (radius * radius - (y - centre.y) * (y - centre.y)).max(0.0).sqrt();
                    let mut start = from.y;
                    for end in monotone_ends(edge, centre.y, radius).into_iter().flatten().chain([to.y]) {
                        if (start <= y) != (end <= y) {
                            // Anticlockwise and upward is the right half of a circle.
                            let right = (end > start) == (turn == Turn::Left);
                            found(if right { centre.x + half } else { centre.x - half });
                        }
                        start = end;
                    }
                }
            }
        }
    }

    /// A point well inside, good for a label: as far from the outline as a few steps of search find.
    #[must_use]
    pub fn label_point(&self) -> Point {
        label::label_point(self)
    }

    /// The loop moved by `pose`, still anticlockwise if it was: a mirror reverses the order of its edges.
    #[must_use]
    pub fn moved(&self, pose: Pose) -> Self {
        let moved = self.edges.iter().map(|edge| edge.moved(pose));
        let edges = if pose.is_mirrored() { moved.rev().map(|edge| edge.reversed()).collect() } else { moved.collect() };
        Self { edges }
    }

    /// The part of a convex loop of straight edges to the left of the line from `a` to `b`; nothing when none is left.
    #[must_use]
    pub fn clipped(&self, a: Point, b: Point) -> Option<Self> {
        let along = b - a;
        let reach = crate::plane::length(along);
        let height = |p: Point| {
            let h = along.cross(p - a) / reach;
            if h.abs() <= TOLERANCE { 0.0 } else { h }
        };
        let mut corners: Vec<Point> = Vec::new();
        let mut any = false;
        for edge in &self.edges {
            let (from, to) = (edge.from(), edge.to());
            let (h0, h1) = (height(from), height(to));
            any |= h0 > 0.0;
            if h0 >= 0.0 {
                corners.push(from);
            }
            if h0 * h1 < 0.0 {
                corners.extend(line_crossing(from, to - from, a, along));
            }
        }
        corners.dedup_by(|p, q| distance(*p, *q) <= TOLERANCE);
        if corners.len() > 1 && distance(corners[0], corners[corners.len() - 1]) <= TOLERANCE {
            corners.pop();
        }
        (any && corners.len() > 2).then(|| Self::polygon(&corners))
    }
}

/// Area between `origin` and an edge, positive when the edge goes anticlockwise about it.
pub(crate) fn swept_area(edge: &Edge, origin: Point) -> f64 {
    (edge.from() - origin).cross(edge.to() - origin) / 2.0 + edge.segment_area()
}

/// Heights of the top and the bottom of the circle, as far as the arc passes them, in its order.
fn monotone_ends(arc: &Edge, middle: f64, radius: f64) -> [Option<f64>; 2] {
    let (up, down) = (Vec2::new(0.0, 1.0), Vec2::new(0.0, -1.0));
    let (top, bottom) = (middle + radius, middle - radius);
    match (arc.spans(up), arc.spans(down)) {
        (false, false) => [None, None],
        (true, false) => [Some(top), None],
        (false, true) => [Some(bottom), None],
        (true, true) => {
            let Edge::Arc { from, centre, turn, .. } = *arc else { return [None, None] };
            let to_top = Edge::Arc { from, to: centre + up * radius, centre, turn };
            if to_top.spans(down) { [Some(bottom), Some(top)] } else { [Some(top), Some(bottom)] }
        }
    }
}
