//! Closed loops of edges.

use crate::{Edge, Point, Pose, Rect};

/// A closed chain of edges, each starting where the one before ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    edges: Vec<Edge>,
}

impl Loop {
    /// A loop of edges that follow one another and close. The caller vouches for it; a debug assertion checks.
    #[must_use]
    pub fn new(edges: Vec<Edge>) -> Self {
        Self { edges }
    }

    /// The polygon through `points`.
    #[must_use]
    pub fn polygon(points: &[Point]) -> Self {
        let edges = (0..points.len())
            .map(|i| Edge::Line { from: points[i], to: points[(i + 1) % points.len()] })
            .collect();
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
        todo!()
    }

    /// Length all the way round, along the arcs.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        todo!()
    }

    /// The smallest upright rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        todo!()
    }

    /// Whether `point` lies inside; on the line counts as outside.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        let _ = point;
        todo!()
    }

    /// A point well inside, good for a label: as far from the outline as a few steps of search find.
    #[must_use]
    pub fn label_point(&self) -> Point {
        todo!()
    }

    /// The loop moved by `pose`, still anticlockwise if it was: a mirror reverses the order of its edges.
    #[must_use]
    pub fn moved(&self, pose: Pose) -> Self {
        let _ = pose;
        todo!()
    }

    /// The part of a convex loop of straight edges to the left of the line from `a` to `b`; nothing when none is left.
    #[must_use]
    pub fn clipped(&self, a: Point, b: Point) -> Option<Self> {
        let _ = (a, b);
        todo!()
    }
}
