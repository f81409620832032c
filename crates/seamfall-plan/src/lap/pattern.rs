//! One section as it is quilted: what now, what after the join, along which paths, with how much thread.
//!
//! In: the outline of a section, the design's lines in it, and how the maker works, all in whole 2^-24ths of the unit ([`Key`]), so
//! that equal sections have equal keys and one result. Out: a [`Pattern`] in the section's own coordinates, the lower left corner of
//! its bounds at the origin.

use super::graph::Graph;
use super::motifs::Chain;
use super::needlefuls;
use super::{Line, Path, Pattern};
use crate::draft::crowd::crossings;
use seamfall_geom::{Edge, Inset, Loop, Point, Turn, Vec2, node};
use seamfall_model::Quilt;

/// Parts of a unit: far finer than the tolerance of the geometry.
const PARTS: f64 = (1u64 << 24) as f64;

/// A section in whole numbers.
pub(super) type Key = Vec<i64>;

/// More edges than one section can have and still be routed.
pub(super) const MOST_EDGES: usize = 12_000;

/// How often the lines of one section may cross and still be routed: lines both ways a quarter of an inch apart, over three feet of quilt.
const MOST_CROSSINGS: usize = 20_000;

/// How the maker works, as it bears on a section. All in the document's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Manner {
    /// From the finished outline to where quilting stops.
    pub clear: f64,
    pub reach: f64,
    /// Thread of a needleful without its tails.
    pub usable: f64,
    pub tail: f64,
    /// Thread in a unit of quilting.
    pub thread: f64,
    /// Ticks of a whole number in a unit, for the solver.
    pub ticks: f64,
}

impl Manner {
    pub fn new(quilt: &Quilt) -> Self {
        let (lap, inch) = (&quilt.lap, quilt.measure.inch());
        Self {
            clear: (lap.margin.value() - quilt.allowance.0.value()).max(0.0),
            reach: lap.reach.value(),
            usable: lap.needleful.value() - 2.0 * lap.tail.value(),
            tail: lap.tail.value(),
            thread: needlefuls::thread_of(quilt).value(),
            ticks: 1000.0 / inch,
        }
    }

    fn numbers(&self) -> [f64; 6] {
        [self.clear, self.reach, self.usable, self.tail, self.thread, self.ticks]
    }
}

fn whole(x: f64) -> i64 {
    (x * PARTS).round() as i64
}

/// The key of a section: outline, what is left of it and lines moved by `shift`.
pub(super) fn key(outline: &Loop, kept: Option<&[Loop]>, lines: &[(usize, Chain)], shift: Vec2, manner: &Manner) -> Key {
    let mut key: Key = manner.numbers().iter().map(|number| number.to_bits() as i64).collect();
    let put = |key: &mut Key, edges: &[Edge]| {
        key.push(edges.len() as i64);
        for edge in edges {
            let from = edge.from() + shift;
            key.extend([whole(from.x), whole(from.y)]);
            match *edge {
                Edge::Line { .. } => key.push(0),
                Edge::Arc { centre, turn, .. } => {
                    let centre = centre + shift;
                    key.extend([if turn == Turn::Left { 1 } else { 2 }, whole(centre.x), whole(centre.y)]);
                }
            }
        }
        if let Some(edge) = edges.last() {
            let to = edge.to() + shift;
            key.extend([whole(to.x), whole(to.y)]);
        }
    };
    put(&mut key, outline.edges());
    key.push(kept.map_or(-1, |kept| kept.len() as i64));
    for one in kept.into_iter().flatten() {
        put(&mut key, one.edges());
    }
    for (of, chain) in lines {
        key.push(*of as i64);
        put(&mut key, chain);
    }
    key
}

/// Reads a key back.
struct Reader<'a>(&'a [i64]);

impl Reader<'_> {
    fn next(&mut self) -> Option<i64> {
        let (first, rest) = self.0.split_first()?;
        self.0 = rest;
        Some(*first)
    }

    fn point(&mut self) -> Option<Point> {
        Some(Point::new(self.next()? as f64 / PARTS, self.next()? as f64 / PARTS))
    }

    fn edges(&mut self) -> Option<Chain> {
        let count = self.next()?;
        let mut parts = Vec::new();
        for _ in 0..count {
            let from = self.point()?;
            let turn = match self.next()? {
                1 => Some(Turn::Left),
                2 => Some(Turn::Right),
                _ => None,
            };
            let centre = if turn.is_some() { Some(self.point()?) } else { None };
            parts.push((from, turn.zip(centre)));
        }
        let end = if count > 0 { self.point()? } else { Point::ORIGIN };
        let ends: Vec<Point> = parts.iter().skip(1).map(|part| part.0).chain([end]).collect();
        let edges = parts.into_iter().zip(ends).map(|((from, bent), to)| match bent {
            None => Edge::Line { from, to },
            Some((turn, centre)) => Edge::Arc { from, to, centre, turn },
        });
        Some(edges.collect())
    }
}

