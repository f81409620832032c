//! From lines and chosen travels to paths.
//!
//! In: the problem, and the travels of a pairing. Out: the paths. Lines and travels that hang together are a *piece*. A piece with
//! single odd nodes is walked in half as many paths as there are such nodes; one without is a tour. Single nodes are tied to each
//! other by threads that nobody sews, so that one closed walk goes along everything (C. Hierholzer, "Ueber die Möglichkeit, einen
//! Linienzug ohne Wiederholung und ohne Unterbrechung zu umfahren", 1873), and is cut where the threads are.
//!
//! Tours are then hung on as detours: from the pieces with paths, or from the first tour where a cluster has none, the nearest tour
//! first (R. Prim, "Shortest connection networks and some generalizations", 1957).

use super::{Lines, Sets, Step};
use std::borrow::Cow;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// A walk through one piece.
struct Walk {
    steps: Vec<Step>,
    /// Whether it ends where it starts, and can start anywhere.
    tour: bool,
}

/// A tour hung on a node: the step there, and the piece.
#[derive(Clone, Copy)]
struct Detour {
    there: Step,
    piece: usize,
}

/// Paths along all lines, with the `travels` given (ways, no two at a node).
pub(super) fn walk(problem: &Lines, degrees: &[u32], travels: &[usize]) -> Vec<Vec<Step>> {
    let mut sets = Sets::new(problem.nodes());
    for [a, b] in problem.lines().iter().map(|line| line.ends).chain(travels.iter().map(|&way| problem.ways()[way].ends)) {
        sets.join(a, b);
    }
    let piece: Vec<usize> = (0..problem.nodes()).map(|node| sets.of(node)).collect();
    let mut travelled = vec![false; problem.nodes()];
    for end in travels.iter().flat_map(|&way| problem.ways()[way].ends) {
        travelled[end] = true;
    }
    let mut walks = walks(problem, degrees, travels, &piece, &travelled);
    let detours = hang(problem, degrees, &piece, &travelled, &walks);
    let mut home = vec![None; problem.nodes()];
    for detour in detours.values().flatten() {
        home[detour.piece] = Some(detour.there.ends(problem)[1]);
    }
    for (&piece, walks) in &mut walks {
        for walk in walks.iter_mut().filter(|walk| walk.tour) {
            match home[piece] {
                Some(node) => turn_to(problem, &mut walk.steps, node),
                None => open_up(problem, &mut walk.steps),
            }
        }
    }
    let plans: BTreeMap<usize, Vec<Planned>> = walks
        .into_iter()
        .map(|(piece, walks)| (piece, plan(problem, walks, detours.get(&piece).map_or(&[], |list| list))))
        .collect();
    let roots = plans.iter().filter(|(piece, _)| home[**piece].is_none());
    roots.flat_map(|(_, planned)| planned.iter().map(|one| emit(one, &plans))).map(trimmed).collect()
}

/// The walks of every piece, by its number.
fn walks(problem: &Lines, degrees: &[u32], travels: &[usize], piece: &[usize], travelled: &[bool]) -> BTreeMap<usize, Vec<Walk>> {
    // Single odd nodes by piece, in their order.
    let mut single: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for node in (0..problem.nodes()).filter(|&node| degrees[node] % 2 == 1 && !travelled[node]) {
        single.entry(piece[node]).or_default().push(node);
    }
    let mut edges: Vec<([usize; 2], Option<Step>)> = Vec::new();
    let forward = |line: usize| Step::Line { line, back: false };
    edges.extend(problem.lines().iter().enumerate().map(|(line, link)| (link.ends, Some(forward(line)))));
    edges.extend(travels.iter().map(|&way| (problem.ways()[way].ends, Some(Step::Way { way, back: false }))));
    for nodes in single.values() {
        // The first with the last, so that neighbours in the order are the ends of one path less often.
        let n = nodes.len();
        edges.extend((0..n / 2).map(|k| ([nodes[(2 * k + n - 1) % n], nodes[2 * k]], None)));
    }
    let ends: Vec<(u32, u32)> = edges.iter().map(|(ends, _)| (ends[0] as u32, ends[1] as u32)).collect();
    let (starts, halves) = super::matching::incidence(problem.nodes(), &ends);
    let mut next: Vec<usize> = starts[..problem.nodes()].iter().map(|&at| at as usize).collect();
    let mut used = vec![false; edges.len()];
    let mut all: BTreeMap<usize, Vec<Walk>> = BTreeMap::new();
    for node in 0..problem.nodes() {
        if degrees[node] == 0 || all.contains_key(&piece[node]) {
            continue;
        }
        let closed = circuit(node, &ends, &starts, &halves, &mut next, &mut used);
        let steps: Vec<Option<Step>> = closed
            .into_iter()
            .map(|half| edges[half as usize / 2].1.map(|step| if half % 2 == 1 { step.turned() } else { step }))
            .collect();
        all.insert(piece[node], cut(steps));
    }
    all
}

