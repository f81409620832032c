//! The arrangement of edges inside a frame: where they cross, and the faces they enclose.
//!
//! In: a frame, and any edges. Out: vertices, edges split at them, and faces whose areas add up to the frame's. In the order
//! of work: `pieces` finds where edges meet (`meet`) and makes one vertex of points that are one (`snap`), `split` cuts the edges
//! there and drops what lies outside or twice, `join` mends cuts at which nothing meets, `trace` walks round the faces.
//!
//! The frame goes before everything else: a point near it is moved onto it, never the other way. Next come the ends of the
//! given edges, as they were given; crossings come last. So points on a grid stay on it to the bit.

mod join;
mod meet;
mod pieces;
mod snap;
mod split;
mod trace;

use crate::{Edge, Loop, Point};

pub(crate) use meet::{Tangent, circle_circle, line_circle, line_crossing, meetings};

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
    /// Its outer outline, anticlockwise, from its lowest, then leftmost corner; neighbouring edges of the same line or circle
    /// are joined only where no other edge meets them. Corners of the frame are always kept.
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
    /// All edges within the frame, frame first, each stretch once. One that bounds nothing, because it has a loose end or
    /// because it only ties two outlines together, has the same face on both sides and is part of no outline.
    pub edges: Vec<ArrangedEdge>,
    /// All faces, from the top down, then from left to right (by their highest, then leftmost point).
    pub faces: Vec<Face>,
    /// Ends that touch nothing, by edge. A given edge shorter than [`TOLERANCE`](crate::TOLERANCE) is one, too.
    pub loose_ends: Vec<LooseEnd>,
    /// Stretches drawn twice, one for each pair that shares any.
    pub overlaps: Vec<Overlap>,
    /// Given edges of which some part lies outside the frame, or that have no place at all because a coordinate is not an
    /// ordinary number; that part is left out.
    pub outside: Vec<usize>,
}

/// Puts `given` edges into the anticlockwise `frame`.
///
/// The areas of the faces always add up to that of the frame, whatever is given: loose ends bound nothing, overlaps count once.
/// Cost grows with the square of the number of edges in the worst case; the caller limits it.
///
/// Two given edges that carry on one another along one line or circle, nothing else meeting them there, become one edge, with
/// the number of the first. A frame that encloses nothing, or reaches beyond a thousand million, gives an empty arrangement.
#[must_use]
pub fn arrange(frame: &Loop, given: &[Edge]) -> Arrangement {
    let area = frame.area();
    if !(area > 0.0 && area.is_finite() && frame.corners().all(pieces::in_reach)) {
        return Arrangement::default();
    }
    let mut arrangement = split::split(frame, given);
    arrangement.faces = trace::faces(&arrangement.vertices, &mut arrangement.edges);
    arrangement
}

/// An edge between two vertices of [`Noded`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NodedEdge {
    /// Its course, from vertex `from` to vertex `to`.
    pub edge: Edge,
    /// Start vertex.
    pub from: usize,
    /// End vertex.
    pub to: usize,
    /// The given edge it is part of; of several along one another the first.
    pub given: usize,
}

/// Edges cut where they meet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Noded {
    /// Where edges meet or end.
    pub vertices: Vec<Point>,
    /// Every stretch once.
    pub edges: Vec<NodedEdge>,
}

/// Cuts `given` edges where they cross, touch or end on one another; stretches drawn twice count once. As [`arrange`], without a
/// frame and without faces.
#[must_use]
pub fn node(given: &[Edge]) -> Noded {
    let Some(bounds) = given.iter().map(Edge::bounds).reduce(|a, b| a.union(b)) else { return Noded::default() };
    // A frame well clear of everything: only its own corners and edges come of it, and are left out again.
    let frame = Loop::rect(bounds.inflate(1.0, 1.0));
    if !frame.corners().all(pieces::in_reach) {
        return Noded::default();
    }
    let arranged = split::split(&frame, given);
    let mut numbers = vec![usize::MAX; arranged.vertices.len()];
    let mut noded = Noded::default();
    for arranged_edge in &arranged.edges {
        let Source::Given(given) = arranged_edge.source else { continue };
        let [from, to] = [arranged_edge.from, arranged_edge.to].map(|vertex| {
            if numbers[vertex] == usize::MAX {
                numbers[vertex] = noded.vertices.len();
                noded.vertices.push(arranged.vertices[vertex]);
            }
            numbers[vertex]
        });
        noded.edges.push(NodedEdge { edge: arranged_edge.edge, from, to, given });
    }
    noded
}

/// For every vertex the stretches that end there: items `starts[v]..starts[v + 1]` of the second list.
fn incidence(vertices: usize, ends: &[(u32, u32)]) -> (Vec<u32>, Vec<u32>) {
    let mut starts = vec![0u32; vertices + 2];
    for &(from, to) in ends {
        starts[from as usize + 2] += 1;
        starts[to as usize + 2] += 1;
    }
    for v in 2..starts.len() {
        starts[v] += starts[v - 1];
    }
    let mut items = vec![0u32; 2 * ends.len()];
    for (i, &(from, to)) in ends.iter().enumerate() {
        for (half, end) in [from, to].into_iter().enumerate() {
            let slot = &mut starts[end as usize + 1];
            items[*slot as usize] = (2 * i + half) as u32;
            *slot += 1;
        }
    }
    starts.pop();
    (starts, items)
}
