//! Which section goes where.
//!
//! In: every section's sides as it will be joined, and which sections are alike. Out: a place for each, so that all easing together is least, with
//! the bound. What is joined stays; what is alike stays at home where that costs nothing.

use super::sides::{Shape, Shared};
use super::sizes::Trims;
use super::{Before, Effort, alike};
use seamfall_model::SewnState;
use seamfall_solve::placing::{Meeting, Placing, place};
use seamfall_solve::{Argument, Proven};

/// A place for every section.
#[derive(Debug, Clone, PartialEq)]
pub struct Places {
    /// For each section the number of the section whose place it takes.
    pub at: Vec<usize>,
    /// The sections that go elsewhere than they are now.
    pub moved: Vec<usize>,
    /// All easing together, where sections are now.
    pub before: f64,
    /// The same in these places.
    pub after: f64,
    /// No places need less, because of `by`.
    pub bound: f64,
    /// Why.
    pub by: Argument,
}

impl Places {
    /// Whether it is proven that no places need less.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        self.after <= self.bound
    }

    /// The section in a place.
    pub(super) fn section_in(&self, place: usize) -> usize {
        self.at.iter().position(|&at| at == place).expect("every place is taken")
    }
}

/// Whole numbers in a unit, for the solver.
const PARTS: f64 = 1e6;

pub(super) fn settle(
    before: Before,
    shapes: &[Option<Shape>],
    trims: &Trims,
    joined: &[[f64; 4]],
    meetings: &[Shared],
    effort: Effort,
) -> Places {
    let sewn = &before.sewn.sections;
    let count = shapes.len();
    let kinds = alike::kinds(before);
    // What is in each place now. Two in one place are said elsewhere; then everything counts as at home.
    let mut now: Vec<Option<usize>> = vec![None; count];
    sewn.iter().enumerate().for_each(|(section, one)| now[one.at] = Some(section));
    let now: Vec<usize> = now.into_iter().collect::<Option<_>>().unwrap_or_else(|| (0..count).collect());
    let short = |section: usize| {
        let of = |side: usize| ((joined[section][side] - trims.side(section, side)) * PARTS).round() as i64;
        if shapes[section].is_some() { [0, 1, 2, 3].map(of) } else { [0; 4] }
    };
    let stays = |(place, &section): (usize, &usize)| {
        shapes[section].is_none() || sewn[section].state == SewnState::Joined || kinds[section] != kinds[place]
    };
    let fixed = now.iter().enumerate().map(stays).collect();
    let whole = meetings.iter().filter(|one| one.whole).map(|one| Meeting { ends: one.ends }).collect();
    let problem = Placing::new(now.iter().map(|&section| short(section)).collect(), kinds, fixed, whole)
        .expect("sides are lengths of sections, and meetings are of two of them");
    let Proven { answer, cost, bound, by } = place(&problem, effort.0);
    let mut at = vec![0; count];
    answer.iter().enumerate().for_each(|(place, &item)| at[now[item]] = place);
    let mut moved: Vec<usize> =
        answer.iter().enumerate().filter(|(place, item)| *place != **item).map(|(_, &item)| now[item]).collect();
    moved.sort_unstable();
    let side = |(place, side): (usize, usize)| problem.sides()[place][side];
    let at_home: u64 = problem.meetings().iter().map(|one| side(one.ends[0]).abs_diff(side(one.ends[1]))).sum();
    let [before, after, bound] = [at_home, cost, bound].map(|parts| parts as f64 / PARTS);
    Places { at, moved, before, after, bound, by }
}
