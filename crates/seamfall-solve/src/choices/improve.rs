//! Good labels, without proof.
//!
//! In: a part, and labels to begin with. Out: labels that changing no single node betters, and their cost. One node after the
//! other takes its cheapest label until none changes: from the labels given, and then several times from where labels drawn by
//! chance were taken for others, at first also for dearer ones, less and less so (simulated annealing: S. Kirkpatrick, C. Gelatt,
//! M. Vecchi, "Optimization by simulated annealing", 1983). The chance in it is seeded. The budget ends it anywhere.

use super::Part;
use crate::Budget;
use crate::chance::Chance;

/// How often it is begun anew. Found by trying, as is the next one.
const STARTS: usize = 6;

/// How often all nodes are gone round from each start.
const ROUNDS: u64 = 2000;

/// Labels found from `start`, and what they cost. Ends once that is not above `enough`.
pub(super) fn improve(part: &Part, start: Vec<usize>, enough: u64, budget: &mut Budget) -> (Vec<usize>, u64) {
    let near = Near::new(part);
    let mut chance = Chance::new(1983);
    let mut best = near.settled(start, budget);
    for start in 0..STARTS {
        if best.1 <= enough {
            break;
        }
        let drawn = part.alone.iter().map(|costs| chance.below(costs.len())).collect();
        let begin = if start % 2 == 0 { best.0.clone() } else { drawn };
        let cooled = near.cooled(begin, &mut chance, budget);
        best = cheaper(best, near.settled(cooled, budget));
    }
    best
}

fn cheaper(a: (Vec<usize>, u64), b: (Vec<usize>, u64)) -> (Vec<usize>, u64) {
    if b.1 < a.1 { b } else { a }
}

/// A part with the pairs of every node.
struct Near<'a> {
    part: &'a Part,
    pairs: Vec<Vec<PairOf<'a>>>,
}

/// A pair as one of its nodes sees it.
#[derive(Clone, Copy)]
struct PairOf<'a> {
    other: usize,
    costs: &'a [u64],
    /// How far apart in `costs` two labels of the node's own lie, and two of the other's.
    strides: (usize, usize),
}

impl<'a> Near<'a> {
    fn new(part: &'a Part) -> Self {
        let mut pairs = vec![Vec::new(); part.nodes.len()];
        for (&(a, b), costs) in &part.pairs {
            let size = part.alone[a].len();
            pairs[a].push(PairOf { other: b, costs, strides: (1, size) });
            pairs[b].push(PairOf { other: a, costs, strides: (size, 1) });
        }
        Self { part, pairs }
    }

    /// What a node costs with this label, alone and with its neighbours.
    fn cost(&self, labels: &[usize], node: usize, label: usize) -> u64 {
        let pairs = self.pairs[node].iter().map(|pair| pair.costs[label * pair.strides.0 + labels[pair.other] * pair.strides.1]);
        self.part.alone[node][label] + pairs.sum::<u64>()
    }

    /// Lets labels be changed by chance, at first by about a quarter of what a middling pair costs, in the end by nothing.
    fn cooled(&self, mut labels: Vec<usize>, chance: &mut Chance, budget: &mut Budget) -> Vec<usize> {
        let cells = self.part.pairs.values().flatten().fold((0, 1), |(sum, cells), cost| (sum + cost, cells + 1));
        for round in 1..=ROUNDS {
            let heat = (cells.0 << 16) / cells.1 / 4 * (ROUNDS - round) / ROUNDS;
            for node in 0..labels.len() {
                if !budget.spend(2 * self.pairs[node].len() as u64 + 2) {
                    return labels;
                }
                let other = chance.below(self.part.alone[node].len());
                let (before, after) = (self.cost(&labels, node, labels[node]), self.cost(&labels, node, other));
                let allowed = (u128::from(heat) * u128::from(chance.rarity())) >> 32;
                if u128::from(after) <= u128::from(before) + allowed {
                    labels[node] = other;
                }
            }
        }
        labels
    }

    /// Lets every node take its cheapest label until none changes. Gives the labels and what they cost.
    fn settled(&self, mut labels: Vec<usize>, budget: &mut Budget) -> (Vec<usize>, u64) {
        let mut changed = true;
        while changed {
            changed = false;
            for node in 0..labels.len() {
                if !budget.spend((self.pairs[node].len() * self.part.alone[node].len()) as u64) {
                    break;
                }
                let now = self.cost(&labels, node, labels[node]);
                let all = (0..self.part.alone[node].len()).map(|label| (self.cost(&labels, node, label), label));
                if let Some((cost, label)) = all.min()
                    && cost < now
                {
                    labels[node] = label;
                    changed = true;
                }
            }
        }
        let alone: u64 = self.part.alone.iter().zip(&labels).map(|(costs, &label)| costs[label]).sum();
        let pairs = self.part.pairs.iter().map(|(&(a, b), costs)| costs[labels[a] + self.part.alone[a].len() * labels[b]]);
        let cost = alone + pairs.sum::<u64>();
        (labels, cost)
    }
}
