//! The page on which paper, pictures and mats are chosen, and the list of mats.

use super::page;
use crate::room::Worked;
use maud::{Markup, html};
use seamfall_model::Measure;
use seamfall_plan::mats::{ClothMats, Mat};

/// The page. Without its script forms send themselves, and the browser shows what comes.
pub fn page(worked: &Worked) -> Markup {
    let base = format!("/q/{}/", worked.id);
    let (mat, gap) = if worked.quilt.measure == Measure::Inch { ("12 x 24", "1/8") } else { ("30 x 60", "0.3") };
    let choice = |name: &str, what: &str, words: &[(&str, &str)]| {
        let id = format!("print-{name}");
        html! {
            label.field for=(id) { span { (what) }
                select id=(id) name=(name) { @for (word, said) in words { option value=(word) { (said) } } } }
        }
    };
    let body = html! {
        body.plain.print {
            main {
                p.back { a href=(base.trim_end_matches('/')) { "Back to " (worked.quilt.name) } }
                h1 { "Paper, pictures, machines" }
                div #message role="alert" hidden {}
                h2 { "The book" }
                p.quiet { "From what to buy to the templates at full size. It can be read aloud." }
                form #book-form action={ (base) "book.pdf" } method="get" {
                    div.fields {
                        (choice("paper", "Paper", &[("letter", "Letter"), ("a4", "A4")]))
                        (choice("ink", "Printed in", &[("colour", "colours"), ("black", "black: cloths by hatchings and names")]))
                        (choice("type", "Type", &[("usual", "usual"), ("large", "large: 18 points and more")]))
                        (choice("marking", "Sheets to mark the quilting", &[("front", "from the front"), ("both", "front and back"), ("none", "none")]))
                    }
                    p { button #book-make type="submit" { "Make the book" } " " button #book-stop type="button" hidden { "Stop" } }
                    p #book-progress role="status" hidden { progress #book-bar aria-label="The book is being made" {} " " span #book-said {} }
                    p #book-done hidden { a #book-link { "Save the book" } }
                }
                h2 { "A picture of the quilt" }
                form action={ (base) "quilt.png" } method="get" {
                    div.fields { label.field for="picture-width" { span { "Pixels from side to side" } input #picture-width name="width" type="number" min="16" max="8000" value="1600" required; } }
                    p { button type="submit" { "Save the picture (PNG)" } }
                }
                h2 { "Templates for a cutting machine" }
                p.quiet { "All templates of the quilt laid on mats, cloth by cloth, as DXF and SVG at true size. Strips of frames, sashing and bands are left to the ruler." }
                form action={ (base) "mats" } method="get" {
                    div.fields {
                        label.field for="mat-size" { span { "Mat, width x length" } input #mat-size name="mat" value=(mat) required autocomplete="off"; }
                        label.field for="mat-gap" { span { "Between two pieces" } input #mat-gap name="gap" value=(gap) autocomplete="off"; }
                        (choice("face", "The cloth lies", &[("up", "right side up"), ("down", "right side down: mirrored")]))
                    }
                    p { button type="submit" { "Lay the mats" } }
                }
            }
            script src="/assets/print.js" defer {}
        }
    };
    page::plain(&format!("Paper, pictures, machines - {}", worked.quilt.name), &body)
}

/// All mats, each with what lies on it and its files.
pub fn mats(worked: &Worked, mat: &Mat, all: &[ClothMats], asked: &str) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let base = format!("/q/{}/", worked.id);
    let body = html! {
        body.plain.table {
            main {
                p.back { a href={ (base) "print" } { "Another mat, paper, pictures" } }
                h1 { "Mats for " (quilt.name) }
                p { @if mat.face_down { "For cloth that lies right side down: everything is mirrored." } @else { "For cloth that lies right side up." }
                    " A label names the block by its letter and the template." }
                @for cloth in all {
                    @let name = &quilt.cloths[cloth.cloth.0];
                    h2 { (name.name) }
                    p { b { (cloth.count()) } " to cut; the area alone asks for " (cloth.least(plan, mat)) "." }
                    @for piece in &cloth.pieces { @if let Some(why) = &piece.left_out { p.caution { b { "Left out: " (piece.count) " of " (piece.name(quilt, plan)) } ", " (why) "." } } }
                    @if !cloth.mats.is_empty() { table {
                        thead { tr { th scope="col" { "Mat" } th scope="col" { "Times" } th scope="col" { "Pieces" } th scope="col" { "Files" } } }
                        tbody { @for (number, laid) in (1..).zip(&cloth.mats) {
                            @let stem = format!("{}-{number}", name.key);
                            tr {
                                th scope="row" { (stem) } td { (laid.times) " ×" }
                                td { (laid.counts(cloth).iter().map(|(piece, count)| format!("{count} of {}", piece.name(quilt, plan))).collect::<Vec<_>>().join(", ")) }
                                td { a href={ (base) "mats/" (stem) ".dxf?" (asked) } aria-label={ (stem) " as DXF" } { "DXF" } " " a href={ (base) "mats/" (stem) ".svg?" (asked) } aria-label={ (stem) " as SVG" } { "SVG" } }
                            }
                        } }
                    } }
                }
            }
        }
    };
    page::plain(&format!("Mats - {}", quilt.name), &body)
}
