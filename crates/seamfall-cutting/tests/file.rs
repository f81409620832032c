//! Lists as text: what is read, and what is said when a list cannot be cut.

use seamfall_cutting::file::{Task, read, write};
use seamfall_cutting::{Budget, cut};

fn list(width: &str, pieces: &str) -> String {
    format!(r#"{{"strip_width": {width}, "pieces": [{pieces}]}}"#)
}

/// Each with the piece that the message must name and a word of the remedy.
#[test]
fn bad_input_is_told_with_the_piece_and_the_remedy() {
    let square = r#"{"id": "square", "w": 3, "h": 3, "count": 4}"#;
    let cases = [
        (list("0", square), "cloth", "usable width"),
        (list("-4", square), "strip_width", "length of 0 or more"),
        (list("\"NaN\"", square), "strip_width", "length of 0 or more"),
        (list("NaN", square), "JSON", "not NaN"),
        (list("1e400", square), "JSON", "number"),
        (list("1e300", square), "width", "coarser"),
        (list("40", ""), "no pieces", "add"),
        (list("40", r#"{"id": "band", "w": 41, "h": 4, "count": 1, "rotate": false}"#), "`band`", "allow the turn"),
        (list("40", r#"{"id": "back", "w": 41, "h": 60, "count": 1}"#), "`back`", "join"),
        (list("40", r#"{"id": "none", "w": 4, "h": 4, "count": 0}"#), "`none`", "leave it out"),
        (list("40", r#"{"id": "many", "w": 4, "h": 4, "count": 1000000}"#), "`many`", "divide"),
        (list("40", r#"{"id": "half", "w": 4, "h": 4, "count": 1.5}"#), "`half`", "whole number"),
        (list("40", r#"{"id": "flat", "w": 4, "h": 0, "count": 1}"#), "`flat`", "as cut"),
        (list("40", r#"{"id": "less", "w": 4, "h": -1, "count": 1}"#), "`less`", "0 or more"),
        (list("40", r#"{"id": "long", "w": 4, "h": 1e12, "count": 1}"#), "`long`", "unit"),
        (list("40", r#"{"id": "nan", "w": 4, "h": null, "count": 1}"#), "`nan`", "number"),
        (list("40", r#"{"id": "odd", "w": 3.14159, "h": 4, "count": 1}"#), "`odd`", "round it up"),
        (list("40", &format!("{square}, {square}")), "`square`", "twice"),
        ("[]".into(), "pieces", "list the pieces"),
        ("{".into(), "JSON", "line 1"),
    ];
    for (text, piece, remedy) in cases {
        let said = read(&text, None).expect_err(&text).to_string();
        assert!(said.contains(piece) && said.contains(remedy), "{text}: {said}");
    }
}

/// Turned by 5e119 degrees a template lies as by some angle below 360, and as by none that can be told.
#[test]
fn a_turn_is_one_that_a_hand_can_make() {
    let kite = |turn: &str| {
        format!(
            r#"{{"strip_width": 40, "items": [{{"id": "kite", "polygon": [[0, 0], [4, 1], [0, 2]], "count": 2, "turns": [0, {turn}]}}]}}"#
        )
    };
    assert!(read(&kite("-360"), None).is_ok());
    for turn in ["360.5", "5e119", "\"half\""] {
        let error = read(&kite(turn), None).expect_err(turn).to_string();
        assert!(error.contains("kite") && error.contains("from -360 to 360"), "{error}");
    }
}

/// Rows four thousand million widths apart lie where no number is fine enough for their edges.
#[test]
fn pieces_are_no_farther_apart_than_the_cloth_is_wide() {
    let list = |kerf: &str| {
        format!(
            r#"{{"strip_width": 10, "kerf": {kerf}, "items": [{{"id": "half", "polygon": [[0, 0], [3, 0], [0, 3]], "count": 5}}]}}"#
        )
    };
    assert!(read(&list("10"), None).is_ok());
    let error = read(&list("42949672950.25"), None).expect_err("too far").to_string();
    assert!(error.contains("kerf") && error.contains("no wider than the cloth"), "{error}");
}

#[test]
fn a_layout_is_written_in_the_unit_of_the_list() {
    let text = r#"{"strip_width": 40, "pieces": [{"id": "bar", "w": 2.5, "h": 40.125, "count": 2, "rotate": false}]}"#;
    let order = read(text, None).expect("a good list");
    assert_eq!(order.ticks_per_unit, 8);
    let Task::Length(job) = &order.task else { panic!("it has a width") };
    let written: serde_json::Value =
        serde_json::from_str(&write(job, &cut(job, Budget::QUICK), order.ticks_per_unit)).expect("JSON");
    assert_eq!((&written["length"], &written["bound"]), (&serde_json::json!(40.125), &serde_json::json!(40.125)));
    assert_eq!(
        written["placements"][1],
        serde_json::json!({"id": "bar", "x": 2.5, "y": 0.0, "w": 2.5, "h": 40.125, "rotated": false})
    );
}
