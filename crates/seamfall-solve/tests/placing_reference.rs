//! Placings against a general-purpose exact solver.
//!
//! `reference/placing.json` was made by `reference/placing.py` with OR-Tools' CP-SAT 9.15: its instances and their least costs, each proven there. To
//! make it anew: `python3 placing.py > placing.json` in that folder.

use seamfall_solve::Budget;
use seamfall_solve::placing::{Meeting, Placing, check, place};

#[derive(serde::Deserialize)]
struct Instance {
    name: String,
    columns: usize,
    rows: usize,
    sides: Vec<[i64; 4]>,
    kinds: Vec<usize>,
    fixed: Vec<bool>,
    least: u64,
}

#[test]
fn placings_are_those_of_an_exact_solver() {
    let instances: Vec<Instance> = serde_json::from_str(include_str!("reference/placing.json")).expect("the stored results read");
    assert!(instances.len() >= 20, "{}", instances.len());
    let mut proven_here = 0;
    for Instance { name, columns, rows, sides, kinds, fixed, least } in instances {
        let at = |x: usize, y: usize| y * columns + x;
        let level = (0..rows).flat_map(|y| (1..columns).map(move |x| [(at(x - 1, y), 1), (at(x, y), 3)]));
        let upright = (1..rows).flat_map(|y| (0..columns).map(move |x| [(at(x, y - 1), 2), (at(x, y), 0)]));
        let meetings = level.chain(upright).map(|ends| Meeting { ends }).collect();
        let problem = Placing::new(sides, kinds, fixed, meetings).expect("well formed");
        let placed = place(&problem, Budget::steps(40_000_000));
        assert_eq!(check(&problem, &placed), Ok(()), "{name}");
        assert_eq!(placed.cost, least, "{name}");
        assert!(placed.bound <= least, "{name}: bound {}", placed.bound);
        proven_here += usize::from(placed.is_best());
    }
    assert!(proven_here >= 14, "{proven_here}");
}
