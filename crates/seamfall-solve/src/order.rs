//! In which order to eliminate variables.
//!
//! In: which variables share a term. Out: an order, each variable with the neighbours it has when its turn comes. Eliminating a
//! variable joins all its neighbours to each other; the size of the largest such neighbourhood is the width of the order, and the
//! tables grow with its exponential. The least width is the treewidth, hard to find (S. Arnborg, D. Corneil, A. Proskurowski,
//! "Complexity of finding embeddings in a k-tree", 1987). The rule used is least fill: next comes the variable whose elimination
//! joins the fewest pairs; then the fewest neighbours, then the lowest number. Beside it an order from side to side is tried, and
//! the cheaper one taken. Neither is always best.
//!
//! Time: O(n · w³) at worst for width w, since only the fill of variables within two steps is counted again.

use crate::Budget;
use std::collections::BTreeSet;

/// One variable with the neighbours left when it is eliminated, in rising order.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Turn {
    variable: usize,
    near: Vec<usize>,
}

/// Steps to fill one cell: for each variable several tables are added up.
const CELL: u64 = 4;

/// The cheaper of the orders known here for variables of these sizes, with the steps it takes. `None` if each of them needs a
/// table of more than `largest` cells, or the budget ends while one is looked for.
pub(crate) fn cheapest(
    sizes: &[usize],
    near: &[BTreeSet<usize>],
    largest: usize,
    budget: &mut Budget,
) -> Option<(u64, Vec<usize>)> {
    let widest = largest.ilog2() as usize;
    let cases = |turn: &Turn| turn.near.iter().fold(1u64, |n, &u| n.saturating_mul(sizes[u] as u64));
    let fits = |turns: &Vec<Turn>| turns.iter().all(|turn| cases(turn) <= largest as u64);
    let cells =
        |turns: &[Turn]| turns.iter().fold(0u64, |sum, turn| sum.saturating_add(cases(turn) * sizes[turn.variable] as u64));
    let orders = [least_fill(near, widest, budget), sweep(near.to_vec(), widest)].into_iter().flatten().filter(fits);
    let (cells, turns) = orders.map(|turns| (cells(&turns), turns)).min_by_key(|&(cells, _)| cells)?;
    Some((cells.saturating_mul(CELL), turns.into_iter().map(|turn| turn.variable).collect()))
}

/// The order of least fill. `None` once a variable with more than `widest` neighbours would have to go, or the budget ends.
fn least_fill(near: &[BTreeSet<usize>], widest: usize, budget: &mut Budget) -> Option<Vec<Turn>> {
    if thickness(near) > widest {
        return None;
    }
    // Lists in rising order: they are gone through far more often than they change.
    let mut near: Vec<Vec<usize>> = near.iter().map(|near| near.iter().copied().collect()).collect();
    let mut marks = Marks { last: vec![usize::MAX; near.len()], steps: 0 };
    let mut rank: Vec<(usize, usize)> = (0..near.len()).map(|v| (marks.fill(&near, v), near[v].len())).collect();
    let mut waiting: BTreeSet<(usize, usize, usize)> = rank.iter().enumerate().map(|(v, &(f, d))| (f, d, v)).collect();
    let mut turns = Vec::with_capacity(near.len());
    while let Some((_, _, v)) = waiting.pop_first() {
        let gone = std::mem::take(&mut near[v]);
        if gone.len() > widest || !budget.spend(std::mem::take(&mut marks.steps)) {
            return None;
        }
        let mut stale = gone.clone();
        for &a in &gone {
            near[a].retain(|&u| u != v);
        }
        for (i, &a) in gone.iter().enumerate() {
            for &b in &gone[..i] {
                let Err(at) = near[a].binary_search(&b) else { continue };
                near[a].insert(at, b);
                let at = near[b].partition_point(|&u| u < a);
                near[b].insert(at, a);
                stale.extend(near[a].iter().filter(|u| near[b].binary_search(u).is_ok()));
            }
        }
        stale.sort_unstable();
        stale.dedup();
        for u in stale {
            let now = (marks.fill(&near, u), near[u].len());
            waiting.remove(&(rank[u].0, rank[u].1, u));
            waiting.insert((now.0, now.1, u));
            rank[u] = now;
        }
        turns.push(Turn { variable: v, near: gone });
    }
    Some(turns)
}

/// The turns of [`across`]. Better than least fill where things are long and narrow.
fn sweep(mut near: Vec<BTreeSet<usize>>, widest: usize) -> Option<Vec<Turn>> {
    let order = across(&near);
    let mut turns = Vec::with_capacity(near.len());
    for v in order {
        let gone: Vec<usize> = std::mem::take(&mut near[v]).into_iter().collect();
        if gone.len() > widest {
            return None;
        }
        for &a in &gone {
            near[a].remove(&v);
            near[a].extend(gone.iter().filter(|&&b| b != a));
        }
        turns.push(Turn { variable: v, near: gone });
    }
    Some(turns)
}

