//! The page to follow at the cutting table: all drawings of one cloth, large, and the cuts line by line. It prints as it is shown.

use super::{answers, page, words};
use maud::{Markup, PreEscaped, html};
use seamfall_draw::{Paint, cloth_svgs};
use seamfall_model::{Edit, Length, Quilt, limits};
use seamfall_plan::Plan;
use seamfall_plan::caution::ROTARY_CUTTER;
use seamfall_plan::cut::{CutLine, ToBuy, sheets};
use seamfall_store::QuiltId;
use tr::tr;

/// The page.
pub fn page(base: &str, quilt: &Quilt, plan: &Plan, bought: &ToBuy, others: &[(QuiltId, String)]) -> Markup {
    let name = bought.of.name(quilt);
    let sheets = sheets(quilt, &plan.cutting, bought);
    let offcuts = words::offcuts(quilt, bought);
    let body = html! {
        body.plain.table {
            main {
                p.back { a href=(base.trim_end_matches('/')) { (tr!("Back to {name}", name = quilt.name)) } }
                h1 { (name) ", " (bought.shown(quilt)) }
                p { (words::proof(quilt, bought)) }
                p { (tr!("The ruler is set to:")) " " b { (words::rulers(quilt, &sheets)) } "." }
                p.quiet { (tr!("Each kind of strip is drawn once, with how often it is cut at its left, its width at its right and the settings of the ruler below its pieces. What is hatched is left over. In the table 1 is a strip, 1.2 what is cut from it; a part is turned and cut up as the lines below it say.")) }
                (answers::cautions(&[ROTARY_CUTTER]))
                @for drawing in cloth_svgs(quilt, plan, bought, Paint::Cloths) {
                    @let sheet = &sheets[drawing.sheet];
                    h2 { (drawing.title) } p.quiet { (words::sheet(quilt, sheet)) }
                    div.strips { div.cloth { (PreEscaped(drawing.svg)) } (cuts(quilt, &sheet.lines[drawing.lines])) }
                }
                (pieces(quilt, plan, bought))
                @if !offcuts.is_empty() { h2 { (tr!("Left over")) } ul { @for offcut in &offcuts { li { (offcut) } } }
                    (keep(base, quilt, bought, others)) }
            }
        }
    };
    page::plain(&format!("{name} - {}", quilt.name), &body)
}

/// Gives what is left to another quilt.
fn keep(base: &str, quilt: &Quilt, bought: &ToBuy, others: &[(QuiltId, String)]) -> Markup {
    if others.is_empty() || left_over(quilt, bought).is_none() {
        return html! {};
    }
    html! {
        form.keep data-keep={ (base) "cloth/" (bought.of.key(quilt)) "/keep" } {
            label.field for="keep-into" { span { (tr!("Cut another quilt out of it")) }
                select #keep-into name="into" { @for (id, name) in others { option value=(id) { (name) } } } }
            button type="submit" { (tr!("Add it there as a cloth")) }
        }
        div #message role="alert" hidden {}
    }
}

fn cuts(quilt: &Quilt, lines: &[CutLine]) -> Markup {
    html! {
        table.cuts {
            thead { tr { th scope="col" { (tr!("Cut")) } th scope="col" { (tr!("Ruler")) } th scope="col" { (tr!("Times")) } th scope="col" { (tr!("Gives")) } } }
            tbody { @for line in lines {
                tr.strip[line.depth == 0] {
                    th scope="row" class={ "depth" (line.depth.min(4)) } { (line.number) }
                    td { (line.ruler.shown(quilt.step)) }
                    td { (line.times) " ×" }
                    td { (line.gives) }
                }
            } }
        }
    }
}

fn pieces(quilt: &Quilt, plan: &Plan, bought: &ToBuy) -> Markup {
    html! {
        h2 { (tr!("Pieces")) }
        table {
            thead { tr { th scope="col" { (tr!("Name")) } th scope="col" { (tr!("Cut")) } th scope="col" { (tr!("Size")) } th scope="col" { (tr!("For")) } } }
            tbody { @for piece in plan.cutting.pieces.iter().filter(|piece| piece.of == bought.of) {
                tr {
                    th scope="row" { (piece.name) }
                    td { (piece.cut) }
                    td { (words::cut_size(quilt, piece)) " " (words::way(&piece.way)) }
                    td { (words::uses(quilt, plan, &piece.uses)) }
                }
            } }
        }
    }
}

/// What is left of a cloth, as a cloth of another quilt; nothing where nothing is worth keeping, and none of the batting.
pub fn left_over(quilt: &Quilt, bought: &ToBuy) -> Option<Edit> {
    let cloth = &quilt.cloths[bought.of.cloth()?.0];
    // With its unit, since the other quilt may have another.
    let unit = quilt.measure.sign();
    let size = |(width, length, count): (Length, Length, u32)| {
        (format!("{} {unit} x {} {unit}", words::typed(quilt, width), words::typed(quilt, length)), count)
    };
    let from: Vec<(String, u32)> = bought.offcuts(quilt).into_iter().take(limits::SUPPLIES).map(size).collect();
    let name = tr!("{cloth}, left over", cloth = cloth.name);
    (!from.is_empty()).then(|| Edit::AddCloth { key: String::new(), name, colour: cloth.colour.hex(), from })
}
