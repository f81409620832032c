//! Tests of edits: what changes, what stays, and that nothing panics.

use super::*;
use proptest::prelude::*;

mod cloths;
mod draw;
mod finish;
mod ledger;
mod settings;
mod sewing;

/// A file as people write them, comments and all.
const SAMPLE: &str = r##"# Harbour quilt, second try.
format = 1
name = "Harbour"   # for the guest room
measure = "inch"

[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[cloth.rust]
colour = "#8f4527"

# Drawn on a rainy evening.
[block.lantern]
shape = "square"
size = "12"   # as the old one
grid = 4
seams = [
  [0, 2, 2, 4],   # upper left
  [2, 0, 4, 2],
]
patches = { night = [[1, 3], [3, 1]], glow = [[2, 2]] }
cloths = { glow = "linen" }

[block.plain]
shape = "square"
size = "12"
patches = { linen = [[1, 1]] }

[frame.narrow]
corners = "mitred"
strips = [{ width = "1", cloth = "rust" }]

[setting]
layout = "straight"
columns = 3
rows = 2   # or three?
pattern = [["lantern", "plain"], ["plain", "lantern"]]

# The one by the pillow.
[[place]]
at = "B2"   # second row
turn = 1
swap = { night = "rust" }

[[band]]   # outermost
width = "3"
cloth = "night"
"##;

/// The lines that an edit takes away and those it adds.
fn changed(text: &str, edit: &Edit) -> String {
    let after = apply(text, edit).unwrap_or_else(|error| panic!("{edit:?}: {error}"));
    differences(text, &after)
}

fn differences(before: &str, after: &str) -> String {
    let (old, new): (Vec<_>, Vec<_>) = (before.lines().collect(), after.lines().collect());
    // The longest common run of lines, by the textbook.
    let mut longest = vec![vec![0; new.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            longest[i][j] = if old[i] == new[j] { longest[i + 1][j + 1] + 1 } else { longest[i + 1][j].max(longest[i][j + 1]) };
        }
    }
    let (mut i, mut j, mut out) = (0, 0, String::new());
    while i < old.len() || j < new.len() {
        if i < old.len() && j < new.len() && old[i] == new[j] {
            (i, j) = (i + 1, j + 1);
        } else if i < old.len() && (j == new.len() || longest[i + 1][j] >= longest[i][j + 1]) {
            out += &format!("- {}\n", old[i]);
            i += 1;
        } else {
            out += &format!("+ {}\n", new[j]);
            j += 1;
        }
    }
    out.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

fn set(path: &[&str], value: &str) -> Edit {
    Edit::Set { path: path.iter().map(|step| (*step).to_owned()).collect(), value: Scalar::Text(value.to_owned()) }
}

fn remove(path: &[&str]) -> Edit {
    Edit::Remove { path: path.iter().map(|step| (*step).to_owned()).collect() }
}

#[test]
fn a_turned_block_gets_a_line_of_its_own() {
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Turn { row: 0, number: 2, times: 1 }), @r#"
    + [[place]]
    + at = "A3"
    + turn = 1
    +
    "#);
}

#[test]
fn a_place_that_is_listed_keeps_its_comments() {
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Turn { row: 1, number: 1, times: 1 }), @r"
    - turn = 1
    + turn = 2
    ");
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Mirror { row: 1, number: 1 }), @r"
    - turn = 1
    + turn = 3
    + mirror = true
    ");
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Frame { row: 1, number: 1, frame: Some("narrow".to_owned()) }), @r#"+ frame = "narrow""#);
}

#[test]
fn an_entry_goes_when_nothing_differs_any_more() {
    let turned = apply(SAMPLE, &Edit::Turn { row: 0, number: 0, times: 3 }).expect("the place is there");
    let back = apply(&turned, &Edit::Turn { row: 0, number: 0, times: 1 }).expect("the place is there");
    assert_eq!(back, SAMPLE);
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Put { row: 1, number: 1, block: "lantern".to_owned() }), @r#"
    - # The one by the pillow.
    - [[place]]
    - at = "B2"   # second row
    - turn = 1
    - swap = { night = "rust" }
    -
    "#);
}

