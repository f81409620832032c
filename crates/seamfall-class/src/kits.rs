//! Kits: whose piece comes off which strip.
//!
//! In: a layout of all students' pieces, and how many of each kind each student needs. Out: the strips in the order of cutting, and for each run of
//! equal strips whose pieces they give. Pieces are handed out in the order of the class, so that a kit is done before the next is begun as far as
//! strips allow.

use seamfall_cutting::layout::{Content, Layout, Panel};
use seamfall_plan::cut::KindOf;
use std::collections::BTreeMap;

/// Pieces of one kind that a student gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KitPiece {
    /// The student.
    pub student: usize,
    /// Number of the kind in the layout.
    pub kind: usize,
    /// Which piece of the pool it is for, and how much of it.
    pub of: KindOf,
    /// How many.
    pub count: u32,
}

/// Strips that follow one another, are cut alike, and give the same students the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripKits {
    /// Number of the line in the table of cuts, from 0.
    pub line: usize,
    /// The first of them and the last, counted from 1 among the strips of that line.
    pub from: u32,
    /// See [`StripKits::from`].
    pub to: u32,
    /// What one of them gives.
    pub gives: Vec<Given>,
}

/// Pieces off a strip for one student.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Given {
    /// The student.
    pub student: usize,
    /// Number of the kind in the layout.
    pub kind: usize,
    /// How many.
    pub count: u32,
}

/// Hands the pieces of every strip out; `shares` tells for each kind how many each student needs.
pub(crate) fn strips(layout: &Layout, shares: &[Vec<(usize, u32)>]) -> Vec<StripKits> {
    let mut left: Vec<Vec<(usize, u32)>> = shares.iter().map(|shares| shares.iter().rev().copied().collect()).collect();
    let mut told: Vec<StripKits> = Vec::new();
    for (line, strip) in layout.strips.iter().enumerate() {
        let mut counts = BTreeMap::new();
        count(&strip.panel, &mut counts);
        for number in 1..=strip.times {
            let mut gives: Vec<Given> =
                counts.iter().flat_map(|(&kind, &wanted)| hand_out(&mut left[kind], kind, wanted)).collect();
            gives.sort_by_key(|given| (given.student, given.kind));
            match told.last_mut() {
                Some(last) if last.line == line && last.gives == gives => last.to = number,
                _ => told.push(StripKits { line, from: number, to: number, gives }),
            }
        }
    }
    told
}

/// How many of each kind a panel gives.
fn count(panel: &Panel, counts: &mut BTreeMap<usize, u32>) {
    match &panel.content {
        Content::Piece { kind, .. } => *counts.entry(*kind).or_default() += 1,
        Content::Across(panels) | Content::Along(panels) => panels.iter().for_each(|panel| count(panel, counts)),
    }
}

/// Takes `wanted` pieces off what is still to be handed out; the last of `left` comes first.
fn hand_out(left: &mut Vec<(usize, u32)>, kind: usize, mut wanted: u32) -> Vec<Given> {
    let mut given = Vec::new();
    while wanted > 0
        && let Some((student, open)) = left.last_mut()
    {
        let count = wanted.min(*open);
        given.push(Given { student: *student, kind, count });
        *open -= count;
        wanted -= count;
        if *open == 0 {
            left.pop();
        }
    }
    given
}
