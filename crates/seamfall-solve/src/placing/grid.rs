//! One value an item, all items of one kind, on a whole rectangle of places: solved exactly.
//!
//! In: the problem. Out: a placing and its bound, or nothing where the problem is not of this sort.
//!
//! Sorted by value, the `m` lowest items take a set of places, and the sets grow with `m`. The cost is the sum over `m` of the gap between item `m` and
//! the next, times the number of meetings on the border of the set. Letting the places of every column fall down, then those of every row to the
//! left, makes no border longer, keeps the sets inside one another, and leaves each a staircase in the corner (the compression of G. Mitchison
//! and R. Durbin, "Optimal numberings of an N×N array", 1986). The border of a staircase is its columns that are neither empty nor full, and its
//! rows that are neither.
//!
//! So only four numbers of each staircase cost: columns begun and full, rows begun and full. A first column that is full begins all rows, so
//! that two numbers are left in each of four phases. The cheapest chain of such numbers, each with room for `m` places, is a bound from any
//! staircase on (`to_go`). With it staircases themselves are gone through, size by size: those that cannot be better are dropped, and where there are too many
//! those that promise least; what was dropped bounds the answer from below. Without such the answer is best.

use super::Placing;
use super::lines::Lines;
use crate::Budget;

/// A rectangle of places.
struct Rectangle {
    columns: usize,
    rows: usize,
    /// The place in each cell, row by row.
    cells: Vec<usize>,
}

/// Columns begun and full, rows begun and full, of a staircase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Shape {
    begun: [usize; 2],
    full: [usize; 2],
}

/// Staircases of one size that are kept at first, and at most.
const WIDTHS: [usize; 4] = [16, 128, 1024, 8192];

/// A placing, and a number that none is below.
pub(super) fn solve(problem: &Placing, budget: &mut Budget) -> Option<(Vec<usize>, u64)> {
    let alike = problem.kinds.windows(2).all(|two| two[0] == two[1]) && !problem.fixed.contains(&true);
    if !alike || !problem.is_level() {
        return None;
    }
    let rectangle = rectangle(problem)?;
    let mut items: Vec<usize> = (0..problem.kinds.len()).collect();
    items.sort_by_key(|&item| (problem.sides[item][0], item));
    let gaps: Vec<u64> = items.windows(2).map(|two| problem.sides[two[0]][0].abs_diff(problem.sides[two[1]][0])).collect();
    let (order, bound) = if rectangle.rows.min(rectangle.columns) == 1 {
        ((0..items.len()).collect(), gaps.iter().sum())
    } else {
        rectangle.cheapest(&gaps, budget)?
    };
    let mut answer: Vec<usize> = (0..items.len()).collect();
    order.into_iter().zip(items).for_each(|(cell, item)| answer[rectangle.cells[cell]] = item);
    Some((answer, bound))
}

/// The rectangle that the places make, if they do and nothing else meets.
fn rectangle(problem: &Placing) -> Option<Rectangle> {
    let lines = Lines::new(problem);
    let at = lines.positions()?;
    let (columns, rows) = (at.iter().map(|p| p.0).max()? as usize + 1, at.iter().map(|p| p.1).max()? as usize + 1);
    let linked: usize = lines.lines.iter().flatten().map(|line| line.len() - 1).sum();
    if columns * rows != at.len() || linked != problem.meetings.len() || linked != rows * (columns - 1) + columns * (rows - 1) {
        return None;
    }
    let mut cells = vec![usize::MAX; at.len()];
    at.iter().enumerate().for_each(|(place, &(x, y))| cells[y as usize * columns + x as usize] = place);
    (!cells.contains(&usize::MAX)).then_some(Rectangle { columns, rows, cells })
}

impl Rectangle {
    /// Numbers of a shape in each of its four phases: first column full or not, first row full or not.
    fn index(&self, shape: Shape) -> usize {
        let pair = |direction: usize| {
            let other = 1 - direction;
            // All columns are begun where a row is full; then their full ones count.
            if shape.full[other] > 0 { shape.full[direction] } else { shape.begun[direction] }
        };
        let phase = usize::from(shape.full[0] > 0) + 2 * usize::from(shape.full[1] > 0);
        // In the phase of full columns alone, begun columns stay, and full ones take the place of the begun rows.
        let [i, j] = match phase {
            0 => shape.begun,
            1 => [shape.begun[0], shape.full[0]],
            2 => [shape.full[1], shape.begun[1]],
            _ => [pair(0), pair(1)],
        };
        let width = self.columns.max(self.rows) + 1;
        (phase * width + i) * width + j
    }

