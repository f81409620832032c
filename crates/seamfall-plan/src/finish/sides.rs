//! The real sides of an edge: what runs from one corner to the next, straight or bent.
//!
//! In: the outline of the quilt. Out: its sides, each with the turns at its ends, and places along it. An arc that goes on smoothly where a
//! straight stretch ends is one side with it, so that points and scallops come out whole from corner to corner.

use seamfall_geom::{Edge, Loop, Point, Vec2};

/// A turn smaller than this is no corner: a thousandth of a degree, in radians.
const SMOOTH: f64 = 2e-5;

/// A side of the real edge.
#[derive(Debug, Clone, PartialEq)]
pub struct RealSide {
    /// Its stretches, anticlockwise round the quilt.
    pub edges: Vec<Edge>,
    /// Its length, curves along the curve.
    pub length: f64,
    /// How far the edge turns at its start and at its end, in radians: outward positive, nothing where a round edge closes without a corner.
    pub turns: [f64; 2],
}

impl RealSide {
    /// Whether a part of it is curved.
    #[must_use]
    pub fn is_bent(&self) -> bool {
        self.edges.iter().any(|edge| matches!(edge, Edge::Arc { .. }))
    }

    /// The place so far along it, `inward` from it; and the way it runs there.
    #[must_use]
    pub fn place(&self, along: f64, inward: f64) -> (Point, Vec2) {
        let mut left = along;
        let last = self.edges.len().saturating_sub(1);
        for (i, edge) in self.edges.iter().enumerate() {
            let long = edge.length();
            if left <= long || i == last {
                let at = edge.at(left / long);
                let way = way_at(edge, at);
                return (at + Vec2::new(-way.y, way.x) * inward, way);
            }
            left -= long;
        }
        (Point::ORIGIN, Vec2::new(1.0, 0.0))
    }

    /// Number of the stretch that holds the place so far along it, and where that stretch begins.
    pub(super) fn stretch(&self, along: f64) -> (usize, f64) {
        let mut start = 0.0;
        for (i, edge) in self.edges.iter().enumerate() {
            let end = start + edge.length();
            if along < end || i + 1 == self.edges.len() {
                return (i, start);
            }
            start = end;
        }
        (0, 0.0)
    }
}

/// Direction of `edge` beside `at`, one long.
fn way_at(edge: &Edge, at: Point) -> Vec2 {
    let here = match *edge {
        Edge::Line { .. } => *edge,
        Edge::Arc { to, centre, turn, .. } => Edge::Arc { from: at, to, centre, turn },
    };
    here.direction_from()
}

/// How far the edge turns from `edge` to `next`: outward positive round an anticlockwise outline.
pub(super) fn turn(edge: &Edge, next: &Edge) -> f64 {
    let (came, goes) = (edge.direction_to(), next.direction_from());
    let turn = libm::atan2(came.cross(goes), came.dot(goes));
    if turn.abs() < SMOOTH { 0.0 } else { turn }
}

/// The sides of an anticlockwise outline, from its first corner on.
#[must_use]
pub fn sides(outline: &Loop) -> Vec<RealSide> {
    let edges = outline.edges();
    let n = edges.len();
    let before = |i: usize| turn(&edges[(i + n - 1) % n], &edges[i]);
    let Some(first) = (0..n).find(|&i| before(i) != 0.0) else {
        return vec![RealSide { edges: edges.to_vec(), length: outline.perimeter(), turns: [0.0; 2] }];
    };
    let mut all: Vec<RealSide> = Vec::new();
    for i in (0..n).map(|i| (first + i) % n) {
        match all.last_mut() {
            Some(side) if before(i) == 0.0 => side.edges.push(edges[i]),
            last => {
                if let Some(side) = last {
                    side.turns[1] = before(i);
                }
                all.push(RealSide { edges: vec![edges[i]], length: 0.0, turns: [before(i), 0.0] });
            }
        }
    }
    let closing = before(first);
    if let Some(side) = all.last_mut() {
        side.turns[1] = closing;
    }
    for side in &mut all {
        side.length = side.edges.iter().map(Edge::length).sum();
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_geom::{Rect, Turn};
    use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2, PI};

    fn line(from: (f64, f64), to: (f64, f64)) -> Edge {
        Edge::Line { from: Point::new(from.0, from.1), to: Point::new(to.0, to.1) }
    }

    #[test]
    fn a_rectangle_has_four_sides_with_square_corners() {
        let sides = sides(&Loop::rect(Rect::new(0.0, 0.0, 60.0, 80.0)));
        assert_eq!(sides.iter().map(|side| side.length).collect::<Vec<_>>(), [60.0, 80.0, 60.0, 80.0]);
        assert!(sides.iter().all(|side| side.turns.iter().all(|turn| (turn - FRAC_PI_2).abs() < 1e-12)));
    }

    /// Both corners of the foot rounded: from the head down one side, round the foot and up the other it is one side.
    #[test]
    fn what_goes_on_smoothly_is_one_side() {
        let arc = |from: (f64, f64), to: (f64, f64), centre: (f64, f64)| Edge::Arc {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
            centre: Point::new(centre.0, centre.1),
            turn: Turn::Left,
        };
        let outline = Loop::new(vec![
            arc((0.0, 10.0), (10.0, 0.0), (10.0, 10.0)),
            line((10.0, 0.0), (50.0, 0.0)),
            arc((50.0, 0.0), (60.0, 10.0), (50.0, 10.0)),
            line((60.0, 10.0), (60.0, 80.0)),
            line((60.0, 80.0), (0.0, 80.0)),
            line((0.0, 80.0), (0.0, 10.0)),
        ]);
        let sides = sides(&outline);
        assert_eq!(sides.iter().map(|side| side.edges.len()).collect::<Vec<_>>(), [1, 5]);
        assert!((sides[1].length - (70.0 + 40.0 + 70.0 + 10.0 * PI)).abs() < 1e-9);
        let (at, way) = sides[1].place(70.0 + 2.5 * PI, 1.0);
        let off = 10.0 - 9.0 * FRAC_1_SQRT_2;
        assert!((at - Point::new(off, off)).hypot2() < 1e-18, "{at:?}");
        assert!(way.x > 0.0 && way.y < 0.0);
    }

    #[test]
    fn corners_turn_in_and_out() {
        let notched = Loop::polygon(
            &[(10.0, 0.0), (60.0, 0.0), (60.0, 80.0), (0.0, 80.0), (0.0, 10.0), (10.0, 10.0)].map(|(x, y)| Point::new(x, y)),
        );
        let turns: Vec<f64> = sides(&notched).iter().map(|side| (side.turns[1] / FRAC_PI_2).round()).collect();
        assert_eq!(turns.iter().filter(|turn| **turn < 0.0).count(), 1);
        assert_eq!(turns.iter().sum::<f64>(), 4.0);
    }
}
