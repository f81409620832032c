//! The order that keeps the weight at the machine lowest.
//!
//! In: the pieces. Out: a tree of joins whose burden is least, and whether that is proven. The burden of a join is what lies at the machine,
//! the area of both its sides, times the length sewn; that of an order is the sum. Every order that traps no edge takes the whole apart
//! by full lines, so the least burden of a group is that of its best cut: dynamic programming over groups. Where all lines run in
//! two directions a group is a rectangle of the grid they make, kept in a table of all rectangles, O(n²m²(n + m)) steps; before that,
//! where bands enclose blocks on point, groups are sets. Beyond the budget nothing is proven, and the caller takes another order.

use super::orders::{Node, Tree};
use super::pieces::{Pieces, Set, and, holds, long, members, only, put};
use super::{Part, Stuck};
use std::collections::BTreeMap;

/// Groups that are no rectangles of one grid.
const SETS: usize = 2_000;

/// No way.
const NEVER: u64 = u64::MAX;

/// The best order, its nodes added to `tree`; nothing where the budget of rectangles does not suffice or nothing can be joined.
pub(super) fn best(tree: &mut Tree, rectangles: usize) -> Option<Result<Part, Stuck>> {
    let mut search = Search { pieces: tree.pieces, known: BTreeMap::new(), grids: Vec::new(), rectangles };
    let all = search.pieces.all();
    search.solve_bodies()?;
    let cost = search.solve(&all)?;
    (cost < NEVER).then(|| search.rebuild(tree, &all))
}

/// No order has less burden than this: each stretch is sewn in a join that holds at least the two pieces beside it, and one join of the
/// shortest seam that divides the whole holds everything.
pub(super) fn bound(pieces: &Pieces) -> u64 {
    let all = pieces.all();
    let whole = pieces.area(&all);
    let stretches = pieces.lines.iter().flat_map(|line| &pieces.mesh.lines[line.line].contacts);
    let least: u64 = stretches
        .filter_map(|one| {
            let [a, b] = [pieces.of_section[one.left], pieces.of_section[one.right]];
            (a != b).then(|| long(one.on) * (pieces.areas[a] + pieces.areas[b]))
        })
        .sum();
    let last = pieces.cuts(&all).filter_map(|line| {
        let [left, right] = pieces.split(&all, line);
        let [from, to] = pieces.seam(line, [&left, &right])?;
        Some(long([from, to]) * whole)
    });
    least.max(last.min().unwrap_or(0))
}

/// The burden of joins.
pub(super) fn burden<'a>(nodes: impl IntoIterator<Item = &'a Node>) -> u64 {
    nodes.into_iter().map(|node| node.area * long(node.on)).sum()
}

struct Search<'a, 'b> {
    pieces: &'a Pieces<'b>,
    known: BTreeMap<Set, Known>,
    /// Grids that are solved: sets that lie in one are looked up there.
    grids: Vec<Grid>,
    /// How many rectangles may still be looked at.
    rectangles: usize,
}

#[derive(Clone, Copy)]
enum Known {
    /// The least burden of a set, and the line of its last join.
    Cut(u64, Option<usize>),
    /// A set that is a rectangle of a grid.
    Grid(usize, [usize; 4]),
}

impl Search<'_, '_> {
    fn solve(&mut self, set: &Set) -> Option<u64> {
        if only(set).is_some() {
            return Some(0);
        }
        if let Some(known) = self.known.get(set) {
            return Some(self.cost(*known));
        }
        if self.known.len() >= SETS {
            return None;
        }
        if let Some(directions) = two_directions(self.pieces, set) {
            let known = self.on_a_grid(set, directions)?;
            self.known.insert(set.clone(), known);
            return Some(self.cost(known));
        }
        let mut best = (NEVER, None);
        for line in self.pieces.cuts(set).collect::<Vec<_>>() {
            let [left, right] = self.pieces.split(set, line);
            let Some([from, to]) = self.pieces.seam(line, [&left, &right]) else { continue };
            let (a, b) = (self.solve(&left)?, self.solve(&right)?);
            let cost = a.saturating_add(b).saturating_add(self.pieces.area(set) * long([from, to]));
            if cost < best.0 {
                best = (cost, Some(line));
            }
        }
        self.known.insert(set.clone(), Known::Cut(best.0, best.1));
        Some(best.0)
    }

    fn cost(&self, known: Known) -> u64 {
        match known {
            Known::Cut(cost, _) => cost,
            Known::Grid(grid, at) => self.grids[grid].cost(at),
        }
    }

