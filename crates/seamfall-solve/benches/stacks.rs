//! How long it takes to find the fewest unmet edges.
//!
//! `chain`: one long chain. `rings`: rings of 4 nodes side by side, and one long ring. `ladder`: two chains with rungs, signs by
//! chance, all of it taken away by reductions. `grid`: nodes on a square grid, signs by chance, eliminated over tables. `cubic`:
//! three edges at every node by chance, weight 1, signs by chance. Costs are checked once outside the clock, where theory gives
//! them, and that they are proven.

use divan::Bencher;
use seamfall_solve::Budget;
use seamfall_solve::stacks::{Signed, SignedEdge, check, fewest};

fn main() {
    divan::main();
}

/// Chance that is the same every time (xorshift: G. Marsaglia, 2003).
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 33) as usize) % limit
    }

    fn edge(&mut self, a: usize, b: usize) -> SignedEdge {
        SignedEdge { a, b, same: self.below(2) == 0, weight: 1 }
    }
}

fn bench(bencher: Bencher, nodes: usize, edges: Vec<SignedEdge>, cost: Option<u64>) {
    let problem = Signed::new(nodes, edges, &[]).expect("well formed");
    let proven = fewest(&problem, &mut Budget::default());
    check(&problem, &proven).expect("the answer is what it says");
    assert!(proven.is_best(), "{} to {}", proven.bound, proven.cost);
    assert_eq!(proven.cost, cost.unwrap_or(proven.cost));
    bencher.bench_local(|| fewest(divan::black_box(&problem), &mut Budget::default()));
}

#[divan::bench(args = [50_000])]
fn chain(bencher: Bencher, nodes: usize) {
    let mut chance = Chance(1);
    bench(bencher, nodes, (1..nodes).map(|node| chance.edge(node - 1, node)).collect(), Some(0));
}

/// Odd rings of four nodes each: one edge unmet a ring.
#[divan::bench(args = [12_500])]
fn rings(bencher: Bencher, rings: usize) {
    let edge = |node: usize| SignedEdge { a: node, b: node / 4 * 4 + (node + 1) % 4, same: !node.is_multiple_of(4), weight: 1 };
    bench(bencher, 4 * rings, (0..4 * rings).map(edge).collect(), Some(rings as u64));
}

#[divan::bench(args = [25_000])]
fn ring(bencher: Bencher, nodes: usize) {
    let edge = |node: usize| SignedEdge { a: node, b: (node + 1) % nodes, same: node > 0, weight: 1 };
    bench(bencher, nodes, (0..nodes).map(edge).collect(), Some(1));
}

#[divan::bench(args = [10_000])]
fn ladder(bencher: Bencher, rungs: usize) {
    let mut chance = Chance(2);
    let sides = (0..2 * rungs - 2).map(|node| (node, node + 2));
    let edges = sides.chain((0..rungs).map(|rung| (2 * rung, 2 * rung + 1)));
    bench(bencher, 2 * rungs, edges.map(|(a, b)| chance.edge(a, b)).collect(), None);
}

#[divan::bench(args = [8, 12, 15])]
fn grid(bencher: Bencher, side: usize) {
    let mut chance = Chance(3);
    let across = (0..side * side).filter(|node| node % side > 0).map(|node| (node - 1, node));
    let edges = across.chain((side..side * side).map(|node| (node - side, node)));
    bench(bencher, side * side, edges.map(|(a, b)| chance.edge(a, b)).collect(), None);
}

#[divan::bench(args = [100, 150, 200])]
fn cubic(bencher: Bencher, nodes: usize) {
    let mut chance = Chance(4);
    let mut ends: Vec<usize> = (0..3 * nodes).map(|end| end / 3).collect();
    for i in (1..ends.len()).rev() {
        ends.swap(i, chance.below(i + 1));
    }
    bench(bencher, nodes, ends.chunks_exact(2).map(|pair| chance.edge(pair[0], pair[1])).collect(), None);
}
