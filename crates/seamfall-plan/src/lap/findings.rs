//! What is to be said about the quilting.

use super::lines::Misfit;
use super::{FoundGap, Pattern, Proposal, SectionWork};
use crate::set::Top;
use seamfall_model::{Finding, Length, Quilt, QuiltedOn, QuiltingDesign, Spot};
use std::sync::Arc;
use tr::tr;

fn spot(quilt: &Quilt, on: QuiltedOn) -> Spot {
    match on {
        QuiltedOn::Block(id) => Spot::Block(quilt.blocks[id.0].key.clone()),
        QuiltedOn::Frame(id) => Spot::Frame(quilt.frames[id.0].key.clone()),
        QuiltedOn::Sashing => Spot::Sashing,
        QuiltedOn::Band(band) => Spot::Band(band + 1),
        QuiltedOn::Quilt => Spot::Quilt,
    }
}

/// A design for what is not in the quilt.
pub(super) fn nowhere(quilt: &Quilt, on: QuiltedOn) -> Finding {
    let finding = Finding::note(spot(quilt, on), tr!("there is a quilting design for it, but it is nowhere in the quilt"))
        .help(tr!("put it into the setting, or take the design away"));
    match quilt.quilting.iter().position(|quilting| quilting.on == on) {
        Some(number) => finding.remove(&["quilting", &number.to_string()]),
        None => finding,
    }
}

pub(super) fn misfit(quilt: &Quilt, on: QuiltedOn, design: &QuiltingDesign, misfit: Misfit) -> Finding {
    let word = design.word();
    let (reason, help) = match misfit {
        Misfit::TooLarge => (
            tr!("the quilting design `{word}` is larger than its place and is left out", word),
            tr!("give it a smaller `size` or fewer `repeats`"),
        ),
        Misfit::TooMany => (
            tr!("the quilting design `{word}` has more lines than anybody quilts and is left out", word),
            tr!("take a wider `spacing`, a larger `size` or fewer `repeats`"),
        ),
        Misfit::Nothing => (
            tr!("nothing of the quilting design `{word}` comes to lie there", word),
            tr!("take a smaller distance or spacing, or another design"),
        ),
    };
    Finding::warn(spot(quilt, on), reason).help(help)
}

/// Sections of which nothing can be quilted, or not be routed.
pub(super) fn sections(top: &Top, patterns: &[Arc<Pattern>], works: &[SectionWork], findings: &mut Vec<Finding>) {
    for (section, work) in top.sections.iter().zip(works) {
        let pattern = &patterns[work.pattern];
        if pattern.too_many {
            let reason = tr!("it has more quilting lines than can be put into an order");
            findings.push(
                Finding::warn(Spot::Section(section.name.clone()), reason).help(tr!("take a wider spacing or fewer designs")),
            );
        } else if pattern.stitched <= 0.0 && pattern.after > 0.0 {
            let reason = tr!("the free margin leaves nothing of it to quilt before the join");
            findings.push(
                Finding::warn(Spot::Section(section.name.clone()), reason)
                    .help(tr!("take a smaller `margin`, raise `largest-section` so that it is joined to its neighbour, or quilt it after the join"))
                    .decide(&["lap", "margin"]),
            );
        }
    }
}

pub(super) fn proposals(quilt: &Quilt, proposals: &[Proposal], findings: &mut Vec<Finding>) {
    for proposal in proposals {
        let key = match proposal.on {
            QuiltedOn::Frame(id) => quilt.frames[id.0].key.clone(),
            QuiltedOn::Band(band) => tr!("band {band}", band = band + 1),
            _ => continue,
        };
        findings.push(
            Finding::note(
                spot(quilt, proposal.on),
                tr!("its motif leaves the mitred corners without a line, and they will stand up"),
            )
            .help(tr!("quilt along the mitres after the join: [[quilting]] on = \"{key}\", design = \"mitres\"", key)),
        );
    }
}

/// One finding for all gaps of one width and kind, at the place of the first.
pub(super) fn gaps(quilt: &Quilt, top: &Top, gaps: &[FoundGap], findings: &mut Vec<Finding>) {
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    let name = |section: usize| top.sections[section].name.clone();
    let mut told: Vec<(String, bool)> = Vec::new();
    for gap in gaps {
        let kind = (show(gap.width), gap.over_join_with.is_some());
        if told.contains(&kind) {
            continue;
        }
        let alike = |other: &&FoundGap| (show(other.width), other.over_join_with.is_some()) == kind;
        let sections: Vec<usize> = gaps.iter().filter(alike).flat_map(|gap| gap.sections.iter().copied()).collect();
        let limit = show(quilt.lap.largest_gap.value());
        let reason = match gap.over_join_with {
            Some(other) => tr!(
                "a gap of {width} without quilting over the join with {section}, where the batting allows {limit}",
                width = kind.0,
                section = name(other),
                limit
            ),
            None => tr!("a gap of {width} without quilting, where the batting allows {limit}", width = kind.0, limit),
        };
        let reason = match sections.len() - 1 {
            0 => reason,
            1 => tr!("{reason}, and likewise in {section}", reason, section = name(sections[1])),
            more => tr!("{reason}, and likewise in {more} other sections", reason, more),
        };
        let at = tr!("{x} from the left and {y} from the foot of the quilt", x = show(gap.centre.x), y = show(gap.centre.y));
        let help = match gap.over_join_with {
            Some(_) => {
                tr!("quilt a line {line} long along the join after it is sewn, through {at}", line = show(gap.line.length()), at)
            }
            None => tr!("add a line {line} long through it, at {at}", line = show(gap.line.length()), at),
        };
        findings.push(Finding::warn(Spot::Section(name(gap.section)), reason).help(help));
        told.push(kind);
    }
}
