//! Outlines moved outward, corners kept sharp, tips trimmed.
//!
//! In: a loop and a distance. Out: the loop whose edges lie that far to the right of it: outside of an anticlockwise outline,
//! inside of a clockwise hole. Lines stay lines, arcs stay arcs about the same centre. Below nothing, it moves the other way.
//!
//! Each corner is where the two moved edges meet, so that growing and shrinking by as much gives the outline back. Corners that
//! stand out can be trimmed, see [`TipTrim`].

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

use crate::arrange::{Tangent, circle_circle, line_circle, line_crossing, meetings};
use crate::plane::{distance as gap, right_of, unit};
use crate::{Edge, Loop, Point, Rect, TOLERANCE, Vec2};

/// How the sharp corners of a grown loop end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TipTrim {
    /// Corners run out to their full point, or to [`MITRE_LIMIT`] where that is nearer.
    Full,
    /// A corner sharper than a right angle is cut off where the neighbour's cut edge will lie, so that two pieces put together
    /// along a seam line up. A neighbour with a right angle there reaches the distance beyond the corner, so that far goes:
    ///
    /// - the corner of a half square (45 degrees between straight edges, one of them level or upright): cut square to that edge,
    ///   the distance beyond the corner. So the tip ends flush with the square to which the edge is sewn; and since the other
    ///   half of the square is its mirror image in the slanted seam, the two line up along that seam, too;
    /// - any other: both edges run on for the distance beyond the corner, and the cut joins their ends. So either edge lines up
    ///   with every neighbour whose corner there is not wider than a right angle, straight or trimmed alike.
    ///
    /// At a right angle nothing would be cut off. Along a bent edge, lengths are those of its direction at the corner.
    Aligned,
}

/// Why a loop could not be grown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetError {
    /// A hollow arc (edge number given) is tighter than the distance: nothing of it would be left.
    HollowTooTight {
        /// Number of the edge.
        edge: usize,
        /// Where it starts.
        at: Point,
    },
    /// Two parts of the grown loop run into each other near `at`.
    Collides {
        /// Near the place.
        at: Point,
    },
}

/// A full point stands out from its corner by so many times the distance at most; a sharper one, below about 10 degrees, is cut
/// off there square to its middle line. A choice: all angles that are usually sewn keep their points, and nothing runs away.
pub const MITRE_LIMIT: f64 = 12.0;

/// A corner whose turn has a sine below this is smooth: the two ways to reckon where it goes differ by less than a millionth of
/// the distance, and the meeting of a line and a circle that all but touch has lost its digits.
const SMOOTH: f64 = 1e-6;

/// A corner of the grown loop: where the edge before ends, where the edge after begins, and a point between, if any.
struct Corner {
    end: Point,
    between: Option<Point>,
    begin: Point,
}

impl Corner {
    fn sharp(point: Point) -> Self {
        Self { end: point, between: None, begin: point }
    }
}

/// `outline` moved outward by `distance`: lines stay lines, arcs stay arcs about the same centre.
///
/// The edges keep their order. Where a tip is trimmed, and where bent edges must be carried on straight to reach each other,
/// short lines stand between them; else edge `i` of the result lies along edge `i` of `outline`.
///
/// # Errors
/// [`OffsetError`] where the outline leaves no room.
pub fn grow(outline: &Loop, distance: f64, tips: TipTrim) -> Result<Loop, OffsetError> {
    let edges = outline.edges();
    let n = edges.len();
    if let Some(edge) = edges.iter().position(|e| e.radius().is_some() && moved_radius(e, distance) <= TOLERANCE) {
        return Err(OffsetError::HollowTooTight { edge, at: edges[edge].from() });
    }
    let corners = (0..n)
        .map(|i| corner(&edges[(i + n - 1) % n], &edges[i], distance, tips).ok_or(OffsetError::Collides { at: edges[i].from() }))
        .collect::<Result<Vec<_>, _>>()?;
    let mut grown = Vec::with_capacity(n);
    for (i, edge) in edges.iter().enumerate() {
        let next = &corners[(i + 1) % n];
        grown.push(between(edge, corners[i].begin, next.end).ok_or(OffsetError::Collides { at: edge.at(0.5) })?);
        let mut at = next.end;
        for point in next.between.into_iter().chain([next.begin]) {
            if point != at {
                grown.push(Edge::Line { from: at, to: point });
                at = point;
            }
        }
    }
    match collision(&grown) {
        Some(at) => Err(OffsetError::Collides { at }),
        None => Ok(Loop::new(grown)),
    }
}

