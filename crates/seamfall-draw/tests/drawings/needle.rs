//! The way of the needle is all that is quilted now, and the layer over the top has every section.

use seamfall_draw::{QuiltStyle, needle_way, quilt_svg};
use seamfall_model::read;
use seamfall_plan::plan;

#[test]
fn the_needlefuls_together_are_the_paths() {
    let quilt = read(include_str!("../../../../quilts/lamplight.quilt.toml")).expect("a demo is a quilt");
    let plan = plan(&quilt);
    for (number, work) in plan.lap.sections.iter().enumerate() {
        let pattern = &plan.lap.patterns[work.pattern];
        for mirrored in [false, true] {
            let way = needle_way(&plan, number, mirrored).expect("there is such a section");
            assert_eq!(way.len(), pattern.needlefuls.len());
            let length =
                |hidden: bool| way.iter().flatten().filter(|one| one.hidden == hidden).map(|one| one.length).sum::<f64>();
            assert!((length(false) - pattern.stitched).abs() < 1e-6, "{} against {}", length(false), pattern.stitched);
            assert!((length(true) - pattern.travelled).abs() < 1e-6, "{} against {}", length(true), pattern.travelled);
        }
    }
    assert_eq!(needle_way(&plan, plan.top.sections.len(), false), None);
}

#[test]
fn every_section_is_quilted_on_the_drawing() {
    let quilt = read(include_str!("../../../../quilts/lamplight.quilt.toml")).expect("a demo is a quilt");
    let plan = plan(&quilt);
    let svg = quilt_svg(&quilt, &plan, &QuiltStyle { quilting: true, ids: true, ..QuiltStyle::default() });
    let tree = roxmltree::Document::parse(&svg).expect("it is XML");
    let uses: Vec<&str> = tree.descendants().filter_map(|node| node.attribute("href")).collect();
    let of = |what: &str| uses.iter().filter(|href| href.starts_with(&format!("#quilting-{what}"))).count();
    // A wide line below a narrow one.
    for what in ["now", "after", "hanging"] {
        assert_eq!(of(what), 2 * plan.top.sections.len(), "{what}");
    }
    assert!(uses.iter().all(|href| tree.descendants().any(|node| node.attribute("id") == Some(&href[1..]))));
}
