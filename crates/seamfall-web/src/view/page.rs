//! Whole pages: the workroom, the list of quilts, and what is shown when something could not be done.

use super::about;
use crate::language;
use crate::room::Worked;
use crate::trouble::Body;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use seamfall_draw::FallSign;
use seamfall_store::QuiltId;

fn page(title: &str, body: &Markup, cloths: Option<&str>) -> Markup {
    page_with(title, body, cloths, None)
}

/// A page with a style and a script of its own, by their name in `assets/`.
pub fn page_with(title: &str, body: &Markup, cloths: Option<&str>, own: Option<&str>) -> Markup {
    html! {
        (DOCTYPE)
        html lang=(language::tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                link rel="icon" href="/assets/icon.svg" type="image/svg+xml";
                link rel="stylesheet" href="/assets/workroom.css";
                @if let Some(cloths) = cloths { link #cloth-colours rel="stylesheet" href=(cloths); }
                @if let Some(own) = own { link rel="stylesheet" href={ "/assets/" (own) ".css" }; }
                // Not deferred: it decides on light and dark before anything is painted.
                script src="/assets/light.js" {}
                @if language::is_spoken() { script src="/assets/words.js" defer {} }
                script src="/assets/say.js" defer {}
                script src="/assets/find.js" defer {}
                script src="/assets/looking.js" defer {}
                script src="/assets/needle.js" defer {}
                script src="/assets/drape.js" defer {}
                script src="/assets/workroom.js" defer {}
                script src="/assets/own.js" defer {}
                @if let Some(own) = own { script src={ "/assets/" (own) ".js" } defer {} }
                script src="/assets/look.js" defer {}
            }
            (body)
        }
    }
}

/// The keys of the workroom, and what they do.
const KEYS: [(&str, &str); 17] = [
    ("/", "find a stage, cloth, block, place, setting or finding"),
    ("[, ]", "go to the stage before, to the next"),
    ("arrows", "go from place to place on the drawing"),
    ("Enter", "choose what the drawing's focus is on"),
    ("l, r", "turn the block a quarter to the left, to the right"),
    ("m", "mirror the block"),
    ("x", "exchange the block with another place"),
    ("p", "go to the next patch of the block"),
    ("f", "show to which side the seams fall, or hide it"),
    ("q", "show the quilting lines, or hide them"),
    ("s, arrows", "go from seam to seam of the block"),
    ("a, b, o, n", "let the seam fall to its one side, its other side, open, or as the plan chooses"),
    ("Ctrl+Z", "undo"),
    ("Ctrl+Y, Ctrl+Shift+Z", "redo"),
    ("+, −, 0", "zoom in, out, show the whole quilt"),
    ("Esc", "let go of what is chosen"),
    ("?", "show these keys"),
];