/// Radius of a moved arc: one that bulges outward grows, a hollow one shrinks.
fn moved_radius(edge: &Edge, distance: f64) -> f64 {
    match *edge {
        Edge::Arc { turn, .. } => edge.radius().unwrap_or(0.0) + turn.sign() * distance,
        Edge::Line { .. } => 0.0,
    }
}

/// `edge` between new ends; nothing where it would turn round.
fn between(edge: &Edge, from: Point, to: Point) -> Option<Edge> {
    match *edge {
        Edge::Line { from: a, to: b } => ((to - from).dot(b - a) > 0.0).then_some(Edge::Line { from, to }),
        Edge::Arc { from: a, to: b, centre, turn } => {
            // What is lost or won at either end, as an angle, tells a small arc from one that has come round to a large one.
            let angle = |u: Vec2, v: Vec2| turn.sign() * libm::atan2(u.cross(v), u.dot(v));
            let sweep = edge.sweep()? - angle(a - centre, from - centre) + angle(b - centre, to - centre);
            (0.0 < sweep && sweep < TAU).then_some(Edge::Arc { from, to, centre, turn })
        }
    }
}

/// Where the moved edges `before` and `after` meet, round the corner they share; nothing where they never do.
fn corner(before: &Edge, after: &Edge, distance: f64, tips: TipTrim) -> Option<Corner> {
    let at = after.from();
    let (arriving, leaving) = (before.direction_to(), after.direction_from());
    let (turning, onward) = (arriving.cross(leaving), arriving.dot(leaving));
    let outward = right_of(arriving) + right_of(leaving);
    if turning.abs() < SMOOTH && onward > 0.0 {
        return Some(Corner::sharp(at + outward * (distance / (1.0 + onward))));
    }
    let stands_out = turning * distance > 0.0 || turning.abs() < SMOOTH;
    if stands_out && distance > 0.0 && onward < -TOLERANCE && tips == TipTrim::Aligned {
        return Some(aligned(before, after, distance));
    }
    // A point stands out by the distance over the cosine of half the corner's turn; this is twice that cosine's square.
    if stands_out && (1.0 + onward) * MITRE_LIMIT * MITRE_LIMIT < 2.0 {
        let middle = unit(arriving - leaving);
        let cut = (at + middle * (MITRE_LIMIT * distance.abs()), right_of(middle));
        return Some(Corner {
            end: on_moved(before, distance, cut, at + right_of(arriving) * distance),
            between: None,
            begin: on_moved(after, distance, cut, at + right_of(leaving) * distance),
        });
    }
    let point = at + outward * (distance / (1.0 + onward));
    match meeting(before, after, distance, point).filter(|&p| gap(p, at) <= MITRE_LIMIT * distance.abs()) {
        Some(point) => Some(Corner::sharp(point)),
        // Arcs that bend away from each other: carried on straight to where their directions meet.
        None => stands_out.then(|| Corner {
            end: at + right_of(arriving) * distance,
            between: Some(point),
            begin: at + right_of(leaving) * distance,
        }),
    }
}

/// The endless line or the whole circle of an edge once moved.
enum Course {
    Line(Point, Vec2),
    Circle(Point, f64),
}

fn course(edge: &Edge, distance: f64) -> Course {
    match *edge {
        Edge::Line { from, to } => Course::Line(from + right_of(edge.direction_from()) * distance, to - from),
        Edge::Arc { centre, .. } => Course::Circle(centre, moved_radius(edge, distance)),
    }
}

