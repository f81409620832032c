//! Tests of paths as a whole.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::*;

fn links(ends: &[(usize, usize)]) -> Vec<Link> {
    ends.iter().map(|&(a, b)| Link::new(a, b, 10)).collect()
}

/// Solves, checks the answer from the definition, and gives number of paths and length of the travels, which must be proven.
fn least(problem: &Lines) -> (u64, u64) {
    let proven = fewest(problem, &mut Budget::default());
    assert_eq!(check(problem, &proven), Ok(()), "{problem:?} {proven:?}");
    assert!(proven.is_best(), "{problem:?} {proven:?}");
    assert_eq!(proven.answer.travelled, proven.answer.travel_bound, "{problem:?}");
    (proven.cost, proven.answer.travelled)
}

/// Told of every pairing: which odd nodes stay single, how many pairs, their length.
type Found<'a> = dyn FnMut(&[bool], (u64, u64)) + 'a;

/// Fewest paths, and shortest travels of a largest pairing, by trying all pairings.
fn by_trying_all(problem: &Lines) -> (u64, u64) {
    let degrees = problem.degrees();
    let travels = problem.travels(&degrees);
    let mut cluster = Sets::new(problem.nodes());
    let lined = |link: &&Link| link.ends.iter().all(|&end| degrees[end] > 0);
    problem.lines().iter().chain(problem.ways().iter().filter(lined)).for_each(|link| cluster.join(link.ends[0], link.ends[1]));
    let of: Vec<usize> = (0..problem.nodes()).map(|node| cluster.of(node)).collect();
    let starts = |single: &[bool]| -> u64 {
        let count = |c: usize| (0..of.len()).filter(|&node| of[node] == c && single[node]).count() as u64;
        (0..of.len()).filter(|&c| of[c] == c && degrees[c] > 0).map(|c| (count(c) / 2).max(1)).sum()
    };
    fn pairings(problem: &Lines, rest: &[usize], single: &mut Vec<bool>, so_far: (u64, u64), found: &mut Found<'_>) {
        let Some((&way, rest)) = rest.split_first() else { return found(single, so_far) };
        pairings(problem, rest, single, so_far, found);
        let Link { ends: [a, b], length } = problem.ways()[way];
        if single[a] && single[b] {
            (single[a], single[b]) = (false, false);
            pairings(problem, rest, single, (so_far.0 + 1, so_far.1 + u64::from(length)), found);
            (single[a], single[b]) = (true, true);
        }
    }
    let mut single: Vec<bool> = degrees.iter().map(|degree| degree % 2 == 1).collect();
    let (mut fewest, mut best) = (u64::MAX, (0, 0));
    pairings(problem, &travels, &mut single, (0, 0), &mut |single, (pairs, length)| {
        fewest = fewest.min(starts(single));
        if pairs > best.0 || (pairs == best.0 && length < best.1) {
            best = (pairs, length);
        }
    });
    (fewest, best.1)
}

/// Half of the odd points, and one if there is none. Source: L. Euler, "Solutio problematis ad geometriam situs pertinentis", 1741.
/// Counts made by hand from the figures.
#[test]
fn without_ways_it_takes_half_the_odd_nodes() {
    let square: &[(usize, usize)] = &[(0, 1), (1, 2), (2, 3), (3, 0)];
    let bridges: &[(usize, usize)] = &[(0, 1), (0, 1), (0, 2), (0, 2), (0, 3), (1, 3), (2, 3)];
    let star: &[(usize, usize)] = &[(0, 1), (0, 2), (0, 3), (0, 4), (0, 5)];
    let ring: &[(usize, usize)] = &[(0, 0)];
    let two_rings: &[(usize, usize)] = &[(0, 0), (1, 1)];
    for (figure, lines, paths) in [
        ("square", square, 1),
        ("seven bridges", bridges, 2),
        ("five spokes", star, 3),
        ("ring", ring, 1),
        ("two rings", two_rings, 2),
    ] {
        let problem = Lines::new(6, links(lines), Vec::new()).expect("well formed");
        assert_eq!(least(&problem).0, paths, "{figure}");
        assert_eq!(fewest(&problem, &mut Budget::default()).answer.unaided, paths, "{figure}");
    }
}

/// Parallel lines in a row, each end within reach of the next line's: one path to and fro. Counted by hand.
#[test]
fn parallel_lines_are_one_path() {
    let lines: Vec<_> = (0..9).map(|line| Link::new(2 * line, 2 * line + 1, 100)).collect();
    let ways = (0..8).flat_map(|line| [Link::new(2 * line, 2 * line + 2, 5), Link::new(2 * line + 1, 2 * line + 3, 5)]).collect();
    let proven = fewest(&Lines::new(18, lines, ways).expect("well formed"), &mut Budget::default());
    assert_eq!((proven.cost, proven.bound, proven.answer.unaided), (1, 1, 9));
    assert_eq!(proven.answer.paths[0].iter().filter(|step| !step.is_line()).count(), 8);
}

