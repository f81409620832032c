//! Whether paths are what they say, from the definition alone.
//!
//! In: the problem and an answer. Out: nothing, or what is wrong. Lines, ways and their uses are looked at one by one; the bound is
//! counted anew from the nodes that prove it. Shares no code with the search.

use super::{Lines, Paths, Step};
use crate::Proven;
use std::collections::{BTreeMap, BTreeSet};

/// What is wrong with an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A line is not gone along exactly once.
    #[error("line {line} is gone along {times} times")]
    Line {
        /// The line.
        line: usize,
        /// How often.
        times: usize,
    },
    /// A step does not start where the one before ends.
    #[error("path {path} is torn after step {step}")]
    Torn {
        /// The path.
        path: usize,
        /// The step.
        step: usize,
    },
    /// A path is empty, or starts or ends hidden.
    #[error("path {path} has a hidden end")]
    HiddenEnd {
        /// The path.
        path: usize,
    },
    /// A way is neither a travel between odd nodes, nor gone there and back, nor the one way to a tour at a path's end.
    #[error("way {way} is used as it must not be")]
    Way {
        /// The way.
        way: usize,
    },
    /// Two travels end at one node.
    #[error("two travels end at node {node}")]
    Travels {
        /// The node.
        node: usize,
    },
    /// The number of paths is not the cost.
    #[error("there are {paths} paths, not {said}")]
    Cost {
        /// How many there are.
        paths: u64,
        /// What the answer says.
        said: u64,
    },
    /// The nodes given prove another bound, or one above the cost.
    #[error("the bound is {proven}, not {said}")]
    Bound {
        /// What they prove.
        proven: u64,
        /// What the answer says.
        said: u64,
    },
}

/// Goes along the paths, and holds cost and bound against what is found.
///
/// # Errors
/// [`Fault`], the first in its order.
pub fn check(problem: &Lines, proven: &Proven<Paths>) -> Result<(), Fault> {
    let paths = &proven.answer.paths;
    let mut times = vec![0; problem.lines().len()];
    for (number, path) in paths.iter().enumerate() {
        let ends_hidden = |step: Option<&Step>| step.is_none_or(|step| !step.is_line());
        if ends_hidden(path.first()) || ends_hidden(path.last()) {
            return Err(Fault::HiddenEnd { path: number });
        }
        if let Some(step) = path.windows(2).position(|pair| pair[0].ends(problem)[1] != pair[1].ends(problem)[0]) {
            return Err(Fault::Torn { path: number, step });
        }
        for step in path {
            if let Step::Line { line, .. } = step {
                times[*line] += 1;
            }
        }
    }
    if let Some(line) = times.iter().position(|&times| times != 1) {
        return Err(Fault::Line { line, times: times[line] });
    }
    ways(problem, paths)?;
    if paths.len() as u64 != proven.cost {
        return Err(Fault::Cost { paths: paths.len() as u64, said: proven.cost });
    }
    let bound = bound(problem, &proven.answer.barrier);
    if bound != proven.bound || bound > proven.cost {
        return Err(Fault::Bound { proven: bound, said: proven.bound });
    }
    Ok(())
}

/// Whether every way is used in one of the manners it may be.
fn ways(problem: &Lines, paths: &[Vec<Step>]) -> Result<(), Fault> {
    let mut uses: BTreeMap<usize, Vec<(usize, bool)>> = BTreeMap::new();
    for (number, path) in paths.iter().enumerate() {
        for step in path {
            if let Step::Way { way, back } = *step {
                uses.entry(way).or_default().push((number, back));
            }
        }
    }
    let both = |uses: &[(usize, bool)]| matches!(uses, [(p, there), (q, back)] if p == q && there != back);
    if let Some((&way, _)) = uses.iter().find(|(_, uses)| uses.len() > 1 && !both(uses)) {
        return Err(Fault::Way { way });
    }
    let known: BTreeSet<[usize; 2]> = problem.ways().iter().flat_map(|way| [way.ends, [way.ends[1], way.ends[0]]]).collect();
    let (degrees, none) = (problem.degrees(), BTreeSet::new());
    let mut met = BTreeSet::new();
    for path in paths {
        let once: Vec<(usize, [usize; 2])> = path
            .iter()
            .filter_map(|step| match *step {
                Step::Way { way, .. } if uses[&way].len() == 1 => Some((way, step.ends(problem))),
                _ => None,
            })
            .collect();
        let ends = [path[0].ends(problem)[0], path[path.len() - 1].ends(problem)[1]];
        // Which ways tie a tour that need not close, and which are travels, can be seen in two ways; one must do.
        let strict = travels(&degrees, between_tours(once.clone(), ends, &none), &met);
        met = strict.or_else(|_| travels(&degrees, between_tours(once, ends, &known), &met))?;
    }
    Ok(())
}

