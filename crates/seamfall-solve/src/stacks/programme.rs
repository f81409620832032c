//! The best bound from odd cycles that shares which need not be whole can give.
//!
//! In: a graph, and a bound that would be enough. Out: shares for odd cycles as a linear programme has them, rounded down to
//! whole ones, and the price of every edge in it. The greatest sum of shares so that no edge is overdrawn is a packing programme;
//! its dual asks for the cheapest prices that come to 1 on every odd cycle (B. Guenin, "A characterization of weakly bipartite
//! graphs", 2001, on when it is exact). Revised simplex (G. Dantzig, W. Orchard-Hays, 1954) with the inverse at hand; cycles are
//! looked for only when none that is known pays, as cheapest ways in the double cover (P. Gilmore, R. Gomory, "A linear
//! programming approach to the cutting stock problem", 1961).
//!
//! Numbers here are floating ones and nothing is proven by them: shares are rounded down and checked against the whole weights,
//! so that whatever they are, the bound that comes out holds. Every stage of the simplex is a packing, so the budget may end it
//! anywhere. Time and room: m² a pivot at worst for m edges, with room for m² numbers.

use std::f64::consts::SQRT_2;

use super::cover::{Cover, Priced};
use super::packing::Packing;
use crate::Budget;

/// What a linear programme over odd cycles gave.
pub(super) struct Bounded {
    /// No answer is cheaper, what was paid before not counted.
    pub bound: u64,
    /// For every edge its price: how likely it is to be left unmet.
    pub prices: Vec<f64>,
    /// Whether the programme was solved, or came to enough, before the budget ended.
    pub finished: bool,
}

/// Less than this is taken for nothing: prices are about 1, and the simplex loses a few of 52 bits.
const NOTHING: f64 = 1e-7;

/// Prices are whole multiples of this when cycles are looked for.
const PRICE: f64 = (1u64 << 32) as f64;

/// Bounds a graph with these edges, whose costs differ by multiples of `grain`. Stops where shares come to `enough`.
pub(super) fn bound(
    graph: &super::graph::Graph,
    edges: &[(usize, usize, i64)],
    grain: u64,
    enough: u64,
    budget: &mut Budget,
) -> Bounded {
    let mut programme = Programme::new(edges, grain);
    let mut finder = Finder::new(graph.near.len(), edges);
    // Rounding down loses less than one for every cycle in use.
    let enough = enough as f64 + edges.len() as f64;
    let finished = loop {
        if programme.sum >= enough {
            break true;
        }
        if !budget.spend(edges.len() as u64) {
            break false;
        }
        if let Some(column) = programme.paying() {
            if !programme.enter(column, budget) {
                break false;
            }
        } else {
            let found = finder.cheap_cycles(&programme.prices, budget);
            if found.is_empty() {
                break true;
            }
            programme.cycles.extend(found);
        }
    };
    let mut packing = Packing::new(&graph.near);
    for (column, &share) in programme.base.iter().zip(&programme.shares) {
        if let Column::Cycle(cycle) = *column {
            packing.take(&programme.cycles[cycle].nodes, share.max(0.0) as u64);
        }
    }
    packing.fill(budget);
    Bounded { bound: packing.taken, prices: programme.prices, finished }
}

/// An odd cycle: its nodes in turn, and its edges.
struct Cycle {
    nodes: Vec<usize>,
    edges: Vec<usize>,
}

/// A column of the programme: the share of a cycle, or what is left of an edge.
#[derive(Clone, Copy)]
enum Column {
    Cycle(usize),
    Left(usize),
}

struct Programme {
    cycles: Vec<Cycle>,
    /// The columns in use, one for every edge.
    base: Vec<Column>,
    /// How much of each is used.
    shares: Vec<f64>,
    /// For every edge its column of the inverse of the base.
    inverse: Vec<Vec<f64>>,
    prices: Vec<f64>,
    sum: f64,
}

impl Programme {
    fn new(edges: &[(usize, usize, i64)], grain: u64) -> Self {
        let unit = |edge: usize| (0..edges.len()).map(|row| if row == edge { 1.0 } else { 0.0 }).collect();
        // Equal weights make pivots that gain nothing. A little less of each, and not of all the same, keeps them apart; against
        // what costs differ by, it is too little to matter.
        let less = |(i, &(_, _, weight)): (usize, &(usize, usize, i64))| {
            let weight = weight.unsigned_abs();
            weight as f64 - weight.min(grain) as f64 * 2e-3 * ((i * 7919) % 1009) as f64 / 1009.0
        };
        Self {
            cycles: Vec::new(),
            base: (0..edges.len()).map(Column::Left).collect(),
            shares: edges.iter().enumerate().map(less).collect(),
            inverse: (0..edges.len()).map(unit).collect(),
            prices: vec![0.0; edges.len()],
            sum: 0.0,
        }
    }

