//! The plan as JSON against its own published schema, and the promises of its form.

use seamfall_model::{Bed, CornerShape, Ledger, Length, Measured, SewnSection, SewnState, read};
use seamfall_plan::{Effort, plan, plan_with, set, sewn, wire};
use serde_json::Value;

/// Every kind of piece, shape and finding that the wire knows: arcs, overlays, frames, sashing, bands, a spare cloth, a diamond.
const EVERYTHING: &str = r##"
format = 1
name = "Everything"
measure = "inch"
[cloth.red]
colour = "#aa3333"
print = "one-way"
[cloth.blue]
colour = "#3333aa"
value = "dark"
[cloth.spare]
colour = "#ffffff"
[block.path]
name = "Path"
shape = "square"
size = "8"
grid = 4
seams = [{ arc = [3, 0, 0, 3], centre = [0, 0] }]
patches = { red = [[1, 1]], blue = [[3.5, 3.5]] }
overlay = [{ part = "red", turn-under = "3/16", outline = [[2.5, 3, 3.5, 3], { arc = [3.5, 3, 2.5, 3], centre = [3, 3] }] }]
[block.half]
shape = "square"
size = "8"
seams = [[0, 0, 8, 8]]
patches = { red = [[1, 3]], blue = [[3, 1]] }
[block.gem]
shape = "diamond"
size = "4"
angle = 60
patches = { red = [[2, 2]] }
[frame.narrow]
corners = "mitred"
strips = [{ width = "1", cloth = "blue" }]
[setting]
layout = "on-point"
columns = 3
rows = 2
pattern = [["path", "half"]]
triangles = "blue"
frame = "narrow"
[[place]]
at = "A2"
mirror = true
[[way]]
of = "half.p1"
use = "two"
[sashing]
width = "1 1/2"
cloth = "red"
cornerstones = "blue"
[[band]]
width = "4"
cloth = "red"
corners = "butted"
[bed]
standard = "us twin"
posts = true
[binding]
cloth = "red"
on = "bias"
[finish]
edge = "scallops"
[sleeve]
cloth = "blue"
[label]
cloth = "blue"
size = "6 x 4"
[cover]
lining = "blue"
channel = "4"
ties = "12"
[[quilting]]
on = "path"
design = "circle"
[[quilting]]
on = "quilt"
design = "parallel"
spacing = "3"
[[quilting]]
on = "narrow"
design = "circle"
size = "1/2"
repeats = 3
"##;

fn json() -> Value {
    let quilt = read(EVERYTHING).unwrap_or_else(|error| panic!("{error:?}"));
    serde_json::from_str(&wire::to_json(&quilt, &plan(&quilt))).expect("it is JSON")
}

fn validator() -> jsonschema::Validator {
    let schema: Value = serde_json::from_str(&wire::json_schema()).expect("the schema is JSON");
    jsonschema::validator_for(&schema).expect("the schema is a schema")
}

#[test]
fn the_plan_is_what_its_schema_says() {
    let (validator, plan) = (validator(), json());
    let errors: Vec<String> = validator.iter_errors(&plan).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert_eq!(errors, Vec::<String>::new());
}

/// A measured quilt: a size, a section that is too small, places and seams are all there.
#[test]
fn a_measured_quilt_is_what_its_schema_says() {
    let quilt = seamfall_testkit::hill_farm();
    let top = plan(&quilt).top;
    let measured = |(number, section): (usize, &set::Section)| SewnSection {
        name: section.name.clone(),
        state: SewnState::Quilted,
        measured: Some(Measured::Two(
            [0, 2].map(|side| sewn::planned_sides(&quilt, section)[side] - Length::new(number as f64 / 2.0)),
        )),
        at: None,
        with: None,
        note: None,
        date: None,
    };
    let sections = top.sections.iter().enumerate().take(12).map(measured).collect();
    let ledger = Ledger { sections, ..Ledger::default() };
    let text = wire::to_json(&quilt, &plan_with(&quilt, &ledger, Effort::FIRST));
    let plan: Value = serde_json::from_str(&text).expect("it is JSON");
    let errors: Vec<String> = validator().iter_errors(&plan).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert_eq!(errors, Vec::<String>::new());
    let truing = &plan["truing"];
    for part in ["sizes", "sections", "seams"] {
        assert!(truing[part].as_array().is_some_and(|list| !list.is_empty()), "{part}");
    }
    assert!(truing["sections"].as_array().is_some_and(|list| list.iter().any(|one| one["short"].as_f64() > Some(0.0))));
    assert!(truing["places"]["proven"].is_boolean());
}

