//! One straight line or one circular arc.

use crate::{Point, Pose, Rect};

/// Which way an arc goes round its centre, seen along its direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Anticlockwise.
    Left,
    /// Clockwise.
    Right,
}

/// A directed edge: a straight line, or an arc of less than a full circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// A straight line.
    Line { from: Point, to: Point },
    /// An arc about `centre`; `from` and `to` are equally far from it within [`TOLERANCE`](crate::TOLERANCE).
    Arc { from: Point, to: Point, centre: Point, turn: Turn },
}

impl Edge {
    /// Where it starts.
    #[must_use]
    pub fn from(&self) -> Point {
        match *self {
            Self::Line { from, .. } | Self::Arc { from, .. } => from,
        }
    }

    /// Where it ends.
    #[must_use]
    pub fn to(&self) -> Point {
        match *self {
            Self::Line { to, .. } | Self::Arc { to, .. } => to,
        }
    }

    /// The same edge the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        todo!()
    }

    /// Its length: the arc's own, not its chord's.
    #[must_use]
    pub fn length(&self) -> f64 {
        todo!()
    }

    /// The point a share `t` (0 to 1) of its length along it.
    #[must_use]
    pub fn at(&self, t: f64) -> Point {
        let _ = t;
        todo!()
    }

    /// The smallest upright rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        todo!()
    }

    /// The edge moved by `pose`; a mirror turns a left arc into a right one.
    #[must_use]
    pub fn moved(&self, pose: Pose) -> Self {
        let _ = pose;
        todo!()
    }

    /// Radius of an arc, nothing for a line.
    #[must_use]
    pub fn radius(&self) -> Option<f64> {
        todo!()
    }

    /// Angle swept, in radians, positive, nothing for a line.
    #[must_use]
    pub fn sweep(&self) -> Option<f64> {
        todo!()
    }
}
