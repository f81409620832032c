//! The largest circle among lines that no line enters.
//!
//! In: an outline in which its middle must lie, lines, and a tolerance. Out: a circle, and a bound: no circle has a radius above it, and
//! it is at most the tolerance above the radius found. The box round the outline is searched in quarters, the most promising first. A
//! quarter keeps only those lines that can be nearest to any of its points.

use crate::cell::{Cell, reach};
use crate::plane::distance;
use crate::{Edge, Loop, Point};
use std::collections::BinaryHeap;

/// A circle free of lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Its middle.
    pub centre: Point,
    /// Its radius: the distance from the middle to the nearest line.
    pub radius: f64,
    /// No such circle is larger than this.
    pub bound: f64,
}

/// The largest circle that no line of `lines` enters, its middle within `outline` (or on it). Radii are told apart to `tolerance`, which
/// must be above zero; of equal ones the first found. Nothing where no radius is above `floor`, where there are no lines, or where the
/// outline has no width.
#[must_use]
pub fn largest_gap(outline: &Loop, lines: &[Edge], tolerance: f64, floor: f64) -> Option<Gap> {
    let bounds = outline.bounds();
    let side = bounds.width().min(bounds.height());
    if lines.is_empty() || !(side > 0.0 && side.is_finite() && tolerance > 0.0) {
        return None;
    }
    let (columns, rows) = ((bounds.width() / side).ceil(), (bounds.height() / side).ceil());
    let all: Vec<u32> = (0..lines.len() as u32).collect();
    let mut search = Search { outline, lines, best: None, queue: BinaryHeap::new(), floor };
    let mut y = 0.0;
    while y < rows {
        let mut x = 0.0;
        while x < columns {
            let middle = Point::new(bounds.x0 + side * (x + 0.5), bounds.y0 + side * (y + 0.5));
            search.look(middle, side / 2.0, &all);
            x += 1.0;
        }
        y += 1.0;
    }
    while let Some(cell) = search.queue.pop() {
        let found = search.best.map_or(floor, |(radius, _)| radius);
        if cell.most <= found + tolerance {
            return search.best.map(|(radius, centre)| Gap { centre, radius, bound: cell.most.max(radius) });
        }
        // An outline so thin that no middle of a square lies in it has no room worth a name.
        if cell.half < tolerance / 16.0 {
            continue;
        }
        for middle in cell.quarters() {
            search.look(middle, cell.half / 2.0, &cell.holds);
        }
    }
    search.best.map(|(radius, centre)| Gap { centre, radius, bound: radius + tolerance })
}

struct Search<'a> {
    outline: &'a Loop,
    lines: &'a [Edge],
    best: Option<(f64, Point)>,
    /// Squares with the numbers of the lines that can be nearest somewhere in them.
    queue: BinaryHeap<Cell<Vec<u32>>>,
    floor: f64,
}

impl Search<'_> {
    fn look(&mut self, middle: Point, half: f64, near: &[u32]) {
        let reach = reach(half);
        let far: Vec<f64> = near.iter().map(|&line| self.lines[line as usize].distance_to(middle)).collect();
        let room = far.iter().copied().fold(f64::INFINITY, f64::min);
        let most = room + reach;
        let least = self.best.map_or(self.floor, |(radius, _)| radius);
        if most <= least {
            return;
        }
        let edge = self.outline.edges().iter().map(|edge| distance(edge.nearest(middle), middle)).fold(f64::INFINITY, f64::min);
        let inside = self.outline.encloses(middle);
        if !inside && edge > reach {
            return;
        }
        if inside && room > least {
            self.best = Some((room, middle));
        }
        let near = near.iter().zip(&far).filter(|(_, far)| **far <= room + 2.0 * reach).map(|(line, _)| *line).collect();
        self.queue.push(Cell::new(middle, half, room, near));
    }
}
