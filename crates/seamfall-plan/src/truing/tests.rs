//! Tests of the stage as a whole. Wanted values are worked out by hand from the definitions in `docs/truing.md`.

use super::*;
use crate::{Plan, plan, plan_with};
use proptest::prelude::*;
use seamfall_model::{Finding, Grade, Ledger, Length, Measured, SewnSection, SewnState, read};

/// A block without seams, one with a seam across, one with tips in the middle of its sides.
const BLOCKS: &str = r##"
[block.plain]
shape = "square"
size = "12"
patches = { night = [[1, 1]] }
[block.halves]
shape = "square"
size = "12"
seams = [[6, 0, 6, 12]]
patches = { night = [[1, 1], [11, 1]] }
[block.tips]
shape = "square"
size = "12"
seams = [[6, 0, 12, 6], [12, 6, 6, 12], [6, 12, 0, 6], [0, 6, 6, 0]]
patches = { night = [[6, 6], [1, 1], [11, 1], [11, 11], [1, 11]] }
[frame.wide]
corners = "butted"
strips = [{ width = "2", cloth = "night" }]
"##;

/// Blocks of 12 in, each a section of its own.
fn quilt(rows: usize, columns: usize, pattern: &str, more: &str) -> Quilt {
    let text = format!(
        r##"format = 1
name = "Trued"
measure = "inch"
largest-section = "16"
[cloth.night]
colour = "#22304f"
{BLOCKS}
[setting]
layout = "straight"
rows = {rows}
columns = {columns}
pattern = {pattern}
{more}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}\n{text}"))
}

fn measured(sections: &[(usize, f64)]) -> Ledger {
    let section = |&(number, side): &(usize, f64)| SewnSection {
        name: format!("S{number}"),
        state: SewnState::Quilted,
        measured: Some(Measured::One(Length::new(side))),
        at: None,
        with: None,
        note: None,
        date: None,
    };
    Ledger { sections: sections.iter().map(section).collect(), ..Ledger::default() }
}

fn planned(quilt: &Quilt, ledger: &Ledger) -> Plan {
    plan_with(quilt, ledger, crate::Effort::FIRST)
}

fn trued(quilt: &Quilt, sections: &[(usize, f64)]) -> Truing {
    planned(quilt, &measured(sections)).truing
}

fn about(plan: &Plan, words: &str) -> Vec<Finding> {
    plan.findings.iter().filter(|finding| finding.reason.contains(words)).cloned().collect()
}

/// All sides of every section, the first as given, the others in their order.
fn all(count: usize, sides: &[f64], rest: f64) -> Vec<(usize, f64)> {
    (0..count).map(|i| (i + 1, sides.get(i).copied().unwrap_or(rest))).collect()
}

