//! What is trimmed off, and the ways out for a section that is too small.
//!
//! In: measured sides, trimmed sizes, and how much each side bears. Out: one entry for every measured section.

use super::Trued;
use super::points::{Lies, OF_STRIP, Room};
use super::seams::EASE;
use super::sides::{SAME, Shape, Shared};
use super::sizes::Trims;
use crate::sewn::Sewn;
use seamfall_model::{Length, Measured, Quilt, Rounding, Rule, Working, term};
use tr::tr;

/// A way out for a section that is too small, the mildest first.
#[derive(Debug, Clone, PartialEq)]
pub enum Remedy {
    /// Its neighbours are eased to it: what is short, and no more than cloth takes.
    Ease {
        /// What is to be eased at its shortest side.
        short: Working,
        /// What cloth takes there.
        most: Working,
    },
    /// Its neighbours take their seams so much deeper at both ends of the side they share, which cuts off none of their points.
    WiderSeam {
        /// How much deeper each seam is.
        by: Working,
    },
    /// The strips at both ends are taken off, and wider ones sewn on.
    FrameAnew {
        /// Width to which the strip is cut.
        cut: Working,
    },
    /// It is made again.
    Remake,
}

impl Remedy {
    /// Whether the section is of the trimmed size once this is done.
    #[must_use]
    pub fn makes_up(&self) -> bool {
        matches!(self, Self::FrameAnew { .. } | Self::Remake)
    }

    /// What is done, in words.
    #[must_use]
    pub fn in_words(&self, quilt: &Quilt) -> String {
        let show = |value: f64| Length::new(value).shown(quilt.step);
        match self {
            Self::Ease { .. } => tr!("ease its neighbours to it"),
            Self::WiderSeam { by } => tr!("seams of its neighbours {by} deeper", by = show(by.value)),
            Self::FrameAnew { cut } => tr!("frame it anew, strips cut {cut}", cut = show(cut.value)),
            Self::Remake => tr!("make it again"),
        }
    }
}

/// The ends of a side: a width is short at the right and at the left.
const ENDS: [[usize; 2]; 2] = [[1, 3], [0, 2]];

pub(super) fn sections(
    quilt: &Quilt,
    sewn: &Sewn,
    shapes: &[Option<Shape>],
    trims: &Trims,
    room: &[[Room; 4]],
    meetings: &[Shared],
) -> Vec<Trued> {
    let measured = |section: usize| Some(sewn.sections[section].measured.map(Measured::sides)?.map(|side| side.value()));
    let one = |section: usize| {
        shapes[section].as_ref()?;
        let sides = measured(section)?;
        let trimmed = [0, 1, 2, 3].map(|side| trims.side(section, side));
        let over = |side: usize| (sides[side] - trimmed[side]).max(0.0);
        let (short, side) = (0..4)
            .map(|side| (trimmed[side] - sides[side], side))
            .fold((0.0, 0), |most, one| if one.0 > most.0 + SAME { one } else { most });
        let is_short = [0, 1, 2, 3].map(|side| trimmed[side] - sides[side] > SAME);
        let case = Case { quilt, section, side, is_short, short, trimmed: trimmed[side], measured: sides };
        Some(Trued {
            section,
            sides: [0, 1, 2, 3].map(|side| sides[side].min(trimmed[side])),
            off: [over(0).max(over(2)), over(1).max(over(3))],
            short,
            remedies: if short > SAME { case.remedies(sewn, shapes, trims, room, meetings) } else { Vec::new() },
        })
    };
    (0..shapes.len()).filter_map(one).collect()
}

/// The shortest side of a section that is too small.
struct Case<'a> {
    quilt: &'a Quilt,
    section: usize,
    side: usize,
    is_short: [bool; 4],
    short: f64,
    trimmed: f64,
    measured: [f64; 4],
}

impl Case<'_> {
    fn remedies(
        &self,
        sewn: &Sewn,
        shapes: &[Option<Shape>],
        trims: &Trims,
        room: &[[Room; 4]],
        meetings: &[Shared],
    ) -> Vec<Remedy> {
        let allowance = self.quilt.allowance.0.value();
        let mut all = Vec::new();
        let short = || term(&tr!("trimmed size"), self.trimmed) - term(&tr!("measured"), self.measured[self.side]);
        let most = (term(&tr!("trimmed size"), self.trimmed) - 2.0 * term(&tr!("allowance"), allowance)) * EASE;
        if self.short <= most.value() + SAME {
            all.push(Remedy::Ease {
                short: Working::new(Rule::Easing, &tr!("to be eased"), short(), Rounding::Exact),
                most: Working::new(Rule::EasingMost, &tr!("what cloth takes"), most, Rounding::Exact),
            });
        }
        let at = sewn.sections[self.section].at;
        let mut beside = meetings.iter().filter_map(|one| match one.ends {
            [(a, side), (b, other)] if a == at && self.is_short[side] => Some((b, other, side)),
            [(a, other), (b, side)] if b == at && self.is_short[side] => Some((a, other, side)),
            _ => None,
        });
        let bears = |(place, side, own): (usize, usize, usize)| {
            let Some(section) = sewn.sections.iter().position(|one| one.at == place) else { return false };
            if shapes[section].is_none() {
                return false;
            }
            let planned = trims.size(section, side % 2).planned;
            let size = sewn.sections[section].measured.map_or(planned, |sides| sides.sides()[side].value().min(planned));
            ENDS[side % 2].iter().all(|&end| (size - self.measured[own]) / 2.0 <= room[section][end].off + SAME)
        };
        if beside.all(bears) {
            all.push(Remedy::WiderSeam { by: Working::new(Rule::WiderSeam, &tr!("deeper by"), short() / 2.0, Rounding::Exact) });
        }
        let ends = ENDS[self.side % 2].map(|end| room[self.section][end]);
        if ends.iter().all(|end| end.by == Lies::Strips && end.off > 0.0) {
            let width = ends[0].off.max(ends[1].off) / OF_STRIP;
            let cut = term(&tr!("finished strip"), width) + short() / 2.0 + 2.0 * term(&tr!("allowance"), allowance);
            all.push(Remedy::FrameAnew {
                cut: Working::new(Rule::FrameAnew, &tr!("strip cut"), cut, Rounding::Up(self.quilt.step)),
            });
        }
        all.push(Remedy::Remake);
        all
    }
}

/// For every section its sides as it will be joined, raw edge to raw edge: trimmed, short where it is eased, made up where that is the mildest way out.
pub(super) fn as_joined(shapes: &[Option<Shape>], trims: &Trims, sections: &[Trued]) -> Vec<[f64; 4]> {
    let mut joined: Vec<[f64; 4]> = shapes
        .iter()
        .enumerate()
        .map(|(section, shape)| shape.as_ref().map_or([0.0; 4], |_| [0, 1, 2, 3].map(|side| trims.side(section, side))))
        .collect();
    for trued in sections {
        if !trued.remedies.first().is_some_and(Remedy::makes_up) {
            joined[trued.section] = trued.sides;
        }
    }
    joined
}
