//! Quilts of all kinds keep to every law, and the same quilt gives the same plan.

mod cut;
mod quilts;

use proptest::prelude::*;
use seamfall_model::{Ledger, read};
use seamfall_plan::{Effort, Memo, plan, plan_again, wire};

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

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
