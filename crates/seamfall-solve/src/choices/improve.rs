//! Good labels, without proof.
//!
//! In: a part, and labels to begin with. Out: labels that changing no single node betters, and their cost. From the labels given,
//! and then from others drawn by a seeded chance, one node after the other takes its cheapest label until none changes. From the
//! best so far a few nodes are changed by chance and the same is done again, many times (H. Lourenço, O. Martin, T. Stützle,
//! "Iterated local search", 2003). The budget ends it anywhere.

use super::Part;
use crate::Budget;
use crate::chance::Chance;

/// Starts from labels drawn by chance. Found by trying, as is the next one.
const STARTS: usize = 8;

/// How often the best labels are shaken.
const SHAKES: usize = 400;

/// Labels found from `start`, and what they cost.
pub(super) fn improve(part: &Part, start: Vec<usize>, budget: &mut Budget) -> (Vec<usize>, u64) {
    let near = Near::new(part);
    let mut chance = Chance::new(2003);
    let mut best = near.settled(start, budget);
    for _ in 0..STARTS {
        let drawn = part.alone.iter().map(|costs| chance.below(costs.len())).collect();
        best = cheaper(best, near.settled(drawn, budget));
    }
    for _ in 0..SHAKES {
        if !budget.spend(near.pairs.len() as u64) {
            break;
        }
        let mut labels = best.0.clone();
        for _ in 0..2 + near.pairs.len() / 20 {
            let node = chance.below(labels.len());
            labels[node] = chance.below(part.alone[node].len());
        }
        best = cheaper(best, near.settled(labels, budget));
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
