//! The few sums on plane vectors that everything else here is built from.
//!
//! Only `+ - * /` and the square root are used, so that the same bits come out on every machine.

use crate::{Point, Vec2};

/// Length of a vector. Not `hypot`, whose last bit differs between platforms; coordinates here are far from overflow.
pub(crate) fn length(v: Vec2) -> f64 {
    (v.x * v.x + v.y * v.y).sqrt()
}

/// Distance between two points.
pub(crate) fn distance(a: Point, b: Point) -> f64 {
    length(b - a)
}

/// `v` made one long; a vector of no length stays as it is.
pub(crate) fn unit(v: Vec2) -> Vec2 {
    let l = length(v);
    if l > 0.0 { Vec2::new(v.x / l, v.y / l) } else { v }
}

/// `v` turned a quarter to the right: away from the inside, for the direction of an anticlockwise loop.
pub(crate) fn right_of(v: Vec2) -> Vec2 {
    Vec2::new(v.y, -v.x)
}

/// Whether a point has two ordinary numbers for coordinates.
pub(crate) fn is_finite(p: Point) -> bool {
    p.x.is_finite() && p.y.is_finite()
}
