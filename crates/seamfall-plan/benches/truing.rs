//! How long the measured king takes to be trued again after a tick: every section measured, one of nine short.
//!
//! `first` is what an edit waits for, `full` what is printed. The answer is checked once outside the clock.

use divan::Bencher;
use seamfall_model::{Ledger, Length, Measured, SewnSection, SewnState};
use seamfall_plan::truing::{self, Before, Effort};
use seamfall_plan::{plan, plan_with, sewn};
use seamfall_testkit as quilts;

fn main() {
    divan::main();
}

fn bench(bencher: Bencher, effort: Effort) {
    let quilt = quilts::king_200();
    let top = plan(&quilt).top;
    let section = |(number, section): (usize, &seamfall_plan::set::Section)| {
        let off = if number % 9 == 4 { 0.16 + (number % 4) as f64 / 50.0 } else { (number % 3) as f64 / 32.0 };
        SewnSection {
            name: section.name.clone(),
            state: SewnState::Quilted,
            measured: Some(Measured::Two([0, 2].map(|side| sewn::planned_sides(&quilt, section)[side] - Length::new(off)))),
            at: None,
            with: None,
            note: None,
            date: None,
        }
    };
    let ledger = Ledger { sections: top.sections.iter().enumerate().map(section).collect(), ..Ledger::default() };
    let worked = plan_with(&quilt, &ledger, seamfall_plan::Effort::FIRST);
    let before = Before { drafts: &worked.drafts, top: &worked.top, sewn: &worked.sewn, falls: &worked.falls, lap: &worked.lap };
    let places = truing::derive(&quilt, before, effort).result.places.expect("something is measured");
    assert!(places.bound <= places.after && places.after <= places.before);
    eprintln!("{} sections: {} eased before, {} after, bound {}", top.sections.len(), places.before, places.after, places.bound);
    bencher.bench_local(|| truing::derive(&quilt, divan::black_box(before), effort));
}

#[divan::bench]
fn first(bencher: Bencher) {
    bench(bencher, Effort::FIRST);
}

#[divan::bench(sample_count = 10)]
fn full(bencher: Bencher) {
    bench(bencher, Effort::FULL);
}
