//! What is said about measured sections.

use super::remedy::Remedy;
use super::seams::Eased;
use super::{Before, Trued, Truing};
use seamfall_model::{Finding, Length, Quilt, Spot, Working};
use tr::tr;

pub(super) fn findings(quilt: &Quilt, before: Before, truing: &Truing, findings: &mut Vec<Finding>) {
    let name = |section: usize| before.top.sections[section].name.as_str();
    let shown = |x: f64| Length::new(x).shown_with_unit(quilt.step);
    findings.extend(truing.sections.iter().filter_map(|trued| too_small(quilt, name(trued.section), trued)));
    for seam in truing.seams.iter().filter(|seam| seam.how == Eased::Beyond) {
        let [first, second] = seam.sections.map(name);
        let reason = tr!(
            "its seam with {second} would have to be eased by {easing}, and cloth takes {most}",
            second,
            easing = shown(seam.easing.value),
            most = floor(quilt, seam.most.value)
        );
        let help = tr!("frame the smaller of the two anew, or make it again");
        findings.push(Finding::warn(Spot::Section(first.to_owned()), reason).help(help));
    }
    let Some(places) = &truing.places else { return };
    if places.after < places.before && !places.moved.is_empty() {
        let moves: Vec<String> = places
            .moved
            .iter()
            .take(6)
            .map(|&section| tr!("{section} to {at}", section = name(section), at = name(places.at[section])))
            .collect();
        let (moves, more) = (moves.join(", "), places.moved.len().saturating_sub(6));
        let reason = tr!(
            "all seams together have to be eased by {before}; with sections in other places it is {after}",
            before = shown(places.before),
            after = shown(places.after)
        );
        findings.push(Finding::note(Spot::Quilt, reason).help(if more > 0 {
            tr!("move {moves} and {more} more", moves, more)
        } else {
            tr!("move {moves}", moves)
        }));
    }
}

/// A length rounded down to what is shown, so that nothing seems to be allowed that is not.
fn floor(quilt: &Quilt, x: f64) -> String {
    let step = quilt.step.size();
    Length::new((x / step + 1e-9).floor() * step).shown_with_unit(quilt.step)
}

fn too_small(quilt: &Quilt, name: &str, trued: &Trued) -> Option<Finding> {
    let shown = |x: f64| Length::new(x).shown_with_unit(quilt.step);
    let first = trued.remedies.first()?;
    let spot = Spot::Section(name.to_owned());
    let reason = tr!(
        "it is {short} smaller than what the others are trimmed to, to keep their points and allowances",
        short = shown(trued.short)
    );
    Some(match first {
        Remedy::Ease { .. } => Finding::note(spot, reason).help(tr!("ease its neighbours to it")),
        Remedy::WiderSeam { by } => Finding::warn(spot, reason).help(tr!(
            "take the seams of its neighbours {by} deeper at both ends of the side they share{remedies}",
            by = shown(by.value),
            remedies = or_frame(quilt, &trued.remedies)
        )),
        Remedy::FrameAnew { cut } => Finding::warn(spot, reason).help(strip(quilt, cut)),
        Remedy::Remake => Finding::warn(spot, reason).help(tr!("make it again; nothing milder keeps its points")),
    })
}

fn strip(quilt: &Quilt, cut: &Working) -> String {
    tr!("take off the strips at both ends and sew on strips cut {cut} wide", cut = cut.length().shown_with_unit(quilt.step))
}

fn or_frame(quilt: &Quilt, remedies: &[Remedy]) -> String {
    let cut = remedies.iter().find_map(|remedy| if let Remedy::FrameAnew { cut } = remedy { Some(cut) } else { None });
    cut.map_or_else(String::new, |cut| tr!("; or {cut}", cut = strip(quilt, cut)))
}
