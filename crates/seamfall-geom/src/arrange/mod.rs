//! The arrangement of edges inside a frame: where they cross, and the faces they enclose.

use crate::{Edge, Loop, Point};

/// Where an edge of the arrangement came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// An edge of the frame, by its number.
    Frame(usize),
    /// One of the given edges, by its number.
    Given(usize),
}

/// An edge between two vertices, no vertex on it but its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct ArrangedEdge {
    /// Its course, from vertex `from` to vertex `to`.
    pub edge: Edge,
    /// Start vertex.
    pub from: usize,
    /// End vertex.
    pub to: usize,
    /// What it was part of.
    pub source: Source,
    /// Face to its left, if any (outside of the frame there is none).
    pub left: Option<usize>,
    /// Face to its right, if any.
    pub right: Option<usize>,
}

/// A face: the area between edges.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Its outer outline, anticlockwise; neighbouring edges of the same line or circle are joined only where no other edge
    /// meets them.
    pub outline: Loop,
    /// For each edge of `outline`, its number in [`Arrangement::edges`].
    pub edges: Vec<usize>,
    /// What is cut out of it, each clockwise.
    pub holes: Vec<Loop>,
}

impl Face {
    /// Area of the outline less the holes.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.outline.area() + self.holes.iter().map(Loop::area).sum::<f64>()
    }
}

/// An end of a given edge that touches nothing else.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LooseEnd {
    /// The given edge.
    pub given: usize,
    /// The end.
    pub at: Point,
}

/// Two given edges (or one and the frame) that run along one another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// What lies there first.
    pub first: Source,
    /// What lies upon it.
    pub second: Source,
    /// A point of the shared stretch.
    pub at: Point,
}

/// Everything that follows from putting edges into a frame.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Arrangement {
    /// Where edges meet.
    pub vertices: Vec<Point>,
    /// All edges, frame first, each stretch once.
    pub edges: Vec<ArrangedEdge>,
    /// All faces, from the top down, then from left to right (by their highest, then leftmost point).
    pub faces: Vec<Face>,
    /// Ends that touch nothing.
    pub loose_ends: Vec<LooseEnd>,
    /// Stretches drawn twice.
    pub overlaps: Vec<Overlap>,
    /// Given edges of which some part lies outside the frame; that part is left out.
    pub outside: Vec<usize>,
}

/// Puts `given` edges into the anticlockwise `frame`.
///
/// The areas of the faces always add up to that of the frame, whatever is given: loose ends bound nothing, overlaps count once.
/// Cost grows with the square of the number of edges in the worst case; the caller limits it.
#[must_use]
pub fn arrange(frame: &Loop, given: &[Edge]) -> Arrangement {
    let _ = (frame, given);
    todo!()
}
