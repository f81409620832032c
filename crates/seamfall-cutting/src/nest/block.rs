//! So many pieces out of a pattern, in the least length of cloth.
//!
//! In: a [`Lattice`], a width and a count. Out: the [`Block`]: the pattern is shifted across the cloth so that some row begins at
//! one edge or ends at the other, pieces that reach over an edge are left out, and along the cloth the shortest run that has enough
//! is taken.

use seamfall_geom::Vec2;

use super::HAIR;
use super::lattice::Lattice;
use super::meeting::Meetings;

/// Shifts across the cloth that are tried.
const SHIFTS: usize = 12;

/// Pieces whose heights differ by less lie in one row.
const LEVEL: f64 = 1e-6;

/// Places of a pattern that are looked at, at most. Pieces like needles lie so close that a few rows hold a thousand times as many as are wanted: a pattern of
/// them is not taken, and they are laid one by one.
const MOST_PLACES: f64 = 100_000.0;

/// A piece on the cloth: its shape, and the lower left corner of its box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Laid {
    pub shape: usize,
    pub at: Vec2,
}

/// Pieces from `y = 0` on.
#[derive(Debug, Clone)]
pub(super) struct Block {
    pub length: f64,
    pub laid: Vec<Laid>,
}

/// The shortest run of `count` pieces of a pattern on cloth so wide.
pub(super) fn block(meetings: &Meetings, lattice: &Lattice, width: f64, count: usize) -> Option<Block> {
    if meetings.shapes[lattice.members[0].0].width > width + HAIR {
        return None;
    }
    let mut best: Option<Block> = None;
    for shift in shifts(meetings, lattice, width) {
        let Some(all) = positions(meetings, lattice, width, shift, count) else { continue };
        if let Some(found) = shortest_run(meetings, &all, count)
            && best.as_ref().is_none_or(|best| found.length < best.length - HAIR)
        {
            best = Some(found);
        }
    }
    best
}

/// The run of `count` pieces, told from its lower end; `all` is ordered by height.
fn shortest_run(meetings: &Meetings, all: &[Laid], count: usize) -> Option<Block> {
    let top = |laid: &Laid| laid.at.y + meetings.shapes[laid.shape].height;
    let mut best: Option<(usize, f64)> = None;
    for start in 0..=all.len().checked_sub(count)? {
        // Both shapes of a pattern are equally high, so that the last to begin is the last to end.
        let length = top(&all[start + count - 1]) - all[start].at.y;
        if best.is_none_or(|(_, least)| length < least - HAIR) {
            best = Some((start, length));
        }
    }
    let (start, _) = best?;
    let run = &all[start..start + count];
    let low = run.iter().map(|laid| laid.at.y).fold(f64::INFINITY, f64::min);
    let high = run.iter().map(top).fold(low, f64::max);
    let laid = run.iter().map(|laid| Laid { at: laid.at - Vec2::new(0.0, low), ..*laid }).collect();
    Some(Block { length: high - low, laid })
}

/// Shifts of the pattern at which a row begins at the left edge or ends at the right one.
fn shifts(meetings: &Meetings, lattice: &Lattice, width: f64) -> Vec<f64> {
    let mut shifts: Vec<f64> = Vec::new();
    let level = lattice.along.y.abs() <= HAIR;
    // Columns repeat across the cloth from one to the next, rows along themselves.
    let period = if level { lattice.along.x.abs() } else { lattice.up.x.abs() };
    for row in 0..if level { 6 } else { 1 } {
        for &(shape, at) in &lattice.members {
            let x = at.x + f64::from(row) * lattice.up.x;
            let room = width - meetings.shapes[shape].width;
            for shift in [-x, room - x] {
                let shift = if period > HAIR { shift.rem_euclid(period) } else { shift };
                let near = |other: &f64| (other - shift).abs() <= HAIR;
                if shifts.len() < SHIFTS && !shifts.iter().any(near) {
                    shifts.push(shift);
                }
            }
        }
    }
    shifts
}

