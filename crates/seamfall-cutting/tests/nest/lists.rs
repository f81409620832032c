//! The lists of `instances/`, read, cut and checked; and lists that cannot be cut.

use std::fs;
use std::path::Path;

use seamfall_cutting::file::{Task, read};
use seamfall_cutting::nest::list::{List, write};
use seamfall_cutting::nest::{Budget, cut};

use crate::check;

/// Lengths of a general nesting library (sparrow, 16 s on one core) on the same lists: `peers.csv` of the instances.
const PEER: [(&str, f64); 5] =
    [("fans-40", 16.555), ("hexagons-42", 51.357), ("kites-40", 34.788), ("leaves-42", 36.739), ("tumblers-54", 57.918)];

fn instance(name: &str) -> List {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nest/instances").join(format!("{name}.json"));
    let order = read(&fs::read_to_string(path).expect("an instance"), None).expect("a good list");
    let Task::Templates(list) = order.task else { panic!("{name} is a list of templates") };
    list
}

#[test]
fn lists_are_cut_in_less_cloth_than_by_a_general_library() {
    for (name, peer) in PEER {
        let list = instance(name);
        let nesting = cut(&list.templates, list.cloth, Budget::FULL).expect(name);
        check::layout(&list.templates, list.cloth, &nesting);
        assert!(nesting.length < peer, "{name}: {} is not below {peer}", nesting.length);
        assert_eq!(nesting, cut(&list.templates, list.cloth, Budget::FULL).expect(name), "{name}: the same again");
    }
}

/// Ten templates, curved, hollow and pointed, some of which may lie any way round.
#[test]
fn many_templates_share_the_cloth() {
    let list = instance("mixed-42");
    let nesting = cut(&list.templates, list.cloth, Budget::FULL).expect("a good list");
    check::layout(&list.templates, list.cloth, &nesting);
    let alone = |template: &seamfall_cutting::nest::Template| {
        cut(std::slice::from_ref(template), list.cloth, Budget::QUICK).expect("a good list").length
    };
    let apart: f64 = list.templates.iter().map(alone).sum();
    assert!(nesting.length < apart, "{} together, {apart} one after the other", nesting.length);
}

#[test]
fn a_quick_answer_is_a_whole_one() {
    for (name, _) in PEER {
        let list = instance(name);
        let nesting = cut(&list.templates, list.cloth, Budget::QUICK).expect(name);
        check::layout(&list.templates, list.cloth, &nesting);
    }
}

#[test]
fn a_gap_is_kept_between_all_pieces() {
    let mut list = instance("kites-40");
    list.cloth.gap = 0.25;
    let nesting = cut(&list.templates, list.cloth, Budget::QUICK).expect("kites");
    check::layout(&list.templates, list.cloth, &nesting);
    let placed: Vec<_> = nesting.places(0.25).map(|place| list.templates[place.template].outline.moved(place.pose())).collect();
    let corners = |outline: &seamfall_geom::Loop| outline.corners().collect::<Vec<_>>();
    // The least distance of two convex polygons is that of a corner of one from a side of the other.
    for (i, one) in placed.iter().enumerate() {
        for (_, other) in placed.iter().enumerate().filter(|&(j, _)| j != i) {
            for corner in corners(one) {
                let nearest = other.edges().iter().map(|edge| (edge.nearest(corner) - corner).hypot()).fold(f64::MAX, f64::min);
                assert!(nearest >= 0.25 - 1e-6, "{nearest}");
            }
        }
    }
}

#[test]
fn very_many_copies_come_in_equal_strips() {
    let mut list = instance("leaves-42");
    list.templates[0].count = 100_000;
    let nesting = cut(&list.templates, list.cloth, Budget::QUICK).expect("leaves");
    check::layout(&list.templates, list.cloth, &nesting);
    assert!(nesting.strips.len() < 20 && nesting.density() > 0.75, "{} strips, {}", nesting.strips.len(), nesting.density());
}

