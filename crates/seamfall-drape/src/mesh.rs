//! The cloth as points, cells between them, and what ties the points together.
//!
//! In: the outline and about how many points. Out: a grid over the outline's bounds, of an odd number of cells each way, cut to the outline.
//! Grid points near the outline are moved onto it, and one onto each of its corners, so that hems and corners are where they are;
//! what lies outside is left out. A point is near when it is the nearer end of a grid line that crosses the outline.
//!
//! Ties are sorted by colour: no two of a colour share a point, so their order does not matter. Since the number of cells is odd, the
//! mirror image of a colour is that colour, and a cloth that is its own mirror image stays so.
//!
//! Every point weighs the same; those on the hem thus carry half a cell too much, about what a binding adds.

use seamfall_geom::{Edge, Loop, Point, Rect, Vec2};

/// Two points that stay `rest` apart.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tie {
    pub a: u32,
    pub b: u32,
    pub rest: f64,
}

#[derive(Debug)]
pub(crate) struct Mesh {
    /// Where each point is on the cloth laid flat.
    pub flat: Vec<[f64; 2]>,
    /// Corners of each cell, anticlockwise from its lower left; a triangle names its last corner twice.
    pub cells: Vec<[u32; 4]>,
    /// Threads of both ways, by colour.
    pub threads: [Vec<Tie>; 4],
    /// Diagonals of the cells, by colour.
    pub bias: [Vec<Tie>; 4],
    /// Three points in a row, evenly apart: across, then along.
    pub rows: [Vec<[u32; 3]>; 2],
    /// Cells whose corners are a rectangle of the grid.
    pub squares: Vec<[u32; 4]>,
    /// Size of a cell of the grid.
    pub step: [f64; 2],
    /// Where the grid begins, and how many cells it has each way.
    origin: [f64; 2],
    count: [usize; 2],
    /// The cell that stands at each place of the grid.
    place: Vec<Option<u32>>,
}

/// The points of the grid before what lies outside is left out.
struct Grid {
    count: [usize; 2],
    at: Vec<Point>,
    /// Inside, or moved onto the outline.
    kept: Vec<bool>,
    moved: Vec<bool>,
}

impl Mesh {
    /// The mesh of a cloth.
    pub(crate) fn new(outline: &Loop, points: usize) -> Self {
        let bounds = outline.bounds();
        let count = cells_each_way(bounds, outline.area(), points);
        let step = [bounds.width() / count[0] as f64, bounds.height() / count[1] as f64];
        let mut grid = Grid::over(bounds, count);
        grid.fit(outline, step);
        grid.into_mesh(outline, [bounds.x0, bounds.y0], step)
    }

    /// The cell nearest to a place on the flat cloth, and that place within it as shares of three of its corners.
    pub(crate) fn locate(&self, at: [f64; 2]) -> ([u32; 3], [f64; 3]) {
        let index = |axis: usize| {
            let cells = (at[axis] - self.origin[axis]) / self.step[axis];
            (cells.max(0.0) as usize).min(self.count[axis] - 1)
        };
        let (i, j) = (index(0), index(1));
        let mut best: Option<(f64, [u32; 3], [f64; 3])> = None;
        for ring in 0..self.count[0].max(self.count[1]) {
            for place in ring_about(i, j, ring, self.count) {
                let Some(cell) = self.place[place] else { continue };
                let [a, b, c, d] = self.cells[cell as usize];
                for corners in [[a, b, c], [a, c, d]] {
                    if let Some((outside, shares)) = self.shares(corners, at)
                        && best.is_none_or(|(least, ..)| outside < least)
                    {
                        best = Some((outside, corners, shares));
                    }
                }
            }
            // Cells of the next ring lie farther off, except where points were moved; one ring more sees to those.
            if best.is_some_and(|(outside, ..)| outside <= 0.0) || (best.is_some() && ring > 1) {
                break;
            }
        }
        best.map_or(([0; 3], [1.0, 0.0, 0.0]), |(_, corners, shares)| (corners, shares))
    }

