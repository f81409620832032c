//! Drawings of the quilting, read back.

use roxmltree::Document;
use seamfall_draw::{is_marked, marked_course, marking_svg, quilting_svg, section_svg};
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

/// Every path of every section of the queen has its number, and no two numbers lie over one another: boxes of the size that the
/// drawing itself reckons with, 0.6 of the letter's size wide and 0.8 high, read back from it.
#[test]
fn numbers_of_paths_are_all_there_and_apart() {
    let quilt = seamfall_testkit::lamplight();
    let plan = plan(&quilt);
    for (section, work) in plan.lap.sections.iter().enumerate() {
        let svg = section_svg(&quilt, &plan, section, false).expect("there is one").svg;
        let document = Document::parse(&svg).expect("well formed");
        let texts: Vec<_> = document.descendants().filter(|node| node.has_tag_name("text")).collect();
        let pattern = &plan.lap.patterns[work.pattern];
        let mut said: Vec<usize> = texts.iter().filter_map(|node| node.text()?.parse().ok()).collect();
        said.sort_unstable();
        assert_eq!(said, (1..=pattern.paths.len()).collect::<Vec<_>>(), "section {section}");
        let room = |node: &roxmltree::Node<'_, '_>| {
            let number = |name| node.attribute(name).and_then(|value| value.parse::<f64>().ok()).expect("a number");
            let (x, size) = (number("x"), number("font-size"));
            let (y, half) = (number("y") - 0.35 * size, 0.3 * size * node.text().map_or(0, str::len) as f64);
            [x - half, y - 0.4 * size, x + half, y + 0.4 * size]
        };
        let rooms: Vec<_> = texts.iter().map(room).collect();
        for (k, a) in rooms.iter().enumerate() {
            for b in &rooms[..k] {
                let over = a[0] < b[2] - 1e-3 && b[0] < a[2] - 1e-3 && a[1] < b[3] - 1e-3 && b[1] < a[3] - 1e-3;
                assert!(!over, "section {section}: {a:?} over {b:?}");
            }
        }
    }
}

/// The sheet of a block of 12 in measures 12 in and a stroke of 0.03 in on either side; its back is its mirror image: where the front
/// has a point at x, it has one at 12.06 less x. No words are on it that could be mirrored.
#[test]
fn a_marking_sheet_is_its_true_size_and_its_back_is_mirrored() {
    let (quilt, plan) = quilt();
    let [front, back] = [false, true].map(|mirrored| marking_svg(&quilt, &plan, 0, mirrored).expect("there is one"));
    assert_eq!((front.width, front.height), (12.06, 12.06));
    let document = Document::parse(&front.svg).expect("well formed");
    let size = |name| document.root_element().attribute(name).map(str::to_owned);
    assert_eq!((size("width").as_deref(), size("viewBox").as_deref()), (Some("12.06in"), Some("0 0 12.06 12.06")));
    let outline =
        document.descendants().find(|node| node.attribute("class") == Some("outline")).and_then(|node| node.attribute("d"));
    assert_eq!(outline, Some("M.03 12.03h12v-12h-12z"));
    assert!(!front.svg.contains("<text") && !back.svg.contains("<text"));
    assert_eq!(front.inked.len(), back.inked.len());
    for (a, b) in front.inked.iter().zip(&back.inked) {
        assert!((a[0] + b[2] - 12.06).abs() < 1e-9 && (a[2] + b[0] - 12.06).abs() < 1e-9 && a[1] == b[1] && a[3] == b[3]);
    }
    assert_eq!(marking_svg(&quilt, &plan, 99, false), None);
}

/// Lines along seams need no mark. The log cabins of the queen are quilted in the ditch, so that those that differ by their seams alone
/// take the same marks; and her opposite corners do when turned by half.
#[test]
fn what_is_marked_alike_is_told_whichever_way_it_lies() {
    let quilt = seamfall_testkit::lamplight();
    let plan = plan(&quilt);
    let of = |section: usize, quarters| marked_course(&quilt, &plan.lap.patterns[plan.lap.sections[section].pattern], quarters);
    let last = plan.lap.sections.len() - 1;
    assert_eq!(of(0, 0), of(last, 2));
    assert_ne!(of(0, 0), of(last, 0));
    assert_eq!(of(0, 0), of(0, 4));
    let ditch = |line: &&seamfall_plan::lap::Line| quilt.quilting[line.of].design.word() == "in-the-ditch";
    let lines = || plan.lap.patterns.iter().flat_map(|pattern| &pattern.lines);
    assert!(lines().filter(ditch).count() > 100 && lines().filter(ditch).all(|line| !is_marked(&quilt, line)));
    assert!(lines().filter(|line| !ditch(line)).all(|line| is_marked(&quilt, line)));
}
