//! Pieces that lie side by side: the stretches of seam between them and the points at which these end.
//!
//! In: outlines (patches of a block, blocks and strips of a top). Out: every stretch once, with the piece on either side, and
//! for each of its ends the stretch that goes straight on. Corners nearer to one another than [`SNAP`] are one point.

use seamfall_geom::{Beside, Edge, Loop, Point, TOLERANCE, Vec2};
use std::collections::BTreeMap;

/// Corners of neighbours that are meant to be one differ by rounding only, which is far less.
const SNAP: f64 = 1e-5;

/// Pieces side by side.
#[derive(Debug, Clone, Default)]
pub(crate) struct Mesh {
    /// Where stretches end.
    pub points: Vec<Point>,
    /// Every stretch between two points, no point on it but its ends.
    pub stretches: Vec<Stretch>,
    /// Number of pieces.
    pub pieces: usize,
    /// Closed seams round what is set into a piece: the stretches of each hole, walked with the piece to the left.
    pub holes: Vec<Vec<Half>>,
    /// Middle (of its corners' polygon) and area of each piece.
    pub middles: Vec<(Point, f64)>,
    /// For every point the half stretches that leave it.
    leaving: Vec<Vec<Half>>,
    /// For every half stretch the one that goes straight on where it ends.
    onward: Vec<Option<Half>>,
    /// For every piece its stretches.
    around: Vec<Vec<usize>>,
}

/// A stretch of seam, or of the outline where one side is empty.
#[derive(Debug, Clone)]
pub(crate) struct Stretch {
    /// Its course.
    pub edge: Edge,
    /// Start point.
    pub from: usize,
    /// End point.
    pub to: usize,
    /// Piece to its left.
    pub left: Option<usize>,
    /// Piece to its right.
    pub right: Option<usize>,
}

/// A stretch walked one way: twice its number, and one more where it is walked backward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Half(usize);

impl Half {
    /// Stretch `number`, forward or backward.
    pub fn new(number: usize, backward: bool) -> Self {
        Self(2 * number + usize::from(backward))
    }

    /// Number of the stretch.
    pub fn stretch(self) -> usize {
        self.0 / 2
    }

    /// Whether it is walked against its direction.
    pub fn is_backward(self) -> bool {
        self.0 % 2 == 1
    }

    /// The same stretch the other way.
    pub fn reversed(self) -> Self {
        Self(self.0 ^ 1)
    }
}

