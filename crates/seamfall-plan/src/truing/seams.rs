//! What every seam between sections has to be eased.
//!
//! In: sections in their places, with their sides as they will be joined. Out: for every seam of a measured section its two lengths, the easing, and
//! whether cloth takes it. A stretch that is part of a side takes its part of what the side is off.
//!
//! Cloth takes 1/8 in in 12 in: common practice, no measured source is known. A quilter's page shows 1/8 in eased over 6 in as the most that looks right (S.,
//! "The secret that quilters rarely speak of: easing", 2015), and 1/2 in over 33 in as too much; quilted sections give less than cloth alone.

use super::places::Places;
use super::sides::{SAME, Shape, Shared};
use crate::sewn::Sewn;
use seamfall_model::{Quilt, Rounding, Rule, Working, term};
use tr::tr;

/// Part of a seam's length that can be eased in.
pub(super) const EASE: f64 = 1.0 / 96.0;

/// A seam between two sections in their places.
#[derive(Debug, Clone, PartialEq)]
pub struct EasedSeam {
    /// The sections, that of the lower place first.
    pub sections: [usize; 2],
    /// Which side of each: lower, right, upper, left.
    pub sides: [usize; 2],
    /// Finished length on either side.
    pub lengths: [f64; 2],
    /// What is to be eased.
    pub easing: Working,
    /// What cloth takes.
    pub most: Working,
    /// Whether it does.
    pub how: Eased,
}

/// Whether a seam can be eased.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Eased {
    /// Both sides are of one length.
    Even,
    /// The longer side is eased in.
    Eased,
    /// More than cloth takes.
    Beyond,
}

pub(super) fn seams(
    quilt: &Quilt,
    sewn: &Sewn,
    shapes: &[Option<Shape>],
    joined: &[[f64; 4]],
    meetings: &[Shared],
    places: &Places,
) -> Vec<EasedSeam> {
    let allowance = 2.0 * quilt.allowance.0.value();
    let seam = |one: &Shared| {
        let ends = one.ends.map(|(place, side)| (places.section_in(place), side));
        ends.iter().any(|end| sewn.sections[end.0].measured.is_some()).then_some(())?;
        let length = |(section, side): (usize, usize)| {
            let planned = shapes[section].as_ref()?.planned_side(side);
            Some(one.length + (joined[section][side] - planned) * one.length / (planned - allowance))
        };
        let lengths = [length(ends[0])?, length(ends[1])?];
        let (longer, shorter) = (lengths[0].max(lengths[1]), lengths[0].min(lengths[1]));
        let easing = term(&tr!("longer side"), longer) - term(&tr!("shorter side"), shorter);
        let most = term(&tr!("shorter side"), shorter) * EASE;
        let how = match easing.value() {
            off if off < SAME => Eased::Even,
            off if off < most.value() + SAME => Eased::Eased,
            _ => Eased::Beyond,
        };
        Some(EasedSeam {
            sections: ends.map(|end| end.0),
            sides: ends.map(|end| end.1),
            lengths,
            easing: Working::new(Rule::Easing, &tr!("to be eased"), easing, Rounding::Exact),
            most: Working::new(Rule::EasingMost, &tr!("what cloth takes"), most, Rounding::Exact),
            how,
        })
    };
    meetings.iter().filter_map(seam).collect()
}
