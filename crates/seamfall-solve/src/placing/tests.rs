//! Placing: laws, small cases by hand, and many at random.

use super::{Meeting, Placing, check, place};
use crate::chance::Chance;
use crate::{Argument, Budget, Proven};
use proptest::prelude::*;

/// Meetings of a rectangle of places, row by row from below.
fn grid(columns: usize, rows: usize) -> Vec<Meeting> {
    let at = |x: usize, y: usize| y * columns + x;
    let level = (0..rows).flat_map(|y| (1..columns).map(move |x| Meeting { ends: [(at(x - 1, y), 1), (at(x, y), 3)] }));
    let upright = (1..rows).flat_map(|y| (0..columns).map(move |x| Meeting { ends: [(at(x, y - 1), 2), (at(x, y), 0)] }));
    level.chain(upright).collect()
}

fn one_kind(columns: usize, rows: usize, sides: Vec<[i64; 4]>) -> Placing {
    let places = columns * rows;
    Placing::new(sides, vec![0; places], vec![false; places], grid(columns, rows)).expect("well formed")
}

fn solved(problem: &Placing, steps: u64) -> Proven<Vec<usize>> {
    let proven = place(problem, Budget::steps(steps));
    assert_eq!(check(problem, &proven), Ok(()));
    proven
}

/// What everything at home costs.
fn at_home(problem: &Placing) -> u64 {
    let side = |(place, side): (usize, usize)| problem.sides()[place][side];
    problem.meetings().iter().map(|one| side(one.ends[0]).abs_diff(side(one.ends[1]))).sum()
}

/// The least of all orders of the items, from the definition.
fn least_of_all(problem: &Placing) -> u64 {
    fn go(problem: &Placing, items: &mut Vec<usize>, used: &mut Vec<bool>) -> u64 {
        let place = items.len();
        if place == used.len() {
            let side = |(place, side): (usize, usize)| problem.sides()[items[place]][side];
            return problem.meetings().iter().map(|one| side(one.ends[0]).abs_diff(side(one.ends[1]))).sum();
        }
        let mut least = u64::MAX;
        for item in 0..used.len() {
            let stays = problem.fixed()[item] || problem.fixed()[place];
            if used[item] || problem.kinds()[item] != problem.kinds()[place] || (stays && item != place) {
                continue;
            }
            used[item] = true;
            items.push(item);
            least = least.min(go(problem, items, used));
            items.pop();
            used[item] = false;
        }
        least
    }
    go(problem, &mut Vec::new(), &mut vec![false; problem.kinds().len()])
}

/// The numbers 1 to n² on a square. By hand: the least borders of sets of 1, 2, ... places are 2 2 2 for n = 2 and 2 3 3 4 4 3 3 2 for n = 3; their
/// sums are reached row by row: n (n - 1) steps of 1 and as many of n.
#[test]
fn squares_are_numbered_as_well_as_can_be() {
    for (n, least) in [(2, 6), (3, 24)] {
        let problem = one_kind(n, n, (0..n * n).map(|item| [item as i64; 4]).collect());
        let proven = solved(&problem, 1_000_000);
        assert_eq!((proven.cost, proven.bound, proven.by), (least, least, Argument::Levels), "{n}");
    }
}

/// One value, one kind, a whole rectangle: proven whatever the values up to 14 x 15, and up to 20 x 20 where one item of ten is low.
#[test]
fn one_value_on_a_rectangle_is_proven() {
    let mut chance = Chance::new(5);
    for (columns, rows) in [(1, 7), (2, 2), (2, 9), (3, 5), (4, 4), (7, 6), (10, 10), (14, 15), (20, 20)] {
        for (spread, rare) in [(1, 1), (4, 1), (100_000, 1), (2, 10), (100_000, 10)] {
            if rare == 1 && columns == 20 {
                continue;
            }
            let mut value = || if chance.below(rare) == 0 { chance.below(spread + 1) as i64 } else { spread as i64 };
            let values = (0..columns * rows).map(|_| [value(); 4]).collect();
            let proven = solved(&one_kind(columns, rows, values), 300_000_000);
            assert!(proven.is_best(), "{columns} x {rows}, {spread}: {} of {}", proven.bound, proven.cost);
        }
    }
}

/// Four small items of a hundred stand in a corner, two by two: four meetings cross.
#[test]
fn a_few_small_items_stand_together_in_a_corner() {
    let values = (0..100).map(|item| [if item % 27 == 13 { -2 } else { 0 }; 4]).collect();
    let proven = solved(&one_kind(10, 10, values), 1_000_000);
    assert_eq!((proven.cost, proven.bound), (2 * 4, 2 * 4));
}

/// An item short on one side has that side at the edge; one short in width costs once in its column.
#[test]
fn what_is_short_stands_at_the_edge() {
    let mut sides = vec![[0; 4]; 36];
    (sides[14], sides[21]) = ([0, -3, 0, 0], [0, 0, 0, -1]);
    let proven = solved(&one_kind(6, 6, sides), 1_000_000);
    assert_eq!((proven.cost, proven.by), (0, Argument::Levels));
    let mut sides = vec![[0; 4]; 36];
    sides[14] = [-3, 0, -3, 0];
    let proven = solved(&one_kind(6, 6, sides), 1_000_000);
    assert_eq!((proven.cost, proven.bound), (3, 3));
}

