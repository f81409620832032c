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
}