/// The workroom on a quilt.
pub fn workroom(worked: &Worked) -> Markup {
    let stored = &worked.stored;
    let region = |id: &str| PreEscaped(worked.region(id).unwrap_or_default());
    // Written when it is shown.
    let later = |id: &str| html! { div id=(id) data-stale {} };
    let base = format!("/q/{}/", worked.id);
    let stage = |id: &str, number: &str, word: &str, what: &str| {
        html! { button id={ "go-" (id) } type="button" data-stage=(id) aria-controls={ "stage-" (id) } { span.number { (number) } " " b { (word) } " " span.what { (what) } } }
    };
    let body = html! {
        body.workroom data-base=(base) data-revision=(stored.revision.0) {
            a.skip href="#drawing" { "To the drawing" }
            header {
                a.brand href="/quilts" title="All quilts" { (mark()) span { "Seamfall" } }
                div #head { (region("head")) }
                div.tools {
                    button #undo type="button" aria-keyshortcuts="Control+Z" disabled[stored.undo.is_none()] title=[&stored.undo] { span aria-hidden="true" { "↶ " } "Undo" }
                    button #redo type="button" aria-keyshortcuts="Control+Y" disabled[stored.redo.is_none()] title=[&stored.redo] { span aria-hidden="true" { "↷ " } "Redo" }
                    button #show-find type="button" aria-keyshortcuts="/" { "Find " kbd { "/" } }
                    button #show-keys type="button" aria-keyshortcuts="?" { "Keys " kbd { "?" } }
                    details.menu #menu {
                        summary { "Quilt" }
                        ul {
                            li { a href="/quilts" { "All quilts, bring in a file" } }
                            li { a href="/begin" { "Begin another quilt" } }
                            li { a href={ (base) "versions" } { "Versions: keep, compare, go back" } }
                            li { a href={ (base) "file" } download { "Save as quilt file" } }
                            li { a href={ (base) "book.pdf?paper=letter" } { "Book, Letter (PDF)" } }
                            li { a href={ (base) "book.pdf?paper=a4" } { "Book, A4 (PDF)" } }
                            li { a href={ (base) "print" } { "Book in black or in large type, pictures, mats for machines" } }
                            li { a href={ (base) "quilt.svg" } { "Drawing (SVG)" } }
                            li { a href={ (base) "plan.json" } { "Plan (JSON)" } }
                            li { a href={ (base) "cut-list.csv" } download { "Cut list (CSV)" } }
                            li { a href={ (base) "ledger" } download { "Save the ledger of what is sewn" } }
                            li { a href={ (base) "sewing" } { "Sewing, to tick off" } }
                            li { a href={ (base) "share" } { "Sew with a phone" } }
                            li { a href={ (base) "class" } { "A class that makes it" } }
                            li { (light()) }
                        }
                    }
                }
            }
            main {
                section.top aria-label="Drawing of the quilt" {
                    div.view {
                        div role="group" aria-label="What the drawing shows" {
                            label.switch { input type="radio" name="paint" value="cloths" checked; " cloths" }
                            label.switch { input type="radio" name="paint" value="values"; " values" }
                            label.switch { input type="radio" name="paint" value="lines"; " lines" }
                            label.switch { input #show-names type="checkbox"; " names" }
                            label.switch { input #show-sections type="checkbox"; " sections" }
                            label.switch { input #show-falls type="checkbox" aria-keyshortcuts="f"; " falls" }
                            label.switch { input #show-quilting type="checkbox" aria-keyshortcuts="q"; " quilting" }
                        }
                        div.zoom {
                            button #zoom-out type="button" aria-label="Zoom out" { "−" }
                            button #zoom-fit type="button" aria-label="Show the whole quilt" { "all" }
                            button #zoom-in type="button" aria-label="Zoom in" { "+" }
                        }
                    }
                    div #legend aria-label="Signs" role="group" hidden { @for sign in FallSign::ALL {
                        span { (PreEscaped(sign.svg())) " " (sign.words()) }
                    } }
                    div #drawing tabindex="-1" { (PreEscaped(&worked.painted.drawing.svg)) }
                    div #message role="alert" hidden {}
                    p #said role="status" aria-live="polite" {}
                }
                section.side aria-label="What it is and what can be changed" {
                    nav.stages aria-label="Stages of the work" {
                        (stage("fit", "1", "fit", "the bed"))
                        (stage("cloths", "", "cloths", "colour, width"))
                        (stage("draft", "2", "draft", "blocks"))
                        (stage("set", "3", "set", "the top"))
                        (stage("piece", "4", "piece", "units"))
                        (stage("fall", "5", "fall", "pressing"))
                        (stage("cut", "6", "cut", "buy and cut"))
                        (stage("lap", "7", "lap", "quilting"))
                        (stage("true", "8", "true", "measure, trim"))
                        (stage("join", "9", "join", "to one quilt"))
                        (stage("finish", "10", "finish", "the edge"))
                    }
                    div #findings { (region("findings")) }
                    div #about { (about::region(worked, "")) }
                    section.stage #stage-fit aria-label="Fit" hidden { (later("fit")) div #settings-found aria-live="polite" {} }
                    section.stage #stage-cloths aria-label="Cloths" hidden { h2 { "Cloths" } (later("cloths")) }
                    section.stage #stage-draft aria-label="Draft" hidden { h2 { "Blocks" } (later("draft")) }
                    section.stage #stage-set aria-label="Set" {
                        div #setting { (region("setting")) }
                    }
                    section.stage #stage-piece aria-label="Piece" hidden { (later("piece")) }
                    section.stage #stage-fall aria-label="Fall" hidden { (later("fall")) }
                    section.stage #stage-cut aria-label="Cut" hidden { (later("cut")) }
                    section.stage #stage-lap aria-label="In the lap" hidden { (later("lap")) }
                    section.stage #stage-true aria-label="True" hidden { (later("true")) }
                    section.stage #stage-join aria-label="Join" hidden { (later("join")) }
                    section.stage #stage-finish aria-label="Finish" hidden { (later("finish")) }
                }
            }
            dialog #find aria-labelledby="find-title" {
                h2 #find-title { "Find" }
                label.field for="find-for" { span { "A stage, a cloth, a block, a place like C4, a setting, a finding" }
                    input #find-for type="search" autocomplete="off" spellcheck="false"; }
                div #found {}
                form method="dialog" { button { "Close" } }
            }
            dialog #keys aria-labelledby="keys-title" {
                h2 #keys-title { "Keys" }
                dl { @for (key, what) in KEYS { div { dt { kbd { (key) } } dd { (what) } } } }
                form method="dialog" { button { "Close" } }
            }
            noscript { p.trouble { "The workroom needs JavaScript, which it brings itself. The book and the plan can be had without: see the menu." } }
        }
    };
    page(&format!("{} - Seamfall", worked.quilt.name), &body, Some(&format!("{base}cloths.css?{}", stored.revision.0)))
}