/// A closed walk from `start` along every edge that can be reached, as halves.
fn circuit(start: usize, ends: &[(u32, u32)], starts: &[u32], halves: &[u32], next: &mut [usize], used: &mut [bool]) -> Vec<u32> {
    let (mut stack, mut closed) = (vec![(start, u32::MAX)], Vec::new());
    while let Some(&(node, half)) = stack.last() {
        let free = (next[node]..starts[node + 1] as usize).find(|&at| !used[halves[at] as usize / 2]);
        let Some(at) = free else {
            next[node] = starts[node + 1] as usize;
            stack.pop();
            if half != u32::MAX {
                closed.push(half);
            }
            continue;
        };
        next[node] = at + 1;
        let out = halves[at];
        used[out as usize / 2] = true;
        let (a, b) = ends[out as usize / 2];
        stack.push((if out.is_multiple_of(2) { b } else { a } as usize, out));
    }
    closed.reverse();
    closed
}

/// Cuts a closed walk at its threads.
fn cut(mut steps: Vec<Option<Step>>) -> Vec<Walk> {
    let Some(first) = steps.iter().position(Option::is_none) else {
        return vec![Walk { steps: steps.into_iter().flatten().collect(), tour: true }];
    };
    steps.rotate_left(first + 1);
    steps
        .split(Option::is_none)
        .filter(|run| !run.is_empty())
        .map(|run| Walk { steps: run.iter().copied().flatten().collect(), tour: false })
        .collect()
}

/// Which tours hang where: by the piece they hang on.
fn hang(
    problem: &Lines,
    degrees: &[u32],
    piece: &[usize],
    travelled: &[bool],
    walks: &BTreeMap<usize, Vec<Walk>>,
) -> BTreeMap<usize, Vec<Detour>> {
    let is_tour = |piece: usize| walks[&piece].iter().all(|walk| walk.tour);
    // Ways between pieces, from both sides.
    let mut from: BTreeMap<usize, Vec<(usize, bool)>> = BTreeMap::new();
    for (way, link) in problem.ways().iter().enumerate() {
        let [a, b] = link.ends;
        if degrees[a] > 0 && degrees[b] > 0 && piece[a] != piece[b] {
            from.entry(piece[a]).or_default().push((way, false));
            from.entry(piece[b]).or_default().push((way, true));
        }
    }
    // A hidden way at a node where a travel meets a single line would follow on another.
    let strung = |node: usize| travelled[node] && degrees[node] == 1;
    let mut hung: BTreeMap<usize, Vec<Detour>> = BTreeMap::new();
    let mut reached = vec![false; problem.nodes()];
    let mut queue = BinaryHeap::new();
    let reach = |piece_reached: usize, queue: &mut BinaryHeap<_>, reached: &mut Vec<bool>| {
        reached[piece_reached] = true;
        for &(way, back) in from.get(&piece_reached).into_iter().flatten() {
            let link = &problem.ways()[way];
            queue.push(Reverse((link.ends.iter().filter(|&&end| strung(end)).count(), link.length, way, back)));
        }
    };
    for &open in walks.keys().filter(|&&piece| !is_tour(piece)) {
        reach(open, &mut queue, &mut reached);
    }
    let mut firsts = walks.keys();
    loop {
        while let Some(Reverse((_, _, way, back))) = queue.pop() {
            let there = Step::Way { way, back };
            let [a, b] = there.ends(problem);
            if !reached[piece[b]] {
                hung.entry(piece[a]).or_default().push(Detour { there, piece: piece[b] });
                reach(piece[b], &mut queue, &mut reached);
            }
        }
        match firsts.find(|&&piece| !reached[piece]) {
            Some(&first) => reach(first, &mut queue, &mut reached),
            None => break,
        }
    }
    hung
}

/// Starts a tour at `node`; best between two lines.
fn turn_to(problem: &Lines, steps: &mut [Step], node: usize) {
    let n = steps.len();
    let here = (0..n).filter(|&at| steps[at].ends(problem)[0] == node);
    let hidden = |at: usize| usize::from(!steps[at].is_line()) + usize::from(!steps[(at + n - 1) % n].is_line());
    if let Some(at) = here.min_by_key(|&at| (hidden(at), at)) {
        steps.rotate_left(at);
    }
}

/// Leaves out the longest travel of a tour on which nothing depends: it need not close.
fn open_up(problem: &Lines, steps: &mut Vec<Step>) {
    let length = |at: &usize| match steps[*at] {
        Step::Way { way, .. } => problem.ways()[way].length,
        Step::Line { .. } => 0,
    };
    let hidden = (0..steps.len()).filter(|&at| !steps[at].is_line());
    if let Some(at) = hidden.max_by_key(|at| (length(at), Reverse(*at))) {
        steps.rotate_left(at + 1);
        steps.pop();
    }
}

