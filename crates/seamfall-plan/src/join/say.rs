//! Joins in words: what is done at a step, and what there is to say.

use super::{CrossSection, Joins, Side, Step, Stuck};
use crate::set::Top;
use seamfall_model::{ClothId, Finding, JoinOrder, Length, Quilt, Spot};

/// `rows`, `columns`, `halves`, `the lightest order`.
#[must_use]
pub fn order_name(order: JoinOrder) -> &'static str {
    match order {
        JoinOrder::Rows => "rows",
        JoinOrder::Columns => "columns",
        JoinOrder::Halves => "halves",
        JoinOrder::Best => "the lightest order",
    }
}

/// `S3`, `S1 and S2`, `S1, S2, S3 and 4 more`.
#[must_use]
pub fn part_name(top: &Top, sections: &[usize]) -> String {
    const NAMED: usize = 3;
    let name = |section: &usize| top.sections[*section].name.clone();
    match sections {
        [] => "nothing".to_owned(),
        [one] => name(one),
        [first @ .., last] if sections.len() <= NAMED => {
            format!("{} and {}", first.iter().map(name).collect::<Vec<_>>().join(", "), name(last))
        }
        _ => {
            let first: Vec<String> = sections[..NAMED].iter().map(name).collect();
            format!("{} and {} more", first.join(", "), sections.len() - NAMED)
        }
    }
}

/// What is done at a step, sentence by sentence, in the order of doing.
#[must_use]
pub fn instructions(quilt: &Quilt, top: &Top, joins: &Joins, number: usize) -> Vec<String> {
    let step = &joins.steps[number];
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    let names = step.join.parts.map(|part| part_name(top, &joins.sections(part)));
    let [towards, away] = [&names[step.falls_to], &names[1 - step.falls_to]];
    let (manner, length) = (&joins.manner, step.join.length());
    let (pins, clips) = (manner.pins(length, step.crossings.len()).count(), manner.clips(length).count());
    let mut said = vec![format!(
        "Fold batting and backing of {} and {} back from the seam: {clips} clips in. Pin the fronts right sides together over {}: {pins} pins in{}.",
        names[0],
        names[1],
        show(length),
        if step.crossings.is_empty() { "" } else { ", one on either side of every crossing" },
    )];
    said.push(batting(&manner.section, towards, away, &show));
    said.push(format!(
        "Sew the fronts at the machine, {} from the edge{}, taking out the pins as you come to them: {pins} pins out. The allowance falls to {towards}.",
        show(manner.section.allowance),
        free_ends(step),
    ));
    if step.set_in.is_some() {
        said.push(
            "Half a cornerstone at the edge makes it turn a corner: stop there with the needle down, turn the work, and sew on."
                .to_owned(),
        );
    }
    if step.as_the_top == Some(false) {
        said.push("That is not how the falls of the top have it: joined in this order the crossings nest so.".to_owned());
    }
    said.extend(balking(joins, step));
    said.push(backing(&manner.section, towards, away, clips, &show));
    said.push(hand(joins, step, &show));
    said.push(threads(quilt, step));
    said.extend(closes(joins, number));
    said.extend(follows(step));
    if number + 1 == joins.steps.len() {
        said.extend(trims(quilt, top));
    }
    said
}

/// What is trimmed once all is joined.
fn trims(quilt: &Quilt, top: &Top) -> Option<String> {
    let corner = top.corners.first()?;
    let trim = corner.trimming(quilt, top);
    Some(format!("Last of all trim both corners at the foot. At the {}, and likewise at the other: {trim}.", corner.name()))
}

fn batting(section: &CrossSection, towards: &str, away: &str, show: &impl Fn(f64) -> String) -> String {
    let cut = |side| show(section.cut_back(side).value);
    if section.caught {
        let cut = cut(Side::Towards);
        return format!(
            "Let the batting of {away} be caught in the seam; cut that of {towards} back by {cut}, so that the two butt."
        );
    }
    let why = if section.too_thick { "The batting is too thick to be caught. " } else { "" };
    format!("{why}Catch no batting: cut both back by {}, so that they butt over the seam.", cut(Side::Away))
}

fn free_ends(step: &Step) -> &'static str {
    match step.free {
        [false, false] => "",
        [true, true] => ", leaving an allowance free at both ends",
        [true, false] => ", leaving an allowance free at the start",
        [false, true] => ", leaving an allowance free at the end",
    }
}

/// Where the machine will balk, and what to do.
fn balking(joins: &Joins, step: &Step) -> Option<String> {
    let thick: Vec<_> = step.crossings.iter().filter(|one| one.balks).collect();
    let layers = thick.iter().map(|one| one.under_the_foot).max()?;
    let places = if thick.len() == 1 { "1 crossing".to_owned() } else { format!("{} crossings", thick.len()) };
    let opens = if joins.manner.section.caught { " Cut the caught batting out of the allowance there." } else { "" };
    Some(format!(
        "The machine may balk at {places}, up to {layers} layers under the foot: open the free ends out flat, lengthen the stitch, level the foot with folded cloth behind it, and turn the wheel by hand.{opens}"
    ))
}

fn backing(section: &CrossSection, towards: &str, away: &str, clips: usize, show: &impl Fn(f64) -> String) -> String {
    let fold =
        if section.overlap > 0.0 { format!("{} beyond the seam", show(section.overlap)) } else { "over the seam".to_owned() };
    format!(
        "Take the clips out, {clips} of them. Lay the backing of {towards} flat over the seam; turn that of {away} under by {}, its fold {fold}, and pin it.",
        show(section.allowance)
    )
}

