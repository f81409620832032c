//! `seamfall fit` as a maker asks it: in words, as JSON, and what cannot be had.

mod asked;

use asked::figure;
use serde_json::Value;
use std::process::Output;

fn fit(words: &[&str]) -> Output {
    asked::ask("fit", words)
}

fn json(words: &[&str]) -> Value {
    asked::json("fit", words)
}

/// Check value `beds.drop.worked`: 60 by 80 in with a drop of 12 in take 84 by 92 in.
#[test]
fn the_size_of_a_quilt_is_told_for_a_bed_by_its_name_or_as_measured() {
    for bed in [["--bed", "us queen"], ["--mattress", "60 x 80"]] {
        let answers = json(&[&["size"], &bed[..], &["--sides", "12", "--foot", "12"]].concat());
        let answer = &answers["answers"][0];
        assert_eq!((figure(answer, "width"), figure(answer, "length")), (84.0, 92.0));
        assert!(figure(answer, "pieced-width-least") > 84.0);
    }
    let crib = fit(&["size", "--bed", "us crib"]);
    assert!(String::from_utf8_lossy(&crib.stdout).contains("under twelve months"), "the caution is told");
}

#[test]
fn corners_are_told_beside_one_another() {
    let answers = json(&["corner", "--side", "14", "--height", "18", "--block", "12"]);
    let all = answers["answers"].as_array().expect("a list");
    assert_eq!(all.len(), 5);
    assert!((figure(&all[0], "hang") - 19.79899).abs() < 1e-5);
}

/// With a quilt its own blocks vary; without one square blocks do.
#[test]
fn settings_reach_a_size() {
    let found = json(&["settings", "--size", "90 x 108", "--from", "9", "--to", "12", "--whole"]);
    let best = &found["best"][0];
    assert_eq!(best["size"], serde_json::json!([90.0, 108.0]));
    let quilt = concat!(env!("CARGO_MANIFEST_DIR"), "/../../quilts/hill-farm.quilt.toml");
    let found = json(&["settings", quilt, "--size", "90 x 108"]);
    assert!(found["settings"].as_u64().expect("a number") > 1000 && !found["best"].as_array().expect("a list").is_empty());
}

#[test]
fn what_cannot_be_had_names_the_nearest() {
    for (words, nearest) in [
        (&["size", "--bed", "us queen", "--sides", "30"][..], "24 in"),
        (&["size", "--mattress", "3 cm x 200 cm"], "12 in"),
        (&["size", "--bed", "us quen"], "fit beds"),
        (&["settings", "--size", "90 x 108", "--from", "9", "--to", "8"], "9 in"),
        (&["corner", "--side", "14", "--block", "30"], "or less"),
    ] {
        let output = fit(words);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{words:?}: {said}");
        assert!(said.contains(nearest), "{words:?}: {said}");
    }
}
