//! What must hold whatever is read.
//!
//! In: any bytes. Out: nothing, or a panic that says which law was broken. A trial is a plain function; a fuzzer guided by coverage calls it with what it
//! makes up (`fuzz/`), and a test on every check with all that was kept of that (`fuzz/corpus`): small inputs that reach much, and every input that broke a
//! law before it was mended. No trial asks only that nothing panics: each names what an answer must be.

mod asked;
mod cutting;
mod drawing;
mod kept;
mod maker;
mod member;
mod photo;
mod quilt;
mod sewn;

/// Takes any bytes and panics where a law does not hold.
pub type Trial = fn(&[u8]);

/// The trials by their names, which are those of the folders of their inputs.
pub const TRIALS: &[(&str, Trial)] = &[
    ("quilt", quilt::trial),
    ("ledger", sewn::ledger),
    ("class", sewn::class),
    ("drawing", drawing::trial),
    ("photo", photo::trial),
    ("cutting", cutting::trial),
    ("maker", maker::trial),
    ("member", member::trial),
];

/// A text and the edits below it, if any: an edit a line, below a line of three dashes.
fn parts(data: &[u8]) -> Option<(&str, &str)> {
    let text = std::str::from_utf8(data).ok()?;
    Some(text.split_once("\n---\n").unwrap_or((text, "")))
}

/// The edits that can be read: the first few, since every one reads the whole text again.
fn edits<T: serde::de::DeserializeOwned>(lines: &str) -> impl Iterator<Item = T> + '_ {
    lines.lines().filter_map(|line| serde_json::from_str(line).ok()).take(4)
}

/// Every problem says what is wrong and stands in the text, and the report with the lines of the file can be drawn.
fn problems_stand_in_the_text(text: &str, error: &seamfall_model::FileError) {
    assert!(!error.problems.is_empty(), "a file is refused without a reason");
    let lines = text.lines().count().max(1) + 1;
    for problem in &error.problems {
        assert!(!problem.reason.trim().is_empty(), "a problem without a reason");
        assert!((1..=lines).contains(&problem.line) && problem.column >= 1, "a problem beyond the text: {problem:?}");
    }
    let report = format!("{:?}", error.report("file", text));
    assert!(!report.is_empty(), "a report that says nothing");
}