fn hand(joins: &Joins, step: &Step, show: &impl Fn(f64) -> String) -> String {
    let short = show(joins.manner.stops_short().value);
    let ends = match step.ends {
        [None, None] => "from edge to edge".to_owned(),
        [Some(_), Some(_)] => format!("beginning and stopping {short} short of the trimmed edges at both ends"),
        [Some(_), None] => format!("beginning {short} short of the trimmed edge at its start"),
        [None, Some(_)] => format!("stopping {short} short of the trimmed edge at its end"),
    };
    let stitches = joins.manner.slip_stitches(step.join.length()).count();
    let where_ends = if is_level(step) { "left to right" } else { "bottom to top" };
    format!(
        "Slip-stitch the fold, {ends}, {where_ends} as the front lies: about {stitches} stitches in all, 1 needle in and out, pins out."
    )
}

/// Whether a seam runs rather level than upright.
fn is_level(step: &Step) -> bool {
    let way = step.join.seam[1] - step.join.seam[0];
    way.x.abs() >= way.y.abs()
}

fn threads(quilt: &Quilt, step: &Step) -> String {
    let cloth = |id: Option<ClothId>, or: &str| {
        id.and_then(|id| quilt.cloths.get(id.0)).map_or_else(|| or.to_owned(), |cloth| cloth.name.clone())
    };
    format!(
        "Thread: for the front that of {}, for the back that of {}.",
        cloth(step.front_thread, "the darker front"),
        cloth(step.back_thread, "the backing")
    )
}

/// What earlier steps left open and is closed now.
fn closes(joins: &Joins, number: usize) -> Option<String> {
    let open = joins.steps.iter().flat_map(|step| step.ends).filter(|end| *end == Some(number)).count();
    let crossings = joins.steps[number].crossings.len();
    (open > 0).then(|| {
        let ends = if open == 1 { "1 end".to_owned() } else { format!("{open} ends") };
        let places = if crossings == 1 { "1 crossing".to_owned() } else { format!("{crossings} crossings") };
        format!("Then slip-stitch what earlier joins left open: {ends} at {places}.")
    })
}

fn follows(step: &Step) -> Option<String> {
    let count = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        _ => Some(format!("{n} {many}")),
    };
    let parts = [
        count(step.hanging.len(), "hanging thread is taken up", "hanging threads are taken up"),
        count(step.waiting.len(), "line is quilted", "lines are quilted"),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| format!("Now {}.", parts.join(" and ")))
}

/// Findings about the joins.
pub(super) fn findings(quilt: &Quilt, top: &Top, joins: &Joins, stuck: Option<&Stuck>, findings: &mut Vec<Finding>) {
    let section = &joins.manner.section;
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    if section.too_thick && quilt.joining.catch_batting == Some(true) {
        let text = format!("batting of {} is too thick to be caught in a seam", show(section.batting));
        let help = format!("it is planned uncaught, both sides cut back by {}", show(section.allowance));
        findings.push(Finding::warn(Spot::Batting, text).help(help).decide(&["join", "catch-batting"]));
    }
    if let Some(stuck) = stuck.filter(|_| joins.orders.is_empty()) {
        let text = format!(
            "{} cannot be joined by straight seams alone: one would have to be set into a corner",
            part_name(top, &stuck.sections)
        );
        let help = "let seams between sections run straight from edge to edge; where joins are sewn already, set the last piece in by hand";
        findings.push(Finding::stop(Spot::Joins, text).help(help));
    }
    if let Some(kind) = quilt.joining.order.filter(|kind| joins.orders.iter().all(|order| order.kind != *kind)) {
        let reason = joins.left_out.iter().find(|(other, _)| *other == kind).map_or("not to be had", |(_, reason)| reason);
        let text = format!("it cannot be joined by {}: {reason}", order_name(kind));
        let instead = joins.order().map(|order| format!("{} is planned instead", order_name(order.kind)));
        let finding = Finding::warn(Spot::Joins, text).decide(&["join", "order"]);
        findings.push(match instead {
            Some(instead) => finding.help(instead),
            None => finding,
        });
    }
    let corners: Vec<usize> = (0..joins.steps.len()).filter(|&number| joins.steps[number].set_in.is_some()).collect();
    if let Some(first) = corners.first() {
        let joins_turn =
            if corners.len() == 1 { "it turns".to_owned() } else { format!("it and {} more turn", corners.len() - 1) };
        let text = format!("{joins_turn} a corner at the edge of the quilt, round half a cornerstone that has to be set in");
        let help = "make `largest-section` small enough for one block a section, and every join is straight";
        findings.push(Finding::warn(Spot::Join(first + 1), text).help(help).decide(&["largest-section"]));
    }
    crossings(joins, findings);
}

fn crossings(joins: &Joins, findings: &mut Vec<Finding>) {
    let all = || joins.steps.iter().filter(|step| !step.join.sewn).flat_map(|step| &step.crossings);
    let stacks = all().filter(|one| one.nests == Some(false)).count();
    if stacks > 0 {
        let text =
            if stacks == 1 { "1 crossing of joins stacks".to_owned() } else { format!("{stacks} crossings of joins stack") };
        findings.push(Finding::note(Spot::Joins, text).help("press one of the two joins open there, or leave its end free"));
    }
    let balks = all().filter(|one| one.balks).count();
    if balks > 0 {
        let places = if balks == 1 { "1 crossing".to_owned() } else { format!("{balks} crossings") };
        let text = format!("the machine may balk at {places} of joins");
        findings
            .push(Finding::note(Spot::Joins, text).help("the steps say where, and leave the ends of earlier joins free there"));
    }
}