impl Mesh {
    /// Lays pieces, each an outline with the holes in it, side by side.
    pub fn new<'a>(pieces: impl IntoIterator<Item = (&'a Loop, &'a [Loop])>) -> Self {
        let mut mesh = Self::default();
        let mut corners = Corners::default();
        let mut sides: Vec<Side> = Vec::new();
        for (outline, holes) in pieces {
            for (hole, ring) in std::iter::once(outline).chain(holes).enumerate() {
                let side = |edge: &Edge| Side {
                    edge: *edge,
                    from: corners.number(edge.from()),
                    to: corners.number(edge.to()),
                    piece: mesh.pieces,
                    hole,
                };
                sides.extend(ring.edges().iter().map(side).filter(|side| side.from != side.to || side.edge.radius().is_some()));
            }
            mesh.middles.push(middle(outline));
            mesh.pieces += 1;
        }
        mesh.points = corners.points;
        mesh.match_sides(&sides);
        mesh.find_onward();
        mesh
    }

    /// Puts sides that lie upon one another together.
    fn match_sides(&mut self, sides: &[Side]) {
        let beside = Beside::new(&self.points);
        let mut open: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        let mut holes: BTreeMap<(usize, usize), Vec<Half>> = BTreeMap::new();
        for side in sides {
            // Arcs end where others meet them.
            let on_the_way = match side.edge {
                Edge::Line { from, to } => beside.along(from, to, SNAP),
                Edge::Arc { .. } => Vec::new(),
            };
            let on_the_way = on_the_way.into_iter().filter(|&point| point != side.from && point != side.to);
            let stops: Vec<usize> = std::iter::once(side.from).chain(on_the_way).chain(std::iter::once(side.to)).collect();
            for pair in stops.windows(2) {
                let edge = match side.edge {
                    Edge::Line { .. } => Edge::Line { from: self.points[pair[0]], to: self.points[pair[1]] },
                    arc @ Edge::Arc { .. } => arc,
                };
                let same_course = |&&other: &&usize| {
                    let middle = self.stretches[other].edge.at(0.5) - edge.at(0.5);
                    self.stretches[other].right.is_none() && middle.hypot2() <= SNAP * SNAP
                };
                let waiting = open.get(&(pair[1], pair[0])).and_then(|list| list.iter().find(same_course).copied());
                let half = if let Some(number) = waiting {
                    self.stretches[number].right = Some(side.piece);
                    Half::new(number, true)
                } else {
                    open.entry((pair[0], pair[1])).or_default().push(self.stretches.len());
                    let (from, to) = (pair[0], pair[1]);
                    self.stretches.push(Stretch { edge, from, to, left: Some(side.piece), right: None });
                    Half::new(self.stretches.len() - 1, false)
                };
                if side.hole > 0 {
                    holes.entry((side.piece, side.hole)).or_default().push(half);
                }
            }
        }
        self.holes = holes.into_values().collect();
    }

    /// Finds for each end of a stretch what goes straight on there.
    fn find_onward(&mut self) {
        self.leaving = vec![Vec::new(); self.points.len()];
        self.around = vec![Vec::new(); self.pieces];
        for (number, stretch) in self.stretches.iter().enumerate() {
            self.leaving[stretch.from].push(Half::new(number, false));
            self.leaving[stretch.to].push(Half::new(number, true));
            for piece in [stretch.left, stretch.right].into_iter().flatten() {
                self.around[piece].push(number);
            }
        }
        self.onward = vec![None; 2 * self.stretches.len()];
        for leaving in &self.leaving {
            for (i, &a) in leaving.iter().enumerate() {
                for &b in &leaving[i + 1..] {
                    if goes_on(&self.course(a.reversed()), &self.course(b)) {
                        self.onward[a.reversed().0] = Some(b);
                        self.onward[b.reversed().0] = Some(a);
                    }
                }
            }
        }
    }

    /// The same mesh with pieces taken together: `group` says for each piece which it belongs to, `groups` how many there are.
    /// Stretches keep their numbers; those within a group part nothing any more.
    pub fn grouped(&self, group: &[usize], groups: usize) -> Self {
        let mut mesh = self.clone();
        mesh.pieces = groups;
        mesh.holes.clear();
        mesh.middles = vec![(Point::ORIGIN, 0.0); groups];
        for (piece, &(at, area)) in self.middles.iter().enumerate() {
            let (sum, all) = &mut mesh.middles[group[piece]];
            let whole = *all + area;
            *sum += (at - *sum) * (area / whole);
            *all = whole;
        }
        mesh.around = vec![Vec::new(); groups];
        for (number, stretch) in mesh.stretches.iter_mut().enumerate() {
            (stretch.left, stretch.right) = (stretch.left.map(|piece| group[piece]), stretch.right.map(|piece| group[piece]));
            if stretch.left == stretch.right {
                (stretch.left, stretch.right) = (None, None);
            }
            for piece in [stretch.left, stretch.right].into_iter().flatten() {
                mesh.around[piece].push(number);
            }
        }
        mesh
    }

    /// The course of a half stretch in its direction.
    pub fn course(&self, half: Half) -> Edge {
        let edge = self.stretches[half.stretch()].edge;
        if half.is_backward() { edge.reversed() } else { edge }
    }

    /// Where a half stretch starts.
    pub fn start(&self, half: Half) -> usize {
        let stretch = &self.stretches[half.stretch()];
        if half.is_backward() { stretch.to } else { stretch.from }
    }

    /// Where a half stretch ends.
    pub fn end(&self, half: Half) -> usize {
        self.start(half.reversed())
    }

    /// Piece to the left of a half stretch.
    pub fn left(&self, half: Half) -> Option<usize> {
        let stretch = &self.stretches[half.stretch()];
        if half.is_backward() { stretch.right } else { stretch.left }
    }

    /// Half stretches that leave a point.
    pub fn leaving(&self, point: usize) -> &[Half] {
        &self.leaving[point]
    }

    /// What goes straight on (along the same line or circle) where a half stretch ends.
    pub fn onward(&self, half: Half) -> Option<Half> {
        self.onward[half.0]
    }

    /// How often a path bends; where it ends in its start, there too unless it goes straight on.
    pub fn bends(&self, path: &[Half]) -> usize {
        let (first, last) = (path[0], path[path.len() - 1]);
        let inner = path.windows(2).filter(|pair| self.onward(pair[0]) != Some(pair[1])).count();
        inner + usize::from(self.end(last) == self.start(first) && self.onward(last) != Some(first))
    }

    /// The stretches round a piece.
    pub fn around(&self, piece: usize) -> &[usize] {
        &self.around[piece]
    }
}

/// Centroid and area of the polygon through the corners of an outline.
pub(super) fn middle(outline: &Loop) -> (Point, f64) {
    let corners: Vec<Point> = outline.corners().collect();
    let origin = corners[0];
    let (mut sum, mut area) = (Vec2::ZERO, 0.0);
    for pair in corners.windows(2).skip(1) {
        let (a, b) = (pair[0] - origin, pair[1] - origin);
        let half = a.cross(b) / 2.0;
        sum += (a + b) / 3.0 * half;
        area += half;
    }
    let at = if area > TOLERANCE { origin + sum / area } else { outline.bounds().center() };
    (at, outline.area())
}

/// A side of a piece, as given.
struct Side {
    edge: Edge,
    from: usize,
    to: usize,
    piece: usize,
    /// 0 for the outline, else the number of the hole.
    hole: usize,
}

/// Whether `b` goes on where `a` ends along the same line or circle.
fn goes_on(a: &Edge, b: &Edge) -> bool {
    let (before, after): (Vec2, Vec2) = (a.direction_to(), b.direction_from());
    if before.dot(after) <= 0.0 {
        return false;
    }
    match (a, b) {
        (Edge::Line { from, .. }, Edge::Line { to, .. }) => {
            let (whole, part) = (*to - *from, a.to() - *from);
            whole.cross(part).abs() <= 10.0 * TOLERANCE * whole.hypot2().sqrt()
        }
        (Edge::Arc { centre, turn, .. }, Edge::Arc { centre: other, turn: way, .. }) => {
            turn == way && (*centre - *other).hypot2() <= SNAP * SNAP
        }
        _ => false,
    }
}

/// Corners, numbered as they come.
#[derive(Default)]
struct Corners {
    points: Vec<Point>,
    numbers: BTreeMap<(i64, i64), usize>,
}

impl Corners {
    fn number(&mut self, point: Point) -> usize {
        let key = ((point.x / SNAP).round() as i64, (point.y / SNAP).round() as i64);
        for dx in -1..=1 {
            for dy in -1..=1 {
                if let Some(&known) = self.numbers.get(&(key.0 + dx, key.1 + dy)) {
                    return known;
                }
            }
        }
        self.numbers.insert(key, self.points.len());
        self.points.push(point);
        self.points.len() - 1
    }
}