    /// Solves first what is all of one grid, such as blocks on point inside their bands: parts of it come up over and over.
    fn solve_bodies(&mut self) -> Option<()> {
        let mesh = self.pieces.mesh;
        for (one, other) in (0..mesh.directions.len()).flat_map(|one| (0..one).map(move |other| (other, one))) {
            let mut body = vec![0; self.pieces.all().len()];
            let lines = mesh.lines.iter().filter(|line| line.direction == one || line.direction == other);
            for contact in lines.flat_map(|line| &line.contacts) {
                [contact.left, contact.right].into_iter().for_each(|section| put(&mut body, self.pieces.of_section[section]));
            }
            if only(&body).is_none() && two_directions(self.pieces, &body) == Some([one, other]) {
                self.on_a_grid(&body, [one, other])?;
            }
        }
        Some(())
    }

    /// Finds a set in a grid that is solved, or solves one for it.
    fn on_a_grid(&mut self, set: &Set, directions: [usize; 2]) -> Option<Known> {
        let found = self.grids.iter().enumerate().find_map(|(number, grid)| {
            let same = directions.iter().all(|direction| grid.directions.contains(direction));
            Some(Known::Grid(number, grid.rectangle(set).filter(|_| same)?))
        });
        if found.is_some() {
            return found;
        }
        let grid = Grid::new(self.pieces, set, directions);
        self.rectangles = self.rectangles.checked_sub(grid.size())?;
        self.grids.push(grid.solved());
        let at = self.grids[self.grids.len() - 1].whole();
        Some(Known::Grid(self.grids.len() - 1, at))
    }

    fn rebuild(&self, tree: &mut Tree, set: &Set) -> Result<Part, Stuck> {
        if let Some(piece) = only(set) {
            return Ok(self.pieces.parts[piece]);
        }
        match self.known[set] {
            Known::Cut(_, line) => {
                let line = line.expect("a set that can be joined has a last join");
                self.cut(tree, set, line, &mut |tree, part| self.rebuild(tree, part))
            }
            Known::Grid(grid, at) => self.rebuild_grid(tree, set, &self.grids[grid], at),
        }
    }

    fn rebuild_grid(&self, tree: &mut Tree, set: &Set, grid: &Grid, at: [usize; 4]) -> Result<Part, Stuck> {
        if let Some(piece) = only(set) {
            return Ok(self.pieces.parts[piece]);
        }
        let (axis, cut) = grid.choice(at).expect("a group that can be joined has a last join");
        let line = grid.axes[axis].lines[cut - 1];
        let [low, high] = [grid.below(at, axis, cut), grid.above(at, axis, cut)];
        let mut sides = [high, low].into_iter();
        self.cut(tree, set, line, &mut |tree, part| {
            let at = sides.next().expect("a cut has two sides");
            self.rebuild_grid(tree, part, grid, at)
        })
    }

    /// Both sides of a cut, left first, and the join between them.
    fn cut(
        &self,
        tree: &mut Tree,
        set: &Set,
        line: usize,
        build: &mut dyn FnMut(&mut Tree, &Set) -> Result<Part, Stuck>,
    ) -> Result<Part, Stuck> {
        let [left, right] = self.pieces.split(set, line);
        let parts = [build(tree, &left)?, build(tree, &right)?];
        tree.join(line, [(parts[0], &left), (parts[1], &right)], false)
    }
}

/// The directions of all seams inside `set`, if there are no more than two; a direction that is wanting is that of the first.
fn two_directions(pieces: &Pieces, set: &Set) -> Option<[usize; 2]> {
    let mut found: Vec<usize> = Vec::new();
    for line in &pieces.lines {
        let line = &pieces.mesh.lines[line.line];
        if found.contains(&line.direction) {
            continue;
        }
        let inside = |section: usize| holds(set, pieces.of_section[section]);
        if line.contacts.iter().any(|one| inside(one.left) && inside(one.right)) {
            found.push(line.direction);
        }
    }
    match found[..] {
        [one] => Some([one, one]),
        [one, other] => Some([one, other]),
        _ => None,
    }
}

/// Lines of one direction inside a set, from the bottom or from the right.
struct Axis {
    /// Numbers in [`Pieces::lines`].
    lines: Vec<usize>,
    /// For each line and each slab of the other axis how many pieces lie across it, added up.
    across: Vec<Vec<u32>>,
    /// The same for the length of contacts in thousandths.
    lengths: Vec<Vec<u64>>,
}

