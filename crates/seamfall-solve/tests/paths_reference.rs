//! Fewest paths against a general-purpose graph library.
//!
//! `reference/paths.json` was made by `reference/paths.py` with networkx 3.6: its figures, their components and their matchings. To
//! make it anew: `python3 paths.py > paths.json` in that folder.

use seamfall_solve::Budget;
use seamfall_solve::paths::{Lines, Link, check, fewest};

#[derive(serde::Deserialize)]
struct Figure {
    name: String,
    nodes: usize,
    lines: Vec<(usize, usize, u32)>,
    ways: Vec<(usize, usize, u32)>,
    unaided: u64,
    least: u64,
    travelled: u64,
}

#[test]
fn the_fewest_paths_are_those_of_a_graph_library() {
    let figures: Vec<Figure> = serde_json::from_str(include_str!("reference/paths.json")).expect("the stored results read");
    assert!(figures.len() >= 20, "{}", figures.len());
    assert!(figures.iter().filter(|figure| figure.least < figure.unaided).count() >= 20, "ways must matter");
    for Figure { name, nodes, lines, ways, unaided, least, travelled } in figures {
        let links = |list: Vec<(usize, usize, u32)>| list.into_iter().map(|(a, b, length)| Link::new(a, b, length)).collect();
        let problem = Lines::new(nodes, links(lines), links(ways)).expect("well formed");
        let proven = fewest(&problem, &mut Budget::default());
        assert_eq!(check(&problem, &proven), Ok(()), "{name}");
        assert_eq!((proven.cost, proven.bound, proven.answer.unaided), (least, least, unaided), "{name}");
        assert_eq!((proven.answer.travelled, proven.answer.travel_bound), (travelled, travelled), "{name}");
    }
}
