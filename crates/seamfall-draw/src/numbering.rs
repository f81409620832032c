//! Where numbers stand, so that they can be read.
//!
//! In: what is drawn already, and for every number a few spots to choose from, the best first. Out: for each the spot that covers
//! least, and no other number if that can be had. A number is never left out. Numbers are placed one after another; no later one moves
//! an earlier one.

use seamfall_geom::{Point, Rect};
use std::collections::BTreeMap;

/// What an overlap of two numbers weighs, against a point of a line: numbers that cover one another cannot be read at all.
const OVERLAP: f64 = 1000.0;

/// What lies on a drawing already, in squares as wide as a number is high.
pub(crate) struct Crowd {
    square: f64,
    points: BTreeMap<(i64, i64), Vec<(Point, f64)>>,
    numbers: BTreeMap<(i64, i64), Vec<Rect>>,
}

/// A spot for a number.
pub(crate) struct Spot {
    /// Its box.
    pub room: Rect,
    /// How much worse it is than the best spot, in points of a line.
    pub worse: f64,
}

impl Crowd {
    /// A drawing on which there is nothing, for numbers so high.
    pub fn new(high: f64) -> Self {
        Self { square: high, points: BTreeMap::new(), numbers: BTreeMap::new() }
    }

    fn square_of(&self, at: Point) -> (i64, i64) {
        ((at.x / self.square).floor() as i64, (at.y / self.square).floor() as i64)
    }

    fn squares(&self, room: Rect) -> impl Iterator<Item = (i64, i64)> + use<> {
        let (low, high) = (self.square_of(Point::new(room.x0, room.y0)), self.square_of(Point::new(room.x1, room.y1)));
        (low.0..=high.0).flat_map(move |x| (low.1..=high.1).map(move |y| (x, y)))
    }

    /// Marks a point that is better not covered.
    pub fn mark(&mut self, at: Point, weight: f64) {
        self.points.entry(self.square_of(at)).or_default().push((at, weight));
    }

    /// What a number covers that stands in `room`.
    fn covered(&self, room: Rect) -> f64 {
        let mut sum = 0.0;
        for square in self.squares(room) {
            let points = self.points.get(&square).into_iter().flatten();
            sum += points.filter(|(at, _)| room.contains(*at)).map(|(_, weight)| weight).sum::<f64>();
            let numbers = self.numbers.get(&square).into_iter().flatten().map(|other| room.intersect(*other));
            sum += numbers.map(|both| both.width().max(0.0) * both.height().max(0.0)).sum::<f64>() / self.square * OVERLAP;
        }
        sum
    }

    /// Takes up the best of `spots` and says which it is; nothing only where there are none.
    pub fn settle(&mut self, spots: &[Spot]) -> Option<usize> {
        let mut best: Option<(usize, f64)> = None;
        for (number, spot) in spots.iter().enumerate() {
            if best.is_some_and(|(_, cost)| cost <= spot.worse) {
                continue;
            }
            let cost = spot.worse + self.covered(spot.room);
            if best.is_none_or(|(_, least)| cost < least) {
                best = Some((number, cost));
            }
        }
        let (number, _) = best?;
        let room = spots[number].room;
        for square in self.squares(room) {
            self.numbers.entry(square).or_default().push(room);
        }
        Some(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(x: f64, worse: f64) -> Spot {
        Spot { room: Rect::new(x, 0.0, x + 1.0, 1.0), worse }
    }

    /// Boxes of one by one: the first takes the best spot, the second the next that is free, the third has none and takes the best.
    #[test]
    fn numbers_stand_apart_as_long_as_there_is_room() {
        let mut crowd = Crowd::new(1.0);
        let spots = || [spot(0.0, 0.0), spot(0.5, 1.0), spot(1.5, 2.0)];
        assert_eq!(crowd.settle(&spots()), Some(0));
        assert_eq!(crowd.settle(&spots()), Some(2));
        assert!(crowd.settle(&spots()).is_some());
        assert_eq!(crowd.settle(&[]), None);
    }

    #[test]
    fn a_number_keeps_off_lines_where_that_costs_little() {
        let mut crowd = Crowd::new(1.0);
        (0..5).for_each(|k| crowd.mark(Point::new(0.5, 0.2 * f64::from(k)), 1.0));
        assert_eq!(crowd.settle(&[spot(0.0, 0.0), spot(1.0, 3.0)]), Some(1));
    }
}