#[test]
fn exchanged_places_take_all_along() {
    let edit = Edit::Exchange { row: 0, number: 1, with_row: 1, with_number: 1 };
    insta::assert_snapshot!(changed(SAMPLE, &edit), @r#"
    + block = "plain"
    +
    + [[place]]
    + at = "A2"
    + block = "lantern"
    "#);
    let after = apply(SAMPLE, &edit).expect("both places are there");
    let (before, after) = (read(SAMPLE).expect("it reads"), read(&after).expect("it reads"));
    assert_eq!(before.setting.places[1][1], after.setting.places[0][1]);
    assert_eq!(before.setting.places[0][1], after.setting.places[1][1]);
}

#[test]
fn a_swap_goes_by_the_cloth_that_is_seen() {
    let swap = |number, from: &str, to: &str| Edit::Swap { row: 1, number, from: from.to_owned(), to: to.to_owned() };
    insta::assert_snapshot!(changed(SAMPLE, &swap(1, "rust", "linen")), @r#"
    - swap = { night = "rust" }
    + swap = { night = "linen" }
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &swap(1, "rust", "night")), @r#"- swap = { night = "rust" }"#);
    insta::assert_snapshot!(changed(SAMPLE, &swap(0, "linen", "rust")), @r#"
    + [[place]]
    + at = "B1"
    + swap = { linen = "rust" }
    +
    "#);
    insta::assert_snapshot!(apply(SAMPLE, &swap(0, "night", "rust")).expect_err("it has none"), @"block `plain` has no cloth `night` at B1");
}

#[test]
fn paint_changes_one_word() {
    let paint = |part: &str, cloth: &str| {
        changed(SAMPLE, &Edit::Paint { block: "lantern".to_owned(), part: part.to_owned(), cloth: cloth.to_owned() })
    };
    insta::assert_snapshot!(paint("glow", "rust"), @r#"
    - cloths = { glow = "linen" }
    + cloths = { glow = "rust" }
    "#);
    insta::assert_snapshot!(paint("night", "rust"), @r#"
    - cloths = { glow = "linen" }
    + cloths = { glow = "linen", night = "rust" }
    "#);
    assert_eq!(paint("night", "night"), "");
}

#[test]
fn single_values_keep_what_stands_round_them() {
    insta::assert_snapshot!(changed(SAMPLE, &set(&["block", "lantern", "size"], "9")), @r#"
    - size = "12"   # as the old one
    + size = "9"   # as the old one
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &set(&["band", "0", "width"], "2 1/2")), @r#"
    - width = "3"
    + width = "2 1/2"
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &set(&["frame", "narrow", "strips", "0", "width"], "3/4")), @r#"
    - strips = [{ width = "1", cloth = "rust" }]
    + strips = [{ width = "3/4", cloth = "rust" }]
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &set(&["band", "0", "corners", "squares"], "linen")), @r#"+ corners = { squares = "linen" }"#);
    insta::assert_snapshot!(changed(SAMPLE, &set(&["cloth", "teal", "colour"], "#1f6f70")), @r##"
    + [cloth.teal]
    + colour = "#1f6f70"
    +
    "##);
    insta::assert_snapshot!(changed(SAMPLE, &set(&["seam"], "3/8")), @r#"+ seam = "3/8""#);
    let three = Edit::Set { path: vec!["setting".to_owned(), "rows".to_owned()], value: Scalar::Number(3.0) };
    insta::assert_snapshot!(changed(SAMPLE, &three), @r"
    - rows = 2   # or three?
    + rows = 3   # or three?
    ");
}

#[test]
fn words_give_way_to_tables_and_back() {
    let squares = apply(SAMPLE, &set(&["frame", "narrow", "corners", "squares"], "linen")).expect("it can be set");
    insta::assert_snapshot!(differences(SAMPLE, &squares), @r#"
    - corners = "mitred"
    + corners = { squares = "linen" }
    "#);
    assert_eq!(apply(&squares, &set(&["frame", "narrow", "corners"], "mitred")).expect("it can be set"), SAMPLE);
}

#[test]
fn things_are_taken_away_whole() {
    insta::assert_snapshot!(changed(SAMPLE, &remove(&["band", "0"])), @r#"
    -
    - [[band]]   # outermost
    - width = "3"
    - cloth = "night"
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &remove(&["block", "lantern", "seams", "0"])), @"-   [0, 2, 2, 4],   # upper left");
    insta::assert_snapshot!(changed(SAMPLE, &remove(&["frame", "narrow"])), @r#"
    - [frame.narrow]
    - corners = "mitred"
    - strips = [{ width = "1", cloth = "rust" }]
    -
    "#);
    insta::assert_snapshot!(apply(SAMPLE, &remove(&["band", "1"])).expect_err("there is one band"), @"there is nothing at `band.1` in the file");
    insta::assert_snapshot!(apply(SAMPLE, &remove(&["cloth", "linen"])).expect_err("it is in use"), @"there is no cloth `linen`");
}

#[test]
fn a_smaller_setting_forgets_the_places_it_lost() {
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Resize { rows: 1, columns: 4 }), @r#"
    - columns = 3
    - rows = 2   # or three?
    + columns = 4
    + rows = 1   # or three?
    - # The one by the pillow.
    - [[place]]
    - at = "B2"   # second row
    - turn = 1
    - swap = { night = "rust" }
    -
    "#);
    let message = apply(SAMPLE, &Edit::Resize { rows: 0, columns: 4 }).expect_err("no rows are no quilt");
    insta::assert_snapshot!(message, @"0 rows and 4 columns cannot be set; there are 1 to 100 of each");
    assert!(apply(SAMPLE, &Edit::Resize { rows: usize::MAX, columns: usize::MAX }).is_err());
}

#[test]
fn rows_of_different_blocks_grow_in_their_pattern() {
    let rows = SAMPLE.replace("layout = \"straight\"\ncolumns = 3\nrows = 2   # or three?\n", "layout = \"rows\"\n").replace(
        "[[\"lantern\", \"plain\"], [\"plain\", \"lantern\"]]",
        "[\n  [\"lantern\", \"plain\"], # top\n  [\"plain\", \"lantern\", \"plain\"],\n]",
    );
    insta::assert_snapshot!(changed(&rows, &Edit::Resize { rows: 3, columns: 3 }), @r#"+   ["lantern", "plain"],"#);
    insta::assert_snapshot!(changed(&rows, &Edit::Resize { rows: 1, columns: 1 }), @r#"
    -   ["lantern", "plain"], # top
    -   ["plain", "lantern", "plain"],
    +   ["lantern"], # top
    - # The one by the pillow.
    - [[place]]
    - at = "B2"   # second row
    - turn = 1
    - swap = { night = "rust" }
    -
    "#);
    insta::assert_snapshot!(changed(&rows, &Edit::Resize { rows: 2, columns: 4 }), @r#"
    -   ["plain", "lantern", "plain"],
    +   ["plain", "lantern", "plain", "plain"],
    "#);
}

#[test]
fn new_parts_stand_where_the_format_has_them() {
    let add = |edit: Edit| apply(SAMPLE, &edit).unwrap_or_else(|error| panic!("{edit:?}: {error}"));
    let text = |text: &str| text.to_owned();
    insta::assert_snapshot!(changed(SAMPLE, &Edit::AddBand { width: text("5"), cloth: text("rust") }), @r#"
    +
    + [[band]]
    + width = "5"
    + cloth = "rust"
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &Edit::AddSashing { width: text("2"), cloth: text("rust") }), @r#"
    + [sashing]
    + width = "2"
    + cloth = "rust"
    +
    "#);
    insta::assert_snapshot!(changed(SAMPLE, &Edit::AddFrame { key: text("wide"), width: text("2"), cloth: text("rust") }), @r#"
    + [frame.wide]
    + corners = "mitred"
    + strips = [{ width = "2", cloth = "rust" }]
    +
    "#);
    let starter = Edit::AddStarter { starter: text("churn-dash"), key: text("churn") };
    insta::assert_snapshot!(changed(SAMPLE, &starter), @r#"
    + [block.churn]
    + starter = "churn-dash"
    + size = "12"
    + cloths = { light = "night", dark = "linen" }
    +
    "#);
    let cloth = Edit::AddCloth {
        key: text("teal"),
        name: text("Teal \"sea\""),
        colour: text("#1f6f70"),
        from: vec![(text("20 x 18"), 2)],
    };
    insta::assert_snapshot!(changed(SAMPLE, &cloth), @r##"
+ [cloth.teal]
+ name = 'Teal "sea"'
+ colour = "#1f6f70"
+ from = [{ size = "20 x 18", count = 2 }]
+
"##);
    let order = |text: &str, names: &[&str]| {
        let places: Vec<_> = names.iter().map(|name| text.find(name).unwrap_or_else(|| panic!("{name}"))).collect();
        assert!(places.is_sorted(), "{names:?} in {text}");
    };
    order(&add(Edit::AddSashing { width: text("2"), cloth: text("rust") }), &["[[place]]", "[sashing]", "[[band]]"]);
    order(&add(starter), &["[block.plain]", "[block.churn]", "[frame.narrow]"]);
    order(&add(cloth), &["[cloth.rust]", "[cloth.teal]", "# Drawn", "[block.lantern]"]);
    let without = apply(SAMPLE, &remove(&["frame", "narrow"])).expect("no place uses it");
    let frame = Edit::AddFrame { key: text("wide"), width: text("2"), cloth: text("rust") };
    order(&apply(&without, &frame).expect("it can be added"), &["[block.plain]", "[frame.wide]", "[setting]"]);
}

#[test]
fn impossible_edits_say_why() {
    let text = |text: &str| text.to_owned();
    let error = |edit: Edit| apply(SAMPLE, &edit).expect_err("it cannot be made").to_string();
    insta::assert_snapshot!(error(Edit::Put { row: 0, number: 0, block: text("lantrn") }), @"there is no block `lantrn`; did you mean `lantern`?");
    insta::assert_snapshot!(error(Edit::Turn { row: 9, number: 0, times: 1 }), @"there is no place J1; the last row is B");
    insta::assert_snapshot!(error(Edit::Mirror { row: 0, number: 3 }), @"there is no place A4; this row has 3");
    insta::assert_snapshot!(error(Edit::Paint { block: text("lantern"), part: text("glw"), cloth: text("rust") }), @"there is no part in block `lantern` called `glw`; did you mean `glow`?");
    insta::assert_snapshot!(error(Edit::AddCloth { key: text("rust"), name: text("Rust"), colour: text("#000000"), from: Vec::new() }), @"there is a cloth `rust` already");
    insta::assert_snapshot!(error(Edit::AddStarter { starter: text("churn-dish"), key: text("churn") }), @"there is no starter block `churn-dish`; did you mean `churn-dash`?");
    insta::assert_snapshot!(error(Edit::AddBand { width: text("-1"), cloth: text("rust") }), @"`width`: `-1` is no length that can be sewn");
    insta::assert_snapshot!(error(set(&["cloth"], "rust")), @r#"`cloth` cannot be the text "rust""#);
    insta::assert_snapshot!(error(set(&[], "rust")), @"there is nothing at `` in the file");
    insta::assert_snapshot!(error(set(&["band", "7", "width"], "2")), @"there is nothing at `band.7.width` in the file");
}

#[test]
fn inline_places_are_understood() {
    let inline = SAMPLE.replace(
        "# The one by the pillow.\n[[place]]\nat = \"B2\"   # second row\nturn = 1\nswap = { night = \"rust\" }\n\n",
        "",
    );
    let inline = inline.replace("[cloth.night]", "place = [{ at = \"A1\", turn = 2 }]\n[cloth.night]");
    let after = apply(&inline, &Edit::Turn { row: 0, number: 0, times: 1 }).expect("the place is there");
    assert_eq!(read(&after).expect("it reads").setting.places[0][0].turns, 3);
}

#[test]
fn edits_travel_as_json() {
    let json = r#"{"do":"set","path":["sashing","around"],"value":true}"#;
    let edit: Edit = serde_json::from_str(json).expect("it is an edit");
    assert_eq!(edit, Edit::Set { path: vec!["sashing".into(), "around".into()], value: Scalar::Bool(true) });
    assert!(serde_json::from_str::<Edit>(r#"{"do":"turn","row":0,"number":0,"times":1,"more":1}"#).is_err());
}

fn word() -> impl Strategy<Value = String> {
    const KNOWN: &[&str] = &[
        "night",
        "linen",
        "rust",
        "lantern",
        "plain",
        "narrow",
        "none",
        "own",
        "glow",
        "churn-dash",
        "12",
        "1/2",
        "-1",
        "0",
        "",
        "é \"\n",
    ];
    prop::sample::select(KNOWN.to_vec()).prop_map(str::to_owned)
}

fn piece() -> impl Strategy<Value = String> {
    const KNOWN: &[&str] = &["lantern.p1", "lantern.p2", "plain.p1", "B2", "A4.p1", "B2.p1", "sash.1.2", "open", ""];
    prop::sample::select(KNOWN.to_vec()).prop_map(str::to_owned)
}

fn step() -> impl Strategy<Value = String> {
    const KNOWN: &[&str] = &[
        "cloth",
        "block",
        "frame",
        "setting",
        "place",
        "sashing",
        "band",
        "night",
        "lantern",
        "plain",
        "narrow",
        "size",
        "seams",
        "patches",
        "cloths",
        "glow",
        "strips",
        "corners",
        "squares",
        "pattern",
        "rows",
        "width",
        "at",
        "turn",
        "swap",
        "name",
        "0",
        "1",
        "7",
        "",
        "fall",
        "way",
        "between",
        "to",
        "of",
        "use",
        "pressings",
    ];
    prop::sample::select(KNOWN.to_vec()).prop_map(str::to_owned)
}

fn any_edit() -> impl Strategy<Value = Edit> {
    let path = || prop::collection::vec(step(), 0..5);
    let value = || {
        prop_oneof![
            any::<bool>().prop_map(Scalar::Bool),
            prop_oneof![Just(2.0), Just(f64::NAN), Just(-1.5), Just(1e300)].prop_map(Scalar::Number),
            word().prop_map(Scalar::Text)
        ]
    };
    prop_oneof![
        (0..4usize, 0..4usize, any::<u8>()).prop_map(|(row, number, times)| Edit::Turn { row, number, times }),
        (0..4usize, 0..4usize).prop_map(|(row, number)| Edit::Mirror { row, number }),
        (0..4usize, 0..4usize, word()).prop_map(|(row, number, block)| Edit::Put { row, number, block }),
        (0..3usize, 0..4usize, 0..3usize, 0..4usize).prop_map(|(row, number, with_row, with_number)| Edit::Exchange {
            row,
            number,
            with_row,
            with_number
        }),
        (0..3usize, 0..4usize, word(), word()).prop_map(|(row, number, from, to)| Edit::Swap { row, number, from, to }),
        (word(), word(), word()).prop_map(|(block, part, cloth)| Edit::Paint { block, part, cloth }),
        (0..3usize, 0..4usize, prop::option::of(word())).prop_map(|(row, number, frame)| Edit::Frame { row, number, frame }),
        (path(), value()).prop_map(|(path, value)| Edit::Set { path, value }),
        path().prop_map(|path| Edit::Remove { path }),
        (piece(), piece(), prop::option::of(piece())).prop_map(|(first, second, to)| Edit::Fall { between: [first, second], to }),
        (piece(), prop::option::of(prop::sample::select(vec!["two", "strips", "three"])))
            .prop_map(|(of, way)| Edit::Way { of, way: way.map(str::to_owned) }),
        prop::option::of(value()).prop_map(|pressings| Edit::Pressings { pressings }),
        (0..5usize, 0..5usize).prop_map(|(rows, columns)| Edit::Resize { rows, columns }),
        (word(), word()).prop_map(|(width, cloth)| Edit::AddBand { width, cloth }),
        (word(), word()).prop_map(|(width, cloth)| Edit::AddSashing { width, cloth }),
        (word(), word(), word()).prop_map(|(key, width, cloth)| Edit::AddFrame { key, width, cloth }),
        (word(), word()).prop_map(|(starter, key)| Edit::AddStarter { starter, key }),
        (word(), word()).prop_map(|(key, name)| Edit::AddCloth { key, name, colour: "#123456".to_owned(), from: Vec::new() }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_row_of_edits_leaves_a_quilt(edits in prop::collection::vec(any_edit(), 1..25)) {
        let mut text = SAMPLE.to_owned();
        for edit in edits {
            if let Ok(after) = apply(&text, &edit) {
                prop_assert!(read(&after).is_ok(), "{edit:?} on\n{text}");
                text = after;
            }
        }
        prop_assert!(text.starts_with("# Harbour quilt, second try.") || !text.contains("Harbour quilt"));
    }

    #[test]
    fn four_turns_are_none(row in 0..2usize, number in 0..3usize) {
        let mut text = SAMPLE.to_owned();
        for _ in 0..4 {
            text = apply(&text, &Edit::Turn { row, number, times: 1 }).expect("the place is there");
        }
        prop_assert_eq!(read(&text).expect("it reads"), read(SAMPLE).expect("it reads"));
    }

    #[test]
    fn mirrored_twice_is_not_mirrored(row in 0..2usize, number in 0..3usize) {
        let once = apply(SAMPLE, &Edit::Mirror { row, number }).expect("the place is there");
        let twice = apply(&once, &Edit::Mirror { row, number }).expect("the place is there");
        prop_assert_eq!(read(&twice).expect("it reads"), read(SAMPLE).expect("it reads"));
    }
}
