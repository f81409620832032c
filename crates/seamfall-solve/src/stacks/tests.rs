//! Tests of the solver as a whole.

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;

fn edge(a: usize, b: usize, same: bool, weight: u32) -> SignedEdge {
    SignedEdge { a, b, same, weight }
}

/// Solves, checks the answer from the definition, and gives the least cost, which must be proven.
fn least(problem: &Signed) -> u64 {
    let proven = fewest(problem, Budget::default());
    assert_eq!(check(problem, &proven), Ok(()));
    assert!(proven.is_best(), "{proven:?}");
    proven.cost
}

/// Least cost by trying all values of the nodes that are not given.
fn by_trying_all(problem: &Signed) -> u64 {
    let cost = |case: usize| -> Option<u64> {
        let value = |node: usize| case >> node & 1 == 1;
        if (0..problem.nodes()).any(|node| problem.given(node).is_some_and(|given| given != value(node))) {
            return None;
        }
        let unmet = problem.edges().iter().filter(|edge| (value(edge.a) == value(edge.b)) != edge.same);
        Some(unmet.map(|edge| u64::from(edge.weight)).sum())
    };
    (0..1 << problem.nodes()).filter_map(cost).min().expect("given values do not contradict each other")
}

/// Every signed graph without loops or parallel edges up to 5 nodes: each pair same, opposite or not joined.
#[test]
fn every_small_graph_gets_the_least_of_all_cases() {
    for nodes in 0..=5usize {
        let pairs: Vec<_> = (0..nodes).flat_map(|a| (0..a).map(move |b| (a, b))).collect();
        for mut code in 0..3usize.pow(pairs.len() as u32) {
            let mut edges = Vec::new();
            for &(a, b) in &pairs {
                if code % 3 > 0 {
                    edges.push(edge(a, b, code % 3 == 1, 1));
                }
                code /= 3;
            }
            let problem = Signed::new(nodes, edges, &[]).expect("well formed");
            assert_eq!(least(&problem), by_trying_all(&problem), "{problem:?}");
        }
    }
}

/// Signed graphs up to 14 nodes with loops, parallel edges, edges without weight and given values.
fn any_problem() -> impl Strategy<Value = Signed> {
    (2..=14usize).prop_flat_map(|nodes| {
        let edges =
            vec((0..nodes, 0..nodes, any::<bool>(), 0..7u32).prop_map(|(a, b, same, weight)| edge(a, b, same, weight)), 0..40);
        let given = vec(prop_oneof![4 => Just(None), 1 => any::<bool>().prop_map(Some)], nodes);
        (edges, given).prop_map(move |(edges, given)| {
            let fixed: Vec<_> = given.iter().enumerate().filter_map(|(node, &value)| Some((node, value?))).collect();
            Signed::new(nodes, edges, &fixed).expect("well formed")
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, rng_seed: proptest::test_runner::RngSeed::Fixed(1953), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_graphs_get_the_least_of_all_cases(problem in any_problem()) {
        prop_assert_eq!(least(&problem), by_trying_all(&problem));
    }

    #[test]
    fn with_no_budget_the_least_lies_between_bound_and_cost(problem in any_problem(), steps in 0..2000u64) {
        let proven = fewest(&problem, Budget::steps(steps));
        prop_assert_eq!(check(&problem, &proven), Ok(()));
        let least = by_trying_all(&problem);
        prop_assert!(proven.bound <= least && least <= proven.cost, "{:?}, least {}", proven, least);
    }
}