/// A set whose lines run in two directions: slabs between lines are numbered from 0 on both axes, a group is a rectangle of slabs.
struct Grid {
    directions: [usize; 2],
    axes: [Axis; 2],
    /// The slabs that each piece spans on either axis.
    spans: BTreeMap<usize, [[usize; 2]; 2]>,
    slabs: [usize; 2],
    /// Pieces and areas, added up from the corner.
    counts: Vec<u32>,
    areas: Vec<u64>,
    costs: Vec<u64>,
    choices: Vec<u16>,
}

impl Grid {
    fn new(pieces: &Pieces, set: &Set, directions: [usize; 2]) -> Self {
        let of = |direction: usize| -> Vec<usize> {
            let inside = |number: &usize| {
                let line = &pieces.mesh.lines[pieces.lines[*number].line];
                let inside = |section: usize| holds(set, pieces.of_section[section]);
                line.direction == direction && line.contacts.iter().any(|one| inside(one.left) && inside(one.right))
            };
            (0..pieces.lines.len()).filter(inside).collect()
        };
        let lines = [of(directions[0]), if directions[0] == directions[1] { Vec::new() } else { of(directions[1]) }];
        // Slabs that each piece spans on either axis: it lies to the left of the lines below it.
        let span = |lines: &[usize], piece: usize| {
            let below = lines.iter().take_while(|&&line| holds(&pieces.lines[line].left, piece)).count();
            let above = lines.iter().rev().take_while(|&&line| holds(&pieces.lines[line].right, piece)).count();
            [below, (lines.len() + 1).saturating_sub(above).max(below + 1)]
        };
        let spans: BTreeMap<usize, [[usize; 2]; 2]> =
            members(set).map(|piece| (piece, [span(&lines[0], piece), span(&lines[1], piece)])).collect();
        let slabs = [lines[0].len() + 1, lines[1].len() + 1];
        let (mut counts, mut areas) = (vec![0; (slabs[0] + 1) * (slabs[1] + 1)], vec![0; (slabs[0] + 1) * (slabs[1] + 1)]);
        for (piece, [u, v]) in &spans {
            let at = (u[0] + 1) * (slabs[1] + 1) + v[0] + 1;
            counts[at] += 1;
            areas[at] += pieces.areas[*piece];
        }
        add_up(&mut counts, slabs);
        add_up(&mut areas, slabs);
        let [first, second] = lines;
        let axes = [
            axis(pieces, set, first, slabs[1], |piece| [spans[&piece][0], spans[&piece][1]]),
            axis(pieces, set, second, slabs[0], |piece| [spans[&piece][1], spans[&piece][0]]),
        ];
        Self { directions, axes, spans, slabs, counts, areas, costs: Vec::new(), choices: Vec::new() }
    }

    fn size(&self) -> usize {
        self.slabs.iter().map(|n| n * (n + 1) / 2).product()
    }

    fn whole(&self) -> [usize; 4] {
        [0, self.slabs[0], 0, self.slabs[1]]
    }

    /// Number of a rectangle: slabs `u0..u1` by `v0..v1`.
    fn number(&self, [u0, u1, v0, v1]: [usize; 4]) -> usize {
        let pair = |n: usize, from: usize, to: usize| from * (2 * n - from + 1) / 2 + (to - from - 1);
        let [n, m] = self.slabs;
        pair(n, u0, u1) * (m * (m + 1) / 2) + pair(m, v0, v1)
    }

    fn within<T: Copy + std::ops::Add<Output = T> + std::ops::Sub<Output = T>>(
        &self,
        table: &[T],
        [u0, u1, v0, v1]: [usize; 4],
    ) -> T {
        let row = self.slabs[1] + 1;
        table[u1 * row + v1] + table[u0 * row + v0] - table[u0 * row + v1] - table[u1 * row + v0]
    }

    fn below(&self, at: [usize; 4], axis: usize, cut: usize) -> [usize; 4] {
        let mut at = at;
        at[axis * 2 + 1] = cut;
        at
    }

    fn above(&self, at: [usize; 4], axis: usize, cut: usize) -> [usize; 4] {
        let mut at = at;
        at[axis * 2] = cut;
        at
    }

    /// The rectangle that holds `set` and nothing else.
    fn rectangle(&self, set: &Set) -> Option<[usize; 4]> {
        let mut at = [usize::MAX, 0, usize::MAX, 0];
        let mut count = 0;
        for piece in members(set) {
            let [u, v] = self.spans.get(&piece)?;
            at = [at[0].min(u[0]), at[1].max(u[1]), at[2].min(v[0]), at[3].max(v[1])];
            count += 1;
        }
        (self.within(&self.counts, at) == count).then_some(at)
    }