/// Adds the ends of travels to those met before: odd nodes, each once.
fn travels(degrees: &[u32], once: Vec<(usize, [usize; 2])>, met: &BTreeSet<usize>) -> Result<BTreeSet<usize>, Fault> {
    let mut met = met.clone();
    for (way, ends) in once {
        for node in ends {
            if degrees[node].is_multiple_of(2) {
                return Err(Fault::Way { way });
            }
            if !met.insert(node) {
                return Err(Fault::Travels { node });
            }
        }
    }
    Ok(met)
}

/// Of the ways gone once on a path, those that do not merely tie tours to its start or its end: the one half of there and back. What
/// lies between two such ways, or before or behind them, closes, or would close along one of the ways `known`.
fn between_tours(
    mut once: Vec<(usize, [usize; 2])>,
    [start, end]: [usize; 2],
    known: &BTreeSet<[usize; 2]>,
) -> Vec<(usize, [usize; 2])> {
    let closes = |a: usize, b: usize| a == b || known.contains(&[a, b]);
    for mut at in [start, end] {
        once.retain(|&(_, [from, to])| {
            let ties = closes(from, at);
            at = if ties { to } else { at };
            !ties
        });
        once.reverse();
        once.iter_mut().for_each(|(_, ends)| ends.reverse());
    }
    once
}

/// Parts of a graph: for every node the lowest node it hangs together with, by `links`.
fn parts(nodes: usize, links: impl Iterator<Item = [usize; 2]>) -> Vec<usize> {
    let mut beside = vec![Vec::new(); nodes];
    for [a, b] in links {
        beside[a].push(b);
        beside[b].push(a);
    }
    let mut part = vec![usize::MAX; nodes];
    for first in 0..nodes {
        let mut rest = vec![first];
        while let Some(node) = rest.pop() {
            if part[node] == usize::MAX {
                part[node] = first;
                rest.extend(&beside[node]);
            }
        }
    }
    part
}

/// A lower bound of the paths: over all clusters, half of the odd nodes that any pairing leaves single, or one. With the nodes of
/// `barrier` taken out, every odd part of the rest leaves a node to be paired with one of them, or single.
pub(super) fn bound(problem: &Lines, barrier: &[usize]) -> u64 {
    let (nodes, degrees) = (problem.nodes(), problem.degrees());
    let ends = |links: &[super::Link]| links.iter().map(|link| link.ends).collect::<Vec<_>>();
    let lined = |pair: &[usize; 2]| pair.iter().all(|&end| degrees[end] > 0);
    let cluster = parts(nodes, ends(problem.lines()).into_iter().chain(ends(problem.ways()).into_iter().filter(lined)));
    let mut taken = vec![false; nodes];
    for &node in barrier {
        taken[node] = true;
    }
    let stays = |node: usize| degrees[node] % 2 == 1 && !taken[node];
    let part = parts(nodes, ends(problem.ways()).into_iter().filter(|pair| pair.iter().all(|&end| stays(end))));
    let mut sizes = vec![0u64; nodes];
    for node in (0..nodes).filter(|&node| stays(node)) {
        sizes[part[node]] += 1;
    }
    // Of every cluster: odd parts less barrier nodes.
    let mut single: BTreeMap<usize, i64> = BTreeMap::new();
    for node in 0..nodes {
        if degrees[node] > 0 {
            *single.entry(cluster[node]).or_default() += (sizes[node] % 2) as i64 - i64::from(taken[node]);
        }
    }
    single.values().map(|&left| u64::try_from(left).unwrap_or(0).div_ceil(2).max(1)).sum()
}

/// How many paths it takes without any way.
pub(super) fn without_ways(problem: &Lines) -> u64 {
    let degrees = problem.degrees();
    let group = parts(problem.nodes(), problem.lines().iter().map(|line| line.ends));
    let mut odd: BTreeMap<usize, u64> = BTreeMap::new();
    for (node, &degree) in degrees.iter().enumerate().filter(|(_, degree)| **degree > 0) {
        *odd.entry(group[node]).or_default() += u64::from(degree % 2);
    }
    odd.values().map(|odd| (odd / 2).max(1)).sum()
}
