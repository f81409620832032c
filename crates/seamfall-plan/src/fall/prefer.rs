//! Between falls that stack alike: towards the darker cloth, and all the same way round a point.
//!
//! In: a best answer. Out: the same, parts of it turned over. Seams that no meeting ties to others may fall either way together
//! without another stack; each such part takes the way in which more of its length falls to the darker cloth, so that it does not
//! show through the lighter, and in which seams that end at one point fall the same way round it. Source: common practice.

use super::model::{Model, Seen};
use crate::piece::{End, SeamPoint, SeamStretch, TopRef};
use crate::set::Top;
use seamfall_model::{Cloth, Colour, Quilt};
use seamfall_solve::stacks::{Signed, free_parts};

/// What falling the same way round a point is worth, in units of length that fall to the darker cloth.
const ROUND: f64 = 0.25;

/// Turns parts of `values` over where that is better.
pub(super) fn settle(quilt: &Quilt, top: &Top, model: &Model, graph: &Signed, values: &mut [bool]) {
    let parts = free_parts(graph);
    let count = parts.iter().flatten().max().map_or(0, |last| last + 1);
    let mut gain = vec![0.0; count];
    for (node, dark) in darker(quilt, top, model).into_iter().enumerate() {
        if let Some(part) = parts[node] {
            gain[part] += if values[node] { dark } else { -dark };
        }
    }
    // Turning a part over changes how its ends lie to those of parts settled before it.
    let mut ties: Vec<Vec<(usize, usize, bool)>> = vec![Vec::new(); count];
    for (a, b, same) in round(model) {
        let later = match (parts[a], parts[b]) {
            (Some(x), Some(y)) if x == y => continue,
            (Some(x), Some(y)) => x.max(y),
            (Some(x), None) | (None, Some(x)) => x,
            (None, None) => continue,
        };
        ties[later].push((a, b, same));
    }
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); count];
    for (node, part) in parts.iter().enumerate() {
        if let Some(part) = part {
            members[*part].push(node);
        }
    }
    for part in 0..count {
        let agree = |&(a, b, same): &(usize, usize, bool)| if (values[a] == values[b]) == same { ROUND } else { -ROUND };
        let all = gain[part] + ties[part].iter().map(agree).sum::<f64>();
        if all < -1e-9 {
            members[part].iter().for_each(|&node| values[node] = !values[node]);
        }
    }
}

/// For each node how much length has the darker cloth to its left, less what has it to its right.
fn darker(quilt: &Quilt, top: &Top, model: &Model) -> Vec<f64> {
    let dark: Vec<f64> = quilt.cloths.iter().map(darkness).collect();
    let mut all = vec![0.0; model.nodes];
    let mut add = |(node, reversed): Seen, stretch: &SeamStretch, left: f64, right: f64| {
        if left != right {
            let length = stretch.edge.length();
            all[node] += if (left > right) == reversed { -length } else { length };
        }
    };
    for ((held, &pressing), place) in model.piecing.holds.iter().zip(&model.copies.of_place).zip(&top.places) {
        let parts = &model.piecing.designs[held.design].parts;
        let cloth = |piece: usize| match parts.get(piece) {
            Some(part) => part.map(|part| dark[place.cloths[part.0].0]),
            None => Some(dark[top.strips[held.frame_strips[piece - parts.len()]].cloth.0]),
        };
        for (number, seam) in model.sewing(held.design).seams.iter().enumerate() {
            let node = model.seam(held.design, pressing, number);
            for stretch in &seam.course {
                if let Some((left, right)) = cloth(stretch.left).zip(cloth(stretch.right)) {
                    add(node, stretch, left, right);
                }
            }
        }
    }
    // A block has many cloths on its edge; a seam between it and a strip falls to the strip, which has no seams there.
    let cloth = |piece: usize| match model.piecing.top_pieces[piece] {
        TopRef::Strip(strip) => dark[top.strips[strip].cloth.0],
        TopRef::Place(_) => f64::NEG_INFINITY,
    };
    for (number, seam) in model.top_sewing().seams.iter().enumerate() {
        let node = model.top_seam(number);
        seam.course.iter().for_each(|stretch| add(node, stretch, cloth(stretch.left), cloth(stretch.right)));
    }
    all
}

/// How dark a cloth is: by its value, and among equals by its colour (luma of ITU-R BT.601).
fn darkness(cloth: &Cloth) -> f64 {
    let Colour(red, green, blue) = cloth.colour;
    let luma = 0.299 * f64::from(red) + 0.587 * f64::from(green) + 0.114 * f64::from(blue);
    f64::from(cloth.value as u8) * 256.0 - luma
}

/// Ends at one point, each over those sewn before it: pairs of nodes, and whether their values are the same when they fall the same
/// way round it.
fn round(model: &Model) -> Vec<(usize, usize, bool)> {
    let covered = |point: &SeamPoint, over: Seen, see: &dyn Fn(End) -> Seen| -> Vec<(usize, usize, bool)> {
        let under = [point.left, point.right].into_iter().flatten().map(see);
        under.map(|under| (over.0, under.0, over.1 == under.1)).collect()
    };
    let mut pairs = Vec::new();
    for (design, &count) in model.copies.count.iter().enumerate() {
        let sewing = model.sewing(design);
        for pressing in 0..count {
            let see = |end| model.end(design, pressing, end);
            for point in sewing.points.iter().filter(|point| point.is_end && !point.bend) {
                pairs.extend(covered(point, see(sewing.own_end(point)), &see));
            }
        }
    }
    let sewing = model.top_sewing();
    for point in sewing.points.iter().filter(|point| point.is_end && !point.bend) {
        pairs.extend(covered(point, model.top_end(sewing.own_end(point)), &|end| model.top_end(end)));
    }
    pairs
}
