//! A bound by what every item costs by itself at every place.
//!
//! In: the problem. Out: a number that no placing is below.
//!
//! Each meeting is charged to the lower of its two items (or, the second time, to the higher; the better bound counts). At a place an item pays
//! at least what it does with the neighbours that suit it best, each of them once, of the kinds that its neighbours must be; to a neighbour that stays it pays the difference
//! itself. The cheapest dealing out of items to places under these costs is an assignment (J. Munkres, "Algorithms for the assignment and transportation
//! problems", 1957), and no placing costs less. It is exact where low items cannot be neighbours, as in two kinds taking turns.

use super::{Meeting, Placing};
use crate::Budget;
use std::collections::BTreeMap;

/// A neighbour of a place: own side, place and side met.
type Near = (usize, usize, usize);

pub(super) fn bound(problem: &Placing, budget: &mut Budget) -> u64 {
    let mut near = vec![Vec::new(); problem.kinds.len()];
    for Meeting { ends: [(a, s), (b, t)] } in problem.meetings.iter().copied() {
        near[a].push((s, b, t));
        near[b].push((t, a, s));
    }
    let mut free: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (item, kind) in problem.kinds.iter().enumerate().filter(|(item, _)| !problem.fixed[*item]) {
        free.entry(*kind).or_default().push(item);
    }
    let work: usize = free.values().map(|items| items.len() * items.len() * (problem.kinds.len() * 4 + items.len())).sum();
    if !budget.spend(2 * work as u64) {
        return 0;
    }
    let staying = |meeting: &&Meeting| meeting.ends.iter().all(|(place, _)| problem.fixed[*place]);
    let sides = |(place, side): (usize, usize)| problem.sides[place][side];
    let settled: u64 = problem.meetings.iter().filter(staying).map(|one| sides(one.ends[0]).abs_diff(sides(one.ends[1]))).sum();
    let dealt = |sign: i64| -> u64 {
        let kind = |items: &Vec<usize>| {
            let row = |&item: &usize| items.iter().map(|&place| alone(problem, &near[place], &free, item, sign)).collect();
            least_assignment(&items.iter().map(row).collect::<Vec<Vec<u64>>>())
        };
        free.values().map(kind).sum()
    };
    settled + dealt(1).max(dealt(-1))
}

/// The least that an item pays at a place with these neighbours.
fn alone(problem: &Placing, near: &[Near], free: &BTreeMap<usize, Vec<usize>>, item: usize, sign: i64) -> u64 {
    let own = &problem.sides[item];
    let mut sum = 0;
    let mut groups: BTreeMap<usize, Vec<Near>> = BTreeMap::new();
    for &(side, other, other_side) in near {
        if problem.fixed[other] {
            sum += own[side].abs_diff(problem.sides[other][other_side]);
            continue;
        }
        let group = groups.entry(problem.kinds[other]).or_default();
        if group.iter().all(|one| one.1 != other) {
            group.push((side, other, other_side));
        }
    }
    for (kind, group) in groups {
        let pays = |other: usize| {
            let short = |&(side, _, theirs): &Near| (sign * (problem.sides[other][theirs] - own[side])).max(0).unsigned_abs();
            group.iter().map(short).min().unwrap_or(0)
        };
        let mut all: Vec<u64> = free[&kind].iter().filter(|other| **other != item).map(|&other| pays(other)).collect();
        let taken = group.len().min(all.len());
        if taken > 0 && taken < all.len() {
            all.select_nth_unstable(taken - 1);
        }
        sum += all[..taken].iter().sum::<u64>();
    }
    sum
}

/// The least sum of a cell in every row and every column of a square: shortest augmenting paths.
fn least_assignment(costs: &[Vec<u64>]) -> u64 {
    let size = costs.len();
    let mut of_row = vec![0i64; size + 1];
    let mut of_column = vec![0i64; size + 1];
    // The row dealt to each column; column 0 is where a new row comes in. Rows and columns from 1.
    let mut dealt = vec![0; size + 1];
    for row in 1..=size {
        dealt[0] = row;
        let mut at = 0;
        let mut least = vec![i64::MAX; size + 1];
        let mut came = vec![0; size + 1];
        let mut seen = vec![false; size + 1];
        while dealt[at] != 0 {
            seen[at] = true;
            let (mut step, mut next) = (i64::MAX, 0);
            for column in (1..=size).filter(|&column| !seen[column]) {
                let reduced = costs[dealt[at] - 1][column - 1] as i64 - of_row[dealt[at]] - of_column[column];
                if reduced < least[column] {
                    (least[column], came[column]) = (reduced, at);
                }
                if least[column] < step {
                    (step, next) = (least[column], column);
                }
            }
            for column in 0..=size {
                if seen[column] {
                    of_row[dealt[column]] += step;
                    of_column[column] -= step;
                } else if column > 0 {
                    least[column] -= step;
                }
            }
            at = next;
        }
        while at != 0 {
            dealt[at] = dealt[came[at]];
            at = came[at];
        }
    }
    (1..=size).map(|column| costs[dealt[column] - 1][column - 1]).sum()
}

#[cfg(test)]
mod tests {
    use super::least_assignment;

    /// The three by three example is solved by hand: 1 + 2 + 3 along the falling diagonal, all other ways are dearer.
    #[test]
    fn the_least_assignment_is_found() {
        assert_eq!(least_assignment(&[]), 0);
        assert_eq!(least_assignment(&[vec![1, 9, 9], vec![9, 2, 9], vec![9, 9, 3]]), 6);
        assert_eq!(least_assignment(&[vec![4, 1, 3], vec![2, 0, 5], vec![3, 2, 2]]), 5);
    }
}
