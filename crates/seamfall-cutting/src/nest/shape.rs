//! Templates as polygons, turned every way that is allowed.
//!
//! In: an outline of lines and arcs, and the turns its grain allows. Out: one [`Shape`] for each turn that looks different. An
//! arc becomes short straight lines on its outer side, never more than [`FLATNESS`] or [`FLATNESS_OF_HOLLOWS`] from it: what keeps
//! clear of the polygon keeps clear of the arc. A bulge is told by its tangents, a hollow by its chords.

use std::f64::consts::{FRAC_PI_4, PI};

use seamfall_geom::{Edge, Loop, Point, Pose, Turn, Vec2};

use super::convex::{area, bend, hull, parts};
use super::{NestError, Template, Turns};

/// How far a polygon may lie outside of a bulging arc, in the caller's unit. Found by trying: a quarter of this changes no length by
/// more than 1 in 2000 and takes twice as long.
pub const FLATNESS: f64 = 0.002;
/// The same for a hollow arc, of which every corner costs a convex part.
pub const FLATNESS_OF_HOLLOWS: f64 = 0.008;
/// Corners nearer to each other than this are one; a quarter turn is the same shape when its corners are this near.
const SAME: f64 = 1e-3;
/// Corners of a polygon at most, arcs flattened.
const MOST_CORNERS: usize = 1000;
/// So many templates side by side at most.
const SMALLEST: f64 = 2000.0;
/// A template is so many times longer than the cloth is wide at most.
const LARGEST: f64 = 1000.0;
/// Sides that are laid along the cloth where any turn is allowed.
const MOST_SIDES: usize = 4;
/// Turns tried for one template at most.
const MOST_TURNS: usize = 24;

/// A template turned one way, the lower left corner of its box at the origin.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    /// Its template's place in the list.
    pub template: usize,
    /// Turned by so many degrees, anticlockwise.
    pub turn: f64,
    /// What brings the turned outline to where this shape is.
    pub shift: Vec2,
    /// Convex polygons that cover it.
    pub parts: Vec<Vec<Point>>,
    /// Width of its box.
    pub width: f64,
    /// Height of its box.
    pub height: f64,
    /// Area of the outline itself.
    pub area: f64,
    points: Vec<Point>,
}

impl Shape {
    fn new(template: usize, turn: f64, points: &[Point], area: f64) -> Self {
        let pose = Pose::turn_deg(turn);
        let turned: Vec<Point> = points.iter().map(|&p| pose.apply(p)).collect();
        let least = |of: fn(Point) -> f64| turned.iter().map(|&p| of(p)).fold(f64::INFINITY, f64::min);
        let most = |of: fn(Point) -> f64| turned.iter().map(|&p| of(p)).fold(f64::NEG_INFINITY, f64::max);
        let corner = Vec2::new(least(|p| p.x), least(|p| p.y));
        let (width, height) = (most(|p| p.x) - corner.x, most(|p| p.y) - corner.y);
        let points: Vec<Point> = turned.iter().map(|&p| p - corner).collect();
        Self { template, turn, shift: -corner, parts: Vec::new(), width, height, area, points }
    }

    /// Whether it cannot be told from `other` by the eye.
    fn looks_like(&self, other: &Self) -> bool {
        let near = |p: &Point, q: &Point| (p.x - q.x).abs() <= SAME && (p.y - q.y).abs() <= SAME;
        let all_in = |a: &Self, b: &Self| a.points.iter().all(|p| b.points.iter().any(|q| near(p, q)));
        self.points.len() == other.points.len() && all_in(self, other) && all_in(other, self)
    }
}

/// The shapes of one template that fit on cloth so wide, the first turn first.
pub(super) fn shapes(number: usize, template: &Template, width: f64) -> Result<Vec<Shape>, NestError> {
    let name = || template.name.clone();
    let points = polygon(&template.outline).ok_or_else(|| NestError::NoShape { name: name() })?;
    if points.len() > MOST_CORNERS {
        return Err(NestError::TooFine { name: name(), corners: points.len(), most: MOST_CORNERS });
    }
    let bounds = template.outline.bounds();
    let size = bounds.width().max(bounds.height());
    if !(width / SMALLEST..=width * LARGEST).contains(&size) {
        return Err(NestError::Size { name: name(), size, width });
    }
    if template.outline.edges().iter().all(|edge| matches!(edge, Edge::Line { .. })) && crosses_itself(&points) {
        return Err(NestError::Crosses { name: name() });
    }
    let points = if crosses_itself(&points) { hull(&points) } else { points };
    let area = template.outline.area().abs();
    let mut all: Vec<Shape> = Vec::new();
    let mut narrowest = f64::INFINITY;
    for turn in turns(template, &points) {
        let shape = Shape::new(number, turn, &points, area);
        narrowest = narrowest.min(shape.width);
        if shape.width <= width + super::HAIR && !all.iter().any(|other| other.looks_like(&shape)) {
            all.push(shape);
        }
    }
    if all.is_empty() {
        return Err(NestError::TooWide { name: name(), needs: narrowest, width });
    }
    for shape in &mut all {
        shape.parts = parts(&shape.points);
    }
    Ok(all)
}

