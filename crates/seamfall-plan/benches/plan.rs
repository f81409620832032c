//! How long a whole plan takes, cold: from the quilt to everything that follows, on the quilts of the tests.

use divan::Bencher;
use seamfall_model::Quilt;
use seamfall_plan::plan;
use seamfall_testkit as quilts;

fn main() {
    divan::main();
}

fn bench(bencher: Bencher, quilt: &Quilt, patches: usize) {
    let planned = plan(quilt);
    let found: usize = planned.top.places.iter().map(|place| planned.drafts[place.block.0].patches.len()).sum();
    assert_eq!(found, patches, "the quilt is the one the figures speak of");
    bencher.bench(|| plan(divan::black_box(quilt)));
}

#[divan::bench]
fn queen_of_30_framed_blocks(bencher: Bencher) {
    bench(bencher, &quilts::lamplight(), 466);
}

#[divan::bench]
fn king_on_point(bencher: Bencher) {
    bench(bencher, &quilts::hill_farm(), 677);
}

#[divan::bench]
fn king_of_210_places(bencher: Bencher) {
    bench(bencher, &quilts::king_200(), 6396);
}
