//! The page on which a block is drawn: the sheet, its tools, the cloths, what there is to say, and the templates.
//!
//! What is fixed is written here once; what follows from the drawing comes with every answer of the server, and the script puts it in its
//! place.

use super::fields::swatch;
use super::{page, words};
use crate::room::Worked;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::template_svg;
use seamfall_geom::Point;
use seamfall_model::{Block, BlockId, ClothId, Drawing, Finding, Grade, Quilt, Repeat, decimal, read_own_block, starter_blocks};
use seamfall_plan::draft::Draft;
use seamfall_store::OwnBlock;

pub use super::words::short;
use tr::tr;

/// Templates that are drawn; of more the words must do.
const DRAWN: usize = 24;

/// The shapes: their words in the file, and what they are called.
fn shapes() -> [(&'static str, String); 6] {
    [
        ("square", tr!("square")),
        ("rectangle", tr!("rectangle")),
        ("triangle", tr!("triangle, equal sides")),
        ("right-triangle", tr!("half-square triangle")),
        ("diamond", tr!("diamond")),
        ("hexagon", tr!("hexagon")),
    ]
}

/// What a shape is called in a sentence, by its word in the file.
pub fn shape(word: &str) -> String {
    match word {
        "square" => tr!("square"),
        "rectangle" => tr!("rectangle"),
        "triangle" => tr!("triangle"),
        "right-triangle" => tr!("right triangle"),
        "diamond" => tr!("diamond"),
        "hexagon" => tr!("hexagon"),
        other => other.to_owned(),
    }
}

/// The tools: their words for the script, their names and their keys.
fn tool_words() -> [(&'static str, String, &'static str); 4] {
    [("line", tr!("Straight seam"), "l"), ("arc", tr!("Arc"), "a"), ("paint", tr!("Paint"), "b"), ("choose", tr!("Move"), "v")]
}

/// The keys of this page, and what they do.
fn keys() -> [(String, String); 21] {
    [
        (tr!("arrows"), tr!("move the cursor by a step of the grid; with Shift by a quarter of one")),
        ("n, Shift+n".to_owned(), tr!("go to the next, the last end, crossing, corner or middle")),
        (tr!("Enter, Space"), tr!("begin a seam at the cursor, end it there; paint or take hold, as the tool is")),
        ("l".to_owned(), tr!("straight seams")),
        (
            "a".to_owned(),
            tr!(
                "arcs: begin, end, then the arrows go from bulge to bulge and Enter takes it; any other bulge by moving the cursor with n"
            ),
        ),
        ("b".to_owned(), tr!("paint: the brush")),
        ("v".to_owned(), tr!("move: take hold of the chosen seam by a point, set it down with Enter")),
        ("s, Shift+s".to_owned(), tr!("choose the next, the last seam")),
        ("e".to_owned(), tr!("go to the next point of the chosen seam and take hold of it")),
        (tr!("Delete"), tr!("take the chosen seam away")),
        ("p, Shift+p".to_owned(), tr!("go to the next, the last patch")),
        ("f, Shift+f".to_owned(), tr!("paint the patch at the cursor; paint all that have no cloth")),
        ("c, Shift+c".to_owned(), tr!("take the next, the last cloth")),
        (tr!("1 to 6"), tr!("switch a mirror line or turn on or off")),
        ("o".to_owned(), tr!("switch snapping to the grid off or on")),
        ("w".to_owned(), tr!("say what is at the cursor")),
        ("+, −, 0".to_owned(), tr!("nearer, farther, the whole block")),
        (tr!("Esc"), tr!("let go of what is begun or chosen")),
        ("Ctrl+Z, Ctrl+Y".to_owned(), tr!("undo, redo")),
        ("Ctrl+S".to_owned(), tr!("save into the quilt")),
        ("?".to_owned(), tr!("show these keys")),
    ]
}

/// What the page begins with.
pub struct Begun<'a> {
    /// The block of the quilt that is drawn anew; nothing for a new one.
    pub block: Option<&'a str>,
    /// The drawing.
    pub drawing: Drawing,
    /// The maker's own blocks, to go on from.
    pub own: &'a [OwnBlock],
}