/// Of needles no pattern is made; they were once left out.
#[test]
fn pieces_like_needles_are_laid_too() {
    for gap in ["0", "0.25"] {
        let list = format!(
            r#"{{"strip_width": 42, "kerf": {gap}, "items": [
            {{"id": "needle", "polygon": [[4.5, 1.9486], [3.37525, 0], [3.375, 0]], "count": 60}},
            {{"id": "half", "polygon": [[4.5, 0], [3.375, 1.9486], [1.125, 1.9486], [0, 0]], "count": 6, "turns": [0, 180]}}]}}"#
        );
        let Task::Templates(list) = read(&list, None).expect("a good list").task else { panic!("it is a list of templates") };
        let nesting = cut(&list.templates, list.cloth, Budget::QUICK).expect("they can be cut");
        check::layout(&list.templates, list.cloth, &nesting);
    }
}

#[test]
fn a_layout_is_written_strip_by_strip() {
    let list = instance("tumblers-54");
    let nesting = cut(&list.templates, list.cloth, Budget::QUICK).expect("tumblers");
    let written: serde_json::Value = serde_json::from_str(&write(&list, &nesting)).expect("JSON");
    // 12 tumblers of 5 and 3 1/2 by 5 1/2 by turns need 12 x 4 1/4 + 3/4 = 51 3/4 of the 54 in: ten strips.
    assert_eq!(written["length"].as_f64(), Some(55.0));
    assert_eq!((written["strips"][0]["times"].as_u64(), written["strips"][0]["height"].as_f64()), (Some(10), Some(5.5)));
    assert_eq!(written["strips"][0]["placements"].as_array().map(Vec::len), Some(12));
}

/// Each with the template that the message must name and a word of the remedy.
#[test]
fn bad_lists_are_told_with_the_template_and_the_remedy() {
    let list = |width: &str, item: &str| format!(r#"{{"strip_width": {width}, "items": [{item}]}}"#);
    let item = |polygon: &str, rest: &str| format!(r#"{{"id": "petal", "polygon": {polygon}{rest}}}"#);
    let square = "[[0, 0], [3, 0], [3, 3], [0, 3]]";
    let cases = [
        (list("40", ""), "no templates", "add"),
        (list("0", &item(square, "")), "cloth", "usable width"),
        (list("NaN", &item(square, "")), "JSON", "not NaN"),
        (list("\"wide\"", &item(square, "")), "strip_width", "length of 0 or more"),
        (list("40", r#"{"id": "petal", "count": 3}"#), "`petal`", "corners in order"),
        (list("40", &item("[]", "")), "`petal`", "three corners"),
        (list("40", &item("[[0, 0], [3, 0]]", "")), "`petal`", "three corners"),
        (list("40", &item("[[0, 0], [3, 0], [6, 0]]", "")), "`petal`", "three corners"),
        (list("40", &item("[[0, 0], [3, 3], [3, 0], [0, 3.5]]", "")), "`petal`", "crosses itself"),
        (list("40", &item("[[0, 0], [3, null], [3, 3]]", "")), "`petal`", "two numbers"),
        (list("40", &item("[[0, 0], [3], [3, 3]]", "")), "`petal`", "two numbers"),
        (list("40", &item("[[0, 0], [1e200, 0], [3, 3]]", "")), "`petal`", "unit"),
        (list("40", &item("[[0, 0], [0.001, 0], [0, 0.001]]", "")), "`petal`", "unit"),
        (list("2", &item(square, "")), "`petal`", "wider cloth"),
        (list("40", &item(square, r#", "count": 0"#)), "`petal`", "leave it out"),
        (list("40", &item(square, r#", "count": 1000000"#)), "`petal`", "from 1 to"),
        (list("40", &item(square, r#", "count": 1.5"#)), "`petal`", "whole number"),
        (list("40", &item(square, r#", "turns": []"#)), "`petal`", "turn in degrees"),
        (list("40", &item(square, r#", "turns": "round""#)), "`petal`", "`quarter`"),
    ];
    for (text, template, remedy) in cases {
        let said = read(&text, None).expect_err(&text).to_string();
        assert!(said.contains(template) && said.contains(remedy), "{text}: {said}");
    }
}
