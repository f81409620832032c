//! The outline of a block, and the way from its drafting grid to the plane and back.
//!
//! In: the shape and grid of a block. Out: points and loops, the lower left corner of the outline's bounds at the origin.

use seamfall_geom::{Loop, Point, Vec2};
use seamfall_model::{Block, GridPoint, Shape};

/// √3 / 2: the sine of 60 degrees.
const SIN_60: f64 = 0.866_025_403_784_438_6;

/// The two axes of a shape: where they start, their directions, and the lengths that the grid divides.
struct Axes {
    origin: Point,
    first: Vec2,
    second: Vec2,
    lengths: (f64, f64),
}

fn axes(shape: Shape) -> Axes {
    let straight = |width: f64, height: f64| (Point::ORIGIN, Vec2::new(0.0, 1.0), (width, height));
    let leaning = |origin: f64, side: f64| (Point::new(origin, 0.0), Vec2::new(0.5, SIN_60), (side, side));
    let (origin, second, lengths) = match shape {
        Shape::Square { side } => straight(side.value(), side.value()),
        Shape::Rectangle { width, height } => straight(width.value(), height.value()),
        Shape::RightTriangle { leg } => straight(leg.value(), leg.value()),
        Shape::EquilateralTriangle { side } => leaning(0.0, side.value()),
        Shape::Hexagon { side } => leaning(-side.value() / 2.0, side.value()),
        Shape::Diamond { side, angle_deg } => {
            let (sin, cos) = libm::sincos(angle_deg.to_radians());
            (Point::ORIGIN, Vec2::new(cos, sin), (side.value(), side.value()))
        }
    };
    Axes { origin, first: Vec2::new(1.0, 0.0), second, lengths }
}

/// Where a point of `block` lies in the plane, in the document's unit.
///
/// Multiplied before it is divided, so that a grid step that comes to a whole number of units comes out exact.
#[must_use]
pub fn to_plane(block: &Block, point: GridPoint) -> Point {
    let axes = axes(block.shape);
    let (along, up) = match block.grid {
        Some((n, m)) => (point.u * axes.lengths.0 / f64::from(n), point.v * axes.lengths.1 / f64::from(m)),
        None => (point.u, point.v),
    };
    axes.origin + axes.first * along + axes.second * up
}

/// The point of `block`'s grid that lies at `point` of the plane: the way back from [`to_plane`].
#[must_use]
pub fn to_grid(block: &Block, point: Point) -> GridPoint {
    let axes = axes(block.shape);
    let from_origin = point - axes.origin;
    let up = from_origin.y / axes.second.y;
    let along = from_origin.x - axes.second.x * up;
    match block.grid {
        Some((n, m)) => GridPoint { u: along * f64::from(n) / axes.lengths.0, v: up * f64::from(m) / axes.lengths.1 },
        None => GridPoint { u: along, v: up },
    }
}

/// The finished outline of a block, anticlockwise from its lower left corner.
#[must_use]
pub fn outline(shape: Shape) -> Loop {
    let Axes { origin, first, second, lengths: (a, b) } = axes(shape);
    let at = |along: f64, up: f64| origin + first * along + second * up;
    let corners = match shape {
        Shape::Square { .. } | Shape::Rectangle { .. } | Shape::Diamond { .. } => {
            vec![at(0.0, 0.0), at(a, 0.0), at(a, b), at(0.0, b)]
        }
        Shape::RightTriangle { .. } | Shape::EquilateralTriangle { .. } => {
            vec![at(0.0, 0.0), at(a, 0.0), at(0.0, b)]
        }
        Shape::Hexagon { .. } => vec![at(a, 0.0), at(2.0 * a, 0.0), at(2.0 * a, a), at(a, 2.0 * a), at(0.0, 2.0 * a), at(0.0, a)],
    };
    Loop::polygon(&corners)
}

/// Directions, in degrees, that count as square to the block: those of its axes, and of all sides where they are alike.
pub(super) fn straight_directions(shape: Shape) -> Vec<f64> {
    match shape {
        Shape::Square { .. } | Shape::Rectangle { .. } | Shape::RightTriangle { .. } => vec![0.0, 90.0],
        Shape::EquilateralTriangle { .. } | Shape::Hexagon { .. } => vec![0.0, 60.0, 120.0],
        Shape::Diamond { angle_deg, .. } => vec![0.0, angle_deg],
    }
}
