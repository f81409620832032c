//! The fewest stacks, over falls, sewing orders, and ways to share pressings.
//!
//! In: everything there is to choose. Out: for one to four pressings a block and for every copy by itself the best found, with the
//! bound that holds for any order. Falls are solved exactly ([`seamfall_solve::stacks`]). Orders are all gone through while there
//! are few, else changed one design at a time for as long as that helps; what a design costs by itself in its best order is a bound
//! then. More pressings never cost more than fewer, and never less than every copy by itself.

use super::Proof;
use super::copies;
use super::hand::Hand;
use super::model::{Copies, Model, Orders};
use crate::piece::Piecing;
use crate::set::Top;
use seamfall_model::{Pressings, Quilt};
use seamfall_solve::Budget;
use seamfall_solve::stacks::{Signed, SignedEdge, fewest};

/// So many combinations of orders are all gone through.
const ALL_ORDERS: usize = 48;
/// So many are tried at most where there are more.
const TRIED: usize = 160;
/// Steps for one problem, of a few nanoseconds.
const STEPS: u64 = 20_000_000;

/// The best found for one way to share pressings.
#[derive(Debug, Clone)]
pub(super) struct Best {
    pub pressings: Pressings,
    pub orders: Orders,
    pub copies: Copies,
    pub values: Vec<bool>,
    /// Weight of all stacks.
    pub cost: u64,
    /// No fall and no order has less.
    pub bound: u64,
    pub by: Proof,
}

/// What is solved.
pub(super) struct Search<'a> {
    pub quilt: &'a Quilt,
    pub top: &'a Top,
    pub piecing: &'a Piecing,
    pub hand: &'a Hand,
}

