//! Stippling: one closed curve that wanders over an area and never crosses itself.
//!
//! In: an outline and a spacing. Out: the curve. Squares of two spacings that fit into the area are joined into a tree, by a chance that is
//! the same every time; the curve goes once round the tree, half a spacing from it, its corners quarter circles.

use super::motifs::{Chain, arc};
use seamfall_geom::{Edge, Inset, Loop, Point, Turn, Vec2};

/// Whether there would be more squares than anybody stipples as one.
pub(super) fn too_fine(outline: &Loop, spacing: f64) -> bool {
    let bounds = outline.bounds();
    bounds.width() * bounds.height() > 10_000.0 * 4.0 * spacing * spacing
}

/// The curve; nothing where no square fits.
pub(super) fn stippling(outline: &Loop, spacing: f64) -> Option<Chain> {
    let bounds = outline.bounds();
    let cell = 2.0 * spacing;
    let (columns, rows) = ((bounds.width() / cell).floor(), (bounds.height() / cell).floor());
    if columns < 1.0 || rows < 1.0 || too_fine(outline, spacing) {
        return None;
    }
    let grid = Grid::new(outline, spacing, columns as usize, rows as usize);
    let tree = grid.tree()?;
    Some(grid.round(&tree))
}

struct Grid {
    origin: Point,
    spacing: f64,
    columns: usize,
    rows: usize,
    inside: Vec<bool>,
}

/// For each square whether it is joined to the one to its right and to the one above.
struct Tree {
    joined: Vec<[bool; 2]>,
    first: usize,
}

impl Grid {
    fn new(outline: &Loop, spacing: f64, columns: usize, rows: usize) -> Self {
        let bounds = outline.bounds();
        let cell = 2.0 * spacing;
        let left = (bounds.width() - cell * columns as f64) / 2.0;
        let below = (bounds.height() - cell * rows as f64) / 2.0;
        let origin = Point::new(bounds.x0 + left, bounds.y0 + below);
        let area = Inset::new(outline, 0.0);
        let holds = |i: usize, j: usize| {
            [0.25, 0.75].iter().all(|x| {
                [0.25, 0.75].iter().all(|y| area.holds(origin + Vec2::new((i as f64 + x) * cell, (j as f64 + y) * cell)))
            })
        };
        let inside = (0..rows).flat_map(|j| (0..columns).map(move |i| (i, j))).map(|(i, j)| holds(i, j)).collect();
        Self { origin, spacing, columns, rows, inside }
    }

    /// The square beside `at` in one of four ways: right, above, left, below.
    fn beside(&self, at: usize, way: usize) -> Option<usize> {
        let (i, j) = (at % self.columns, at / self.columns);
        let next = match way {
            0 if i + 1 < self.columns => at + 1,
            1 if j + 1 < self.rows => at + self.columns,
            2 if i > 0 => at - 1,
            3 if j > 0 => at - self.columns,
            _ => return None,
        };
        self.inside[next].then_some(next)
    }

    /// Joins the squares that hang together with the first one, going on from the last as long as that can be.
    fn tree(&self) -> Option<Tree> {
        let first = self.inside.iter().position(|inside| *inside)?;
        let mut joined = vec![[false; 2]; self.inside.len()];
        let mut seen = vec![false; self.inside.len()];
        seen[first] = true;
        let mut trail = vec![first];
        // Xorshift (G. Marsaglia, "Xorshift RNGs", 2003), seeded by the size alone.
        let mut state = (self.columns as u64) << 32 | self.rows as u64 | 0x9e37_79b9_0000_0001;
        while let Some(&at) = trail.last() {
            let free: Vec<(usize, usize)> =
                (0..4).filter_map(|way| Some((way, self.beside(at, way)?))).filter(|(_, next)| !seen[*next]).collect();
            if free.is_empty() {
                trail.pop();
                continue;
            }
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let (way, next) = free[(state >> 33) as usize % free.len()];
            match way {
                0 => joined[at][0] = true,
                1 => joined[at][1] = true,
                2 => joined[next][0] = true,
                _ => joined[next][1] = true,
            }
            seen[next] = true;
            trail.push(next);
        }
        Some(Tree { joined, first })
    }

