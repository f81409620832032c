//! Zones of long bands: bands side by side, columns of rows beside them and above the shorter ones.
//!
//! In: a library and what is left. Out: one strip as high as the longest band, again and again until no long band is left. A band is long
//! when it is higher than any strip with columns, whichever way it lies.

use std::rc::Rc;

use super::Steps;
use super::improve::highest;
use super::library::{Block, Library, Values};
use super::refill::{Left, Strips};
use crate::grid::Grid;

/// Ways to divide the width beside the bands that are tried.
const TRIES: usize = 6;

/// Zones until no long band is left.
pub(crate) fn zones<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    wanted: Left<N>,
    values: &Values<N>,
    steps: &mut Steps,
) -> (Strips<N>, Left<N>) {
    let mut left = wanted;
    let mut zones = Vec::new();
    // A column of rows takes four stages; with fewer, long bands lie in strips of their own height.
    if library.stages < 4 {
        return (zones, left);
    }
    while let Some(strip) = zone(grid, library, &left, values, steps) {
        let times = left.times(&strip.used).max(1);
        left.take(&strip.used, times);
        zones.push((strip, times));
    }
    (zones, left)
}

fn is_long(grid: &Grid, kind: usize) -> bool {
    grid.lies.iter().filter(|lie| lie.kind == kind).all(|lie| lie.height > highest(grid))
}

fn zone<const N: usize>(
    grid: &Grid,
    library: &Library<'_, N>,
    left: &Left<N>,
    values: &Values<N>,
    steps: &mut Steps,
) -> Option<Rc<Block<N>>> {
    let bands = bands(grid, library, left);
    let height = bands.first()?.height;
    let mut left = left.near();
    bands.iter().for_each(|band| take(&mut left, band));
    let mut parts = Vec::new();
    let mut free = grid.width;
    for group in bands.chunk_by(|a, b| a.height == b.height) {
        let bands = Block::across(group.to_vec());
        free -= bands.width;
        let above = library.long_column(bands.width, height - bands.height, &left, values, &mut steps.done);
        parts.push(match above {
            Some((_, above)) => {
                take(&mut left, &above);
                // What is above keeps its own cuts: it comes apart row by row, as the bands' row does.
                let mut rows = vec![bands];
                match &above.made {
                    super::library::Made::Along(more) => rows.extend(more.iter().cloned()),
                    _ => rows.push(above),
                }
                Block::along(rows)
            }
            None => bands,
        });
    }
    parts.extend(beside(library, free, height, &left, values, steps));
    Some(Block::across(parts))
}

fn take<const N: usize>(left: &mut super::table::Used<N>, block: &Block<N>) {
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

/// Columns that fill the width beside the bands: one, or the best of some ways to divide it in two.
fn beside<const N: usize>(
    library: &Library<'_, N>,
    width: u32,
    height: u32,
    left: &super::table::Used<N>,
    values: &Values<N>,
    steps: &mut Steps,
) -> Vec<Rc<Block<N>>> {
    let mut widths: Vec<u32> = library.pieces().iter().map(|piece| piece.width).filter(|&part| part < width).collect();
    let more: Vec<u32> = widths.iter().flat_map(|a| widths.iter().map(move |b| a + b)).filter(|&part| part < width).collect();
    widths.extend(more);
    widths.sort_unstable();
    widths.dedup();
    let mut best: (f32, Vec<Rc<Block<N>>>) = (0.0, Vec::new());
    for number in 0..=TRIES {
        let first = if number == 0 || widths.is_empty() { width } else { widths[steps.below(widths.len())] };
        let mut left = *left;
        let (mut value, mut parts) = (0.0, Vec::new());
        for part in [first, width - first] {
            if let Some((more, column)) = library.long_column(part, height, &left, values, &mut steps.done) {
                take(&mut left, &column);
                value += more;
                parts.push(column);
            }
        }
        if value > best.0 {
            best = (value, parts);
        }
    }
    best.1
}