impl Search<'_> {
    /// The best for one, two, three and four pressings, and for every copy by itself, in this order.
    pub fn all(&self) -> Vec<Best> {
        let one = self.best_of(Pressings::Shared(1), copies::dealt(self.quilt, self.top, self.piecing, self.hand, 1), None, 0);
        let own = if one.cost == 0 {
            // Falls and orders that nest everywhere do so for every copy.
            Best { pressings: Pressings::Own, ..one.clone() }
        } else {
            let own = self.best_of(Pressings::Own, vec![copies::own(self.piecing)], Some(&one), 0);
            if own.cost < one.cost {
                own
            } else {
                Best { pressings: Pressings::Own, bound: own.bound, by: own.by, ..one.clone() }
            }
        };
        let mut all: Vec<Best> = vec![Best { bound: one.bound.max(own.bound), ..one }];
        for pressings in 2..=4u8 {
            let fewer = &all[all.len() - 1];
            let named = Pressings::Shared(pressings);
            if fewer.cost == own.bound {
                all.push(Best { pressings: named, bound: own.bound, by: own.by, ..fewer.clone() });
                continue;
            }
            let dealt = copies::dealt(self.quilt, self.top, self.piecing, self.hand, usize::from(pressings));
            let found = self.best_of(named, dealt, Some(fewer), own.bound);
            let found = if found.cost < fewer.cost { found } else { Best { pressings: named, ..fewer.clone() } };
            // Copies were dealt out by rule, so that only every copy by itself is a bound.
            all.push(Best { bound: own.bound, by: own.by, ..found });
        }
        all.push(own);
        all
    }

    /// The best over ways to share and over orders, beginning with those of `like`; stops where `bound` is met.
    fn best_of(&self, pressings: Pressings, dealt: Vec<Copies>, like: Option<&Best>, bound: u64) -> Best {
        let first = like.map_or_else(|| self.first_orders(), |like| like.orders.clone());
        let mut best: Option<Best> = None;
        for copies in dealt {
            let found = self.solve(pressings, &first, &copies);
            if best.as_ref().is_none_or(|best| found.cost < best.cost) {
                best = Some(found);
            }
        }
        let best = best.expect("there is a way to deal out any number of pressings");
        if best.cost == bound { Best { bound, ..best } } else { self.over_orders(best, bound) }
    }

    fn first_orders(&self) -> Orders {
        Orders { designs: vec![0; self.piecing.designs.len()], top: 0 }
    }

    /// How many orders there are of each design, and of the top.
    fn choices(&self) -> Vec<usize> {
        self.piecing.designs.iter().map(|design| design.orders.len()).chain([self.piecing.top.len()]).collect()
    }

    fn over_orders(&self, start: Best, bound: u64) -> Best {
        let choices = self.choices();
        let combinations = choices.iter().try_fold(1usize, |product, &count| product.checked_mul(count)).unwrap_or(usize::MAX);
        let alone = self.alone(&start.copies).max(bound);
        if start.cost == alone {
            return Best { bound: alone, ..start };
        }
        if combinations <= ALL_ORDERS {
            self.every_order(start, &choices, combinations, alone)
        } else {
            self.one_by_one(start, &choices, alone)
        }
    }

    fn every_order(&self, start: Best, choices: &[usize], combinations: usize, alone: u64) -> Best {
        let mut best = start;
        let mut least = u64::MAX;
        for number in 0..combinations {
            let mut rest = number;
            let digits: Vec<usize> = choices
                .iter()
                .map(|&count| {
                    let digit = rest % count;
                    rest /= count;
                    digit
                })
                .collect();
            let orders = Orders { designs: digits[..digits.len() - 1].to_vec(), top: digits[digits.len() - 1] };
            let found = self.solve(best.pressings, &orders, &best.copies);
            least = least.min(found.bound);
            if found.cost < best.cost {
                best = found;
            }
            if best.cost == alone {
                break;
            }
        }
        let bound = if best.cost == alone { alone } else { least.max(alone) };
        Best { bound, ..best }
    }

    fn one_by_one(&self, start: Best, choices: &[usize], alone: u64) -> Best {
        let mut best = start;
        let mut tried = 0;
        loop {
            let before = best.cost;
            for (which, &count) in choices.iter().enumerate() {
                for choice in 0..count {
                    let mut orders = best.orders.clone();
                    let place = orders.designs.get_mut(which).map_or(&mut orders.top, |design| design);
                    if *place == choice || tried == TRIED {
                        continue;
                    }
                    *place = choice;
                    tried += 1;
                    let found = self.solve(best.pressings, &orders, &best.copies);
                    if found.cost < best.cost {
                        best = found;
                    }
                    if best.cost == alone {
                        return Best { bound: alone, ..best };
                    }
                }
            }
            if best.cost == before || tried == TRIED {
                return Best { bound: alone, by: Proof::Alone, ..best };
            }
        }
    }

    /// What each design costs by itself in its best order, over its copies: no quilt of them costs less.
    fn alone(&self, copies: &Copies) -> u64 {
        let mut sum = 0;
        for (design, held) in self.piecing.designs.iter().enumerate() {
            let places = self.piecing.holds.iter().filter(|held| held.design == design).count() as u64;
            let orders = held.orders.iter().enumerate().map(|(order, _)| {
                let mut orders = self.first_orders();
                orders.designs[design] = order;
                let model = Model::new(self.piecing, &orders, copies, self.hand);
                // The fixed falls of one pressing stand for all: those that places have of their own may only add.
                let mut edges: Vec<SignedEdge> = Vec::new();
                model.meetings_of(design, 0, 1, &mut edges);
                let fixed = if self.hand.of_places.is_empty() { model.fixed.as_slice() } else { &[] };
                let graph = Signed::new(model.nodes, edges, fixed).expect("nodes are counted, and given once");
                fewest(&graph, Budget::steps(STEPS)).bound
            });
            sum += orders.min().unwrap_or(0) * places;
        }
        sum
    }

    fn solve(&self, pressings: Pressings, orders: &Orders, copies: &Copies) -> Best {
        let model = Model::new(self.piecing, orders, copies, self.hand);
        let proven = fewest(&model.graph(), Budget::steps(STEPS));
        Best {
            pressings,
            orders: orders.clone(),
            copies: copies.clone(),
            values: proven.answer,
            cost: proven.cost,
            bound: proven.bound,
            by: Proof::Solved(proven.by),
        }
    }
}
