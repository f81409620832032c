//! From the first whole strips to the last improvement.
//!
//! In: what is wanted, and a height that need not be beaten. Out: strips for all of it. Zones of long bands come first, then the linear
//! programme and its whole part, then strips for the rest. From then on some strips are taken out again and again, and what
//! they held is cut anew, no longer than before: mostly as long, in another way, and now and then shorter.

use std::collections::BTreeSet;

use super::Steps;
use super::library::{Block, Library, Values};
use super::refill::{Left, Strips, area_of, areas, refill};
use super::relax::{relax, whole};
use super::zone::{is_long, zones};
use crate::grid::Grid;
use crate::job::Stages;

/// States kept while strips are refilled: at first, and when some are cut anew. Found by trying, as all that follow.
const FIRST_BEAM: usize = 2;
const BEAM: usize = 8;
/// Ways to divide a zone that are tried: at first, and when it is cut anew.
const FIRST_ZONES: usize = 30;
const ZONES: usize = 6;
/// How many times the steps of all starts so far the next one may take, with a stage more.
const DEARER: u64 = 6;
/// What rows and columns may lose at first, as a share.
const LOSS: f32 = 0.06;
/// How much more than its area a piece may be worth, so that large and chosen ones are used up first.
const BIAS: f32 = 0.03;
/// How often the strip that loses most is among those cut anew.
const WORST_FIRST: f32 = 0.8;
/// How many times its share of the loss a piece may be worth more.
const SHARED: f32 = 2.0;
/// How many stages fewer than allowed are tried as well, from none up.
const FEWER: usize = 3;
/// How often strips are cut anew to the same height, and not to less.
const SIDEWAYS: f32 = 0.2;
/// Steps that a choice of strips counts for.
const CHOOSING: u64 = 200;
/// How often what is cut anew may be a step higher, and how far the strips may be behind the best ones.
const SLACK: f32 = 0.3;
const MOST_BEHIND: u64 = 3;

/// The best strips found for all that is wanted.
pub(super) fn search<const N: usize>(grid: &Grid, stages: u8, goal: u64, steps: &mut Steps) -> Option<Strips<N>> {
    let mut best = first(grid, Stages::TWO.limit(), steps);
    let long = (0..grid.wanted.len()).any(|kind| is_long(grid, kind));
    for limit in 3..=stages {
        if !(steps.wanted)() {
            return None;
        }
        // Long bands lie badly with fewer than four stages.
        let needed = long && limit == 4;
        if steps.done * DEARER >= steps.most && !needed {
            continue;
        }
        let next = first(grid, limit, steps);
        best = best.into_iter().chain(next).min_by_key(rank);
    }
    Some(improve(grid, stages, goal, best?, steps))
}

/// A first answer within a limit of stages.
fn first<const N: usize>(grid: &Grid, stages: u8, steps: &mut Steps) -> Option<Strips<N>> {
    let mut wanted = Left([0; N]);
    grid.wanted.iter().enumerate().for_each(|(kind, &count)| wanted.0[kind] = count);
    let highest = highest(grid);
    let library = Library::new(grid, stages, &wanted.near(), plain(grid), (highest, LOSS), &mut steps.done);
    let (mut strips, wanted) = zones(grid, &library, wanted, &plain(grid), FIRST_ZONES, steps);
    let relaxed = relax(grid, &library, &wanted, steps)?;
    let (more, left) = whole(&relaxed, &wanted);
    strips.extend(more);
    if !left.is_empty() {
        let rest = Library::new(grid, stages, &left.near(), plain(grid), (highest, LOSS), &mut steps.done);
        // A first answer is made whatever the budget.
        let budget = std::mem::replace(&mut steps.most, u64::MAX);
        let refilled = refill(grid, &rest, &plain(grid), left, u32::MAX, (FIRST_BEAM, false), steps);
        steps.most = budget;
        strips.extend(refilled?.1);
    }
    Some(strips)
}

/// Every piece is worth its area.
fn plain<const N: usize>(grid: &Grid) -> Values<N> {
    Values(areas::<N>(grid).map(|area| area as f32))
}

/// Pieces are worth their area and up to a few times what they lose now (`shares` of the area), so that they go where they lose less; large
/// and chosen ones a little more.
fn biased<const N: usize>(grid: &Grid, shares: &[f32; N], steps: &mut Steps) -> Values<N> {
    let rate = SHARED * steps.share();
    let mut values = plain::<N>(grid);
    let most = values.0.iter().copied().fold(1.0, f32::max);
    let large = BIAS * steps.share();
    let chance = BIAS * steps.share();
    for (value, share) in values.0.iter_mut().zip(shares).filter(|value| *value.0 > 0.0) {
        *value *= 1.0 + rate * share + large * (*value / most) + chance * steps.share();
    }
    values
}

/// Strips with columns are at first no higher than this. What is higher whichever way it lies is a long band.
pub(super) fn highest(grid: &Grid) -> u32 {
    grid.width * 6 / 10
}

/// Area that is lost in strips.
fn loss<const N: usize>(grid: &Grid, strips: &Strips<N>, areas: &[u64; N]) -> u64 {
    let used: u64 = strips.iter().map(|(block, times)| u64::from(*times) * area_of(&block.used, areas)).sum();
    total(strips) * u64::from(grid.width) - used
}

fn total<const N: usize>(strips: &Strips<N>) -> u64 {
    strips.iter().map(|(block, times)| u64::from(block.height) * u64::from(*times)).sum()
}

