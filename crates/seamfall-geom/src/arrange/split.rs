//! Edges cut at the vertices on them, each stretch once, and only within the frame.
//!
//! In: the frame and the given edges. Out: the arrangement without its faces. Pieces are edges of at most half a circle, so
//! that every piece can be walked by one angle without coming round again.

use std::collections::BTreeMap;

use super::meet::halves;
use super::snap::Vertices;
use super::{ArrangedEdge, Arrangement, LooseEnd, Overlap, Source, meetings};
use crate::plane::{distance, is_finite, length};
use crate::{Edge, Loop, Point, Rect, TOLERANCE, Vec2};

/// Coordinates beyond this have too few digits left for the tolerance.
const FAR: f64 = 1e9;

/// An arc of this radius is straight: over ten units it bulges by a millionth.
const STRAIGHT: f64 = 1e7;

/// A stretch shorter than this is a line: the bulge of an arc is below rounding.
const SHORT: f64 = 10.0 * TOLERANCE;

/// What lies this near along a whole stretch lies on it: either may be off by the tolerance.
const ALONG: f64 = 2.0 * TOLERANCE;

struct Piece {
    edge: Edge,
    source: Source,
    bounds: Rect,
}

/// A stretch between two vertices.
struct Stretch {
    edge: Edge,
    from: u32,
    to: u32,
    source: Source,
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

enum Unusable {
    NoPlace,
    NoLength,
}

/// The edge with every number in reach, and the centre of an arc as far from one end as from the other.
fn usable(edge: Edge) -> Result<Edge, Unusable> {
    let in_reach = |p: Point| is_finite(p) && p.x.abs() <= FAR && p.y.abs() <= FAR;
    let (from, to) = (edge.from(), edge.to());
    if !in_reach(from) || !in_reach(to) {
        return Err(Unusable::NoPlace);
    }
    if distance(from, to) <= TOLERANCE {
        return Err(Unusable::NoLength);
    }
    let Edge::Arc { centre, turn, .. } = edge else { return Ok(edge) };
    if !is_finite(centre) {
        return Err(Unusable::NoPlace);
    }
    let radius = distance(from, centre);
    if !(radius <= STRAIGHT) {
        return Ok(Edge::Line { from, to });
    }
    if (radius - distance(to, centre)).abs() <= TOLERANCE {
        return Ok(edge);
    }
    let chord = to - from;
    let off = chord.dot(centre - from.midpoint(to)) / chord.dot(chord);
    Ok(Edge::Arc { from, to, centre: centre - chord * off, turn })
}

fn add_pieces(pieces: &mut Vec<Piece>, edge: Edge, source: Source) {
    pieces.extend(halves(&edge).into_iter().flatten().map(|edge| Piece {
        edge,
        source,
        bounds: edge.bounds().inflate(TOLERANCE, TOLERANCE),
    }));
}

fn meets(a: &Rect, b: &Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Points at which pieces are to be cut, by their standing.
#[derive(Default)]
struct Marks {
    /// On the frame, and moved onto it.
    on_frame: Vec<(Point, u32, u32)>,
    /// For a piece and its start or end: the point of the frame onto which it is moved.
    moved_ends: BTreeMap<(u32, bool), Point>,
    /// An end of one piece that lies on another.
    touches: Vec<(Point, u32)>,
    crossings: Vec<(Point, u32, u32)>,
}

/// All vertices, and for every piece its cuts as pairs of piece and vertex.
fn cut(pieces: &[Piece], frame_pieces: usize) -> (Vertices, Vec<(u32, u32)>) {
    let marks = marks(pieces, frame_pieces);
    let expected = 2 * pieces.len() + marks.on_frame.len() + marks.crossings.len();
    let mut vertices = Vertices::new(expected);
    let mut cuts = Vec::with_capacity(2 * expected + marks.touches.len());
    let add_ends = |vertices: &mut Vertices, cuts: &mut Vec<(u32, u32)>, range: std::ops::Range<usize>| {
        for i in range {
            for (start, end) in [(true, pieces[i].edge.from()), (false, pieces[i].edge.to())] {
                let end = marks.moved_ends.get(&(i as u32, start)).copied().unwrap_or(end);
                cuts.push((i as u32, vertices.at(end)));
            }
        }
    };
    add_ends(&mut vertices, &mut cuts, 0..frame_pieces);
    for &(point, a, b) in &marks.on_frame {
        let vertex = vertices.at(point);
        cuts.extend([(a, vertex), (b, vertex)]);
    }
    add_ends(&mut vertices, &mut cuts, frame_pieces..pieces.len());
    for &(point, piece) in &marks.touches {
        cuts.push((piece, vertices.at(point)));
    }
    for &(point, a, b) in &marks.crossings {
        let vertex = vertices.at(point);
        cuts.extend([(a, vertex), (b, vertex)]);
    }
    (vertices, cuts)
}

/// Meets every piece with every other whose box it touches, sweeping from left to right.
fn marks(pieces: &[Piece], frame_pieces: usize) -> Marks {
    let mut marks = Marks::default();
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|&a, &b| pieces[a].bounds.x0.total_cmp(&pieces[b].bounds.x0).then(a.cmp(&b)));
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let bounds = pieces[i].bounds;
        open.retain(|&j| pieces[j].bounds.x1 >= bounds.x0);
        for &j in &open {
            let (a, b) = (i.min(j), i.max(j));
            let both_frame = b < frame_pieces;
            if !both_frame && pieces[j].bounds.y0 <= bounds.y1 && bounds.y0 <= pieces[j].bounds.y1 {
                mark(pieces, a, b, a < frame_pieces, &mut marks);
            }
        }
        open.push(i);
    }
    marks
}

