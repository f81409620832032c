//! The bound for any layout: bars across the cloth, then bars along it.
//!
//! First every width gets a worth such that what lies side by side is worth at most the cloth's width, and the pieces together as much as
//! can be (a linear programme, one row for each pattern of bars). Where long pieces decide, the same is done once more along the cloth,
//! for a length that might be possible, with the widths' worths in place of the widths; if the pieces are then worth more than
//! the cloth, that length is refuted and the next one is tried.

use super::knapsack::{Bar, most_worth};
use super::proof::{Argument, Proof, Worth, bars, raised, worth, worth_of_all};
use super::sums;
use crate::grid::Grid;
use crate::lp::{Row, Rows};

/// A worth in whole numbers is this many times the worth in the programme.
const SCALE: f64 = 10_000.0;
/// Rows that a programme may grow by.
const MOST_ROWS: usize = 150;
/// Bars along the cloth are tried up to this length, in steps; beyond it they prove nothing that bars across do not.
const LONGEST_ALONG: u64 = 1_500;
/// Lengths that are tried at most with bars along the cloth.
const TRIES_ALONG: usize = 16;

pub(super) fn any_layout(grid: &Grid) -> Proof {
    let plain = identity(grid.lies.iter().map(|lie| lie.width));
    let best = across(grid).unwrap_or_else(|| plain.clone());
    let mut proof = by_tallest(grid);
    for scale in [&plain, &best] {
        let found = by_widths(grid, scale);
        if found.length > proof.length {
            proof = found;
        }
    }
    raise_along(grid, &[&plain, &best], proof)
}

/// Every size is worth itself.
fn identity(sizes: impl Iterator<Item = u32>) -> Vec<Worth> {
    let mut sizes: Vec<u32> = sizes.collect();
    sizes.sort_unstable();
    sizes.dedup();
    sizes.into_iter().map(|size| Worth { size, worth: u64::from(size) }).collect()
}

fn by_tallest(grid: &Grid) -> Proof {
    let shorter = |kind: usize| grid.lies.iter().filter(|lie| lie.kind == kind).map(|lie| lie.height).min().unwrap_or(0);
    let kind = (0..grid.wanted.len()).max_by_key(|&kind| shorter(kind)).unwrap_or(0);
    let refuted = u64::from(shorter(kind)).saturating_sub(1);
    proven(grid, refuted, Argument::Tallest { kind })
}

fn proven(grid: &Grid, refuted: u64, argument: Argument) -> Proof {
    let length = raised(&sums(grid, refuted + 1), refuted, grid);
    Proof { length, refuted, step: grid.step, argument }
}

fn by_widths(grid: &Grid, scale: &[Worth]) -> Proof {
    let wide = grid.lies.iter().map(|lie| (lie.width, lie.kind));
    let most_across = most_worth(&bars(scale, wide, grid), grid.width).0.max(1);
    let all = worth_of_all(grid, scale, &[], u64::MAX);
    // The cloth holds less than everything while its length times the most across is less.
    let refuted = u64::try_from(all.saturating_sub(1) / u128::from(most_across)).unwrap_or(u64::MAX);
    proven(grid, refuted, Argument::Sides { across: scale.to_vec(), most_across, along: Vec::new(), most_along: refuted })
}

/// The best worths of widths.
fn across(grid: &Grid) -> Option<Vec<Worth>> {
    let sizes = identity(grid.lies.iter().map(|lie| lie.width));
    let ways = grid.lies.iter().map(|lie| Way { kind: lie.kind, size: lie.width, factor: f64::from(lie.height) }).collect();
    best_scale(grid, &sizes, ways, grid.width)
}

/// The best worths of heights within `room`, when widths are worth `across`.
fn along(grid: &Grid, across: &[Worth], room: u32) -> Option<Vec<Worth>> {
    let fitting = || grid.lies.iter().filter(|lie| lie.height <= room);
    let sizes = identity(fitting().map(|lie| lie.height));
    let ways = fitting().map(|lie| Way { kind: lie.kind, size: lie.height, factor: worth(across, lie.width) as f64 }).collect();
    best_scale(grid, &sizes, ways, room)
}

/// One way to lay a kind: the side that gets a worth, and what it is multiplied with.
struct Way {
    kind: usize,
    size: u32,
    factor: f64,
}

