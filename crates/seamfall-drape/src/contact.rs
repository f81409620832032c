//! What the cloth rests on: rounded boxes and the floor.
//!
//! In: where a point is. Out: how far it must go, and which way, to be outside. A box is all that lies within `radius` of an inner box,
//! which may be as thin as a line: a mattress with rounded edges, a square post, a round one with a rounded top.

use crate::scene::{Bed, Post};
use crate::vector::{Vector, dot, times};

/// All that lies within `radius` of the box from `low` to `high`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rounded {
    low: Vector,
    high: Vector,
    radius: f64,
}

impl Rounded {
    /// The mattress, larger all round by half the cloth's thickness: points lie in the middle of the cloth.
    pub(crate) fn bed(bed: &Bed, thickness: f64) -> Self {
        let (x, y) = (bed.width / 2.0 - bed.edge, bed.length / 2.0 - bed.edge);
        Self { low: [-x, -y, -bed.height], high: [x, y, bed.height - bed.edge], radius: bed.edge + thickness / 2.0 }
    }

    /// A post. A square one has its edges broken by a tenth.
    pub(crate) fn post(post: &Post, thickness: f64) -> Self {
        let half = post.thickness / 2.0;
        let round = if post.round { half } else { half / 5.0 };
        let [x, y] = post.at;
        let (inner, top) = (half - round, (post.height - round).max(0.0));
        Self { low: [x - inner, y - inner, -post.height], high: [x + inner, y + inner, top], radius: round + thickness / 2.0 }
    }

    /// The height at which a cloth laid over it lies, where it lies over it.
    pub(crate) fn top_over(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let over = |value: f64, axis: usize| value > self.low[axis] - self.radius && value < self.high[axis] + self.radius;
        (over(x, 0) && over(y, 1)).then_some(self.high[2] + self.radius)
    }

    /// The way out and how far it is, for a point within.
    pub(crate) fn way_out(&self, at: Vector) -> Option<(Vector, f64)> {
        let away = [0, 1, 2].map(|axis| at[axis] - at[axis].clamp(self.low[axis], self.high[axis]));
        let square = dot(away, away);
        if square >= self.radius * self.radius {
            None
        } else if square > 0.0 {
            let far = square.sqrt();
            Some((times(away, 1.0 / far), self.radius - far))
        } else {
            Some(self.nearest_face(at))
        }
    }

    /// For a point inside the inner box: out through the nearest side or the top, never through the floor.
    fn nearest_face(&self, at: Vector) -> (Vector, f64) {
        let mut best = ([0.0, 0.0, 1.0], self.high[2] - at[2]);
        for (axis, sign) in [(0, -1.0), (0, 1.0), (1, -1.0), (1, 1.0)] {
            let far = if sign < 0.0 { at[axis] - self.low[axis] } else { self.high[axis] - at[axis] };
            if far < best.1 {
                let mut way = [0.0; 3];
                way[axis] = sign;
                best = (way, far);
            }
        }
        (best.0, best.1 + self.radius)
    }
}
