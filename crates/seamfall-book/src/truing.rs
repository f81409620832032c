//! Measuring and trimming on paper: what was measured and what is done about it, or lines to write it on.
//!
//! In: the plan's trued sections. Out: rows, in words. Every section that is trimmed as a rectangle has its row.

use crate::words;
use seamfall_model::{Length, Measured, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::truing::{Eased, EasedSeam, TrimmedSize, Trued};
use serde::Serialize;
use tr::tr;

/// So many seams are listed; what is beyond is counted.
const LISTED: usize = 60;

/// The chapter.
#[derive(Debug, Serialize)]
pub struct Truing {
    sizes: Vec<Size>,
    /// What the quilt finishes at when it is trimmed so.
    size: Option<String>,
    places: Vec<String>,
    rows: Vec<Row>,
    eased: Vec<[String; 3]>,
    more: usize,
    workings: Vec<String>,
}

/// A size to which sides are trimmed: as planned, trimmed, and what says so.
#[derive(Debug, Serialize)]
struct Size {
    planned: String,
    trimmed: String,
    guide: String,
}

/// A section.
#[derive(Debug, Serialize)]
struct Row {
    name: String,
    planned: String,
    /// Nothing yet: a line to write on.
    measured: Option<String>,
    then: String,
}

/// The chapter; nothing for a quilt of one section, which meets none.
pub fn truing(quilt: &Quilt, plan: &Plan) -> Option<Truing> {
    if plan.top.sections.len() < 2 {
        return None;
    }
    let truing = &plan.truing;
    let listed: Vec<&EasedSeam> = [Eased::Beyond, Eased::Eased]
        .into_iter()
        .flat_map(|how| truing.seams.iter().filter(move |seam| seam.how == how))
        .collect();
    Some(Truing {
        sizes: truing.sizes.iter().map(|size| trimmed(quilt, plan, size)).collect(),
        size: truing.size.as_ref().map(|[wide, high]| words::size(quilt, wide.value, high.value)),
        places: places(quilt, plan),
        rows: (0..plan.top.sections.len()).map(|section| row(quilt, plan, section)).collect(),
        eased: listed.iter().take(LISTED).map(|seam| eased(quilt, plan, seam)).collect(),
        more: listed.len().saturating_sub(LISTED),
        workings: truing.sizes.iter().map(|size| size.trimmed.line()).collect(),
    })
}

fn trimmed(quilt: &Quilt, plan: &Plan, size: &TrimmedSize) -> Size {
    let guide = size.guide.map_or(tr!("as planned"), |guide| tr!("{guide} is the guide", guide = plan.top.sections[guide].name));
    Size {
        planned: words::length(quilt, size.planned),
        trimmed: words::length(quilt, size.trimmed.value),
        guide: tr!("{guide}; {measured} of {of} measured", guide, measured = size.measured, of = size.of),
    }
}

fn places(quilt: &Quilt, plan: &Plan) -> Vec<String> {
    let Some(places) = &plan.truing.places else { return Vec::new() };
    let unit = quilt.measure.sign();
    let proof = if places.is_proven() {
        tr!("no other places need less, which is proven")
    } else {
        tr!("no places need less than {bound}", bound = words::length(quilt, places.bound))
    };
    if places.moved.is_empty() {
        let now = words::length(quilt, places.before);
        return vec![tr!("Every section stays where it is: {now} {unit} are eased in all, and {proof}.", now, unit, proof)];
    }
    let (before, after) = (words::length(quilt, places.before), words::length(quilt, places.after));
    let mut lines = vec![tr!(
        "With these in other places {after} {unit} are eased in all instead of {before}; {proof}.",
        after,
        unit,
        before,
        proof
    )];
    let name = |section: usize| plan.top.sections[section].name.as_str();
    lines.extend(
        places
            .moved
            .iter()
            .map(|&section| tr!("{section} goes where {at} is planned.", section = name(section), at = name(places.at[section]))),
    );
    lines
}

fn row(quilt: &Quilt, plan: &Plan, number: usize) -> Row {
    let section = &plan.top.sections[number];
    let allowance = 2.0 * quilt.allowance.0.value();
    let trued = plan.truing.sections.iter().find(|one| one.section == number);
    Row {
        name: section.name.clone(),
        planned: words::size(quilt, section.size.x + allowance, section.size.y + allowance),
        measured: plan.sewn.sections[number].measured.map(|sides| measured(quilt, sides)),
        then: trued.map_or_else(String::new, |trued| verdict(quilt, trued)),
    }
}

fn measured(quilt: &Quilt, sides: Measured) -> String {
    let show = |length: Length| length.shown(quilt.step);
    match sides {
        Measured::One(all) => tr!("{all} all round", all = show(all)),
        Measured::Two(both) => both.map(show).join(" × "),
        Measured::Four(four) => four.map(show).join("; "),
    }
}

fn verdict(quilt: &Quilt, trued: &Trued) -> String {
    let show = |value: f64| words::length(quilt, value);
    if trued.short > 1e-9 {
        let ways: Vec<String> = trued.remedies.iter().map(|way| way.in_words(quilt)).collect();
        tr!(
            "{short} short: {ways}",
            short = show(trued.short),
            ways = ways.into_iter().reduce(|all, one| tr!("{all}, or {one}", all, one)).unwrap_or_default()
        )
    } else if trued.off.iter().any(|&off| off > 1e-9) {
        tr!("trim {across} off its width, {down} off its height", across = show(trued.off[0]), down = show(trued.off[1]))
    } else {
        tr!("fits")
    }
}

fn eased(quilt: &Quilt, plan: &Plan, seam: &EasedSeam) -> [String; 3] {
    let [one, other] = seam.sections.map(|section| plan.top.sections[section].name.as_str());
    let beyond = if seam.how == Eased::Beyond { tr!(", more than cloth takes") } else { String::new() };
    [
        tr!("{one} and {other}", one, other),
        format!("{}{beyond}", words::length(quilt, seam.easing.value)),
        words::length(quilt, seam.most.value),
    ]
}
