//! What is found in a quilt by its words: stages, cloths, blocks, places, settings, findings, pages.
//!
//! Every word that is typed must begin a word of what is found; what begins with the first of them comes first.

use super::findings;
use crate::asker;
use crate::offered;
use maud::{Markup, html};
use seamfall_model::{Quilt, starter_blocks};
use seamfall_plan::Plan;
use tr::tr;

/// So many are shown at most.
const SHOWN: usize = 14;

/// Something that can be found.
struct Hit {
    what: String,
    kind: String,
    to: To,
}

/// Where it leads.
enum To {
    /// An element of the drawing, or a stage and what to look at in it.
    Go(String),
    /// A page.
    Page(String),
}

/// Stages of the work, and words by which they may be looked for.
fn stages() -> [(&'static str, String); 11] {
    [
        ("fit", tr!("Fit: bed, mattress, size, drop, corners, drape")),
        ("cloths", tr!("Cloths: colour, width, price, photograph, print")),
        ("draft", tr!("Draft: blocks, seams, templates, starter set, draw a block")),
        ("set", tr!("Set: rows and columns, sashing, bands, frames, lap sections, turns")),
        ("piece", tr!("Piece: units, sewing order, faster ways, foundation")),
        ("fall", tr!("Fall: pressing, seams, stacks, nest, open")),
        ("cut", tr!("Cut: buy, yardage, cut list, layout, backing, batting, thread, price")),
        ("lap", tr!("Lap: quilting lines, motifs, free margin, needlefuls, hours")),
        ("true", tr!("True: measure, trim, ease")),
        ("join", tr!("Join: order of joins, weight at the machine, slip-stitch")),
        ("finish", tr!("Finish: edge, binding, bias, points, scallops, ruffle, sleeve, label, cover")),
    ]
}

/// Settings by their field: stage, id, words.
fn settings() -> [(&'static str, &'static str, String); 12] {
    [
        ("set", "quilt-name", tr!("Name of the quilt")),
        ("set", "quilt-rows", tr!("Rows")),
        ("set", "quilt-columns", tr!("Columns")),
        ("set", "quilt-section", tr!("Longest side of a lap section")),
        ("set", "quilt-frame", tr!("Frame of the blocks")),
        ("set", "sash-width", tr!("Width of the sashing")),
        ("set", "band-add", tr!("Add a band")),
        ("set", "shuffle-block", tr!("Try other turns, shuffle")),
        ("cloths", "everywhere-from", tr!("Change cloths everywhere, exchange, light for dark")),
        ("cloths", "cloth-add-name", tr!("Add a cloth")),
        ("fit", "bed-standard", tr!("Standard bed")),
        ("cut", "backing-cloth", tr!("Cloth of the backing")),
    ]
}

/// Pages of a quilt.
fn pages() -> [(&'static str, String); 8] {
    [
        ("draw", tr!("Draw a block: seams, arcs, patches, templates")),
        ("versions", tr!("Versions: keep, compare, go back")),
        ("sewing", tr!("Sewing, to tick off")),
        if asker::here().is_none() { ("share", tr!("Sew with a phone")) } else { ("members", tr!("Share it with members")) },
        ("book.pdf?paper=letter", tr!("Book, Letter")),
        ("book.pdf?paper=a4", tr!("Book, A4")),
        ("file", tr!("Save as quilt file")),
        ("quilt.svg", tr!("Drawing of the quilt, SVG")),
    ]
}

/// What is found for the words; the stages while none are typed.
pub fn found(base: &str, quilt: &Quilt, plan: &Plan, typed: &str) -> Markup {
    let asked: Vec<String> = parts(typed);
    let mut hits: Vec<(bool, Hit)> = all(base, quilt, plan)
        .into_iter()
        .filter(is_offered)
        .filter_map(|hit| {
            let own = parts(&format!("{} {}", hit.what, hit.kind));
            let is_met = asked.iter().all(|word| own.iter().any(|each| each.starts_with(word)));
            let first = asked.first().is_some_and(|word| own.first().is_some_and(|each| each.starts_with(word)));
            is_met.then_some((!first, hit))
        })
        .collect();
    hits.sort_by_key(|(later, _)| *later);
    let (count, more) = (hits.len(), hits.len().saturating_sub(SHOWN));
    html! {
        p.quiet role="status" {
            @if count == 0 { (tr!("Nothing of that name. Try a cloth, a block, a place like C4, or a stage.")) }
            @else { (tr!("1 match" | "{n} matches" % count)) @if more > 0 { ", " (tr!("the first {shown} of them", shown = SHOWN)) } }
        }
        ul { @for (_, hit) in hits.iter().take(SHOWN) {
            li { @match &hit.to {
                To::Go(to) => button type="button" data-go=(to) { span { (hit.what) } span.quiet { (hit.kind) } },
                To::Page(to) => a href=(to) { span { (hit.what) } span.quiet { (hit.kind) } },
            } }
        } }
    }
}

/// Whether she who asks is offered what is found: a page that she may see, and not what only changes the quilt.
fn is_offered(hit: &Hit) -> bool {
    let changes = ["starter-", "cloth-add-name", "everywhere-from", "band-add", "shuffle-block"];
    match &hit.to {
        To::Page(page) => offered::may_ask("GET", page),
        To::Go(to) => {
            let id = to.strip_prefix("stage:").and_then(|to| to.split(' ').nth(1));
            !id.is_some_and(|id| changes.iter().any(|each| id.starts_with(each))) || offered::may_edit()
        }
    }
}

/// Words in small letters.
fn parts(text: &str) -> Vec<String> {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn all(base: &str, quilt: &Quilt, plan: &Plan) -> Vec<Hit> {
    let mut all = Vec::new();
    let mut add = |kind: String, what: String, to: To| all.push(Hit { what, kind, to });
    for (stage, what) in stages() {
        add(tr!("stage"), what, To::Go(format!("stage:{stage}")));
    }
    for cloth in &quilt.cloths {
        add(tr!("cloth"), cloth.name.clone(), To::Go(format!("stage:cloths cloth-{}-card", cloth.key)));
    }
    for block in &quilt.blocks {
        add(tr!("block"), block.name.clone(), To::Go(format!("stage:draft block-{}-card", block.key)));
    }
    for frame in &quilt.frames {
        add(tr!("frame"), tr!("Frame {key}", key = frame.key), To::Go(format!("stage:set frame-{}-width0", frame.key)));
    }
    for number in 0..quilt.bands.len() {
        add(tr!("setting"), tr!("Band {number}", number = number + 1), To::Go(format!("stage:set band{number}-width")));
    }
    for (stage, id, what) in settings() {
        add(tr!("setting"), what, To::Go(format!("stage:{stage} {id}")));
    }
    for finding in &plan.findings {
        let what = format!("{}: {}", finding.spot, finding.reason);
        add(tr!("finding"), what, To::Go(findings::target(plan, &finding.spot)));
    }
    for (page, what) in pages() {
        add(tr!("page"), what, To::Page(format!("{base}{page}")));
    }
    for place in &plan.top.places {
        let block = &quilt.blocks[place.block.0].name;
        add(tr!("place"), format!("{}, {block}", place.name), To::Go(place.name.clone()));
    }
    for section in &plan.top.sections {
        if let Some(&place) = section.places.first() {
            add(
                tr!("lap section"),
                tr!("Section {section}", section = section.name),
                To::Go(plan.top.places[place].name.clone()),
            );
        }
    }
    for block in starter_blocks() {
        add(tr!("starter block"), block.name.clone(), To::Go(format!("stage:draft starter-{}", block.key)));
    }
    all
}
