//! Patterns that repeat: rows of one template, interlocking, without end.
//!
//! In: a shape and, where its grain allows, the shape turned half round; a direction for the rows. Out: [`Lattice`]s. A row is the
//! shape again and again at the closest pitch, or both turns by turns. The next row sinks into it as deep as the no-fit polygon
//! allows: the depth is computed for every offset along the row, and the offsets of the deepest places are found to the last digit.
//! Two rows make up the cell, so that there are rows all the same way up, rows turned by turns, and rows that go to and fro.
//!
//! That no two pieces overlap does not rest on the search for the deepest place: wherever the offset lies, the depth belongs to it.

use seamfall_geom::{Point, Vec2};

use super::HAIR;
use super::meeting::{Meetings, Slices};

/// Offsets along a row at which the depth is looked at first.
const OFFSETS: usize = 40;
/// Deep places kept for each pair of rows.
const PLACES: usize = 2;
/// Rises of the next row at which a wider pitch is looked at.
const RISES: usize = 96;
/// Wider pitches kept.
const ROOMIER: usize = 3;
/// Ends of parts that are looked at.
const MOST_ENDS: usize = 40;
/// Pieces of a row that lie beside one of the next, at most: of needles in a row there would be thousands, for a pattern that no cloth of theirs is worth.
const MOST_BESIDE: f64 = 64.0;
/// Steps of the search for a deepest place; each leaves two thirds.
const NARROWINGS: usize = 44;

/// A pattern that repeats along `along` and `up`.
#[derive(Debug, Clone)]
pub(super) struct Lattice {
    /// The pieces of a cell: a shape and the lower left corner of its box.
    pub members: Vec<(usize, Vec2)>,
    /// From a piece to the next like it in the row.
    pub along: Vec2,
    /// From a row to the next like it.
    pub up: Vec2,
}

impl Lattice {
    /// Cloth that a cell takes.
    pub fn cell(&self) -> f64 {
        self.along.cross(self.up).abs()
    }

    /// Cloth that one piece takes.
    pub fn cloth_each(&self) -> f64 {
        self.cell() / self.members.len() as f64
    }
}

/// A row in the frame of its direction: which of the two shapes lies where, before it repeats.
#[derive(Debug, Clone)]
struct Row {
    pitch: f64,
    members: Vec<(usize, Vec2)>,
}

/// Two shapes (the second may be the first again) seen along a direction.
struct Frame {
    shapes: [usize; 2],
    /// Level up from the row: where along it. First index the shape that lies, second the one that comes.
    across: [[Slices; 2]; 2],
    /// Level along the row: where up from it.
    upward: [[Slices; 2]; 2],
    direction: Vec2,
}

impl Frame {
    fn new(meetings: &Meetings, shapes: [usize; 2], direction: Vec2) -> Self {
        let normal = Vec2::new(-direction.y, direction.x);
        let turned = |i: usize, j: usize| -> Vec<Vec<Point>> {
            let polygons = &meetings.of(shapes[i], shapes[j]).polygons;
            let swapped = |p: &Point| Point::new(normal.dot(p.to_vec2()), direction.dot(p.to_vec2()));
            polygons.iter().map(|ring| ring.iter().rev().map(swapped).collect()).collect()
        };
        let across = |i: usize, j: usize| Slices::new(&meetings.of(shapes[i], shapes[j]).polygons, normal);
        let upward = |i: usize, j: usize| Slices::new(&turned(i, j), Vec2::new(0.0, 1.0));
        let both = |of: &dyn Fn(usize, usize) -> Slices| [[of(0, 0), of(0, 1)], [of(1, 0), of(1, 1)]];
        Self { shapes, across: both(&across), upward: both(&upward), direction }
    }

    /// The least pitch of shape `i` in a row of its own: every multiple of it is free.
    fn pitch(&self, i: usize) -> f64 {
        let taken: Vec<(f64, f64)> = self.across[i][i].at(0.0).collect();
        let reach = taken.iter().map(|&(_, far)| far).fold(0.0, f64::max);
        let free = |pitch: f64| {
            let steps = (reach / pitch).floor() as usize;
            steps < 8
                && (1..=steps).all(|k| taken.iter().all(|&(l, h)| k as f64 * pitch <= l + HAIR || k as f64 * pitch >= h - HAIR))
        };
        taken.iter().map(|&(_, far)| far).filter(|&far| far > HAIR && free(far)).fold(reach, f64::min)
    }

