//! Joins: the map, a step, and the cut across.

use super::parsed;
use seamfall_draw::{cross_section_svg, join_map_svg, join_step_svg};
use seamfall_model::{Ledger, Length, Quilt, SewnJoin};
use seamfall_plan::join::{CrossSection, Options};
use seamfall_plan::{Effort, Plan, plan_with};

/// The demo quilt of 30 sections with its first two joins sewn.
fn quilt() -> (Quilt, Plan) {
    let quilt = seamfall_model::read(include_str!("../../../../quilts/lamplight.quilt.toml")).expect("a demo is a quilt");
    let join = |a: &str, b: &str| SewnJoin { between: [vec![a.to_owned()], vec![b.to_owned()]], date: None };
    let ledger = Ledger { joins: vec![join("S1", "S2"), join("S6", "S7")], ..Ledger::default() };
    let plan = plan_with(&quilt, &ledger, Effort::FIRST);
    (quilt, plan)
}

fn count(svg: &str, class: &str) -> usize {
    parsed(svg).descendants().filter(|node| node.attribute("class") == Some(class)).count()
}

#[test]
fn the_map_tells_sewn_next_and_later_apart() {
    let (quilt, plan) = quilt();
    let svg = join_map_svg(&quilt, &plan);
    let paths = |class: &str| {
        let document = parsed(&svg);
        document.descendants().filter(|node| node.has_tag_name("path") && node.attribute("class") == Some(class)).count()
    };
    assert_eq!(paths("sewn"), 2);
    assert!(paths("next") > 0 && paths("later") > 0);
    assert_eq!(paths("sewn") + paths("next") + paths("later"), 29, "every join, once");
    let numbers: Vec<String> = parsed(&svg)
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text().map(str::to_owned))
        .collect();
    assert_eq!(numbers, (1..=29).map(|number| number.to_string()).collect::<Vec<_>>());
    assert!(!svg.contains("style="));
}

#[test]
fn a_step_shows_pins_stitching_and_what_is_caught() {
    let (mut quilt, plan) = quilt();
    for (number, step) in plan.join.steps.iter().enumerate() {
        let svg = join_step_svg(&quilt, &plan, number).expect("there is the step");
        assert_eq!(count(&svg, "pin"), plan.join.manner.pins(step.join.length(), step.crossings.len()).count());
        assert_eq!((count(&svg, "seam"), count(&svg, "hand"), count(&svg, "bar"), count(&svg, "caught")), (1, 1, 2, 1));
        assert_eq!(count(&svg, "balks"), 2 * step.crossings.iter().filter(|one| one.balks).count());
        assert!(!svg.contains("style="));
    }
    assert!(join_step_svg(&quilt, &plan, plan.join.steps.len()).is_none());
    quilt.joining.catch_batting = Some(false);
    let uncaught = plan_with(&quilt, &Ledger::default(), Effort::FIRST);
    assert_eq!(count(&join_step_svg(&quilt, &uncaught, 0).expect("there is a step"), "caught"), 0);
}

/// The drawing is the section: what lies over the seam adds up to its thickness, and the fold lies on it.
#[test]
fn the_cut_across_is_to_scale() {
    let (mut quilt, _) = quilt();
    for (thickness, catch) in [(0.125, true), (0.125, false), (0.75, true)] {
        quilt.joining.batting_thickness = Length::new(thickness);
        quilt.joining.catch_batting = Some(catch);
        let section = CrossSection::new(Options::of(&quilt));
        let svg = cross_section_svg(&quilt, &section);
        let document = parsed(&svg);
        let far: Vec<f64> = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("batting"))
            .filter_map(|node| node.attribute("d"))
            .map(|data| {
                let numbers: Vec<f64> = data
                    .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
                    .filter_map(|text| text.parse().ok())
                    .collect();
                (numbers[1] - numbers[5]).abs()
            })
            .collect();
        assert!(!far.is_empty() && far.iter().all(|high| (high - thickness).abs() < 1e-3), "{far:?}");
        for part in ["front", "allowance", "batting", "backing", "turned-under"] {
            assert!(count(&svg, part) > 0, "{part}");
        }
        let texts: Vec<String> = document
            .descendants()
            .filter(|node| node.has_tag_name("text"))
            .filter_map(|node| node.text().map(str::to_owned))
            .collect();
        let wanted = if section.caught { "batting, cut back 1/2 in" } else { "batting, cut back 1/4 in" };
        assert!(texts.iter().any(|text| text == wanted), "{texts:?}");
        assert_eq!(section.caught, catch && thickness < 0.5);
        assert!(!svg.contains("style="));
    }
}
