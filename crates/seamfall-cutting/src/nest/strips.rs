//! A layout told as strips across the cloth.
//!
//! In: pieces on the cloth. Out: the strips that straight cuts from edge to edge part them into, each with its pieces; equal strips
//! are told once. Cloth between two strips that holds nothing is left out.

use seamfall_geom::Vec2;

use super::block::Laid;
use super::meeting::Meetings;
use super::{HAIR, Place, Strip};

/// Strips whose pieces lie as near as this are equal.
const EQUAL: f64 = 1e-6;

/// The strips of these pieces.
pub(super) fn strips(meetings: &Meetings, laid: &[Laid]) -> Vec<Strip> {
    let mut sorted = laid.to_vec();
    sorted.sort_by(|a, b| a.at.y.total_cmp(&b.at.y).then(a.at.x.total_cmp(&b.at.x)));
    let mut strips: Vec<Strip> = Vec::new();
    let mut open: Vec<Laid> = Vec::new();
    let mut top = f64::NEG_INFINITY;
    for piece in sorted {
        if !open.is_empty() && piece.at.y >= top + meetings.gap - HAIR {
            add(&mut strips, strip(meetings, &open), 1);
            open.clear();
        }
        top = if open.is_empty() { f64::NEG_INFINITY } else { top };
        top = top.max(piece.at.y + meetings.shapes[piece.shape].height);
        open.push(piece);
    }
    if !open.is_empty() {
        add(&mut strips, strip(meetings, &open), 1);
    }
    strips
}

/// Adds a strip `times` over to those that are equal to it.
pub(super) fn add(strips: &mut Vec<Strip>, strip: Strip, times: u32) {
    let near = |a: f64, b: f64| (a - b).abs() <= EQUAL;
    let equal = |other: &&mut Strip| {
        near(other.height, strip.height)
            && other.places.len() == strip.places.len()
            && other.places.iter().zip(&strip.places).all(|(a, b)| {
                a.template == b.template && near(a.turn, b.turn) && near(a.shift.x, b.shift.x) && near(a.shift.y, b.shift.y)
            })
    };
    match strips.iter_mut().find(equal) {
        Some(other) => other.times += times,
        None => strips.push(Strip { times, ..strip }),
    }
}

/// One strip of these pieces, from its lower edge.
pub(super) fn strip(meetings: &Meetings, laid: &[Laid]) -> Strip {
    let low = laid.iter().map(|piece| piece.at.y).fold(f64::INFINITY, f64::min);
    let high = laid.iter().map(|piece| piece.at.y + meetings.shapes[piece.shape].height).fold(low, f64::max);
    let mut ordered = laid.to_vec();
    ordered.sort_by(|a, b| {
        let level = |piece: &Laid| ((piece.at.y - low) / EQUAL).round();
        level(a).total_cmp(&level(b)).then(a.at.x.total_cmp(&b.at.x))
    });
    let place = |piece: &Laid| {
        let shape = &meetings.shapes[piece.shape];
        Place { template: shape.template, turn: shape.turn, shift: shape.shift + piece.at - Vec2::new(0.0, low) }
    };
    Strip { height: high - low, times: 1, places: ordered.iter().map(place).collect() }
}
