//! Sheets of several sizes and prices: patterns for whole sheets, and which of them hold everything for the least price.
//!
//! In: a job of sheets. Out: sheets with their strips. A pattern is a filling of a sheet's height with strips, the first cut across or along.
//! A linear programme over patterns gives whole sheets; the rest is cut sheet by sheet, the most area for its price first, and
//! then some sheets are taken out again and again and what they held is cut anew for less.

use std::rc::Rc;

use super::library::{Block, Library, Values};
use super::refill::{Left, refill};
use super::table::{Item, Used, blocks, fill};
use super::{Budget, Steps};
use crate::grid::Grid;
use crate::job::Kind;
use crate::lp::{Row, Rows, cover};
use crate::sheets::{CutSheet, FirstCut, SheetJob, turned_about};

/// Rounds of new patterns in the programme.
const ROUNDS: usize = 40;
/// Heights of strips beside those of pieces.
const MORE_HEIGHTS: usize = 12;
/// States kept while all that is left is cut from one sheet.
const LAST_BEAM: usize = 4;
/// How much more than its area a piece may be worth, so that other ones are used up first each time. Found by trying.
const BIAS: f32 = 0.6;
/// Ways to cut the rest that are tried at first.
const STARTS: usize = 6;

/// One size of sheet with the direction of its first cut.
struct Source<'a, const N: usize> {
    sheet: usize,
    turned: bool,
    height: u32,
    price: f64,
    grid: &'a Grid,
    library: Library<'a, N>,
}

/// A filled sheet.
#[derive(Clone)]
struct Pattern<const N: usize> {
    source: usize,
    strips: Vec<Rc<Block<N>>>,
    used: Used<N>,
}

type Sheets<const N: usize> = Vec<(Pattern<N>, u32)>;

/// The sheets for the least price found; none when the sheets there are run out.
pub(crate) fn cut_sheets(job: &SheetJob, budget: Budget, wanted: &dyn Fn() -> bool) -> Option<Vec<CutSheet>> {
    let mut steps = Steps { done: 0, most: budget.0, seed: 1, wanted };
    match job.kinds().len() {
        0..=16 => Search::<16>::run(job, &mut steps),
        17..=32 => Search::<32>::run(job, &mut steps),
        33..=96 => Search::<96>::run(job, &mut steps),
        _ => Search::<304>::run(job, &mut steps),
    }
}

struct Search<'a, const N: usize> {
    job: &'a SheetJob,
    sources: Vec<Source<'a, N>>,
    areas: [u64; N],
}

impl<'a, const N: usize> Search<'a, N> {
    fn run(job: &SheetJob, steps: &mut Steps) -> Option<Vec<CutSheet>> {
        let step = Grid::step(job.kinds(), job.kerf());
        let across = job.kinds().to_vec();
        let along: Vec<Kind> = across.iter().map(turned_about).collect();
        let grids: Vec<(usize, bool, u32, Grid)> = job
            .sheets()
            .iter()
            .enumerate()
            .flat_map(|(number, sheet)| [(number, false, sheet.width, sheet.height), (number, true, sheet.height, sheet.width)])
            .filter(|&(_, turned, ..)| !turned || job.first_cut() == FirstCut::Any)
            .map(|(number, turned, width, height)| {
                let kinds = if turned { &along } else { &across };
                let grid = Grid::with(kinds, job.kerf(), width, height, step);
                (number, turned, (height + job.kerf()) / step, grid)
            })
            .collect();
        let mut wanted = Left([0; N]);
        across.iter().enumerate().for_each(|(kind, piece)| wanted.0[kind] = piece.count);
        let mut areas = [0; N];
        across.iter().enumerate().for_each(|(kind, piece)| {
            areas[kind] = u64::from((piece.width + job.kerf()) / step) * u64::from((piece.height + job.kerf()) / step);
        });
        let sources = grids
            .iter()
            .map(|(sheet, turned, height, grid)| {
                let values = Values(areas.map(|area| area as f32));
                let levels = (*height.min(&grid.width), 0.06);
                let library = Library::new(grid, job.stages().limit(), &wanted.near(), values, levels, &mut steps.done);
                Source {
                    sheet: *sheet,
                    turned: *turned,
                    height: *height,
                    price: job.sheets()[*sheet].price as f64,
                    grid,
                    library,
                }
            })
            .collect();
        let search = Search { job, sources, areas };
        let sheets = search.improve(search.first(&wanted, steps)?, steps);
        Some(search.told(sheets))
    }

