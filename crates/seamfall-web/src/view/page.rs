//! Whole pages: the workroom, the list of quilts, and what is shown when something could not be done.

use super::{about, guild};
use crate::asker;
use crate::language;
use crate::offered;
use crate::room::Worked;
use crate::trouble::Body;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use seamfall_draw::FallSign;
use seamfall_store::{May, QuiltId};
use tr::tr;

fn page(title: &str, body: &Markup, cloths: Option<&str>) -> Markup {
    page_with(title, body, cloths, None)
}

/// A page with a style and a script of its own, by their name in `assets/`.
pub fn page_with(title: &str, body: &Markup, cloths: Option<&str>, own: Option<&str>) -> Markup {
    html! {
        (DOCTYPE)
        html lang=(language::tag()) data-may=[asker::here().and_then(|asker| asker.may).map(offered::word)] {
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
/// Each with what it needs that the server is asked for, below the quilt, if anything.
fn keys() -> [(String, String, Option<&'static str>); 17] {
    const EDIT: Option<&str> = Some("edit");
    [
        ("/".to_owned(), tr!("find a stage, cloth, block, place, setting or finding"), None),
        ("[, ]".to_owned(), tr!("go to the stage before, to the next"), None),
        (tr!("arrows"), tr!("go from place to place on the drawing"), None),
        (tr!("Enter"), tr!("choose what the drawing's focus is on"), None),
        ("l, r".to_owned(), tr!("turn the block a quarter to the left, to the right"), EDIT),
        ("m".to_owned(), tr!("mirror the block"), EDIT),
        ("x".to_owned(), tr!("exchange the block with another place"), EDIT),
        ("p".to_owned(), tr!("go to the next patch of the block"), None),
        ("f".to_owned(), tr!("show to which side the seams fall, or hide it"), None),
        ("q".to_owned(), tr!("show the quilting lines, or hide them"), None),
        (tr!("s, arrows"), tr!("go from seam to seam of the block"), None),
        ("a, b, o, n".to_owned(), tr!("let the seam fall to its one side, its other side, open, or as the plan chooses"), EDIT),
        ("Ctrl+Z".to_owned(), tr!("undo"), EDIT),
        ("Ctrl+Y, Ctrl+Shift+Z".to_owned(), tr!("redo"), EDIT),
        ("+, −, 0".to_owned(), tr!("zoom in, out, show the whole quilt"), None),
        (tr!("Esc"), tr!("let go of what is chosen"), None),
        ("?".to_owned(), tr!("show these keys"), None),
    ]
}

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
            a.skip href="#drawing" { (tr!("To the drawing")) }
            header {
                a.brand href="/quilts" title=(tr!("All quilts")) { (mark()) span { "Seamfall" } }
                div #head { (region("head")) }
                div.tools {
                    button #undo type="button" data-for="undo" aria-keyshortcuts="Control+Z" disabled[stored.undo.is_none()] title=[&stored.undo] { span aria-hidden="true" { "↶ " } (tr!("Undo")) }
                    button #redo type="button" data-for="redo" aria-keyshortcuts="Control+Y" disabled[stored.redo.is_none()] title=[&stored.redo] { span aria-hidden="true" { "↷ " } (tr!("Redo")) }
                    button #show-find type="button" aria-keyshortcuts="/" { (tr!("Find")) " " kbd { "/" } }
                    button #show-keys type="button" aria-keyshortcuts="?" { (tr!("Keys")) " " kbd { "?" } }
                    details.menu #menu {
                        summary { (tr!("Quilt")) }
                        ul {
                            li { a href="/quilts" { (tr!("All quilts, bring in a file")) } }
                            li { a href="/begin" { (tr!("Begin another quilt")) } }
                            li { a href={ (base) "versions" } { (tr!("Versions: keep, compare, go back")) } }
                            li { a href={ (base) "file" } download { (tr!("Save as quilt file")) } }
                            li { a href={ (base) "book.pdf?paper=letter" } { (tr!("Book, Letter (PDF)")) } }
                            li { a href={ (base) "book.pdf?paper=a4" } { (tr!("Book, A4 (PDF)")) } }
                            li { a href={ (base) "print" } { (tr!("Book in black or in large type, pictures, mats for machines")) } }
                            li { a href={ (base) "quilt.svg" } { (tr!("Drawing (SVG)")) } }
                            li { a href={ (base) "plan.json" } { (tr!("Plan (JSON)")) } }
                            li { a href={ (base) "cut-list.csv" } download { (tr!("Cut list (CSV)")) } }
                            li { a href={ (base) "ledger" } download { (tr!("Save the ledger of what is sewn")) } }
                            li { a href={ (base) "sewing" } { (tr!("Sewing, to tick off")) } }
                            @if asker::here().is_none() { li { a href={ (base) "share" } { (tr!("Sew with a phone")) } } }
                            @else { li { a href={ (base) "members" } { (tr!("Share it with members")) } } }
                            li { a href={ (base) "class" } { (tr!("A class that makes it")) } }
                            li { (light()) }
                        }
                    }
                }
                (guild::whose())
            }
            main {
                section.top aria-label=(tr!("Drawing of the quilt")) {
                    div.view {
                        div role="group" aria-label=(tr!("What the drawing shows")) {
                            label.switch { input type="radio" name="paint" value="cloths" checked; " " (tr!("cloths")) }
                            label.switch { input type="radio" name="paint" value="values"; " " (tr!("values")) }
                            label.switch { input type="radio" name="paint" value="lines"; " " (tr!("lines")) }
                            label.switch { input #show-names type="checkbox"; " " (tr!("names")) }
                            label.switch { input #show-sections type="checkbox"; " " (tr!("sections")) }
                            label.switch { input #show-falls type="checkbox" aria-keyshortcuts="f"; " " (tr!("falls")) }
                            label.switch { input #show-quilting type="checkbox" aria-keyshortcuts="q"; " " (tr!("quilting")) }
                        }
                        div.zoom {
                            button #zoom-out type="button" aria-label=(tr!("Zoom out")) { "−" }
                            button #zoom-fit type="button" aria-label=(tr!("Show the whole quilt")) { (tr!("all")) }
                            button #zoom-in type="button" aria-label=(tr!("Zoom in")) { "+" }
                        }
                    }
                    div #legend aria-label=(tr!("Signs")) role="group" hidden { @for sign in FallSign::ALL {
                        span { (PreEscaped(sign.svg())) " " (sign.words()) }
                    } }
                    div #drawing tabindex="-1" { (PreEscaped(&worked.painted.drawing.svg)) }
                    div #message role="alert" hidden {}
                    p #said role="status" aria-live="polite" {}
                }
                section.side aria-label=(tr!("What it is and what can be changed")) {
                    nav.stages aria-label=(tr!("Stages of the work")) {
                        (stage("fit", "1", &tr!("fit"), &tr!("the bed")))
                        (stage("cloths", "", &tr!("cloths"), &tr!("colour, width")))
                        (stage("draft", "2", &tr!("draft"), &tr!("blocks")))
                        (stage("set", "3", &tr!("set"), &tr!("the top")))
                        (stage("piece", "4", &tr!("piece"), &tr!("units")))
                        (stage("fall", "5", &tr!("fall"), &tr!("pressing")))
                        (stage("cut", "6", &tr!("cut"), &tr!("buy and cut")))
                        (stage("lap", "7", &tr!("lap"), &tr!("quilting")))
                        (stage("true", "8", &tr!("true"), &tr!("measure, trim")))
                        (stage("join", "9", &tr!("join"), &tr!("to one quilt")))
                        (stage("finish", "10", &tr!("finish"), &tr!("the edge")))
                    }
                    div #findings { (region("findings")) }
                    div #about { (about::region(worked, "")) }
                    section.stage #stage-fit aria-label=(tr!("Fit")) hidden { (later("fit")) div #settings-found aria-live="polite" {} }
                    section.stage #stage-cloths aria-label=(tr!("Cloths")) hidden { h2 { (tr!("Cloths")) } (later("cloths")) }
                    section.stage #stage-draft aria-label=(tr!("Draft")) hidden { h2 { (tr!("Blocks")) } (later("draft")) }
                    section.stage #stage-set aria-label=(tr!("Set")) {
                        div #setting { (region("setting")) }
                    }
                    section.stage #stage-piece aria-label=(tr!("Piece")) hidden { (later("piece")) }
                    section.stage #stage-fall aria-label=(tr!("Fall")) hidden { (later("fall")) }
                    section.stage #stage-cut aria-label=(tr!("Cut")) hidden { (later("cut")) }
                    section.stage #stage-lap aria-label=(tr!("In the lap")) hidden { (later("lap")) }
                    section.stage #stage-true aria-label=(tr!("True")) hidden { (later("true")) }
                    section.stage #stage-join aria-label=(tr!("Join")) hidden { (later("join")) }
                    section.stage #stage-finish aria-label=(tr!("Finish")) hidden { (later("finish")) }
                }
            }
            dialog #find aria-labelledby="find-title" {
                h2 #find-title { (tr!("Find")) }
                label.field for="find-for" { span { (tr!("A stage, a cloth, a block, a place like C4, a setting, a finding")) }
                    input #find-for type="search" autocomplete="off" spellcheck="false"; }
                div #found {}
                form method="dialog" { button { (tr!("Close")) } }
            }
            dialog #keys aria-labelledby="keys-title" {
                h2 #keys-title { (tr!("Keys")) }
                dl { @for (key, what, needed) in keys() { div data-for=[needed] { dt { kbd { (key) } } dd { (what) } } } }
                form method="dialog" { button { (tr!("Close")) } }
            }
            noscript { p.trouble { (tr!("The workroom needs JavaScript, which it brings itself. The book and the plan can be had without: see the menu.")) } }
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
    /// What may be done with it; nothing where it is seen as a keeper alone.
    pub may: Option<May>,
    /// Who makes it, where there are several.
    pub maker: Option<String>,
}

/// Whether the room is light or dark.
fn light() -> Markup {
    html! {
        div.lights role="group" aria-label=(tr!("Light of the room")) {
            @for (light, what) in [("", tr!("as the device")), ("light", tr!("light")), ("dark", tr!("dark"))] {
                button type="button" data-light=(light) { (what) }
            }
        }
    }
}

/// The list of quilts.
pub fn quilts(lines: &[Line], demos: &[(&str, String)]) -> Markup {
    let asker = asker::here();
    let body = html! {
        body.plain {
            header { a.brand href="/" title="Seamfall" { (mark()) span { "Seamfall" } } @if let Some(asker) = &asker { (guild::nav(asker)) } }
            main {
                h1 { (tr!("Quilts")) }
                div #message role="alert" hidden {}
                ul.quilts {
                    @for line in lines {
                        li {
                            @match &line.name {
                                Ok(name) => a href={ "/q/" (line.id) } { b { (name) } },
                                Err(why) => span { b { (tr!("Quilt {id}", id = line.id)) } " " (tr!("cannot be read: {why}", why)) },
                            }
                            span.quiet { (tr!("1 edit" | "{n} edits" % usize::try_from(line.states.saturating_sub(1)).unwrap_or(0))) }
                            @if asker.is_some() && line.may != Some(May::Make) { span.quiet { (guild::part_words(line.may, line.maker.as_deref())) } }
                            a href={ "/q/" (line.id) "/file" } download { (tr!("Save as file")) }
                            @if asker.is_some() && line.may == Some(May::Make) { a href={ "/q/" (line.id) "/members" } { (tr!("Share")) } }
                            @if line.may == Some(May::Make) { button type="button" data-remove={ "/q/" (line.id) "/remove" } { (tr!("Take away")) } }
                        }
                    }
                }
                p.go { a.button href="/begin" { (tr!("Begin a quilt from a bed and a block")) } }
                h2 { (tr!("Begin from one that is there")) }
                ul.demos { @for (key, name) in demos { li {
                    button type="button" id={ "new-" (key) } data-new=(key) { img src={ "/demo/" (key) ".svg" } alt=""; (name) }
                } } }
                h2 { (tr!("Bring in a quilt file")) }
                label.field for="file" { span { (tr!("A file that ends in .quilt.toml")) } input #file type="file" accept=".toml" data-bring="/import"; }
                h2 { (tr!("Light of the room")) }
                (light())
            }
        }
    };
    page(&tr!("Quilts - Seamfall"), &body, None)
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
                h1 { (tr!("This could not be done")) }
                p { (trouble.problem) }
                ul { @for place in &trouble.places {
                    li { (tr!("Line {line}, column {column}: {reason}", line = place.line, column = place.column, reason = place.reason)) @if let Some(help) = &place.help { p.help { (tr!("Help: {help}", help)) } } }
                } }
                p { a href="/quilts" { (tr!("All quilts")) } }
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