/// Works out the section of a key.
pub(super) fn pattern(key: &Key, manner: &Manner) -> Pattern {
    let mut reader = Reader(&key[manner.numbers().len()..]);
    let outline = Loop::new(reader.edges().unwrap_or_default());
    let left = reader.next().unwrap_or(-1);
    let kept: Option<Vec<Loop>> = (left >= 0).then(|| (0..left).filter_map(|_| reader.edges()).map(Loop::new).collect());
    let insets: Vec<Inset> =
        kept.as_deref().unwrap_or(std::slice::from_ref(&outline)).iter().map(|one| Inset::new(one, manner.clear)).collect();
    let (mut lines, mut hanging) = (Vec::new(), Vec::new());
    while let Some(of) = reader.next() {
        let chain = reader.edges().unwrap_or_default();
        if let Some(inset) = around(&insets, &chain) {
            split(inset, of as usize, &chain, &mut lines, &mut hanging);
        }
    }
    let now: Vec<Edge> = lines.iter().filter(|line| line.now).flat_map(|line| line.edges.iter().copied()).collect();
    let length = |now: bool| -> f64 {
        lines.iter().filter(|line| line.now == now).flat_map(|line| &line.edges).map(Edge::length).sum::<f64>() + 0.0
    };
    let (now_length, after_length) = (length(true), length(false));
    let mut pattern = Pattern { outline, kept, now: now_length, after: after_length, hanging, lines, ..Pattern::default() };
    if now.len() > MOST_EDGES || crossings(&now, MOST_CROSSINGS) > MOST_CROSSINGS {
        pattern.too_many = true;
        pattern.hanging.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        pattern.hanging.dedup();
        return pattern;
    }
    let graph = Graph::new(&node(&now), &pattern.hanging, manner);
    pattern.hanging = graph.hanging();
    pattern.stitched = graph.length();
    let proven = graph.solve();
    (pattern.starts, pattern.bound, pattern.unaided) = (proven.cost, proven.bound, proven.answer.unaided);
    pattern.paths = proven.answer.paths.iter().map(|steps| graph.path(steps)).collect();
    pattern.travelled =
        pattern.paths.iter().flat_map(|path| &path.stretches).filter(|part| part.hidden).map(super::Stretch::length).sum::<f64>()
            + 0.0;
    pattern.needlefuls =
        pattern.paths.iter().enumerate().flat_map(|(number, path)| needlefuls::of(number, path, manner)).collect();
    pattern.thread = pattern.needlefuls.iter().map(|one| one.thread).sum::<f64>() + 0.0;
    pattern
}

/// Of the parts of a section the one in which a chain lies.
fn around<'a>(insets: &'a [Inset], chain: &[Edge]) -> Option<&'a Inset> {
    if let [one] = insets {
        return Some(one);
    }
    let middle = chain.get(chain.len() / 2)?.at(0.5);
    insets.iter().find(|inset| inset.encloses(middle))
}

/// Cuts a chain at the margin. Where it goes on into the margin an end hangs, but not where a closed chain only starts.
fn split(inset: &Inset, of: usize, chain: &[Edge], lines: &mut Vec<Line>, hanging: &mut Vec<Point>) {
    let runs = inset.cut(chain);
    for (before, after) in runs.iter().zip(runs.iter().skip(1)) {
        debug_assert!(before.inside != after.inside);
        hanging.extend(after.edges.first().map(Edge::from));
    }
    let (first, last) = (chain.first().map(Edge::from), chain.last().map(Edge::to));
    let closed = first.zip(last).is_some_and(|(first, last)| (first - last).hypot2() < 1e-12);
    if let (true, [start, .., end]) = (closed, &runs[..])
        && start.inside != end.inside
    {
        hanging.extend(first);
    }
    lines.extend(runs.into_iter().map(|run| Line { of, now: run.inside, edges: run.edges }));
}

impl Path {
    /// Its length, hidden ways and all.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.stretches.iter().map(super::Stretch::length).sum()
    }
}