    /// What one more unit of a column brings at the present prices.
    fn gain(&self, column: Column) -> f64 {
        match column {
            Column::Cycle(cycle) => 1.0 - self.cycles[cycle].edges.iter().map(|&edge| self.prices[edge]).sum::<f64>(),
            Column::Left(edge) => -self.prices[edge],
        }
    }

    /// The known column that brings most for its length, if any brings something. (By gain alone, some graphs took four times the
    /// pivots.)
    fn paying(&self) -> Option<Column> {
        let all = (0..self.cycles.len()).map(Column::Cycle).chain((0..self.prices.len()).map(Column::Left));
        let length = |column| match column {
            Column::Cycle(cycle) => (1.0 + self.cycles[cycle].edges.len() as f64).sqrt(),
            Column::Left(_) => SQRT_2,
        };
        let best = all.map(|column| (self.gain(column) / length(column), column)).max_by(|(a, _), (b, _)| a.total_cmp(b))?;
        (best.0 > NOTHING).then_some(best.1)
    }

    /// Takes a column into the base, and out of it the one used up first. False if the budget ended or numbers went astray.
    fn enter(&mut self, column: Column, budget: &mut Budget) -> bool {
        let gain = self.gain(column);
        let uses = match column {
            Column::Cycle(cycle) => &self.cycles[cycle].edges[..],
            Column::Left(ref edge) => std::slice::from_ref(edge),
        };
        let mut draws = vec![0.0; self.base.len()];
        for &edge in uses {
            draws.iter_mut().zip(&self.inverse[edge]).for_each(|(draw, &part)| *draw += part);
        }
        let drawn: Vec<(usize, f64)> = draws.into_iter().enumerate().filter(|(_, draw)| draw.abs() > NOTHING).collect();
        let lasts = |&(row, draw): &(usize, f64)| self.shares[row].max(0.0) / draw;
        let first = drawn.iter().filter(|(_, draw)| *draw > NOTHING).min_by(|a, b| lasts(a).total_cmp(&lasts(b)));
        let Some(&(leaves, pivot)) = first else { return false };
        let share = self.shares[leaves].max(0.0) / pivot;
        for &(row, draw) in &drawn {
            self.shares[row] -= share * draw;
        }
        self.shares[leaves] = share;
        self.base[leaves] = column;
        self.sum += gain * share;
        let mut work = 0;
        for (inverse, price) in self.inverse.iter_mut().zip(&mut self.prices) {
            let part = inverse[leaves] / pivot;
            if part != 0.0 {
                for &(row, draw) in &drawn {
                    inverse[row] -= draw * part;
                }
                inverse[leaves] = part;
                *price += gain * part;
                work += drawn.len() as u64;
            }
        }
        budget.spend(work)
    }
}

/// Looks for cycles.
struct Finder {
    cover: Cover,
    near: Vec<Vec<Priced>>,
    /// The number of every edge, as in `near`.
    edge: Vec<Vec<usize>>,
}

impl Finder {
    fn new(nodes: usize, edges: &[(usize, usize, i64)]) -> Self {
        let mut finder = Self { cover: Cover::new(nodes), near: vec![Vec::new(); nodes], edge: vec![Vec::new(); nodes] };
        for (i, &(a, b, weight)) in edges.iter().enumerate() {
            for (from, to) in [(a, b), (b, a)] {
                finder.near[from].push(Priced { to, weight, price: 0 });
                finder.edge[from].push(i);
            }
        }
        finder
    }

    /// Odd cycles on which the prices come to less than 1: at most one for every node.
    fn cheap_cycles(&mut self, prices: &[f64], budget: &mut Budget) -> Vec<Cycle> {
        for (near, edges) in self.near.iter_mut().zip(&self.edge) {
            for (priced, &edge) in near.iter_mut().zip(edges) {
                // A little for the edge itself, so that of equal cycles the short one comes.
                priced.price = (prices[edge].max(0.0) * PRICE) as u64 + (PRICE * 1e-6) as u64;
            }
        }
        let mut found: Vec<Cycle> = Vec::new();
        for node in 0..self.near.len() {
            let Some(nodes) = self.cover.cheap(&self.near, node, PRICE as u64, budget) else { continue };
            let edges: Vec<usize> =
                nodes.iter().zip(nodes.iter().cycle().skip(1)).map(|(&a, &b)| self.edge_between(a, b)).collect();
            let cheap = edges.iter().map(|&edge| prices[edge]).sum::<f64>() < 1.0 - NOTHING;
            let known = found.iter().any(|cycle| same(&cycle.edges, &edges));
            if cheap && !known {
                found.push(Cycle { nodes, edges });
            }
        }
        found
    }

    fn edge_between(&self, a: usize, b: usize) -> usize {
        let at = self.near[a].iter().position(|edge| edge.to == b).expect("a cycle goes along edges");
        self.edge[a][at]
    }
}

fn same(a: &[usize], b: &[usize]) -> bool {
    a.len() == b.len() && a.iter().all(|edge| b.contains(edge))
}