/// Shorter first, then fewer strip widths, then fewer strips.
fn rank<const N: usize>(strips: &Strips<N>) -> (u64, usize, u32) {
    let heights: BTreeSet<u32> = strips.iter().map(|(block, _)| block.height).collect();
    (total(strips), heights.len(), strips.iter().map(|(_, times)| times).sum())
}

/// Takes some strips out and cuts their pieces anew, as long as there are steps.
fn improve<const N: usize>(grid: &Grid, stages: u8, goal: u64, mut strips: Strips<N>, steps: &mut Steps) -> Strips<N> {
    let areas = areas::<N>(grid);
    let mut best = strips.clone();
    while !steps.spent() && grid.length(total(&best)) > goal {
        let (mut kept, out) = choose(grid, &strips, &areas, steps);
        let behind = total(&strips) - total(&best);
        // Mostly as a step less, which is soon seen to fail; else as much in another way, for a change.
        let sideways = steps.share() < SIDEWAYS;
        let slack = if sideways { i64::from(behind < MOST_BEHIND && steps.share() < SLACK) } else { -1 };
        if !sideways && loss(grid, &out, &areas) < u64::from(grid.width) {
            steps.done += CHOOSING;
            continue;
        }
        let shares = shares(grid, &strips, &areas);
        // The levels of fewer stages are built in fewer steps, and often do as well.
        let limit = stages - steps.below(usize::from(stages - 1).min(FEWER)) as u8;
        let Some(more) = anew(grid, limit, &shares, &out, slack, steps) else { continue };
        kept.extend(more);
        strips = merged(kept);
        if rank(&strips) < rank(&best) {
            best = strips.clone();
        }
    }
    best
}

/// What share of its area a piece of each kind loses in its strips.
fn shares<const N: usize>(grid: &Grid, strips: &Strips<N>, areas: &[u64; N]) -> [f32; N] {
    let (mut lost, mut count) = ([0.0; N], [0.0; N]);
    for (block, times) in strips {
        let area = area_of(&block.used, areas) as f32;
        let share = (block.height as f32 * grid.width as f32 - area) / area;
        for kind in 0..N {
            let copies = *times as f32 * f32::from(block.used.0[kind]);
            lost[kind] += copies * share;
            count[kind] += copies;
        }
    }
    std::array::from_fn(|kind| if count[kind] > 0.0 { lost[kind] / count[kind] } else { 0.0 })
}

/// The same pieces in other strips, together higher by the slack at most.
fn anew<const N: usize>(
    grid: &Grid,
    stages: u8,
    shares: &[f32; N],
    out: &Strips<N>,
    slack: i64,
    steps: &mut Steps,
) -> Option<Strips<N>> {
    let mut left = Left([0; N]);
    out.iter().for_each(|(block, times)| left.give(&block.used, *times));
    let most = u32::try_from(i64::try_from(total(out)).ok()? + slack).ok()?;
    let values = biased::<N>(grid, shares, steps);
    let highest = (grid.width * (25 + steps.below(110) as u32) / 100).clamp(1, most.max(1));
    let loss = 0.005 + 0.12 * steps.share() * steps.share();
    let library = Library::new(grid, stages, &left.near(), biased(grid, shares, steps), (highest, loss), &mut steps.done);
    let (mut strips, left) = zones(grid, &library, left, &values, ZONES, steps);
    let rest = u32::try_from(total(&strips)).ok().and_then(|high| most.checked_sub(high))?;
    if !left.is_empty() {
        strips.extend(refill(grid, &library, &values, left, rest, (BEAM, slack >= 0), steps)?.1);
    }
    Some(strips)
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

/// Divides strips into those that stay and those that are cut anew: often the one that loses most, and a few others.
fn choose<const N: usize>(grid: &Grid, strips: &Strips<N>, areas: &[u64; N], steps: &mut Steps) -> (Strips<N>, Strips<N>) {
    let loss = |block: &Block<N>| u64::from(block.height) * u64::from(grid.width) - area_of(&block.used, areas);
    let losses: Vec<u64> = strips.iter().map(|(block, _)| loss(block)).collect();
    let worst = (0..strips.len()).max_by_key(|&place| losses[place]).unwrap_or(0);
    let mut taken = vec![0; strips.len()];
    let all: u32 = strips.iter().map(|(_, times)| times).sum();
    let want = (2 + steps.below(5) as u32).min(all);
    let mut count = 0;
    while count < want {
        let first = count == 0 && steps.share() < WORST_FIRST;
        let drawn = if first { worst } else { one_of_two(&losses, steps) };
        if taken[drawn] < strips[drawn].1 {
            taken[drawn] += 1;
            count += 1;
        }
    }
    let kept = strips.iter().zip(&taken).map(|((block, times), taken)| (block.clone(), times - taken));
    let out = strips.iter().zip(&taken).map(|((block, _), taken)| (block.clone(), *taken));
    (kept.filter(|(_, times)| *times > 0).collect(), out.filter(|(_, times)| *times > 0).collect())
}

/// A place drawn by chance; half of the time the one of two that loses more.
fn one_of_two(losses: &[u64], steps: &mut Steps) -> usize {
    let drawn = steps.below(losses.len());
    if steps.below(2) == 0 {
        return drawn;
    }
    let other = steps.below(losses.len());
    if losses[other] > losses[drawn] { other } else { drawn }
}