    /// The best filling of a sheet within what is left.
    fn pattern(&self, number: usize, left: &Used<N>, values: &Values<N>, steps: &mut Steps) -> Option<(f32, Pattern<N>)> {
        let source = &self.sources[number];
        let promising = source.library.promising();
        let mut heights = source.library.heights(left);
        (0..MORE_HEIGHTS.min(promising.len())).for_each(|_| heights.push(promising[steps.below(promising.len())]));
        heights.sort_unstable();
        heights.dedup();
        heights.retain(|&height| height <= source.height);
        let strips: Vec<(f32, Rc<Block<N>>)> =
            heights.into_iter().filter_map(|height| source.library.strip(height, left, values, 0.0, &mut steps.done)).collect();
        let items: Vec<Item<N>> =
            strips.iter().map(|(value, strip)| Item { size: strip.height, value: *value, used: strip.used }).collect();
        let cells = fill(&items, source.height, left, 0.0, &mut steps.done);
        let chosen: Vec<Rc<Block<N>>> =
            blocks(&cells, &items, source.height as usize).into_iter().map(|strip| strips[strip].1.clone()).collect();
        let cell = &cells[source.height as usize];
        (!chosen.is_empty()).then_some((cell.value, Pattern { source: number, strips: chosen, used: cell.used }))
    }

    fn plain(&self) -> Values<N> {
        Values(self.areas.map(|area| area as f32))
    }

    fn biased(&self, steps: &mut Steps) -> Values<N> {
        let mut values = self.plain();
        let bias = BIAS * steps.share();
        values.0.iter_mut().for_each(|value| *value *= 1.0 + bias * steps.share());
        values
    }

    /// Whole sheets of the linear programme, and the rest cut in the cheapest of some ways.
    fn first(&self, wanted: &Left<N>, steps: &mut Steps) -> Option<Sheets<N>> {
        let mut left = *wanted;
        let mut sheets: Sheets<N> = Vec::new();
        for (pattern, amount) in self.relax(wanted, steps).unwrap_or_default() {
            let times = ((amount + 1e-6) as u32).min(left.times(&pattern.used)).min(self.unused(&sheets, pattern.source));
            if times > 0 {
                left.take(&pattern.used, times);
                sheets.push((pattern, times));
            }
        }
        let rests = (0..STARTS).filter_map(|start| {
            let values = if start == 0 { self.plain() } else { self.biased(steps) };
            self.rest(&left, &sheets, &values, f64::INFINITY, steps)
        });
        let rest = rests.min_by(|a, b| self.price(a).total_cmp(&self.price(b)))?;
        sheets.extend(rest);
        Some(sheets)
    }

    fn price(&self, sheets: &Sheets<N>) -> f64 {
        sheets.iter().map(|(pattern, times)| self.sources[pattern.source].price * f64::from(*times)).sum()
    }

    /// How many sheets of a source's size are not used yet.
    fn unused(&self, sheets: &Sheets<N>, source: usize) -> u32 {
        let size = self.sources[source].sheet;
        let used: u32 =
            sheets.iter().filter(|(pattern, _)| self.sources[pattern.source].sheet == size).map(|sheet| sheet.1).sum();
        self.job.sheets()[size].available.map_or(u32::MAX, |available| available.saturating_sub(used))
    }

    /// Sheet by sheet, the most value for its price first; the cheapest that ends it when one does. Below `most`, or none.
    fn rest(&self, left: &Left<N>, before: &Sheets<N>, values: &Values<N>, most: f64, steps: &mut Steps) -> Option<Sheets<N>> {
        let mut left = *left;
        let mut all = before.clone();
        let mut rest: Sheets<N> = Vec::new();
        while !left.is_empty() {
            if let Some(last) = self.last(&left, &all, values, steps) {
                rest.push((last, 1));
                return (self.price(&rest) <= most).then_some(rest);
            }
            let mut best: Option<(f64, Pattern<N>)> = None;
            for number in 0..self.sources.len() {
                if self.unused(&all, number) == 0 {
                    continue;
                }
                let Some((value, pattern)) = self.pattern(number, &left.near(), values, steps) else { continue };
                let ends = left.0.iter().zip(&pattern.used.0).all(|(&left, &used)| left == u32::from(used));
                let score = if ends {
                    1e12 / self.sources[number].price.max(1e-9)
                } else {
                    f64::from(value) / self.sources[number].price.max(1e-9)
                };
                if best.as_ref().is_none_or(|best| score > best.0) {
                    best = Some((score, pattern));
                }
            }
            let (_, pattern) = best?;
            let times = (left.times(&pattern.used).max(1) / 2).max(1).min(self.unused(&all, pattern.source));
            left.take(&pattern.used, times);
            all.push((pattern.clone(), times));
            rest.push((pattern, times));
            if self.price(&rest) > most {
                return None;
            }
        }
        Some(rest)
    }