    /// `at` as shares of three corners, and how far the least share lies below nothing.
    fn shares(&self, corners: [u32; 3], at: [f64; 2]) -> Option<(f64, [f64; 3])> {
        let [a, b, c] = corners.map(|corner| self.flat[corner as usize]);
        let cross = |p: [f64; 2], q: [f64; 2], r: [f64; 2]| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        let whole = cross(a, b, c);
        if whole.abs() <= 1e-9 * self.step[0] * self.step[1] {
            return None;
        }
        let shares = [cross(at, b, c) / whole, cross(a, at, c) / whole, cross(a, b, at) / whole];
        let outside = -(shares[0].min(shares[1]).min(shares[2]));
        Some((if outside < 1e-9 { 0.0 } else { outside }, shares))
    }
}

/// Cells each way, odd, so that about `points` lie inside.
fn cells_each_way(bounds: Rect, area: f64, points: usize) -> [usize; 2] {
    // An outline that leaves most of its bounds empty gets fewer points, rather than a grid without end.
    let side = (area.max(0.2 * bounds.area()) / points as f64).sqrt();
    let odd = |length: f64| ((length / side - 1.0) / 2.0).round().max(0.0) as usize * 2 + 1;
    [odd(bounds.width()), odd(bounds.height())]
}

/// Places of the grid that are `ring` cells away from one.
fn ring_about(i: usize, j: usize, ring: usize, [across, along]: [usize; 2]) -> impl Iterator<Item = usize> {
    let span = move |at: usize, count: usize| at.saturating_sub(ring)..(at + ring + 1).min(count);
    span(j, along).flat_map(move |y| {
        let edge = y.abs_diff(j) == ring;
        span(i, across).filter(move |x| edge || x.abs_diff(i) == ring).map(move |x| y * across + x)
    })
}

impl Grid {
    fn over(bounds: Rect, count: [usize; 2]) -> Self {
        let (middle, half) = (bounds.center(), [bounds.width() / 2.0, bounds.height() / 2.0]);
        // From the middle outward, so that both halves are mirror images to the last bit.
        let share = |i: usize, cells: usize| (2.0 * i as f64 - cells as f64) / cells as f64;
        let at = (0..=count[1]).flat_map(|j| {
            let y = middle.y + half[1] * share(j, count[1]);
            (0..=count[0]).map(move |i| Point::new(middle.x + half[0] * share(i, count[0]), y))
        });
        let at: Vec<Point> = at.collect();
        Self { count, kept: vec![false; at.len()], moved: vec![false; at.len()], at }
    }

    /// Moves points onto the outline and marks what is inside.
    fn fit(&mut self, outline: &Loop, step: [f64; 2]) {
        let mut claimed = vec![false; self.at.len()];
        for corner in sharp_corners(outline) {
            let free = (0..self.at.len()).filter(|&i| !claimed[i]);
            let Some(nearest) = free.min_by(|&a, &b| gap(self.at[a], corner).total_cmp(&gap(self.at[b], corner))) else { break };
            claimed[nearest] = true;
            self.put(nearest, corner, step);
        }
        for i in (0..self.at.len()).filter(|&i| !claimed[i]) {
            let at = self.at[i];
            let nearest = outline.edges().iter().map(|edge| edge.nearest(at)).min_by(|a, b| gap(*a, at).total_cmp(&gap(*b, at)));
            let Some(nearest) = nearest else { continue };
            let off = nearest - at;
            let inside = outline.contains(at);
            // How far the outline is along a grid line, as a share of a cell, is `far² / (off · step)` on either axis.
            let (far, lean) = (off.dot(off), (off.x.abs() * step[0]).max(off.y.abs() * step[1]));
            if 2.0 * far < lean || (!inside && 2.0 * far <= lean) {
                self.put(i, nearest, step);
            } else {
                self.kept[i] = inside;
            }
        }
    }

    fn put(&mut self, i: usize, onto: Point, step: [f64; 2]) {
        self.moved[i] = gap(self.at[i], onto) > 1e-9 * (step[0] + step[1]);
        self.at[i] = onto;
        self.kept[i] = true;
    }