/// A line of the list of quilts.
pub struct Line {
    /// The quilt.
    pub id: QuiltId,
    /// Its name, or what is wrong with its text.
    pub name: Result<String, String>,
    /// States it can go back and forth to.
    pub states: u64,
}

/// Whether the room is light or dark.
fn light() -> Markup {
    html! {
        div.lights role="group" aria-label="Light of the room" {
            @for (light, what) in [("", "as the device"), ("light", "light"), ("dark", "dark")] {
                button type="button" data-light=(light) { (what) }
            }
        }
    }
}

/// The list of quilts.
pub fn quilts(lines: &[Line], demos: &[(&str, String)]) -> Markup {
    let body = html! {
        body.plain {
            header { a.brand href="/" { (mark()) span { "Seamfall" } } }
            main {
                h1 { "Quilts" }
                div #message role="alert" hidden {}
                ul.quilts {
                    @for line in lines {
                        li {
                            @match &line.name {
                                Ok(name) => a href={ "/q/" (line.id) } { b { (name) } },
                                Err(why) => span { b { "Quilt " (line.id) } " cannot be read: " (why) },
                            }
                            span.quiet { (super::words::count(usize::try_from(line.states.saturating_sub(1)).unwrap_or(0), "edit", "edits")) }
                            a href={ "/q/" (line.id) "/file" } download { "Save as file" }
                            button type="button" data-remove={ "/q/" (line.id) "/remove" } { "Take away" }
                        }
                    }
                }
                p.go { a.button href="/begin" { "Begin a quilt from a bed and a block" } }
                h2 { "Begin from one that is there" }
                ul.demos { @for (key, name) in demos { li {
                    button type="button" id={ "new-" (key) } data-new=(key) { img src={ "/demo/" (key) ".svg" } alt=""; (name) }
                } } }
                h2 { "Bring in a quilt file" }
                label.field for="file" { span { "A file that ends in .quilt.toml" } input #file type="file" accept=".toml" data-bring="/import"; }
                h2 { "Light of the room" }
                (light())
            }
        }
    };
    page("Quilts - Seamfall", &body, None)
}

/// A page that is made elsewhere.
pub fn plain(title: &str, body: &Markup) -> Markup {
    page(title, body, None)
}

/// Why something could not be done.
pub fn trouble(trouble: &Body) -> Markup {
    let body = html! {
        body.plain {
            header { a.brand href="/quilts" { (mark()) span { "Seamfall" } } }
            main {
                h1 { "This could not be done" }
                p { (trouble.problem) }
                ul { @for place in &trouble.places {
                    li { "Line " (place.line) ", column " (place.column) ": " (place.reason) @if let Some(help) = &place.help { p.help { "Help: " (help) } } }
                } }
                p { a href="/quilts" { "All quilts" } }
            }
        }
    };
    page("Seamfall", &body, None)
}

/// The sign: two patches and the seam between them.
pub fn mark() -> Markup {
    html! { svg viewBox="0 0 24 24" width="28" height="28" aria-hidden="true" {
        path.ink d="M2 2h20L2 22z" {}
        path.accent d="M22 2v20H2z" {}
        path.stitch d="M3 21L21 3" {}
    } }
}
