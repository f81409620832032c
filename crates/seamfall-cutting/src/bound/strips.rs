//! The bound for cross strips, sub-cuts and a trim: one knapsack for each height of strip.
//!
//! Every kind gets a worth such that a strip is worth at most its height. Strips are no higher than their highest piece, so the
//! heights of pieces are the heights of strips.

use super::knapsack::{Bar, most_worth};
use super::proof::{Argument, Proof};
use super::sums;
use crate::grid::Grid;
use crate::lp::{Row, Rows};

/// A worth in whole numbers is this many times the worth in the programme.
const SCALE: f64 = 10_000.0;
/// Rounds of new strips.
const MOST_ROUNDS: usize = 60;

/// One strip: how high, and how many of each lie.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Filled {
    pub height: u32,
    /// Copies of each lie, by its place in the grid's list.
    pub copies: Vec<(usize, u32)>,
}

/// The bound, with its worths.
pub(super) fn two_stage(grid: &Grid) -> Proof {
    let worths = relax(grid);
    let worths: Vec<u64> = worths.iter().map(|&worth| (worth * SCALE) as u64).collect();
    let strip = heights(grid)
        .into_iter()
        .map(|height| (height, fullest(grid, &worths, height).0))
        .max_by(|a, b| (u128::from(a.1) * u128::from(b.0)).cmp(&(u128::from(b.1) * u128::from(a.0))))
        .expect("a job has pieces");
    let all: u128 = worths.iter().zip(&grid.wanted).map(|(&worth, &count)| u128::from(worth) * u128::from(count)).sum();
    let refuted = (all * u128::from(strip.0)).saturating_sub(1) / u128::from(strip.1.max(1));
    let refuted = u64::try_from(refuted).unwrap_or(u64::MAX);
    let length = super::proof::raised(&sums(grid, refuted + 1), refuted, grid);
    Proof { length, refuted, step: grid.step, argument: Argument::Strips { worths, strip } }
}

/// Whether no strip holds more for its height than the one named.
pub(super) fn holds_at_most(grid: &Grid, worths: &[u64], strip: (u32, u64)) -> bool {
    worths.len() == grid.wanted.len()
        && heights(grid).into_iter().all(|height| {
            let (most, _) = fullest(grid, worths, height);
            u128::from(most) * u128::from(strip.0) <= u128::from(strip.1) * u128::from(height)
        })
}

/// The different heights of pieces, lowest first.
pub(crate) fn heights(grid: &Grid) -> Vec<u32> {
    let mut heights: Vec<u32> = grid.lies.iter().map(|lie| lie.height).collect();
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// Most worth in a strip of this height, and the copies of each lie. A kind that may be turned counts as often either way.
fn fullest(grid: &Grid, worths: &[u64], height: u32) -> (u64, Vec<u32>) {
    let bar = |lie: &crate::grid::Lie| {
        let limit = if lie.height <= height { grid.wanted[lie.kind] } else { 0 };
        Bar { size: lie.width, worth: worths[lie.kind], limit }
    };
    let bars: Vec<Bar> = grid.lies.iter().map(bar).collect();
    most_worth(&bars, grid.width)
}

/// Solves the programme by rows: each round adds the fullest strip of every height that is worth more than its height.
fn relax(grid: &Grid) -> Vec<f64> {
    let objective: Vec<f64> = grid.wanted.iter().map(|&count| f64::from(count)).collect();
    let mut strips: Vec<Filled> = grid
        .lies
        .iter()
        .enumerate()
        .map(|(place, lie)| {
            let fit = (grid.width / lie.width).min(grid.wanted[lie.kind]).max(1);
            Filled { height: lie.height, copies: vec![(place, fit)] }
        })
        .collect();
    let row = |strip: &Filled| {
        let mut terms: Vec<(usize, f64)> = Vec::new();
        for &(lie, copies) in &strip.copies {
            match terms.iter_mut().find(|term| term.0 == grid.lies[lie].kind) {
                Some(term) => term.1 += f64::from(copies),
                None => terms.push((grid.lies[lie].kind, f64::from(copies))),
            }
        }
        Row { terms, most: f64::from(strip.height) }
    };
    let rows: Vec<Row> = strips.iter().map(row).collect();
    let mut programme = Rows::maximize(&objective, &rows);
    let area = |kind: usize| {
        let lie = grid.lies.iter().find(|lie| lie.kind == kind).expect("every kind can be laid");
        f64::from(lie.width) * f64::from(lie.height) / f64::from(grid.width)
    };
    let mut worths: Vec<f64> = (0..grid.wanted.len()).map(area).collect();
    for _ in 0..MOST_ROUNDS {
        let Some(values) = programme.values() else { break };
        worths = values;
        let whole: Vec<u64> = worths.iter().map(|&worth| (worth * SCALE) as u64).collect();
        let before = strips.len();
        for height in heights(grid) {
            let (most, counts) = fullest(grid, &whole, height);
            if most as f64 > f64::from(height) * SCALE * (1.0 + 1e-6) {
                let copies = counts.iter().enumerate().filter(|(_, count)| **count > 0).map(|(lie, &count)| (lie, count));
                let strip = Filled { height, copies: copies.collect() };
                if !strips.contains(&strip) && programme.add(&row(&strip)) {
                    strips.push(strip);
                }
            }
        }
        if strips.len() == before {
            break;
        }
    }
    if let Some(values) = programme.values() {
        worths = values;
    }
    worths
}
