//! What is found in a quilt by its words: stages, cloths, blocks, places, settings, findings, pages.
//!
//! Every word that is typed must begin a word of what is found; what begins with the first of them comes first.

use super::{findings, words};
use maud::{Markup, html};
use seamfall_model::{Quilt, starter_blocks};
use seamfall_plan::Plan;

/// So many are shown at most.
const SHOWN: usize = 14;

/// Something that can be found.
struct Hit {
    what: String,
    kind: &'static str,
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
const STAGES: [(&str, &str); 11] = [
    ("fit", "Fit: bed, mattress, size, drop, corners, drape"),
    ("cloths", "Cloths: colour, width, price, photograph, print"),
    ("draft", "Draft: blocks, seams, templates, starter set, draw a block"),
    ("set", "Set: rows and columns, sashing, bands, frames, lap sections, turns"),
    ("piece", "Piece: units, sewing order, faster ways, foundation"),
    ("fall", "Fall: pressing, seams, stacks, nest, open"),
    ("cut", "Cut: buy, yardage, cut list, layout, backing, batting, thread, price"),
    ("lap", "Lap: quilting lines, motifs, free margin, needlefuls, hours"),
    ("true", "True: measure, trim, ease"),
    ("join", "Join: order of joins, weight at the machine, slip-stitch"),
    ("finish", "Finish: edge, binding, bias, points, scallops, ruffle, sleeve, label, cover"),
];

/// Settings by their field: stage, id, words.
const SETTINGS: [(&str, &str, &str); 12] = [
    ("set", "quilt-name", "Name of the quilt"),
    ("set", "quilt-rows", "Rows"),
    ("set", "quilt-columns", "Columns"),
    ("set", "quilt-section", "Longest side of a lap section"),
    ("set", "quilt-frame", "Frame of the blocks"),
    ("set", "sash-width", "Width of the sashing"),
    ("set", "band-add", "Add a band"),
    ("set", "shuffle-block", "Try other turns, shuffle"),
    ("cloths", "everywhere-from", "Change cloths everywhere, exchange, light for dark"),
    ("cloths", "cloth-add-name", "Add a cloth"),
    ("fit", "bed-standard", "Standard bed"),
    ("cut", "backing-cloth", "Cloth of the backing"),
];

/// Pages of a quilt.
const PAGES: [(&str, &str); 8] = [
    ("draw", "Draw a block: seams, arcs, patches, templates"),
    ("versions", "Versions: keep, compare, go back"),
    ("sewing", "Sewing, to tick off"),
    ("share", "Sew with a phone"),
    ("book.pdf?paper=letter", "Book, Letter"),
    ("book.pdf?paper=a4", "Book, A4"),
    ("file", "Save as quilt file"),
    ("quilt.svg", "Drawing of the quilt, SVG"),
];

/// What is found for the words; the stages while none are typed.
pub fn found(base: &str, quilt: &Quilt, plan: &Plan, typed: &str) -> Markup {
    let asked: Vec<String> = parts(typed);
    let mut hits: Vec<(bool, Hit)> = all(base, quilt, plan)
        .into_iter()
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
            @if count == 0 { "Nothing of that name. Try a cloth, a block, a place like C4, or a stage." }
            @else { (words::count(count, "match", "matches")) @if more > 0 { ", the first " (SHOWN) " of them" } }
        }
        ul { @for (_, hit) in hits.iter().take(SHOWN) {
            li { @match &hit.to {
                To::Go(to) => button type="button" data-go=(to) { span { (hit.what) } span.quiet { (hit.kind) } },
                To::Page(to) => a href=(to) { span { (hit.what) } span.quiet { (hit.kind) } },
            } }
        } }
    }
}

/// Words in small letters.
fn parts(text: &str) -> Vec<String> {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn all(base: &str, quilt: &Quilt, plan: &Plan) -> Vec<Hit> {
    let mut all = Vec::new();
    let mut add = |kind: &'static str, what: String, to: To| all.push(Hit { what, kind, to });
    for (stage, what) in STAGES {
        add("stage", what.to_owned(), To::Go(format!("stage:{stage}")));
    }
    for cloth in &quilt.cloths {
        add("cloth", cloth.name.clone(), To::Go(format!("stage:cloths cloth-{}-card", cloth.key)));
    }
    for block in &quilt.blocks {
        add("block", block.name.clone(), To::Go(format!("stage:draft block-{}-card", block.key)));
    }
    for frame in &quilt.frames {
        add("frame", format!("Frame {}", frame.key), To::Go(format!("stage:set frame-{}-width0", frame.key)));
    }
    for number in 0..quilt.bands.len() {
        add("setting", format!("Band {}", number + 1), To::Go(format!("stage:set band{number}-width")));
    }
    for (stage, id, what) in SETTINGS {
        add("setting", what.to_owned(), To::Go(format!("stage:{stage} {id}")));
    }
    for finding in &plan.findings {
        let what = format!("{}: {}", finding.spot, finding.reason);
        add("finding", what, To::Go(findings::target(plan, &finding.spot)));
    }
    for (page, what) in PAGES {
        add("page", what.to_owned(), To::Page(format!("{base}{page}")));
    }
    for place in &plan.top.places {
        let block = &quilt.blocks[place.block.0].name;
        add("place", format!("{}, {block}", place.name), To::Go(place.name.clone()));
    }
    for section in &plan.top.sections {
        if let Some(&place) = section.places.first() {
            add("lap section", format!("Section {}", section.name), To::Go(plan.top.places[place].name.clone()));
        }
    }
    for block in starter_blocks() {
        add("starter block", block.name.clone(), To::Go(format!("stage:draft starter-{}", block.key)));
    }
    all
}
