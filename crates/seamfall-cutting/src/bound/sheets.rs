//! A price that no sheets cut in two stages and a trim are below.
//!
//! In: a job of sheets with a limit of two stages. Out: a price. Every kind gets a worth such that what one sheet holds is worth at most its
//! price: a linear programme, one row for each filling of a sheet, found by a knapsack of strips of the fullest strip for each
//! height. At the end worths and fillings are whole numbers again. How many sheets there are is left out.

use super::knapsack::{Bar, Sums, most_worth};
use super::strips::{fullest, heights};
use crate::grid::Grid;
use crate::job::Kind;
use crate::lp::{Row, Rows};
use crate::sheets::{FirstCut, SheetJob, turned_about};

/// The dearest sheet is worth as much in whole numbers.
const DEAREST: f64 = 1e9;
/// Rounds of new fillings, at most.
const MOST_ROUNDS: usize = 400;
/// Sums of prices are looked at up to so many times their common part.
const MOST_SUMS: u64 = 10_000_000;

/// One size of sheet with the direction of its first cut.
struct Source {
    price: u64,
    grid: Grid,
    height: u32,
    heights: Vec<u32>,
}

impl Source {
    /// The most worth on a sheet, and the copies of each kind that reach it.
    fn fullest(&self, worths: &[u64]) -> (u64, Vec<u32>) {
        let strips: Vec<(u64, Vec<u32>)> = self.heights.iter().map(|&height| fullest(&self.grid, worths, height)).collect();
        let bar = |(&size, strip): (&u32, &(u64, Vec<u32>))| Bar { size, worth: strip.0, limit: u32::MAX };
        let bars: Vec<Bar> = self.heights.iter().zip(&strips).map(bar).collect();
        let (most, times) = most_worth(&bars, self.height);
        let mut counts = vec![0; worths.len()];
        for ((_, copies), times) in strips.iter().zip(times) {
            for (lie, copies) in self.grid.lies.iter().zip(copies) {
                counts[lie.kind] += copies * times;
            }
        }
        (most, counts)
    }
}

/// The bound, in hundredths.
pub(crate) fn two_stage(job: &SheetJob) -> u64 {
    let sources = sources(job);
    let wanted: Vec<u32> = job.kinds().iter().map(|kind| kind.count).collect();
    let dearest = sources.iter().map(|source| source.price).max().unwrap_or(0);
    if sources.iter().any(|source| source.price == 0) {
        return 0;
    }
    let worths = relax(&sources, &wanted, DEAREST / dearest as f64);
    let all: u128 = worths.iter().zip(&wanted).map(|(&worth, &count)| u128::from(worth) * u128::from(count)).sum();
    let least = sources.iter().map(|source| {
        let most = u128::from(source.fullest(&worths).0.max(1));
        (all * u128::from(source.price)).div_ceil(most)
    });
    let least = u64::try_from(least.min().unwrap_or(0)).unwrap_or(0);
    payable(&sources, least)
}

fn sources(job: &SheetJob) -> Vec<Source> {
    let step = Grid::step(job.kinds(), job.kerf());
    let along: Vec<Kind> = job.kinds().iter().map(turned_about).collect();
    let mut sources = Vec::new();
    for sheet in job.sheets() {
        let ways = [(job.kinds(), sheet.width, sheet.height), (&along, sheet.height, sheet.width)];
        for (kinds, width, height) in ways.into_iter().take(if job.first_cut() == FirstCut::Any { 2 } else { 1 }) {
            let grid = Grid::with(kinds, job.kerf(), width, height, step);
            let heights = heights(&grid);
            sources.push(Source { price: sheet.price, height: (height + job.kerf()) / step, heights, grid });
        }
    }
    sources
}

/// Worths of kinds, in whole numbers, `scale` to a hundredth.
fn relax(sources: &[Source], wanted: &[u32], scale: f64) -> Vec<u64> {
    let objective: Vec<f64> = wanted.iter().map(|&count| f64::from(count)).collect();
    // Prices are taken as parts of the dearest, so that the numbers of the programme are of one size.
    let price = |source: &Source| source.price as f64 * scale / DEAREST;
    let row = |source: &Source, counts: &[u32]| {
        let terms = counts.iter().enumerate().filter(|(_, count)| **count > 0).map(|(kind, &count)| (kind, f64::from(count)));
        Row { terms: terms.collect(), most: price(source) }
    };
    let mut rows = Vec::new();
    for kind in 0..wanted.len() {
        let alone: Vec<u64> = (0..wanted.len()).map(|other| u64::from(other == kind)).collect();
        rows.extend(sources.iter().map(|source| row(source, &source.fullest(&alone).1)).filter(|row| !row.terms.is_empty()));
    }
    let mut programme = Rows::maximize(&objective, &rows);
    let mut worths = vec![0; wanted.len()];
    for _ in 0..MOST_ROUNDS {
        let Some(values) = programme.values() else { break };
        worths = values.iter().map(|&value| (value * DEAREST) as u64).collect();
        let mut added = false;
        for source in sources {
            let (most, counts) = source.fullest(&worths);
            if most as f64 > price(source) * DEAREST * (1.0 + 1e-7) {
                added |= programme.add(&row(source, &counts));
            }
        }
        if !added {
            break;
        }
    }
    worths
}

/// The least sum of prices from `least` on.
fn payable(sources: &[Source], least: u64) -> u64 {
    let common = sources.iter().fold(0, |common, source| greatest_common(common, source.price));
    let most = least.div_ceil(common) + sources.iter().map(|source| source.price / common).min().unwrap_or(0);
    if most > MOST_SUMS {
        return least.div_ceil(common) * common;
    }
    let prices: Vec<(u32, u32)> =
        sources.iter().filter_map(|source| Some((u32::try_from(source.price / common).ok()?, u32::MAX))).collect();
    Sums::of(&prices, most).next(least.div_ceil(common)) * common
}

fn greatest_common(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Stages;
    use crate::sheets::Sheet;

    /// Sums of 16.00 and 38.00, counted by hand: 16, 32, 38, 48, 54, 64, 70, 76, 80 ...
    #[test]
    fn what_is_paid_is_a_sum_of_prices() {
        let sheet = |name: &str, price| Sheet { name: name.into(), width: 20, height: 20, price, available: None };
        let kind = Kind { name: "square".into(), width: 10, height: 10, count: 4, turn: true };
        let sheets = vec![sheet("crib", 1_600), sheet("queen", 3_800)];
        let job = SheetJob::new(sheets, 0, Stages::TWO, FirstCut::Any, vec![kind]).expect("it fits");
        let sources = sources(&job);
        for (least, paid) in
            [(1, 1_600), (1_600, 1_600), (1_601, 3_200), (3_300, 3_800), (4_799, 4_800), (5_401, 6_400), (7_700, 8_000)]
        {
            assert_eq!(payable(&sources, least), paid, "from {least}");
        }
    }
}