    fn shape(&self, index: usize) -> Shape {
        let width = self.columns.max(self.rows) + 1;
        let (phase, i, j) = (index / width / width, index / width % width, index % width);
        let (columns, rows) = (self.columns, self.rows);
        match phase {
            0 => Shape { begun: [i, j], full: [0, 0] },
            1 => Shape { begun: [i, rows], full: [j, 0] },
            2 => Shape { begun: [columns, j], full: [0, i] },
            _ => Shape { begun: [columns, rows], full: [i, j] },
        }
    }

    /// Meetings on its border: lines that are begun and not full.
    fn border(shape: Shape) -> u64 {
        (shape.begun[0] - shape.full[0] + shape.begun[1] - shape.full[1]) as u64
    }

    /// Whether some staircase of `size` cells has this shape.
    fn holds(&self, Shape { begun, full }: Shape, size: usize) -> bool {
        let (columns, rows) = (self.columns, self.rows);
        let box_of = |a: usize, b: usize, size: usize| if a * b == 0 { size == 0 } else { a + b - 1 <= size && size <= a * b };
        match (full[0] > 0, full[1] > 0) {
            (false, false) => box_of(begun[0], begun[1], size),
            (true, false) => beside(begun[0] - full[0], rows, full[0], size),
            (false, true) => beside(begun[1] - full[1], columns, full[1], size),
            (true, true) => box_of(columns - full[0], rows - full[1], columns * rows - size),
        }
    }