/// An order that goes through the graph from one side to the other: breadth first, twice, from where the first walk ended (E.
/// Cuthill, J. McKee, "Reducing the bandwidth of sparse symmetric matrices", 1969). Nearly linear time.
pub(crate) fn across(near: &[BTreeSet<usize>]) -> Vec<usize> {
    breadth_first(near, breadth_first(near, 0..near.len()).into_iter().rev())
}

/// All variables breadth first, from each of `starts` in turn that is not yet reached; of neighbours first the one with the
/// fewest.
fn breadth_first(near: &[BTreeSet<usize>], starts: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut reached = vec![false; near.len()];
    let mut order = Vec::with_capacity(near.len());
    for start in starts {
        let mut next = order.len();
        if !std::mem::replace(&mut reached[start], true) {
            order.push(start);
        }
        while next < order.len() {
            let mut new: Vec<usize> = near[order[next]].iter().copied().filter(|&u| !reached[u]).collect();
            new.sort_by_key(|&u| near[u].len());
            new.iter().for_each(|&u| reached[u] = true);
            order.append(&mut new);
            next += 1;
        }
    }
    order
}

/// Largest of all least numbers of neighbours as the thinnest variable is taken away again and again (degeneracy). No order is
/// less wide, and it is found without counting fill, which is slow where much is joined.
fn thickness(near: &[BTreeSet<usize>]) -> usize {
    let mut left: Vec<usize> = near.iter().map(BTreeSet::len).collect();
    let mut waiting: BTreeSet<(usize, usize)> = left.iter().enumerate().map(|(v, &n)| (n, v)).collect();
    let mut most = 0;
    while let Some((n, v)) = waiting.pop_first() {
        most = most.max(n);
        for &u in &near[v] {
            if waiting.remove(&(left[u], u)) {
                left[u] -= 1;
                waiting.insert((left[u], u));
            }
        }
    }
    most
}

/// Room to count fill in.
struct Marks {
    /// For each variable whose neighbour it was found to be last.
    last: Vec<usize>,
    /// Steps taken and not yet paid.
    steps: u64,
}

impl Marks {
    /// How many pairs of neighbours of `v` are not joined yet.
    fn fill(&mut self, near: &[Vec<usize>], v: usize) -> usize {
        let around = &near[v];
        around.iter().for_each(|&u| self.last[u] = v);
        let joined: usize = around.iter().map(|&u| near[u].iter().filter(|&&other| self.last[other] == v).count()).sum();
        around.iter().for_each(|&u| self.last[u] = usize::MAX);
        self.steps += around.iter().map(|&u| 2 * near[u].len() as u64).sum::<u64>();
        (around.len() * around.len().saturating_sub(1) - joined) / 2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn graph(n: usize, edges: &[(usize, usize)]) -> Vec<BTreeSet<usize>> {
        let mut near = vec![BTreeSet::new(); n];
        for &(a, b) in edges {
            near[a].insert(b);
            near[b].insert(a);
        }
        near
    }

    fn width(turns: &[Turn]) -> usize {
        turns.iter().map(|turn| turn.near.len()).max().unwrap_or(0)
    }

    /// Treewidth by theory: a tree has 1, a ring 2, a complete graph one less than its nodes.
    #[test]
    fn trees_rings_and_complete_graphs_get_their_treewidth() {
        let tree: Vec<_> = (1..20).map(|v| (v / 2, v)).collect();
        let ring: Vec<_> = (0..20).map(|v| (v, (v + 1) % 20)).collect();
        let complete: Vec<_> = (0..7).flat_map(|a| (0..a).map(move |b| (a, b))).collect();
        for (n, edges, least) in [(20, tree, 1), (20, ring, 2), (7, complete, 6)] {
            assert_eq!(width(&least_fill(&graph(n, &edges), n, &mut Budget::default()).expect("wide enough")), least);
            assert_eq!(least_fill(&graph(n, &edges), least - 1, &mut Budget::default()), None);
        }
    }

    #[test]
    fn every_variable_has_one_turn_and_its_neighbours_come_later() {
        let turns = least_fill(&graph(6, &[(0, 1), (1, 2), (2, 3), (3, 0), (3, 4), (4, 5), (5, 2)]), 6, &mut Budget::default())
            .expect("wide enough");
        let mut place = [usize::MAX; 6];
        for (i, turn) in turns.iter().enumerate() {
            place[turn.variable] = i;
        }
        assert!(turns.iter().all(|turn| turn.near.iter().all(|&u| place[u] > place[turn.variable])));
        assert_eq!(turns.len(), 6);
    }
}