/// A ring within reach of a line is done on the way: one path, there and back.
#[test]
fn a_ring_beside_a_line_is_a_detour() {
    let problem = Lines::new(4, links(&[(0, 1), (1, 2), (3, 3)]), vec![Link::new(1, 3, 4)]).expect("well formed");
    let proven = fewest(&problem, &mut Budget::default());
    assert_eq!(check(&problem, &proven), Ok(()));
    let line = |line, back| Step::Line { line, back };
    let way = |back| Step::Way { way: 0, back };
    let path = vec![line(0, false), way(false), line(2, false), way(true), line(1, false)];
    let back: Vec<Step> = vec![line(1, true), way(false), line(2, false), way(true), line(0, true)];
    assert!(proven.answer.paths == [path] || proven.answer.paths == [back], "{:?}", proven.answer.paths);
}

#[test]
fn a_node_that_is_not_there_is_refused() {
    assert_eq!(Lines::new(2, links(&[(0, 2)]), Vec::new()), Err(NoSuchNode { node: 2, nodes: 2 }));
}

#[test]
fn the_check_finds_what_is_wrong() {
    let problem = Lines::new(4, links(&[(0, 1), (2, 3)]), vec![Link::new(1, 2, 4)]).expect("well formed");
    let good = fewest(&problem, &mut Budget::default());
    assert_eq!(check(&problem, &good), Ok(()));
    let with = |paths: Vec<Vec<Step>>, cost: u64| {
        let mut wrong = good.clone();
        (wrong.answer.paths, wrong.cost) = (paths, cost);
        check(&problem, &wrong)
    };
    let (first, second) = (Step::Line { line: 0, back: false }, Step::Line { line: 1, back: false });
    let way = Step::Way { way: 0, back: false };
    assert_eq!(with(vec![vec![first]], 1), Err(Fault::Line { line: 1, times: 0 }));
    assert_eq!(with(vec![vec![first, second]], 1), Err(Fault::Torn { path: 0, step: 0 }));
    assert_eq!(with(vec![vec![first, way]], 1), Err(Fault::HiddenEnd { path: 0 }));
    assert_eq!(with(vec![vec![first], vec![second]], 1), Err(Fault::Cost { paths: 2, said: 1 }));
    let mut wrong = good;
    wrong.bound = 0;
    assert_eq!(check(&problem, &wrong), Err(Fault::Bound { proven: 1, said: 0 }));
}

/// Every graph of 4 nodes, each pair with nothing, a line, a way, or both; and every one of 5 without both.
#[test]
fn every_small_graph_gets_the_least_of_all_pairings() {
    for (nodes, cases) in [(2usize, 4usize), (3, 4), (4, 4), (5, 3)] {
        let pairs: Vec<_> = (0..nodes).flat_map(|a| (0..a).map(move |b| (a, b))).collect();
        for mut code in 0..cases.pow(pairs.len() as u32) {
            let (mut lines, mut ways) = (Vec::new(), Vec::new());
            for (k, &(a, b)) in pairs.iter().enumerate() {
                if code % cases % 2 == 1 {
                    lines.push(Link::new(a, b, 10));
                }
                if code % cases > 1 {
                    ways.push(Link::new(a, b, [3, 7, 4, 5, 9, 2, 6, 8, 1, 3][k]));
                }
                code /= cases;
            }
            let problem = Lines::new(nodes, lines, ways).expect("well formed");
            assert_eq!(least(&problem), by_trying_all(&problem), "{problem:?}");
        }
    }
}

/// Up to 14 nodes, with rings of one line, parallel lines and parallel ways.
fn any_problem() -> impl Strategy<Value = Lines> {
    (2..=14usize).prop_flat_map(|nodes| {
        let link = |longest: u32| (0..nodes, 0..nodes, 1..longest).prop_map(|(a, b, length)| Link::new(a, b, length));
        (vec(link(100), 0..16), vec(link(9), 0..18))
            .prop_map(move |(lines, ways)| Lines::new(nodes, lines, ways).expect("well formed"))
    })
}

/// Many lines that touch nothing, whose ends reach each other at random: blossoms in blossoms.
fn only_pairing() -> impl Strategy<Value = Lines> {
    (1..=60usize).prop_flat_map(|lines| {
        let way = (0..2 * lines, 0..2 * lines, 1..40u32).prop_map(|(a, b, length)| Link::new(a, b, length));
        vec(way, 0..5 * lines).prop_map(move |ways| {
            Lines::new(2 * lines, (0..lines).map(|k| Link::new(2 * k, 2 * k + 1, 50)).collect(), ways).expect("well formed")
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, rng_seed: RngSeed::Fixed(1741), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_graphs_get_the_least_of_all_pairings(problem in any_problem()) {
        prop_assert_eq!(least(&problem), by_trying_all(&problem));
    }

    /// The bounds of number and of length are met by every answer, and proven by nodes and worths alone.
    #[test]
    fn large_pairings_meet_their_bounds(problem in only_pairing()) {
        least(&problem);
    }

    #[test]
    fn with_no_budget_the_answer_is_still_one(problem in only_pairing(), steps in 0..3000u64) {
        let proven = fewest(&problem, &mut Budget::steps(steps));
        prop_assert_eq!(check(&problem, &proven), Ok(()));
        prop_assert!(proven.answer.travel_bound <= proven.answer.travelled);
        prop_assert!(proven.bound <= least(&problem).0 && least(&problem).0 <= proven.cost);
    }
}
