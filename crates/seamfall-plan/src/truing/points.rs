//! How much may be trimmed off each side before points or allowance are lost.
//!
//! In: the drafts and the top. Out: for every section and side a length.
//!
//! A *point* is where a slanting seam or an arc ends on the side of its section, away from the corners: trimmed off, it is blunted by the next
//! seam. A seam that ends square to the side only gets shorter; so does a diagonal that ends in a corner, since both sides lose alike.
//! - Points on the side: 1/16 in, which leaves them 3/16 in of a quarter inch; common practice.
//! - Patches without points: 1/8 in, common practice: more shows as a narrower patch.
//! - Strips along the whole side (a frame, sashing, a band): half of the narrowest, common practice; no points are lost.

use super::sides::{SAME, Shape};
use crate::draft::Draft;
use crate::set::Top;
use seamfall_geom::{Edge, Point, Vec2};
use seamfall_model::Quilt;

/// Off a side with points, in inches.
pub(super) const AT_POINTS: f64 = 1.0 / 16.0;
/// Off a side of patches without points, in inches.
pub(super) const AT_PATCHES: f64 = 1.0 / 8.0;
/// Part of a strip along the side.
pub(super) const OF_STRIP: f64 = 0.5;

/// What lies along a side, and so what may be trimmed off it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room {
    pub off: f64,
    pub by: Lies,
}

/// What decides it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lies {
    Points,
    Patches,
    Strips,
}

/// For every section the room of its lower, right, upper and left side.
pub(super) fn room(quilt: &Quilt, drafts: &[Draft], top: &Top, shapes: &[Option<Shape>]) -> Vec<[Room; 4]> {
    let inch = quilt.measure.inch();
    // Where slanting seams end on a block's outline, and which way the outline runs there.
    let tips: Vec<Vec<Point>> = drafts.iter().map(tips).collect();
    let none = Room { off: 0.0, by: Lies::Points };
    let of = |(section, shape): (&crate::set::Section, &Option<Shape>)| {
        let Some(shape) = shape else { return [none; 4] };
        [0, 1, 2, 3].map(|side| {
            let on = |at: Point| shape.depth(side, at).abs() < SAME;
            let touched = |&&place: &&usize| top.places[place].outline.corners().filter(|corner| on(*corner)).count() > 1;
            let mut blocks = section.places.iter().filter(touched).peekable();
            if blocks.peek().is_none() {
                let strips = section.strips.iter().map(|&strip| &top.strips[strip].outline);
                let deep = |outline: &seamfall_geom::Loop| outline.corners().map(|at| shape.depth(side, at)).fold(0.0, f64::max);
                let along = strips.filter(|outline| outline.corners().filter(|corner| on(*corner)).count() > 1);
                let narrowest = along.map(deep).fold(f64::INFINITY, f64::min);
                let off = if narrowest.is_finite() { OF_STRIP * narrowest } else { 0.0 };
                return Room { off, by: Lies::Strips };
            }
            let pointed = blocks.any(|&place| {
                let placed = &top.places[place];
                tips[placed.block.0].iter().any(|&tip| on(placed.pose.apply(tip)))
            });
            if pointed {
                Room { off: AT_POINTS * inch, by: Lies::Points }
            } else {
                Room { off: AT_PATCHES * inch, by: Lies::Patches }
            }
        })
    };
    top.sections.iter().zip(shapes).map(of).collect()
}

/// Ends of slanting seams and arcs on the outline of a block, but for its corners.
fn tips(draft: &Draft) -> Vec<Point> {
    let corner = |at: Point| draft.outline.corners().any(|corner| (corner - at).hypot2() < SAME * SAME);
    let slants = |at: Point, along: Vec2| {
        draft.outline.edges().iter().filter(|edge| edge.distance_to(at) < SAME).any(|edge| {
            let side = edge.direction_from();
            (side.dot(along) / (side.hypot2() * along.hypot2()).sqrt()).abs() > 1e-4
        })
    };
    let ends = |edge: &Edge| [(edge.from(), edge.direction_from()), (edge.to(), edge.direction_to())];
    let all = draft.seams.iter().flat_map(|seam| ends(&seam.edge));
    all.filter(|&(at, along)| !corner(at) && slants(at, along)).map(|(at, _)| at).collect()
}
