//! Where a block's outline and the points of its drafting grid lie in the plane.
//!
//! In: the shape and grid of a block. Out: points and loops in the document's unit, the lower left corner of the outline's bounds at
//! the origin. The axes are those that [`Shape`] describes.

use crate::{Block, GridPoint, Length, Shape};
use seamfall_geom::{Loop, Point, Vec2};

/// √3 / 2: the sine of 60 degrees.
const SIN_60: f64 = 0.866_025_403_784_438_6;

/// The two axes of a shape: where they start, their directions, and the lengths that the grid divides.
struct Axes {
    origin: Point,
    first: Vec2,
    second: Vec2,
    lengths: (f64, f64),
}

impl Shape {
    /// Lengths along the two axes, which the grid divides.
    #[must_use]
    pub fn sides(self) -> (Length, Length) {
        match self {
            Self::Rectangle { width, height } => (width, height),
            Self::Square { side }
            | Self::EquilateralTriangle { side }
            | Self::RightTriangle { leg: side }
            | Self::Diamond { side, .. }
            | Self::Hexagon { side } => (side, side),
        }
    }

    fn axes(self) -> Axes {
        let upright = Vec2::new(0.0, 1.0);
        let leaning = Vec2::new(0.5, SIN_60);
        let (a, b) = self.sides();
        let (origin, second) = match self {
            Self::Square { .. } | Self::Rectangle { .. } | Self::RightTriangle { .. } => (0.0, upright),
            Self::EquilateralTriangle { .. } => (0.0, leaning),
            Self::Hexagon { side } => (-side.value() / 2.0, leaning),
            Self::Diamond { angle_deg, .. } => {
                let (sin, cos) = libm::sincos(angle_deg.to_radians());
                (0.0, Vec2::new(cos, sin))
            }
        };
        Axes { origin: Point::new(origin, 0.0), first: Vec2::new(1.0, 0.0), second, lengths: (a.value(), b.value()) }
    }

    /// The finished outline of a block of this shape, anticlockwise from its lower left corner.
    #[must_use]
    pub fn outline(self) -> Loop {
        let Axes { origin, first, second, lengths: (a, b) } = self.axes();
        let at = |along: f64, up: f64| origin + first * along + second * up;
        let corners = match self {
            Self::Square { .. } | Self::Rectangle { .. } | Self::Diamond { .. } => {
                vec![at(0.0, 0.0), at(a, 0.0), at(a, b), at(0.0, b)]
            }
            Self::RightTriangle { .. } | Self::EquilateralTriangle { .. } => {
                vec![at(0.0, 0.0), at(a, 0.0), at(0.0, b)]
            }
            Self::Hexagon { .. } => {
                vec![at(a, 0.0), at(2.0 * a, 0.0), at(2.0 * a, a), at(a, 2.0 * a), at(0.0, 2.0 * a), at(0.0, a)]
            }
        };
        Loop::polygon(&corners)
    }
}

impl Block {
    /// Where a point of the block lies in the plane, in the document's unit.
    ///
    /// Multiplied before it is divided, so that a grid step that comes to a whole number of units comes out exact.
    #[must_use]
    pub fn to_plane(&self, point: GridPoint) -> Point {
        let axes = self.shape.axes();
        let (along, up) = match self.grid {
            Some((n, m)) => (point.u * axes.lengths.0 / f64::from(n), point.v * axes.lengths.1 / f64::from(m)),
            None => (point.u, point.v),
        };
        axes.origin + axes.first * along + axes.second * up
    }

    /// The point of the block's grid that lies at `point` of the plane: the way back from [`Block::to_plane`].
    #[must_use]
    pub fn to_grid(&self, point: Point) -> GridPoint {
        let axes = self.shape.axes();
        let from_origin = point - axes.origin;
        let up = from_origin.y / axes.second.y;
        let along = from_origin.x - axes.second.x * up;
        match self.grid {
            Some((n, m)) => GridPoint { u: along * f64::from(n) / axes.lengths.0, v: up * f64::from(m) / axes.lengths.1 },
            None => GridPoint { u: along, v: up },
        }
    }
}
