//! Least sum of tables, by eliminating variables.
//!
//! In: variables with a few values each, tables of costs over some of them, and an order. Out: values, and what no values are
//! cheaper than. A variable is eliminated by adding up the tables it stands in and keeping, for every case of its neighbours, its
//! cheapest value (the lowest of equal ones): one new table over the neighbours. U. Bertelè, F. Brioschi, "Nonserial Dynamic
//! Programming", 1972; over a tree decomposition: S. Arnborg, A. Proskurowski, "Linear time algorithms for NP-hard problems
//! restricted to partial k-trees", 1989. Time and room: for every variable the product of its size and its neighbours'.
//!
//! Where a new table would be too large, the tables are added up in several groups, each of which takes the value cheapest for
//! itself (mini-buckets: R. Dechter, I. Rish, "Mini-buckets: a general scheme for bounded inference", 2003). Then the sum is a
//! bound only, and the values, which follow the largest group, are but a good start.

/// Costs for all cases of the variables in `scope`, which rises; the first variable counts fastest.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    pub scope: Vec<usize>,
    pub costs: Vec<u64>,
}

/// What elimination found.
pub(crate) struct Least {
    pub values: Vec<usize>,
    /// No values are cheaper.
    pub bound: u64,
    /// Whether the values cost just that, because no table had to be split up.
    pub exact: bool,
}

/// Eliminates the variables in the order given. New tables have at most `largest` cells, if those given do.
pub(crate) fn least_sum(sizes: &[usize], order: &[usize], tables: Vec<Table>, largest: usize) -> Least {
    let mut place = vec![0; sizes.len()];
    for (i, &variable) in order.iter().enumerate() {
        place[variable] = i;
    }
    let (mut bound, mut exact) = (0, true);
    let mut waiting: Vec<Vec<Table>> = order.iter().map(|_| Vec::new()).collect();
    let mut hand_on = |table: Table, waiting: &mut Vec<Vec<Table>>| match table.scope.iter().map(|&v| place[v]).min() {
        Some(first) => waiting[first].push(table),
        None => bound += table.costs[0],
    };
    for table in tables {
        hand_on(table, &mut waiting);
    }
    let mut choices = Vec::with_capacity(order.len());
    for (i, &variable) in order.iter().enumerate() {
        let groups = groups(sizes, variable, std::mem::take(&mut waiting[i]), largest);
        exact &= groups.len() == 1;
        for (i, (near, tables)) in groups.into_iter().enumerate() {
            let (costs, choice) = eliminate(sizes, variable, &near, &tables);
            hand_on(Table { scope: near.clone(), costs }, &mut waiting);
            if i == 0 {
                choices.push((near, choice));
            }
        }
    }
    let mut values = vec![0; sizes.len()];
    for (&variable, (near, choice)) in order.iter().zip(&choices).rev() {
        let case = near.iter().rev().fold(0, |case, &u| case * sizes[u] + values[u]);
        values[variable] = usize::from(choice[case]);
    }
    Least { values, bound, exact }
}

/// The tables of a variable in groups, each with the other variables in it. At least one group, the largest table in the first.
fn groups(sizes: &[usize], variable: usize, mut tables: Vec<Table>, largest: usize) -> Vec<(Vec<usize>, Vec<Table>)> {
    tables.sort_by_key(|table| std::cmp::Reverse(table.costs.len()));
    let mut groups = vec![(Vec::new(), Vec::new())];
    for table in tables {
        let with = |near: &[usize]| {
            let mut near: Vec<usize> = near.iter().chain(&table.scope).copied().filter(|&v| v != variable).collect();
            near.sort_unstable();
            near.dedup();
            near
        };
        let fits = |near: &[usize]| near.iter().try_fold(1usize, |n, &v| n.checked_mul(sizes[v])).is_some_and(|n| n <= largest);
        let group = groups.iter().position(|(near, tables): &(Vec<usize>, Vec<Table>)| tables.is_empty() || fits(&with(near)));
        let group = group.unwrap_or_else(|| {
            groups.push((Vec::new(), Vec::new()));
            groups.len() - 1
        });
        groups[group].0 = with(&groups[group].0);
        groups[group].1.push(table);
    }
    groups
}

/// The costs over the neighbours once the variable is gone, and its cheapest value in every case.
fn eliminate(sizes: &[usize], variable: usize, near: &[usize], tables: &[Table]) -> (Vec<u64>, Vec<u8>) {
    let cases: usize = near.iter().map(|&u| sizes[u]).product();
    let mut best = vec![u64::MAX; cases];
    let mut choice = vec![0; cases];
    let mut sum = vec![0; cases];
    let reads: Vec<Reading> = tables.iter().map(|table| Reading::new(sizes, variable, near, table)).collect();
    for value in 0..sizes[variable] {
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
    (best, choice)
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
    fn new(sizes: &[usize], variable: usize, near: &[usize], table: &'a Table) -> Self {
        let stride_of = |variable: usize| {
            let at = table.scope.iter().position(|&v| v == variable)?;
            Some(table.scope[..at].iter().map(|&v| sizes[v]).product::<usize>())
        };
        let (mut within, mut runs) = (vec![0], vec![0]);
        for &u in near {
            let places = if within.len() * sizes[u] <= RUN && runs.len() == 1 { &mut within } else { &mut runs };
            let (before, stride) = (places.len(), stride_of(u).unwrap_or(0));
            for value in 1..sizes[u] {
                places.extend_from_within(..before);
                let start = value * before;
                places[start..].iter_mut().for_each(|place| *place += value * stride);
            }
        }
        Self { costs: &table.costs, stride: stride_of(variable).unwrap_or(0), within, runs }
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
