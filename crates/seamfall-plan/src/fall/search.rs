//! The fewest stacks, over falls, sewing orders, and ways to share pressings.
//!
//! In: everything there is to choose. Out: for one to four pressings a block and for every copy by itself the best found, with the
//! bound that holds for any natural order. Falls are solved exactly ([`seamfall_solve::stacks`]). Orders are first changed one
//! design at a time for as long as that helps; then branch and bound goes over them: with some designs given an order, the others
//! cost no less than each by itself in its best order, and what ends on their outlines is free. More pressings never cost more than
//! fewer, and never less than every copy by itself.

use super::copies;
use super::hand::Hand;
use super::model::{Across, Copies, Model, Orders};
use super::redeal::redealt;
use super::{Effort, Proof};
use crate::Wanted;
use crate::piece::Piecing;
use crate::set::Top;
use seamfall_model::{Pressings, Quilt};
use seamfall_solve::stacks::{Signed, few, fewest};
use seamfall_solve::{Budget, Proven};
use std::cell::{Cell, RefCell};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::rc::Rc;

/// So many orders are tried one design at a time for one and for two pressings.
const TRIED: usize = 24;
/// So many of the first orders of a design are gone back to; while an edit waits.
const BACK: usize = 4;
const BACK_FOR_AN_EDIT: usize = 1;
/// So many cases of branch and bound are looked at, fewer where the graph is large: so many seams in all.
const CASES: usize = 400;
const CASE_SEAMS: usize = 1_000_000;
/// Steps of the solver for each way to share pressings, of about a nanosecond.
const STEPS: u64 = 30_000_000;
/// The same while an edit waits: where many blocks are turned at random less is proven, and a pressing that is a little better may be missed.
const STEPS_OF_AN_EDIT: u64 = 1_000_000;

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
    effort: Effort,
    wanted: Wanted<'a>,
    /// Whether nobody wanted it any more. Then what comes out is nothing.
    stopped: Cell<bool>,
    /// What is left for the way to share pressings that is looked at.
    budget: Cell<Budget>,
    kept: RefCell<Option<Kept>>,
}

/// Meetings of the top in each of its orders, for the copies that were looked at last.
type Kept = (Copies, BTreeMap<usize, Rc<Across>>);

impl<'a> Search<'a> {
    pub fn new(quilt: &'a Quilt, top: &'a Top, piecing: &'a Piecing, hand: &'a Hand, effort: Effort, wanted: Wanted<'a>) -> Self {
        let (stopped, budget) = (Cell::new(false), Cell::new(Budget::steps(0)));
        Self { quilt, top, piecing, hand, effort, wanted, stopped, budget, kept: RefCell::default() }
    }

    /// Whether nobody wanted it any more while it was searched.
    pub fn is_stopped(&self) -> bool {
        self.stopped.get()
    }

    /// A new budget.
    fn refill(&self) {
        self.budget.set(Budget::steps(self.steps()));
    }

    fn steps(&self) -> u64 {
        if self.is_for_an_edit() { STEPS_OF_AN_EDIT } else { STEPS * u64::from(self.effort.0) }
    }

    /// Whether no further orders are gone over: nobody wants them any more, or an edit has waited for so much; half of its steps are kept for what is
    /// pressed in the end.
    fn keeps_waiting(&self) -> bool {
        self.is_stopped() || self.is_for_an_edit() && self.budget.get().left() < self.steps() / 2
    }

    fn is_for_an_edit(&self) -> bool {
        self.effort == Effort::OF_AN_EDIT
    }

    /// The best for one, two, three and four pressings, and for every copy by itself, in this order.
    pub fn all(&self) -> Vec<Best> {
        self.refill();
        let alone = self.alone();
        let one = copies::dealt(self.quilt, self.top, self.piecing, self.hand, 1).remove(0);
        let starts = self.first_orders(&alone);
        let start = starts.iter().map(|orders| self.solve(Pressings::Shared(1), orders, &one)).min_by_key(|best| best.cost);
        let one = self.proven(start.expect("there is a first order"), &alone);
        let own = if one.cost == 0 {
            // Falls and orders that nest everywhere do so for every copy.
            Best { pressings: Pressings::Own, ..one.clone() }
        } else {
            self.refill();
            let own = self.solve(Pressings::Own, &one.orders, &copies::own(self.piecing));
            let own = self.proven(own, &alone);
            if own.cost < one.cost {
                own
            } else {
                Best { pressings: Pressings::Own, bound: own.bound, by: own.by, ..one.clone() }
            }
        };
        let mut all: Vec<Best> = vec![one];
        for pressings in 2..=4u8 {
            let fewer = &all[all.len() - 1];
            let named = Pressings::Shared(pressings);
            // Copies are dealt out by rule, so that only every copy by itself is a bound.
            let is_left = self.is_for_an_edit() && pressings > 2 && self.quilt.pressings != Some(named);
            let found = if fewer.cost == own.bound || is_left { None } else { self.shared(pressings, fewer, own.bound) };
            let found = found.filter(|found| found.cost < fewer.cost).unwrap_or_else(|| fewer.clone());
            all.push(Best { pressings: named, bound: own.bound, by: own.by, ..found });
        }
        all.push(own);
        all
    }