/// Angles to try, in degrees from 0 to 360.
fn turns(template: &Template, points: &[Point]) -> Vec<f64> {
    let mut angles: Vec<f64> = match &template.turns {
        Turns::None => vec![0.0],
        Turns::Half => vec![0.0, 180.0],
        Turns::Quarter => vec![0.0, 90.0, 180.0, 270.0],
        Turns::Listed(angles) => angles.iter().map(|angle| angle.rem_euclid(360.0)).collect(),
        Turns::Free => free(points),
    };
    angles.truncate(MOST_TURNS);
    angles
}

/// Turns that lay a side of the hull along the cloth's width, those with the lowest strip first, each with its half turn; then
/// the quarter turns.
fn free(points: &[Point]) -> Vec<f64> {
    let hull = hull(points);
    let n = hull.len();
    let mut laid: Vec<(f64, f64)> = (0..n)
        .map(|i| {
            let along = hull[(i + 1) % n] - hull[i];
            let reach = hull.iter().map(|&p| along.cross(p - hull[i])).fold(0.0, f64::max);
            (reach / (along.x * along.x + along.y * along.y).sqrt(), -libm::atan2(along.y, along.x) * 180.0 / PI)
        })
        .collect();
    laid.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    laid.truncate(MOST_SIDES);
    let of_sides = laid.iter().flat_map(|&(_, angle)| [angle.rem_euclid(360.0), (angle + 180.0).rem_euclid(360.0)]);
    [0.0, 180.0].into_iter().chain(of_sides).chain([90.0, 270.0]).collect()
}

/// The polygon round an outline, anticlockwise; nothing when it encloses nothing.
fn polygon(outline: &Loop) -> Option<Vec<Point>> {
    let mut points: Vec<Point> = Vec::new();
    if outline.area() >= 0.0 {
        outline.edges().iter().for_each(|edge| flatten(edge, &mut points));
    } else {
        outline.edges().iter().rev().for_each(|edge| flatten(&edge.reversed(), &mut points));
    }
    if points.iter().any(|p| !p.x.is_finite() || !p.y.is_finite()) {
        return None;
    }
    let apart = |p: Point, q: Point| (p.x - q.x).abs() > 1e-7 || (p.y - q.y).abs() > 1e-7;
    points.dedup_by(|p, q| !apart(*p, *q));
    while points.len() > 1 && !apart(points[0], points[points.len() - 1]) {
        points.pop();
    }
    let n = points.len();
    let bent = |i: usize| {
        let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        bend(a, b, c).abs() > 1e-9 || (b - a).dot(c - b) < 0.0
    };
    let points: Vec<Point> = (0..n).filter(|&i| bent(i)).map(|i| points[i]).collect();
    (points.len() >= 3 && area(&points) > 1e-9).then_some(points)
}

/// Adds the points of an edge of an anticlockwise loop but for its end.
fn flatten(edge: &Edge, points: &mut Vec<Point>) {
    points.push(edge.from());
    let Edge::Arc { from, centre, turn, .. } = *edge else { return };
    let (Some(radius), Some(sweep)) = (edge.radius(), edge.sweep()) else { return };
    // A tangent leaves its arc by r (1 / cos(step / 2) - 1), a chord by less.
    let flatness = if turn == Turn::Left { FLATNESS } else { FLATNESS_OF_HOLLOWS };
    let step = (2.0 * libm::acos(radius / (radius + flatness))).min(FRAC_PI_4);
    let pieces = (sweep / step).ceil().max(1.0);
    if !pieces.is_finite() {
        return;
    }
    let (way, step) = (if turn == Turn::Left { 1.0 } else { -1.0 }, sweep / pieces);
    let at = |angle: f64, share: f64| {
        let (sin, cos) = libm::sincos(way * angle);
        let v = (from - centre) * share;
        centre + Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y)
    };
    let pieces = pieces as usize;
    match turn {
        Turn::Left => points.extend((0..pieces).map(|i| at((i as f64 + 0.5) * step, 1.0 / libm::cos(step / 2.0)))),
        Turn::Right => points.extend((1..pieces).map(|i| at(i as f64 * step, 1.0))),
    }
}

/// Whether two sides that are not neighbours meet, or neighbours fold back.
fn crosses_itself(points: &[Point]) -> bool {
    let n = points.len();
    let side = |i: usize| (points[i], points[(i + 1) % n]);
    (0..n).any(|i| {
        (i + 1..n).any(|j| {
            let ((a, b), (c, d)) = (side(i), side(j));
            if (i + 1) % n == j || (j + 1) % n == i {
                let (p, q, r) = if (i + 1) % n == j { (a, b, d) } else { (c, d, b) };
                return bend(p, q, r) == 0.0 && (q - p).dot(r - q) < 0.0;
            }
            let apart = |s: f64, t: f64| (s > 0.0 && t > 0.0) || (s < 0.0 && t < 0.0);
            let boxes = a.x.max(b.x) >= c.x.min(d.x)
                && c.x.max(d.x) >= a.x.min(b.x)
                && a.y.max(b.y) >= c.y.min(d.y)
                && c.y.max(d.y) >= a.y.min(b.y);
            boxes && !apart(bend(a, b, c), bend(a, b, d)) && !apart(bend(c, d, a), bend(c, d, b))
        })
    })
}