/// Notched and level corners: the real outline, what is cut off, and what is left of the sections.
#[test]
fn changed_corners_are_what_the_schema_says() {
    let mut quilt = seamfall_testkit::hill_farm();
    let size = plan(&quilt).top.size;
    let [width, length] = [size.x - 24.0, size.y - 12.0].map(Length::new);
    quilt.bed = Some(Bed::usual(quilt.measure, width, length));
    for (shape, edges, radius) in [(CornerShape::Notch, 8, false), (CornerShape::Level, 6, true)] {
        quilt.corners = shape;
        let plan: Value = serde_json::from_str(&wire::to_json(&quilt, &plan(&quilt))).expect("it is JSON");
        let errors: Vec<String> =
            validator().iter_errors(&plan).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert_eq!(errors, Vec::<String>::new());
        assert_eq!(plan["outline"].as_array().map(Vec::len), Some(edges));
        let corner = &plan["corners"][0];
        assert_eq!((corner["at"].as_str(), corner["radius"].is_number()), (Some("lower left"), radius));
        assert!(corner["cuts"].as_array().is_some_and(|cuts| !cuts.is_empty()));
        assert!(plan["sections"].as_array().is_some_and(|all| all.iter().any(|section| section["kept"].is_array())));
    }
}

/// A schema that lets everything pass proves nothing.
#[test]
fn the_schema_refuses_what_is_not_a_plan() {
    let validator = validator();
    let refused = |what: &str, change: &dyn Fn(&mut Value)| {
        let mut plan = json();
        change(&mut plan);
        assert!(!validator.is_valid(&plan), "{what} passes");
    };
    refused("another format", &|plan| plan["format"] = 2.into());
    refused("a plan without places", &|plan| drop(plan.as_object_mut().expect("an object").remove("places")));
    refused("a matrix of five", &|plan| drop(plan["places"][0]["matrix"].as_array_mut().expect("a list").pop()));
    refused("an edge of no kind", &|plan| plan["blocks"][0]["outline"][0]["kind"] = "spline".into());
    refused("a length in words", &|plan| plan["allowance"] = "1/4".into());
    refused("a way that is none", &|plan| plan["cut"][0]["way"]["kind"] = "torn".into());
    refused("units made in no way", &|plan| plan["making"][0]["taken"] = "three".into());
    refused("an order of no kind", &|plan| plan["join"]["taken"] = "spiral".into());
    refused("a step without its seam", &|plan| drop(plan["join"]["steps"][0].as_object_mut().expect("an object").remove("from")));
    refused("a negative count", &|plan| plan["cut"][0]["needed"] = (-1).into());
}

#[test]
fn the_same_quilt_gives_the_same_bytes() {
    let once = || {
        let quilt = read(EVERYTHING).expect("a whole quilt");
        wire::to_json(&quilt, &plan(&quilt))
    };
    assert_eq!(once(), once());
    assert!(!once().contains("-0.0") && !once().contains('\n'), "one line, no negative nothing");
}

