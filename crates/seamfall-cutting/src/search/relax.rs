//! The linear programme over strips, and the whole strips of its answer.
//!
//! In: a library for all that is wanted. Out: strips with whole counts that use up most of it with next to no loss. Each round gives
//! every piece a worth (the dual programme, kept warm), and adds the strips that are worth more than their height.

use std::rc::Rc;

use super::Steps;
use super::library::{Block, Library, Values};
use super::refill::{Left, Strips};
use super::table::Used;
use crate::grid::Grid;
use crate::lp::{Row, Rows, cover};

/// Rounds of new strips, and heights tried in each beside those of the pieces.
const ROUNDS: usize = 30;
const MORE_HEIGHTS: usize = 12;
/// Most heights in one round.
const MOST_HEIGHTS: usize = 24;

/// Strips found, and how much of each the programme takes.
pub(crate) struct Relaxed<const N: usize> {
    pub strips: Vec<Rc<Block<N>>>,
    pub amounts: Vec<f64>,
}

/// Solves the programme.
pub(crate) fn relax<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    wanted: &Left<N>,
    steps: &mut Steps,
) -> Option<Relaxed<N>> {
    let width = f64::from(grid.width);
    let near = wanted.near();
    let kinds = grid.wanted.len();
    let promising = library.promising();
    let objective: Vec<f64> = (0..kinds).map(|kind| f64::from(wanted.0[kind])).collect();
    let mut values = Values([0.0; N]);
    let areas = super::refill::areas::<N>(grid);
    (0..kinds).for_each(|kind| values.0[kind] = areas[kind] as f32);
    let row = |strip: &Rc<Block<N>>| {
        let terms = strip.used.0.iter().enumerate().filter(|(_, count)| **count > 0);
        Row { terms: terms.map(|(kind, &count)| (kind, f64::from(count))).collect(), most: f64::from(strip.height) }
    };
    let mut strips: Vec<Rc<Block<N>>> = Vec::new();
    for kind in (0..kinds).filter(|&kind| wanted.0[kind] > 0) {
        let mut alone = Used::NONE;
        alone.0[kind] = near.0[kind];
        for lie in grid.lies.iter().filter(|lie| lie.kind == kind) {
            strips.extend(library.strip(lie.height, &alone, &values, 0.0, &mut steps.done).map(|(_, strip)| strip));
        }
    }
    let rows: Vec<Row> = strips.iter().map(row).collect();
    let mut programme = Rows::maximize(&objective, &rows);
    for _ in 0..ROUNDS {
        let worths = programme.values()?;
        worths.iter().enumerate().for_each(|(kind, &worth)| values.0[kind] = (worth * width) as f32);
        let mut heights = library.heights(&near);
        (0..MORE_HEIGHTS.min(promising.len())).for_each(|_| heights.push(promising[steps.below(promising.len())]));
        heights.sort_unstable();
        heights.dedup();
        while heights.len() > MOST_HEIGHTS {
            heights.swap_remove(steps.below(heights.len()));
        }
        let mut added = false;
        for height in heights {
            let Some((value, strip)) = library.strip(height, &near, &values, height as f32 * width as f32, &mut steps.done)
            else {
                continue;
            };
            if f64::from(value) > f64::from(strip.height) * width * (1.0 + 1e-5) && programme.add(&row(&strip)) {
                strips.push(strip);
                added = true;
            }
        }
        if !added || steps.spent() {
            break;
        }
    }
    let columns: Vec<(f64, Vec<(usize, f64)>)> = strips.iter().map(|strip| (f64::from(strip.height), row(strip).terms)).collect();
    let amounts = cover(&columns, &objective)?;
    Some(Relaxed { strips, amounts })
}

/// The whole strips of the answer, as far as they are wanted.
pub(crate) fn whole<const N: usize>(relaxed: &Relaxed<N>, wanted: &Left<N>) -> (Strips<N>, Left<N>) {
    let mut left = *wanted;
    let mut strips = Vec::new();
    for (strip, &amount) in relaxed.strips.iter().zip(&relaxed.amounts) {
        let times = ((amount + 1e-6) as u32).min(left.times(&strip.used));
        if times > 0 {
            left.take(&strip.used, times);
            strips.push((strip.clone(), times));
        }
    }
    (strips, left)
}
