//! One straight line or one circular arc.

use std::f64::consts::TAU;

use crate::plane::{distance, length, unit};
use crate::{Point, Pose, Rect, Vec2};

/// Which way an arc goes round its centre, seen along its direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Anticlockwise.
    Left,
    /// Clockwise.
    Right,
}

impl Turn {
    /// The other way.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// 1 for left, -1 for right.
    pub(crate) fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

/// A directed edge: a straight line, or an arc of less than a full circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// A straight line.
    Line {
        /// Start.
        from: Point,
        /// End.
        to: Point,
    },
    /// An arc about `centre`; `from` and `to` are equally far from it within [`TOLERANCE`](crate::TOLERANCE).
    Arc {
        /// Start.
        from: Point,
        /// End.
        to: Point,
        /// Centre of its circle.
        centre: Point,
        /// Which way round.
        turn: Turn,
    },
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
        match *self {
            Self::Line { from, to } => Self::Line { from: to, to: from },
            Self::Arc { from, to, centre, turn } => Self::Arc { from: to, to: from, centre, turn: turn.reversed() },
        }
    }

    /// Its length: the arc's own, not its chord's.
    #[must_use]
    pub fn length(&self) -> f64 {
        match (self.radius(), self.sweep()) {
            (Some(radius), Some(sweep)) => radius * sweep,
            _ => distance(self.from(), self.to()),
        }
    }

    /// The point a share `t` (0 to 1) of its length along it.
    #[must_use]
    pub fn at(&self, t: f64) -> Point {
        if t <= 0.0 {
            return self.from();
        }
        if t >= 1.0 {
            return self.to();
        }
        match *self {
            Self::Line { from, to } => from + (to - from) * t,
            Self::Arc { from, to, centre, turn } => {
                let (sin, cos) = libm::sincos(turn.sign() * sweep(from - centre, to - centre, turn) * t);
                let v = from - centre;
                centre + Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y)
            }
        }
    }

    /// Its part between two of its points.
    #[must_use]
    pub fn part(&self, from: Point, to: Point) -> Self {
        match *self {
            Self::Line { .. } => Self::Line { from, to },
            Self::Arc { centre, turn, .. } => Self::Arc { from, to, centre, turn },
        }
    }

    /// The smallest upright rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let mut rect = Rect::from_points(self.from(), self.to());
        if let (Self::Arc { centre, .. }, Some(radius)) = (*self, self.radius()) {
            for way in [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, -1.0)] {
                if self.spans(way) {
                    rect = rect.union_pt(centre + way * radius);
                }
            }
        }
        rect
    }

    /// The edge moved by `pose`; a mirror turns a left arc into a right one.
    #[must_use]
    pub fn moved(&self, pose: Pose) -> Self {
        match *self {
            Self::Line { from, to } => Self::Line { from: pose.apply(from), to: pose.apply(to) },
            Self::Arc { from, to, centre, turn } => Self::Arc {
                from: pose.apply(from),
                to: pose.apply(to),
                centre: pose.apply(centre),
                turn: if pose.is_mirrored() { turn.reversed() } else { turn },
            },
        }
    }

    /// Radius of an arc, nothing for a line.
    ///
    /// The mean of both ends' distances from the centre, which may differ within the tolerance: so an edge and its reverse have
    /// the same course to the bit, and a point beside them is on one side of both.
    #[must_use]
    pub fn radius(&self) -> Option<f64> {
        match *self {
            Self::Line { .. } => None,
            Self::Arc { from, to, centre, .. } => Some(f64::midpoint(distance(from, centre), distance(to, centre))),
        }
    }

    /// Angle swept, in radians, positive, nothing for a line.
    #[must_use]
    pub fn sweep(&self) -> Option<f64> {
        match *self {
            Self::Line { .. } => None,
            Self::Arc { from, to, centre, turn } => Some(sweep(from - centre, to - centre, turn)),
        }
    }

    /// The point of it that is nearest to `point`.
    #[must_use]
    pub fn nearest(&self, point: Point) -> Point {
        match *self {
            Self::Line { from, to } => {
                let (along, v) = (to - from, point - from);
                let share = along.dot(v) / along.dot(along);
                if share >= 1.0 {
                    to
                } else if share > 0.0 {
                    // Multiplied before it is divided, so that upright and level lines keep the point's own coordinate.
                    let along_v = along.dot(v);
                    let square = along.dot(along);
                    from + Vec2::new(along.x * along_v / square, along.y * along_v / square)
                } else {
                    from
                }
            }
            Self::Arc { from, to, centre, .. } => {
                let v = point - centre;
                if self.spans(v) {
                    centre + unit(v) * self.radius().unwrap_or(0.0)
                } else if distance(point, from) <= distance(point, to) {
                    from
                } else {
                    to
                }
            }
        }
    }

    /// Direction in which it leaves its start, one long.
    #[must_use]
    pub fn direction_from(&self) -> Vec2 {
        self.direction_beside(self.from())
    }

    /// Direction in which it reaches its end, one long.
    #[must_use]
    pub fn direction_to(&self) -> Vec2 {
        self.direction_beside(self.to())
    }

    /// Direction of travel at the point of it beside `point`.
    pub(crate) fn direction_beside(&self, point: Point) -> Vec2 {
        match *self {
            Self::Line { from, to } => unit(to - from),
            Self::Arc { centre, turn, .. } => {
                let v = unit(point - centre);
                Vec2::new(-v.y, v.x) * turn.sign()
            }
        }
    }

    /// Whether an arc passes the direction `way` from its centre, ends excluded. No line does.
    pub(crate) fn spans(&self, way: Vec2) -> bool {
        let Self::Arc { from, to, centre, turn } = *self else { return false };
        let (u, v) = match turn {
            Turn::Left => (from - centre, to - centre),
            Turn::Right => (to - centre, from - centre),
        };
        let across = u.cross(v);
        if across > 0.0 {
            u.cross(way) > 0.0 && way.cross(v) > 0.0
        } else if across < 0.0 {
            !(v.cross(way) >= 0.0 && way.cross(u) >= 0.0)
        } else {
            u.dot(v) < 0.0 && u.cross(way) > 0.0
        }
    }

    /// Area between an arc and its chord, positive when it bulges to the right of the chord's direction. Source: plane
    /// geometry, `r² (θ - sin θ) / 2`.
    pub(crate) fn segment_area(&self) -> f64 {
        let Self::Arc { from, to, centre, turn } = *self else { return 0.0 };
        let (u, v) = (from - centre, to - centre);
        // The mean of the two radii, so that an edge and its reverse have the same area to the bit.
        let square = length(u) * length(v);
        turn.sign() * square * less_sine(sweep(u, v, turn)) / 2.0
    }
}

/// Angle from `u` to `v` the way of `turn`, from 0 to a full circle.
fn sweep(u: Vec2, v: Vec2, turn: Turn) -> f64 {
    let angle = turn.sign() * libm::atan2(u.cross(v), u.dot(v));
    if angle < 0.0 { angle + TAU } else { angle }
}

/// `θ - sin θ`, by its series where the difference would lose its digits.
fn less_sine(angle: f64) -> f64 {
    if angle > 0.3 {
        return angle - libm::sin(angle);
    }
    let s = angle * angle;
    angle * s / 6.0 * (1.0 - s / 20.0 * (1.0 - s / 42.0 * (1.0 - s / 72.0 * (1.0 - s / 110.0))))
}
