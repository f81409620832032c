//! Tests of edits of pressings, falls and ways of making.

use super::*;
use crate::{FallTo, MakingWay};

/// The sample with falls and ways that somebody wrote by hand.
fn sewn() -> String {
    let head = SAMPLE.replace("measure = \"inch\"\n", "measure = \"inch\"\npressings = 2   # or own?\n");
    head + r#"
# So that the light one does not show.
[[fall]]
between = [ "lantern.p2", "lantern.p1" ]   # upper left
to = "lantern.p1" # the dark one

[[fall]]
between = ["C2", "B2"]
to = "open"

[[way]]
of = "lantern.p1"   # the corners
use = "two"   # or eight?
"#
}

fn rows_of_three() -> String {
    sewn().replace("rows = 2   # or three?", "rows = 3")
}

fn fall(between: [&str; 2], to: Option<&str>) -> Edit {
    Edit::Fall { between: between.map(str::to_owned), to: to.map(str::to_owned) }
}

fn way(of: &str, way: Option<&str>) -> Edit {
    Edit::Way { of: of.to_owned(), way: way.map(str::to_owned) }
}

fn pressings(pressings: Option<Scalar>) -> Edit {
    Edit::Pressings { pressings }
}

#[test]
fn a_fall_is_added_behind_the_bands() {
    let edit = fall(["lantern.p1", "lantern.p3"], Some("lantern.p3"));
    insta::assert_snapshot!(changed(SAMPLE, &edit), @r#"
    +
    + [[fall]]
    + between = ["lantern.p1", "lantern.p3"]
    + to = "lantern.p3"
    "#);
    let after = apply(SAMPLE, &edit).expect("it can be made");
    assert!(after.starts_with(SAMPLE), "{after}");
    assert_eq!(read(&after).expect("it reads").falls[0].to, FallTo::Second);
    // Before the ways, where there are some.
    let after = apply(&apply(SAMPLE, &way("lantern.p1", Some("two"))).expect("it can be made"), &edit).expect("it can be made");
    assert!(after.find("[[fall]]") < after.find("[[way]]"), "{after}");
    assert!(after.starts_with(SAMPLE), "{after}");
}

#[test]
fn a_fall_is_changed_where_it_stands_whichever_piece_is_named_first() {
    for between in [["lantern.p1", "lantern.p2"], ["lantern.p2", "lantern.p1"]] {
        insta::allow_duplicates! {
            insta::assert_snapshot!(changed(&rows_of_three(), &fall(between, Some("lantern.p2"))), @r#"
            - to = "lantern.p1" # the dark one
            + to = "lantern.p2" # the dark one
            "#);
        }
    }
}

#[test]
fn a_fall_is_free_again() {
    let text = rows_of_three();
    insta::assert_snapshot!(changed(&text, &fall(["lantern.p1", "lantern.p2"], None)), @r#"
    - # So that the light one does not show.
    - between = [ "lantern.p2", "lantern.p1" ]   # upper left
    - to = "lantern.p1" # the dark one
    -
    - [[fall]]
    "#);
    assert_eq!(changed(&text, &fall(["lantern.p1", "lantern.p9"], None)), "");
    let none = apply(&text, &fall(["lantern.p1", "lantern.p2"], None)).and_then(|text| apply(&text, &fall(["B2", "C2"], None)));
    let none = none.expect("both are there");
    assert!(!none.contains("fall"), "{none}");
    assert_eq!(changed(SAMPLE, &fall(["A1", "A2"], None)), "");
    // Made and taken away again, it leaves nothing behind.
    let made = apply(SAMPLE, &fall(["A1", "A2"], Some("open"))).expect("it can be made");
    assert_eq!(apply(&made, &fall(["A2", "A1"], None)).expect("it is there"), SAMPLE);
}

#[test]
fn a_way_of_making_is_set_changed_and_free_again() {
    let text = rows_of_three();
    insta::assert_snapshot!(changed(&text, &way("lantern.p3", Some("strips"))), @r#"
    +
    + [[way]]
    + of = "lantern.p3"
    + use = "strips"
    "#);
    insta::assert_snapshot!(changed(&text, &way("lantern.p1", Some("eight"))), @r#"
    - use = "two"   # or eight?
    + use = "eight"   # or eight?
    "#);
    insta::assert_snapshot!(changed(&text, &way("lantern.p1", None)), @r#"
    -
    - [[way]]
    - of = "lantern.p1"   # the corners
    - use = "two"   # or eight?
    "#);
    assert_eq!(changed(&text, &way("lantern.p2", None)), "");
    assert_eq!(changed(SAMPLE, &way("lantern.p2", None)), "");
    let made = apply(SAMPLE, &way("lantern.p1", Some("plain"))).expect("it can be made");
    assert_eq!(apply(&made, &way("lantern.p1", None)).expect("it is there"), SAMPLE);
}

#[test]
fn pressings_are_set_changed_and_free_again() {
    let text = rows_of_three();
    insta::assert_snapshot!(changed(SAMPLE, &pressings(Some(Scalar::Number(3.0)))), @"+ pressings = 3");
    insta::assert_snapshot!(changed(&text, &pressings(Some(Scalar::Text("own".to_owned())))), @r#"
    - pressings = 2   # or own?
    + pressings = "own"   # or own?
    "#);
    insta::assert_snapshot!(changed(&text, &pressings(None)), @"- pressings = 2   # or own?");
    assert_eq!(changed(SAMPLE, &pressings(None)), "");
}

#[test]
fn a_smaller_setting_forgets_the_falls_of_the_places_it_lost() {
    insta::assert_snapshot!(changed(&rows_of_three(), &Edit::Resize { rows: 2, columns: 3 }), @r#"
    - rows = 3
    + rows = 2
    - [[fall]]
    - between = ["C2", "B2"]
    - to = "open"
    -
    "#);
    let falls =
        read(&apply(&rows_of_three(), &Edit::Resize { rows: 1, columns: 1 }).expect("it can be")).expect("it reads").falls;
    assert_eq!(falls.len(), 1);
    assert_eq!(falls[0].between, ["lantern.p2", "lantern.p1"]);
}

#[test]
fn falls_in_one_line_are_understood() {
    let inline = SAMPLE.replace(
        "[cloth.night]",
        "fall = [{ between = [\"A1\", \"A2\"], to = \"A1\" }]\nway = [{ of = \"plain.p1\", use = \"two\" }]\n[cloth.night]",
    );
    let after = apply(&inline, &fall(["A2", "A1"], Some("A2"))).expect("it is there");
    let after = apply(&after, &way("plain.p1", Some("four"))).expect("it is there");
    let quilt = read(&after).expect("it reads");
    assert_eq!((quilt.falls.len(), quilt.falls[0].to), (1, FallTo::Second));
    assert_eq!((quilt.ways.len(), quilt.ways[0].way), (1, MakingWay::FourAtATime));
}

#[test]
fn falls_and_ways_are_set_by_their_path() {
    insta::assert_snapshot!(changed(&rows_of_three(), &set(&["fall", "1", "to"], "C2")), @r#"
    - to = "open"
    + to = "C2"
    "#);
    insta::assert_snapshot!(changed(&rows_of_three(), &remove(&["way", "0"])), @r#"
    -
    - [[way]]
    - of = "lantern.p1"   # the corners
    - use = "two"   # or eight?
    "#);
}

#[test]
fn sewing_that_cannot_be_says_why() {
    let error = |edit: Edit| apply(&rows_of_three(), &edit).expect_err("it cannot be made").to_string();
    insta::assert_snapshot!(error(fall(["lantern.p1", "lantern.p2"], Some("A1"))), @"`A1` is neither of the two pieces");
    insta::assert_snapshot!(error(fall(["A1", "A1"], Some("A1"))), @"a seam lies between two pieces, and `A1` is named twice");
    insta::assert_snapshot!(error(fall(["lantrn.p1", "A1"], Some("open"))), @"there is no block `lantrn`");
    insta::assert_snapshot!(error(way("lantern.p1", Some("three"))), @"`use` cannot be `three`");
    insta::assert_snapshot!(error(way("lantern", Some("two"))), @"`lantern` is no patch of a block");
    insta::assert_snapshot!(error(pressings(Some(Scalar::Number(5.0)))), @"`pressings` cannot be `5`");
    insta::assert_snapshot!(error(pressings(Some(Scalar::Number(f64::NAN)))), @r#"`pressings` cannot be read: it is a whole number from 1 to 4, or "own""#);
    insta::assert_snapshot!(error(pressings(Some(Scalar::Bool(true)))), @r#"`pressings` cannot be read: it is a whole number from 1 to 4, or "own""#);
}

#[test]
fn sewing_travels_as_json() {
    let edit = |json: &str| serde_json::from_str::<Edit>(json).expect("it is an edit");
    assert_eq!(edit(r#"{"do":"fall","between":["A1","A2"],"to":"open"}"#), fall(["A1", "A2"], Some("open")));
    assert_eq!(edit(r#"{"do":"fall","between":["A1","A2"]}"#), fall(["A1", "A2"], None));
    assert_eq!(edit(r#"{"do":"way","of":"star.p1","way":null}"#), way("star.p1", None));
    assert_eq!(edit(r#"{"do":"pressings","pressings":2}"#), pressings(Some(Scalar::Number(2.0))));
    assert_eq!(edit(r#"{"do":"pressings","pressings":"own"}"#), pressings(Some(Scalar::Text("own".to_owned()))));
    assert!(serde_json::from_str::<Edit>(r#"{"do":"fall","between":["A1"],"to":"open"}"#).is_err());
}
