//! Shapes that have a usual way of cutting.
//!
//! In: a finished outline from corner to corner, grain upright. Out: its [`Kind`]. Lengths and angles agree to a millionth.

use super::Kind;
use super::grain::{alike, length, square_to};
use seamfall_geom::{Edge, Loop, TOLERANCE, Vec2};

/// The kind of a patch.
pub(super) fn kind(outline: &Loop, holes: &[Loop]) -> Kind {
    let edges = || [outline].into_iter().chain(holes).flat_map(Loop::edges);
    if edges().any(|edge| matches!(edge, Edge::Arc { .. })) {
        return Kind::Curved;
    }
    if !holes.is_empty() {
        return Kind::Straight;
    }
    let sides: Vec<Vec2> = outline.edges().iter().map(|edge| edge.to() - edge.from()).collect();
    let known = match sides[..] {
        [a, b, c] => triangle(a, b, c),
        [a, b, c, d] => four_sided(a, b, c, d),
        [a, b, ..] if sides.len() == 6 => hexagon(&sides, a, b),
        _ => None,
    };
    known.unwrap_or(Kind::Straight)
}

fn triangle(a: Vec2, b: Vec2, c: Vec2) -> Option<Kind> {
    let (la, lb, lc) = (length(a), length(b), length(c));
    if alike(la, lb) && alike(lb, lc) {
        return Some(Kind::Equilateral { height: a.cross(b) / la });
    }
    let turns = [(a, b, c), (b, c, a), (c, a, b)];
    let (leg, _, long_side) = turns.into_iter().find(|(v, w, _)| square_to(*v, *w) && alike(length(*v), length(*w)))?;
    // Grain is upright: either a leg is, or the long side (or what is square to it).
    let straight = leg.x.abs().min(leg.y.abs()) <= TOLERANCE * length(leg);
    let slanted = long_side.x.abs().min(long_side.y.abs()) <= TOLERANCE * length(long_side);
    if straight {
        Some(Kind::HalfSquare { leg: length(leg) })
    } else {
        slanted.then(|| Kind::QuarterSquare { long_side: length(long_side) })
    }
}

fn four_sided(a: Vec2, b: Vec2, c: Vec2, d: Vec2) -> Option<Kind> {
    let (side, next) = (length(a), length(b));
    let opposite = alike(side, length(c)) && alike(next, length(d)) && length(a + c) <= TOLERANCE * side;
    if !opposite {
        return None;
    }
    match (square_to(a, b), alike(side, next)) {
        (true, true) => Some(Kind::Square { side }),
        (true, false) => Some(Kind::Rectangle { long: side.max(next), short: side.min(next) }),
        (false, true) => {
            let angle = libm::atan2(a.cross(b), a.dot(b).abs()).to_degrees();
            Some(Kind::Diamond { side, width: a.cross(b) / side, angle_deg: angle })
        }
        (false, false) => None,
    }
}

fn hexagon(sides: &[Vec2], a: Vec2, b: Vec2) -> Option<Kind> {
    let side = length(a);
    let even = (0..6).all(|i| {
        let (v, w) = (sides[i], sides[(i + 1) % 6]);
        alike(length(v), side) && (v.dot(w) / (side * side) - 0.5).abs() <= TOLERANCE && v.cross(w) > 0.0
    });
    // Twice the height of a side and its neighbour over one another: √3 sides.
    even.then(|| Kind::Hexagon { side, flats: 2.0 * a.cross(b) / side })
}
