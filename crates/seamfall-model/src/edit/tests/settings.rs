//! Tests of settings taken at once, and of corners.

use super::*;

fn new() -> NewSettings {
    NewSettings {
        on_point: None,
        rows: 5,
        columns: 4,
        blocks: vec![("lantern".to_owned(), "10 1/2".to_owned()), ("plain".to_owned(), "10 1/2".to_owned())],
        frames: vec![("narrow".to_owned(), "1 1/2".to_owned())],
        sashing: None,
        bands: vec!["4".to_owned(), "2".to_owned()],
        band_cloth: "linen".to_owned(),
    }
}

/// Lines that are in one text and not in the other.
fn changed(before: &str, after: &str) -> String {
    let lines = |text: &str, other: &str, sign: &str| -> String {
        let gone = text.lines().filter(|line| !line.is_empty() && !other.lines().any(|other| other == *line));
        gone.map(|line| format!("{sign} {line}\n")).collect()
    };
    lines(before, after, "-") + &lines(after, before, "+")
}

#[test]
fn settings_change_sizes_and_keep_the_comments() {
    let after = apply(SAMPLE, &new().into()).expect("these settings can be taken");
    insta::assert_snapshot!(changed(SAMPLE, &after), @r##"
    - size = "12"   # as the old one
    - size = "12"
    - strips = [{ width = "1", cloth = "rust" }]
    - columns = 3
    - rows = 2   # or three?
    - width = "3"
    + size = "10 1/2"   # as the old one
    + size = "10 1/2"
    + strips = [{ width = "1 1/2", cloth = "rust" }]
    + columns = 4
    + rows = 5   # or three?
    + width = "4"
    + [[band]]
    + width = "2"
    + cloth = "linen"
    "##);
}

#[test]
fn a_layout_gives_way_to_the_other_and_back() {
    let on_point = NewSettings { on_point: Some("rust".to_owned()), columns: 2, rows: 2, ..new() };
    let turned = apply(SAMPLE, &on_point.into()).expect("it can be set on point");
    let quilt = read(&turned).expect("it was read before");
    assert_eq!(quilt.setting.places.iter().map(Vec::len).collect::<Vec<_>>(), [2, 1, 2]);
    assert!(!turned.contains("B2"), "the second place of the second row is gone");
    let back = apply(&turned, &NewSettings { bands: vec!["3".to_owned()], ..new() }.into()).expect("it can be set straight");
    assert!(!back.contains("triangles"));
}

#[test]
fn corners_are_set_by_their_path() {
    let shape =
        |word: &str| Edit::Set { path: ["corners", "shape"].map(str::to_owned).into(), value: Scalar::Text(word.to_owned()) };
    let after = apply(SAMPLE, &shape("set-back")).expect("corners can be set back");
    assert!(after.contains("[corners]\nshape = \"set-back\""), "{after}");
    assert!(matches!(apply(&after, &shape("notch")), Err(EditError::WouldBreak(_))), "a notch needs a bed");
}
