//! Which way the straight grain runs in a patch.
//!
//! In: a piece of a block. Out: a direction, and whether the patch depends on it.
//!
//! Cloth stretches least along its threads, lengthwise and crosswise alike; so a direction and the one square to it are both
//! straight grain. Edges on the outside of a block are put on the straight grain, so that the block keeps its size. Source:
//! common practice.

use super::patches::Piece;
use super::shape::degrees;
use seamfall_geom::{Edge, TOLERANCE, Vec2};
use seamfall_model::Shape;

/// The grain of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Grain {
    /// Directions that are equally good, in degrees from the x axis, 0 to under 180, the smallest first. At least one.
    pub directions: Vec<f64>,
    /// Whether the piece asks for it: its outer edges or its own shape do. Otherwise it takes the grain of any other piece of
    /// its shape, so that all are cut alike.
    pub asked: bool,
}

/// The grain of `piece`, in a block to which `straight` directions are square.
///
/// - With edges on the outside of the block: the direction that has most of them on the straight grain.
/// - Half a square: its short sides.
/// - Otherwise the longest straight edge that is square to the block, or else the longest straight edge.
/// - Without any straight edge: upright.
///
/// Of equals the longest edge counts.
pub(super) fn of(piece: &Piece, straight: &[f64]) -> Grain {
    let lines = || piece.outline.edges().iter().filter_map(line);
    let outer: Vec<Vec2> =
        piece.outline.edges().iter().zip(&piece.outer).filter(|(_, outer)| **outer).filter_map(|(edge, _)| line(edge)).collect();
    if !outer.is_empty() {
        let on_grain = |v: &Vec2| outer.iter().filter(|w| square_or_along(*v, **w)).map(|w| length(*w)).sum();
        return Grain { directions: best(outer.iter().map(|v| (on_grain(v), *v))), asked: true };
    }
    if let Some([leg, other]) = legs(piece) {
        return Grain { directions: best([(0.0, leg), (0.0, other)].into_iter()), asked: true };
    }
    let square = |v: &Vec2| straight.iter().any(|deg| along(*v, *deg));
    Grain { directions: best(lines().map(|v| (if square(&v) { 1.0 } else { 0.0 }, v))), asked: false }
}

/// The legs of a right triangle with equal legs.
pub(super) fn legs(piece: &Piece) -> Option<[Vec2; 2]> {
    let [a, b, c] = piece.outline.edges() else { return None };
    let sides = [line(a)?, line(b)?, line(c)?];
    (0..3).map(|i| [sides[i], sides[(i + 1) % 3]]).find(|[v, w]| square_to(*v, *w) && alike(length(*v), length(*w)))
}

/// Whether two lengths are the same, to a millionth of them.
pub(super) fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() <= TOLERANCE * a.max(b)
}

/// Whether two vectors are square to each other, to a millionth.
pub(super) fn square_to(v: Vec2, w: Vec2) -> bool {
    v.dot(w).abs() <= TOLERANCE * length(v) * length(w)
}

/// Length of a vector.
pub(super) fn length(v: Vec2) -> f64 {
    v.hypot2().sqrt()
}

/// A straight edge as a vector.
fn line(edge: &Edge) -> Option<Vec2> {
    matches!(edge, Edge::Line { .. }).then(|| edge.to() - edge.from())
}

fn square_or_along(v: Vec2, w: Vec2) -> bool {
    square_to(v, w) || v.cross(w).abs() <= TOLERANCE * length(v) * length(w)
}

fn along(v: Vec2, deg: f64) -> bool {
    let off = (direction(v) - deg).rem_euclid(180.0);
    off.min(180.0 - off) < 1e-4
}

/// Directions of the best by rank, then by length; upright if there is none.
fn best(ranked: impl Iterator<Item = (f64, Vec2)>) -> Vec<f64> {
    let mut all: Vec<(f64, f64, f64)> = ranked.map(|(rank, v)| (rank, length(v), direction(v))).collect();
    let highest = all.iter().map(|(rank, ..)| *rank).fold(0.0, f64::max);
    all.retain(|(rank, ..)| *rank >= highest - TOLERANCE);
    let longest = all.iter().map(|(_, length, _)| *length).fold(0.0, f64::max);
    let mut directions: Vec<f64> =
        all.into_iter().filter(|(_, length, _)| *length >= longest - TOLERANCE).map(|(.., deg)| deg).collect();
    directions.sort_by(f64::total_cmp);
    directions.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    if directions.is_empty() { vec![90.0] } else { directions }
}

/// Direction of a line in degrees, 0 to under 180.
fn direction(v: Vec2) -> f64 {
    half_turn(degrees(v))
}

/// An angle of a line, from 0 to under 180; what is a hair under 180 is 0.
pub(super) fn half_turn(deg: f64) -> f64 {
    let deg = deg.rem_euclid(180.0);
    let deg = if (deg - deg.round()).abs() < 1e-9 { deg.round() } else { deg };
    if deg >= 180.0 { 0.0 } else { deg }
}

/// Directions, in degrees, that count as square to the block: those of its axes, and of all sides where they are alike.
pub(super) fn straight_directions(shape: Shape) -> Vec<f64> {
    match shape {
        Shape::Square { .. } | Shape::Rectangle { .. } | Shape::RightTriangle { .. } => vec![0.0, 90.0],
        Shape::EquilateralTriangle { .. } | Shape::Hexagon { .. } => vec![0.0, 60.0, 120.0],
        Shape::Diamond { angle_deg, .. } => vec![0.0, angle_deg],
    }
}
