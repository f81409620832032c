//! The page on which paper, pictures and mats are chosen, and the list of mats.

use super::page;
use crate::room::Worked;
use maud::{Markup, html};
use seamfall_model::Measure;
use seamfall_plan::mats::{ClothMats, Mat};
use tr::tr;

/// The page. Without its script forms send themselves, and the browser shows what comes.
pub fn page(worked: &Worked) -> Markup {
    let base = format!("/q/{}/", worked.id);
    let (mat, gap) = if worked.quilt.measure == Measure::Inch { ("12 x 24", "1/8") } else { ("30 x 60", "0.3") };
    let choice = |name: &str, what: &str, words: &[(&str, String)]| {
        let id = format!("print-{name}");
        html! {
            label.field for=(id) { span { (what) }
                select id=(id) name=(name) { @for (word, said) in words { option value=(word) { (said) } } } }
        }
    };
    let body = html! {
        body.plain.print {
            main {
                p.back { a href=(base.trim_end_matches('/')) { (tr!("Back to {name}", name = worked.quilt.name)) } }
                h1 { (tr!("Paper, pictures, machines")) }
                div #message role="alert" hidden {}
                h2 { (tr!("The book")) }
                p.quiet { (tr!("From what to buy to the templates at full size. It can be read aloud.")) }
                form #book-form action={ (base) "book.pdf" } method="get" {
                    div.fields {
                        (choice("paper", &tr!("Paper"), &[("letter", tr!("Letter")), ("a4", "A4".to_owned())]))
                        (choice("ink", &tr!("Printed in"), &[("colour", tr!("colours")), ("black", tr!("black: cloths by hatchings and names"))]))
                        (choice("type", &tr!("Type"), &[("usual", tr!("usual")), ("large", tr!("large: 18 points and more"))]))
                        (choice("marking", &tr!("Sheets to mark the quilting"), &[("front", tr!("from the front")), ("both", tr!("front and back")), ("none", tr!("none"))]))
                    }
                    p { button #book-make type="submit" { (tr!("Make the book")) } " " button #book-stop type="button" hidden { (tr!("Stop")) } }
                    p #book-progress role="status" hidden { progress #book-bar aria-label=(tr!("The book is being made")) {} " " span #book-said {} }
                    p #book-done hidden { a #book-link { (tr!("Save the book")) } }
                }
                h2 { (tr!("A picture of the quilt")) }
                form action={ (base) "quilt.png" } method="get" {
                    div.fields { label.field for="picture-width" { span { (tr!("Pixels from side to side")) } input #picture-width name="width" type="number" min="16" max="8000" value="1600" required; } }
                    p { button type="submit" { (tr!("Save the picture (PNG)")) } }
                }
                h2 { (tr!("Templates for a cutting machine")) }
                p.quiet { (tr!("All templates of the quilt laid on mats, cloth by cloth, as DXF and SVG at true size. Strips of frames, sashing and bands are left to the ruler.")) }
                form action={ (base) "mats" } method="get" {
                    div.fields {
                        label.field for="mat-size" { span { (tr!("Mat, width x length")) } input #mat-size name="mat" value=(mat) required autocomplete="off"; }
                        label.field for="mat-gap" { span { (tr!("Between two pieces")) } input #mat-gap name="gap" value=(gap) autocomplete="off"; }
                        (choice("face", &tr!("The cloth lies"), &[("up", tr!("right side up")), ("down", tr!("right side down: mirrored"))]))
                    }
                    p { button type="submit" { (tr!("Lay the mats")) } }
                }
            }
            script src="/assets/print.js" defer {}
        }
    };
    page::plain(&tr!("Paper, pictures, machines - {name}", name = worked.quilt.name), &body)
}

/// All mats, each with what lies on it and its files.
pub fn mats(worked: &Worked, mat: &Mat, all: &[ClothMats], asked: &str) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let base = format!("/q/{}/", worked.id);
    let body = html! {
        body.plain.table {
            main {
                p.back { a href={ (base) "print" } { (tr!("Another mat, paper, pictures")) } }
                h1 { (tr!("Mats for {name}", name = quilt.name)) }
                p { @if mat.face_down { (tr!("For cloth that lies right side down: everything is mirrored.")) } @else { (tr!("For cloth that lies right side up.")) }
                    " " (tr!("A label names the block by its letter and the template.")) }
                @for cloth in all {
                    @let name = &quilt.cloths[cloth.cloth.0];
                    h2 { (name.name) }
                    p { b { (cloth.count()) } " " (tr!("to cut; the area alone asks for {least}.", least = cloth.least(plan, mat))) }
                    @for piece in &cloth.pieces { @if let Some(why) = &piece.left_out { p.caution { b { (tr!("Left out: {count} of {piece}", count = piece.count, piece = piece.name(quilt, plan))) } ", " (why) "." } } }
                    @if !cloth.mats.is_empty() { table {
                        thead { tr { th scope="col" { (tr!("Mat")) } th scope="col" { (tr!("Times")) } th scope="col" { (tr!("Pieces")) } th scope="col" { (tr!("Files")) } } }
                        tbody { @for (number, laid) in (1..).zip(&cloth.mats) {
                            @let stem = format!("{}-{number}", name.key);
                            tr {
                                th scope="row" { (stem) } td { (laid.times) " ×" }
                                td { (laid.counts(cloth).iter().map(|(piece, count)| tr!("{count} of {piece}", count, piece = piece.name(quilt, plan))).collect::<Vec<_>>().join(", ")) }
                                td { a href={ (base) "mats/" (stem) ".dxf?" (asked) } aria-label=(tr!("{stem} as DXF", stem)) { (tr!("DXF")) } " " a href={ (base) "mats/" (stem) ".svg?" (asked) } aria-label=(tr!("{stem} as SVG", stem)) { (tr!("SVG")) } }
                            }
                        } }
                    } }
                }
            }
        }
    };
    page::plain(&tr!("Mats - {quilt}", quilt = quilt.name), &body)
}
