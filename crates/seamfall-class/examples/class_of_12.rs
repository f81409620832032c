//! How long a class of twelve takes to plan: all of one size, and twelve sizes with cloths of their own. Prints milliseconds.
//!
//! In: nothing. Out: one line a class. Run it in release: `cargo run --release -p seamfall-class --example class_of_12`.

use seamfall_cutting::Budget;
use seamfall_model::class::Day;
use seamfall_model::{Quilt, new_class, read_class};
use std::time::Instant;

fn main() {
    let (lamplight, king) = (seamfall_testkit::lamplight(), seamfall_testkit::king_200());
    for (name, quilt) in [("queen", &lamplight), ("king of 200 places", &king)] {
        for (what, own) in [("one size", false), ("twelve sizes", true)] {
            let text = class(quilt, own);
            let class = read_class(&text, quilt).expect("it reads");
            let start = Instant::now();
            let plan = seamfall_class::class(quilt, &class, Budget::QUICK);
            println!("{name}, {what}: {} ms, {} looks", start.elapsed().as_millis(), plan.looks.len());
        }
    }
}

fn class(quilt: &Quilt, own: bool) -> String {
    let text = new_class(quilt, "Evenings", Day { year: 2030, month: 5, day: 30 }, 12);
    let (first, last) = (&quilt.cloths[0].key, &quilt.cloths[quilt.cloths.len() - 1].key);
    let size = |number: usize| {
        format!(
            "name = \"Student {number}\"\nrows = {}\ncolumns = {}\nswap = {{ {first} = \"{last}\" }}\n",
            2 + number / 3,
            3 + number % 3
        )
    };
    (1..=12).filter(|_| own).fold(text, |text, number| text.replace(&format!("name = \"Student {number}\"\n"), &size(number)))
}
