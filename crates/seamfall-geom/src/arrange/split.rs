//! Edges cut at the vertices on them, each stretch once, and only within the frame.
//!
//! In: the frame and the given edges. Out: the arrangement without its faces.

use std::collections::BTreeMap;

use super::join::join;
use super::pieces::{Piece, Unusable, add_pieces, cut, meets, usable};
use super::snap::Vertices;
use super::{ArrangedEdge, Arrangement, LooseEnd, Overlap, Source, incidence};
use crate::plane::{distance, length};
use crate::{Edge, Loop, Point, TOLERANCE, Vec2};

/// A stretch shorter than this is a line: the bulge of an arc is below rounding.
const SHORT: f64 = 10.0 * TOLERANCE;

/// What lies this near along a whole stretch lies on it: either may be off by the tolerance.
const ALONG: f64 = 2.0 * TOLERANCE;

/// A stretch between two vertices.
pub(super) struct Stretch {
    pub(super) edge: Edge,
    pub(super) from: u32,
    pub(super) to: u32,
    pub(super) source: Source,
}

/// See the head of the module.
pub(super) fn split(frame: &Loop, given: &[Edge]) -> Arrangement {
    let mut out = Arrangement::default();
    let mut pieces = Vec::new();
    for (i, edge) in frame.edges().iter().enumerate() {
        add_pieces(&mut pieces, *edge, Source::Frame(i));
    }
    let frame_pieces = pieces.len();
    let frame_bounds = frame.bounds().inflate(TOLERANCE, TOLERANCE);
    for (i, edge) in given.iter().enumerate() {
        match usable(*edge) {
            Err(Unusable::NoPlace) => out.outside.push(i),
            Err(Unusable::NoLength) => {
                if frame.encloses(edge.from()) {
                    out.loose_ends.push(LooseEnd { given: i, at: edge.from() });
                }
            }
            Ok(edge) if meets(&edge.bounds(), &frame_bounds) => add_pieces(&mut pieces, edge, Source::Given(i)),
            Ok(_) => out.outside.push(i),
        }
    }

    let (vertices, cuts) = cut(&pieces, frame_pieces);
    let stretches = clip(&pieces, frame_pieces, frame, &vertices, cuts, &mut out);
    let stretches = once(stretches, vertices.len(), &mut out);
    loose_ends(&stretches, &vertices, given, &mut out);
    let stretches = join(stretches, vertices.len());
    number(&stretches, &vertices, &mut out);
    out.loose_ends.sort_by_key(|end| end.given);
    out.outside.sort_unstable();
    out.outside.dedup();
    out
}

/// How far along a piece a point lies; any measure that grows along it.
fn measure(piece: &Edge) -> impl Fn(Point) -> f64 {
    let (from, to) = (piece.from(), piece.to());
    let (along, arc) = match *piece {
        Edge::Line { .. } => (to - from, None),
        Edge::Arc { centre, turn, .. } => (piece.at(0.5) - centre, Some((centre, turn.sign()))),
    };
    move |point| match arc {
        None => along.dot(point - from),
        Some((centre, sign)) => {
            let v: Vec2 = point - centre;
            sign * libm::atan2(along.cross(v), along.dot(v))
        }
    }
}

/// Cuts the pieces and leaves out what lies outside the frame or along it.
fn clip(
    pieces: &[Piece],
    frame_pieces: usize,
    frame: &Loop,
    vertices: &Vertices,
    mut cuts: Vec<(u32, u32)>,
    out: &mut Arrangement,
) -> Vec<Stretch> {
    let mut on_frame = vec![false; vertices.len()];
    for &(_, vertex) in cuts.iter().filter(|cut| (cut.0 as usize) < frame_pieces) {
        on_frame[vertex as usize] = true;
    }
    cuts.sort_unstable();
    cuts.dedup();
    let mut overlaps = Overlaps::default();
    let mut stretches = Vec::with_capacity(cuts.len());
    let mut run = Vec::new();
    for of_piece in cuts.chunk_by(|a, b| a.0 == b.0) {
        let piece = &pieces[of_piece[0].0 as usize];
        let measure = measure(&piece.edge);
        let mut along: Vec<(f64, u32)> = of_piece.iter().map(|cut| (measure(vertices.point(cut.1)), cut.1)).collect();
        along.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut keep_run = |run: &mut Vec<Stretch>| {
            if inside(run, &pieces[..frame_pieces], frame, &mut overlaps, &mut out.outside) {
                stretches.append(run);
            }
            run.clear();
        };
        for pair in along.windows(2) {
            run.push(stretch(piece, vertices, pair[0].1, pair[1].1));
            if on_frame[pair[1].1 as usize] {
                keep_run(&mut run);
            }
        }
        if !run.is_empty() {
            keep_run(&mut run);
        }
    }
    overlaps.report(out);
    stretches
}

fn stretch(piece: &Piece, vertices: &Vertices, from: u32, to: u32) -> Stretch {
    let (start, end) = (vertices.point(from), vertices.point(to));
    let edge = match piece.edge {
        Edge::Arc { centre, turn, .. } if distance(start, end) > SHORT => Edge::Arc { from: start, to: end, centre, turn },
        _ => Edge::Line { from: start, to: end },
    };
    Stretch { edge, from, to, source: piece.source }
}

