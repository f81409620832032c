//! A class on the command line: begun, planned, as JSON and on paper, and refused with its place.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn seamfall(folder: &Path, words: &[&str]) -> Output {
    let mut asked = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    asked.args(words).current_dir(folder).env("NO_COLOR", "1").output().expect("the command was built with this test")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A folder with a quilt and a class of it.
fn begun() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let quilt: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../quilts/tide-pool.quilt.toml"].iter().collect();
    fs::copy(quilt, folder.path().join("tide-pool.quilt.toml")).expect("the sample is there");
    let words = ["new", "tide-pool.class.toml", "--class", "--students", "3", "--last-day", "2027-05-27", "--name", "Evenings"];
    assert_eq!(seamfall(folder.path(), &words).status.code(), Some(0));
    folder
}

#[test]
fn a_class_is_begun_planned_and_printed() {
    let folder = begun();
    let planned = seamfall(folder.path(), &["class", "tide-pool.class.toml", "--handouts", "class.pdf"]);
    assert_eq!(planned.status.code(), Some(0), "{}", String::from_utf8_lossy(&planned.stderr));
    for part in [
        "Evenings: 3 students make Tide pool",
        "Thursday, 27 May 2027",
        "Kits",
        "Student 3",
        "Who brings what",
        "Lesson 6: The edge",
    ] {
        assert!(out(&planned).contains(part), "{part}");
    }
    assert!(fs::read(folder.path().join("class.pdf")).expect("it is written").starts_with(b"%PDF-"));
    let json: serde_json::Value =
        serde_json::from_slice(&seamfall(folder.path(), &["class", "tide-pool.class.toml", "--json"]).stdout)
            .expect("it is JSON");
    assert_eq!(json["students"].as_array().map(Vec::len), Some(3));
    assert_eq!(json["lessons"][5]["day"], "2027-05-27");
}

#[test]
fn what_is_wrong_is_told_and_ends_with_its_code() {
    let folder = begun();
    let file = folder.path().join("tide-pool.class.toml");
    let text = fs::read_to_string(&file).expect("it is there");
    fs::write(&file, text.replace("last-day", "begins = 2027-05-20\nlast-day")).expect("it can be written");
    let late = seamfall(folder.path(), &["class", "tide-pool.class.toml"]);
    assert_eq!(late.status.code(), Some(1));
    assert!(out(&late).contains("cannot be met") && out(&late).contains("days too late"), "{}", out(&late));
    fs::write(&file, text.replace("weekday", "weekdy")).expect("it can be written");
    let refused = seamfall(folder.path(), &["class", "tide-pool.class.toml"]);
    assert_eq!(refused.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("did you mean `weekday`?"));
    assert_eq!(
        seamfall(folder.path(), &["new", "other.class.toml", "--class"]).status.code(),
        Some(3),
        "there is no quilt beside it"
    );
    assert_eq!(seamfall(folder.path(), &["new", "a.class.toml", "--class", "--last-day", "soon"]).status.code(), Some(2));
}
