//! Measures nesting on lists of templates.
//!
//! `cargo run --release -p seamfall-cutting --example nesting FILE...` prints a line for each list, ready for `docs/nesting-results.md`:
//! the area bound, the length after few steps and after all, the density, and the times on the processor.

use std::fs;
use std::time::Instant;

use seamfall_cutting::file::{Task, read};
use seamfall_cutting::nest::{Budget, cut};

/// Time on the processor so far in milliseconds; of the clock where that cannot be had.
fn spent(start: Instant) -> f64 {
    let spent = fs::read_to_string("/proc/self/schedstat").ok();
    let spent = spent.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    spent.map_or_else(|| start.elapsed().as_secs_f64() * 1e3, |nanoseconds| nanoseconds / 1e6)
}

fn main() {
    let start = Instant::now();
    println!("| list | templates | pieces | area bound | quick | length | density % | strips | quick ms | final ms |");
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for path in std::env::args().skip(1) {
        let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let order = read(&text, None).unwrap_or_else(|error| panic!("{path}: {error}"));
        let Task::Templates(list) = order.task else { panic!("{path} is no list of templates") };
        let run = |budget: Budget| {
            let before = spent(start);
            let nesting = cut(&list.templates, list.cloth, budget).unwrap_or_else(|error| panic!("{path}: {error}"));
            (nesting, spent(start) - before)
        };
        let ((quick, quick_ms), (full, full_ms)) = (run(Budget::QUICK), run(Budget::FULL));
        let pieces: u32 = list.templates.iter().map(|template| template.count).sum();
        println!(
            "| `{}` | {} | {pieces} | {:.3} | {:.3} | {:.3} | {:.1} | {} | {quick_ms:.0} | {full_ms:.0} |",
            order.name,
            list.templates.len(),
            full.area_bound,
            quick.length,
            full.length,
            full.density() * 100.0,
            full.strips.iter().map(|strip| strip.times).sum::<u32>(),
        );
    }
}
