//! What a quilt costs its maker, so that versions of it can be laid beside one another.
//!
//! In: a quilt and its plan. Out: lines of figures, each with a key under which it stands beside the same line of another version. Every figure
//! is read from the plan, where its working is; nothing is worked out anew but sums.

use crate::Plan;
use crate::cut::{Laid, Material, ToBuy};
use crate::words;
use seamfall_model::{Quilt, decimal, shown_money};
use tr::tr;

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// What it is, the same in every version: `stacks`, `cloth night`.
    pub key: String,
    /// What it is called.
    pub what: String,
    /// The figure as it is said.
    pub shown: String,
    /// The figure, to tell more from less; it compares only with that of the same key. Nothing where it cannot be had.
    pub value: Option<f64>,
}

/// All lines, in the order in which they are told.
#[must_use]
pub fn costs(quilt: &Quilt, plan: &Plan) -> Vec<Cost> {
    let mut all = Vec::new();
    let mut add = |key: &str, what: &str, shown: String, value: Option<f64>| {
        all.push(Cost { key: key.to_owned(), what: what.to_owned(), shown, value });
    };
    let counted = |number: usize| (number.to_string(), Some(number as f64));
    let mut count = |key: &str, what: &str, number: usize| {
        let (shown, value) = counted(number);
        add(key, what, shown, value);
    };
    let top = &plan.top;
    count("places", &tr!("Blocks"), top.places.len());
    count("pieces", &tr!("Patches and strips"), patches(plan) + top.strips.len());
    count("units", &tr!("Kinds of unit to sew"), plan.units.all.len());
    count("sections", &tr!("Lap sections"), top.sections.len());
    let order = plan.join.orders.get(plan.join.taken);
    count("joins", &tr!("Joins between sections"), order.map_or(0, |order| order.joins.len()));
    let counts = plan.falls.count();
    let stacks = format!("{}, {}", counts.stacks, words::pressings(counts.pressings));
    add("size", &tr!("Finished size"), words::size(quilt, top.size.x, top.size.y), Some(top.size.x * top.size.y));
    add("stacks", &tr!("Meetings that stack"), stacks, Some(counts.stacks as f64));
    if let Some(order) = order {
        let long = format!("{} {}", decimal(order.longest.value, 1), quilt.measure.sign());
        add("longest", &tr!("Longest join"), long, Some(order.longest.value));
        add(
            "weight",
            &tr!("Weight at the machine, in the mean"),
            format!("{} g", decimal(order.mean_weight.value, 0)),
            Some(order.mean_weight.value),
        );
    }
    let quilting = &plan.lap.totals;
    let hours = quilting.hours.value + quilting.hours_after.value + order.map_or(0.0, |order| order.hours.value);
    add("hours", &tr!("Hours of quilting and joining"), words::hours(hours), Some(hours));
    let needlefuls = quilting.needlefuls;
    add("needlefuls", &tr!("Needlefuls in the lap"), needlefuls.to_string(), Some(needlefuls as f64));
    let thread = &plan.cutting.thread;
    add("thread", &tr!("Thread for piecing"), words::thread(quilt, thread), Some(thread.thread.value));
    for bought in &plan.cutting.bought {
        let (key, what) = match bought.of {
            Material::Cloth(_) => (format!("cloth {}", bought.of.key(quilt)), bought.of.name(quilt)),
            Material::Batting => ("batting".to_owned(), tr!("Batting")),
        };
        add(&key, &what, bought.shown(quilt), taken(bought));
    }
    if let Some(price) = plan.cutting.price() {
        add("price", &tr!("All that has a price"), shown_money(price), Some(price as f64));
    }
    all.sort_by_key(|cost| RANKS.iter().position(|rank| *rank == cost.key).unwrap_or(RANKS.len()));
    all
}

/// What comes first; cloths follow, in the order of the file.
const RANKS: [&str; 12] =
    ["size", "places", "sections", "pieces", "units", "stacks", "joins", "longest", "weight", "hours", "needlefuls", "thread"];

fn patches(plan: &Plan) -> usize {
    plan.top.places.iter().map(|place| plan.drafts[place.block.0].patches.len() + plan.drafts[place.block.0].overlays.len()).sum()
}

/// The length to buy, or the number of pieces.
fn taken(bought: &ToBuy) -> Option<f64> {
    match bought.laid.as_ref()? {
        Laid::OffTheBolt(laid) => Some(laid.length.value),
        Laid::OutOfSizes(laid) => Some(laid.cutting.sheets.len() as f64),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan;
    use std::collections::BTreeSet;

    fn of(quilt: &Quilt) -> Vec<Cost> {
        costs(quilt, &plan(quilt))
    }

    fn value(all: &[Cost], key: &str) -> f64 {
        all.iter().find(|cost| cost.key == key).and_then(|cost| cost.value).unwrap_or_else(|| panic!("no {key}"))
    }

    #[test]
    fn every_line_has_a_key_of_its_own_and_stands_in_the_plan() {
        let quilt = seamfall_testkit::lamplight();
        let plan = plan(&quilt);
        let all = costs(&quilt, &plan);
        assert_eq!(all.iter().map(|cost| &cost.key).collect::<BTreeSet<_>>().len(), all.len());
        assert_eq!(value(&all, "joins") + 1.0, value(&all, "sections"), "n sections take n - 1 joins");
        assert!((value(&all, "size") - plan.top.size.x * plan.top.size.y).abs() < 1e-9);
        let cloths = all.iter().filter(|cost| cost.key.starts_with("cloth ")).count();
        assert_eq!(cloths + usize::from(all.iter().any(|cost| cost.key == "batting")), plan.cutting.bought.len());
    }

    /// A row more takes more of everything that grows with the top.
    #[test]
    fn a_larger_quilt_costs_more() {
        let quilt = seamfall_testkit::lamplight();
        let mut larger = quilt.clone();
        let last = larger.setting.places.last().expect("it has rows").clone();
        larger.setting.places.push(last);
        let (small, large) = (of(&quilt), of(&larger));
        for key in ["size", "places", "pieces", "sections", "joins", "hours", "thread"] {
            assert!(value(&large, key) > value(&small, key), "{key}");
        }
    }
}