    /// The best of the ways to deal out pressings, beginning with the orders that are best with fewer.
    fn shared(&self, pressings: u8, fewer: &Best, bound: u64) -> Option<Best> {
        self.refill();
        let dealt = copies::dealt(self.quilt, self.top, self.piecing, self.hand, usize::from(pressings));
        let named = Pressings::Shared(pressings);
        let found = dealt.iter().map(|copies| self.solve(named, &fewer.orders, copies));
        let found = found.min_by_key(|best| best.cost)?;
        if self.is_for_an_edit() {
            return Some(found);
        }
        // A third and a fourth pressing are followed up where they help as dealt: they seldom do, and orders seldom change that.
        if pressings > 2 && found.cost >= fewer.cost {
            return None;
        }
        let best = self.dealt_anew(found, bound);
        if best.cost == bound || pressings > 2 {
            return Some(best);
        }
        let found = self.one_by_one(best.clone(), bound);
        Some(if found.cost < best.cost { self.dealt_anew(found, bound) } else { best })
    }

    /// Deals pressings out anew, and presses anew, for as long as that helps.
    fn dealt_anew(&self, start: Best, bound: u64) -> Best {
        let mut best = start;
        while best.cost > bound {
            let Some(copies) = redealt(self.piecing, self.hand, &best) else { break };
            let found = self.solve(best.pressings, &best.orders, &copies);
            if found.cost >= best.cost {
                break;
            }
            best = found;
        }
        best
    }

    /// Where the search begins: every design in its first order, and every design in the one that costs least by itself.
    fn first_orders(&self, alone: &[Alone]) -> Vec<Orders> {
        let least = |costs: &Alone| costs.iter().enumerate().min_by_key(|(_, cost)| **cost).map_or(0, |(order, _)| order);
        let first = Orders { designs: vec![Some(0); alone.len()], top: 0 };
        let cheapest = Orders { designs: alone.iter().map(|costs| Some(least(costs))).collect(), top: 0 };
        if first == cheapest { vec![first] } else { vec![cheapest, first] }
    }

    /// Changes the order of one design at a time for as long as that helps, or until `bound` is met.
    fn one_by_one(&self, start: Best, bound: u64) -> Best {
        let choices = self.piecing.designs.iter().map(|design| design.orders.len()).chain([self.piecing.top.len()]);
        let choices: Vec<usize> = choices.collect();
        let mut best = start;
        let mut tried = 0;
        loop {
            let before = best.cost;
            for (which, &count) in choices.iter().enumerate() {
                for choice in 0..count {
                    if best.cost == bound || tried == TRIED || self.keeps_waiting() {
                        return best;
                    }
                    let mut orders = best.orders.clone();
                    match orders.designs.get_mut(which) {
                        Some(design) => *design = Some(choice),
                        None => orders.top = choice,
                    }
                    if orders != best.orders {
                        tried += 1;
                        let found = self.solve(best.pressings, &orders, &best.copies);
                        best = if found.cost < best.cost { found } else { best };
                    }
                }
            }
            if best.cost == before {
                return best;
            }
        }
    }

    /// Goes back to orders that come before those taken, which make more units in the usual way, where that costs nothing.
    pub fn natural(&self, best: &Best) -> Best {
        self.refill();
        let back = if self.is_for_an_edit() { BACK_FOR_AN_EDIT } else { BACK };
        let mut best = best.clone();
        for design in 0..best.orders.designs.len() {
            if self.is_stopped() {
                break;
            }
            for order in 0..best.orders.designs[design].unwrap_or(0).min(back) {
                let mut orders = best.orders.clone();
                orders.designs[design] = Some(order);
                let found = self.solve(best.pressings, &orders, &best.copies);
                if found.cost == best.cost {
                    best = Best { bound: best.bound, by: best.by, ..found };
                    break;
                }
            }
        }
        best
    }

    /// Goes over all orders, by branch and bound.
    fn proven(&self, start: Best, alone: &[Alone]) -> Best {
        let least = |choice: &Alone| choice.iter().min().copied().unwrap_or(0);
        if start.cost == alone.iter().map(least).sum::<u64>() {
            return Best { bound: start.cost, by: Proof::Alone, ..start };
        }
        let best = self.one_by_one(start, alone.iter().map(least).sum());
        let cases = (CASE_SEAMS / best.values.len().max(1)).clamp(4, CASES) * self.effort.0.max(1) as usize;
        let mut branching = Branching { search: self, alone, best, cases, open: u64::MAX };
        let mut designs: Vec<Option<usize>> = vec![None; alone.len()];
        for (design, orders) in alone.iter().enumerate() {
            if orders.len() == 1 {
                designs[design] = Some(0);
            }
        }
        let roots = (0..self.piecing.top.len()).map(|top| Orders { designs: designs.clone(), top });
        let mut roots: Vec<(u64, Orders)> = roots.filter_map(|orders| Some((branching.bound(&orders)?, orders))).collect();
        roots.sort_by_key(|(bound, _)| *bound);
        for (bound, orders) in roots {
            branching.branch(&orders, bound);
        }
        let (best, open) = (branching.best, branching.open);
        let bound = open.min(best.cost);
        Best { bound, ..best }
    }

