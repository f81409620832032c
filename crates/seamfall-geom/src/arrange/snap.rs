//! One vertex for points that are one.
//!
//! In: points, the most important first. Out: the number of the vertex each belongs to. A point within [`TOLERANCE`] of an
//! earlier vertex is that vertex (the nearest, if there are several); any other becomes a new one.
//!
//! Points are found again through a table of small squares. Its hash is our own and fixed, and nothing ever walks through the
//! table, so the order of the points alone decides.

use crate::plane::distance;
use crate::{Point, TOLERANCE};

/// A little more than the tolerance, so that what was measured to be just within it elsewhere is within it here, too.
const REACH: f64 = TOLERANCE * 1.001;

/// Side of a square of the table: much larger than the reach, so that a point seldom has to look next door.
const SIDE: f64 = 64.0 * TOLERANCE;

const NONE: u32 = u32::MAX;

/// The vertices so far.
pub(crate) struct Vertices {
    points: Vec<Point>,
    heads: Vec<u32>,
    next: Vec<u32>,
}

impl Vertices {
    /// Room for about `expected` vertices; more are taken, more slowly.
    pub(crate) fn new(expected: usize) -> Self {
        Self { points: Vec::new(), heads: vec![NONE; expected.next_power_of_two().max(64)], next: Vec::new() }
    }

    /// The vertex at `point`, a new one if need be.
    pub(crate) fn at(&mut self, point: Point) -> u32 {
        let (x, y) = (point.x / SIDE, point.y / SIDE);
        let margin = REACH / SIDE;
        let mut best = (REACH, NONE);
        let mut column = (x - margin).floor();
        while column <= x + margin {
            let mut row = (y - margin).floor();
            while row <= y + margin {
                let mut vertex = self.heads[self.bucket(column, row)];
                while vertex != NONE {
                    let gap = distance(self.points[vertex as usize], point);
                    if gap < best.0 || (gap <= best.0 && vertex < best.1) {
                        best = (gap, vertex);
                    }
                    vertex = self.next[vertex as usize];
                }
                row += 1.0;
            }
            column += 1.0;
        }
        if best.1 != NONE {
            return best.1;
        }
        let vertex = self.points.len() as u32;
        let bucket = self.bucket(x.floor(), y.floor());
        self.points.push(point);
        self.next.push(self.heads[bucket]);
        self.heads[bucket] = vertex;
        vertex
    }

    /// Where vertex number `vertex` lies.
    pub(crate) fn point(&self, vertex: u32) -> Point {
        self.points[vertex as usize]
    }

    pub(crate) fn len(&self) -> usize {
        self.points.len()
    }

    fn bucket(&self, column: f64, row: f64) -> usize {
        // Odd constants from the golden ratio and from sqrt(2): they spread a grid evenly (Knuth, "Sorting and Searching", 6.4).
        let mixed =
            (column as i64 as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ (row as i64 as u64).wrapping_mul(0x6A09_E667_F3BC_C909);
        ((mixed ^ (mixed >> 29)).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 32) as usize & (self.heads.len() - 1)
    }
}
