//! Costs moved between pairs and nodes, so that their least ones come to more.
//!
//! In: a part. Out: a part in which any labels cost the same, but for a sum that all of them pay. What a label costs in a pair in
//! any case is moved to its node; what the cheapest label of a node costs is paid by all labels, and the rest is handed to the
//! pairs that come after the node, in equal shares; then the same from the last node to the first. The sum never falls. V.
//! Kolmogorov, "Convergent tree-reweighted message passing for energy minimization", 2006, in the form of "A new look at
//! reweighted message passing", 2015. Costs are made larger before and shared out in whole numbers, so that the sum is exact.
//!
//! Time: a round looks at every cell of every pair three times.

use super::Part;
use crate::Budget;

/// By how many bits costs are made larger, so that they can be shared out.
pub(super) const SHIFT: u32 = 12;

/// Rounds from the first node to the last and back. Found by trying: later ones bring next to nothing.
const ROUNDS: usize = 100;

/// The part with its costs shifted, and what all labels pay besides; both 2^[`SHIFT`] times what they were.
pub(super) fn shift(part: &Part, budget: &mut Budget) -> (Part, u64) {
    let larger = |costs: &Vec<u64>| costs.iter().map(|cost| cost << SHIFT).collect::<Vec<u64>>();
    let mut shifted = Part {
        nodes: part.nodes.clone(),
        alone: part.alone.iter().map(larger).collect(),
        pairs: part.pairs.iter().map(|(&ends, costs)| (ends, larger(costs))).collect(),
    };
    let mut paid = 0;
    let cells: usize = part.pairs.values().map(Vec::len).sum();
    let mut near = vec![Vec::new(); part.nodes.len()];
    for &(a, b) in part.pairs.keys() {
        near[a].push((a, b));
        near[b].push((a, b));
    }
    for round in 0..ROUNDS {
        if !budget.spend(6 * cells as u64) {
            break;
        }
        let forth = round % 2 == 0;
        for step in 0..part.nodes.len() {
            let node = if forth { step } else { part.nodes.len() - 1 - step };
            paid += shifted.gather(node, &near[node]);
            let later = |&&(a, b): &&(usize, usize)| if forth { a == node } else { b == node };
            let pairs: Vec<(usize, usize)> = near[node].iter().filter(later).copied().collect();
            shifted.share_out(node, &pairs, pairs.len().max(near[node].len() - pairs.len()));
        }
    }
    (shifted, paid)
}

impl Part {
    /// Moves to the node what its labels cost in each pair at least, and takes away what they all cost.
    fn gather(&mut self, node: usize, pairs: &[(usize, usize)]) -> u64 {
        for ends in pairs {
            let size = self.alone[ends.0].len();
            let costs = self.pairs.get_mut(ends).expect("a pair of the part");
            let label = |cell: usize| if ends.0 == node { cell % size } else { cell / size };
            let mut least = vec![u64::MAX; self.alone[node].len()];
            costs.iter().enumerate().for_each(|(cell, &cost)| least[label(cell)] = least[label(cell)].min(cost));
            costs.iter_mut().enumerate().for_each(|(cell, cost)| *cost -= least[label(cell)]);
            self.alone[node].iter_mut().zip(least).for_each(|(cost, least)| *cost += least);
        }
        let least = *self.alone[node].iter().min().expect("a node has a label");
        self.alone[node].iter_mut().for_each(|cost| *cost -= least);
        least
    }

    /// Moves to each of the pairs one of so many shares of what the node's labels cost.
    fn share_out(&mut self, node: usize, pairs: &[(usize, usize)], shares: usize) {
        if pairs.is_empty() {
            return;
        }
        let share: Vec<u64> = self.alone[node].iter().map(|cost| cost / shares as u64).collect();
        for ends in pairs {
            let size = self.alone[ends.0].len();
            let costs = self.pairs.get_mut(ends).expect("a pair of the part");
            let label = |cell: usize| if ends.0 == node { cell % size } else { cell / size };
            costs.iter_mut().enumerate().for_each(|(cell, cost)| *cost += share[label(cell)]);
        }
        self.alone[node].iter_mut().zip(share).for_each(|(cost, share)| *cost -= share * pairs.len() as u64);
    }
}