#[test]
fn nothing_measured_is_nothing() {
    assert_eq!(plan(&quilt(2, 2, r#"[["tips"]]"#, "")).truing, Truing::default());
}

/// Common practice: the smallest is the guide. Least sizes by the rule: 12 1/2 less twice 1/16 at points, twice 1/8 at patches; a frame of 2 in bears 1 in
/// at either end.
#[test]
fn the_smallest_is_the_guide_unless_points_would_be_lost() {
    for (pattern, more, smallest, least, size) in [
        (r#"[["tips"]]"#, "", 12.375, 12.375, 12.375),
        (r#"[["tips"]]"#, "", 12.25, 12.375, 12.5),
        (r#"[["plain"]]"#, "", 12.25, 12.25, 12.25),
        (r#"[["halves"]]"#, "", 12.25, 12.25, 12.25),
        (r#"[["halves"]]"#, "", 12.125, 12.25, 12.5),
        (r#"[["tips"]]"#, "frame = \"wide\"", 15.0, 14.5, 15.0),
        (r#"[["tips", "plain"]]"#, "", 12.25, 12.375, 12.5),
    ] {
        let quilt = quilt(2, 2, pattern, more);
        let truing = trued(&quilt, &[(2, smallest)]);
        let [only] = &truing.sizes[..] else { panic!("{:?}", truing.sizes) };
        assert_eq!((only.least.value, only.trimmed.value), (least, size), "{pattern} {more}");
        assert_eq!(only.guide, (size == smallest).then_some(1));
        assert_eq!((only.measured, only.of), (1, 4));
    }
}

#[test]
fn where_all_are_smaller_than_planned_the_largest_decides_what_is_too_small() {
    let quilt = quilt(2, 2, r#"[["tips"]]"#, "");
    let truing = trued(&quilt, &all(4, &[12.25], 12.3));
    assert_eq!(truing.sizes[0].trimmed.value, 12.25);
    assert!(truing.sections.iter().all(|section| section.short == 0.0 && section.remedies.is_empty()));
    assert_eq!(truing.sizes[0].least.line(), "least size = largest − 2 × off each end at points = 12.3 − 2 × 0.0625 = 12.175");
}

#[test]
fn what_is_larger_is_trimmed() {
    let truing = trued(&quilt(2, 2, r#"[["plain"]]"#, ""), &all(4, &[12.375, 12.75], 12.5));
    assert_eq!(truing.sizes[0].trimmed.value, 12.375);
    let off: Vec<f64> = truing.sections.iter().map(|section| section.off[0]).collect();
    assert_eq!(off, [0.0, 0.375, 0.125, 0.125]);
    assert!(truing.seams.iter().all(|seam| seam.how == Eased::Even && seam.lengths == [11.875; 2]));
    let size = truing.size.expect("a straight setting");
    assert_eq!(size.map(|side| side.value), [23.75, 23.75]);
}

/// Cloth takes 1/96 of 12 in, which is 1/8 in; seams of neighbours with points may be taken 1/16 in deeper at either end; a strip makes up half of
/// what is missing.
#[test]
fn what_is_too_small_has_its_ways_out() {
    let quilt = quilt(2, 2, r#"[["tips"]]"#, "");
    let words = |truing: &Truing| -> Vec<&str> {
        let word = |remedy: &Remedy| match remedy {
            Remedy::Ease { .. } => "ease",
            Remedy::WiderSeam { .. } => "wider seam",
            Remedy::FrameAnew { .. } => "frame anew",
            Remedy::Remake => "remake",
        };
        truing.sections[0].remedies.iter().map(word).collect()
    };
    // One is as planned, so that less than 12.375 is too small: 0.075 is missing, and 0.1237 can be eased.
    let eased = trued(&quilt, &all(4, &[12.3, 12.375, 12.375, 12.5], 12.375));
    assert!((eased.sections[0].short - 0.075).abs() < 1e-9);
    assert_eq!(words(&eased), ["ease", "wider seam", "remake"]);
    // Trimmed to 12.5: 0.25 is missing.
    let plan = planned(&quilt, &measured(&[(1, 12.25)]));
    assert_eq!(words(&plan.truing), ["remake"]);
    let [said] = &about(&plan, "smaller than what the others")[..] else { panic!("{:?}", plan.findings) };
    assert_eq!((said.grade, said.reason.starts_with("it is 1/4 in smaller")), (Grade::Warn, true));
}

/// 2 in finished, half of the missing 2 1/4 in, and an allowance on either side: 3 5/8 in.
#[test]
fn a_framed_block_that_is_too_small_is_framed_anew() {
    let truing = trued(&quilt(2, 2, r#"[["tips"]]"#, "frame = \"wide\""), &[(1, 14.25)]);
    let Some(Remedy::FrameAnew { cut }) = truing.sections[0].remedies.first() else { panic!("{:?}", truing.sections) };
    assert_eq!((truing.sections[0].short, cut.value), (2.25, 3.625));
    assert_eq!(truing.places.map(|places| places.after), Some(0.0));
}

/// In the middle a small block has four seams to ease, in a corner two.
#[test]
fn a_small_block_goes_to_a_corner() {
    let quilt = quilt(3, 3, r#"[["tips"]]"#, "");
    let mut sections = all(9, &[12.5], 12.375);
    sections[4].1 = 12.3;
    let plan = planned(&quilt, &measured(&sections));
    let places = plan.truing.places.as_ref().expect("something is measured");
    assert!((places.before - 0.3).abs() < 1e-6 && (places.after - 0.15).abs() < 1e-6 && places.is_proven());
    assert!([0, 2, 6, 8].contains(&places.at[4]) && places.moved.len() == 2, "{places:?}");
    let eased: Vec<_> = plan.truing.seams.iter().filter(|seam| seam.how == Eased::Eased).collect();
    assert_eq!((eased.len(), plan.truing.seams.len()), (2, 12));
    assert!((eased[0].easing.value - 0.075).abs() < 1e-6);
    assert_eq!(about(&plan, "all seams together").len(), 1);
    // Once it is joined it stays.
    let mut ledger = measured(&sections);
    ledger.sections[4].state = SewnState::Joined;
    let places = planned(&quilt, &ledger).truing.places.expect("something is measured");
    assert_eq!((places.at[4], places.moved.len()), (4, 0));
}

#[test]
fn other_blocks_do_not_change_places() {
    let pattern = r#"[["tips", "plain"], ["plain", "tips"]]"#;
    let mut sections = all(9, &[12.5], 12.375);
    sections[4].1 = 12.3;
    let places = trued(&quilt(3, 3, pattern, ""), &sections).places.expect("something is measured");
    assert!(places.at.iter().enumerate().all(|(section, at)| section % 2 == at % 2), "{:?}", places.at);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// Whatever is measured: everything has one place, nothing costs more than at home, no bound is above what it bounds, no side is above its
    /// trimmed size, and what is short is so by what is said.
    #[test]
    fn measured_sections_are_trued(sides in proptest::collection::vec(0..12u32, 12), joined in 0..12usize) {
        let quilt = quilt(3, 4, r#"[["tips"]]"#, "");
        let sections: Vec<(usize, f64)> = sides.iter().enumerate().map(|(i, eighths)| (i + 1, 12.0 + f64::from(*eighths) / 16.0)).collect();
        let mut ledger = measured(&sections);
        ledger.sections[joined].state = SewnState::Joined;
        let truing = planned(&quilt, &ledger).truing;
        let places = truing.places.expect("something is measured");
        let mut at = places.at.clone();
        at.sort_unstable();
        prop_assert_eq!(at, (0..12).collect::<Vec<_>>());
        prop_assert_eq!(places.at[joined], joined);
        prop_assert!(places.bound <= places.after && places.after <= places.before);
        let size = truing.sizes[0].trimmed.value;
        for section in &truing.sections {
            let side = sections[section.section].1;
            prop_assert_eq!(section.sides, [side.min(size); 4]);
            prop_assert!((section.short - (size - side).max(0.0)).abs() < 1e-9);
            prop_assert_eq!(section.short > 0.0, !section.remedies.is_empty());
        }
        let summed: f64 = truing.seams.iter().map(|seam| seam.easing.value).sum();
        prop_assert!((summed - places.after).abs() < 1e-5, "{} {}", summed, places.after);
    }
}
