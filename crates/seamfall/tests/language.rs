//! The command line in a made-up language: a catalogue in which every message stands between ⟦ and ⟧, read by `--words` as any other.
//!
//! What a person reads of a report, a finding or an error outside of them was not said with `tr!`, unless the maker of the quilt wrote
//! it, or it is a number, a length, or one of the words listed here, each with its reason.

use seamfall_testkit::made_up::{names, outside};
use std::path::{Path, PathBuf};
use std::process::Command;

/// What is the same in every language.
const SAME: [&str; 17] = [
    // Signs of units.
    "in", "cm", "yd", "sq", "min", // What a question is called at the command line: `seamfall edge bias`.
    "binding", "bias", "points", "scallops", "waves", "ruffle", "piping", "facing", "sleeve", "cover", "drops", "size",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The catalogue, every message translated by itself between brackets.
fn catalogue() -> String {
    let template = std::fs::read_to_string(root().join("words/seamfall.pot")).expect("the catalogue is there");
    let (mut made, mut one, mut many) = (String::new(), String::new(), String::new());
    let (header, entries) = template.split_once("\n\n").expect("a header and entries");
    made.push_str(&header.replace("Language: ", "Language: zx"));
    made.push_str("\n\n");
    let bracketed = |quoted: &str| format!("\"⟦{}⟧\"", &quoted[1..quoted.len() - 1]);
    for line in entries.lines() {
        if let Some(message) = line.strip_prefix("msgid ") {
            message.clone_into(&mut one);
        } else if let Some(message) = line.strip_prefix("msgid_plural ") {
            message.clone_into(&mut many);
        }
        let translated = match line {
            "msgstr \"\"" => format!("msgstr {}", bracketed(&one)),
            "msgstr[0] \"\"" => format!("msgstr[0] {}", bracketed(&one)),
            "msgstr[1] \"\"" => format!("msgstr[1] {}", bracketed(&many)),
            other => other.to_owned(),
        };
        made.push_str(&translated);
        made.push('\n');
    }
    made
}

struct Terminal {
    folder: tempfile::TempDir,
}

impl Terminal {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("made-up.po"), catalogue()).expect("it can be written");
        Self { folder }
    }

    /// What is printed and what is complained about.
    fn said(&self, arguments: &[&str]) -> (String, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_seamfall"))
            .arg("--words")
            .arg(self.folder.path().join("made-up.po"))
            .args(arguments)
            .output()
            .expect("the program starts");
        let text = |bytes| String::from_utf8(bytes).expect("text");
        (text(output.stdout), text(output.stderr))
    }
}

/// The demo quilts and their files.
fn quilts() -> Vec<(String, Vec<String>)> {
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(root().join("quilts")).expect("there are quilts").map(|entry| entry.expect("one").path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "toml"));
    files.sort();
    assert!(!files.is_empty());
    let named = |file: &PathBuf| {
        let text = std::fs::read_to_string(file).expect("it can be read");
        (file.display().to_string(), names(&seamfall_model::read(&text).expect("it is a quilt")))
    };
    files.iter().map(named).collect()
}

#[track_caller]
fn nothing_outside(text: &str, known: &[String]) {
    let mut known: Vec<&str> = known.iter().map(String::as_str).collect();
    known.extend(SAME);
    let left: Vec<String> = text.lines().flat_map(|line| outside(line, &known)).collect();
    assert!(text.contains('⟦'), "the language is spoken: {text}");
    assert!(left.is_empty(), "{} lines are not in the language:\n{}", left.len(), left.join("\n"));
}

#[test]
fn reports_are_in_the_language() {
    let terminal = Terminal::new();
    for (file, known) in quilts() {
        for command in ["plan", "check", "cut"] {
            nothing_outside(&terminal.said(&[command, &file]).0, &known);
        }
    }
}

#[test]
fn findings_as_data_are_in_the_language() {
    let terminal = Terminal::new();
    for (file, known) in quilts() {
        let said = terminal.said(&["check", &file, "--json"]).0;
        let data: serde_json::Value = serde_json::from_str(&said).expect("it is JSON");
        let findings = data["findings"].as_array().expect("findings");
        let texts = findings.iter().flat_map(|finding| [&finding["reason"], &finding["help"]]);
        let text: Vec<&str> = texts.filter_map(serde_json::Value::as_str).collect();
        if !text.is_empty() {
            nothing_outside(&text.join("\n"), &known);
        }
    }
}

#[test]
fn errors_are_in_the_language() {
    let terminal = Terminal::new();
    let broken = terminal.folder.path().join("broken.quilt.toml");
    std::fs::write(&broken, "format = 1\nname = \"x\"\nmeasure = \"inch\"\ncolour = 3\n").expect("it can be written");
    let said = terminal.said(&["plan", &broken.display().to_string()]).1;
    assert!(said.contains('⟦') && said.contains("⟦`colour` is not a key of ⟦the quilt file⟧⟧"), "{said}");
    let said = terminal.said(&["plan", "there-is-none.quilt.toml"]).1;
    assert!(said.contains("⟦there-is-none.quilt.toml cannot be read"), "{said}");
    let said = terminal.said(&["edge", "bias", "--length", "as long as the sea", "--width", "2"]).1;
    assert!(said.contains("⟦`as long as the sea` is not a length"), "{said}");
}
