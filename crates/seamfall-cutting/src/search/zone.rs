//! Zones of long bands: bands side by side, columns of rows beside them and above the shorter ones.
//!
//! In: a library and what is left. Out: one strip as high as the longest band, again and again until no long band is left. A band is long
//! when it is higher than any strip with columns, whichever way it lies.

use std::rc::Rc;

use super::Steps;
use super::improve::highest;
use super::library::{Block, Library, Made, Values};
use super::refill::{Left, Strips};
use super::table::Used;
use crate::grid::Grid;

/// Zones until no long band is left.
pub(crate) fn zones<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    wanted: Left<N>,
    values: &Values<N>,
    tries: usize,
    steps: &mut Steps,
) -> (Strips<N>, Left<N>) {
    let mut left = wanted;
    let mut zones = Vec::new();
    // A column of rows takes four stages; with fewer, long bands lie in strips of their own height.
    if library.stages < 4 {
        return (zones, left);
    }
    while let Some(strip) = zone(grid, library, &left, values, tries, steps) {
        let times = left.times(&strip.used).max(1);
        left.take(&strip.used, times);
        zones.push((strip, times));
    }
    (zones, left)
}

/// Whether a kind is a long band.
pub(super) fn is_long(grid: &Grid, kind: usize) -> bool {
    grid.lies.iter().filter(|lie| lie.kind == kind).all(|lie| lie.height > highest(grid))
}

/// What a zone is made with.
struct Maker<'a, const N: usize> {
    library: &'a Library<'a, N>,
    values: &'a Values<N>,
    tries: usize,
}

fn zone<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    left: &Left<N>,
    values: &Values<N>,
    tries: usize,
    steps: &mut Steps,
) -> Option<Rc<Block<N>>> {
    let bands = bands(grid, library, left);
    bands.first()?;
    let mut left = left.near();
    bands.iter().for_each(|band| take(&mut left, band));
    let groups: Vec<Rc<Block<N>>> =
        bands.chunk_by(|a, b| a.height == b.height).map(|group| Block::across(group.to_vec())).collect();
    let maker = Maker { library, values, tries };
    let upright = maker.upright(grid.width, &groups, left, steps);
    // A step takes a turn of the cloth more.
    let stepped = (groups.len() > 1 && library.stages >= 5).then(|| maker.stepped(grid.width, &groups, left, steps));
    let zones = [Some(upright), stepped].into_iter().flatten();
    zones.max_by(|a, b| values.of(&a.used).total_cmp(&values.of(&b.used)))
}

impl<const N: usize> Maker<'_, N> {
    /// Each group of bands of one height in a column of its own, with rows above; columns beside them.
    fn upright(&self, width: u32, groups: &[Rc<Block<N>>], mut left: Used<N>, steps: &mut Steps) -> Rc<Block<N>> {
        let height = groups[0].height;
        let mut parts = Vec::new();
        let mut free = width;
        for bands in groups {
            free -= bands.width;
            parts.push(self.topped(bands.clone(), (bands.width, height), &mut left, steps));
        }
        parts.extend(self.beside((free, height), false, &left, steps));
        Block::across(parts)
    }

    /// The longest bands upright; beside them the shorter ones with stacks, and over both rows of their common width.
    fn stepped(&self, width: u32, groups: &[Rc<Block<N>>], mut left: Used<N>, steps: &mut Steps) -> Rc<Block<N>> {
        let height = groups[0].height;
        let step = groups[1].height;
        let rest = width - groups[0].width;
        let mut parts = Vec::new();
        let mut free = rest;
        for bands in &groups[1..] {
            free -= bands.width;
            parts.push(bands.clone());
        }
        for stack in self.beside((free, step), true, &left, steps) {
            take(&mut left, &stack);
            parts.push(stack);
        }
        let lower = Block::across(parts);
        Block::across(vec![groups[0].clone(), self.topped(lower, (rest, height), &mut left, steps)])
    }

    /// A column of this size: `lower`, and rows above it.
    fn topped(&self, lower: Rc<Block<N>>, (width, height): (u32, u32), left: &mut Used<N>, steps: &mut Steps) -> Rc<Block<N>> {
        let above = (width, height - lower.height);
        let Some((_, above)) = self.library.long_column(above, false, left, self.values, &mut steps.done) else { return lower };
        take(left, &above);
        // What is above keeps its own cuts: it comes apart row by row, as the lower part does.
        let mut rows = vec![lower];
        match &above.made {
            Made::Along(more) => rows.extend(more.iter().cloned()),
            _ => rows.push(above),
        }
        Block::along(rows)
    }

    /// Columns that fill the width beside the bands: the best of some ways to divide it.
    fn beside(&self, (width, height): (u32, u32), single: bool, left: &Used<N>, steps: &mut Steps) -> Vec<Rc<Block<N>>> {
        let mut widths: Vec<u32> = self.library.pieces().iter().map(|piece| piece.width).filter(|&part| part <= width).collect();
        if !single {
            let more: Vec<u32> =
                widths.iter().flat_map(|a| widths.iter().map(move |b| a + b)).filter(|&part| part < width).collect();
            widths.extend(more);
        }
        widths.sort_unstable();
        widths.dedup();
        let mut best: (f32, Vec<Rc<Block<N>>>) = (0.0, Vec::new());
        for number in 0..self.tries {
            let mut left = *left;
            let (mut value, mut parts, mut free) = (0.0, Vec::new(), width);
            while free > 0 {
                // The first try takes the width as a whole, the others divide it by chance.
                let fitting = widths.partition_point(|&part| part <= free);
                let whole = fitting == 0 || (!single && (number == 0 || steps.below(3) == 0));
                let part = if whole { free } else { widths[steps.below(fitting)] };
                if let Some((more, column)) =
                    self.library.long_column((part, height), single, &left, self.values, &mut steps.done)
                {
                    take(&mut left, &column);
                    value += more;
                    parts.push(column);
                }
                free -= part;
            }
            if value > best.0 {
                best = (value, parts);
            }
        }
        best.1
    }
}

fn take<const N: usize>(left: &mut Used<N>, block: &Block<N>) {
    left.0.iter_mut().zip(&block.used.0).for_each(|(left, &used)| *left -= used);
}

/// Long bands that fit side by side, longest first, as many as go in.
fn bands<const N: usize>(grid: &Grid, library: &Library<'_, N>, left: &Left<N>) -> Vec<Rc<Block<N>>> {
    let mut long: Vec<(usize, &Rc<Block<N>>)> = library
        .pieces()
        .iter()
        .filter_map(|piece| {
            let kind = piece.used.0.iter().position(|&count| count > 0)?;
            (left.0[kind] > 0 && is_long(grid, kind)).then_some((kind, piece))
        })
        .collect();
    long.sort_by_key(|(kind, piece)| (std::cmp::Reverse((piece.height, piece.width)), *kind));
    let mut free = grid.width;
    let mut bands = Vec::new();
    for (kind, piece) in long {
        let fit = (free / piece.width).min(left.0[kind]);
        bands.extend((0..fit).map(|_| piece.clone()));
        free -= fit * piece.width;
    }
    bands
}