    /// Shapes that a staircase can have when a cell is added.
    fn grown(&self, shape: Shape) -> impl Iterator<Item = Shape> + '_ {
        let lines = [self.columns, self.rows];
        (0..16)
            .map(move |bits: usize| {
                let mut next = shape;
                (0..2).for_each(|d| next.begun[d] += bits >> d & 1);
                (0..2).for_each(|d| next.full[d] += bits >> (d + 2) & 1);
                next
            })
            .filter(move |next| {
                (0..2).all(|d| next.full[d] <= next.begun[d] && next.begun[d] <= lines[d])
                    && (0..2).all(|d| (next.begun[d] == lines[d]) == (next.full[1 - d] > 0))
            })
    }

    /// What a chain costs at least from each shape of each size to everything, the border of the shape itself not counted.
    fn to_go(&self, gaps: &[u64]) -> Vec<Vec<u64>> {
        let width = self.columns.max(self.rows) + 1;
        let (states, cells) = (4 * width * width, self.columns * self.rows);
        let everything = Shape { begun: [self.columns, self.rows], full: [self.columns, self.rows] };
        let shapes: Vec<Shape> = (0..states).map(|index| self.shape(index)).collect();
        let grown: Vec<Vec<usize>> = (0..states)
            .map(|index| {
                let shape = shapes[index];
                let real = (0..2).all(|d| shape.full[d] <= shape.begun[d]) && self.index(shape) == index;
                if real { self.grown(shape).map(|next| self.index(next)).collect() } else { Vec::new() }
            })
            .collect();
        let mut to_go = vec![vec![u64::MAX; states]; cells + 1];
        to_go[cells][self.index(everything)] = 0;
        for size in (0..cells).rev() {
            let gap = gaps.get(size).copied().unwrap_or(0);
            for (state, next) in grown.iter().enumerate().filter(|(_, next)| !next.is_empty()) {
                if !self.holds(shapes[state], size) {
                    continue;
                }
                let paid = |&to: &usize| match to_go[size + 1][to] {
                    u64::MAX => u64::MAX,
                    rest => rest + if size + 1 < cells { gap * Self::border(shapes[to]) } else { 0 },
                };
                to_go[size][state] = next.iter().map(paid).min().unwrap_or(u64::MAX);
            }
        }
        to_go
    }

    /// Cells in the order in which the cheapest staircases take them, and the bound.
    fn cheapest(&self, gaps: &[u64], budget: &mut Budget) -> Option<(Vec<usize>, u64)> {
        let width = self.columns.max(self.rows) + 1;
        // A staircase's edge has to fit a number.
        if self.columns + self.rows > 63 || !budget.spend((4 * width * width * self.columns * self.rows) as u64 * 8) {
            return None;
        }
        let to_go = self.to_go(gaps);
        let mut best: Option<(Vec<usize>, u64)> = None;
        let mut bound = to_go[0][0];
        for keep in WIDTHS {
            let work = (keep * gaps.len() * (self.columns + self.rows)) as u64 * 8;
            if best.as_ref().is_some_and(|best| best.1 <= bound) || !budget.spend(work) {
                break;
            }
            let limit = best.as_ref().map_or(u64::MAX, |best| best.1);
            let (found, dropped) = self.staircases(gaps, &to_go, keep, limit);
            bound = bound.max(dropped.min(found.as_ref().map_or(limit, |found| found.1)));
            best = found.or(best);
        }
        best.map(|(order, _)| (order, bound))
    }

    /// Goes through staircases size by size, at most `keep` of each. Gives the order of cells of the cheapest one below `limit` with its cost, and the
    /// least that any dropped one could have led to.
    fn staircases(&self, gaps: &[u64], to_go: &[Vec<u64>], keep: usize, limit: u64) -> (Option<(Vec<usize>, u64)>, u64) {
        let cells = self.columns * self.rows;
        let mut layers = vec![vec![Stair { steps: (1 << self.columns) - 1, cost: 0, from: 0 }]];
        let mut dropped = u64::MAX;
        for size in 1..=cells {
            let last = layers.last().expect("there is a first layer");
            let mut next: Vec<(u64, Stair)> = Vec::new();
            for (from, stair) in last.iter().enumerate() {
                let mut outer = stair.steps & !(stair.steps >> 1) & ((1 << (self.columns + self.rows - 1)) - 1);
                while outer != 0 {
                    let corner = outer & outer.wrapping_neg();
                    outer ^= corner;
                    let steps = stair.steps + corner;
                    let shape = self.shape_of(steps);
                    let gap = if size < cells { gaps[size - 1] } else { 0 };
                    let cost = stair.cost + gap * Self::border(shape);
                    let promised = to_go[size][self.index(shape)].saturating_add(cost);
                    if promised < limit {
                        next.push((promised, Stair { steps, cost, from: from as u32 }));
                    }
                }
            }
            next.sort_unstable_by_key(|(_, stair)| (stair.steps, stair.cost));
            next.dedup_by_key(|(_, stair)| stair.steps);
            if next.len() > keep {
                next.sort_unstable_by_key(|(promised, stair)| (*promised, stair.steps));
                dropped = dropped.min(next[keep].0);
                next.truncate(keep);
            }
            layers.push(next.into_iter().map(|(_, stair)| stair).collect());
        }
        let Some(last) = layers[cells].first() else { return (None, dropped) };
        let (cost, mut at) = (last.cost, 0);
        let mut order = Vec::with_capacity(cells);
        for size in (1..=cells).rev() {
            let stair = &layers[size][at];
            at = stair.from as usize;
            let corner = (stair.steps - layers[size - 1][at].steps).trailing_zeros();
            // The column steps before it number the column, the row steps before it its height.
            let before = layers[size - 1][at].steps & ((1 << corner) - 1);
            let column = before.count_ones();
            order.push((corner - column) as usize * self.columns + column as usize);
        }
        order.reverse();
        (Some((order, cost)), dropped)
    }

    /// The numbers of a staircase: a bit a step along its edge from the left, 1 across a column, 0 up a row.
    fn shape_of(&self, steps: u64) -> Shape {
        let length = (self.columns + self.rows) as u32;
        let top = steps << (64 - length);
        let (empty, full) = (steps.trailing_ones(), top.leading_ones());
        let (rows_full, rows_empty) = (steps.trailing_zeros(), (!top >> (64 - length) << (64 - length)).leading_ones());
        Shape {
            begun: [self.columns - empty as usize, self.rows - rows_empty as usize],
            full: [full as usize, rows_full as usize],
        }
    }
}

/// A staircase, as its edge.
struct Stair {
    steps: u64,
    cost: u64,
    /// Its number in the layer before.
    from: u32,
}

/// Whether `size` cells fit `full` lines of a length and `begun` further ones that hold some cells and are not full.
fn beside(begun: usize, length: usize, full: usize, size: usize) -> bool {
    full * length + begun <= size && size <= full * length + begun * (length - 1)
}
