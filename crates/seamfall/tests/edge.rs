//! `seamfall edge` as a maker asks it: in words, as JSON, and what cannot be had.

mod asked;

use asked::figure;
use serde_json::Value;
use std::process::Output;

fn edge(words: &[&str]) -> Output {
    asked::ask("edge", words)
}

fn json(words: &[&str]) -> Value {
    asked::json("edge", words)
}

/// `edges.bias.tube_30_2_25` and `tube_36_2_5`.
#[test]
fn bias_from_a_square_is_told_with_its_working() {
    let answer = json(&["bias", "--square", "30", "--width", "2-1/4"]);
    assert_eq!((answer["format"].as_u64(), answer["measure"].as_str()), (Some(1), Some("inch")));
    assert!((figure(&answer, "length") - 369.10974).abs() < 1e-5 && figure(&answer, "strips") == 9.0);
    assert_eq!(figure(&answer, "by-area"), 400.0);
    let words = edge(&["bias", "--square", "36", "--width", "2 1/2 in"]);
    let text = String::from_utf8_lossy(&words.stdout).into_owned();
    assert!(text.contains("494.9747") && text.contains("points stand out by 1/2 in"), "{text}");
}

/// The same square in centimetres, with the same seam, gives the same length.
#[test]
fn centimetres_and_inches_agree() {
    let answer = json(&["bias", "--square", "30 in", "--width", "2.25 in", "--seam", "1/4 in", "--cm"]);
    assert!((figure(&answer, "length") / 2.54 - 369.10974).abs() < 1e-4);
}

/// A side of 84 in: squares of 4 in, 3 1/2 in wide at the seam, no farther apart than 2 in: up(80.5 / 2) + 1 = 42.
#[test]
fn prairie_points_for_a_side_are_whole() {
    let answer = json(&["points", "--side", "84", "--spacing", "2"]);
    assert_eq!((figure(&answer, "points"), figure(&answer, "base")), (42.0, 3.5));
    assert!((figure(&answer, "spacing") - 80.5 / 41.0).abs() < 1e-6);
}

/// Every question answers, in words and as JSON.
#[test]
fn every_question_has_an_answer() {
    for words in [
        &["binding", "--quilt", "72 x 90", "--width", "2 1/4"][..],
        &["binding", "--round", "240", "--more", "18"],
        &["binding-width", "--finished", "1/4"],
        &["bias", "--length", "300", "--width", "2 1/4"],
        &["points", "--quilt", "60x80", "--height", "2", "--fold", "overlapping"],
        &["scallops", "--quilt", "72 x 90", "--band", "6"],
        &["waves", "--side", "31", "--width", "6"],
        &["ruffle", "--quilt", "60 x 80", "--cloth", "42"],
        &["piping", "--cord", "6 mm", "--cm"],
        &["sleeve", "--side", "60"],
        &["facing", "--quilt", "60 x 80"],
        &["enlarge", "--quilt", "50 x 66", "--to", "60 x 76", "--piece", "4"],
        &["cover", "--quilt", "72 x 90", "--channel", "4", "--grams", "160", "--ties", "20"],
    ] {
        let answer = json(words);
        assert_eq!(answer["question"], words[0], "{words:?}");
        assert!(!answer["figures"].as_array().expect("a list").is_empty());
        let told = edge(words);
        assert!(told.status.success() && String::from_utf8_lossy(&told.stdout).starts_with(words[0]), "{words:?}");
    }
}

/// Bias, points and scallops are drawn; a sleeve is not, and nothing is written.
#[test]
fn what_has_a_drawing_is_drawn() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("edge.svg");
    let path = file.display().to_string();
    for words in [
        &["bias", "--square", "36", "--width", "2 1/2"][..],
        &["points", "--side", "84"],
        &["scallops", "--quilt", "60 x 76", "--depth", "2"],
    ] {
        assert_eq!(edge(&[words, &["--draw", &path]].concat()).status.code(), Some(0), "{words:?}");
        assert!(std::fs::read_to_string(&file).expect("it is written").starts_with("<svg"), "{words:?}");
        std::fs::remove_file(&file).expect("it can be taken away");
    }
    assert_eq!(edge(&["sleeve", "--side", "60", "--draw", &path]).status.code(), Some(2));
    assert!(!file.exists());
}

/// What cannot be had ends with 1 and names the nearest that can; what is no length ends with 2.
#[test]
fn what_cannot_be_had_is_told_the_nearest() {
    for (words, code, nearest) in [
        (&["bias", "--square", "2", "--width", "2 1/4"][..], 1, "take a square of 3 1/4 in or more"),
        (&["scallops", "--side", "68", "--depth", "3", "--band", "3"], 1, "make them 2 1/2 in deep or less"),
        (&["points", "--side", "2"], 1, "fold it from a square of 2 1/2 in or less"),
        (&["ruffle", "--round", "100", "--fullness", "0.5"], 1, "take a fullness of 1.25"),
        (&["bias", "--square", "6,5", "--width", "2"], 2, "can be read in two ways"),
        (&["binding", "--quilt", "60"], 2, "write it like \"60 x 80\""),
    ] {
        let output = edge(words);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(code), "{words:?}: {said}");
        assert!(said.contains(nearest), "{words:?}: {said}");
        assert!(output.stdout.is_empty(), "results alone go to standard output");
    }
}
