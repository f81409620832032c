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

/// Heights tried, beside those of the pieces. Found by trying.
const MORE_HEIGHTS: usize = 16;

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
    /// Area that is lost in the strips so far.
    loss: u64,
    /// Heights of strips to try, with the least that such a strip loses.
    heights: Vec<(u32, u64)>,
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
    (beam, any): (usize, bool),
    steps: &mut Steps,
) -> Option<(u32, Strips<N>)> {
    let areas = areas(grid);
    let heights = heights(library, &left, steps);
    let all = left.area(&areas);
    let mut most = most;
    let mut best: Option<(u32, Strips<N>)> = None;
    let mut states = vec![State { left, height: 0, loss: 0, heights, strips: Vec::new() }];
    while !states.is_empty() && !steps.spent() {
        let mut next: Vec<State<N>> = Vec::new();
        for state in &mut states {
            state.heights.sort_by(|a, b| (a.1 * u64::from(b.0)).cmp(&(b.1 * u64::from(a.0))));
            let area = state.left.area(&areas);
            let mut tried: Vec<Used<N>> = Vec::new();
            for number in 0..state.heights.len() {
                // What may be lost in all, if the rest is to end within `most`.
                let Some(may_lose) = (u64::from(most) * u64::from(grid.width)).checked_sub(all + state.loss) else { break };
                let (height, least) = state.heights[number];
                let sheet = u64::from(height) * u64::from(grid.width);
                let last = area <= sheet;
                if least > may_lose
                    || (!last && next.len() == beam && !state.may_rank(height, least, area / sheet, &next[beam - 1]))
                {
                    continue;
                }
                let floor = sheet.saturating_sub(may_lose) as f32;
                let strip = library.strip(height, &state.left.near(), values, floor, &mut steps.done);
                let Some((_, strip)) = strip else {
                    state.heights[number].1 = may_lose + 1;
                    continue;
                };
                let loss = u64::from(strip.height) * u64::from(grid.width) - area_of(&strip.used, &areas);
                // A strip from fewer pieces loses no less: further on, this height loses as much at least.
                state.heights[number].1 = least.max(loss);
                if loss > may_lose || tried.contains(&strip.used) {
                    continue;
                }
                tried.push(strip.used);
                let grown = extend(state, strip, loss);
                if grown.left.is_empty() {
                    if grown.height <= most {
                        best = Some((grown.height, grown.strips));
                        if any || grown.height == 0 {
                            return best;
                        }
                        most = grown.height - 1;
                    }
                } else if !next.iter().any(|other| other.left == grown.left && other.height <= grown.height) {
                    let place = next.partition_point(|other| other.ranks_before(&grown));
                    next.insert(place, grown);
                    next.truncate(beam);
                }
            }
        }
        states = next;
    }
    best
}

impl<const N: usize> State<N> {
    /// Less lost for the height used.
    fn ranks_before(&self, other: &Self) -> bool {
        let (mine, its) = (self.loss * u64::from(other.height), other.loss * u64::from(self.height));
        mine < its || (mine == its && self.height >= other.height)
    }

    /// Whether strips that lose `least` each, one or up to `times`, might rank before another state.
    fn may_rank(&self, height: u32, least: u64, times: u64, other: &Self) -> bool {
        [1, times.max(1)].into_iter().any(|times| {
            let (loss, height) = (self.loss + least * times, u64::from(self.height) + u64::from(height) * times);
            loss * u64::from(other.height) <= other.loss * height
        })
    }
}

/// Area of these pieces, in square steps.
pub(crate) fn area_of<const N: usize>(used: &Used<N>, areas: &[u64; N]) -> u64 {
    used.0.iter().zip(areas).map(|(&count, area)| u64::from(count) * area).sum()
}

fn extend<const N: usize>(state: &State<N>, strip: Rc<Block<N>>, loss: u64) -> State<N> {
    let times = state.left.times(&strip.used).max(1);
    let times = if times > 3 { times - times / 4 } else { 1 };
    let mut grown = state.clone();
    grown.left.take(&strip.used, times);
    grown.height += strip.height * times;
    grown.loss += loss * u64::from(times);
    grown.strips.push((strip, times));
    grown
}

/// Heights to try: those of pieces, and some at which columns are full, other ones each time.
fn heights<const N: usize>(library: &Library<'_, N>, left: &Left<N>, steps: &mut Steps) -> Vec<(u32, u64)> {
    let promising = library.promising();
    let mut heights = library.heights(&left.near());
    for _ in 0..MORE_HEIGHTS.min(promising.len()) {
        heights.push(promising[steps.below(promising.len())]);
    }
    heights.sort_unstable();
    heights.dedup();
    heights.into_iter().map(|height| (height, 0)).collect()
}
