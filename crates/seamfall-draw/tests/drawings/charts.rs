//! Charts of units, pressings and the whole top.

use crate::{lines, parsed, sample};
use seamfall_draw::{Paint, falls_svg, pressing_svg, unit_svg};
use seamfall_plan::fall::{SeamRef, State};
use std::collections::BTreeMap;

/// The texts of a drawing and where they stand.
fn labels(svg: &str) -> BTreeMap<String, (f64, f64)> {
    let tree = parsed(svg);
    let number = |node: &roxmltree::Node, name| node.attribute(name).and_then(|value| value.parse().ok()).expect("a number");
    let texts = tree.descendants().filter(|node| node.has_tag_name("text"));
    texts.map(|node| (node.text().unwrap_or_default().to_owned(), (number(&node, "x"), number(&node, "y")))).collect()
}

#[test]
fn charts_are_well_formed_and_hold_no_style() {
    let (quilt, plan) = sample();
    let mut all: Vec<String> = plan.units.all.iter().map(|unit| unit_svg(&quilt, unit, Paint::Cloths)).collect();
    for (design, pressings) in plan.falls.pressings.iter().enumerate() {
        all.extend((0..pressings.len()).map(|pressing| pressing_svg(&quilt, &plan, (design, pressing), Paint::Cloths)));
    }
    all.push(falls_svg(&quilt, &plan, &vec!["P1".to_owned(); plan.top.places.len()], Paint::Cloths));
    for svg in all {
        let tree = parsed(&svg);
        assert!(!tree.descendants().any(|node| node.has_tag_name("style") || node.attribute("style").is_some()));
        assert!(tree.root_element().attribute("aria-label").is_some_and(|label| !label.is_empty()));
    }
}

/// The arc of the sample parts sky (navy, cloth 2) and moon (cream, cloth 1).
#[test]
fn a_unit_shows_the_numbers_of_its_cloths() {
    let (quilt, plan) = sample();
    let unit = plan.units.all.iter().find(|unit| unit.pieces.len() == 2 && unit.seams.iter().any(|edge| edge.radius().is_some()));
    let svg = unit_svg(&quilt, unit.expect("the arc makes a unit"), Paint::Cloths);
    assert_eq!(labels(&svg).into_keys().collect::<Vec<_>>(), ["1", "2"]);
    insta::assert_snapshot!(lines(&svg));
}

#[test]
fn every_seam_of_a_pressing_has_its_number() {
    let (quilt, plan) = sample();
    for (design, pressings) in plan.falls.pressings.iter().enumerate() {
        let seams = plan.falls.sewing(&plan.piecing, design).seams.len();
        for pressing in 0..pressings.len() {
            let labels = labels(&pressing_svg(&quilt, &plan, (design, pressing), Paint::Cloths));
            let mut numbers: Vec<usize> = labels.keys().map(|text| text.parse().expect("a number")).collect();
            numbers.sort_unstable();
            assert_eq!(numbers, (1..=seams).collect::<Vec<_>>());
        }
    }
    assert_eq!(pressing_svg(&quilt, &plan, (99, 0), Paint::Cloths), "");
}

/// The mirror image of a block 6 in wide in a frame of 1 in: what lies at `x` comes to `8 - x`.
#[test]
fn a_mirrored_block_is_drawn_as_it_is_sewn() {
    let (quilt, mut plan) = sample();
    let design = |mirrored| plan.piecing.designs.iter().position(|design| design.mirrored == mirrored);
    let (plain, mirrored) = (design(false).expect("A1 is plain"), design(true).expect("B1 is mirrored"));
    plan.falls.pressings[mirrored][0] = plan.falls.pressings[plain][0].clone();
    plan.falls.orders[mirrored] = plan.falls.orders[plain];
    let (plain, mirrored) =
        (pressing_svg(&quilt, &plan, (plain, 0), Paint::Cloths), pressing_svg(&quilt, &plan, (mirrored, 0), Paint::Cloths));
    let (plain, mirrored) = (labels(&plain), labels(&mirrored));
    assert!(plain.len() > 4);
    for (text, (x, y)) in plain {
        let (image_x, image_y) = mirrored[&text];
        assert!((8.0 - x - image_x).abs() < 1e-3 && (y - image_y).abs() < 1e-3, "{text}: {x}, {image_x}");
    }
}

/// A stack is three slices more in the path of the signs.
#[test]
fn what_stacks_in_a_block_is_marked_on_its_chart_and_on_the_whole() {
    let (quilt, mut plan) = sample();
    let labels = vec!["P1".to_owned(); plan.top.places.len()];
    let parts = |svg: &str| svg.matches('z').count();
    let whole = falls_svg(&quilt, &plan, &labels, Paint::Cloths);
    let meeting = plan.falls.meetings.iter().position(|meeting| matches!(meeting.seam, SeamRef::Top { .. }));
    let meeting = meeting.expect("mitres meet between blocks");
    let stack = |ways_out| seamfall_plan::fall::Stack { meeting, place: String::new(), reason: String::new(), ways_out };
    plan.falls.stacks.push(stack(Vec::new()));
    plan.falls.meetings[meeting].state = State::Stacks;
    assert_eq!(parts(&falls_svg(&quilt, &plan, &labels, Paint::Cloths)), parts(&whole) + 3);
}

#[test]
fn the_chart_of_the_top_names_every_place_and_its_pressing() {
    let (quilt, plan) = sample();
    let charts: Vec<String> = (1..=plan.top.places.len()).map(|number| format!("P{number}")).collect();
    let labels = labels(&falls_svg(&quilt, &plan, &charts, Paint::Cloths));
    for (place, chart) in plan.top.places.iter().zip(&charts) {
        let (name, chart) = (labels[&place.name], labels[chart]);
        assert!((name.0 - chart.0).abs() < 1e-3 && name.1 > chart.1, "the name stands below");
    }
}
