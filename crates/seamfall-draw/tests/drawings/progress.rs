//! The picture of how far the quilt is.

use seamfall_draw::progress_svg;
use seamfall_model::{Ledger, SewnJoin, SewnSection, SewnState, read};
use seamfall_plan::{Effort, plan_with};

#[test]
fn every_section_is_filled_as_far_as_it_is() {
    let quilt = read(include_str!("../../../../quilts/lamplight.quilt.toml")).expect("a demo is a quilt");
    let section = |name: &str, state| SewnSection {
        name: name.to_owned(),
        state,
        measured: None,
        at: None,
        with: None,
        note: None,
        date: None,
    };
    let ledger = Ledger {
        sections: vec![section("S1", SewnState::Joined), section("S2", SewnState::Joined), section("S3", SewnState::Quilted)],
        joins: vec![SewnJoin { between: [vec!["S1".to_owned()], vec!["S2".to_owned()]], date: None }],
        ..Ledger::default()
    };
    let plan = plan_with(&quilt, &ledger, Effort::FIRST);
    let svg = progress_svg(&quilt, &plan);
    let tree = roxmltree::Document::parse(&svg).expect("it is XML");
    let group =
        |name: &str| tree.descendants().find(|node| node.attribute("id") == Some(&format!("progress-{name}"))).expect(name);
    let title = |name: &str| {
        group(name)
            .descendants()
            .find(|node| node.has_tag_name("title"))
            .and_then(|title| title.text())
            .unwrap_or_default()
            .to_owned()
    };
    assert_eq!([title("S1"), title("S3"), title("S4")], ["S1: joined", "S3: quilted", "S4: planned"]);
    // The fill rises as far as the work has come: quilted is the fifth of seven steps.
    let high = |name: &str| {
        let fill = group(name).children().find(|node| node.attribute("fill") == Some("#ccc")).expect("a fill");
        let data = fill.attribute("d").unwrap_or_default();
        data.split(['v', 'h']).nth(2).and_then(|high| high.parse::<f64>().ok()).expect("a height")
    };
    let whole = |number: usize| plan.top.sections[number].outline.bounds().height();
    assert!((high("S1") - whole(0)).abs() < 1e-3 && (high("S3") - whole(2) * 5.0 / 7.0).abs() < 1e-3 && high("S4") == 0.0);
    assert!(svg.contains("3 of 30 sections are quilted"), "{}", &svg[..300]);
    assert_eq!(svg.matches(r#"stroke="none""#).count(), 2, "two are joined");
}
