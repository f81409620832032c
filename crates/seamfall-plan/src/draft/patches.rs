//! Patches: the areas between seams, and whose part they are.
//!
//! In: the faces of the arrangement, the marks of the block. Out: outlines from corner to corner, and one part for each.

use super::findings::Found;
use super::shape::corner_to_corner;
use seamfall_geom::{Arrangement, Edge, Loop, Point, Rect, Source};
use seamfall_model::{Block, PartId};

/// A patch before it has a template.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    /// Finished outline, edges from corner to corner.
    pub outline: Loop,
    /// For each edge of `outline` whether it lies on the outline of the block.
    pub outer: Vec<bool>,
    /// Finished holes, each clockwise.
    pub holes: Vec<Loop>,
    /// Finished area.
    pub area: f64,
}

impl Piece {
    /// Whether `point` lies in the cloth of the piece.
    pub fn contains(&self, point: Point) -> bool {
        self.outline.contains(point) && !self.holes.iter().any(|hole| hole.contains(point))
    }
}

/// The pieces of an arrangement, in the order of its faces.
pub(super) fn pieces(arranged: &Arrangement) -> Vec<Piece> {
    let on_frame = |edge: usize| matches!(arranged.edges[edge].source, Source::Frame(_));
    arranged
        .faces
        .iter()
        .map(|face| {
            let (outline, made_of) = corner_to_corner(&face.outline);
            let outer = made_of.iter().map(|old| old.iter().any(|i| on_frame(face.edges[*i]))).collect();
            let holes = face.holes.iter().map(|hole| corner_to_corner(hole).0).collect();
            Piece { outline, outer, holes, area: face.area() }
        })
        .collect()
}

/// The part of every piece, by the marks that lie in it; the first mark counts. What does not fit is said.
///
/// A block of one patch and one part needs no mark.
pub(super) fn parts(block: &Block, pieces: &[Piece], found: &mut Found) -> Vec<Option<PartId>> {
    if block.marks.is_empty() && block.parts.len() == 1 && pieces.len() == 1 {
        return vec![Some(PartId(0))];
    }
    let bounds: Vec<Rect> = pieces.iter().map(|piece| piece.outline.bounds()).collect();
    let mut parts = vec![None; pieces.len()];
    for mark in &block.marks {
        let at = block.to_plane(mark.at);
        match (0..pieces.len()).find(|i| bounds[*i].contains(at) && pieces[*i].contains(at)) {
            None => found.mark_in_no_patch(mark),
            Some(i) => match parts[i] {
                Some(first) if first != mark.part => found.two_parts(i, first, mark.part),
                _ => parts[i] = Some(mark.part),
            },
        }
    }
    parts
}

/// A point of the cloth for the label: well inside the outline, and outside the holes.
pub(super) fn label(piece: &Piece) -> Point {
    let point = piece.outline.label_point();
    if piece.holes.is_empty() {
        return point;
    }
    // With holes the best of a coarse net of points does.
    const NET: usize = 24;
    let bounds = piece.outline.bounds();
    let share = |i: usize, from: f64, to: f64| from + (to - from) * (i as f64 + 0.5) / NET as f64;
    (0..NET * NET)
        .map(|i| Point::new(share(i % NET, bounds.x0, bounds.x1), share(i / NET, bounds.y0, bounds.y1)))
        .filter(|point| piece.contains(*point))
        .map(|point| (clearance(piece, point), point))
        .fold((0.0, point), |best, next| if next.0 > best.0 { next } else { best })
        .1
}

/// Square of the distance from `point` to the nearest edge of `piece`.
fn clearance(piece: &Piece, point: Point) -> f64 {
    let edges = [&piece.outline].into_iter().chain(&piece.holes).flat_map(Loop::edges);
    edges.map(|edge: &Edge| (edge.nearest(point) - point).hypot2()).fold(f64::INFINITY, f64::min)
}