    /// Wider pitches at which the next row sinks so deep that the cell gets smaller, for a piece of that area. A row `rise` above
    /// sits between two pieces that are as far apart as the no-fit polygon is wide there; of rise times width the least values that
    /// hold a piece are taken.
    fn roomier(&self, closest: f64, area: f64) -> Vec<f64> {
        let mut pitches: Vec<f64> = Vec::new();
        let pairs: &[(usize, usize)] = if self.shapes[0] == self.shapes[1] { &[(0, 0)] } else { &[(0, 0), (0, 1), (1, 0)] };
        for &(i, j) in pairs {
            let slices = &self.across[i][j];
            let top = slices.reach.1;
            let pitch = |rise: f64| {
                let (near, far) = slices.at(rise).fold((f64::MAX, f64::MIN), |(l, h), (near, far)| (l.min(near), h.max(far)));
                (far - near).max(closest)
            };
            let cell = |rise: f64| rise * pitch(rise);
            let step = top / RISES as f64;
            let low = |rise: f64| cell(rise) <= cell(rise - step) && cell(rise) <= cell(rise + step);
            let mut rises: Vec<f64> = (2..RISES).map(|k| k as f64 * step).filter(|&rise| low(rise)).collect();
            rises.iter_mut().for_each(|rise| *rise = narrowed(*rise - step, *rise + step, cell).0);
            if i == j {
                // Half way up the row after the next stands on this one; where a part ends there is suddenly more room.
                rises.push(top / 2.0);
                rises.extend(slices.ends());
                rises.retain(|&rise| cell(rise) >= area - HAIR);
            }
            rises.retain(|&rise| pitch(rise) > closest + HAIR && pitch(rise) < 4.0 * closest);
            rises.sort_by(|&a, &b| cell(a).total_cmp(&cell(b)));
            rises.dedup_by(|b, a| (pitch(*a) - pitch(*b)).abs() <= HAIR);
            rises.truncate(if i == j { ROOMIER } else { 1 });
            pitches.extend(rises.into_iter().map(pitch));
        }
        pitches
    }

    /// Both shapes by turns, the second `rise` above the first.
    fn mixed(&self, rise: f64) -> Option<Row> {
        let to_second = self.across[0][1].far(rise);
        let to_first = self.across[1][0].far(-rise);
        if !to_second.is_finite() || !to_first.is_finite() {
            return None;
        }
        let pitch = (to_second + to_first).max(self.pitch(0));
        Some(Row { pitch, members: vec![(0, Vec2::ZERO), (1, Vec2::new(to_second, rise))] })
    }

    /// How far above `lower` the row `upper` must lie when it is moved by `offset` along it. Not below its own line.
    fn clearance(&self, lower: &Row, upper: &Row, offset: f64) -> f64 {
        let pitch = lower.pitch;
        let mut needed: f64 = 0.0;
        for &(i, at) in &lower.members {
            for &(j, to) in &upper.members {
                let slices = &self.upward[i][j];
                let shift = offset + to.x - at.x;
                let first = ((slices.reach.0 - shift) / pitch).floor() as i64;
                let last = ((slices.reach.1 - shift) / pitch).ceil() as i64;
                for k in first..=last {
                    needed = needed.max(slices.far(shift + k as f64 * pitch) + at.y - to.y);
                }
            }
        }
        needed
    }

    /// Offsets at which `upper` sinks deepest into `lower`, the deepest first, with their heights.
    fn deepest(&self, lower: &Row, upper: &Row) -> Vec<(f64, f64)> {
        let step = lower.pitch / OFFSETS as f64;
        let height = |offset: f64| self.clearance(lower, upper, offset);
        let heights: Vec<f64> = (0..OFFSETS).map(|k| height(k as f64 * step)).collect();
        let mut places: Vec<(f64, f64)> = Vec::new();
        for k in 0..OFFSETS {
            let (before, after) = (heights[(k + OFFSETS - 1) % OFFSETS], heights[(k + 1) % OFFSETS]);
            if heights[k] > before || heights[k] > after || (k > 0 && heights[k] == before) {
                continue;
            }
            let best = narrowed((k as f64 - 1.0) * step, (k as f64 + 1.0) * step, height);
            let best = if best.1 < heights[k] - 1e-12 { best } else { (k as f64 * step, heights[k]) };
            places.push(if best.1 <= HAIR { (best.0, 0.0) } else { best });
        }
        // A piece may just fit between two others, at one offset and no other: where a part begins or ends.
        let ends = self.upward.iter().flatten().flat_map(|slices| slices.ends());
        let ends: Vec<f64> = ends.map(|end| end.rem_euclid(lower.pitch)).take(MOST_ENDS).collect();
        places.extend(ends.into_iter().map(|end| (end, height(end))));
        places.sort_by(|a, b| if (a.1 - b.1).abs() <= HAIR { a.0.total_cmp(&b.0) } else { a.1.total_cmp(&b.1) });
        places.dedup_by(|b, a| (a.0 - b.0).abs() <= HAIR);
        places.truncate(PLACES);
        places
    }

