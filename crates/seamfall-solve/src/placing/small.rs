//! All cases of a small problem, those left out that cannot be better.
//!
//! In: the problem and a cost to beat. Out: better placings, each better than the one before, the last of them best; nothing where the
//! budget ends before all cases are seen.
//!
//! Places are filled one by one, next to those that are filled. Items alike are tried once. A case is left when what is paid, and the
//! least that every open place must pay to its filled neighbours, is no better than the best.

use super::{Meeting, Placing};
use crate::Budget;

struct Cases<'a> {
    problem: &'a Placing,
    near: Vec<Vec<(usize, usize, usize)>>,
    order: Vec<usize>,
    /// The item in each place, once it is filled.
    filled: Vec<Option<usize>>,
    used: Vec<bool>,
    best: u64,
    better: Vec<Vec<usize>>,
}

pub(super) fn all(problem: &Placing, cost: u64, budget: &mut Budget) -> Option<Vec<Vec<usize>>> {
    let places = problem.kinds.len();
    let mut near = vec![Vec::new(); places];
    for Meeting { ends: [(a, s), (b, t)] } in problem.meetings.iter().copied() {
        near[a].push((s, b, t));
        near[b].push((t, a, s));
    }
    let fixed = &problem.fixed;
    let filled: Vec<Option<usize>> = (0..places).map(|place| fixed[place].then_some(place)).collect();
    let settled = problem.meetings.iter().filter(|one| one.ends.iter().all(|end| fixed[end.0]));
    let paid = settled
        .map(|one| problem.sides[one.ends[0].0][one.ends[0].1].abs_diff(problem.sides[one.ends[1].0][one.ends[1].1]))
        .sum();
    let order = order(&near, fixed);
    let mut cases = Cases { problem, near, order, filled, used: fixed.clone(), best: cost, better: Vec::new() };
    cases.fill(0, paid, budget).then_some(cases.better)
}

/// Free places, each with as many neighbours before it as can be.
fn order(near: &[Vec<(usize, usize, usize)>], fixed: &[bool]) -> Vec<usize> {
    let mut done = fixed.to_vec();
    let mut order = Vec::new();
    while let Some(place) = (0..near.len())
        .filter(|&place| !done[place])
        .max_by_key(|&place| (near[place].iter().filter(|one| done[one.1]).count(), std::cmp::Reverse(place)))
    {
        done[place] = true;
        order.push(place);
    }
    order
}

impl Cases<'_> {
    /// What an item pays at a place to the neighbours that are filled.
    fn pays(&self, place: usize, item: usize) -> u64 {
        let sides = &self.problem.sides;
        let pay = |&(side, other, theirs): &(usize, usize, usize)| {
            self.filled[other].map_or(0, |other| sides[item][side].abs_diff(sides[other][theirs]))
        };
        self.near[place].iter().map(pay).sum()
    }

    /// Items that may go to a place, of each sort one.
    fn candidates(&self, place: usize) -> Vec<usize> {
        let Placing { kinds, sides, .. } = self.problem;
        let mut items: Vec<usize> = (0..kinds.len()).filter(|&item| !self.used[item] && kinds[item] == kinds[place]).collect();
        items.sort_by_key(|&item| (sides[item], item));
        items.dedup_by_key(|item| sides[*item]);
        items
    }

    /// Fills the places from number `at` on. False where the budget ended.
    fn fill(&mut self, at: usize, paid: u64, budget: &mut Budget) -> bool {
        let Some(&place) = self.order.get(at) else {
            if paid < self.best {
                self.best = paid;
                self.better.push(self.filled.iter().map(|item| item.expect("all places are filled")).collect());
            }
            return true;
        };
        let open = self.order.len() - at;
        if !budget.spend((open * open * 20) as u64) {
            return false;
        }
        let least = |place: usize| self.candidates(place).into_iter().map(|item| self.pays(place, item)).min().unwrap_or(0);
        let ahead: u64 = self.order[at + 1..].iter().map(|&place| least(place)).sum();
        let mut tried: Vec<(u64, usize)> =
            self.candidates(place).into_iter().map(|item| (self.pays(place, item), item)).collect();
        tried.sort_unstable();
        for (pays, item) in tried {
            if paid + pays + ahead >= self.best {
                return true;
            }
            (self.filled[place], self.used[item]) = (Some(item), true);
            let seen = self.fill(at + 1, paid + pays, budget);
            (self.filled[place], self.used[item]) = (None, false);
            if !seen {
                return false;
            }
        }
        true
    }
}
