//! Where to write on a shape.
//!
//! In: a loop. Out: a point inside it, far from its outline. The box round the loop is searched in quarters, the most
//! promising first, until nothing much better can be left or the steps run out. Not the exact centre of the largest circle:
//! a label needs room, not proof.

use std::collections::BinaryHeap;

use crate::cell::Cell;
use crate::plane::distance;
use crate::{Edge, Loop, Point};

/// Squares looked at, at most. Found by trying: a long thin patch is settled after some sixty.
const STEPS: usize = 160;

/// A part of the best room found that is not worth another look.
const ENOUGH: f64 = 0.05;

/// See [`Loop::label_point`].
pub(crate) fn label_point(outline: &Loop) -> Point {
    let bounds = outline.bounds();
    let (width, height) = (bounds.width(), bounds.height());
    let mut best = (f64::NEG_INFINITY, bounds.center());
    let mut offer = |point: Point| {
        let room = room(outline, point);
        if room > best.0 {
            best = (room, point);
        }
        (room, best.0)
    };
    offer(centre_of_corners(outline));
    offer(bounds.center());
    // A level line through the widest part is inside whatever the shape: the search only betters it.
    for share in [0.5, 0.29, 0.71] {
        if let Some(point) = middle_of_widest(outline, bounds.y0 + height * share) {
            offer(point);
        }
    }
    let side = width.min(height).max(width.max(height) / 8.0);
    if !(side > 0.0 && side.is_finite()) {
        return best.1;
    }
    let mut queue = BinaryHeap::new();
    let (columns, rows) = ((width / side).ceil().max(1.0), (height / side).ceil().max(1.0));
    let mut steps = 0;
    let mut y = 0.0;
    while y < rows {
        let mut x = 0.0;
        while x < columns {
            let middle = Point::new(bounds.x0 + width * (x + 0.5) / columns, bounds.y0 + height * (y + 0.5) / rows);
            let room = offer(middle).0;
            queue.push(Cell::new(middle, side / 2.0, room, ()));
            steps += 1;
            x += 1.0;
        }
        y += 1.0;
    }
    let mut so_far = offer(bounds.center()).1;
    while let Some(cell) = queue.pop() {
        if steps >= STEPS || cell.most <= so_far.max(0.0) * (1.0 + ENOUGH) {
            break;
        }
        for middle in cell.quarters() {
            let room;
            (room, so_far) = offer(middle);
            queue.push(Cell::new(middle, cell.half / 2.0, room, ()));
            steps += 1;
        }
    }
    best.1
}

/// Distance from the outline, below zero outside.
fn room(outline: &Loop, point: Point) -> f64 {
    let near = outline.edges().iter().map(|edge: &Edge| distance(edge.nearest(point), point)).fold(f64::INFINITY, f64::min);
    if outline.encloses(point) { near } else { -near }
}

fn centre_of_corners(outline: &Loop) -> Point {
    let count = outline.edges().len().max(1) as f64;
    let (x, y) = outline.corners().fold((0.0, 0.0), |(x, y), p| (x + p.x, y + p.y));
    Point::new(x / count, y / count)
}

/// The middle of the widest stretch inside at the level `y`.
fn middle_of_widest(outline: &Loop, y: f64) -> Option<Point> {
    let mut crossings = Vec::new();
    outline.each_crossing(y, |x| crossings.push(x));
    crossings.sort_by(f64::total_cmp);
    let widest = crossings.chunks_exact(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))?;
    Some(Point::new(f64::midpoint(widest[0], widest[1]), y))
}
