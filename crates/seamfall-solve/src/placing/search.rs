//! Exchanges of two items.
//!
//! In: the problem. Out: the best placing met. From the placing at home, from items sorted out from a corner or in rows, and then from the best so far:
//! exchanges of two items of a kind, worse ones at times, less and less often (S. Kirkpatrick, C. Gelatt, M. Vecchi, "Optimization by
//! simulated annealing", 1983). Chance is seeded and the work is counted.

use super::lines::Lines;
use super::{EXCHANGE, Placing};
use crate::Budget;
use crate::chance::Chance;
use std::collections::BTreeMap;

/// Exchanges looked at in the first round; every further round has twice as many.
const FIRST_ROUND: u64 = 20_000;

/// The best placing so far, and a placing at work.
pub(super) struct Search<'a> {
    problem: &'a Placing,
    /// By place: own side, place and side met.
    near: Vec<Vec<(usize, usize, usize)>>,
    best: Vec<usize>,
    cost: u64,
}

impl<'a> Search<'a> {
    /// Everything at home.
    pub fn new(problem: &'a Placing) -> Self {
        let mut near = vec![Vec::new(); problem.kinds.len()];
        for meeting in &problem.meetings {
            let [(a, s), (b, t)] = meeting.ends;
            near[a].push((s, b, t));
            near[b].push((t, a, s));
        }
        let best: Vec<usize> = (0..problem.kinds.len()).collect();
        let mut search = Self { problem, near, best, cost: 0 };
        search.cost = search.total(&search.best);
        search
    }

    pub fn cost(&self) -> u64 {
        self.cost
    }

    fn total(&self, items: &[usize]) -> u64 {
        (0..items.len()).map(|place| self.at(items, place, None)).sum::<u64>() / 2
    }

    /// What a place costs with its neighbours, but for one of them.
    fn at(&self, items: &[usize], place: usize, but: Option<usize>) -> u64 {
        let sides = &self.problem.sides;
        let own = &sides[items[place]];
        let mut sum = 0;
        for &(side, other, other_side) in &self.near[place] {
            if Some(other) != but {
                sum += own[side].abs_diff(sides[items[other]][other_side]);
            }
        }
        sum
    }

    /// By how much an exchange makes it dearer. The items are exchanged afterwards.
    fn exchange(&self, items: &mut [usize], a: usize, b: usize) -> i64 {
        let both = |items: &[usize]| (self.at(items, a, None) + self.at(items, b, Some(a))) as i64;
        let before = both(items);
        items.swap(a, b);
        both(items) - before
    }

    /// Takes a placing if it is better.
    pub fn offer(&mut self, items: &[usize]) {
        let cost = self.total(items);
        if cost < self.cost {
            (self.best, self.cost) = (items.to_vec(), cost);
        }
    }

    /// Looks for better ones until the bound is met or the budget ends.
    pub fn improve(&mut self, bound: u64, budget: &mut Budget) {
        let kinds = self.kinds();
        for start in starts(self.problem) {
            let mut items = sorted_into(self.problem, &kinds, &start);
            self.descend(&mut items, &kinds, budget);
            self.offer(&items);
        }
        let mut items = self.best.clone();
        self.descend(&mut items, &kinds, budget);
        self.offer(&items);
        let rare = self.rare(&kinds);
        let mut chance = Chance::new(1);
        let mut round = FIRST_ROUND;
        let warm = self.warmth(&kinds, &rare, &mut chance, budget);
        // Warm rounds look elsewhere, mild ones round about the best.
        let mut warmths = [warm, warm / 8].into_iter().cycle();
        while self.cost > bound && !rare.is_empty() {
            let steps = round.min(budget.left() / EXCHANGE);
            if steps < FIRST_ROUND / 4 || !budget.spend(steps * EXCHANGE) {
                break;
            }
            let warm = warmths.next().unwrap_or(warm);
            self.anneal(&kinds, &rare, (steps, warm), bound, &mut chance);
            let mut items = self.best.clone();
            self.descend(&mut items, &kinds, budget);
            self.offer(&items);
            round += round / 2;
        }
    }

    /// By how much an exchange changes the cost on average, in 1024ths.
    fn warmth(&self, kinds: &[Vec<usize>], rare: &[(usize, usize)], chance: &mut Chance, budget: &mut Budget) -> u64 {
        let mut items = self.best.clone();
        let (mut sum, mut count) = (0, 1);
        for _ in 0..256 {
            if rare.is_empty() || !budget.spend(EXCHANGE) {
                break;
            }
            let kind = &kinds[rare[chance.below(rare.len())].1];
            let (a, b) = (kind[chance.below(kind.len())], kind[chance.below(kind.len())]);
            let changed = self.exchange(&mut items, a, b).unsigned_abs();
            items.swap(a, b);
            (sum, count) = (sum + changed, count + u64::from(changed > 0));
        }
        (sum * 1024 / count).max(1)
    }

