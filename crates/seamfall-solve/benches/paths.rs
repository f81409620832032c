//! How long it takes to find the fewest paths along the lines of a crowded section.
//!
//! `scattered`: lines that touch nothing, in a section of 24 in, every pair of ends within an inch a way: as hard as pairing gets.
//! `crossed`: a grid of crossed lines cut where they cross, as parallel lines both ways are. Answers are checked once outside the clock.

use divan::Bencher;
use seamfall_solve::Budget;
use seamfall_solve::paths::{Lines, Link, check, fewest};

fn main() {
    divan::main();
}

/// Chance that is the same every time (xorshift: G. Marsaglia, 2003).
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 33) % limit as u64) as i64
    }
}

const INCH: i64 = 1000;

fn bench(bencher: Bencher, points: &[(i64, i64)], lines: Vec<Link>, reach: i64) {
    let far = |a: usize, b: usize| {
        let (x, y) = (points[a].0 - points[b].0, points[a].1 - points[b].1);
        ((x * x + y * y) as f64).sqrt() as u32
    };
    let lines = lines.into_iter().map(|Link { ends: [a, b], .. }| Link::new(a, b, far(a, b).max(1))).collect();
    let pairs = (0..points.len()).flat_map(|a| (0..a).map(move |b| (a, b)));
    let ways = pairs.filter(|&(a, b)| i64::from(far(a, b)) <= reach).map(|(a, b)| Link::new(a, b, far(a, b))).collect();
    let problem = Lines::new(points.len(), lines, ways).expect("well formed");
    let proven = fewest(&problem, &mut Budget::default());
    check(&problem, &proven).expect("the answer is what it says");
    assert!(proven.is_best() && proven.answer.travelled == proven.answer.travel_bound);
    bencher.bench_local(|| fewest(divan::black_box(&problem), &mut Budget::default()));
}

#[divan::bench(args = [60, 500, 2_000])]
fn scattered(bencher: Bencher, lines: usize) {
    let mut chance = Chance(7);
    let mut points = Vec::new();
    for _ in 0..lines {
        let (x, y) = (chance.below(24 * INCH), chance.below(24 * INCH));
        points.extend([(x, y), (x + chance.below(2 * INCH) - INCH, y + chance.below(2 * INCH) - INCH)]);
    }
    bench(bencher, &points, (0..lines).map(|line| Link::new(2 * line, 2 * line + 1, 0)).collect(), INCH);
}

#[divan::bench(args = [32])]
fn crossed(bencher: Bencher, n: usize) {
    let step = 24 * INCH / n as i64;
    let at = |i: usize, j: usize| i * (n + 1) + j;
    let points: Vec<_> = (0..=n).flat_map(|i| (0..=n).map(move |j| (i as i64 * step, j as i64 * step))).collect();
    let level = (0..n).flat_map(|i| (1..n).map(move |j| Link::new(at(i, j), at(i + 1, j), 0)));
    let upright = (0..n).flat_map(|j| (1..n).map(move |i| Link::new(at(i, j), at(i, j + 1), 0)));
    bench(bencher, &points, level.chain(upright).collect(), INCH);
}
