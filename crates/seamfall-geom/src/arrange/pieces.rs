//! Edges made ready for cutting, and the vertices at which they are to be cut.
//!
//! In: edges. Out: pieces of at most half a circle each, so that every one can be walked by one angle without coming round
//! again; and for each the vertices on it. Here the order of standing is kept: corners of the frame, points moved onto the frame,
//! ends of given edges, crossings.

use std::collections::BTreeMap;

use super::meet::halves;
use super::snap::Vertices;
use super::{Source, meetings};
use crate::plane::{distance, is_finite};
use crate::{Edge, Point, Rect, TOLERANCE};

/// Coordinates beyond this have too few digits left for the tolerance.
const FAR: f64 = 1e9;

/// An arc of this radius is straight: over ten units it bulges by a millionth.
const STRAIGHT: f64 = 1e7;

/// What is nearer than this differs by rounding only.
const ROUNDING: f64 = TOLERANCE * 1e-4;

/// Part of an edge, of at most half a circle.
pub(super) struct Piece {
    pub(super) edge: Edge,
    pub(super) source: Source,
    bounds: Rect,
}

/// Why a given edge cannot be taken in.
pub(super) enum Unusable {
    /// A coordinate is not an ordinary number, or too far away.
    NoPlace,
    /// It starts where it ends.
    NoLength,
}

/// Whether a point is near enough to the origin for its digits to tell it from its neighbours.
pub(super) fn in_reach(p: Point) -> bool {
    is_finite(p) && p.x.abs() <= FAR && p.y.abs() <= FAR
}

/// The edge with every number in reach, and the centre of an arc as far from one end as from the other.
pub(super) fn usable(edge: Edge) -> Result<Edge, Unusable> {
    let (from, to) = (edge.from(), edge.to());
    if !in_reach(from) || !in_reach(to) {
        return Err(Unusable::NoPlace);
    }
    if distance(from, to) <= TOLERANCE {
        return Err(Unusable::NoLength);
    }
    let Edge::Arc { centre, turn, .. } = edge else { return Ok(edge) };
    if !is_finite(centre) {
        return Err(Unusable::NoPlace);
    }
    let radius = distance(from, centre);
    if radius.is_nan() || radius > STRAIGHT {
        return Ok(Edge::Line { from, to });
    }
    if (radius - distance(to, centre)).abs() <= TOLERANCE {
        return Ok(edge);
    }
    let chord = to - from;
    let off = chord.dot(centre - from.midpoint(to)) / chord.dot(chord);
    Ok(Edge::Arc { from, to, centre: centre - chord * off, turn })
}

pub(super) fn add_pieces(pieces: &mut Vec<Piece>, edge: Edge, source: Source) {
    pieces.extend(halves(&edge).into_iter().flatten().map(|edge| Piece {
        edge,
        source,
        bounds: edge.bounds().inflate(TOLERANCE, TOLERANCE),
    }));
}

pub(super) fn meets(a: &Rect, b: &Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Points at which pieces are to be cut, by their standing.
#[derive(Default)]
struct Marks {
    /// On the frame, and moved onto it.
    on_frame: Vec<(Point, u32, u32)>,
    /// For a piece and its start or end: the point of the frame onto which it is moved.
    moved_ends: BTreeMap<(u32, bool), Point>,
    /// An end of one piece that lies on another.
    touches: Vec<(Point, u32)>,
    crossings: Vec<(Point, u32, u32)>,
}

/// All vertices, and for every piece its cuts as pairs of piece and vertex.
pub(super) fn cut(pieces: &[Piece], frame_pieces: usize) -> (Vertices, Vec<(u32, u32)>) {
    let marks = marks(pieces, frame_pieces);
    let expected = 2 * pieces.len() + marks.on_frame.len() + marks.crossings.len();
    let mut vertices = Vertices::new(expected);
    let mut cuts = Vec::with_capacity(2 * expected + marks.touches.len());
    let add_ends = |vertices: &mut Vertices, cuts: &mut Vec<(u32, u32)>, range: std::ops::Range<usize>| {
        for i in range {
            for (start, end) in [(true, pieces[i].edge.from()), (false, pieces[i].edge.to())] {
                let end = marks.moved_ends.get(&(i as u32, start)).copied().unwrap_or(end);
                cuts.push((i as u32, vertices.at(end)));
            }
        }
    };
    add_ends(&mut vertices, &mut cuts, 0..frame_pieces);
    for &(point, a, b) in &marks.on_frame {
        let vertex = vertices.at(point);
        cuts.push((b, vertex));
        // In a sharp corner of the frame a point is near both sides but on one: the other is not bent to it.
        let at = vertices.point(vertex);
        if distance(pieces[a as usize].edge.nearest(at), at) <= ROUNDING {
            cuts.push((a, vertex));
        }
    }
    add_ends(&mut vertices, &mut cuts, frame_pieces..pieces.len());
    for &(point, piece) in &marks.touches {
        cuts.push((piece, vertices.at(point)));
    }
    for &(point, a, b) in &marks.crossings {
        let vertex = vertices.at(point);
        cuts.extend([(a, vertex), (b, vertex)]);
    }
    (vertices, cuts)
}

/// Meets every piece with every other whose box it touches, sweeping from left to right.
fn marks(pieces: &[Piece], frame_pieces: usize) -> Marks {
    let mut marks = Marks::default();
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|&a, &b| pieces[a].bounds.x0.total_cmp(&pieces[b].bounds.x0).then(a.cmp(&b)));
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let bounds = pieces[i].bounds;
        open.retain(|&j| pieces[j].bounds.x1 >= bounds.x0);
        for &j in &open {
            let (a, b) = (i.min(j), i.max(j));
            let both_frame = b < frame_pieces;
            if !both_frame && pieces[j].bounds.y0 <= bounds.y1 && bounds.y0 <= pieces[j].bounds.y1 {
                mark(pieces, a, b, a < frame_pieces, &mut marks);
            }
        }
        open.push(i);
    }
    marks
}

fn mark(pieces: &[Piece], a: usize, b: usize, on_frame: bool, marks: &mut Marks) {
    let (first, second) = (&pieces[a], &pieces[b]);
    let numbers = (a as u32, b as u32);
    for point in meetings(&first.edge, &second.edge).into_iter().flatten() {
        let list = if on_frame { &mut marks.on_frame } else { &mut marks.crossings };
        list.push((point, numbers.0, numbers.1));
    }
    for (start, end) in [(true, second.edge.from()), (false, second.edge.to())] {
        if let Some(foot) = inner_foot(first, end) {
            if on_frame {
                // Rounding apart, the end is where it was given.
                let point = if distance(foot, end) <= ROUNDING { end } else { foot };
                marks.on_frame.push((point, numbers.0, numbers.1));
                marks.moved_ends.entry((numbers.1, start)).or_insert(point);
            } else {
                marks.touches.push((end, numbers.0));
            }
        }
    }
    for end in [first.edge.from(), first.edge.to()] {
        if inner_foot(second, end).is_some() {
            marks.touches.push((end, numbers.1));
        }
    }
}

/// The point of a piece within the tolerance of `end`, unless one of its own ends is as near.
fn inner_foot(piece: &Piece, end: Point) -> Option<Point> {
    let b = &piece.bounds;
    if end.x < b.x0 || end.x > b.x1 || end.y < b.y0 || end.y > b.y1 {
        return None;
    }
    let foot = piece.edge.nearest(end);
    let near = |p: Point| distance(p, end) <= TOLERANCE;
    (near(foot) && !near(piece.edge.from()) && !near(piece.edge.to())).then_some(foot)
}
