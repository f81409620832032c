//! Joins in words: what is done at a step, and what there is to say.

use super::{CrossSection, Joins, Side, Step, Stuck};
use crate::set::Top;
use seamfall_model::{ClothId, Finding, JoinOrder, Length, Quilt, Spot};
use tr::tr;

/// `rows`, `columns`, `halves`, `the lightest order`.
#[must_use]
pub fn order_name(order: JoinOrder) -> String {
    match order {
        JoinOrder::Rows => tr!("rows"),
        JoinOrder::Columns => tr!("columns"),
        JoinOrder::Halves => tr!("halves"),
        JoinOrder::Best => tr!("the lightest order"),
    }
}

/// `S3`, `S1 and S2`, `S1, S2, S3 and 4 more`.
#[must_use]
pub fn part_name(top: &Top, sections: &[usize]) -> String {
    const NAMED: usize = 3;
    let name = |section: &usize| top.sections[*section].name.clone();
    match sections {
        [] => tr!("nothing"),
        [one] => name(one),
        [first @ .., last] if sections.len() <= NAMED => {
            tr!("{sections} and {last}", sections = first.iter().map(name).collect::<Vec<_>>().join(", "), last = name(last))
        }
        _ => {
            let first: Vec<String> = sections[..NAMED].iter().map(name).collect();
            tr!("{first} and {more} more", first = first.join(", "), more = sections.len() - NAMED)
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
    let mut said = vec![tr!(
        "Fold batting and backing of {towards} and {away} back from the seam: {clips} clips in. Pin the fronts right sides together over {length}: {pins} pins in{crossings}.",
        towards = names[0],
        away = names[1],
        clips,
        length = show(length),
        pins,
        crossings = if step.crossings.is_empty() { "" } else { ", one on either side of every crossing" }
    )];
    said.push(batting(&manner.section, towards, away, &show));
    said.push(tr!("Sew the fronts at the machine, {allowance} from the edge{free_ends}, taking out the pins as you come to them: {pins} pins out. The allowance falls to {towards}.", allowance = show(manner.section.allowance), free_ends = free_ends(step), pins, towards));
    if step.set_in.is_some() {
        said.push(tr!(
            "Half a cornerstone at the edge makes it turn a corner: stop there with the needle down, turn the work, and sew on."
        ));
    }
    if step.as_the_top == Some(false) {
        said.push(tr!("That is not how the falls of the top have it: joined in this order the crossings nest so."));
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
    Some(tr!(
        "Last of all trim both corners at the foot. At the {corner}, and likewise at the other: {trim}.",
        corner = corner.name(),
        trim
    ))
}

fn batting(section: &CrossSection, towards: &str, away: &str, show: &impl Fn(f64) -> String) -> String {
    let cut = |side| show(section.cut_back(side).value);
    if section.caught {
        let cut = cut(Side::Towards);
        return tr!(
            "Let the batting of {away} be caught in the seam; cut that of {towards} back by {cut}, so that the two butt.",
            away,
            towards,
            cut
        );
    }
    let cut = cut(Side::Away);
    if section.too_thick {
        tr!(
            "The batting is too thick to be caught. Catch no batting: cut both back by {cut}, so that they butt over the seam.",
            cut
        )
    } else {
        tr!("Catch no batting: cut both back by {cut}, so that they butt over the seam.", cut)
    }
}

fn free_ends(step: &Step) -> String {
    match step.free {
        [false, false] => String::new(),
        [true, true] => tr!(", leaving an allowance free at both ends"),
        [true, false] => tr!(", leaving an allowance free at the start"),
        [false, true] => tr!(", leaving an allowance free at the end"),
    }
}

/// Where the machine will balk, and what to do.
fn balking(joins: &Joins, step: &Step) -> Option<String> {
    let thick: Vec<_> = step.crossings.iter().filter(|one| one.balks).collect();
    let layers = thick.iter().map(|one| one.under_the_foot).max()?;
    let places = tr!("1 crossing" | "{n} crossings" % thick.len());
    let said = tr!(
        "The machine may balk at {places}, up to {layers} layers under the foot: open the free ends out flat, lengthen the stitch, level the foot with folded cloth behind it, and turn the wheel by hand.",
        places,
        layers
    );
    let opens = joins.manner.section.caught.then(|| tr!("Cut the caught batting out of the allowance there."));
    Some(opens.map_or_else(|| said.clone(), |opens| format!("{said} {opens}")))
}

fn backing(section: &CrossSection, towards: &str, away: &str, clips: usize, show: &impl Fn(f64) -> String) -> String {
    let fold = if section.overlap > 0.0 {
        tr!("{overlap} beyond the seam", overlap = show(section.overlap))
    } else {
        tr!("over the seam")
    };
    tr!(
        "Take the clips out, {clips} of them. Lay the backing of {towards} flat over the seam; turn that of {away} under by {allowance}, its fold {fold}, and pin it.",
        clips,
        towards,
        away,
        allowance = show(section.allowance),
        fold
    )
}

fn hand(joins: &Joins, step: &Step, show: &impl Fn(f64) -> String) -> String {
    let short = show(joins.manner.stops_short().value);
    let ends = match step.ends {
        [None, None] => tr!("from edge to edge"),
        [Some(_), Some(_)] => tr!("beginning and stopping {short} short of the trimmed edges at both ends", short),
        [Some(_), None] => tr!("beginning {short} short of the trimmed edge at its start", short),
        [None, Some(_)] => tr!("stopping {short} short of the trimmed edge at its end", short),
    };
    let stitches = joins.manner.slip_stitches(step.join.length()).count();
    let where_ends = if is_level(step) { tr!("left to right") } else { tr!("bottom to top") };
    tr!(
        "Slip-stitch the fold, {ends}, {way} as the front lies: about {stitches} stitches in all, 1 needle in and out, pins out.",
        ends,
        way = where_ends,
        stitches
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
    tr!(
        "Thread: for the front that of {front_thread}, for the back that of {back_thread}.",
        front_thread = cloth(step.front_thread, &tr!("the darker front")),
        back_thread = cloth(step.back_thread, &tr!("the backing"))
    )
}

/// What earlier steps left open and is closed now.
fn closes(joins: &Joins, number: usize) -> Option<String> {
    let open = joins.steps.iter().flat_map(|step| step.ends).filter(|end| *end == Some(number)).count();
    let crossings = joins.steps[number].crossings.len();
    (open > 0).then(|| {
        let ends = tr!("1 end" | "{n} ends" % open);
        let places = tr!("1 crossing" | "{n} crossings" % crossings);
        tr!("Then slip-stitch what earlier joins left open: {ends} at {places}.", ends, places)
    })
}

fn follows(step: &Step) -> Option<String> {
    let (threads, lines) = (step.hanging.len(), step.waiting.len());
    let threads = (threads > 0).then(|| tr!("1 hanging thread is taken up" | "{n} hanging threads are taken up" % threads));
    let lines = (lines > 0).then(|| tr!("1 line is quilted" | "{n} lines are quilted" % lines));
    match (threads, lines) {
        (Some(threads), Some(lines)) => Some(tr!("Now {threads} and {lines}.", threads, lines)),
        (one, other) => one.or(other).map(|what| tr!("Now {what}.", what)),
    }
}

/// Findings about the joins.
pub(super) fn findings(quilt: &Quilt, top: &Top, joins: &Joins, stuck: Option<&Stuck>, findings: &mut Vec<Finding>) {
    let section = &joins.manner.section;
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    if section.too_thick && quilt.joining.catch_batting == Some(true) {
        let text = tr!("batting of {batting} is too thick to be caught in a seam", batting = show(section.batting));
        let help = tr!("it is planned uncaught, both sides cut back by {allowance}", allowance = show(section.allowance));
        findings.push(Finding::warn(Spot::Batting, text).help(help).decide(&["join", "catch-batting"]));
    }
    if let Some(stuck) = stuck.filter(|_| joins.orders.is_empty()) {
        let text = tr!(
            "{sections} cannot be joined by straight seams alone: one would have to be set into a corner",
            sections = part_name(top, &stuck.sections)
        );
        let help = tr!(
            "let seams between sections run straight from edge to edge; where joins are sewn already, set the last piece in by hand"
        );
        findings.push(Finding::stop(Spot::Joins, text).help(help));
    }
    if let Some(kind) = quilt.joining.order.filter(|kind| joins.orders.iter().all(|order| order.kind != *kind)) {
        let reason = joins
            .left_out
            .iter()
            .find(|(other, _)| *other == kind)
            .map_or_else(|| tr!("not to be had"), |(_, reason)| reason.clone());
        let text = tr!("it cannot be joined by {kind}: {reason}", kind = order_name(kind), reason);
        let help = joins.order().map_or_else(
            || tr!("no other order can be had either"),
            |order| tr!("{kind} is planned instead", kind = order_name(order.kind)),
        );
        findings.push(Finding::warn(Spot::Joins, text).help(help).decide(&["join", "order"]));
    }
    let corners: Vec<usize> = (0..joins.steps.len()).filter(|&number| joins.steps[number].set_in.is_some()).collect();
    if let Some(first) = corners.first() {
        let text = if corners.len() == 1 {
            tr!("it turns a corner at the edge of the quilt, round half a cornerstone that has to be set in")
        } else {
            tr!(
                "it and {more} more turn a corner at the edge of the quilt, round half a cornerstone that has to be set in",
                more = corners.len() - 1
            )
        };
        let help = tr!("make `largest-section` small enough for one block a section, and every join is straight");
        findings.push(Finding::warn(Spot::Join(first + 1), text).help(help).decide(&["largest-section"]));
    }
    crossings(joins, findings);
}

fn crossings(joins: &Joins, findings: &mut Vec<Finding>) {
    let all = || joins.steps.iter().filter(|step| !step.join.sewn).flat_map(|step| &step.crossings);
    let stacks = all().filter(|one| one.nests == Some(false)).count();
    if stacks > 0 {
        let text = tr!("1 crossing of joins stacks" | "{n} crossings of joins stack" % stacks);
        findings.push(Finding::note(Spot::Joins, text).help(tr!("press one of the two joins open there, or leave its end free")));
    }
    let balks = all().filter(|one| one.balks).count();
    if balks > 0 {
        let text = tr!("the machine may balk at 1 crossing of joins" | "the machine may balk at {n} crossings of joins" % balks);
        findings.push(
            Finding::note(Spot::Joins, text).help(tr!("the steps say where, and leave the ends of earlier joins free there")),
        );
    }
}
