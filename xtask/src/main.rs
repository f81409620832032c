//! What must hold about the house itself, as tests (`cargo test -p xtask`): the page that describes it, who uses whom, headers, words.
//! And the words themselves, gathered: `cargo run -p xtask -- words`; and the limits: `cargo run -p xtask -- limits`.

mod limits;
mod words;

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("words") => words::write(),
        Some("limits") => limits::write(),
        _ => println!(
            "`words` gathers the words for translators, `limits` writes the page of limits. The checks of the house are tests: run `cargo test -p xtask`. \
             Scripts: check.sh, measure.sh, install-test-tools.sh."
        ),
    }
}

#[cfg(test)]
mod house;
