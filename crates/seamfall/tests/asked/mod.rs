//! A question put to `seamfall` as a maker puts it, and what its JSON answers.

use serde_json::Value;
use std::process::{Command, Output};

/// `seamfall COMMAND WORDS`, in black and white.
pub fn ask(command: &str, words: &[&str]) -> Output {
    let mut asked = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    asked.arg(command).args(words).env("NO_COLOR", "1").output().expect("the command was built with this test")
}

/// Its answer as JSON.
pub fn json(command: &str, words: &[&str]) -> Value {
    let output = ask(command, &[words, &["--json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("it is JSON")
}

/// A figure of an answer, by its name.
pub fn figure(answer: &Value, name: &str) -> f64 {
    let figures = answer["figures"].as_array().expect("a list");
    let figure = figures.iter().find(|figure| figure["name"] == name).unwrap_or_else(|| panic!("no {name} in {answer}"));
    figure["value"].as_f64().expect("a number")
}