/// The page.
pub fn page(worked: &Worked, begun: &Begun) -> Markup {
    let (quilt, drawing) = (&worked.quilt, &begun.drawing);
    let base = format!("/q/{}/", worked.id);
    let json = serde_json::to_string(drawing).expect("a drawing is text and numbers");
    let body = html! {
        body.drafting data-base=(base) data-revision=(worked.stored.revision.0) data-block=[begun.block] data-drawing=(json) {
            a.skip href="#sheet" { (tr!("To the sheet")) }
            header {
                a.brand href=(base.trim_end_matches('/')) title=(tr!("Back to {name}", name = quilt.name)) { (page::mark()) span { "Seamfall" } }
                div #head { h1 { @if begun.block.is_some() { (tr!("Draw on: {drawing}", drawing = drawing.name)) } @else { (tr!("Draw a block")) } } p { (tr!("for {name}", name = quilt.name)) } }
                div.tools {
                    button #draw-undo type="button" aria-keyshortcuts="Control+Z" disabled { span aria-hidden="true" { "↶ " } (tr!("Undo")) }
                    button #draw-redo type="button" aria-keyshortcuts="Control+Y" disabled { span aria-hidden="true" { "↷ " } (tr!("Redo")) }
                    button #draw-keys type="button" aria-keyshortcuts="?" { (tr!("Keys")) " " kbd { "?" } }
                    button.main #draw-save type="button" aria-keyshortcuts="Control+S" { (tr!("Save in the quilt")) }
                    a.button href=(base.trim_end_matches('/')) { (tr!("Back")) }
                }
            }
            main {
                section.desk aria-label=(tr!("The sheet")) {
                    (tools())
                    div.paper {
                        div #sheet tabindex="0" role="application" aria-roledescription=(tr!("drafting sheet")) aria-label=(tr!("Drafting sheet")) aria-describedby="sheet-help" {
                            div #sheet-drawing aria-hidden="true" {}
                            svg #hand aria-hidden="true" {}
                        }
                        div.zoom {
                            button #sheet-out type="button" aria-label=(tr!("Farther away")) aria-keyshortcuts="-" { "−" }
                            button #sheet-all type="button" aria-label=(tr!("Show the whole block")) aria-keyshortcuts="0" { (tr!("all")) }
                            button #sheet-in type="button" aria-label=(tr!("Nearer")) aria-keyshortcuts="+" { "+" }
                        }
                    }
                    div #message role="alert" hidden {}
                    p #sheet-help.quiet { (tr!("Drag from point to point, or tap one and then the other.")) span.at-desk { " " (tr!("By keyboard: arrows, Enter, and")) " " kbd { "?" } " " (tr!("for all keys.")) } }
                    p #said role="status" aria-live="polite" {}
                }
                section.draw-side aria-label=(tr!("What is drawn")) {
                    div #restored hidden { p { (tr!("This is the drawing as you left it, not saved yet.")) } button #draw-anew type="button" { (tr!("Begin again from what is saved")) } }
                    label.field for="draw-name" { span { (tr!("Name")) } input #draw-name type="text" value=(drawing.name) maxlength="200" autocomplete="off"; }
                    div #settings {}
                    (palette(quilt))
                    section aria-labelledby="findings-title" { h2 #findings-title { (tr!("What there is to say")) } div #sheet-findings {} }
                    section aria-labelledby="templates-title" { h2 #templates-title { (tr!("Templates")) } div #sheet-templates {} }
                    section aria-labelledby="keep-title" {
                        h2 #keep-title { (tr!("Keep it for other quilts")) }
                        button #draw-keep type="button" { (tr!("Keep among your own blocks")) }
                    }
                    (starts(&base, quilt, begun))
                }
            }
            dialog #keys aria-labelledby="keys-title" {
                h2 #keys-title { (tr!("Keys on the sheet")) }
                dl { @for (key, what) in keys() { div { dt { kbd { (key) } } dd { (what) } } } }
                form method="dialog" { button { (tr!("Close")) } }
            }
        }
    };
    let title = format!("{} - Seamfall", if begun.block.is_some() { drawing.name.clone() } else { tr!("Draw a block") });
    page::page_with(&title, &body, Some(&format!("{base}cloths.css?{}", worked.stored.revision.0)), Some("drawing"))
}

fn tools() -> Markup {
    html! {
        div.bar {
            fieldset.kinds { legend { (tr!("Tool")) }
                @for (word, name, key) in tool_words() {
                    label.tool { input type="radio" name="tool" value=(word) checked[word == "line"] aria-keyshortcuts=(key); span { (name) " " kbd aria-hidden="true" { (key) } } }
                }
            }
            label.switch { input #snap type="checkbox" checked aria-keyshortcuts="o"; " " (tr!("snap to the grid")) }
            button #draw-delete type="button" disabled { (tr!("Delete")) span.at-desk { " " (tr!("seam")) } }
            button #draw-clear type="button" { (tr!("Clear")) span.at-desk { " " (tr!("all")) } }
        }
    }
}

fn palette(quilt: &Quilt) -> Markup {
    html! {
        fieldset.palette { legend { (tr!("Cloth on the brush")) }
            div.swatches {
                @for (i, cloth) in quilt.cloths.iter().enumerate() {
                    label.cloth { input type="radio" name="cloth" value=(cloth.key) data-name=(cloth.name) checked[i == 0]; (swatch(ClothId(i))) span { b { (i + 1) } " " (cloth.name) } }
                }
            }
            button #paint-rest type="button" { (tr!("Paint all patches without a cloth")) }
        }
    }
}

/// Blocks to go on from.
fn starts(base: &str, quilt: &Quilt, begun: &Begun) -> Markup {
    let link = |from: &str, picture: Option<&str>, name: &str| {
        html! { li { a href={ (base) "draw?from=" (from) } { @if let Some(picture) = picture { img src=(picture) alt="" loading="lazy" width="64" height="64"; } span { (name) } } } }
    };
    html! {
        details.card #draw-from {
            summary { b { (tr!("Begin from another block")) } }
            h3 { (tr!("Empty, or a block of this quilt")) }
            ul.starts { li { a href={ (base) "draw" } { span { (tr!("an empty square")) } } } @for block in &quilt.blocks { (link(&format!("block:{}", block.key), None, &block.name)) } }
            @if !begun.own.is_empty() {
                h3 { (tr!("Your own")) }
                ul.starts { @for own in begun.own {
                    @let name = read_own_block(&own.text).map_or_else(|_| tr!("cannot be read"), |(block, _)| block.name);
                    (link(&format!("own:{}", own.id), Some(&format!("/own/{}.svg", own.id)), &name))
                } }
            }
            h3 { (tr!("The starter set")) }
            ul.starts { @for block in starter_blocks() { (link(&format!("starter:{}", block.key), Some(&format!("/starter/{}.svg", block.key)), &block.name)) } }
        }
    }
}

/// Shape, size and grid, and the lines and turns of the shape. The script keeps which of these are on.
pub fn settings(quilt: &Quilt, drawing: &Drawing) -> Markup {
    let shape = drawing.block(quilt).ok().map(|block| block.shape);
    let number = |id: &str, label: &str, value: u32| {
        html! { label.field for=(id) { span { (label) } input id=(id) type="number" min="1" max="240" step="1" value=(value) data-grid; } }
    };
    html! {
        div.fields {
            label.field for="draw-shape" { span { (tr!("Shape")) } select #draw-shape { @for (word, name) in shapes() { option value=(word) selected[drawing.shape == word] { (name) } } } }
            label.field for="draw-size" { span { @if drawing.shape == "rectangle" { (tr!("Finished width x height")) } @else { (tr!("Finished side")) } " (" (quilt.measure.sign()) ")" } input #draw-size type="text" value=(drawing.size) autocomplete="off"; }
            @if let Some(angle) = drawing.angle { label.field for="draw-angle" { span { (tr!("Sharp angle, degrees")) } input #draw-angle type="number" min="10" max="90" step="any" value=(angle); } }
            @if let Some([n, m]) = drawing.grid {
                @if matches!(drawing.shape.as_str(), "triangle" | "hexagon") { (number("draw-grid-0", &tr!("Grid, divisions of a side"), n)) }
                @else { (number("draw-grid-0", &tr!("Grid, across"), n)) (number("draw-grid-1", &tr!("Grid, up"), m)) }
            } @else { p.quiet.whole { (tr!("Drawn without a grid: points are lengths. Give it one:")) " " button type="button" data-new-grid { (tr!("Grid of 4")) } } }
        }
        @if let Some(shape) = shape {
            fieldset.repeats { legend { (tr!("Draw each seam also")) }
                @for (i, repeat) in Repeat::of(shape).iter().enumerate() {
                    label.switch { input id={ "repeat-" (repeat.key) } type="checkbox" name="repeat" value=(repeat.key) aria-keyshortcuts=(i + 1); " " (repeat.words()) " " kbd aria-hidden="true" { (i + 1) } }
                }
            }
        }
    }
}

/// What there is to say about a drawing, each with the way to its place.
pub fn findings(block: &Block, findings: &[(Finding, Option<Point>)]) -> Markup {
    html! {
        @if findings.is_empty() { p.quiet { (tr!("Nothing to say against this block.")) } }
        @else { ul.sayings { @for (i, (finding, at)) in findings.iter().enumerate() {
            li class=(finding.grade.word()) {
                @let sentence = html! {
                    span.grade { span aria-hidden="true" { (sign(finding.grade)) } " " (finding.grade.said()) }
                    " " span { @if let Some(place) = place(finding) { (place) " " } (as_seen(finding)) @if let Some(help) = on_screen(finding) { span.help { " " (tr!("Help: {help}.", help)) } } }
                };
                @if let Some(at) = at {
                    @let grid = block.to_grid(*at);
                    button type="button" data-finding=(i) data-u=(grid.u) data-v=(grid.v) { (sentence) }
                } @else { p { (sentence) } }
            }
        } } }
    }
}

/// Whether a finding asks for a patch to be named in the text of the file, which on the sheet is to paint it. Keys of the file are the same
/// in every language.
fn is_unpainted(finding: &Finding) -> bool {
    finding.help.as_ref().is_some_and(|help| help.contains("`patches`"))
}

/// A reason, as it is on the sheet.
fn as_seen(finding: &Finding) -> String {
    let is_patch = matches!(finding.spot, seamfall_model::Spot::Patch { .. });
    if is_patch && is_unpainted(finding) { tr!("it has no cloth") } else { finding.reason.clone() }
}

/// Help, as it is done on the sheet.
fn on_screen(finding: &Finding) -> Option<String> {
    if is_unpainted(finding) { Some(tr!("paint it with a cloth")) } else { finding.help.clone() }
}

fn place(finding: &Finding) -> Option<String> {
    match &finding.spot {
        seamfall_model::Spot::Seam { seam, .. } => Some(tr!("Seam {seam}:", seam)),
        seamfall_model::Spot::Patch { patch, .. } => Some(tr!("Patch {patch}:", patch)),
        _ => None,
    }
}

fn sign(grade: Grade) -> &'static str {
    match grade {
        Grade::Stop => "✕",
        Grade::Warn => "!",
        Grade::Note => "i",
    }
}

/// The templates, finished and cut outline, with how many there are of each.
pub fn templates(quilt: &Quilt, draft: &Draft) -> Markup {
    let allowance = quilt.allowance.0.shown_with_unit(quilt.step);
    html! {
        p.quiet { (tr!("The dashed line is sewn, the full line is cut: an allowance of {allowance} is added.", allowance)) }
        ul.pieces { @for (i, template) in draft.templates.iter().enumerate() {
            li {
                @if i < DRAWN { @if let Some(drawn) = template_svg(quilt, draft, BlockId(0), i) { (PreEscaped(drawn.svg)) } }
                p { b { (template.letter) } " " (words::kind(quilt, template.kind)) ", " (tr!("1 patch" | "{n} patches" % template.count)) }
                @if let Some(cut) = &template.cut { @let size = cut.bounds().size(); p.quiet { (tr!("cut, {size} over all", size = words::size(quilt, size.width, size.height))) } }
                @else { p.quiet { (tr!("no room for the allowance")) } }
            }
        } }
    }
}

/// A point as people say it: `2 across, 1 1/2 up` in decimals.
pub fn point([u, v]: [f64; 2]) -> String {
    tr!("{across} across, {up} up", across = decimal(u, 2), up = decimal(v, 2))
}
