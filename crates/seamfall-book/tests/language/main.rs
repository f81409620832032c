//! The book in a made-up language: what is read in it was said with `tr!` or by `say` in a template, or was written by the maker.
//!
//! The text is that of the tags of the PDF, in the order of reading, as poppler lists it; what stands in drawings is theirs to say. The
//! language holds for the whole process: this test is a program of its own.

use seamfall_book::{BookOptions, Paper, book};
use seamfall_testkit::made_up::{MadeUp, names, outside};
use std::process::Command;

/// What is the same in every language.
const SAME: [&str; 6] = [
    // Signs of units, as on the two test squares.
    "in", "cm", "yd", "sq", "min", "kg",
];

fn speak() {
    seamfall_model::speak(MadeUp);
    seamfall_plan::speak(MadeUp);
    seamfall_class::speak(MadeUp);
    seamfall_draw::speak(MadeUp);
    seamfall_book::speak(MadeUp);
}

/// The text of a PDF, in the order of reading.
fn read_aloud(pdf: &[u8]) -> String {
    let folder = tempfile::tempdir().expect("a folder for a book");
    let path = folder.path().join("book.pdf");
    std::fs::write(&path, pdf).expect("the folder can be written to");
    let output =
        Command::new("pdfinfo").arg("-struct-text").arg(&path).output().expect("poppler-utils is installed: see CONTRIBUTING.md");
    let tree = String::from_utf8_lossy(&output.stdout).into_owned();
    // Text stands in quotation marks, below the tag that it belongs to.
    let texts = tree.lines().filter_map(|line| line.trim().strip_prefix('"')?.strip_suffix('"'));
    texts.collect::<Vec<_>>().join(" ")
}

#[test]
fn the_book_is_in_the_language() {
    speak();
    for (name, text) in
        [("harbour", include_str!("../quilts/harbour.quilt.toml")), ("weir", include_str!("../quilts/weir.quilt.toml"))]
    {
        let quilt = seamfall_model::read(text).expect("the sample reads");
        let options = BookOptions { date: Some((2025, 3, 5)), ..BookOptions::on(Paper::A4) };
        let said = read_aloud(&book(&quilt, &seamfall_plan::plan(&quilt), &options).expect("samples make a book"));
        assert!(said.matches('⟦').count() > 100, "{name}: the language is spoken: {said}");
        let names = names(&quilt);
        let mut known: Vec<&str> = names.iter().map(String::as_str).collect();
        known.extend(SAME);
        // Where a drawing has a letter and a name in two lines, poppler runs them together; names are broken between lines.
        let mut said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for name in names.iter().filter(|name| name.starts_with(char::is_uppercase)) {
            said = said.replace(name, &format!(" {name} "));
        }
        let left = outside(&said, &known);
        assert!(left.is_empty(), "{name}: not in the language: {left:?}");
    }
}
