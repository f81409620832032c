//! Strips for everything that is left: a beam over the order in which strips are chosen.
//!
//! In: a library built for what is left, and the height that must not be passed. Out: strips that use up all of it, or nothing. At
//! each step every state is extended by the best strip of many heights; those that lose least of what they have used so far
//! are kept, equal ones once.

use std::rc::Rc;

use super::Steps;
use super::library::{Block, Library, Values};
use super::table::Used;
use crate::grid::Grid;

/// Strips and how often each is cut.
pub(crate) type Strips<const N: usize> = Vec<(Rc<Block<N>>, u32)>;

/// Heights of strips that are tried from one state, beside those of the pieces.
const MORE_HEIGHTS: usize = 8;

/// How many pieces of each kind are left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Left<const N: usize>(pub [u32; N]);

impl<const N: usize> Left<N> {
    /// As far as it matters to one strip.
    pub fn near(&self) -> Used<N> {
        Used(self.0.map(|count| count.min(255) as u8))
    }

    /// How many times a strip can be cut.
    pub fn times(&self, used: &Used<N>) -> u32 {
        let ratios = self.0.iter().zip(&used.0).filter(|(_, used)| **used > 0).map(|(left, &used)| left / u32::from(used));
        ratios.min().unwrap_or(0)
    }

    pub fn take(&mut self, used: &Used<N>, times: u32) {
        for (left, &used) in self.0.iter_mut().zip(&used.0) {
            *left -= u32::from(used) * times;
        }
    }

    pub fn give(&mut self, used: &Used<N>, times: u32) {
        for (left, &used) in self.0.iter_mut().zip(&used.0) {
            *left += u32::from(used) * times;
        }
    }

    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|&count| count == 0)
    }

    pub fn area(&self, areas: &[u64; N]) -> u64 {
        self.0.iter().zip(areas).map(|(&count, area)| u64::from(count) * area).sum()
    }
}

#[derive(Clone)]
struct State<const N: usize> {
    left: Left<N>,
    height: u32,
    value: f32,
    loss: f32,
    strips: Strips<N>,
}

/// Area of one piece of each kind, in square steps.
pub(crate) fn areas<const N: usize>(grid: &Grid) -> [u64; N] {
    let mut areas = [0; N];
    for lie in &grid.lies {
        areas[lie.kind] = u64::from(lie.width) * u64::from(lie.height);
    }
    areas
}

/// The shortest way found to cut all that is `left`, no higher than `most` together.
pub(crate) fn refill<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    values: &Values<N>,
    left: Left<N>,
    most: u32,
    beam: usize,
    steps: &mut Steps,
) -> Option<(u32, Strips<N>)> {
    let areas = areas(grid);
    let promising = library.promising();
    let mut most = most;
    let mut best: Option<(u32, Strips<N>)> = None;
    let mut states = vec![State { left, height: 0, value: 0.0, loss: 0.0, strips: Vec::new() }];
    while !states.is_empty() && !steps.spent() {
        let mut next: Vec<State<N>> = Vec::new();
        for state in &states {
            for height in heights(library, state, &promising, steps) {
                let Some((value, strip)) = library.strip(height, &state.left.near(), values, &mut steps.done) else { continue };
                let grown = extend(grid, state, strip, value);
                let least = u64::from(grown.height) + grown.left.area(&areas).div_ceil(u64::from(grid.width));
                if least > u64::from(most) {
                    continue;
                }
                if grown.left.is_empty() {
                    best = Some((grown.height, grown.strips));
                    if grown.height == 0 {
                        return best;
                    }
                    most = grown.height - 1;
                } else if !next.iter().any(|other| other.left == grown.left && other.height <= grown.height) {
                    next.push(grown);
                }
            }
        }
        next.sort_by(|a, b| a.loss.total_cmp(&b.loss).then(a.height.cmp(&b.height)));
        next.truncate(beam);
        states = next;
    }
    best
}

fn extend<const N: usize>(grid: &Grid, state: &State<N>, strip: Rc<Block<N>>, value: f32) -> State<N> {
    let times = state.left.times(&strip.used).max(1);
    let times = if times > 3 { times - times / 4 } else { 1 };
    let mut grown = state.clone();
    grown.left.take(&strip.used, times);
    grown.height += strip.height * times;
    grown.value += value * times as f32;
    grown.loss = 1.0 - grown.value / (grown.height as f32 * grid.width as f32);
    grown.strips.push((strip, times));
    grown
}

/// Heights to try: those of pieces, and some at which columns are full, other ones each time.
fn heights<const N: usize>(library: &Library<'_, N>, state: &State<N>, promising: &[u32], steps: &mut Steps) -> Vec<u32> {
    let mut heights = library.heights(&state.left.near());
    for _ in 0..MORE_HEIGHTS.min(promising.len()) {
        heights.push(promising[steps.below(promising.len())]);
    }
    heights.sort_unstable();
    heights.dedup();
    heights
}
