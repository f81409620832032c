//! Where two edges meet.
//!
//! In: two edges. Out: points in the inside of both at which they cross or touch. Ends are not looked at here, and edges along
//! one another meet nowhere by this account: their ends tell. The formulas multiply before they divide, so that whole
//! coordinates give whole crossings wherever the crossing is whole.

use crate::plane::{length, unit};
use crate::{Edge, Point, TOLERANCE, Turn, Vec2};

/// Lines whose directions differ by less than this, in radians, run along one another. Over a quilt of a thousand units they
/// part by less than rounding.
const PARALLEL: f64 = 1e-12;

/// Points inside both `a` and `b` at which they cross or touch, two at most; on `a` as exactly as can be.
pub(crate) fn meetings(a: &Edge, b: &Edge) -> [Option<Point>; 2] {
    match (*a, *b) {
        (Edge::Line { from: p, to: p1 }, Edge::Line { from: q, to: q1 }) => {
            let (r, s) = (p1 - p, q1 - q);
            let (across, u, v) = (r.cross(s), (q - p).cross(s), (q - p).cross(r));
            let within = |share: f64| if across > 0.0 { 0.0 < share && share < across } else { across < share && share < 0.0 };
            [if within(u) && within(v) { line_crossing(p, r, q, s) } else { None }, None]
        }
        (Edge::Line { from, to }, Edge::Arc { centre, .. }) => {
            let points = line_circle(from, to - from, centre, radius(b), Tangent::OnLine);
            points.map(|point| point.filter(|&p| on_line(from, to, p) && b.spans(p - centre)))
        }
        (Edge::Arc { centre, .. }, Edge::Line { from, to }) => {
            let points = line_circle(from, to - from, centre, radius(a), Tangent::OnCircle);
            points.map(|point| point.filter(|&p| on_line(from, to, p) && a.spans(p - centre)))
        }
        (Edge::Arc { centre: c, .. }, Edge::Arc { centre: d, .. }) => {
            let points = circle_circle(c, radius(a), d, radius(b), Tangent::OnCircle);
            points.map(|point| point.filter(|&p| a.spans(p - c) && b.spans(p - d)))
        }
    }
}

fn radius(edge: &Edge) -> f64 {
    edge.radius().unwrap_or(0.0)
}

fn on_line(from: Point, to: Point, p: Point) -> bool {
    let along = to - from;
    let share = along.dot(p - from);
    0.0 < share && share < along.dot(along)
}

/// The crossing of the endless lines through `p` along `r` and through `q` along `s`; none when they are parallel.
pub(crate) fn line_crossing(p: Point, r: Vec2, q: Point, s: Vec2) -> Option<Point> {
    let across = r.cross(s);
    if across.abs() <= PARALLEL * length(r) * length(s) {
        return None;
    }
    let share = (q - p).cross(s);
    // Upright and level lines give their own coordinate to the crossing, to the bit.
    let x = if s.x == 0.0 { q.x } else { p.x + r.x * share / across };
    let y = if s.y == 0.0 { q.y } else { p.y + r.y * share / across };
    Some(Point::new(x, y)).filter(|&p| crate::plane::is_finite(p))
}

/// What becomes of a line and a circle within the tolerance of touching.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Tangent {
    /// They touch at one point, and it is put on the line.
    OnLine,
    /// They touch at one point, and it is put on the circle.
    OnCircle,
    /// They cross twice as long as they cross at all: for reckoning on, not for telling what meets.
    Parted,
}

/// Where the endless line through `p` along `r` meets a circle.
pub(crate) fn line_circle(p: Point, r: Vec2, centre: Point, radius: f64, tangent: Tangent) -> [Option<Point>; 2] {
    let square = r.dot(r);
    let to_centre = centre - p;
    let (along, across) = (to_centre.dot(r), r.cross(to_centre));
    let foot = Point::new(p.x + r.x * along / square, p.y + r.y * along / square);
    let gap = across.abs() / square.sqrt() - radius;
    if gap.abs() <= TOLERANCE && !(gap < 0.0 && tangent == Tangent::Parted) {
        let v = unit(foot - centre);
        return [Some(if tangent == Tangent::OnLine { foot } else { centre + v * radius }), None];
    }
    if gap > 0.0 || !gap.is_finite() {
        return [None, None];
    }
    let half = (radius * radius * square - across * across).max(0.0).sqrt();
    let point = |half: f64| {
        // A level or upright line keeps its own coordinate.
        let x = if r.x == 0.0 { p.x } else { foot.x + r.x * half / square };
        let y = if r.y == 0.0 { p.y } else { foot.y + r.y * half / square };
        Some(Point::new(x, y))
    };
    [point(-half), point(half)]
}

/// Where two circles meet. A point of touch is put on the first. The same circle: nowhere.
pub(crate) fn circle_circle(c: Point, radius_c: f64, d: Point, radius_d: f64, tangent: Tangent) -> [Option<Point>; 2] {
    let v = d - c;
    let apart = length(v);
    if apart <= TOLERANCE {
        return [None, None];
    }
    let outside = apart - (radius_c + radius_d);
    let inside = (radius_c - radius_d).abs() - apart;
    let crossing = outside < 0.0 && inside < 0.0;
    let touching = outside.abs() <= TOLERANCE || inside.abs() <= TOLERANCE;
    if touching && !(crossing && tangent == Tangent::Parted) {
        let away = if outside.abs() > TOLERANCE && radius_c < radius_d { -radius_c } else { radius_c };
        return [Some(c + unit(v) * away), None];
    }
    if !crossing {
        return [None, None];
    }
    let square = v.dot(v);
    let along = (radius_c * radius_c - radius_d * radius_d + square) / 2.0;
    let half = (radius_c * radius_c * square - along * along).max(0.0).sqrt();
    let point =
        |half: f64| Some(Point::new(c.x + (v.x * along - v.y * half) / square, c.y + (v.y * along + v.x * half) / square));
    [point(-half), point(half)]
}

/// Cuts an arc of more than half a circle in two, so that a piece never comes back towards its start.
pub(crate) fn halves(edge: &Edge) -> [Option<Edge>; 2] {
    match *edge {
        Edge::Arc { from, to, centre, turn } if edge.sweep().is_some_and(|sweep| sweep > std::f64::consts::PI + 1e-9) => {
            let middle = middle_of(from, to, centre, turn);
            [Some(Edge::Arc { from, to: middle, centre, turn }), Some(Edge::Arc { from: middle, to, centre, turn })]
        }
        _ => [Some(*edge), None],
    }
}

fn middle_of(from: Point, to: Point, centre: Point, turn: Turn) -> Point {
    Edge::Arc { from, to, centre, turn }.at(0.5)
}
