//! What is said about measured sections.

use super::remedy::Remedy;
use super::seams::Eased;
use super::{Before, Trued, Truing};
use seamfall_model::{Finding, Length, Quilt, Spot, Working};

pub(super) fn findings(quilt: &Quilt, before: Before, truing: &Truing, findings: &mut Vec<Finding>) {
    let name = |section: usize| before.top.sections[section].name.as_str();
    let shown = |x: f64| Length::new(x).shown_with_unit(quilt.step);
    findings.extend(truing.sections.iter().filter_map(|trued| too_small(quilt, name(trued.section), trued)));
    for seam in truing.seams.iter().filter(|seam| seam.how == Eased::Beyond) {
        let [first, second] = seam.sections.map(name);
        let reason = format!(
            "its seam with {second} would have to be eased by {}, and cloth takes {}",
            shown(seam.easing.value),
            floor(quilt, seam.most.value)
        );
        let help = "frame the smaller of the two anew, or make it again";
        findings.push(Finding::warn(Spot::Section(first.to_owned()), reason).help(help));
    }
    let Some(places) = &truing.places else { return };
    if places.after < places.before && !places.moved.is_empty() {
        let moves: Vec<String> =
            places.moved.iter().take(6).map(|&section| format!("{} to {}", name(section), name(places.at[section]))).collect();
        let more = if places.moved.len() > 6 { format!(" and {} more", places.moved.len() - 6) } else { String::new() };
        let reason = format!(
            "all seams together have to be eased by {}; with sections in other places it is {}",
            shown(places.before),
            shown(places.after)
        );
        findings.push(Finding::note(Spot::Quilt, reason).help(format!("move {}{more}", moves.join(", "))));
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
    let reason =
        format!("it is {} smaller than what the others are trimmed to, to keep their points and allowances", shown(trued.short));
    Some(match first {
        Remedy::Ease { .. } => Finding::note(spot, reason).help("ease its neighbours to it"),
        Remedy::WiderSeam { by } => Finding::warn(spot, reason).help(format!(
            "take the seams of its neighbours {} deeper at both ends of the side they share{}",
            shown(by.value),
            or_frame(quilt, &trued.remedies)
        )),
        Remedy::FrameAnew { cut } => Finding::warn(spot, reason).help(strip(quilt, cut)),
        Remedy::Remake => Finding::warn(spot, reason).help("make it again; nothing milder keeps its points"),
    })
}

fn strip(quilt: &Quilt, cut: &Working) -> String {
    format!("take off the strips at both ends and sew on strips cut {} wide", cut.length().shown_with_unit(quilt.step))
}

fn or_frame(quilt: &Quilt, remedies: &[Remedy]) -> String {
    let cut = remedies.iter().find_map(|remedy| if let Remedy::FrameAnew { cut } = remedy { Some(cut) } else { None });
    cut.map_or_else(String::new, |cut| format!("; or {}", strip(quilt, cut)))
}
