//! Whether seams cross so often that working out their patches would take too long.
//!
//! In: edges. Out: how often they cross, before anything is made of them. Arcs are taken for four chords: a count need not be exact.

use seamfall_geom::{Edge, Point};

/// Crossings that are worked out at most, in one block. A sheet of 140 by 140 squares has fewer; a sewn block has a few dozen.
pub(super) const MOST: usize = 20_000;

/// Patches of all blocks of a quilt together, about: a king has a few hundred that differ. What is drawn beyond them is said and left out.
pub(super) const MOST_IN_ALL: usize = 24_000;

/// A piece of an edge, from left to right.
struct Chord {
    from: Point,
    to: Point,
}

/// Whether `edges` cross more than [`MOST`] times.
pub(super) fn crosses_too_often(edges: &[Edge]) -> bool {
    crossings(edges, MOST) > MOST
}

/// How often `edges` cross; meeting at an end is no crossing. Stops counting above `most`.
pub(crate) fn crossings(edges: &[Edge], most: usize) -> usize {
    let mut chords: Vec<Chord> = edges.iter().flat_map(chords).collect();
    chords.sort_by(|a, b| a.from.x.total_cmp(&b.from.x));
    let mut count = 0;
    for (i, chord) in chords.iter().enumerate() {
        let reached = chords[i + 1..].iter().take_while(|other| other.from.x <= chord.to.x);
        count += reached.filter(|other| cross(chord, other)).count();
        if count > most {
            break;
        }
    }
    count
}

fn chords(edge: &Edge) -> impl Iterator<Item = Chord> {
    let pieces = if matches!(edge, Edge::Arc { .. }) { 4 } else { 1 };
    let at = move |i: u32, edge: &Edge| edge.at(f64::from(i) / f64::from(pieces));
    let edge = *edge;
    (0..pieces).map(move |i| {
        let (a, b) = (at(i, &edge), at(i + 1, &edge));
        if a.x <= b.x { Chord { from: a, to: b } } else { Chord { from: b, to: a } }
    })
}

/// Whether two chords cross within both.
fn cross(a: &Chord, b: &Chord) -> bool {
    if a.from.y.max(a.to.y) < b.from.y.min(b.to.y) || b.from.y.max(b.to.y) < a.from.y.min(a.to.y) {
        return false;
    }
    let side = |c: &Chord, p: Point| (c.to - c.from).cross(p - c.from);
    side(a, b.from) * side(a, b.to) < 0.0 && side(b, a.from) * side(b, a.to) < 0.0
}