/// Whether a run of stretches between two visits to the frame lies inside; its longest stretch decides.
fn inside(run: &[Stretch], frame_pieces: &[Piece], frame: &Loop, overlaps: &mut Overlaps, outside: &mut Vec<usize>) -> bool {
    let chord = |s: &Stretch| length(s.edge.to() - s.edge.from());
    let Some(longest) = run.iter().reduce(|a, b| if chord(b) > chord(a) { b } else { a }) else { return false };
    let Source::Given(given) = longest.source else { return true };
    let middle = longest.edge.at(0.5);
    let along = |piece: &&Piece| distance(piece.edge.nearest(middle), middle) <= ALONG;
    if let Some(piece) = frame_pieces.iter().find(along) {
        overlaps.add(piece.source, longest.source, chord(longest), middle);
        return false;
    }
    if frame.encloses(middle) {
        return true;
    }
    if run.iter().map(|s| s.edge.length()).sum::<f64>() > ALONG {
        outside.push(given);
    }
    false
}

/// Shared stretches, the longest of each pair.
#[derive(Default)]
struct Overlaps(BTreeMap<(Source, Source), (f64, Point)>);

impl Overlaps {
    fn add(&mut self, first: Source, second: Source, length: f64, at: Point) {
        // Two edges that cross at a very small angle share a little by rounding; nobody drew that twice.
        if length > SHORT && first != second {
            let entry = self.0.entry((first, second)).or_insert((length, at));
            if length > entry.0 {
                *entry = (length, at);
            }
        }
    }

    fn report(self, out: &mut Arrangement) {
        out.overlaps.extend(self.0.into_iter().map(|((first, second), (_, at))| Overlap { first, second, at }));
    }
}

/// Leaves out every stretch that runs along an earlier one.
fn once(stretches: Vec<Stretch>, vertices: usize, out: &mut Arrangement) -> Vec<Stretch> {
    let ends: Vec<(u32, u32)> = stretches.iter().map(|s| (s.from, s.to)).collect();
    let (starts, items) = incidence(vertices, &ends);
    let mut twice = vec![false; stretches.len()];
    let mut overlaps = Overlaps::default();
    let mut beside: Vec<(u32, u32)> = Vec::new();
    for v in 0..vertices {
        beside.clear();
        beside.extend(items[starts[v] as usize..starts[v + 1] as usize].iter().filter_map(|&half| {
            let (from, to) = ends[half as usize / 2];
            let other = if half % 2 == 0 { to } else { from };
            (other as usize > v).then_some((other, half / 2))
        }));
        if beside.len() < 2 {
            continue;
        }
        beside.sort_unstable();
        for group in beside.chunk_by(|a, b| a.0 == b.0) {
            for (k, &(_, late)) in group.iter().enumerate().skip(1) {
                let middle = stretches[late as usize].edge.at(0.5);
                let same = |early: &&(u32, u32)| {
                    !twice[early.1 as usize] && distance(stretches[early.1 as usize].edge.at(0.5), middle) <= ALONG
                };
                if let Some(&(_, early)) = group[..k].iter().find(same) {
                    twice[late as usize] = true;
                    let (first, second) = (&stretches[early as usize], &stretches[late as usize]);
                    overlaps.add(first.source, second.source, second.edge.length(), middle);
                }
            }
        }
    }
    overlaps.report(out);
    stretches.into_iter().zip(twice).filter_map(|(s, twice)| (!twice).then_some(s)).collect()
}

/// Reports the given ends at which one stretch alone ends.
fn loose_ends(stretches: &[Stretch], vertices: &Vertices, given: &[Edge], out: &mut Arrangement) {
    let mut count = vec![0u32; vertices.len()];
    for s in stretches {
        count[s.from as usize] += 1;
        count[s.to as usize] += 1;
    }
    for s in stretches {
        let Source::Given(number) = s.source else { continue };
        for vertex in [s.from, s.to] {
            let ends = [given[number].from(), given[number].to()];
            let near = |end: &Point| distance(*end, vertices.point(vertex)) <= ALONG;
            if count[vertex as usize] == 1
                && let Some(&at) = ends.iter().find(|end| near(end))
            {
                out.loose_ends.push(LooseEnd { given: number, at });
            }
        }
    }
}

/// Writes down the vertices that are left, in their order, and the edges between them.
fn number(stretches: &[Stretch], vertices: &Vertices, out: &mut Arrangement) {
    let mut numbers = vec![usize::MAX; vertices.len()];
    for s in stretches {
        numbers[s.from as usize] = 0;
        numbers[s.to as usize] = 0;
    }
    for (vertex, number) in numbers.iter_mut().enumerate().filter(|(_, number)| **number == 0) {
        *number = out.vertices.len();
        out.vertices.push(vertices.point(vertex as u32));
    }
    out.edges.extend(stretches.iter().map(|s| ArrangedEdge {
        edge: s.edge,
        from: numbers[s.from as usize],
        to: numbers[s.to as usize],
        source: s.source,
        left: None,
        right: None,
    }));
}
