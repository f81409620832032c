//! How long all join orders take, with the least weight at the machine proven: a grid of 14 by 16 sections, the king of the tests, one on point with bands.
//!
//! `orders`: from the sections to orders and steps. That the lightest order is proven is checked once, outside the clock.

use divan::Bencher;
use seamfall_model::{JoinOrder, Ledger, Quilt, read};
use seamfall_plan::join::{Before, derive};
use seamfall_plan::{Effort, plan, plan_again};
use seamfall_testkit as quilts;

fn main() {
    divan::main();
}

fn grid() -> Quilt {
    read(
        r##"format = 1
name = "Grid"
measure = "inch"
largest-section = "12"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "7"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 14
rows = 16
pattern = [["plain"]]
"##,
    )
    .unwrap_or_else(|error| panic!("{error:#?}"))
}

fn bench(bencher: Bencher, quilt: &Quilt, sections: usize) {
    let plan = plan(quilt);
    assert_eq!(plan.top.sections.len(), sections);
    let best = plan.join.orders.iter().find(|order| order.kind == JoinOrder::Best);
    assert!(best.is_some_and(|order| order.is_best()) && plan.join.steps.len() == sections - 1);
    let before = Before { drafts: &plan.drafts, top: &plan.top, piecing: &plan.piecing, falls: &plan.falls, lap: &plan.lap };
    bencher.bench_local(|| derive(divan::black_box(quilt), before, &[], Effort::FIRST.falls));
}

#[divan::bench]
fn orders_of_14_by_16(bencher: Bencher) {
    bench(bencher, &grid(), 224);
}

#[divan::bench]
fn orders_of_the_king(bencher: Bencher) {
    let quilt = quilts::king_200();
    let sections = plan(&quilt).top.sections.len();
    bench(bencher, &quilt, sections);
}

#[divan::bench]
fn orders_on_point_with_bands(bencher: Bencher) {
    let quilt = quilts::hill_farm();
    let sections = plan(&quilt).top.sections.len();
    bench(bencher, &quilt, sections);
}

/// The king planned anew after one join is ticked off, with what was known of its quilting.
#[divan::bench]
fn king_after_one_tick(bencher: Bencher) {
    let quilt = quilts::king_200();
    let first = plan(&quilt);
    let names = |part| -> Vec<String> {
        let sections = first.join.sections(part);
        sections.into_iter().map(|section| first.top.sections[section].name.clone()).collect()
    };
    let between = first.join.steps[0].join.parts.map(names);
    let mut ledger = Ledger::default();
    ledger.joins.push(seamfall_model::SewnJoin { between, date: None });
    let mut memo = seamfall_plan::Memo::default();
    let planned = plan_again(&quilt, &ledger, Effort::FIRST, &mut memo);
    assert!(planned.join.steps[0].join.sewn && !planned.join.steps[1].join.sewn);
    bencher.bench_local(|| plan_again(divan::black_box(&quilt), &ledger, Effort::FIRST, &mut memo));
}
