//! Every meeting of the quilt, and what is to be said of those that stack.
//!
//! In: the answer read back. Out: meetings with their place, their state and layers; for each stack why it cannot nest and what
//! can be done. The reason is found by asking what would help: more pressings, the maker's own words, or nothing but an open seam.

use super::model::{Model, Seen};
use super::names;
use super::{Falls, Meeting, SeamRef, Stack, State};
use crate::piece::{End, Piecing, SeamPoint, TopRef};
use crate::set::Top;
use crate::words;
use tr::tr;

/// Lists all meetings and stacks of `falls`.
pub(super) fn list(top: &Top, piecing: &Piecing, model: &Model, values: &[bool], top_layers: &[u32], falls: &mut Falls) {
    let state = |a: Seen, b: Seen| match (model.open[a.0] || model.open[b.0], (values[a.0] == values[b.0]) == (a.1 == b.1)) {
        (true, _) => State::Flat,
        (false, true) => State::Nests,
        (false, false) => State::Stacks,
    };
    let mut meetings = Vec::new();
    let mut stacks = Vec::new();
    let mut thickest = None;
    let mut note = |layers: u32, at: seamfall_geom::Point| {
        if thickest.is_none_or(|(most, _)| layers > most) {
            thickest = Some((layers, at));
        }
    };
    for (place, held) in piecing.holds.iter().enumerate() {
        let (design, pressing) = (held.design, falls.of_place[place]);
        let mut points = model.sewing(design).points.iter().zip(&falls.pressings[design][pressing].layers);
        points.clone().for_each(|(point, layers)| note(*layers, top.places[place].pose.apply(point.at)));
        let seam = |end: End| match end {
            End::Own { seam, .. } => SeamRef::Place { place, seam },
            End::Rim { .. } => unreachable!("a design is made of patches"),
        };
        for (point, (a, b), layers) in points.by_ref().filter_map(|(point, layers)| Some((point, point.meeting()?, *layers))) {
            let state = state(model.end(design, pressing, a), model.end(design, pressing, b));
            let at = top.places[place].pose.apply(point.at);
            // Left and right are those of the quilt as it lies.
            let (left, right) = if piecing.designs[design].mirrored { (b, a) } else { (a, b) };
            let by = SeamRef::Place { place, seam: point.seam };
            meetings.push(Meeting { at, seam: by, left: seam(left), right: seam(right), state, layers, weight: point.weight });
            if state == State::Stacks {
                let fixed = is_fixed(model, [model.end(design, pressing, a), model.end(design, pressing, b)]);
                let either = [seam(left), seam(right)].map(|seam| names::beside(top, piecing, falls, seam));
                stacks.push(stack(meetings.len() - 1, top.places[place].name.clone(), fixed, &either, falls));
            }
        }
    }
    for (point, &layers) in model.top_sewing().points.iter().zip(top_layers) {
        note(layers, point.at);
        let Some((a, b)) = point.meeting() else { continue };
        let state = state(model.top_end(a), model.top_end(b));
        let seam = |end: End| top_seam(piecing, falls, end);
        let by = SeamRef::Top { seam: point.seam };
        meetings.push(Meeting { at: point.at, seam: by, left: seam(a), right: seam(b), state, layers, weight: point.weight });
        if state == State::Stacks {
            let fixed = is_fixed(model, [model.top_end(a), model.top_end(b)]);
            let either = [seam(a), seam(b)].map(|seam| names::beside(top, piecing, falls, seam));
            stacks.push(stack(meetings.len() - 1, beside(top, piecing, model, point), fixed, &either, falls));
        }
    }
    (falls.meetings, falls.stacks, falls.thickest) = (meetings, stacks, thickest);
}

/// The seam of an end on a seam of the top.
fn top_seam(piecing: &Piecing, falls: &Falls, end: End) -> SeamRef {
    match end {
        End::Own { seam, .. } => SeamRef::Top { seam },
        End::Rim { piece, rim } => {
            let TopRef::Place(place) = piecing.top_pieces[piece] else { unreachable!("strips have no seams") };
            let design = piecing.holds[place].design;
            match falls.sewing(piecing, design).rim[rim].end {
                End::Own { seam, .. } => SeamRef::Place { place, seam },
                End::Rim { .. } => unreachable!("a design is made of patches"),
            }
        }
    }
}

/// `between A1 and B1`: the pieces on either side of the seam nearest to a point.
fn beside(top: &Top, piecing: &Piecing, model: &Model, point: &SeamPoint) -> String {
    let name = |piece: usize| match piecing.top_pieces[piece] {
        TopRef::Place(place) => top.places[place].name.as_str(),
        TopRef::Strip(strip) => top.strips[strip].name.as_str(),
    };
    let far = |stretch: &&crate::piece::SeamStretch| (stretch.edge.nearest(point.at) - point.at).hypot2();
    let course = &model.top_sewing().seams[point.seam].course;
    let nearest = course.iter().min_by(|a, b| far(a).total_cmp(&far(b))).expect("a seam has a stretch");
    tr!("between {left} and {right}", left = name(nearest.left), right = name(nearest.right))
}

fn is_fixed(model: &Model, ends: [Seen; 2]) -> bool {
    ends.iter().all(|(node, _)| model.fixed.iter().any(|(fixed, _)| fixed == node))
}

/// `either` has the pieces beside each of the two seams.
fn stack(meeting: usize, place: String, fixed: bool, either: &[[String; 2]; 2], falls: &Falls) -> Stack {
    let count = falls.count();
    let better = falls.counts.iter().find(|other| other.pressings > count.pressings && other.stacks < count.stacks);
    let mut ways_out = Vec::new();
    let reason = if fixed {
        ways_out.push(tr!("let one of the two fall as it will"));
        tr!("both seams have their fall set by hand")
    } else if let Some(better) = better {
        ways_out.push(tr!(
            "{pressings}: {stacks} left",
            pressings = words::pressings(better.pressings),
            stacks = stacks_in_words(better.stacks)
        ));
        tr!("copies of one block share their pressing")
    } else {
        tr!("the meetings round here close a ring that cannot all nest")
    };
    let [[a, b], [c, d]] = either;
    ways_out.push(tr!("press open the seam between {a} and {b}, or that between {c} and {d}", a, b, c, d));
    ways_out.push(tr!("turn a block beside it"));
    Stack { meeting, place, reason, ways_out }
}

fn stacks_in_words(stacks: usize) -> String {
    match stacks {
        0 => tr!("no stack"),
        some => tr!("1 stack" | "{n} stacks" % some),
    }
}
