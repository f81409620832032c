//! Beds, quilt sizes and corners against `reference/beds.toml`, whose values stand there with their sources.
//!
//! Used here: every size of a mattress that the list of standard beds names, every quilt size that follows from a mattress and drops, the drop by
//! height, the corner. Left out: ranges and surveys of quilts (facts about habits, no sum), mattresses as single makers measure them (a bed
//! is measured), rules for cribs themselves, and cautions, which are words.

mod values;

use seamfall_model::{BEDS, Bed, CornerShape, Length, Measure, PerCent};
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::{Drops, corner_cut, wanted};
use values::{Check, number, value_of};

fn value(id: &str) -> Check {
    value_of(include_str!("reference/beds.toml"), id)
}

/// Each standard bed has the size of the check value that it names, in the unit it is sold in.
#[test]
fn standard_beds_have_their_published_sizes() {
    let mut checked = 0;
    for bed in BEDS {
        let Some(id) = bed.source.strip_prefix("check value ") else {
            assert_eq!(bed.source, "common practice", "{}", bed.key);
            continue;
        };
        let check = value(id);
        let table = if check.expected.contains_key("width_in") || check.expected.contains_key("width_cm") {
            &check.expected
        } else {
            // Quilt sizes give their mattress as an input.
            &check.inputs
        };
        for (unit, measure) in [("in", Measure::Inch), ("cm", Measure::Centimetre)] {
            let of_quilt = check.inputs.contains_key("mattress_width_in");
            let (table, wide, long) = if of_quilt && unit == "in" {
                (&check.inputs, "mattress_width_in".to_owned(), "mattress_length_in".to_owned())
            } else {
                (table, format!("width_{unit}"), format!("length_{unit}"))
            };
            if !table.contains_key(&wide) || (of_quilt && unit == "cm") {
                continue;
            }
            let ours = bed.mattress(measure).map(Length::value);
            assert_eq!(ours, [number(table, &wide), number(table, &long)], "{} in {unit}", bed.key);
            checked += 1;
        }
    }
    assert!(checked >= 24, "{checked} sizes were checked");
}

fn quilt(id: &str, drop: &str) -> (f64, f64, Check) {
    let check = value(id);
    let ruler = Ruler::usual(Measure::Inch);
    let given = |name: &str| Length::new(number(&check.inputs, name));
    let mut bed = Bed::usual(Measure::Inch, given("mattress_width_in"), given("mattress_length_in"));
    (bed.sides, bed.foot, bed.take_up, bed.shrinkage) = (given(drop), given(drop), PerCent::NONE, PerCent::NONE);
    let size = wanted(&bed, ruler);
    (size.width.value, size.length.value, check)
}

/// A quilt is the mattress, the drop at both sides and the foot.
#[test]
fn quilts_have_their_published_sizes() {
    let with_12 = ["beds.drop12.twin", "beds.drop12.twin_xl", "beds.drop12.full", "beds.drop12.queen", "beds.drop12.king78"];
    let with_13 = ["beds.quilt.twin", "beds.quilt.twin_xl", "beds.quilt.full", "beds.quilt.queen"];
    let all = with_12.map(|id| (id, "drop_in")).into_iter().chain(with_13.map(|id| (id, "implied_drop_in")));
    for (id, drop) in all.chain([("beds.drop.worked", "drop_in")]) {
        let (width, length, check) = quilt(id, drop);
        assert_eq!((width, length), (number(&check.expected, "width_in"), number(&check.expected, "length_in")), "{id}");
    }
}

/// One printed width breaks its own rule by 2 in: the rule is followed, and the slip does not come out.
#[test]
fn a_printed_slip_is_not_copied() {
    let (width, length, check) = quilt("beds.quilt.cal_king", "implied_drop_in");
    assert_eq!((width, length), (98.0, number(&check.expected, "length_in")));
    assert_eq!(number(&check.expected, "width_in"), 100.0);
}

/// Drops that differ at the sides and the foot, and a head: `beds.queen_comforter`, `beds.bedspread_twin_cias`.
#[test]
fn sides_foot_and_head_are_apart() {
    let check = value("beds.queen_comforter");
    let given = |name: &str| Length::new(number(&check.inputs, name));
    let mut bed = Bed::usual(Measure::Inch, given("mattress_width_in"), given("mattress_length_in"));
    (bed.sides, bed.foot) = (given("side_drop_in"), given("foot_drop_in"));
    let size = wanted(&bed, Ruler::usual(Measure::Inch));
    assert_eq!([size.width.value, size.length.value], ["width_in", "length_in"].map(|name| number(&check.expected, name)));

    let check = value("beds.bedspread_twin_cias");
    let given = |name: &str| Length::new(number(&check.inputs, name));
    let mut bed = Bed::usual(Measure::Inch, given("mattress_width_in"), given("mattress_length_in"));
    (bed.sides, bed.foot, bed.tuck) = (given("drop_in"), given("drop_in"), given("head_in"));
    let size = wanted(&bed, Ruler::usual(Measure::Inch));
    assert_eq!([size.width.value, size.length.value], ["width_in", "length_in"].map(|name| number(&check.expected, name)));
}

/// Half to three quarters of the height of the bed: `beds.drop.side_drop_by_height`.
#[test]
fn the_usual_drop_goes_by_the_height() {
    let check = value("beds.drop.side_drop_by_height");
    let mut bed = Bed::usual(Measure::Inch, Length::new(60.0), Length::new(80.0));
    bed.height = Length::new(number(&check.inputs, "bed_height_in"));
    let ruler = Ruler::usual(Measure::Inch);
    let answer = wanted(&bed, ruler).answer(&bed, ruler);
    for (ours, theirs) in [("usual-drop-least", "min_in"), ("usual-drop-most", "max_in")] {
        assert_eq!(answer.figure(ours).expect("it is told").value, number(&check.expected, theirs));
    }
}

/// `beds.corner_drop_exact`, to five places, and `beds.corner_rounded`.
#[test]
fn a_corner_hangs_as_published() {
    let ruler = Ruler::usual(Measure::Inch);
    let cut = |shape, drop: f64| {
        let drop = Length::new(drop);
        corner_cut(shape, Drops { side: drop, foot: drop }, [Length::ZERO; 2], ruler).expect("it can be cut")
    };
    let check = value("beds.corner_drop_exact");
    let square = cut(CornerShape::Square, number(&check.inputs, "side_drop_in"));
    assert!((square.hang.value - number(&check.expected, "corner_in")).abs() < 1e-5);
    let check = value("beds.corner_rounded");
    let level = cut(CornerShape::Level, number(&check.inputs, "drop_in"));
    assert!((level.cut_away.value - number(&check.expected, "area_sq_in")).abs() < 1e-5 + 5e-6);
}
