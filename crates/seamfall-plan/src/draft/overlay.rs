//! Shapes laid over the patches.
//!
//! In: the overlays of a block. Out: their outlines, anticlockwise; what cannot be used is said.

use super::crowd::crosses_too_often;
use super::findings::Found;
use super::say;
use super::seams::append;
use seamfall_geom::{Edge, Loop, Point, Rect, TOLERANCE, arrange};
use seamfall_model::{Finding, Overlay};
use tr::tr;

/// The overlays that have an outline, with their numbers in the file, from 0.
pub(super) fn outlines(frame: &Loop, found: &mut Found<'_>) -> Vec<(usize, Loop)> {
    let overlays = &found.block.overlays;
    overlays.iter().enumerate().filter_map(|(i, overlay)| Some((i, outline(i, overlay, frame, found)?))).collect()
}

fn outline(number: usize, overlay: &Overlay, frame: &Loop, found: &mut Found<'_>) -> Option<Loop> {
    let mut edges = Vec::new();
    for seam in &overlay.outline {
        append(found.block, seam, &mut edges);
    }
    if let Some(gap) = gap(&edges) {
        let reason = match gap {
            Some(at) => tr!("its outline is not closed at {at}", at = say::point(found.block.to_grid(at))),
            None => tr!("its outline has no edges"),
        };
        found.overlay(
            number,
            Finding::stop,
            &reason,
            &tr!("let each line or arc begin where the one before it ends, and the last end where the first begins"),
        );
        return None;
    }
    let around = Loop::new(edges);
    let around = if around.area() < 0.0 { Loop::new(around.edges().iter().rev().map(Edge::reversed).collect()) } else { around };
    let bounds = around.bounds();
    let room = Loop::rect(Rect::new(bounds.x0 - 1.0, bounds.y0 - 1.0, bounds.x1 + 1.0, bounds.y1 + 1.0));
    let crossed = || {
        let alone = arrange(&room, around.edges());
        alone.faces.len() != 2 || !alone.overlaps.is_empty()
    };
    if crosses_too_often(around.edges()) || crossed() {
        found.overlay(
            number,
            Finding::stop,
            &tr!("its outline crosses or touches itself"),
            &tr!("draw it as a single line round, or as several shapes"),
        );
        return None;
    }
    if !arrange(frame, around.edges()).outside.is_empty() {
        found.overlay(
            number,
            Finding::warn,
            &tr!("it reaches beyond the edge of the block"),
            &tr!("move it inside, or make it smaller"),
        );
    }
    Some(around)
}

/// Where a chain is not closed; nothing if it is, and no place if there is no chain.
fn gap(edges: &[Edge]) -> Option<Option<Point>> {
    if edges.is_empty() {
        return Some(None);
    }
    let near = |a: Point, b: Point| (a - b).hypot2() <= TOLERANCE * TOLERANCE;
    (0..edges.len()).find(|i| !near(edges[*i].to(), edges[(i + 1) % edges.len()].from())).map(|i| Some(edges[i].to()))
}
