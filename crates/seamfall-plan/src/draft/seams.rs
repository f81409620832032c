//! Seams as drawn, turned into edges of the plane.
//!
//! In: the seams of a block. Out: edges, each with the number of its seam, and findings on what cannot be drawn.

use super::findings::Found;
use seamfall_geom::{Edge, Point, TOLERANCE, Turn};
use seamfall_model::{Arc, Block, Seam};

/// The edges of all seams of a block.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    /// In the order of the file; a seam of several lines gives several.
    pub edges: Vec<Edge>,
    /// For each edge the number of its seam, from 0.
    pub seam: Vec<usize>,
}

/// The edges of the block's seams. What has no length is left out and said.
pub(super) fn drawn(found: &mut Found<'_>) -> Drawn {
    let mut drawn = Drawn::default();
    for (number, seam) in found.block.seams.iter().enumerate() {
        let before = drawn.edges.len();
        append(found.block, seam, &mut drawn.edges);
        drawn.seam.resize(drawn.edges.len(), number);
        if drawn.edges.len() == before {
            found.no_length(number);
        }
    }
    drawn
}

/// Adds the edges of one seam; stretches without length are left out.
pub(super) fn append(block: &Block, seam: &Seam, edges: &mut Vec<Edge>) {
    match seam {
        Seam::Line(points) => {
            let mut points = points.iter().map(|point| block.to_plane(*point));
            let Some(mut from) = points.next() else { return };
            for to in points {
                if from.distance_squared(to) > TOLERANCE * TOLERANCE {
                    edges.push(Edge::Line { from, to });
                    from = to;
                }
            }
        }
        Seam::Arc(arc) => edges.extend(curve(block, arc)),
    }
}

/// The arc in the plane; nothing when its ends are one point.
///
/// Half a circle has no shorter way round: it runs anticlockwise, and clockwise when the long way is asked for. The centre is
/// moved onto the middle line of the two ends, so that it is exactly as far from both.
fn curve(block: &Block, arc: &Arc) -> Option<Edge> {
    let (from, to) = (block.to_plane(arc.from), block.to_plane(arc.to));
    if from.distance_squared(to) <= TOLERANCE * TOLERANCE {
        return None;
    }
    let centre = centred(from, to, block.to_plane(arc.centre));
    let cross = (from - centre).cross(to - centre);
    // Compared with the chord: a centre on it, within the tolerance, makes half a circle.
    let half = cross.abs() <= TOLERANCE * from.distance_squared(to).sqrt();
    let turn = if (half || cross > 0.0) != arc.long_way { Turn::Left } else { Turn::Right };
    Some(Edge::Arc { from, to, centre, turn })
}

/// The point nearest to `centre` that is as far from `from` as from `to`.
fn centred(from: Point, to: Point, centre: Point) -> Point {
    let chord = to - from;
    let off = (centre - from.midpoint(to)).dot(chord) / chord.hypot2();
    // What is exact already stays as it is to the last bit.
    if off.abs() <= f64::EPSILON { centre } else { centre - chord * off }
}
