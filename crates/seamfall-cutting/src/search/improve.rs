//! From the first whole strips to the last improvement.

use super::Steps;
use super::library::{Library, Values};
use super::refill::{Left, Strips, areas, refill};
use super::relax::{relax, whole};
use super::zone::zones;
use crate::grid::Grid;

/// Rounds of the search that find nothing, one after the other, before it is given up.
const PATIENCE: usize = 100_000;

/// The best strips found for all that is wanted.
pub(super) fn search<const N: usize>(grid: &Grid, stages: u8, goal: u64, steps: &mut Steps) -> Option<Strips<N>> {
    let mut wanted = Left([0; N]);
    grid.wanted.iter().enumerate().for_each(|(kind, &count)| wanted.0[kind] = count);
    let plain = plain::<N>(grid);
    let highest = highest(grid);
    let library = Library::new(grid, stages, &wanted.near(), self::plain(grid), highest, 0.06, &mut steps.done);
    let (zones, wanted) = zones(grid, &library, wanted, &plain, steps);
    let relaxed = relax(grid, &library, &wanted, steps)?;
    let (mut strips, left) = whole(&relaxed, &wanted, 1.0);
    strips.extend(zones);
    if !left.is_empty() {
        let rest = Library::new(grid, stages, &left.near(), self::plain::<N>(grid), highest, 0.06, &mut steps.done);
        let (_, more) = complete(grid, &rest, &self::plain::<N>(grid), left, u32::MAX, 2, steps)?;
        strips.extend(more);
    }
    improve(grid, stages, goal, &mut strips, steps);
    Some(strips)
}

/// A refill that is not stopped by the budget.
fn complete<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    values: &Values<N>,
    left: Left<N>,
    most: u32,
    beam: usize,
    steps: &mut Steps,
) -> Option<(u32, Strips<N>)> {
    let budget = std::mem::replace(&mut steps.most, u64::MAX);
    let found = refill(grid, library, values, left, most, beam, steps);
    steps.most = budget;
    found
}

/// Every piece is worth its area.
fn plain<const N: usize>(grid: &Grid) -> Values<N> {
    Values(areas::<N>(grid).map(|area| area as f32))
}

/// Pieces are worth their area, large ones and chosen ones a little more.
fn biased<const N: usize>(grid: &Grid, steps: &mut Steps) -> Values<N> {
    let mut values = plain::<N>(grid);
    let most = values.0.iter().copied().fold(1.0, f32::max);
    let large = 0.03 * steps.share();
    let chance = 0.03 * steps.share();
    for value in values.0.iter_mut().filter(|value| **value > 0.0) {
        *value *= 1.0 + large * (*value / most) + chance * steps.share();
    }
    values
}

/// Strips with columns are no higher than this: four tenths of the width, or the highest piece that can be no lower.
pub(super) fn highest(grid: &Grid) -> u32 {
    grid.width * 6 / 10
}

fn total<const N: usize>(strips: &Strips<N>) -> u64 {
    strips.iter().map(|(block, times)| u64::from(block.height) * u64::from(*times)).sum()
}

/// Takes some strips out and cuts their pieces anew, as long as there are steps.
fn improve<const N: usize>(grid: &Grid, stages: u8, goal: u64, strips: &mut Strips<N>, steps: &mut Steps) {
    let areas = areas::<N>(grid);
    let mut idle = 0;
    while !steps.spent() && idle < PATIENCE && grid.length(total(strips)) > goal {
        let (mut kept, out) = choose(grid, strips, &areas, steps);
        let mut left = Left([0; N]);
        out.iter().for_each(|(block, times)| left.give(&block.used, *times));
        let most = total(&out) as u32;
        let values = biased::<N>(grid, steps);
        let highest = (grid.width * (25 + steps.below(55) as u32) / 100).min(most);
        let loss = 0.005 + 0.12 * steps.share() * steps.share();
        let library = Library::new(grid, stages, &left.near(), biased::<N>(grid, steps), highest, loss, &mut steps.done);
        let (zones, left) = zones(grid, &library, left, &values, steps);
        let high = total(&zones) as u32;
        kept.extend(zones);
        let refilled = match (left.is_empty(), high <= most) {
            (_, false) => None,
            (true, true) => Some((0, Vec::new())),
            (false, true) => refill(grid, &library, &values, left, most - high, 3, steps),
        };
        match refilled {
            Some((height, more)) => {
                let height = height + high;
                idle = if height < most { 0 } else { idle + 1 };
                kept.extend(more);
                *strips = merged(kept);
            }
            None => idle += 1,
        }
    }
}

/// Equal strips told once.
fn merged<const N: usize>(mut strips: Strips<N>) -> Strips<N> {
    strips.sort_by(|a, b| b.0.height.cmp(&a.0.height).then(b.0.used.cmp(&a.0.used)));
    let mut merged: Strips<N> = Vec::new();
    for (block, times) in strips {
        match merged.last_mut() {
            Some(last) if last.0.height == block.height && last.0.used == block.used => last.1 += times,
            _ => merged.push((block, times)),
        }
    }
    merged
}

/// Divides strips into those that stay and those that are cut anew: the one that loses most, often, and a few others.
fn choose<const N: usize>(grid: &Grid, strips: &Strips<N>, areas: &[u64; N], steps: &mut Steps) -> (Strips<N>, Strips<N>) {
    let loss = |block: &super::library::Block<N>| {
        let used: u64 = block.used.0.iter().zip(areas).map(|(&count, area)| u64::from(count) * area).sum();
        u64::from(block.height) * u64::from(grid.width) - used
    };
    let losses: Vec<u64> = strips.iter().map(|(block, _)| loss(block)).collect();
    let mut taken = vec![0; strips.len()];
    let all: u32 = strips.iter().map(|(_, times)| times).sum();
    let want = (2 + steps.below(5) as u32).min(all);
    let mut count = 0;
    while count < want {
        // A strip that loses much is drawn more often: the best of two or three drawn.
        let draws = 1 + steps.below(3);
        let drawn = (0..draws).map(|_| steps.below(strips.len())).max_by_key(|&place| (losses[place], place)).unwrap_or(0);
        if taken[drawn] < strips[drawn].1 {
            taken[drawn] += 1;
            count += 1;
        }
    }
    let kept =
        strips.iter().zip(&taken).map(|((block, times), taken)| (block.clone(), times - taken)).filter(|(_, times)| *times > 0);
    let out = strips.iter().zip(&taken).map(|((block, _), taken)| (block.clone(), *taken)).filter(|(_, times)| *times > 0);
    (kept.collect(), out.collect())
}