    /// The cheapest single sheet that is found to hold all that is left, when its area could.
    fn last(&self, left: &Left<N>, before: &Sheets<N>, values: &Values<N>, steps: &mut Steps) -> Option<Pattern<N>> {
        let area = left.area(&self.areas);
        let mut order: Vec<usize> = (0..self.sources.len()).collect();
        order.sort_by(|&a, &b| self.sources[a].price.total_cmp(&self.sources[b].price).then(a.cmp(&b)));
        order.retain(|&number| {
            let source = &self.sources[number];
            area <= u64::from(source.grid.width) * u64::from(source.height) && self.unused(before, number) > 0
        });
        order.into_iter().find_map(|number| {
            let source = &self.sources[number];
            let (_, strips) = refill(source.grid, &source.library, values, *left, source.height, (LAST_BEAM, true), steps)?;
            let strips = strips.into_iter().flat_map(|(strip, times)| vec![strip; times as usize]).collect();
            Some(Pattern { source: number, strips, used: left.near() })
        })
    }

    /// The programme over patterns: patterns and how much of each.
    fn relax(&self, wanted: &Left<N>, steps: &mut Steps) -> Option<Vec<(Pattern<N>, f64)>> {
        let kinds = self.job.kinds().len();
        let near = wanted.near();
        let objective: Vec<f64> = (0..kinds).map(|kind| f64::from(wanted.0[kind])).collect();
        let row = |pattern: &Pattern<N>| {
            let terms = pattern.used.0.iter().enumerate().filter(|(_, count)| **count > 0);
            Row {
                terms: terms.map(|(kind, &count)| (kind, f64::from(count))).collect(),
                most: self.sources[pattern.source].price,
            }
        };
        let mut patterns: Vec<Pattern<N>> = Vec::new();
        for kind in 0..kinds {
            let mut alone = Used::NONE;
            alone.0[kind] = near.0[kind];
            for number in 0..self.sources.len() {
                patterns.extend(self.pattern(number, &alone, &self.plain(), steps).map(|(_, pattern)| pattern));
            }
        }
        let rows: Vec<Row> = patterns.iter().map(row).collect();
        let mut programme = Rows::maximize(&objective, &rows);
        for _ in 0..ROUNDS {
            let worths = programme.values()?;
            let mut values = Values([0.0; N]);
            worths.iter().enumerate().for_each(|(kind, &worth)| values.0[kind] = worth as f32);
            let mut added = false;
            for number in 0..self.sources.len() {
                let Some((value, pattern)) = self.pattern(number, &near, &values, steps) else { continue };
                if f64::from(value) > self.sources[number].price * (1.0 + 1e-5) && programme.add(&row(&pattern)) {
                    patterns.push(pattern);
                    added = true;
                }
            }
            if !added || steps.spent() {
                break;
            }
        }
        let columns: Vec<(f64, Vec<(usize, f64)>)> = patterns.iter().map(row).map(|row| (row.most, row.terms)).collect();
        let amounts = cover(&columns, &objective)?;
        Some(patterns.into_iter().zip(amounts).collect())
    }

    /// Takes a few sheets out and cuts their pieces anew, for less.
    fn improve(&self, mut sheets: Sheets<N>, steps: &mut Steps) -> Sheets<N> {
        while !steps.spent() {
            let mut kept = sheets.clone();
            let mut left = Left([0; N]);
            let mut price = 0.0;
            for _ in 0..2 + steps.below(4) {
                if kept.is_empty() {
                    break;
                }
                let place = steps.below(kept.len());
                left.give(&kept[place].0.used, 1);
                price += self.sources[kept[place].0.source].price;
                kept[place].1 -= 1;
                kept.retain(|(_, times)| *times > 0);
            }
            let values = self.biased(steps);
            if let Some(rest) = self.rest(&left, &kept, &values, price, steps) {
                kept.extend(rest);
                sheets = kept;
            }
        }
        sheets
    }

    fn told(&self, sheets: Sheets<N>) -> Vec<CutSheet> {
        let told = sheets.into_iter().map(|(pattern, times)| {
            let source = &self.sources[pattern.source];
            let strips = pattern.strips.iter().map(|strip| strip.panel(source.grid)).collect();
            CutSheet { sheet: source.sheet, times, turned: source.turned, strips }
        });
        let mut told: Vec<CutSheet> = told.collect();
        told.sort_by_key(|sheet| (sheet.sheet, sheet.turned));
        told
    }
}
