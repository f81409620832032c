//! How long it takes to drape a king until it has settled.
//!
//! `king`: a mattress of 76 by 80 in, 25 in high, under a cloth of 110 by 110 in whose upper edge is at the head: 17 in hang at the sides,
//! 30 at the foot, of which some lies on the floor. The answer is looked at once, outside the clock.

use divan::Bencher;
use seamfall_drape::{Bed, Drape, Hand, Scene};
use seamfall_geom::{Loop, Rect};

fn main() {
    divan::main();
}

fn king(points: usize) -> Scene {
    let bed = Bed { width: 76.0, length: 80.0, height: 25.0, edge: 1.0, posts: Vec::new() };
    Scene { bed, outline: Loop::rect(Rect::new(-55.0, -70.0, 55.0, 40.0)), hand: Hand::quilt(39.37), points }
}

fn settle(scene: Scene) -> Drape {
    let mut drape = Drape::new(scene).expect("a scene that can be");
    while !drape.advance().finished {}
    drape
}

#[divan::bench(args = [5_000, 20_000], sample_count = 5, sample_size = 1)]
fn settled(bencher: Bencher, points: usize) {
    let drape = settle(king(points));
    assert!(drape.stretch() < 0.015 && drape.settled() && drape.lowest() >= 0.0, "{} {}", drape.stretch(), drape.speed());
    bencher.with_inputs(|| king(points)).bench_local_values(settle);
}
