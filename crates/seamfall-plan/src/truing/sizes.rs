//! The trimmed sizes.
//!
//! In: planned and measured sides, and how much may be trimmed off each. Out: one trimmed size for every planned length, with its working.
//!
//! Sides planned alike are trimmed alike, across and up, so that sides that meet are of one size. The smallest measured side is the guide, unless it is
//! below the least: the size of the largest (as planned at most, and as planned while any is not yet measured) less what may be trimmed
//! off both edges of the section that bears least. What is not yet measured is taken to come out as planned.

use super::points::{Lies, Room};
use super::sides::{SAME, Shape, Shared};
use crate::set::Top;
use crate::sewn::Sewn;
use seamfall_model::{Measured, Rounding, Rule, Working, term};
use tr::tr;

/// To what sides of one planned length are trimmed.
#[derive(Debug, Clone, PartialEq)]
pub struct TrimmedSize {
    /// Planned, raw edge to raw edge.
    pub planned: f64,
    /// Trimmed, raw edge to raw edge.
    pub trimmed: Working,
    /// The least to which it could be.
    pub least: Working,
    /// The section that is the guide; nothing where it is the plan.
    pub guide: Option<usize>,
    /// Measured sections with such a side.
    pub measured: usize,
    /// Sections with such a side.
    pub of: usize,
}

/// All trimmed sizes.
pub(super) struct Trims {
    sizes: Vec<TrimmedSize>,
    /// For each section the numbers of the sizes of its width and its height.
    of: Vec<[usize; 2]>,
}

impl Trims {
    /// The size of a section's width (0) or height (1).
    pub fn size(&self, section: usize, way: usize) -> &TrimmedSize {
        &self.sizes[self.of[section][way]]
    }

    /// To what a side is trimmed.
    pub fn side(&self, section: usize, side: usize) -> f64 {
        self.size(section, side % 2).trimmed.value
    }

    /// Those of which something is measured.
    pub fn measured(&self) -> Vec<TrimmedSize> {
        self.sizes.iter().filter(|size| size.measured > 0).cloned().collect()
    }
}

/// A section's width or height of one planned length.
struct One {
    section: usize,
    /// The shorter of its two sides, once it is measured.
    measured: Option<f64>,
    /// What may be trimmed off at either end.
    room: [Room; 2],
}

pub(super) fn settle(sewn: &Sewn, shapes: &[Option<Shape>], room: &[[Room; 4]]) -> Trims {
    let mut lengths: Vec<f64> = shapes.iter().flatten().flat_map(|shape| shape.planned).collect();
    lengths.sort_by(f64::total_cmp);
    lengths.dedup_by(|a, b| (*a - *b).abs() < SAME);
    let mut of = vec![[0, 0]; shapes.len()];
    let mut all: Vec<Vec<One>> = lengths.iter().map(|_| Vec::new()).collect();
    for (section, shape) in shapes.iter().enumerate() {
        let Some(shape) = shape else { continue };
        let sides = sewn.sections[section].measured.map(Measured::sides);
        for way in 0..2 {
            let size =
                lengths.iter().position(|length| (length - shape.planned[way]).abs() < SAME).expect("all lengths are there");
            of[section][way] = size;
            let measured = sides.map(|sides| sides[way].value().min(sides[way + 2].value()));
            // A width is trimmed at the right and at the left, a height above and below.
            let ends = if way == 0 { [1, 3] } else { [0, 2] };
            all[size].push(One { section, measured, room: ends.map(|side| room[section][side]) });
        }
    }
    let sizes = lengths.iter().zip(&all).map(|(&planned, ones)| size(planned, ones)).collect();
    Trims { sizes, of }
}

