//! Rigid motions: turn, mirror, shift.

use crate::{Point, Vec2};

/// A rigid motion of the plane: mirrored in the y axis first (if at all), then turned, then shifted.
///
/// Quarter turns are exact: their coefficients are 0, 1 and -1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    mirrored: bool,
    cos: f64,
    sin: f64,
    shift: Vec2,
}

impl Pose {
    /// Leaves everything where it is.
    pub const IDENTITY: Self = Self { mirrored: false, cos: 1.0, sin: 0.0, shift: Vec2::ZERO };

    /// A shift alone.
    #[must_use]
    pub fn shift(by: Vec2) -> Self {
        Self { shift: by, ..Self::IDENTITY }
    }

    /// An anticlockwise turn about the origin, in degrees; multiples of 90 are exact.
    #[must_use]
    pub fn turn_deg(angle_deg: f64) -> Self {
        let angle = angle_deg.rem_euclid(360.0);
        let (sin, cos) = match angle {
            0.0 => (0.0, 1.0),
            90.0 => (1.0, 0.0),
            180.0 => (0.0, -1.0),
            270.0 => (-1.0, 0.0),
            _ => libm::sincos(angle.to_radians()),
        };
        Self { mirrored: false, cos, sin, shift: Vec2::ZERO }
    }

    /// A mirror in the y axis: left and right change places.
    #[must_use]
    pub fn mirror() -> Self {
        Self { mirrored: true, ..Self::IDENTITY }
    }

    /// This motion, then `next`.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        let shift = next.apply_vec(self.shift) + next.shift;
        // A mirror before a turn reverses the turn.
        let (cos, sin) = if next.mirrored {
            (next.cos * self.cos + next.sin * self.sin, next.sin * self.cos - next.cos * self.sin)
        } else {
            (next.cos * self.cos - next.sin * self.sin, next.sin * self.cos + next.cos * self.sin)
        };
        Self { mirrored: self.mirrored != next.mirrored, cos, sin, shift }
    }

    /// The motion that brings everything back.
    #[must_use]
    pub fn inverse(self) -> Self {
        // A mirror between two turns reverses the second, so that a mirrored motion is turned back by its own angle.
        let sin = if self.mirrored { self.sin } else { -self.sin };
        let back = Self { sin, shift: Vec2::ZERO, ..self };
        Self { shift: -back.apply_vec(self.shift), ..back }
    }

    /// Where `point` goes.
    #[must_use]
    pub fn apply(self, point: Point) -> Point {
        (self.apply_vec(point.to_vec2()) + self.shift).to_point()
    }

    /// Where a direction goes; the shift has no part in it.
    #[must_use]
    pub fn apply_vec(self, v: Vec2) -> Vec2 {
        let x = if self.mirrored { -v.x } else { v.x };
        Vec2::new(self.cos * x - self.sin * v.y, self.sin * x + self.cos * v.y)
    }

    /// Whether left and right have changed places.
    #[must_use]
    pub fn is_mirrored(self) -> bool {
        self.mirrored
    }

    /// The coefficients `[a, b, c, d, e, f]` of `x' = a x + c y + e`, `y' = b x + d y + f`, as SVG's `matrix()` has them.
    #[must_use]
    pub fn coefficients(self) -> [f64; 6] {
        let m = if self.mirrored { -1.0 } else { 1.0 };
        [m * self.cos, m * self.sin, -self.sin, self.cos, self.shift.x, self.shift.y]
    }
}