    fn into_mesh(self, outline: &Loop, origin: [f64; 2], step: [f64; 2]) -> Mesh {
        let [across, along] = self.count;
        let mut mesh = Mesh {
            flat: Vec::new(),
            cells: Vec::new(),
            threads: Default::default(),
            bias: Default::default(),
            rows: Default::default(),
            squares: Vec::new(),
            step,
            origin,
            count: self.count,
            place: vec![None; across * along],
        };
        let found = self.cells(outline, step);
        let mut used = vec![false; self.at.len()];
        found.iter().flat_map(|(_, corners)| corners).for_each(|&corner| used[corner] = true);
        let mut name = vec![0; self.at.len()];
        for i in (0..self.at.len()).filter(|&i| used[i]) {
            name[i] = mesh.flat.len() as u32;
            mesh.flat.push([self.at[i].x, self.at[i].y]);
        }
        for (place, corners) in &found {
            mesh.place[*place] = Some(mesh.cells.len() as u32);
            mesh.cells.push(corners.map(|corner| name[corner]));
        }
        self.tie(&found, &name, &mut mesh);
        mesh
    }

    /// Cells with at least three corners inside and their middle too: their place, and their corners in the grid.
    fn cells(&self, outline: &Loop, step: [f64; 2]) -> Vec<(usize, [usize; 4])> {
        let [across, along] = self.count;
        let mut found = Vec::new();
        for (j, i) in (0..along).flat_map(|j| (0..across).map(move |i| (j, i))) {
            let low = j * (across + 1) + i;
            let corners = [low, low + 1, low + across + 2, low + across + 1];
            let kept: Vec<usize> = corners.into_iter().filter(|&corner| self.kept[corner]).collect();
            let cell = match kept[..] {
                [a, b, c, d] => [a, b, c, d],
                [a, b, c] => [a, b, c, c],
                _ => continue,
            };
            let middle = kept.iter().fold(Vec2::ZERO, |sum, &corner| sum + self.at[corner].to_vec2()) / kept.len() as f64;
            let area = Loop::polygon(&kept.iter().map(|&corner| self.at[corner]).collect::<Vec<_>>()).area();
            if area > 0.05 * step[0] * step[1] && outline.contains(middle.to_point()) {
                found.push((j * across + i, cell));
            }
        }
        found
    }

    fn tie(&self, found: &[(usize, [usize; 4])], name: &[u32], mesh: &mut Mesh) {
        let across = self.count[0];
        let place = |point: usize| [point % (across + 1), point / (across + 1)];
        let mut tied = vec![[false; 2]; self.at.len()];
        for (cell, corners) in found {
            let (i, j) = (cell % across, cell / across);
            let sides = if corners[2] == corners[3] { 3 } else { 4 };
            let tie = |a: usize, b: usize| Tie { a: name[a], b: name[b], rest: gap(self.at[a], self.at[b]) };
            for k in 0..sides {
                let (a, b) = (corners[k].min(corners[(k + 1) % sides]), corners[k].max(corners[(k + 1) % sides]));
                let ([x, y], [x1, y1]) = (place(a), place(b));
                if x != x1 && y != y1 {
                    mesh.bias[2 * (j % 2) + i % 2].push(tie(a, b));
                } else if !std::mem::replace(&mut tied[a][usize::from(x == x1)], true) {
                    let colour = if x == x1 { 2 + y % 2 } else { x % 2 };
                    mesh.threads[colour].push(tie(a, b));
                }
            }
            if sides == 4 {
                let [a, b, c, d] = *corners;
                mesh.bias[2 * (j % 2) + i % 2].extend([tie(a, c), tie(b, d)]);
                if corners.iter().all(|&corner| !self.moved[corner]) {
                    mesh.squares.push(corners.map(|corner| name[corner]));
                }
            }
        }
        for (way, stride) in [(0, 1), (1, across + 1)] {
            for b in stride..self.at.len().saturating_sub(stride) {
                let row = [b - stride, b, b + stride];
                if tied[row[0]][way] && tied[b][way] && row.iter().all(|&point| !self.moved[point]) {
                    mesh.rows[way].push(row.map(|point| name[point]));
                }
            }
        }
    }
}

/// Corners at which the outline turns by more than about 20 degrees.
pub(crate) fn sharp_corners(outline: &Loop) -> Vec<Point> {
    let edges = outline.edges();
    let turns = |before: &Edge, after: &Edge| before.direction_to().dot(after.direction_from()) < 0.94;
    (0..edges.len()).filter(|&i| turns(&edges[(i + edges.len() - 1) % edges.len()], &edges[i])).map(|i| edges[i].from()).collect()
}

fn gap(a: Point, b: Point) -> f64 {
    let v = b - a;
    (v.x * v.x + v.y * v.y).sqrt()
}
