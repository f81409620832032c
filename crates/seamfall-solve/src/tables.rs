//! Least sum of tables, by eliminating variables.
//!
//! In: variables with a few values each, and tables of costs over some of them. Out: values with the least sum. A variable is
//! eliminated by adding up the tables it stands in and keeping, for every case of its neighbours, its cheapest value (the lowest
//! of equal ones): one new table over the neighbours. U. Bertelè, F. Brioschi, "Nonserial Dynamic Programming", 1972;
//! over a tree decomposition: S. Arnborg, A. Proskurowski, "Linear time algorithms for NP-hard problems restricted to partial
//! k-trees", 1989. Time and room: for every turn the product of the sizes of the variable and its neighbours.

use crate::order::Turn;

/// Costs for all cases of the variables in `scope`, which rises; the first variable counts fastest.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    pub scope: Vec<usize>,
    pub costs: Vec<u64>,
}

/// Values with the least sum of all `tables`, and that sum. Every table's variables must be near each other in `turns`.
pub(crate) fn least_sum(sizes: &[usize], turns: &[Turn], tables: Vec<Table>) -> (Vec<usize>, u64) {
    let mut place = vec![0; sizes.len()];
    for (i, turn) in turns.iter().enumerate() {
        place[turn.variable] = i;
    }
    let mut total = 0;
    let mut waiting: Vec<Vec<Table>> = turns.iter().map(|_| Vec::new()).collect();
    let mut hand_on = |table: Table, waiting: &mut Vec<Vec<Table>>| match table.scope.iter().map(|&v| place[v]).min() {
        Some(first) => waiting[first].push(table),
        None => total += table.costs[0],
    };
    for table in tables {
        hand_on(table, &mut waiting);
    }
    let mut choices = Vec::with_capacity(turns.len());
    for (i, turn) in turns.iter().enumerate() {
        let (table, choice) = eliminate(sizes, turn, &std::mem::take(&mut waiting[i]));
        choices.push(choice);
        hand_on(table, &mut waiting);
    }
    let mut values = vec![0; sizes.len()];
    for (turn, choice) in turns.iter().zip(&choices).rev() {
        let case = turn.near.iter().rev().fold(0, |case, &u| case * sizes[u] + values[u]);
        values[turn.variable] = usize::from(choice[case]);
    }
    (values, total)
}

/// The table over the neighbours once the variable is gone, and its cheapest value in every case.
fn eliminate(sizes: &[usize], turn: &Turn, tables: &[Table]) -> (Table, Vec<u8>) {
    let cases: usize = turn.near.iter().map(|&u| sizes[u]).product();
    let mut best = vec![u64::MAX; cases];
    let mut choice = vec![0; cases];
    let mut sum = vec![0; cases];
    let reads: Vec<Reading> = tables.iter().map(|table| Reading::new(sizes, turn, table)).collect();
    for value in 0..sizes[turn.variable] {
        sum.fill(0);
        for reading in &reads {
            reading.add(value, &mut sum);
        }
        for ((best, choice), &sum) in best.iter_mut().zip(&mut choice).zip(&sum) {
            if sum < *best {
                *best = sum;
                *choice = value as u8;
            }
        }
    }
    (Table { scope: turn.near.clone(), costs: best }, choice)
}

/// Cases of the neighbours are taken in runs of at most this many: the places read within a run are looked up, not computed.
const RUN: usize = 1024;

/// Where in a table each case of the neighbours is read.
struct Reading<'a> {
    costs: &'a [u64],
    /// How far apart two values of the eliminated variable lie.
    stride: usize,
    /// For the cases of one run, by how much the place is beyond the run's own.
    within: Vec<usize>,
    /// For every run, its place.
    runs: Vec<usize>,
}

impl<'a> Reading<'a> {
    fn new(sizes: &[usize], turn: &Turn, table: &'a Table) -> Self {
        let stride_of = |variable: usize| {
            let at = table.scope.iter().position(|&v| v == variable)?;
            Some(table.scope[..at].iter().map(|&v| sizes[v]).product::<usize>())
        };
        let (mut within, mut runs) = (vec![0], vec![0]);
        for &u in &turn.near {
            let places = if within.len() * sizes[u] <= RUN && runs.len() == 1 { &mut within } else { &mut runs };
            let (before, stride) = (places.len(), stride_of(u).unwrap_or(0));
            for value in 1..sizes[u] {
                places.extend_from_within(..before);
                let start = value * before;
                places[start..].iter_mut().for_each(|place| *place += value * stride);
            }
        }
        Self { costs: &table.costs, stride: stride_of(turn.variable).unwrap_or(0), within, runs }
    }

    fn add(&self, value: usize, sum: &mut [u64]) {
        for (run, &start) in sum.chunks_exact_mut(self.within.len()).zip(&self.runs) {
            let costs = &self.costs[start + value * self.stride..];
            for (sum, &beyond) in run.iter_mut().zip(&self.within) {
                *sum += costs[beyond];
            }
        }
    }
}
