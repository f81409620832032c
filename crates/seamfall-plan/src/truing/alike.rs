//! Which sections may change places.
//!
//! In: the top, the falls and the quilting. Out: for every section a number, equal for sections that look and are pressed alike: the same blocks in the same
//! cloths, turned, framed and pressed alike at the same spots, the same strips, the same quilting, and so the same outline.
//! Whether strips inside two sections are pressed alike is not compared.

use super::Before;
use seamfall_geom::{Point, Vec2};
use std::collections::BTreeMap;

/// Parts of a unit: finer than the tolerance of the geometry.
const PARTS: f64 = (1u64 << 18) as f64;

pub(super) fn kinds(before: Before) -> Vec<usize> {
    let mut numbers: BTreeMap<(usize, Vec<Vec<i64>>), usize> = BTreeMap::new();
    let top = before.top;
    let kind = |(section, work): (&crate::set::Section, &crate::lap::SectionWork)| {
        let bounds = section.outline.bounds();
        let corner = Vec2::new(bounds.x0, bounds.y0);
        let whole = |x: f64| (x * PARTS).round() as i64;
        let spot = |at: Point| [whole(at.x - corner.x), whole(at.y - corner.y)];
        let blocks = section.places.iter().map(|&place| {
            let placed = &top.places[place];
            let pressing = before.falls.of_place.get(place).copied().unwrap_or(0);
            let frame = placed.frame.map_or(-1, |frame| frame.0 as i64);
            let ways = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)].map(|way| placed.pose.apply_vec(way));
            let mut key = vec![0, placed.block.0 as i64, frame, pressing as i64];
            key.extend(spot(placed.pose.apply(Point::ORIGIN)));
            key.extend(ways.iter().flat_map(|way| [whole(way.x), whole(way.y)]));
            key.extend(placed.cloths.iter().map(|cloth| cloth.0 as i64));
            key
        });
        let strips = section.strips.iter().map(|&strip| {
            let piece = &top.strips[strip];
            let mut corners: Vec<[i64; 2]> = piece.outline.corners().map(spot).collect();
            corners.sort_unstable();
            std::iter::once(1).chain([piece.cloth.0 as i64]).chain(corners.into_iter().flatten()).collect()
        });
        let mut pieces: Vec<Vec<i64>> = blocks.chain(strips).collect();
        pieces.sort_unstable();
        let next = numbers.len();
        *numbers.entry((work.pattern, pieces)).or_insert(next)
    };
    top.sections.iter().zip(&before.lap.sections).map(kind).collect()
}