fn mark(pieces: &[Piece], a: usize, b: usize, on_frame: bool, marks: &mut Marks) {
    let (first, second) = (&pieces[a], &pieces[b]);
    let numbers = (a as u32, b as u32);
    for point in meetings(&first.edge, &second.edge).into_iter().flatten() {
        let list = if on_frame { &mut marks.on_frame } else { &mut marks.crossings };
        list.push((point, numbers.0, numbers.1));
    }
    for (start, end) in [(true, second.edge.from()), (false, second.edge.to())] {
        if let Some(foot) = inner_foot(first, end) {
            if on_frame {
                // Rounding apart, the end is where it was given.
                let point = if distance(foot, end) <= TOLERANCE * 1e-6 { end } else { foot };
                marks.on_frame.push((point, numbers.0, numbers.1));
                marks.moved_ends.entry((numbers.1, start)).or_insert(point);
            } else {
                marks.touches.push((end, numbers.0));
            }
        }
    }
    for end in [first.edge.from(), first.edge.to()] {
        if inner_foot(second, end).is_some() {
            marks.touches.push((end, numbers.1));
        }
    }
}

/// The point of a piece within the tolerance of `end`, unless one of its own ends is as near.
fn inner_foot(piece: &Piece, end: Point) -> Option<Point> {
    let b = &piece.bounds;
    if end.x < b.x0 || end.x > b.x1 || end.y < b.y0 || end.y > b.y1 {
        return None;
    }
    let foot = piece.edge.nearest(end);
    let near = |p: Point| distance(p, end) <= TOLERANCE;
    (near(foot) && !near(piece.edge.from()) && !near(piece.edge.to())).then_some(foot)
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

/// For every vertex the stretches that end there: items `starts[v]..starts[v + 1]` of the second list.
pub(super) fn incidence(vertices: usize, ends: &[(u32, u32)]) -> (Vec<u32>, Vec<u32>) {
    let mut starts = vec![0u32; vertices + 2];
    for &(from, to) in ends {
        starts[from as usize + 2] += 1;
        starts[to as usize + 2] += 1;
    }
    for v in 2..starts.len() {
        starts[v] += starts[v - 1];
    }
    let mut items = vec![0u32; 2 * ends.len()];
    for (i, &(from, to)) in ends.iter().enumerate() {
        for (half, end) in [from, to].into_iter().enumerate() {
            let slot = &mut starts[end as usize + 1];
            items[*slot as usize] = (2 * i + half) as u32;
            *slot += 1;
        }
    }
    starts.pop();
    (starts, items)
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

/// Joins stretches that carry on one another where nothing else meets them.
fn join(mut stretches: Vec<Stretch>, vertices: usize) -> Vec<Stretch> {
    const NONE: u32 = u32::MAX;
    let mut count = vec![0u32; vertices];
    let mut two = vec![[NONE; 2]; vertices];
    for (i, s) in stretches.iter().enumerate() {
        for vertex in [s.from as usize, s.to as usize] {
            if count[vertex] < 2 {
                two[vertex][count[vertex] as usize] = i as u32;
            }
            count[vertex] += 1;
        }
    }
    let mut gone = vec![false; stretches.len()];
    for v in 0..vertices {
        let [a, b] = two[v];
        if count[v] != 2 || a == b {
            continue;
        }
        let (keep, lose) = (a.min(b) as usize, a.max(b) as usize);
        if let Some(joined) = joined(&stretches[keep], &stretches[lose], v as u32) {
            let far = if joined.from == stretches[keep].from { joined.to } else { joined.from };
            for slot in &mut two[far as usize] {
                if *slot == lose as u32 {
                    *slot = keep as u32;
                }
            }
            stretches[keep] = joined;
            gone[lose] = true;
        }
    }
    stretches.into_iter().zip(gone).filter_map(|(s, gone)| (!gone).then_some(s)).collect()
}

/// The one stretch that two make, in the direction of the first.
fn joined(keep: &Stretch, lose: &Stretch, v: u32) -> Option<Stretch> {
    match (keep.source, lose.source) {
        (Source::Frame(a), Source::Frame(b)) if a == b => {}
        (Source::Given(_), Source::Given(_)) => {}
        _ => return None,
    }
    let along = (keep.to == v) == (lose.from == v);
    let (lost, lost_from, lost_to) =
        if along { (lose.edge, lose.from, lose.to) } else { (lose.edge.reversed(), lose.to, lose.from) };
    let ((first, from), (second, to)) =
        if keep.to == v { ((keep.edge, keep.from), (lost, lost_to)) } else { ((lost, lost_from), (keep.edge, keep.to)) };
    if from == to || from == v || to == v {
        return None;
    }
    let (start, middle, end) = (first.from(), first.to(), second.to());
    let edge = match (keep.edge, lost) {
        (Edge::Line { .. }, Edge::Line { .. }) => {
            let line = Edge::Line { from: start, to: end };
            let straight = (middle - start).dot(end - middle) > 0.0 && distance(line.nearest(middle), middle) <= TOLERANCE;
            straight.then_some(line)?
        }
        (Edge::Arc { centre, turn, .. }, Edge::Arc { centre: other, turn: way, .. }) => {
            let arc = Edge::Arc { from: start, to: end, centre, turn };
            let whole = keep.edge.sweep()? + lost.sweep()?;
            let radii_agree = (distance(start, centre) - distance(end, centre)).abs() <= TOLERANCE;
            let same = turn == way && distance(centre, other) <= TOLERANCE && radii_agree;
            (same && (arc.sweep()? - whole).abs() < 1e-3).then_some(arc)?
        }
        _ => return None,
    };
    Some(Stretch { edge, from, to, source: keep.source })
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
