//! How long a book takes, from a plan that is there to the bytes of its PDF.

use seamfall_book::{BookOptions, Paper, book};

fn main() {
    divan::main();
}

#[divan::bench]
fn queen(bencher: divan::Bencher) {
    let text = include_str!("../tests/quilts/harbour.quilt.toml");
    let quilt = seamfall_model::read(text).expect("the sample reads");
    let plan = seamfall_plan::plan(&quilt);
    let options = BookOptions { paper: Paper::Letter, date: None };
    bencher.bench(|| book(&quilt, &plan, &options).expect("samples make a book"));
}
