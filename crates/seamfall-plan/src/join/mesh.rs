//! Where sections touch: the straight lines along which they do, and each stretch between two of them.
//!
//! In: the sections' outlines. Out: lines, sorted, with their contacts. A line's direction lies between 45 degrees down (not included) and
//! 135 degrees, so that level seams run to the right and upright ones up; on point those that rise to the right count as level. Outlines
//! are taken as they are; a section's curved edge touches nothing.

use crate::set::{PieceKind, Section, Top, TopPiece};
use seamfall_geom::{Edge, Loop, Point, Vec2};

/// Lines that differ by less are one: rounding differs by far less, seams by far more.
pub(super) const SAME: f64 = 1e-4;

/// Straight lines along which sections touch.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mesh {
    /// Directions, each once.
    pub directions: Vec<Direction>,
    /// Lines, by direction, then from the right or the bottom.
    pub lines: Vec<Line>,
    /// Least and most distance from the origin of every section, by direction: what [`Direction::off`] gives.
    pub extents: Extents,
}

/// Least and most distance from the origin, by direction and section.
pub(super) type Extents = Vec<Vec<[f64; 2]>>;

/// A direction of seams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Direction {
    pub along: Vec2,
    /// Rather level than upright.
    pub level: bool,
}

impl Direction {
    /// How far to the left of the origin's own line a point lies.
    pub fn off(self, at: Point) -> f64 {
        self.along.x * at.y - self.along.y * at.x
    }

    /// How far along.
    pub fn on(self, at: Point) -> f64 {
        self.along.dot(at.to_vec2())
    }

    /// The point so far along and so far to the left.
    pub fn at(self, on: f64, off: f64) -> Point {
        (self.along * on + Vec2::new(-self.along.y, self.along.x) * off).to_point()
    }
}

/// A straight line with the contacts along it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// Number of its direction.
    pub direction: usize,
    /// Its distance to the left of the origin.
    pub off: f64,
    /// Contacts, from start to end.
    pub contacts: Vec<Contact>,
}

/// A stretch between two sections.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Contact {
    /// Where it begins and ends along the line.
    pub on: [f64; 2],
    /// The section to the left.
    pub left: usize,
    /// The section to the right.
    pub right: usize,
}

/// Points right or up, and whether it is rather level; see the header.
pub(super) fn direction(way: Vec2) -> Direction {
    let unit = way / way.hypot2().sqrt();
    // A millionth, so that rounding does not tell 45 degrees from 45 degrees.
    let level = |v: Vec2| v.x + v.y > 1e-6 && v.y - v.x < 1e-6;
    let up = |v: Vec2| if v.y < 0.0 { -v } else { v };
    match (level(unit), level(-unit)) {
        (true, _) => Direction { along: unit, level: true },
        (_, true) => Direction { along: -unit, level: true },
        _ => Direction { along: up(unit), level: false },
    }
}

/// A side of a section: its place on a line.
struct Side {
    direction: usize,
    off: f64,
    on: [f64; 2],
    section: usize,
    /// Whether the section lies to the left of the line.
    left: bool,
}

fn extents(top: &Top, directions: &[Direction], corners: impl Fn(&Section) -> Vec<Point>) -> Extents {
    let corners: Vec<Vec<Point>> = top.sections.iter().map(corners).collect();
    let spread = |way: &Direction, corners: &[Point]| {
        let all = corners.iter().map(|at| way.off(*at));
        all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], off| [low.min(off), high.max(off)])
    };
    directions.iter().map(|way| corners.iter().map(|corners| spread(way, corners)).collect()).collect()
}

