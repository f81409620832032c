//! Whether a piece is the same as its mirror image, so that a mirrored block needs no reversed template.
//!
//! In: the outline and holes of a template. Out: yes or no. The image may be turned as it likes: the grain then runs along another
//! of the piece's axes, which a mirrored block does to it anyway.

use seamfall_geom::{Edge, Loop, Point, TOLERANCE, Vec2};

/// Allowed between a corner and its image: both were computed, each within the tolerance.
const NEAR: f64 = 4.0 * TOLERANCE;

/// Whether `outline` with its `holes` can be laid upon its mirror image by turning and shifting.
pub(super) fn is_symmetric(outline: &Loop, holes: &[Loop]) -> bool {
    let corners: Vec<Point> = outline.corners().collect();
    let n = corners.len();
    // The image runs the other way round: corner `i` comes to lie on corner `k - i`.
    (0..n).any(|k| {
        Mirror::between(corners[0], corners[1 % n], corners[k], corners[(k + n - 1) % n]).is_some_and(|mirror| {
            mirror.keeps(outline) && holes.iter().all(|hole| holes.iter().any(|other| mirror.brings(hole, other)))
        })
    })
}

/// A mirror and a turn about `from`, which comes to lie on `to`.
struct Mirror {
    from: Point,
    to: Point,
    /// Where the direction (1, 0) goes; (0, 1) goes to its right.
    x_axis: Vec2,
}

impl Mirror {
    /// The one that brings `a` to `a_to` and `b` to `b_to`, if both pairs are equally far apart.
    fn between(a: Point, b: Point, a_to: Point, b_to: Point) -> Option<Self> {
        let (before, after) = (b - a, b_to - a_to);
        let (length, other) = (before.dot(before).sqrt(), after.dot(after).sqrt());
        if (length - other).abs() > NEAR || length <= NEAR {
            return None;
        }
        let scale = 1.0 / (length * other);
        let x_axis = Vec2::new(before.x * after.x - before.y * after.y, before.x * after.y + before.y * after.x) * scale;
        Some(Self { from: a, to: a_to, x_axis })
    }

    fn apply(&self, point: Point) -> Point {
        let v = point - self.from;
        self.to + Vec2::new(self.x_axis.x * v.x + self.x_axis.y * v.y, self.x_axis.y * v.x - self.x_axis.x * v.y)
    }

    fn keeps(&self, outline: &Loop) -> bool {
        self.brings(outline, outline)
    }

    /// Whether every edge of `one` comes to lie on an edge of `other`.
    fn brings(&self, one: &Loop, other: &Loop) -> bool {
        one.edges().len() == other.edges().len()
            && one.edges().iter().all(|edge| other.edges().iter().any(|image| self.is_image(edge, image)))
    }

    /// Whether `image` is `edge` mirrored; it runs the other way, so that an arc turns the same way again.
    fn is_image(&self, edge: &Edge, image: &Edge) -> bool {
        let near = |a: Point, b: Point| (self.apply(a) - b).hypot2() <= NEAR * NEAR;
        near(edge.from(), image.to())
            && near(edge.to(), image.from())
            && match (edge, image) {
                (Edge::Line { .. }, Edge::Line { .. }) => true,
                (Edge::Arc { centre, turn, .. }, Edge::Arc { centre: other, turn: way, .. }) => {
                    turn == way && near(*centre, *other)
                }
                _ => false,
            }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_geom::Turn;

    fn polygon(points: &[(f64, f64)]) -> Loop {
        Loop::polygon(&points.iter().map(|&(x, y)| Point::new(x, y)).collect::<Vec<_>>())
    }

    /// Symmetry decided by looking at the figures.
    #[test]
    fn only_shapes_with_an_axis_are_their_own_mirror_image() {
        let cases = [
            ("kite", vec![(0.0, 0.0), (2.0, 1.0), (3.0, 3.0), (1.0, 2.0)], true),
            ("isosceles triangle, tilted", vec![(0.0, 0.0), (4.0, 3.0), (0.0, 5.0)], true),
            ("isosceles triangle", vec![(0.0, 0.0), (4.0, 0.0), (2.0, 3.0)], true),
            ("trapezoid", vec![(0.0, 0.0), (4.0, 0.0), (3.0, 1.0), (1.0, 1.0)], true),
            ("parallelogram", vec![(0.0, 0.0), (4.0, 0.0), (5.0, 2.0), (1.0, 2.0)], false),
            ("long triangle", vec![(0.0, 0.0), (4.0, 0.0), (0.0, 2.0)], false),
            ("letter L, arms alike", vec![(0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)], true),
            ("letter L, arms unlike", vec![(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)], false),
        ];
        for (name, points, symmetric) in cases {
            assert_eq!(is_symmetric(&polygon(&points), &[]), symmetric, "{name}");
        }
    }

    #[test]
    fn arcs_and_holes_count() {
        let p = Point::new;
        let quarter = |turn| {
            Loop::new(vec![
                Edge::Line { from: p(0.0, 0.0), to: p(3.0, 0.0) },
                Edge::Arc {
                    from: p(3.0, 0.0),
                    to: p(0.0, 3.0),
                    centre: if turn == Turn::Left { p(0.0, 0.0) } else { p(3.0, 3.0) },
                    turn,
                },
                Edge::Line { from: p(0.0, 3.0), to: p(0.0, 0.0) },
            ])
        };
        assert!(is_symmetric(&quarter(Turn::Left), &[]));
        assert!(is_symmetric(&quarter(Turn::Right), &[]));
        // One end of the quarter is bent in, the other is straight.
        let bent = Loop::new(vec![
            Edge::Arc { from: p(0.0, 0.0), to: p(2.0, 0.0), centre: p(1.0, 2.0), turn: Turn::Left },
            Edge::Line { from: p(2.0, 0.0), to: p(2.0, 2.0) },
            Edge::Line { from: p(2.0, 2.0), to: p(0.0, 2.0) },
            Edge::Line { from: p(0.0, 2.0), to: p(0.0, 0.0) },
        ]);
        assert!(is_symmetric(&bent, &[]));
        let hole = |x: f64| polygon(&[(x, 0.9), (x, 1.1), (x + 0.2, 1.1), (x + 0.2, 0.9)]);
        assert!(is_symmetric(&bent, &[hole(0.9)]));
        assert!(!is_symmetric(&bent, &[hole(0.5)]));
    }
}
