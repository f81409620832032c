//! A proof for strips in cases, in whole numbers, and how it is added up again.
//!
//! In: cases with their worths and bonuses, wherever these come from. Out: whether they refute a length.

use super::strips::{fullest, heights};
use crate::grid::Grid;

/// Cases of how many strips of a height are cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cases {
    /// One argument for all of them.
    One(Case),
    /// Either at most `most` strips of this height are cut, or more.
    Split {
        /// Height of the strips, in steps.
        height: u32,
        /// Most of them in the first case; one more at least in the second.
        most: u32,
        /// The first case.
        few: Box<Cases>,
        /// The second case.
        more: Box<Cases>,
    },
}

/// A worth for each kind, in the order of the list, and a bonus for each strip of some heights: paid, or below 0 to be paid. With its bonus
/// a strip `strip.0` high holds at most `strip.1`, and no strip holds more for its height. What all pieces are worth, with the bonuses of the
/// fewest strips that there are (of the most, where a bonus is to be paid), is too much for the refuted length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Case {
    /// Worth of one copy of each kind.
    pub worths: Vec<u64>,
    /// Heights with their bonus.
    pub bonuses: Vec<(u32, i64)>,
    /// The strip with the most for its height: its height in steps, and the most it holds.
    pub strip: (u32, u64),
}

/// A height with the least and the most strips.
type Limit = (u32, u32, Option<u32>);

impl Case {
    /// With the strip that holds most for its height.
    pub(super) fn of(grid: &Grid, worths: Vec<u64>, bonuses: Vec<(u32, i64)>) -> Self {
        let mut case = Self { worths, bonuses, strip: (1, 0) };
        for height in heights(grid) {
            let most = case.holds(grid, height);
            if u128::from(most) * u128::from(case.strip.0) > u128::from(case.strip.1) * u128::from(height) {
                case.strip = (height, most);
            }
        }
        case
    }

    /// Most that a strip of this height holds, with its bonus.
    fn holds(&self, grid: &Grid, height: u32) -> u64 {
        let bonus = self.bonuses.iter().filter(|bonus| bonus.0 == height).map(|bonus| bonus.1).sum();
        fullest(grid, &self.worths, height).0.saturating_add_signed(bonus)
    }

    /// What everything is worth, with the bonuses of the strips that there are at the least or most; 0 when these have no end.
    fn all(&self, grid: &Grid, limits: impl Fn(u32) -> (u32, Option<u32>)) -> u128 {
        let worths = self.worths.iter().zip(&grid.wanted).map(|(&worth, &count)| i128::from(worth) * i128::from(count));
        let mut all: i128 = worths.sum();
        for &(height, bonus) in &self.bonuses {
            let strips = match (bonus > 0, limits(height)) {
                (true, (least, _)) => least,
                (false, (_, Some(most))) => most,
                (false, (_, None)) => return 0,
            };
            all += i128::from(bonus) * i128::from(strips);
        }
        u128::try_from(all).unwrap_or(0)
    }

    /// The greatest length in steps that it refutes.
    pub(super) fn refuted(&self, grid: &Grid, limits: impl Fn(u32) -> (u32, Option<u32>)) -> u64 {
        let refuted = (self.all(grid, limits) * u128::from(self.strip.0)).saturating_sub(1) / u128::from(self.strip.1.max(1));
        u64::try_from(refuted).unwrap_or(u64::MAX)
    }

    fn refutes(&self, grid: &Grid, refuted: u64, limits: &[Limit]) -> bool {
        let limits = |height: u32| {
            let mine = limits.iter().filter(|limit| limit.0 == height);
            let least = mine.clone().map(|limit| limit.1).max().unwrap_or(0);
            (least, mine.filter_map(|limit| limit.2).min())
        };
        let (height, most) = self.strip;
        let fits = |one: u32| u128::from(self.holds(grid, one)) * u128::from(height) <= u128::from(most) * u128::from(one);
        self.worths.len() == grid.wanted.len()
            && heights(grid).into_iter().all(fits)
            && self.all(grid, limits) * u128::from(height) > u128::from(refuted) * u128::from(most)
    }
}

impl Cases {
    /// Whether each case refutes the length, within limits.
    pub(super) fn refute(&self, grid: &Grid, refuted: u64, limits: &mut Vec<Limit>) -> bool {
        match self {
            Self::One(case) => case.refutes(grid, refuted, limits),
            Self::Split { height, most, few, more } => {
                let parts = [(few, (*height, 0, Some(*most))), (more, (*height, most.saturating_add(1), None))];
                parts.into_iter().all(|(part, limit)| {
                    limits.push(limit);
                    let holds = part.refute(grid, refuted, limits);
                    limits.pop();
                    holds
                })
            }
        }
    }
}
