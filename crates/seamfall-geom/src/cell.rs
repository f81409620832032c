//! A square of a search for room, the most promising first.
//!
//! In: the room at its middle. Out: how much there can be anywhere in it, its four quarters, and an order for a queue that is the same on
//! every machine.

use crate::Point;
use std::cmp::Ordering;

/// A square, and what the search keeps for it.
pub(crate) struct Cell<T> {
    pub middle: Point,
    pub half: f64,
    /// Room at its middle.
    pub room: f64,
    /// Room anywhere in it, at most.
    pub most: f64,
    pub holds: T,
}

/// How far the corners of a square are from its middle, `half` its side.
pub(crate) fn reach(half: f64) -> f64 {
    half * std::f64::consts::SQRT_2
}

impl<T> Cell<T> {
    pub fn new(middle: Point, half: f64, room: f64, holds: T) -> Self {
        Self { middle, half, room, most: room + reach(half), holds }
    }

    /// Middles of its quarters, whose sides are half as long.
    pub fn quarters(&self) -> [Point; 4] {
        let half = self.half / 2.0;
        [(-half, -half), (half, -half), (-half, half), (half, half)]
            .map(|(dx, dy)| Point::new(self.middle.x + dx, self.middle.y + dy))
    }
}

impl<T> Ord for Cell<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        // Most promising first; then roomiest, lowest, leftmost, so that the order is the same everywhere.
        self.most
            .total_cmp(&other.most)
            .then(self.room.total_cmp(&other.room))
            .then(other.middle.y.total_cmp(&self.middle.y))
            .then(other.middle.x.total_cmp(&self.middle.x))
    }
}

impl<T> PartialOrd for Cell<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> PartialEq for Cell<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for Cell<T> {}
