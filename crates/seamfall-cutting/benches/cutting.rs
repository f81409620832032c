//! How long the bounds and the layouts of quilt-like lists take.

use std::fs;

use divan::Bencher;
use seamfall_cutting::bound::{any_layout, two_stage};
use seamfall_cutting::check::check;
use seamfall_cutting::file::{self, Task};
use seamfall_cutting::handbook::handbook;
use seamfall_cutting::job::{Job, Stages};
use seamfall_cutting::{Budget, cut};

/// A list of few kinds, of many, of long bands, and the widest cloth.
const LISTS: [&str; 5] = ["q-baby-54-04", "q-king-40-17", "q-scrappy-54-14", "q-borders-42-26", "q-king-108-20"];

fn main() {
    divan::main();
}

fn job(name: &str) -> Job {
    let path = format!("{}/tests/instances/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(path).expect("an instance can be read");
    match file::read(&text, Some(Stages::FIVE)).expect("a good list").task {
        Task::Length(job) => job,
        Task::Sheets(_) | Task::Templates(_) => panic!("{name} has no sheets"),
    }
}

#[divan::bench(args = LISTS)]
fn first_answer(bencher: Bencher, name: &str) {
    let job = job(name);
    bencher.bench(|| handbook(divan::black_box(&job)));
}

#[divan::bench(args = LISTS)]
fn bound_for_any_layout(bencher: Bencher, name: &str) {
    let job = job(name);
    assert!(any_layout(&job).adds_up(&job));
    bencher.bench(|| any_layout(divan::black_box(&job)));
}

#[divan::bench(args = LISTS)]
fn bound_for_two_stages(bencher: Bencher, name: &str) {
    let job = job(name);
    assert!(two_stage(&job).adds_up(&job));
    bencher.bench(|| two_stage(divan::black_box(&job)));
}

#[divan::bench(args = LISTS, sample_count = 10)]
fn final_layout(bencher: Bencher, name: &str) {
    let job = job(name);
    let layout = cut(&job, Budget::FULL).layout;
    assert!(check(&job, &layout.placements(&job), layout.length).is_ok());
    bencher.bench(|| cut(divan::black_box(&job), Budget::FULL));
}