    /// The curve round the tree, anticlockwise: from quarter to quarter of the squares, with the tree to the left.
    fn round(&self, tree: &Tree) -> Chain {
        let is_joined = |at: usize, way: usize| match way {
            0 => tree.joined[at][0],
            1 => tree.joined[at][1],
            2 => !at.is_multiple_of(self.columns) && tree.joined[at - 1][0],
            _ => at >= self.columns && tree.joined[at - self.columns][1],
        };
        // Quarters of a square, anticlockwise from the lower left; from quarter q the curve goes on in direction q (right, up, left, down)
        // within the square, or along the side that is joined in direction q - 1 into the next square.
        let mut points = Vec::new();
        let (mut at, mut quarter) = (tree.first, 0);
        loop {
            points.push(self.quarter(at, quarter));
            let out = (quarter + 3) % 4;
            if is_joined(at, out) {
                at = self.beside(at, out).expect("joined squares lie side by side");
                quarter = (quarter + 3) % 4;
            } else {
                quarter = (quarter + 1) % 4;
            }
            if (at, quarter) == (tree.first, 0) {
                break;
            }
        }
        rounded(&points)
    }

    fn quarter(&self, at: usize, quarter: usize) -> Point {
        let (i, j) = ((at % self.columns) as f64, (at / self.columns) as f64);
        let (x, y) = [(0.25, 0.25), (0.75, 0.25), (0.75, 0.75), (0.25, 0.75)][quarter];
        self.origin + Vec2::new((i + x) * 2.0 * self.spacing, (j + y) * 2.0 * self.spacing)
    }
}

/// A closed walk from middle to middle of its steps, corners as quarter circles.
fn rounded(points: &[Point]) -> Chain {
    let n = points.len();
    let middle = |k: usize| points[k % n].midpoint(points[(k + 1) % n]);
    let mut chain: Chain = Vec::new();
    for (k, &point) in points.iter().enumerate() {
        let (from, to) = (middle(k + n - 1), middle(k));
        let (before, after) = (point - from, to - point);
        let turning = before.cross(after);
        if turning.abs() > 1e-9 * before.hypot2() {
            chain.push(arc(from, to, from + after, if turning > 0.0 { Turn::Left } else { Turn::Right }));
            continue;
        }
        match chain.last_mut() {
            Some(Edge::Line { to: end, .. }) => *end = to,
            _ => chain.push(Edge::Line { from, to }),
        }
    }
    chain
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_geom::{Rect, node};

    /// Closed, in one piece, and crossing nothing: as many edges once noded as before; every square is visited.
    #[test]
    fn stippling_is_one_closed_curve_without_crossings() {
        for outline in [
            Loop::rect(Rect::new(0.0, 0.0, 12.0, 9.0)),
            Loop::polygon(&[Point::new(0.0, 0.0), Point::new(16.0, 0.0), Point::new(0.0, 16.0)]),
        ] {
            let chain = stippling(&outline, 0.5).expect("there is room");
            assert!((chain[0].from() - chain[chain.len() - 1].to()).hypot2() < 1e-18);
            let noded = node(&chain);
            let mut degrees = vec![0; noded.vertices.len()];
            noded.edges.iter().for_each(|edge| [edge.from, edge.to].into_iter().for_each(|end| degrees[end] += 1));
            assert!(degrees.iter().all(|degree| *degree == 2));
            assert!(chain.iter().all(|edge| outline.encloses_edge(edge)));
        }
    }

    trait Encloses {
        fn encloses_edge(&self, edge: &Edge) -> bool;
    }
    impl Encloses for Loop {
        fn encloses_edge(&self, edge: &Edge) -> bool {
            (0..=8).all(|k| self.contains(edge.at(f64::from(k) / 8.0)))
        }
    }

    /// A square of 12 holds 144 squares of 1, each with four quarters: straight, the curve would be as long as 576 halves; each of its
    /// corners saves (2 - π/2) quarters.
    #[test]
    fn a_square_is_filled() {
        let chain = stippling(&Loop::rect(Rect::new(0.0, 0.0, 12.0, 12.0)), 0.5).expect("there is room");
        let corners = chain.iter().filter(|edge| edge.radius().is_some()).count() as f64;
        let length: f64 = chain.iter().map(Edge::length).sum();
        assert!((length - (288.0 - corners * 0.25 * (2.0 - std::f64::consts::FRAC_PI_2))).abs() < 1e-6, "{length}");
    }
}
