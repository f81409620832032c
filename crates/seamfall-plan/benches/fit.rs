//! How long the search for settings takes: over more than a million, of a quilt with two bands, its blocks straight and on point.

use divan::Bencher;
use seamfall_geom::Vec2;
use seamfall_model::Measure;
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::{Base, Parity, Standing, Steps, Wishes, search};

fn main() {
    divan::main();
}

/// Half inches throughout: blocks of 4 to 20 in, frames and sashing up to 3 in, two bands up to 8 in.
fn wishes() -> Wishes {
    let steps = |from: f64, to: f64| Steps { from, to, step: 0.5 };
    Wishes {
        size: Vec2::new(92.5, 108.25),
        tolerance: 1.0,
        standings: vec![Standing::Straight, Standing::OnPoint],
        blocks: steps(4.0, 20.0),
        height_step: 0.125,
        columns: (1, 30),
        rows: (1, 30),
        parity: Parity::Any,
        frame: steps(0.0, 3.0),
        sashing: steps(0.0, 3.0),
        bands: vec![steps(1.0, 8.0); 2],
        own_block: Some(12.0),
    }
}

#[divan::bench]
fn settings_by_the_million(bencher: Bencher) {
    let (wishes, base, ruler) = (wishes(), Base::usual(Measure::Inch), Ruler::usual(Measure::Inch));
    let found = search(&wishes, &base, ruler).expect("it can be searched");
    assert!(found.settings > 1_000_000 && found.best.len() == 12);
    bencher.bench(|| search(divan::black_box(&wishes), &base, ruler));
}
