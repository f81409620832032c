//! Points, outlines and numbers on the wire.

use schemars::JsonSchema;
use seamfall_geom::{Edge, Loop, Point, Pose, Turn, Vec2};
use serde::Serialize;

/// A width and a height.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct SizeWire {
    /// Across.
    pub width: f64,
    /// Up.
    pub height: f64,
}

/// An edge of an outline; the next one starts where it ends, the last ends where the first starts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum EdgeWire {
    /// A straight line.
    Line {
        /// Start, as x and y.
        from: [f64; 2],
        /// End.
        to: [f64; 2],
    },
    /// A circular arc.
    Arc {
        /// Start, as x and y.
        from: [f64; 2],
        /// End.
        to: [f64; 2],
        /// Centre of its circle.
        centre: [f64; 2],
        /// Which way it goes round its centre.
        turn: TurnWire,
    },
}

/// Which way an arc goes round its centre, seen along its direction, y up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum TurnWire {
    /// Anticlockwise.
    Left,
    /// Clockwise.
    Right,
}

/// To a millionth; never -0, which would be written so.
pub(super) fn length(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}

pub(super) fn point(point: Point) -> [f64; 2] {
    [length(point.x), length(point.y)]
}

pub(super) fn size(size: Vec2) -> SizeWire {
    SizeWire { width: length(size.x), height: length(size.y) }
}

pub(super) fn outline(outline: &Loop) -> Vec<EdgeWire> {
    edges(outline.edges())
}

pub(super) fn edges(edges: &[Edge]) -> Vec<EdgeWire> {
    edges.iter().map(edge).collect()
}

/// Coefficients to a thousand-millionth: multiplied by the longest side of a quilt they still meet the tolerance.
pub(super) fn matrix(pose: Pose) -> [f64; 6] {
    pose.coefficients().map(|value| (value * 1e9).round() / 1e9 + 0.0)
}

pub(super) fn edge(edge: &Edge) -> EdgeWire {
    match *edge {
        Edge::Line { from, to } => EdgeWire::Line { from: point(from), to: point(to) },
        Edge::Arc { from, to, centre, turn } => EdgeWire::Arc {
            from: point(from),
            to: point(to),
            centre: point(centre),
            turn: match turn {
                Turn::Left => TurnWire::Left,
                Turn::Right => TurnWire::Right,
            },
        },
    }
}