    /// What the meetings within each design cost in each of its orders, over all its copies.
    fn alone(&self) -> Vec<Alone> {
        let copies = copies::own(self.piecing);
        let none = Hand::default();
        let design = |number: usize| {
            let places = self.piecing.holds.iter().filter(|held| held.design == number).count() as u64;
            let cost = |order: usize| {
                if self.is_stopped() {
                    return 0;
                }
                let mut orders = Orders { designs: vec![None; self.piecing.designs.len()], top: 0 };
                orders.designs[number] = Some(order);
                let model = Model::new(self.piecing, &orders, &copies, &none);
                let mut edges = Vec::new();
                model.meetings_of(number, 0, 1, &mut edges);
                let graph = Signed::new(model.nodes, edges, &[]).expect("nodes are counted");
                self.within_budget(&graph).bound * places
            };
            (0..self.piecing.designs[number].orders.len()).map(cost).collect()
        };
        (0..self.piecing.designs.len()).map(design).collect()
    }

    fn solve(&self, pressings: Pressings, orders: &Orders, copies: &Copies) -> Best {
        let Proven { answer, cost, bound, by } = self.fewest(orders, copies);
        Best { pressings, orders: orders.clone(), copies: copies.clone(), values: answer, cost, bound, by: Proof::Solved(by) }
    }

    fn fewest(&self, orders: &Orders, copies: &Copies) -> Proven<Vec<bool>> {
        let model = Model::new(self.piecing, orders, copies, self.hand);
        self.within_budget(&model.graph(&self.across(orders.top, copies)))
    }

    /// The meetings of the top, kept for the copies that were looked at last.
    fn across(&self, top: usize, copies: &Copies) -> Rc<Across> {
        let mut kept = self.kept.borrow_mut();
        if kept.as_ref().is_none_or(|(of, _)| of != copies) {
            *kept = Some((copies.clone(), BTreeMap::new()));
        }
        let (_, tops) = kept.as_mut().expect("it was put there just before");
        Rc::clone(tops.entry(top).or_insert_with(|| Rc::new(Across::new(self.piecing, top, copies))))
    }

    fn within_budget(&self, graph: &Signed) -> Proven<Vec<bool>> {
        self.stopped.set(self.is_stopped() || !(self.wanted)());
        let mut budget = if self.is_stopped() { Budget::steps(0) } else { self.budget.get() };
        let proven = if self.is_for_an_edit() { few(graph, &mut budget) } else { fewest(graph, &mut budget) };
        self.budget.set(budget);
        proven
    }
}

/// What a design costs by itself in each of its orders.
type Alone = Vec<u64>;

/// Branch and bound over the orders of designs.
struct Branching<'a> {
    search: &'a Search<'a>,
    alone: &'a [Alone],
    best: Best,
    /// Cases left to be looked at.
    cases: usize,
    /// The least bound of the cases that were not gone through.
    open: u64,
}

impl Branching<'_> {
    /// No order of the designs that have none yet costs less. Nothing where that is not less than the best.
    fn bound(&mut self, orders: &Orders) -> Option<u64> {
        self.cases = self.cases.saturating_sub(1);
        let apart = orders.designs.iter().zip(self.alone).filter(|(order, _)| order.is_none());
        let apart: u64 = apart.map(|(_, costs)| costs.iter().min().copied().unwrap_or(0)).sum();
        if orders.designs.iter().all(Option::is_some) {
            let found = self.search.solve(self.best.pressings, orders, &self.best.copies);
            let bound = found.bound;
            if found.cost < self.best.cost {
                self.best = found;
            }
            if bound < self.best.cost {
                self.open = self.open.min(bound);
            }
            return None;
        }
        let bound = apart + self.search.fewest(orders, &self.best.copies).bound;
        (bound < self.best.cost).then_some(bound)
    }

    /// Gives the next design each of its orders, the most promising first.
    fn branch(&mut self, orders: &Orders, bound: u64) {
        let many = |design: &usize| self.search.piecing.holds.iter().filter(|held| held.design == *design).count();
        if bound >= self.best.cost {
            return;
        }
        let open = (0..orders.designs.len()).filter(|design| orders.designs[*design].is_none());
        // Those with few orders first, and of these the ones that stand at most places: found by trying, half the cases.
        let next = open.min_by_key(|design| (self.alone[*design].len(), Reverse(many(design)), *design));
        let Some(next) = next else { return };
        let mut cases: Vec<(u64, Orders)> = Vec::new();
        for order in 0..self.alone[next].len() {
            let mut orders = orders.clone();
            orders.designs[next] = Some(order);
            if self.cases == 0 || self.search.keeps_waiting() {
                self.open = self.open.min(bound);
                return;
            }
            if let Some(bound) = self.bound(&orders) {
                cases.push((bound, orders));
            }
        }
        cases.sort_by_key(|(bound, _)| *bound);
        for (bound, orders) in cases {
            self.branch(&orders, bound);
        }
    }
}
