//! Where one shape may not lie beside another: no-fit polygons, asked level by level.
//!
//! In: shapes as convex parts, and the gap to keep. Out: for each ordered pair the set of shifts at which the second would overlap
//! the first, as a union of convex polygons (sums of a part of one and the negative of a part of the other), cut level by level into
//! intervals. Touching is allowed: the intervals are open, less a [`HAIR`]. Pairs are computed when first asked for.

use std::cell::OnceCell;

use seamfall_geom::{Point, Vec2};

use super::HAIR;
use super::convex::{area, bend, sum};
use super::shape::Shape;

/// Corners of the polygon that stands for a circle of the gap's radius.
const GAP_CORNERS: usize = 16;

/// One convex polygon as its two sides, by level.
#[derive(Debug, Clone)]
struct Part {
    /// Its lower level.
    low: f64,
    /// Its upper level.
    high: f64,
    near: Vec<(f64, f64)>,
    far: Vec<(f64, f64)>,
}

/// A union of convex polygons that can be asked what it covers at a level.
#[derive(Debug, Clone, Default)]
pub(super) struct Slices {
    parts: Vec<Part>,
    /// Lowest and highest level of all.
    pub reach: (f64, f64),
}

impl Slices {
    /// Levels are heights along `up`, intervals run along `up` turned a quarter to the right.
    pub fn new(polygons: &[Vec<Point>], up: Vec2) -> Self {
        let level = |p: Point| (up.dot(p.to_vec2()), Vec2::new(up.y, -up.x).dot(p.to_vec2()));
        let parts: Vec<Part> = polygons.iter().map(|polygon| part(polygon.iter().map(|&p| level(p)).collect())).collect();
        let reach = parts.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), part| (l.min(part.low), h.max(part.high)));
        Self { parts, reach }
    }

    /// Levels at which a part begins or ends.
    pub fn ends(&self) -> Vec<f64> {
        let mut ends: Vec<f64> = self.parts.iter().flat_map(|part| [part.low, part.high]).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|a, b| (*a - *b).abs() <= HAIR);
        ends
    }

    /// What each part covers at `level`.
    pub fn at(&self, level: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        let inside = move |part: &&Part| level > part.low + HAIR && level < part.high - HAIR;
        self.parts.iter().filter(inside).map(move |part| (along(&part.near, level), along(&part.far, level)))
    }

    /// The far end of all that is covered at `level`.
    pub fn far(&self, level: f64) -> f64 {
        self.at(level).map(|(_, far)| far).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// Splits a ring of (level, extent), anticlockwise, into its two sides.
fn part(ring: Vec<(f64, f64)>) -> Part {
    let n = ring.len();
    let low = (0..n).min_by(|&i, &j| ring[i].0.total_cmp(&ring[j].0)).unwrap_or(0);
    let high = (0..n).max_by(|&i, &j| ring[i].0.total_cmp(&ring[j].0)).unwrap_or(0);
    let side = |step: usize| {
        let mut side = vec![ring[low]];
        let mut i = low;
        while i != high {
            i = (i + step) % n;
            side.push(ring[i]);
        }
        side
    };
    Part { low: ring[low].0, high: ring[high].0, far: side(1), near: side(n - 1) }
}

/// The extent of a side at a level between its ends.
fn along(side: &[(f64, f64)], level: f64) -> f64 {
    let above = side.partition_point(|&(l, _)| l < level).clamp(1, side.len() - 1);
    let ((l0, x0), (l1, x1)) = (side[above - 1], side[above]);
    if l1 > l0 { x0 + (x1 - x0) * ((level - l0) / (l1 - l0)) } else { x1 }
}

/// Where a second shape may not lie, measured from the lower left corner of the first's box to that of its own.
#[derive(Debug)]
pub(super) struct Meeting {
    /// The convex polygons.
    pub polygons: Vec<Vec<Point>>,
    /// Level y: where along x.
    pub across: Slices,
    /// Level x: where along y.
    pub along: Slices,
    /// Heights of the corners, when there are few.
    pub heights: Vec<f64>,
}

/// More corners than this come from an arc, where no height is special.
const FEW_HEIGHTS: usize = 24;

impl Meeting {
    fn new(first: &Shape, second: &Shape, gap: &[Point]) -> Self {
        let mut polygons = Vec::new();
        for one in &first.parts {
            for two in &second.parts {
                let negative: Vec<Point> = two.iter().map(|p| Point::new(-p.x, -p.y)).collect();
                let both = sum(one, &negative);
                polygons.push(if gap.is_empty() { both } else { sum(&both, gap) });
            }
        }
        let polygons = uncovered(polygons);
        let across = Slices::new(&polygons, Vec2::new(0.0, 1.0));
        // Up is to the right here, and a quarter to its right is down: levels are x, extents -y. Turned over once.
        let turned: Vec<Vec<Point>> =
            polygons.iter().map(|ring| ring.iter().rev().map(|p| Point::new(p.y, p.x)).collect()).collect();
        let along = Slices::new(&turned, Vec2::new(0.0, 1.0));
        let mut heights: Vec<f64> = polygons.iter().flatten().map(|p| p.y).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() <= HAIR);
        if heights.len() > FEW_HEIGHTS {
            heights.clear();
        }
        Self { polygons, across, along, heights }
    }
}

/// The polygons less those that lie in another.
fn uncovered(mut polygons: Vec<Vec<Point>>) -> Vec<Vec<Point>> {
    if polygons.len() == 1 {
        return polygons;
    }
    polygons.sort_by(|a, b| area(b).total_cmp(&area(a)));
    let mut kept: Vec<Vec<Point>> = Vec::new();
    for polygon in polygons {
        let within = |outer: &Vec<Point>| {
            let n = outer.len();
            let holds = |&p: &Point| (0..n).all(|i| bend(outer[i], outer[(i + 1) % n], p) >= -1e-12);
            polygon.iter().all(holds)
        };
        if !kept.iter().any(within) {
            kept.push(polygon);
        }
    }
    kept
}

/// All shapes of a list, and how any two of them meet.
#[derive(Debug)]
pub(super) struct Meetings {
    /// The shapes.
    pub shapes: Vec<Shape>,
    /// Least distance between two pieces.
    pub gap: f64,
    round: Vec<Point>,
    pairs: Vec<OnceCell<Meeting>>,
}

impl Meetings {
    pub fn new(shapes: Vec<Shape>, gap: f64) -> Self {
        let pairs = (0..shapes.len() * shapes.len()).map(|_| OnceCell::new()).collect();
        // Round the circle, so that the gap is kept in every direction.
        let step = std::f64::consts::TAU / GAP_CORNERS as f64;
        let corner = |i: usize| {
            let (sin, cos) = libm::sincos(step * i as f64);
            (Vec2::new(cos, sin) * (gap / libm::cos(step / 2.0))).to_point()
        };
        let round = if gap > 0.0 { (0..GAP_CORNERS).map(corner).collect() } else { Vec::new() };
        Self { shapes, gap, round, pairs }
    }

    /// How `second` meets `first`.
    pub fn of(&self, first: usize, second: usize) -> &Meeting {
        self.pairs[first * self.shapes.len() + second]
            .get_or_init(|| Meeting::new(&self.shapes[first], &self.shapes[second], &self.round))
    }
}
