//! Least stacks against an independent solver.
//!
//! `reference/falls/least.json` was made by `reference/falls/least.py` with CP-SAT (OR-Tools 9.15), which works out meetings anew from the
//! courses of the seams, chooses falls and orders together, and proves each result optimal.

use seamfall_model::{Ledger, Pressings};
use seamfall_plan::{Effort, Plan, fall, plan_with};
use seamfall_testkit::{king_200, nine_of_each_block, pressing_quilts};
use std::collections::BTreeMap;

#[derive(serde::Deserialize)]
struct Least {
    name: String,
    one: u64,
    own: u64,
}

#[test]
fn the_least_stacks_are_those_of_an_independent_solver() {
    let stored: Vec<Least> = serde_json::from_str(include_str!("reference/falls/least.json")).expect("the stored results read");
    let stored: BTreeMap<&str, &Least> = stored.iter().map(|least| (least.name.as_str(), least)).collect();
    let (blocks, quilts) = (nine_of_each_block(), pressing_quilts());
    assert!(blocks.len() >= 30 && quilts.len() >= 15, "{} blocks, {} quilts", blocks.len(), quilts.len());
    assert_eq!(stored.len(), blocks.len() + quilts.len());
    let stacked = stored.values().filter(|least| least.one > 0).count();
    assert!(stacked >= 20, "a comparison of noughts says little: {stacked}");
    // A sampler dealt and turned at random may end with a best answer and a bound below it.
    let mut open = Vec::new();
    for (name, quilt) in blocks.iter().chain(&quilts) {
        let plan: Plan = plan_with(quilt, &Ledger::default(), Effort { falls: fall::Effort(10), ..Effort::FIRST });
        let mut weight = |pressings| {
            let count = plan.falls.counts.iter().find(|count| count.pressings == pressings).expect("all are counted");
            if !count.is_proven() {
                open.push(name.clone());
            }
            (count.weight, count.bound)
        };
        let least = stored[name.as_str()];
        for ((ours, bound), theirs) in [(weight(Pressings::Shared(1)), least.one), (weight(Pressings::Own), least.own)] {
            assert_eq!(ours, theirs, "{name}");
            assert!(bound <= theirs, "{name}: a bound above an optimum is no bound");
        }
    }
    assert!(open.iter().all(|name| name.contains("sampler")) && open.len() <= 2, "{open:?}");
}

/// What a maker is shown after an edit does not hide that her quilt can be pressed without a stack.
#[test]
fn an_edit_finds_the_pressing_of_an_orderly_king_that_a_plan_finds() {
    let quilt = king_200();
    let counts = |effort| {
        let all = plan_with(&quilt, &Ledger::default(), effort).falls.counts;
        all.iter().map(|count| (count.pressings, count.weight)).collect::<Vec<_>>()
    };
    let shown = counts(Effort::EDIT);
    assert_eq!(shown, counts(Effort::FIRST));
    assert!(shown[0].1 > 0 && shown[1].1 == 0, "with two pressings nothing stacks: {shown:?}");
}