    fn cost(&self, at: [usize; 4]) -> u64 {
        self.costs[self.number(at)]
    }

    fn choice(&self, at: [usize; 4]) -> Option<(usize, usize)> {
        let choice = usize::from(self.choices[self.number(at)]);
        (choice > 0).then_some((choice % 2, choice / 2))
    }

    /// Fills the table, the small rectangles first.
    fn solved(mut self) -> Self {
        self.costs = vec![0; self.size()];
        self.choices = vec![0; self.size()];
        let [n, m] = self.slabs;
        for wide in 1..=n {
            for high in 1..=m {
                for u in 0..=n - wide {
                    for v in 0..=m - high {
                        let at = [u, u + wide, v, v + high];
                        if self.within(&self.counts, at) > 1 {
                            let (cost, choice) = self.last_join(at);
                            let number = self.number(at);
                            (self.costs[number], self.choices[number]) = (cost, choice);
                        }
                    }
                }
            }
        }
        self
    }

    /// The least burden of a rectangle with more than one piece, and its last join as `2 × cut + axis`.
    fn last_join(&self, at: [usize; 4]) -> (u64, u16) {
        let (area, count) = (self.within(&self.areas, at), self.within(&self.counts, at));
        let mut best = (NEVER, 0);
        for (axis, other) in [(0, 1), (1, 0)] {
            let [from, to] = [at[other * 2], at[other * 2 + 1]];
            for cut in at[axis * 2] + 1..at[axis * 2 + 1] {
                let line = &self.axes[axis].across[cut - 1];
                if line[to] != line[from] {
                    continue;
                }
                let (low, high) = (self.below(at, axis, cut), self.above(at, axis, cut));
                let length = self.axes[axis].lengths[cut - 1][to] - self.axes[axis].lengths[cut - 1][from];
                let below = self.within(&self.counts, low);
                if length == 0 || below == 0 || below == count {
                    continue;
                }
                let parts = self.costs[self.number(low)].saturating_add(self.costs[self.number(high)]);
                let cost = parts.saturating_add(area * length);
                if cost < best.0 {
                    #[expect(clippy::cast_possible_truncation, reason = "a budget of rectangles allows far fewer lines")]
                    let choice = (2 * cut + axis) as u16;
                    best = (cost, choice);
                }
            }
        }
        best
    }
}

/// What lies across each line, and the length of its contacts, added up along the other axis. `spans` gives the slabs of a piece on this axis
/// and on the other; a piece or a contact counts where it begins, since a group holds it whole.
fn axis(pieces: &Pieces, set: &Set, lines: Vec<usize>, others: usize, spans: impl Fn(usize) -> [[usize; 2]; 2]) -> Axis {
    let (mut across, mut lengths) = (Vec::new(), Vec::new());
    for (number, &line) in lines.iter().enumerate() {
        let (mut crossing, mut length) = (vec![0; others + 1], vec![0; others + 1]);
        let beside = and(set, &pieces.lines[line].left);
        let right = and(set, &pieces.lines[line].right);
        for piece in members(set).filter(|&piece| !holds(&beside, piece) && !holds(&right, piece)) {
            crossing[spans(piece)[1][0] + 1] += 1;
        }
        debug_assert!(number < lines.len());
        for one in &pieces.mesh.lines[pieces.lines[line].line].contacts {
            let [a, b] = [pieces.of_section[one.left], pieces.of_section[one.right]];
            if a != b && holds(set, a) && holds(set, b) {
                let start = spans(a)[1][0].max(spans(b)[1][0]);
                length[start + 1] += long(one.on);
            }
        }
        for k in 1..=others {
            crossing[k] += crossing[k - 1];
            length[k] += length[k - 1];
        }
        across.push(crossing);
        lengths.push(length);
    }
    Axis { lines, across, lengths }
}

/// Sums from the corner.
fn add_up<T: Copy + std::ops::Add<Output = T> + std::ops::Sub<Output = T>>(table: &mut [T], [n, m]: [usize; 2]) {
    let row = m + 1;
    for u in 1..=n {
        for v in 1..=m {
            table[u * row + v] =
                table[u * row + v] + table[(u - 1) * row + v] + table[u * row + v - 1] - table[(u - 1) * row + v - 1];
        }
    }
}
