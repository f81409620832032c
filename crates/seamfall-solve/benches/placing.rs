//! How long it takes to place measured items.
//!
//! `one_value`: one value an item, all different: the hardest of this sort; proven for 100 and 210, within 2 % for 400. `short`: one item of ten is short, by one
//! to four on each side, the sides of an item within one of each other, as trimmed blocks are. Answers are checked once outside the clock.

use divan::Bencher;
use seamfall_solve::Budget;
use seamfall_solve::placing::{Meeting, Placing, check, place};

fn main() {
    divan::main();
}

/// Chance that is the same every time (xorshift: G. Marsaglia, 2003).
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: u64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 33) % limit) as i64
    }
}

fn grid(columns: usize, rows: usize, sides: Vec<[i64; 4]>) -> Placing {
    let at = |x: usize, y: usize| y * columns + x;
    let level = (0..rows).flat_map(|y| (1..columns).map(move |x| [(at(x - 1, y), 1), (at(x, y), 3)]));
    let upright = (1..rows).flat_map(|y| (0..columns).map(move |x| [(at(x, y - 1), 2), (at(x, y), 0)]));
    let meetings = level.chain(upright).map(|ends| Meeting { ends }).collect();
    Placing::new(sides, vec![0; columns * rows], vec![false; columns * rows], meetings).expect("well formed")
}

/// Solves within `percent` of the bound.
fn bench(bencher: Bencher, problem: &Placing, percent: u64) {
    let budget = Budget::steps(300_000_000);
    let placed = place(problem, budget);
    check(problem, &placed).expect("the answer is what it says");
    assert!((placed.cost - placed.bound) * 100 <= placed.cost * percent, "{} of {}", placed.bound, placed.cost);
    bencher.bench_local(|| place(divan::black_box(problem), budget));
}

const SIZES: [(usize, usize); 3] = [(10, 10), (14, 15), (20, 20)];

#[divan::bench(args = SIZES)]
fn one_value(bencher: Bencher, (columns, rows): (usize, usize)) {
    let mut chance = Chance(7);
    let sides = (0..columns * rows).map(|_| [chance.below(100_000); 4]).collect();
    bench(bencher, &grid(columns, rows, sides), if columns == 20 { 2 } else { 0 });
}

#[divan::bench(args = SIZES)]
fn short_one_value(bencher: Bencher, (columns, rows): (usize, usize)) {
    let mut chance = Chance(7);
    let sides = (0..columns * rows).map(|_| if chance.below(10) == 0 { [-1 - chance.below(4); 4] } else { [0; 4] }).collect();
    bench(bencher, &grid(columns, rows, sides), 0);
}

/// Width and height apart, or all four sides: how far the bound is off is printed by `--nocapture`, not asserted.
#[divan::bench(args = [(2, 10, 10), (4, 10, 10), (2, 14, 15), (4, 14, 15)])]
fn short(bencher: Bencher, (ways, columns, rows): (usize, usize, usize)) {
    let mut chance = Chance(7);
    let mut sides = vec![[0; 4]; columns * rows];
    for item in &mut sides {
        if chance.below(10) == 0 {
            let whole = 1 + chance.below(4);
            let mut side = || (chance.below(2) - whole).min(0);
            *item = if ways == 2 {
                let (w, h) = (side(), side());
                [w, h, w, h]
            } else {
                [side(), side(), side(), side()]
            };
        }
    }
    let problem = grid(columns, rows, sides);
    let placed = place(&problem, Budget::steps(300_000_000));
    eprintln!("{ways} values, {columns} x {rows}: cost {}, bound {}", placed.cost, placed.bound);
    bench(bencher, &problem, 100);
}
