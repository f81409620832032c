//! How long a book takes, from a plan that is there to the bytes of its PDF.

use seamfall_book::{BookOptions, Paper, book};

fn main() {
    divan::main();
}

#[divan::bench(args = ["cot", "queen", "king"])]
fn letter(bencher: divan::Bencher, size: &str) {
    let quilt = match size {
        "cot" => seamfall_testkit::tide_pool(),
        "queen" => seamfall_testkit::lamplight(),
        _ => seamfall_testkit::hill_farm(),
    };
    let plan = seamfall_plan::plan(&quilt);
    let options = BookOptions::on(Paper::Letter);
    bencher.bench(|| book(&quilt, &plan, &options).expect("samples make a book"));
}
