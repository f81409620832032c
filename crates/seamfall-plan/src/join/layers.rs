//! Layers where joins cross, and whether the machine balks at them.
//!
//! In: crossings with the falls of the joins that end there, and the meetings of the whole top. Out: for each the layers of cloth under the foot
//! while the later join is sewn, and those of the finished quilt at its thickest.
//!
//! At an end of an earlier join the front lies three deep on the side to which it falls, once on the other; its back likewise on the side
//! whose backing is turned under, which is the one away from the fall. Four quarters meet at a crossing: on the side towards which
//! the later join falls lie its own front twice (itself and its allowance) and the other once, and the flat backing; on the other side the
//! turned backing twice, the flat one once, and the front. Seams of blocks that end there as well add two layers each.

use super::nest::{Crossed, Nesting};
use super::{Crossing, Manner};
use crate::fall::{Falls, SeamRef};
use std::collections::BTreeMap;

/// More than eight cottons' thickness under the foot is more than a household machine climbs by itself. Source: common practice.
pub const BALKS_CLOTHS: f64 = 8.0;

/// What the foot presses batting to, as a share of its thickness. Source: common practice.
pub const PRESSED: f64 = 1.0 / 8.0;

/// Key of a point: hundredths, far finer than seams lie apart.
pub(super) fn key(at: seamfall_geom::Point) -> (i64, i64) {
    ((at.x * 100.0).round() as i64, (at.y * 100.0).round() as i64)
}

/// By point: the layers of the front, and how many seams of blocks end there besides those that meet.
pub(super) fn known(falls: &Falls) -> BTreeMap<(i64, i64), (u32, u32)> {
    let mut known: BTreeMap<(i64, i64), (u32, u32)> = BTreeMap::new();
    for meeting in falls.meetings.iter().filter(|meeting| matches!(meeting.seam, SeamRef::Top { .. })) {
        let (layers, more) = known.entry(key(meeting.at)).or_default();
        *layers = (*layers).max(meeting.layers);
        *more = (*more).max(meeting.weight.saturating_sub(1));
    }
    known
}

pub(super) fn crossing(
    crossed: &Crossed,
    nesting: &Nesting,
    known: &BTreeMap<(i64, i64), (u32, u32)>,
    manner: &Manner,
) -> Crossing {
    // For each part of the later join and each quarter, along it and back: layers of its front and of its back.
    let quarters = |side: usize| -> [[u32; 2]; 2] {
        let Some((join, starts)) = crossed.ends[side] else { return [[1, 1]; 2] };
        // A join to the left of the later one that starts on it runs away to the left: its own left is back along the later join.
        let left_is_back = starts == (side == 0);
        let falls_back = nesting.left[join] == left_is_back;
        let deep = |yes: bool| if yes { 3 } else { 1 };
        [[deep(!falls_back), deep(falls_back)], [deep(falls_back), deep(!falls_back)]]
    };
    let towards = usize::from(!nesting.left[crossed.by]);
    let (own, other) = (quarters(towards), quarters(1 - towards));
    let more = known.get(&key(crossed.at)).copied().unwrap_or_default();
    let mut layers = 0;
    let mut under_the_foot = 0;
    for quarter in [0, 1] {
        let ([own_front, own_back], [other_front, other_back]) = (own[quarter], other[quarter]);
        let front = (2 * own_front + other_front).max(more.0);
        layers = layers.max(front + own_back).max(other_front + 2 * other_back + own_back);
        under_the_foot = under_the_foot.max(own_front + other_front);
    }
    let under_the_foot = under_the_foot + 2 * more.1;
    let balks = manner.under_the_foot(under_the_foot).value > BALKS_CLOTHS * manner.section.cloth;
    Crossing {
        at: crossed.at,
        ends: crossed.ends.map(|end| end.map(|(join, _)| join)),
        nests: crossed.nests,
        layers,
        under_the_foot,
        balks,
    }
}