/// Worths of `sizes` that make the pieces worth most while no bars within `room` are worth more than `room`.
fn best_scale(grid: &Grid, sizes: &[Worth], ways: Vec<Way>, room: u32) -> Option<Vec<Worth>> {
    let place = |size: u32| sizes.binary_search_by_key(&size, |one| one.size).expect("every side is listed");
    let mut objective = vec![0.0; sizes.len()];
    let mut limits = vec![0_u32; sizes.len()];
    let mut rows = Vec::new();
    let mean = ways.iter().map(|way| way.factor).sum::<f64>() / ways.len().max(1) as f64;
    for kind in 0..grid.wanted.len() {
        let count = f64::from(grid.wanted[kind]);
        let mine: Vec<&Way> = ways.iter().filter(|way| way.kind == kind).collect();
        mine.iter().for_each(|way| limits[place(way.size)] += grid.wanted[kind]);
        match mine[..] {
            [] => {}
            [only] => objective[place(only.size)] += count * only.factor / mean,
            _ => {
                let own = objective.len();
                objective.push(count);
                for way in mine {
                    rows.push(Row { terms: vec![(own, 1.0), (place(way.size), -way.factor / mean)], most: 0.0 });
                }
            }
        }
    }
    for (number, one) in sizes.iter().enumerate() {
        let fit = (room / one.size).min(limits[number]).max(1);
        rows.push(Row { terms: vec![(number, f64::from(fit))], most: f64::from(room) });
    }
    let mut programme = Rows::maximize(&objective, &rows);
    for _ in 0..MOST_ROWS {
        let values = programme.values()?;
        let bars: Vec<Bar> =
            sizes.iter().zip(&values).zip(&limits).map(|((one, &value), &limit)| whole(one.size, value, limit)).collect();
        let (most, counts) = most_worth(&bars, room);
        if most as f64 <= f64::from(room) * SCALE * (1.0 + 1e-6) {
            break;
        }
        let terms = counts.iter().enumerate().filter(|(_, count)| **count > 0).map(|(size, &count)| (size, f64::from(count)));
        if !programme.add(&Row { terms: terms.collect(), most: f64::from(room) }) {
            break;
        }
    }
    let values = programme.values()?;
    Some(sizes.iter().zip(values).map(|(one, value)| Worth { size: one.size, worth: whole(one.size, value, 0).worth }).collect())
}

fn whole(size: u32, value: f64, limit: u32) -> Bar {
    Bar { size, worth: (value * SCALE + 1e-3) as u64, limit }
}

/// Tries lengths from the bound on with bars along the cloth: in strides that double, and halve again from the first that is not refuted.
fn raise_along(grid: &Grid, scales: &[&Vec<Worth>], mut proof: Proof) -> Proof {
    let (mut stride, mut failed) = (1, u64::MAX);
    for _ in 0..TRIES_ALONG {
        let sums = sums(grid, proof.refuted + 1 + stride);
        let tried = sums.next(proof.refuted + stride);
        if tried > LONGEST_ALONG || tried >= failed {
            if stride == 1 {
                break;
            }
            stride = (stride / 2).max(1);
            continue;
        }
        match scales.iter().find_map(|scale| refute(grid, scale, tried)) {
            Some(better) => {
                proof = better;
                stride = if failed == u64::MAX { stride * 2 } else { (stride / 2).max(1) };
            }
            None if stride > 1 => {
                failed = tried;
                stride = (stride / 2).max(1);
            }
            None => break,
        }
    }
    proof
}

fn refute(grid: &Grid, across: &[Worth], tried: u64) -> Option<Proof> {
    let room = u32::try_from(tried).ok()?;
    let along = along(grid, across, room)?;
    let wide = grid.lies.iter().map(|lie| (lie.width, lie.kind));
    let high = grid.lies.iter().map(|lie| (lie.height, lie.kind));
    let most_across = most_worth(&bars(across, wide, grid), grid.width).0;
    let most_along = most_worth(&bars(&along, high, grid), room).0;
    let refuted = worth_of_all(grid, across, &along, tried) > u128::from(most_across) * u128::from(most_along);
    refuted.then(|| proven(grid, tried, Argument::Sides { across: across.to_vec(), most_across, along, most_along }))
}