/// Two kinds that take turns: low items of one kind are never neighbours, each costs its own meetings. Counted by hand: of three low items two stand in
/// corners (2 meetings each) and one at an edge (3); a 3 x 3 square has four corners of the first kind, so three corners there.
#[test]
fn kinds_that_take_turns_are_proven_by_dealing() {
    for (n, low, cost) in [(3, 3, 6), (4, 3, 7), (6, 5, 2 + 2 + 3 * 3)] {
        let kinds: Vec<usize> = (0..n * n).map(|place| (place % n + place / n) % 2).collect();
        let mut left = low;
        let sides: Vec<[i64; 4]> = kinds
            .iter()
            .map(|kind| {
                let is_low = *kind == 0 && left > 0;
                left -= usize::from(is_low);
                [-i64::from(is_low); 4]
            })
            .collect();
        let problem = Placing::new(sides, kinds, vec![false; n * n], grid(n, n)).expect("well formed");
        let proven = solved(&problem, 10_000_000);
        assert_eq!((proven.cost, proven.bound), (cost, cost), "{n}");
    }
}

fn any_problem(most: usize) -> impl Strategy<Value = Placing> {
    (1..=3usize, 1..=3usize, 1..=2usize, 0..3usize, 1..6i64, any::<u64>()).prop_map(
        move |(columns, rows, kinds, sort, spread, seed)| {
            let (mut chance, places) = (Chance::new(seed), (columns * rows).min(most));
            let mut value = || chance.below(spread as usize) as i64;
            let sides = (0..places)
                .map(|_| match sort {
                    0 => [value(); 4],
                    1 => {
                        let (w, h) = (value(), value());
                        [w, h, w, h]
                    }
                    _ => [value(), value(), value(), value()],
                })
                .collect();
            let kinds = (0..places).map(|_| chance.below(kinds)).collect();
            let fixed = (0..places).map(|_| chance.below(5) == 0).collect();
            let meetings = grid(columns, rows).into_iter().filter(|one| one.ends.iter().all(|end| end.0 < places)).collect();
            Placing::new(sides, kinds, fixed, meetings).expect("well formed")
        },
    )
}

proptest! {
    /// Small means all: the answer is that of plain enumeration, and proven.
    #[test]
    fn the_least_is_that_of_all_orders(problem in any_problem(7)) {
        let proven = solved(&problem, 20_000_000);
        prop_assert_eq!(proven.cost, least_of_all(&problem));
        prop_assert!(proven.is_best());
    }

    /// However small the budget: a placing within kinds, what is fixed stays, never dearer than at home, and never below its bound.
    #[test]
    fn any_budget_gives_a_placing(problem in any_problem(9), steps in 0..200_000u64) {
        let proven = solved(&problem, steps);
        prop_assert!(proven.cost <= at_home(&problem));
    }

    /// The bounds hold for placings at random, which no search made.
    #[test]
    fn no_random_placing_is_below_the_bound(problem in any_problem(9), seed in any::<u64>()) {
        let bound = super::levels::bound(&problem, &mut Budget::default()).max(super::deal::bound(&problem, &mut Budget::default()));
        let mut chance = Chance::new(seed);
        let mut items: Vec<usize> = (0..problem.kinds().len()).collect();
        for _ in 0..40 {
            let (a, b) = (chance.below(items.len()), chance.below(items.len()));
            let free = |place: usize| !problem.fixed()[place];
            if problem.kinds()[a] == problem.kinds()[b] && free(a) && free(b) {
                items.swap(a, b);
            }
            let side = |(place, side): (usize, usize)| problem.sides()[items[place]][side];
            let cost: u64 = problem.meetings().iter().map(|one| side(one.ends[0]).abs_diff(side(one.ends[1]))).sum();
            prop_assert!(bound <= cost);
        }
    }
}

/// On large ones the search is far below chance: at most half of the mean of random placings.
#[test]
fn a_large_placing_is_far_better_than_chance() {
    let mut chance = Chance::new(11);
    for sort in 0..3 {
        let mut value = || chance.below(9) as i64 - 4;
        let sides: Vec<[i64; 4]> = (0..210)
            .map(|_| match sort {
                0 => [value(); 4],
                1 => {
                    let (w, h) = (value(), value());
                    [w, h, w, h]
                }
                _ => [value(), value(), value(), value()],
            })
            .collect();
        let problem = one_kind(14, 15, sides);
        let proven = solved(&problem, 20_000_000);
        let mut sum = 0;
        for _ in 0..50 {
            let mut items: Vec<usize> = (0..210).collect();
            (1..210).for_each(|i| items.swap(i, chance.below(i + 1)));
            let side = |(place, side): (usize, usize)| problem.sides()[items[place]][side];
            sum += problem.meetings().iter().map(|one| side(one.ends[0]).abs_diff(side(one.ends[1]))).sum::<u64>();
        }
        assert!(proven.cost * 100 <= sum, "{sort}: {} against {} on average, bound {}", proven.cost, sum / 50, proven.bound);
    }
}
