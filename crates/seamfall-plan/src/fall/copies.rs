//! Which copies of a block are pressed alike.
//!
//! In: where the places lie. Out: for so many pressings the ways to deal them out that setters use: by turns along rows, along
//! columns, like a chequerboard, in fours, or by how a block is turned. A place with a fall of its own set by hand is always by itself.

use super::hand::Hand;
use super::model::Copies;
use crate::piece::Piecing;
use crate::set::Top;
use seamfall_model::{Layout, Quilt};

/// Where a place stands, counted along the seams of the top, and how it is turned.
#[derive(Debug, Clone, Copy)]
struct Lies {
    across: usize,
    up: usize,
    turns: usize,
}

/// Every copy by itself.
pub(super) fn own(piecing: &Piecing) -> Copies {
    let mut count = vec![0; piecing.designs.len()];
    let of_place = piecing.holds.iter().map(|held| {
        count[held.design] += 1;
        count[held.design] - 1
    });
    Copies { of_place: of_place.collect(), count }
}

/// All ways to deal out `pressings`.
pub(super) fn dealt(quilt: &Quilt, top: &Top, piecing: &Piecing, hand: &Hand, pressings: usize) -> Vec<Copies> {
    let lies = lies(quilt, top);
    let rules: Vec<fn(Lies, usize) -> usize> = match pressings {
        1 => vec![|_, _| 0],
        2 | 3 => vec![|at, k| (at.across + at.up) % k, |at, k| at.up % k, |at, k| at.across % k, |at, k| at.turns % k],
        _ => vec![
            |at, _| at.across % 2 + 2 * (at.up % 2),
            |at, k| (at.across + at.up) % k,
            |at, k| (at.across + 2 * at.up) % k,
            |at, k| at.up % k,
            |at, k| at.across % k,
            |at, k| at.turns % k,
        ],
    };
    let mut all: Vec<Copies> = Vec::new();
    for rule in rules {
        let classes: Vec<usize> = lies.iter().map(|at| rule(*at, pressings)).collect();
        let copies = numbered(piecing, hand, &classes);
        if !all.contains(&copies) {
            all.push(copies);
        }
    }
    all
}

/// Copies by class, numbered in order of first use, so that no pressing is empty.
pub(super) fn numbered(piecing: &Piecing, hand: &Hand, classes: &[usize]) -> Copies {
    let mut known: Vec<Vec<usize>> = vec![Vec::new(); piecing.designs.len()];
    let mut of_place = Vec::with_capacity(classes.len());
    for (place, (held, &class)) in piecing.holds.iter().zip(classes).enumerate() {
        let alone = hand.of_places.iter().any(|wish| wish.on == place);
        // Far from all classes, and no two alike.
        let class = if alone { usize::MAX - place } else { class };
        let known = &mut known[held.design];
        let number = known.iter().position(|other| *other == class).unwrap_or_else(|| {
            known.push(class);
            known.len() - 1
        });
        of_place.push(number);
    }
    Copies { of_place, count: known.iter().map(Vec::len).collect() }
}

/// Where places stand: by rows and columns, or on point by their diagonals.
fn lies(quilt: &Quilt, top: &Top) -> Vec<Lies> {
    let on_point = matches!(quilt.setting.layout, Layout::OnPoint { .. });
    let place = |place: &crate::set::PlacedBlock| {
        let turns = usize::from(quilt.setting.places[place.row][place.number].turns);
        // On point the rows between are half a place to the right; down and up the diagonals, in whole places.
        let (across, up) = if on_point {
            let right = 2 * place.number + place.row % 2;
            (right + place.row, right + 2 * top.places.len() - place.row)
        } else {
            (2 * place.number, 2 * place.row)
        };
        Lies { across: across / 2, up: up / 2, turns }
    };
    top.places.iter().map(place).collect()
}
