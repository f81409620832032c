//! The programme over strips: one knapsack for each height of strip.
//!
//! In: limits on how many strips of each height there are, if any. Out: a worth for every kind and a bonus for every height such that a
//! strip is worth at most its height. Strips are no higher than their highest piece, so the heights of pieces are those of strips.

use super::knapsack::{Bar, most_worth};
use crate::grid::Grid;
use crate::lp::{Row, Rows};

/// A worth in whole numbers is this many times the worth in the programme.
pub(super) const SCALE: f64 = 10_000.0;
/// Rounds of new strips.
const MOST_ROUNDS: usize = 60;
/// Work that a programme takes for each pair of a row and a variable.
const SOLVING: u64 = 16;
/// No worth of a piece or bonus of a strip is more than this many times the tallest piece: limits that cannot be met have an answer, too.
const MOST_BONUS: f64 = 20.0;

/// One strip: how high, and how many of each lie.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filled {
    pub height: u32,
    /// Copies of each lie, by its place in the grid's list.
    copies: Vec<(usize, u32)>,
}

impl Filled {
    /// Copies of each kind.
    pub fn terms(&self, grid: &Grid) -> Vec<(usize, f64)> {
        let mut terms: Vec<(usize, f64)> = Vec::new();
        for &(lie, copies) in &self.copies {
            match terms.iter_mut().find(|term| term.0 == grid.lies[lie].kind) {
                Some(term) => term.1 += f64::from(copies),
                None => terms.push((grid.lies[lie].kind, f64::from(copies))),
            }
        }
        terms
    }
}

/// Least and most strips of each height, by its place.
#[derive(Debug, Clone)]
pub(super) struct Limits(pub Vec<(u32, Option<u32>)>);

impl Limits {
    pub fn none(heights: usize) -> Self {
        Self(vec![(0, None); heights])
    }

    pub fn at_most(&self, height: usize, most: u32) -> Self {
        let mut limits = self.clone();
        limits.0[height].1 = Some(limits.0[height].1.map_or(most, |before| before.min(most)));
        limits
    }

    pub fn at_least(&self, height: usize, least: u32) -> Self {
        let mut limits = self.clone();
        limits.0[height].0 = limits.0[height].0.max(least);
        limits
    }

    /// The limits of a height.
    pub fn of(&self, heights: &[u32], height: u32) -> (u32, Option<u32>) {
        heights.binary_search(&height).map_or((0, None), |place| self.0[place])
    }
}

/// Worths of kinds and bonuses of heights, by place.
pub(super) struct Priced {
    pub worths: Vec<f64>,
    pub bonuses: Vec<f64>,
}

/// A worth in whole numbers.
pub(super) fn whole(worth: f64) -> u64 {
    (worth * SCALE) as u64
}

/// The different heights of pieces, lowest first.
pub(super) fn heights(grid: &Grid) -> Vec<u32> {
    let mut heights: Vec<u32> = grid.lies.iter().map(|lie| lie.height).collect();
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// Most worth in a strip of this height, and the copies of each lie. A kind that may be turned counts as often either way.
pub(super) fn fullest(grid: &Grid, worths: &[u64], height: u32) -> (u64, Vec<u32>) {
    let bar = |lie: &crate::grid::Lie| {
        let limit = if lie.height <= height { grid.wanted[lie.kind] } else { 0 };
        Bar { size: lie.width, worth: worths[lie.kind], limit }
    };
    let bars: Vec<Bar> = grid.lies.iter().map(bar).collect();
    most_worth(&bars, grid.width)
}

/// Solves the programme by rows: each round adds the fullest strip of every height that is worth more than its height.
pub(super) fn price(grid: &Grid, heights: &[u32], limits: &Limits, strips: &mut Vec<Filled>, work: &mut u64) -> Priced {
    let kinds = grid.wanted.len();
    if strips.is_empty() {
        strips.extend(grid.lies.iter().enumerate().map(|(place, lie)| {
            let fit = (grid.width / lie.width).min(grid.wanted[lie.kind]).max(1);
            Filled { height: lie.height, copies: vec![(place, fit)] }
        }));
    }
    let signs = signs(limits);
    let mut objective: Vec<f64> = grid.wanted.iter().map(|&count| f64::from(count)).collect();
    objective.extend(signs.iter().map(|&(_, sign, count)| sign * count));
    let row = |strip: &Filled| {
        let mut terms = strip.terms(grid);
        let mine = signs.iter().enumerate().filter(|(_, sign)| heights[sign.0] == strip.height);
        terms.extend(mine.map(|(place, sign)| (kinds + place, sign.1)));
        Row { terms, most: f64::from(strip.height) }
    };
    let most = MOST_BONUS * f64::from(heights.last().copied().unwrap_or(1));
    let mut rows: Vec<Row> = strips.iter().map(row).collect();
    if !signs.is_empty() {
        rows.extend((0..objective.len()).map(|place| Row { terms: vec![(place, 1.0)], most }));
    }
    let mut programme = Rows::maximize(&objective, &rows);
    *work += (rows.len() * rows.len()) as u64 * SOLVING;
    let mut values = areas(grid);
    values.resize(objective.len(), 0.0);
    for _ in 0..MOST_ROUNDS {
        let Some(solved) = programme.values() else { break };
        values = solved;
        let bonuses = bonuses(&signs, &values[kinds..], heights.len());
        let worths: Vec<u64> = values[..kinds].iter().map(|&worth| whole(worth)).collect();
        let before = strips.len();
        for (&height, bonus) in heights.iter().zip(&bonuses) {
            let (most, counts) = fullest(grid, &worths, height);
            *work += (grid.lies.len() * grid.width as usize) as u64;
            if most as f64 + bonus * SCALE > f64::from(height) * SCALE * (1.0 + 1e-6) {
                let copies = counts.iter().enumerate().filter(|(_, count)| **count > 0).map(|(lie, &count)| (lie, count));
                let strip = Filled { height, copies: copies.collect() };
                *work += (strips.len() * objective.len()) as u64 * SOLVING;
                if !strips.contains(&strip) && programme.add(&row(&strip)) {
                    strips.push(strip);
                }
            }
        }
        if strips.len() == before {
            break;
        }
    }
    if let Some(solved) = programme.values() {
        values = solved;
    }
    let bonuses = bonuses(&signs, &values[kinds..], heights.len());
    values.truncate(kinds);
    Priced { worths: values, bonuses }
}

/// What each kind is worth by its area.
fn areas(grid: &Grid) -> Vec<f64> {
    let area = |kind: usize| {
        let lie = grid.lies.iter().find(|lie| lie.kind == kind).expect("every kind can be laid");
        f64::from(lie.width) * f64::from(lie.height) / f64::from(grid.width)
    };
    (0..grid.wanted.len()).map(area).collect()
}

/// A variable for each limit: its height's place, whether it is paid or to be paid, and its number of strips.
fn signs(limits: &Limits) -> Vec<(usize, f64, f64)> {
    let mut signs = Vec::new();
    for (place, &(least, most)) in limits.0.iter().enumerate() {
        if least > 0 {
            signs.push((place, 1.0, f64::from(least)));
        }
        signs.extend(most.map(|most| (place, -1.0, f64::from(most))));
    }
    signs
}

fn bonuses(signs: &[(usize, f64, f64)], values: &[f64], heights: usize) -> Vec<f64> {
    let mut bonuses = vec![0.0; heights];
    signs.iter().zip(values).for_each(|(sign, value)| bonuses[sign.0] += sign.1 * value);
    bonuses
}