    /// The pattern of `lower`, `upper` moved by `first`, and `lower` again moved by `second` from there; opened up where a row
    /// would meet another than its neighbour.
    fn stacked(&self, lower: &Row, upper: &Row, first: (f64, f64), second: (f64, f64)) -> Lattice {
        let rows = [lower, upper];
        let first = Vec2::new(first.0, first.1);
        let mut up = first + Vec2::new(second.0, second.1);
        let reach = rows.iter().flat_map(|row| &row.members).map(|&(_, at)| at.y).fold(0.0, f64::max)
            + self.upward.iter().flatten().map(|s| s.reach.1.abs().max(s.reach.0.abs())).fold(0.0, f64::max)
            + self.across.iter().flatten().map(|s| s.reach.1.abs().max(s.reach.0.abs())).fold(0.0, f64::max);
        up.y = up.y.max(reach / 64.0);
        let layers = 2 * (reach / up.y).ceil().min(64.0) as usize;
        for from in 0..2 {
            for to in from + 2..from + 2 + layers {
                let times = (to / 2) as f64;
                let line = |n: usize| if n.is_multiple_of(2) { Vec2::ZERO } else { first };
                let by = line(to) - line(from);
                let needed = self.clearance(rows[from % 2], rows[to % 2], by.x + times * up.x);
                up.y = up.y.max((needed - by.y) / times);
            }
        }
        let back = |v: Vec2| self.direction * v.x + Vec2::new(-self.direction.y, self.direction.x) * v.y;
        let of = |row: &Row, by: Vec2| -> Vec<(usize, Vec2)> {
            row.members.iter().map(|&(i, at)| (self.shapes[i], back(at + by))).collect()
        };
        let mut members = of(lower, Vec2::ZERO);
        members.extend(of(upper, first));
        Lattice { members, along: back(Vec2::new(lower.pitch, 0.0)), up: back(up) }
    }
}

/// The least value between two places with one low between them, by thirds.
fn narrowed(mut from: f64, mut to: f64, of: impl Fn(f64) -> f64) -> (f64, f64) {
    for _ in 0..NARROWINGS {
        let (a, b) = (from + (to - from) / 3.0, to - (to - from) / 3.0);
        if of(a) <= of(b) { to = b } else { from = a }
    }
    let (at_from, at_to) = (of(from), of(to));
    if at_from <= at_to { (from, at_from) } else { (to, at_to) }
}

/// Patterns of rows along `direction`, of one shape and perhaps its half turn. `pitches` asks for other pitches besides the
/// closest, given that.
pub(super) fn lattices(
    meetings: &Meetings,
    shape: usize,
    half_turn: Option<usize>,
    direction: Vec2,
    pitches: &dyn Fn(f64) -> Vec<f64>,
) -> Vec<Lattice> {
    let frame = Frame::new(meetings, [shape, half_turn.unwrap_or(shape)], direction);
    let single = |i: usize, pitch: f64| Row { pitch, members: vec![(i, Vec2::ZERO)] };
    let mut pairs: Vec<(Row, Row)> = Vec::new();
    let closest = frame.pitch(0);
    for pitch in std::iter::once(closest).chain(frame.roomier(closest, meetings.shapes[shape].area)).chain(pitches(closest)) {
        pairs.push((single(0, pitch), single(0, pitch)));
        if half_turn.is_some() {
            pairs.push((single(0, pitch), single(1, pitch)));
        }
    }
    if half_turn.is_some() {
        let rises = frame.across[0][1].reach;
        let mut rows: Vec<Row> =
            (1..12).filter_map(|k| frame.mixed(rises.0 + (rises.1 - rises.0) * f64::from(k) / 12.0)).collect();
        rows.sort_by(|a, b| a.pitch.total_cmp(&b.pitch));
        rows.truncate(1);
        for row in frame.mixed(0.0).into_iter().chain(rows) {
            pairs.push((row.clone(), row));
        }
    }
    let reach = frame.upward.iter().flatten().map(|slices| slices.reach.1 - slices.reach.0).fold(0.0, f64::max);
    pairs.retain(|(lower, upper)| lower.pitch.min(upper.pitch) * MOST_BESIDE >= reach);
    let mut found = Vec::new();
    for (lower, upper) in pairs {
        let ups = frame.deepest(&lower, &upper);
        let same = lower.members.iter().map(|m| m.0).eq(upper.members.iter().map(|m| m.0));
        for &first in &ups {
            let backs = if same { ups.clone() } else { frame.deepest(&upper, &lower) };
            let to_and_fro = (-first.0, frame.clearance(&upper, &lower, -first.0));
            for second in backs.into_iter().take(1).chain([to_and_fro]) {
                found.push(frame.stacked(&lower, &upper, first, second));
            }
        }
    }
    found
}
