//! Drawings of the quilting, read back.

use roxmltree::Document;
use seamfall_draw::{quilting_svg, section_svg};
use seamfall_plan::{Plan, plan};

fn quilt() -> (seamfall_model::Quilt, Plan) {
    let text = r##"format = 1
name = "Rings & <lines>"
measure = "inch"
largest-section = "13"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "12"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 2
rows = 1
pattern = [["plain"]]
[[quilting]]
on = "plain"
design = "circle"
size = "8"
[[quilting]]
on = "plain"
design = "circle"
size = "6"
[[quilting]]
on = "plain"
design = "parallel"
angle = 0
spacing = "5 1/2"
"##;
    let quilt = seamfall_model::read(text).expect("a quilt");
    let plan = plan(&quilt);
    (quilt, plan)
}

/// Path data of the children of the group of a class.
fn group(document: &Document<'_>, class: &str) -> Vec<String> {
    let group =
        document.descendants().find(|node| node.attribute("class") == Some(class)).unwrap_or_else(|| panic!("no {class}"));
    group.children().filter_map(|node| node.attribute("d").map(str::to_owned)).collect()
}

/// Lines at 1/2, 6 and 11 1/2 in of each block of 12 in; the outer two lie on the margin itself and are quilted now, but for their ends.
#[test]
fn now_hanging_and_after_the_join_are_told_apart() {
    let (quilt, plan) = quilt();
    let svg = quilting_svg(&quilt, &plan);
    let document = Document::parse(&svg).expect("well formed");
    let lines = &plan.lap.patterns[0].lines;
    let count = |now: bool| 2 * lines.iter().filter(|line| line.now == now).count();
    assert_eq!((group(&document, "now").len(), group(&document, "after-join").len()), (count(true), count(false)));
    assert_eq!((count(true), count(false)), (10, 12));
    let dashes = |class: &str| {
        let node = document.descendants().find(|node| node.attribute("class") == Some(class)).expect("there is one");
        (node.attribute("stroke-dasharray").is_some(), node.attribute("stroke-width").map(str::to_owned))
    };
    assert!(!dashes("now").0 && dashes("after-join").0 && dashes("now").1 != dashes("after-join").1);
    let rings = document.descendants().find(|node| node.attribute("class") == Some("hanging")).expect("there is one");
    assert_eq!(rings.children().count(), 12);
}

/// A section is drawn at its full size; mirrored, left and right change places and the numbers stay readable.
#[test]
fn a_section_is_its_true_size_and_can_be_mirrored() {
    let (quilt, plan) = quilt();
    let drawing = section_svg(&quilt, &plan, 0, false).expect("there is one");
    let document = Document::parse(&drawing.svg).expect("well formed");
    let outline = document.descendants().find(|node| node.attribute("class") == Some("outline")).expect("an outline");
    assert_eq!(outline.attribute("d"), Some("M0 12h12v-12h-12z"));
    let numbers: Vec<_> =
        document.descendants().filter(|node| node.is_text() && node.text().is_some_and(|text| text.len() < 3)).collect();
    assert_eq!(numbers.len() as u64, plan.lap.patterns[0].starts);
    let arrows = document.descendants().filter(|node| node.attribute("class") == Some("arrow")).count();
    assert!(arrows >= plan.lap.patterns[0].paths.len());
    let back = section_svg(&quilt, &plan, 0, true).expect("there is one");
    assert!(back.svg.contains("from the back") && !back.svg.contains("transform"));
    let document = Document::parse(&back.svg).expect("well formed");
    let outline = document.descendants().find(|node| node.attribute("class") == Some("outline")).expect("an outline");
    assert_eq!(outline.attribute("d"), Some("M12 12h-12v-12h12z"));
    assert_eq!(section_svg(&quilt, &plan, 99, false), None);
}
