//! The bound for cross strips, sub-cuts and a trim, raised by cases: at most so many strips of one height are cut, or more.
//!
//! In: a job on its grid. Out: a proof, of one case or several. In each case the programme over strips is solved with these limits: a strip
//! of a height that is limited is worth something besides its pieces, or costs something. The case that proves least is split
//! again, at a height of which its answer takes no whole number of strips. Counted in work, so that it ends in time.

use super::proof::{Argument, Proof, raised};
use super::strip_cases::{Case, Cases};
use super::strips::{Filled, Limits, Priced, SCALE, heights, price, whole};
use super::sums;
use crate::grid::Grid;
use crate::lp::cover_within;

/// Most cases, and most work in all: entries of tables, and of rows of programmes. Found by trying, for some 20 ms.
const MOST_CASES: usize = 60;
const MOST_WORK: u64 = 4_500_000;
/// How far a number of strips is from a whole one before it is split.
const WHOLE: f64 = 1e-4;

/// A case on the way: a node of the tree.
struct Node {
    limits: Limits,
    case: Case,
    /// No layout of this case is as short as that, in steps.
    refuted: u64,
    /// Where it is split: the height's place, the most strips, and the two nodes.
    split: Option<(usize, u32, [usize; 2])>,
    /// Where it may be split.
    fraction: Option<(usize, u32)>,
}

/// The bound, with its cases.
pub(super) fn two_stage(grid: &Grid) -> Proof {
    let heights = heights(grid);
    let mut strips = Vec::new();
    let mut work = 0;
    let mut nodes = vec![node(grid, &heights, Limits::none(heights.len()), &mut strips, &mut work)];
    while nodes.len() < 2 * MOST_CASES && work < MOST_WORK {
        let leaves = (0..nodes.len()).filter(|&node| nodes[node].split.is_none());
        let least = leaves.min_by_key(|&node| nodes[node].refuted).expect("there is a case");
        let Some((height, most)) = nodes[least].fraction else { break };
        let parts = [nodes[least].limits.at_most(height, most), nodes[least].limits.at_least(height, most + 1)];
        nodes[least].split = Some((height, most, [nodes.len(), nodes.len() + 1]));
        for limits in parts {
            let mut part = node(grid, &heights, limits, &mut strips, &mut work);
            if part.refuted < nodes[least].refuted {
                // What holds for the whole holds for a part.
                part.refuted = nodes[least].refuted;
                part.case = nodes[least].case.clone();
            }
            nodes.push(part);
        }
    }
    let refuted = nodes.iter().filter(|node| node.split.is_none()).map(|node| node.refuted).min().expect("there is a case");
    let length = raised(&sums(grid, refuted + 1), refuted, grid);
    Proof { length, refuted, step: grid.step, argument: Argument::Strips(told(&nodes, &heights, refuted, 0)) }
}

/// The tree from a node down; what is proven without its cases is told without them.
fn told(nodes: &[Node], heights: &[u32], refuted: u64, node: usize) -> Cases {
    match nodes[node].split {
        Some((height, most, [few, more])) if nodes[node].refuted < refuted => Cases::Split {
            height: heights[height],
            most,
            few: Box::new(told(nodes, heights, refuted, few)),
            more: Box::new(told(nodes, heights, refuted, more)),
        },
        _ => Cases::One(nodes[node].case.clone()),
    }
}

fn node(grid: &Grid, heights: &[u32], limits: Limits, strips: &mut Vec<Filled>, work: &mut u64) -> Node {
    let Priced { worths, bonuses } = price(grid, heights, &limits, strips, work);
    let bonuses: Vec<(u32, i64)> = heights
        .iter()
        .zip(&bonuses)
        .filter(|(_, bonus)| **bonus != 0.0)
        .map(|(&height, &bonus)| (height, (bonus * SCALE).floor() as i64))
        .collect();
    let case = Case::of(grid, worths.iter().map(|&worth| whole(worth)).collect(), bonuses);
    let refuted = case.refuted(grid, |height| limits.of(heights, height));
    let fraction = fraction(grid, heights, &limits, strips);
    Node { limits, case, refuted, split: None, fraction }
}

/// The height with the number of strips that is farthest from whole, and that number rounded down.
fn fraction(grid: &Grid, heights: &[u32], limits: &Limits, strips: &[Filled]) -> Option<(usize, u32)> {
    let columns: Vec<(f64, Vec<(usize, f64)>)> =
        strips.iter().map(|strip| (f64::from(strip.height), strip.terms(grid))).collect();
    let of_height = |height: u32| {
        let strips = strips.iter().enumerate().filter(move |(_, strip)| strip.height == height);
        strips.map(|(place, _)| place).collect::<Vec<_>>()
    };
    let within: Vec<_> = heights.iter().zip(&limits.0).map(|(&height, &limit)| (of_height(height), limit)).collect();
    let wanted: Vec<f64> = grid.wanted.iter().map(|&count| f64::from(count)).collect();
    let amounts = cover_within(&columns, &wanted, &within)?;
    let counts = within.iter().map(|(strips, _)| strips.iter().map(|&strip| amounts[strip]).sum::<f64>());
    let far = |count: f64| (count - count.round()).abs();
    let best =
        counts.enumerate().max_by(|a, b| (far(a.1) * f64::from(heights[a.0])).total_cmp(&(far(b.1) * f64::from(heights[b.0]))));
    best.filter(|&(_, count)| far(count) > WHOLE).map(|(height, count)| (height, count as u32))
}