/// Every name that something is referred to by is the name of something.
#[test]
fn names_lead_somewhere() {
    let plan = json();
    let names = |list: &Value, key: &str| -> Vec<String> {
        list.as_array().expect("a list").iter().map(|each| each[key].as_str().expect("a name").to_owned()).collect()
    };
    let (sections, strips, places) =
        (names(&plan["sections"], "name"), names(&plan["strips"], "name"), names(&plan["places"], "name"));
    let steps = plan["join"]["steps"].as_array().expect("a list");
    for (number, step) in steps.iter().enumerate() {
        for side in ["left", "right"] {
            assert!(step[side].as_array().expect("a list").iter().all(|name| sections.iter().any(|known| name == known)));
        }
        let later = step["ends_on"].as_array().expect("a list").iter().filter_map(Value::as_u64);
        assert!(later.into_iter().all(|later| later > number as u64 && later < steps.len() as u64));
    }
    let joined: Vec<String> = steps.last().map_or_else(Vec::new, |step| {
        ["left", "right"]
            .iter()
            .flat_map(|side| step[side].as_array().expect("a list"))
            .map(|name| name.as_str().expect("a name").to_owned())
            .collect()
    });
    assert_eq!(joined.len(), sections.len(), "the last step holds every section");
    let (cloths, pieces) = (names(&plan["cloths"], "key"), names(&plan["cut"], "name"));
    let blocks = plan["blocks"].as_array().expect("a list");
    let templates: Vec<String> = blocks.iter().flat_map(|block| names(&block["templates"], "id")).collect();
    assert!(templates.contains(&"path.A".to_owned()) && templates.contains(&"gem.A".to_owned()), "{templates:?}");
    assert_eq!(names(&blocks[0]["patches"], "id"), ["path.p1", "path.p2"]);
    assert_eq!(names(&blocks[0]["overlays"], "id"), ["path.o1"]);
    assert_eq!(places[0], "A1");

    for of in [&plan["places"], &plan["strips"]] {
        assert!(names(of, "section").iter().all(|section| sections.contains(section)));
    }
    for section in plan["sections"].as_array().expect("a list") {
        for (list, known) in [("places", &places), ("strips", &strips)] {
            assert!(section[list].as_array().expect("a list").iter().all(|name| known.iter().any(|known| name == known)));
        }
    }
    for block in blocks {
        assert!(names(&block["patches"], "template").iter().all(|template| templates.contains(template)));
    }
    assert!(names(&plan["cut"], "of").iter().all(|of| of == "batting" || cloths.contains(of)));
    let uses = plan["cut"].as_array().expect("a list").iter().flat_map(|piece| piece["uses"].as_array().expect("a list"));
    assert!(uses.filter_map(|each| each["template"].as_str()).all(|template| templates.iter().any(|known| known == template)));
    // The two triangles of block `half` are made two at a time, as the file says, for all that the print of one is turned.
    let units = names(&plan["sewing"]["units"], "id");
    let making = plan["making"].as_array().expect("a list");
    assert!(
        making.iter().any(|unit| unit["taken"] == "two")
            && names(&plan["making"], "unit").iter().all(|unit| units.contains(unit))
    );
    for unit in making {
        assert!(
            unit["patches"]
                .as_array()
                .expect("a list")
                .iter()
                .all(|patch| patch.as_str().is_some_and(|name| name.contains(".p")))
        );
        let taken = unit["ways"].as_array().expect("a list").iter().filter(|way| way["way"] == unit["taken"]);
        for from in taken.flat_map(|way| way["from"].as_array().expect("a list")) {
            assert!(
                cloths.iter().any(|cloth| from["cloth"] == *cloth) && pieces.iter().any(|piece| from["piece"] == *piece),
                "{from}"
            );
        }
    }
    for bought in plan["buy"].as_array().expect("a list") {
        assert!(cloths.iter().any(|cloth| bought["of"] == *cloth) || bought["of"] == "batting", "{bought}");
        assert_eq!(bought["laid"]["kind"], "length");
        let mut cuts: Vec<&Value> = bought["laid"]["cuts"].as_array().expect("a list").iter().collect();
        while let Some(cut) = cuts.pop() {
            let inside = cut["cuts"].as_array().expect("a list");
            assert!(pieces.iter().any(|piece| cut["piece"]["name"] == *piece) || !inside.is_empty(), "{cut}");
            cuts.extend(inside);
        }
    }
}

/// A corner of a patch, brought to the top by the matrix as written, is where the outline of the place is, to the tolerance.
#[test]
fn the_matrix_brings_a_block_to_its_place() {
    let plan = json();
    let number = |value: &Value| value.as_f64().expect("a number");
    for place in plan["places"].as_array().expect("a list") {
        let block =
            plan["blocks"].as_array().expect("a list").iter().find(|block| block["key"] == place["block"]).expect("the block");
        let m: Vec<f64> = place["matrix"].as_array().expect("six").iter().map(number).collect();
        for edge in block["outline"].as_array().expect("edges") {
            let (x, y) = (number(&edge["from"][0]), number(&edge["from"][1]));
            let (x, y) = (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
            let met = place["outline"]
                .as_array()
                .expect("edges")
                .iter()
                .any(|edge| (number(&edge["from"][0]) - x).abs() < 2e-6 && (number(&edge["from"][1]) - y).abs() < 2e-6);
            assert!(met, "{}: {x}, {y}", place["name"]);
        }
    }
}

#[test]
fn findings_alone_are_those_of_the_plan() {
    let quilt = read(EVERYTHING).expect("a whole quilt");
    let alone: Value = serde_json::from_str(&wire::findings_json(&plan(&quilt))).expect("it is JSON");
    assert_eq!(alone["findings"], json()["findings"]);
    let spare = &alone["findings"].as_array().expect("a list").iter().find(|finding| finding["spot"] == "cloth spare");
    assert_eq!(spare.expect("the spare cloth is noted")["grade"], "note");
}
