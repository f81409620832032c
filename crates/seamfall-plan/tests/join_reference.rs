//! Joins, margins and weights against `reference/lap.toml` and `reference/weights.toml`, whose values stand there with their sources.
//!
//! Used here: what bears on joins. Left out: joins by strips (`lap.strip_join`, `lap.treadle.sash`), which is another method, and the seam
//! ends of tents and hats.

mod values;

use seamfall_model::{JoinOrder, Joining, Lap, Measure, Quilt, read};
use seamfall_plan::join::{CLOTH_IN, CrossSection, Manner, Options, Side, THICKEST_CAUGHT_IN};
use seamfall_plan::plan;
use values::{Check, number, value_of};

fn value(id: &str) -> Check {
    let text = if id.starts_with("lap.") { include_str!("reference/lap.toml") } else { include_str!("reference/weights.toml") };
    value_of(text, id)
}

fn expected(id: &str, key: &str) -> f64 {
    number(&value(id).expected, key)
}

fn plain(columns: f64, rows: f64, side: f64) -> Quilt {
    let text = format!(
        "format = 1\nname = \"Plain\"\nmeasure = \"inch\"\n[cloth.night]\ncolour = \"#22304f\"\n[block.plain]\nshape = \"square\"\nsize = {side}\n\
         cloths = {{ one = \"night\" }}\npatches = {{ one = [[1, 1]] }}\n[setting]\nlayout = \"straight\"\ncolumns = {columns}\nrows = {rows}\n\
         pattern = [[\"plain\"]]\n"
    );
    let mut quilt = read(&text).unwrap_or_else(|error| panic!("{error:#?}"));
    quilt.largest_section = seamfall_model::Length::new(side);
    quilt
}

#[test]
fn joins_of_rows_are_those_of_the_source() {
    let check = value("lap.joins.count");
    let side = number(&check.inputs, "block_in");
    let quilt = plain(number(&check.inputs, "across"), number(&check.inputs, "down"), side);
    let plan = plan(&quilt);
    let rows = plan.join.orders.iter().find(|order| order.kind == JoinOrder::Rows).expect("rows can be had");
    let wanted = ["within_rows", "between_rows"].map(|key| number(&check.expected, key) as usize);
    assert_eq!(rows.within_and_between, Some(wanted));
    assert!((rows.machine.exact - number(&check.expected, "total_in")).abs() < 1e-6);
    let long = rows.joins.iter().filter(|join| join.seam[0].y == join.seam[1].y);
    assert!((long.map(|join| join.length()).sum::<f64>() - number(&check.expected, "between_in")).abs() < 1e-6);
    // Each inch is sewn twice: the top by machine, the back by hand.
    assert_eq!(rows.machine.exact, rows.hand.exact);
}

#[test]
fn a_join_is_made_as_the_source_has_it() {
    let seam = expected("lap.join.seam", "top_seam_in");
    assert_eq!(seam, expected("lap.join.seam", "back_turn_in"));
    assert_eq!(Measure::Inch.usual_allowance().0.value(), seam);
    let back = value("lap.join.back_needed");
    let options = Options {
        allowance: seam,
        batting: 0.125,
        cloth: CLOTH_IN,
        overlap: number(&back.inputs, "overlap_in"),
        thickest_caught: THICKEST_CAUGHT_IN,
        catch: Some(true),
    };
    let section = CrossSection::new(options);
    assert_eq!(section.back_needed(Side::Away), number(&back.expected, "lapping_side_in"));
    assert_eq!(section.back_needed(Side::Towards), number(&back.expected, "flat_side_in"));
    // One side's batting half an inch inside the edge: the other's is caught.
    assert_eq!(section.cut_back(Side::Towards).value, expected("lap.back_beyond", "batting_less_in"));
}

/// Unquilted 1/2 to 1 in: hand stitching stops at the free margin.
#[test]
fn the_margin_is_within_the_range_of_the_source() {
    let mut quilt = plain(2.0, 2.0, 12.0);
    let range = expected("lap.margin.range", "min_in")..=expected("lap.margin.range", "max_in");
    assert!(range.contains(&Manner::new(&quilt).stops_short().value));
    quilt.lap = Lap { margin: seamfall_model::Length::new(expected("lap.margin.one", "min_in")), ..quilt.lap };
    assert_eq!(Manner::new(&quilt).stops_short().value, expected("lap.margin.one", "min_in"));
}

#[test]
fn stitches_and_layers_are_those_of_the_source() {
    let manner = Manner::new(&plain(2.0, 2.0, 12.0));
    let check = value("lap.slip.count");
    let stitches = manner.slip_stitches(number(&check.inputs, "seam_in")).value;
    assert_eq!(stitches, number(&check.expected, "stitches"));
    for source in ["lap.slip.hapgood", "lap.slip.patton", "lap.slip.gw"] {
        assert_eq!(1.0 / Joining::SLIP_STITCHES_AN_INCH, expected(source, "fold_in"), "{source}");
    }
    assert!((2.0 * CLOTH_IN - number(&value("lap.use.301_quilt").inputs, "thickness_in")).abs() < 1e-12);
}

/// What a square yard weighs, in the source's own unit: cloth is rounded to the gram, batting is 4 oz.
#[test]
fn weights_are_those_of_the_source() {
    let usual = Joining::usual(Measure::Inch);
    assert!((usual.cloth_weight - expected("fabric.weight.from_yards_per_pound", "g_per_m2")).abs() < 0.5);
    assert!((usual.batting_weight - expected("fabric.batt.poly_4oz_gsm", "g_per_m2")).abs() < 0.5);
    assert_eq!(usual.batting_thickness.value(), expected("fabric.batt.cotton_thickness", "thickness_in"));
    assert_eq!(THICKEST_CAUGHT_IN, expected("fabric.batt.poly_4oz", "thickness_in"));
    assert!(expected("fabric.batt.poly_8oz", "thickness_in") > THICKEST_CAUGHT_IN);
    let ounce = expected("fabric.unit.oz_per_sq_yd", "g_per_m2");
    let mut quilt = plain(2.0, 2.0, 12.0);
    quilt.joining.cloth_weight = 3.0 * ounce;
    quilt.joining.batting_weight = 4.0 * ounce;
    // A square yard of it: 10 oz of 28.349523 g (the pound is 453.59237 g).
    let yard = Manner::new(&quilt).weight(36.0 * 36.0).exact;
    assert!((yard - 10.0 * expected("fabric.unit.pound", "g") / 16.0).abs() < 1e-3, "{yard}");
}

/// In centimetres the same quilt weighs the same.
#[test]
fn weights_are_the_same_in_either_measure() {
    let mut quilt = plain(2.0, 2.0, 12.0);
    let inches = Manner::new(&quilt).weight(144.0).exact;
    quilt.measure = Measure::Centimetre;
    assert!((Manner::new(&quilt).weight(144.0 * 2.54 * 2.54).exact - inches).abs() < 1e-9);
}