impl Mesh {
    pub fn new(top: &Top) -> Self {
        let mut directions: Vec<Direction> = Vec::new();
        let mut sides = Vec::new();
        for (section, one) in top.sections.iter().enumerate() {
            for edge in one.outline.edges() {
                let &Edge::Line { from, to } = edge else { continue };
                let way = direction(to - from);
                let number = find(&mut directions, way);
                let way = directions[number];
                let (a, b) = (way.on(from), way.on(to));
                let off = f64::midpoint(way.off(from), way.off(to));
                // Outlines run anticlockwise: a section lies to the left of its own edge.
                sides.push(Side { direction: number, off, on: [a.min(b), a.max(b)], section, left: a < b });
            }
        }
        sides.sort_by(|a, b| a.direction.cmp(&b.direction).then(a.off.total_cmp(&b.off)));
        let mut lines = Vec::new();
        let mut rest = &sides[..];
        while let Some(first) = rest.first() {
            let same = |pair: &[Side]| pair[0].direction == pair[1].direction && pair[1].off - pair[0].off < SAME;
            let many = 1 + rest.windows(2).take_while(|pair| same(pair)).count();
            let contacts = contacts(&rest[..many]);
            if !contacts.is_empty() {
                lines.push(Line { direction: first.direction, off: first.off, contacts });
            }
            rest = &rest[many..];
        }
        let all = |section: &Section| section.outline.corners().collect();
        let extents = extents(top, &directions, all);
        Self { directions, lines, extents }
    }

    /// The same as [`Mesh::extents`] without half cornerstones, which can be set in at the edge of a setting on point.
    pub fn extents_without_halves(&self, top: &Top) -> Extents {
        // Without cornerstones the end of a sash that runs through is cut there.
        let is_half =
            |piece: &TopPiece| matches!(piece.kind, PieceKind::Cornerstone | PieceKind::Sash) && piece.outline.edges().len() == 3;
        extents(top, &self.directions, |section| {
            let places = section.places.iter().map(|&place| &top.places[place].outline);
            let strips = section.strips.iter().map(|&strip| &top.strips[strip]).filter(|strip| !is_half(strip));
            let rest: Vec<Point> = places.chain(strips.map(|strip| &strip.outline)).flat_map(Loop::corners).collect();
            if rest.is_empty() { section.outline.corners().collect() } else { rest }
        })
    }

    /// The direction of a line.
    pub fn direction(&self, line: usize) -> Direction {
        self.directions[self.lines[line].direction]
    }

    /// A point of a line.
    pub fn point(&self, line: usize, on: f64) -> Point {
        self.direction(line).at(on, self.lines[line].off)
    }

    /// The line that an edge lies along, with where it begins and ends on it; nothing where sections do not touch along it.
    pub fn line_of(&self, from: Point, to: Point) -> Option<(usize, [f64; 2])> {
        if (to - from).hypot2() < SAME * SAME {
            return None;
        }
        let way = direction(to - from);
        let number = self.directions.iter().position(|known| same(*known, way))?;
        let way = self.directions[number];
        let off = way.off(from);
        let first = self.lines.partition_point(|line| (line.direction, line.off) < (number, off - SAME));
        let line = self.lines.get(first).filter(|line| line.direction == number && line.off < off + SAME)?;
        debug_assert!(!line.contacts.is_empty());
        Some((first, [way.on(from), way.on(to)]))
    }
}

fn same(a: Direction, b: Direction) -> bool {
    (a.along - b.along).hypot2() < 1e-10
}

fn find(directions: &mut Vec<Direction>, way: Direction) -> usize {
    directions.iter().position(|known| same(*known, way)).unwrap_or_else(|| {
        directions.push(way);
        directions.len() - 1
    })
}

/// What sides of one line share, left against right, from start to end.
fn contacts(sides: &[Side]) -> Vec<Contact> {
    let sorted = |left: bool| {
        let mut some: Vec<&Side> = sides.iter().filter(|side| side.left == left).collect();
        some.sort_by(|a, b| a.on[0].total_cmp(&b.on[0]));
        some
    };
    let (lefts, rights) = (sorted(true), sorted(false));
    let (mut i, mut j, mut all) = (0, 0, Vec::new());
    while let (Some(a), Some(b)) = (lefts.get(i), rights.get(j)) {
        let on = [a.on[0].max(b.on[0]), a.on[1].min(b.on[1])];
        if on[1] - on[0] > SAME {
            all.push(Contact { on, left: a.section, right: b.section });
        }
        if a.on[1] < b.on[1] { i += 1 } else { j += 1 }
    }
    all
}