/// A walk with the detours that start before each of its steps (or after the last), in the order of the walk.
#[derive(Clone)]
struct Planned {
    steps: Vec<Step>,
    detours: Vec<(usize, Detour)>,
}

impl Planned {
    /// The same the other way round.
    fn turned(&self) -> Self {
        let places = self.detours.iter().rev().map(|&(at, detour)| (self.steps.len() - at, detour));
        Self { steps: self.steps.iter().rev().map(|step| step.turned()).collect(), detours: places.collect() }
    }

    /// A tour as the last part of a path: it starts with a line, and a hidden step at its end is left out.
    fn last_part(&self) -> Self {
        let hidden = |step: Option<&Step>| step.is_some_and(|step| !step.is_line());
        let mut tour = if hidden(self.steps.first()) { self.turned() } else { self.clone() };
        if hidden(tour.steps.last()) {
            tour.steps.pop();
            let n = tour.steps.len();
            for (at, _) in &mut tour.detours {
                *at = if *at > n { 0 } else { *at };
            }
            tour.detours.sort_by_key(|(at, _)| *at);
        }
        tour
    }
}

/// Gives every detour of a piece its place in one of the piece's walks: between two lines where that can be, several apart.
fn plan(problem: &Lines, walks: Vec<Walk>, detours: &[Detour]) -> Vec<Planned> {
    let mut planned: Vec<Planned> = walks.into_iter().map(|walk| Planned { steps: walk.steps, detours: Vec::new() }).collect();
    let mut at_node: BTreeMap<usize, Vec<Detour>> = BTreeMap::new();
    for detour in detours {
        at_node.entry(detour.there.ends(problem)[0]).or_default().push(*detour);
    }
    if at_node.is_empty() {
        return planned;
    }
    // Visits of each node: how many hidden or missing neighbours, walk, place.
    let mut visits: BTreeMap<usize, Vec<(usize, usize, usize)>> = BTreeMap::new();
    for (w, walk) in planned.iter().enumerate() {
        let n = walk.steps.len();
        for at in 0..=n {
            let node = if at < n { walk.steps[at].ends(problem)[0] } else { walk.steps[n - 1].ends(problem)[1] };
            if at_node.contains_key(&node) {
                let bare = |at: Option<usize>| at.and_then(|at| walk.steps.get(at)).is_none_or(|step| !step.is_line());
                let count = usize::from(bare(at.checked_sub(1))) + usize::from(bare(Some(at)));
                visits.entry(node).or_default().push((count, w, at));
            }
        }
    }
    for (node, detours) in at_node {
        let visits = visits.get_mut(&node).expect("every node of a piece is on one of its walks");
        visits.sort_unstable();
        for (k, detour) in detours.into_iter().enumerate() {
            let (_, walk, at) = visits[k % visits.len()];
            planned[walk].detours.push((at, detour));
        }
    }
    planned.iter_mut().for_each(|walk| walk.detours.sort_by_key(|(at, _)| *at));
    planned
}

/// The steps of a walk with all its detours, and theirs. Tours at the start or the end of the path need not close.
fn emit(planned: &Planned, plans: &BTreeMap<usize, Vec<Planned>>) -> Vec<Step> {
    struct Frame<'a> {
        planned: Cow<'a, Planned>,
        at: usize,
        due: usize,
        home: Option<Step>,
    }
    let mut out: Vec<Step> = Vec::new();
    let mut begun = false;
    let mut stack = vec![Frame { planned: Cow::Borrowed(planned), at: 0, due: 0, home: None }];
    while let Some(frame) = stack.last_mut() {
        if let Some(&(_, detour)) = frame.planned.detours.get(frame.due).filter(|(at, _)| *at == frame.at) {
            frame.due += 1;
            out.push(detour.there);
            let last =
                stack.iter().all(|frame| frame.at == frame.planned.steps.len() && frame.due == frame.planned.detours.len());
            let tour = &plans[&detour.piece][0];
            let (planned, home) = match (last, begun) {
                (true, _) => (Cow::Owned(tour.last_part()), None),
                (false, false) => (Cow::Owned(tour.last_part().turned()), Some(detour.there.turned())),
                (false, true) => (Cow::Borrowed(tour), Some(detour.there.turned())),
            };
            stack.push(Frame { planned, at: 0, due: 0, home });
        } else if let Some(&step) = frame.planned.steps.get(frame.at) {
            frame.at += 1;
            begun |= step.is_line();
            out.push(step);
        } else {
            out.extend(frame.home);
            stack.pop();
        }
    }
    out
}

/// A path without the hidden steps at its ends.
fn trimmed(mut path: Vec<Step>) -> Vec<Step> {
    while path.last().is_some_and(|step| !step.is_line()) {
        path.pop();
    }
    let hidden = path.iter().take_while(|step| !step.is_line()).count();
    path.drain(..hidden);
    path
}