/// The point nearest to `near` at which both moved edges, carried on, meet.
fn meeting(before: &Edge, after: &Edge, distance: f64, near: Point) -> Option<Point> {
    let points = match (course(before, distance), course(after, distance)) {
        (Course::Line(p, r), Course::Line(q, s)) => [line_crossing(p, r, q, s), None],
        (Course::Line(p, r), Course::Circle(c, radius)) | (Course::Circle(c, radius), Course::Line(p, r)) => {
            line_circle(p, r, c, radius, Tangent::Parted)
        }
        (Course::Circle(c, radius), Course::Circle(d, other)) => circle_circle(c, radius, d, other, Tangent::Parted),
    };
    nearest(points, near)
}

fn nearest(points: [Option<Point>; 2], near: Point) -> Option<Point> {
    points.into_iter().flatten().min_by(|a, b| gap(*a, near).total_cmp(&gap(*b, near)))
}

/// The sharp corner between two edges, trimmed as [`TipTrim::Aligned`] has it.
fn aligned(before: &Edge, after: &Edge, distance: f64) -> Corner {
    let at = after.from();
    let (arriving, leaving) = (before.direction_to(), after.direction_from());
    let (off_before, off_after) = (right_of(arriving) * distance, right_of(leaving) * distance);
    // Where either edge ends if it runs on for the distance.
    let (end, begin) = (at + off_before + arriving * distance, at + off_after - leaving * distance);
    let straight = before.radius().is_none() && after.radius().is_none();
    let half_square = straight && (arriving.dot(leaving) + FRAC_1_SQRT_2).abs() < TOLERANCE;
    let along_grid = |way: Vec2| way.x.abs() < TOLERANCE || way.y.abs() < TOLERANCE;
    let way = match (half_square && along_grid(arriving), half_square && along_grid(leaving)) {
        (true, false) => return Corner { end, between: None, begin: on_moved(after, distance, (end, off_before), begin) },
        (false, true) => return Corner { end: on_moved(before, distance, (begin, off_after), end), between: None, begin },
        _ => begin - end,
    };
    if straight {
        return Corner { end, between: None, begin };
    }
    Corner {
        end: on_moved(before, distance, (end, way), at + off_before),
        between: None,
        begin: on_moved(after, distance, (begin, way), at + off_after),
    }
}

/// Where the moved `edge`, carried on, meets the line `cut` (a point and a direction), nearest to that point; `otherwise` where it
/// bends away before.
fn on_moved(edge: &Edge, distance: f64, cut: (Point, Vec2), otherwise: Point) -> Point {
    let points = match course(edge, distance) {
        Course::Line(p, r) => [line_crossing(cut.0, cut.1, p, r), None],
        Course::Circle(centre, radius) => line_circle(cut.0, cut.1, centre, radius, Tangent::Parted),
    };
    let reach = MITRE_LIMIT * distance.abs();
    nearest(points, cut.0).filter(|&p| gap(p, otherwise) <= reach).unwrap_or(otherwise)
}

/// A point at which edges that are no neighbours cross, or one of them ends on the other.
fn collision(edges: &[Edge]) -> Option<Point> {
    let n = edges.len();
    let bounds: Vec<Rect> = edges.iter().map(|edge| edge.bounds().inflate(TOLERANCE, TOLERANCE)).collect();
    let apart = |a: &Rect, b: &Rect| a.x1 < b.x0 || b.x1 < a.x0 || a.y1 < b.y0 || b.y1 < a.y0;
    let near = |a: Point, b: Point| gap(a, b) <= TOLERANCE;
    let on = |edge: &Edge, end: Point| near(edge.nearest(end), end) && !near(edge.from(), end) && !near(edge.to(), end);
    let touch = |a: &Edge, b: &Edge| [b.from(), b.to()].into_iter().find(|&end| on(a, end));
    (0..n)
        .flat_map(|i| (i + 2..n).map(move |j| (i, j)))
        .filter(|&(i, j)| (j + 1) % n != i && !apart(&bounds[i], &bounds[j]))
        .map(|(i, j)| (&edges[i], &edges[j]))
        .find_map(|(a, b)| meetings(a, b).into_iter().flatten().next().or_else(|| touch(a, b)).or_else(|| touch(b, a)))
}