    /// The places of each kind that are free, two at least.
    fn kinds(&self) -> Vec<Vec<usize>> {
        let mut kinds: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, kind) in self.problem.kinds.iter().enumerate().filter(|(place, _)| !self.problem.fixed[*place]) {
            kinds.entry(*kind).or_default().push(place);
        }
        kinds.into_values().filter(|places| places.len() > 1).collect()
    }

    /// Items that differ from the commonest of their kind, with the number of the kind.
    fn rare(&self, kinds: &[Vec<usize>]) -> Vec<(usize, usize)> {
        let mut rare = Vec::new();
        for (number, places) in kinds.iter().enumerate() {
            let mut counts: BTreeMap<[i64; 4], usize> = BTreeMap::new();
            places.iter().for_each(|&item| *counts.entry(self.problem.sides[item]).or_default() += 1);
            let most = counts.iter().max_by_key(|(_, count)| **count).map(|(sides, _)| *sides);
            rare.extend(places.iter().filter(|item| Some(self.problem.sides[**item]) != most).map(|&item| (item, number)));
        }
        rare
    }

    /// Exchanges that make it cheaper, until there are none.
    fn descend(&self, items: &mut [usize], kinds: &[Vec<usize>], budget: &mut Budget) {
        loop {
            let mut better = false;
            for places in kinds {
                if !budget.spend((places.len() * places.len() / 2) as u64 * EXCHANGE / 2) {
                    return;
                }
                for (i, &a) in places.iter().enumerate() {
                    for &b in &places[..i] {
                        if self.problem.sides[items[a]] == self.problem.sides[items[b]] {
                            continue;
                        }
                        if self.exchange(items, a, b) < 0 {
                            better = true;
                        } else {
                            items.swap(a, b);
                        }
                    }
                }
            }
            if !better {
                return;
            }
        }
    }

    /// One round from the best: warm at first, cold at its end.
    fn anneal(
        &mut self,
        kinds: &[Vec<usize>],
        rare: &[(usize, usize)],
        (steps, warm): (u64, u64),
        bound: u64,
        chance: &mut Chance,
    ) {
        let mut items = self.best.clone();
        let mut places = vec![0; items.len()];
        items.iter().enumerate().for_each(|(place, &item)| places[item] = place);
        let mut cost = self.cost as i64;
        for step in 0..steps {
            let (item, kind) = rare[chance.below(rare.len())];
            let (a, b) = (places[item], kinds[kind][chance.below(kinds[kind].len())]);
            if a == b || self.problem.sides[items[a]] == self.problem.sides[items[b]] {
                continue;
            }
            let dearer = self.exchange(&mut items, a, b);
            let left = u128::from((steps - step) * 1024 / steps);
            let warmth = u128::from(warm) * left * left * u128::from(chance.rarity());
            // Squares of 1024ths, 1024ths of the warmth, and 65536ths of the rarity.
            if dearer > 0 && u128::from(dearer.unsigned_abs()) << 46 > warmth {
                items.swap(a, b);
                continue;
            }
            (places[items[a]], places[items[b]]) = (a, b);
            cost += dearer;
            if cost < self.cost as i64 {
                (self.best, self.cost) = (items.clone(), cost as u64);
                if self.cost == bound {
                    return;
                }
            }
        }
    }

    /// The best, in which items that are alike keep their own places where they can.
    pub fn answer(&self) -> Vec<usize> {
        let mut alike: BTreeMap<(usize, [i64; 4]), Vec<usize>> = BTreeMap::new();
        for (place, &item) in self.best.iter().enumerate() {
            alike.entry((self.problem.kinds[item], self.problem.sides[item])).or_default().push(place);
        }
        let mut answer = self.best.clone();
        for places in alike.values() {
            let mut items: Vec<usize> = places.iter().map(|&place| self.best[place]).collect();
            items.sort_unstable();
            let (home, away): (Vec<usize>, Vec<usize>) = places.iter().partition(|&&place| items.binary_search(&place).is_ok());
            home.iter().for_each(|&place| answer[place] = place);
            let mut rest = items.into_iter().filter(|item| home.binary_search(item).is_err());
            away.iter().for_each(|&place| answer[place] = rest.next().expect("as many items as places"));
        }
        answer
    }
}

/// Orders of places to start from, and the side by whose value items are sorted into them; one value for all: the sum.
fn starts(problem: &Placing) -> Vec<(Vec<usize>, Option<usize>)> {
    let Some(at) = Lines::new(problem).positions() else { return Vec::new() };
    let order = |key: &dyn Fn(i64, i64) -> (i64, i64)| {
        let mut places: Vec<usize> = (0..at.len()).collect();
        places.sort_by_key(|&place| (key(at[place].0, at[place].1), place));
        places
    };
    let mut starts = vec![(order(&|x, y| (x.max(y), x + y)), None), (order(&|x, y| (x + y, y)), None)];
    if !problem.is_level() {
        starts.push((order(&|x, y| (y, x)), Some(1)));
        starts.push((order(&|x, y| (x, y)), Some(0)));
    }
    starts
}

/// Items of each kind sorted into the places of their kind, in an order of places.
fn sorted_into(problem: &Placing, kinds: &[Vec<usize>], (order, by): &(Vec<usize>, Option<usize>)) -> Vec<usize> {
    let mut rank = vec![0; order.len()];
    order.iter().enumerate().for_each(|(number, &place)| rank[place] = number);
    let value = |item: usize| by.map_or_else(|| problem.sides[item].iter().sum(), |side| problem.sides[item][side]);
    let mut items: Vec<usize> = (0..order.len()).collect();
    for kind in kinds {
        let mut places = kind.clone();
        places.sort_by_key(|&place| rank[place]);
        let mut sorted = kind.clone();
        sorted.sort_by_key(|&item| (value(item), item));
        places.into_iter().zip(sorted).for_each(|(place, item)| items[place] = item);
    }
    items
}
