//! Quilts of all kinds keep to every law, and the same quilt gives the same plan.

mod cut;
mod quilts;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use seamfall_model::{FallTo, FixedFall, Ledger, Length, Measured, Quilt, SewnJoin, SewnSection, SewnState, read};
use seamfall_plan::join::Part;
use seamfall_plan::{Effort, Memo, Plan, plan, plan_again, plan_with, wire};

/// The same 64 quilts in every check; as many as a quarter of `PROPTEST_CASES`, and others each time, where that is given.
fn looked_at() -> ProptestConfig {
    let usual = ProptestConfig::default();
    let rng_seed = if std::env::var_os("PROPTEST_CASES").is_some() { RngSeed::Random } else { RngSeed::Fixed(1) };
    ProptestConfig { cases: usual.cases / 4, failure_persistence: None, rng_seed, ..usual }
}

proptest! {
    #![proptest_config(looked_at())]

    #[test]
    fn every_quilt_keeps_to_the_laws(text in quilts::any_quilt()) {
        let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        seamfall_laws::hold(&quilt, &plan(&quilt));
    }

    /// Byte for byte, and whatever was planned before.
    #[test]
    fn the_same_quilt_gives_the_same_plan(text in quilts::any_quilt(), before in quilts::any_quilt()) {
        let [quilt, other] = [text, before].map(|text| read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}")));
        let mut memo = Memo::default();
        let mut planned = |quilt| wire::to_json(quilt, &plan_again(quilt, &Ledger::default(), Effort::FIRST, &mut memo));
        planned(&other);
        let (first, again) = (planned(&quilt), planned(&quilt));
        prop_assert_eq!(&first, &again);
        prop_assert_eq!(first, wire::to_json(&quilt, &plan(&quilt)));
    }

    /// What has been sewn stays as it is, and all the laws hold of what is planned around it.
    #[test]
    fn whatever_is_sewn_can_be_planned_around(
        text in quilts::any_quilt(),
        joined in 0_usize..9,
        far in prop::collection::vec((0_usize..7, prop::option::of(-4_i32..5)), 1..6),
        pressed in prop::collection::vec((0_usize..4, prop_oneof![Just(FallTo::First), Just(FallTo::Second), Just(FallTo::Open)]), 0..4),
    ) {
        let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        let before = plan(&quilt);
        let ledger = sewn(&quilt, &before, joined, &far, &pressed);
        let after = plan_with(&quilt, &ledger, Effort::FIRST);
        seamfall_laws::hold(&quilt, &after);
        for (known, progress) in ledger.sections.iter().zip(&after.sewn.sections) {
            prop_assert_eq!((known.state, known.measured), (progress.state.min(known.state), progress.measured));
        }
        for order in &after.join.orders {
            let kept = order.joins.iter().filter(|join| join.sewn).count();
            prop_assert_eq!(kept, ledger.joins.len(), "joins that are sewn come first in every order");
        }
    }
}

/// A ledger of `plan`: its first joins sewn, sections as far and as large as `far` says by turns, and a few seams pressed.
fn sewn(quilt: &Quilt, plan: &Plan, joined: usize, far: &[(usize, Option<i32>)], pressed: &[(usize, FallTo)]) -> Ledger {
    let allowance = 2.0 * quilt.allowance.0.value();
    let section = |(number, section): (usize, &seamfall_plan::set::Section)| {
        let (state, off) = far[number % far.len()];
        let size = section.outline.bounds();
        let side = |finished: f64, off: i32| Length::new((finished + allowance + f64::from(off) / 8.0).max(0.1));
        SewnSection {
            name: section.name.clone(),
            state: SewnState::ALL[state],
            measured: off.map(|off| Measured::Two([side(size.width(), off), side(size.height(), off)])),
            at: None,
            with: None,
            note: None,
            date: None,
        }
    };
    let names = |part: &Part| plan.join.sections(*part).iter().map(|&one| plan.top.sections[one].name.clone()).collect();
    let joins =
        plan.join.steps.iter().take(joined).map(|step| SewnJoin { between: step.join.parts.each_ref().map(names), date: None });
    const SEAMS: [[&str; 2]; 4] =
        [["half.p1", "half.p2"], ["A1.p1", "A1.p2"], ["squares.p1", "squares.p2"], ["quarter.p1", "quarter.p2"]];
    let mut falls: Vec<FixedFall> = Vec::new();
    for &(seam, to) in pressed {
        let between = SEAMS[seam].map(str::to_owned);
        if falls.iter().all(|fall| fall.between != between) {
            falls.push(FixedFall { between, to });
        }
    }
    Ledger { sections: plan.top.sections.iter().enumerate().map(section).collect(), falls, joins: joins.collect() }
}

/// On point with sashing all round, every section several blocks: joins turn a corner at half a cornerstone and nowhere else, so that all orders
/// sew the same seams. A sash of the frame round it once counted as such a half, and was to be set in between two others.
#[test]
fn nothing_but_half_a_cornerstone_is_set_in() {
    for corners in ["", "cornerstones = \"blue\"\n"] {
        let text = format!(
            r##"format = 1
name = "On point"
measure = "inch"
largest-section = "40"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.plain]
shape = "square"
size = "11 1/8"
cloths = {{ one = "blue" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "on-point"
triangles = "red"
columns = 1
rows = 1
pattern = [["plain"]]
[sashing]
width = "2 1/4"
cloth = "red"
around = true
{corners}"##
        );
        let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        let plan = plan(&quilt);
        assert!(plan.join.orders.len() > 1 && plan.join.steps.iter().any(|step| step.set_in.is_some()), "{:?}", plan.findings);
        seamfall_laws::hold(&quilt, &plan);
    }
}