fn size(planned: f64, ones: &[One]) -> TrimmedSize {
    let measured = || ones.iter().filter_map(|one| Some((one.measured?, one.section)));
    let some_missing = ones.iter().any(|one| one.measured.is_none());
    let largest = measured().map(|one| one.0).fold(0.0, f64::max);
    let base = if some_missing || largest > planned { term(&tr!("as planned"), planned) } else { term(&tr!("largest"), largest) };
    let bears =
        ones.iter().flat_map(|one| one.room).min_by(|a, b| a.off.total_cmp(&b.off)).expect("a length is that of some side");
    let what = match bears.by {
        Lies::Points => tr!("off each end at points"),
        Lies::Patches => tr!("off each end at patches"),
        Lies::Strips => tr!("off each end at strips"),
    };
    let least = Working::new(Rule::LeastTrimmed, &tr!("least size"), base - 2.0 * term(&what, bears.off), Rounding::Exact);
    let guide = measured().filter(|one| one.0 > least.value - SAME).min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    // What is still to come is as planned, and may be the smallest.
    let guide = guide.filter(|guide| !some_missing || guide.0 < planned - SAME);
    let trimmed = guide.map_or_else(|| term(&tr!("as planned"), planned), |guide| term(&tr!("smallest side"), guide.0));
    let (guide, of) = (guide.map(|guide| guide.1), sections(ones.iter()));
    let count = sections(ones.iter().filter(|one| one.measured.is_some()));
    TrimmedSize {
        planned,
        trimmed: Working::new(Rule::TrimmedSize, &tr!("trimmed size"), trimmed, Rounding::Exact),
        least,
        guide,
        measured: count,
        of,
    }
}

/// How many different sections; both ways of one stand next to each other.
fn sections<'a>(ones: impl Iterator<Item = &'a One>) -> usize {
    let mut all: Vec<usize> = ones.map(|one| one.section).collect();
    all.dedup();
    all.len()
}

/// Finished width and height of the top with all its sections trimmed: as planned, and what the sections along the row or column that changes most lose
/// or gain. Nothing where sections lie on their points.
pub(super) fn finished(top: &Top, shapes: &[Option<Shape>], trims: &Trims, meetings: &[Shared]) -> Option<[Working; 2]> {
    let level = |shape: &Option<Shape>| shape.as_ref().is_some_and(|shape| !shape.on_point);
    if !shapes.iter().all(level) {
        return None;
    }
    let working = |way: usize| {
        let (ahead, what, planned) = match way {
            0 => (1, tr!("finished width"), top.size.x),
            _ => (2, tr!("finished height"), top.size.y),
        };
        // The largest and the smallest change along sections one after the other, from each section on; those ahead lie after it when gone through by
        // their depth in the top.
        let depth = |section: usize| {
            let at = shapes[section].as_ref().map_or(0.0, |shape| if way == 0 { shape.sides[0].0.x } else { shape.sides[0].0.y });
            (at * 1000.0).round() as i64
        };
        let mut order: Vec<usize> = (0..shapes.len()).collect();
        order.sort_by_key(|&section| std::cmp::Reverse((depth(section), section)));
        let mut changes = vec![0.0; shapes.len()];
        for &section in &order {
            let size = trims.size(section, way);
            let next = meetings.iter().filter_map(|one| match one.ends {
                [(a, side), (b, _)] if a == section && side == ahead => Some(changes[b]),
                [(a, _), (b, side)] if b == section && side == ahead => Some(changes[a]),
                _ => None,
            });
            let further = next.fold(None, |best: Option<f64>, one| {
                Some(best.map_or(one, |best| if one.abs() > best.abs() { one } else { best }))
            });
            changes[section] = size.trimmed.value - size.planned + further.unwrap_or(0.0);
        }
        let first = depth(*order.last()?);
        let most = order.iter().filter(|&&section| depth(section) == first).map(|&section| changes[section]);
        let change = most.fold(0.0, |best: f64, one: f64| if one.abs() > best.abs() { one } else { best });
        let sum = term(&tr!("as planned"), planned) + term(&tr!("change of the sections"), change);
        Some(Working::new(Rule::TruedSize, &what, sum, Rounding::Exact))
    };
    Some([working(0)?, working(1)?])
}
