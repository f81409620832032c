//! How many layers of cloth lie at each point where seams end.
//!
//! In: an order and its falls. Out: for every point of every seam the layers at its thickest. A seam pressed to one side lays
//! both its allowances over that side: that unit's own, turned back, with whatever is sewn in it, and the other's, that goes on
//! over the seam. What lies on either side of a seam's end is counted from the unit's thickest part there, so that where many seams
//! end at one point the number is an upper one; where two seams cross it is exact: 7 where they nest, 9 where they stack.
//! Source: geometry of folded cloth.

use super::Fall;
use crate::piece::{End, Sewing};

/// Layers beside an end of a seam, looking along it from the point: anticlockwise and clockwise of it.
pub(super) type Beside = [u32; 2];

/// Layers at each point of a sewing, and beside what lies on top at each point of its outline. `rim` says the same of the outlines
/// of its pieces.
pub(super) fn count(sewing: &Sewing, falls: &[Fall], rim: impl Fn(usize, usize) -> Beside) -> (Vec<u32>, Vec<Beside>) {
    let mut ends: Vec<[Beside; 2]> = vec![[[1, 1]; 2]; sewing.seams.len()];
    let mut layers = Vec::with_capacity(sewing.points.len());
    for point in &sewing.points {
        let of = |end: Option<End>| match end {
            None => [1, 1],
            Some(End::Own { seam, at_start }) => ends[seam][usize::from(!at_start)],
            Some(End::Rim { piece, rim: number }) => rim(piece, number),
        };
        // Looking out from the point, the left unit's anticlockwise side lies before it along the seam, the right unit's after it.
        let (left, right) = (of(point.left), of(point.right));
        let (before, after) = ([left[0], right[1]], [left[1], right[0]]);
        let fall = falls[point.seam];
        let thickest = if point.is_end {
            let [l, r] = [left, right].map(|[a, b]| a.max(b));
            let sides = pressed(fall, [l, r]);
            let at_start = sewing.starts_at(point);
            ends[point.seam][usize::from(!at_start)] = if at_start { sides } else { [sides[1], sides[0]] };
            sides[0].max(sides[1])
        } else {
            let [b, a] = [pressed(fall, before), pressed(fall, after)];
            b.into_iter().chain(a).max().unwrap_or(1)
        };
        layers.push(thickest);
    }
    let outline = sewing.rim.iter().map(|end| match end.end {
        End::Own { seam, at_start } => ends[seam][usize::from(!at_start)],
        End::Rim { piece, rim: number } => rim(piece, number),
    });
    let outline = outline.collect();
    (layers, outline)
}

/// Layers left and right of a seam once it is pressed, from those of the two units.
fn pressed(fall: Fall, [left, right]: [u32; 2]) -> [u32; 2] {
    match fall {
        Fall::Left => [2 * left + right, right],
        Fall::Right => [left, left + 2 * right],
        Fall::Open => [2 * left, 2 * right],
    }
}
