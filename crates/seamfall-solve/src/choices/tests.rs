//! Tests of labelling as a whole.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::*;

/// The sum for these labels, from the costs as they were given.
fn sum(problem: &Choices, labels: &[usize]) -> u64 {
    let alone: u64 = problem.alone.iter().zip(labels).map(|(costs, &label)| u64::from(costs[label])).sum();
    alone + problem.pairs.iter().map(|pair| u64::from(pair.costs[labels[pair.a]][labels[pair.b]])).sum::<u64>()
}

/// Least sum by trying all labels.
fn by_trying_all(problem: &Choices) -> u64 {
    let mut labels = vec![0; problem.alone.len()];
    let mut least = u64::MAX;
    loop {
        least = least.min(sum(problem, &labels));
        let Some(next) = (0..labels.len()).find(|&node| labels[node] + 1 < problem.alone[node].len()) else { return least };
        labels[next] += 1;
        labels[..next].fill(0);
    }
}

fn any_choices() -> impl Strategy<Value = Choices> {
    vec(vec(0..9u32, 1..=4), 1..=7).prop_flat_map(|alone| {
        let nodes = alone.len();
        let sizes: Vec<usize> = alone.iter().map(Vec::len).collect();
        let pair = (0..nodes, 0..nodes, vec(vec(0..9u32, 4), 4)).prop_filter_map("of two nodes", move |(a, b, costs)| {
            let costs = costs.into_iter().take(sizes[a]).map(|row| row.into_iter().take(sizes[b]).collect()).collect();
            (a != b).then_some(Pair { a, b, costs })
        });
        let most = if nodes > 1 { 12 } else { 0 };
        (Just(alone), vec(pair, 0..=most)).prop_map(|(alone, pairs)| Choices::new(alone, pairs).expect("well formed"))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, rng_seed: RngSeed::Fixed(1972), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_choices_get_the_least_of_all_cases(problem in any_choices()) {
        let proven = cheapest(&problem, Budget::default());
        prop_assert_eq!(check(&problem, &proven), Ok(()));
        prop_assert!(proven.is_best());
        prop_assert_eq!(proven.cost, by_trying_all(&problem));
    }

    #[test]
    fn with_little_budget_the_least_lies_between_bound_and_cost(problem in any_choices(), steps in 0..3000u64) {
        let proven = cheapest(&problem, Budget::steps(steps));
        prop_assert_eq!(check(&problem, &proven), Ok(()));
        let least = by_trying_all(&problem);
        prop_assert!(proven.bound <= least && least <= proven.cost, "{:?}, least {}", proven, least);
    }

    /// What each pair costs at its cheapest, taken by itself, is the bound that anyone would think of first.
    #[test]
    fn the_bound_is_never_below_the_sum_of_least_terms(problem in any_choices()) {
        let alone: u64 = problem.alone.iter().map(|costs| u64::from(*costs.iter().min().expect("a label"))).sum();
        let pairs: u64 = problem.pairs.iter().map(|pair| u64::from(*pair.costs.iter().flatten().min().expect("a cost"))).sum();
        prop_assert!(cheapest(&problem, Budget::steps(0)).bound >= alone + pairs);
    }

    /// Shifted costs are the same for all labels, but for what all of them pay.
    #[test]
    fn shifting_costs_changes_no_sum(problem in any_choices()) {
        for part in parts(&problem) {
            let (shifted, paid) = shift::shift(&part, &mut Budget::default());
            let sum = |part: &Part, label: usize| -> u64 {
                let label = |node: usize| (label + node) % part.alone[node].len();
                let pairs = part.pairs.iter().map(|(&(a, b), costs)| costs[label(a) + part.alone[a].len() * label(b)]);
                part.alone.iter().enumerate().map(|(node, costs)| costs[label(node)]).sum::<u64>() + pairs.sum::<u64>()
            };
            for label in 0..4 {
                prop_assert_eq!(sum(&part, label) << shift::SHIFT, sum(&shifted, label) + paid);
            }
        }
    }
}

#[test]
fn a_wide_grid_is_bounded_and_says_that_it_is_not_proven() {
    const SIDE: usize = 16;
    let mut chance = crate::chance::Chance::new(15);
    let mut pair = |a, b| Pair { a, b, costs: (0..4).map(|_| (0..4).map(|_| chance.below(9) as u32).collect()).collect() };
    let across = (0..SIDE * SIDE).filter(|node| node % SIDE > 0).map(|node| (node - 1, node));
    let pairs: Vec<Pair> = across.chain((SIDE..SIDE * SIDE).map(|node| (node - SIDE, node))).map(|(a, b)| pair(a, b)).collect();
    let problem = Choices::new(vec![vec![0; 4]; SIDE * SIDE], pairs).expect("well formed");
    let proven = cheapest(&problem, Budget::steps(3_000_000));
    assert_eq!(check(&problem, &proven), Ok(()));
    assert!(!proven.is_best() && proven.by == Argument::Buckets);
    // A true bound for comparison: every row by itself is a chain, solved exactly, with the pairs between rows at their least.
    let row = |row: usize| {
        let inside = |pair: &&Pair| pair.a / SIDE == row && pair.b / SIDE == row;
        let pairs = problem.pairs.iter().filter(inside).map(|pair| Pair { a: pair.a % SIDE, b: pair.b % SIDE, ..pair.clone() });
        let row = Choices::new(vec![vec![0; 4]; SIDE], pairs.collect()).expect("well formed");
        cheapest(&row, Budget::default()).cost
    };
    assert!(proven.bound > (0..SIDE).map(row).sum::<u64>());
}