/// The pieces of the pattern between the edges over a length that has `count` and a few rows more, from below and from the left.
fn positions(meetings: &Meetings, lattice: &Lattice, width: f64, shift: f64, count: usize) -> Option<Vec<Laid>> {
    let shape = &meetings.shapes[lattice.members[0].0];
    let rows = lattice.up.y.abs().max(lattice.along.y.abs()) + shape.height;
    let room = width - shape.width;
    let mut length = count as f64 * lattice.cloth_each() / room.max(lattice.cell() / rows).max(HAIR) + 2.0 * rows;
    for _ in 0..4 {
        let places = (room + shape.width) * length / lattice.cloth_each().max(HAIR * HAIR);
        if places > MOST_PLACES.min(10_000.0 + 20.0 * count as f64) {
            return None;
        }
        let mut all = Vec::new();
        each_position(lattice, room, shift, length, |laid| all.push(laid));
        if all.len() >= count {
            // Rows told apart by rounding alone are one.
            let level = |laid: &Laid| (laid.at.y / LEVEL).round();
            all.sort_by(|a, b| level(a).total_cmp(&level(b)).then(a.at.x.total_cmp(&b.at.x)));
            return Some(all);
        }
        length *= 2.0;
    }
    None
}

/// Tells every corner of a piece with `0 <= x <= room` and `0 <= y <= length`.
fn each_position(lattice: &Lattice, room: f64, shift: f64, length: f64, mut tell: impl FnMut(Laid)) {
    let (u, v) = (lattice.along, lattice.up);
    let area = u.cross(v);
    for &(shape, at) in &lattice.members {
        let at = at + Vec2::new(shift, 0.0);
        // Times along and up that reach each corner of the room.
        let corners = [(0.0, 0.0), (room, 0.0), (0.0, length), (room, length)];
        let of = |(x, y): (f64, f64)| {
            let by = Vec2::new(x, y) - at;
            (by.cross(v) / area, u.cross(by) / area)
        };
        let (least, most) = corners.iter().map(|&c| of(c).1).fold((f64::MAX, f64::MIN), |(l, m), t| (l.min(t), m.max(t)));
        for j in (least - 1e-6).ceil() as i64..=(most + 1e-6).floor() as i64 {
            let start = at + v * j as f64;
            let (mut from, mut to) = (f64::MIN, f64::MAX);
            for (first, step, end) in [(start.x, u.x, room), (start.y, u.y, length)] {
                if step.abs() > HAIR {
                    let (a, b) = ((-HAIR - first) / step, (end + HAIR - first) / step);
                    from = from.max(a.min(b));
                    to = to.min(a.max(b));
                } else if first < -HAIR || first > end + HAIR {
                    to = f64::MIN;
                }
            }
            if from <= to {
                for i in from.ceil() as i64..=to.floor() as i64 {
                    tell(Laid { shape, at: start + u * i as f64 });
                }
            }
        }
    }
}

/// The pieces of so many rows of a pattern whose rows run across the cloth, as many as fit.
pub(super) fn rows_of(meetings: &Meetings, lattice: &Lattice, width: f64, rows: usize) -> Vec<Laid> {
    let per_row = lattice.members.len() / 2;
    let shape = &meetings.shapes[lattice.members[0].0];
    let room = width - shape.width;
    let of = |shift: f64| {
        let mut laid = Vec::new();
        for row in 0..rows {
            for &(shape, at) in &lattice.members[row % 2 * per_row..][..per_row] {
                let at = at + lattice.up * (row / 2) as f64 + Vec2::new(shift, 0.0);
                let first = ((-HAIR - at.x) / lattice.along.x).ceil() as i64;
                let last = ((room + HAIR - at.x) / lattice.along.x).floor() as i64;
                laid.extend((first..=last).map(|i| Laid { shape, at: at + lattice.along * i as f64 }));
            }
        }
        laid
    };
    let mut best = Vec::new();
    for shift in shifts(meetings, lattice, width) {
        let laid = of(shift);
        if laid.len() > best.len() {
            best = laid;
        }
    }
    best
}
