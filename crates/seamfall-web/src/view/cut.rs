//! What to buy and what to cut, every number with its working.

use super::fields::{how, swatch};
use super::words;
use maud::{Markup, html};
use seamfall_model::{ClothId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::CutPiece;

/// What to buy, then what to cut of each cloth.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        h2 { "What to buy" }
        table.buy {
            thead { tr { th { "Cloth" } th.number { "Length" } th.number { "Usable width" } th { span.aside { "Working" } } } }
            tbody {
                @for bought in &plan.cutting.cloths {
                    @let cloth = &quilt.cloths[bought.cloth.0];
                    @let mut workings = vec![&bought.length];
                    @let _ = workings.extend(bought.strips.iter().flat_map(|strip| [&strip.a_strip, &strip.strips]));
                    tr {
                        td { (swatch(bought.cloth)) " " (cloth.name) }
                        td.number { b { (bought.shown(quilt)) } }
                        td.number { (cloth.width.shown_with_unit(quilt.step)) }
                        td { (how(&format!("how-buy-{}", cloth.key), &workings)) }
                    }
                }
            }
        }
        h2 { "What to cut, in " (quilt.measure.sign()) }
        @for bought in &plan.cutting.cloths {
            @let pieces = plan.cutting.pieces.iter().filter(|piece| piece.cloth == bought.cloth);
            h3 { (swatch(bought.cloth)) " " (quilt.cloths[bought.cloth.0].name) }
            table.pieces {
                thead { tr { th.number { "Cut" } th { "Size" } th { "For" } th { span.aside { "Working" } } } }
                tbody { @for piece in pieces { (row(quilt, plan, piece)) } }
            }
        }
    }
}

fn row(quilt: &Quilt, plan: &Plan, piece: &CutPiece) -> Markup {
    html! {
        tr {
            td.number { b { (piece.cut) } }
            td { (words::cut_size(quilt, piece)) @if !words::way(&piece.way).is_empty() { br; span.quiet { (words::way(&piece.way)) } } }
            td.uses { (words::uses(quilt, plan, &piece.uses)) }
            td { (how(&format!("how-cut-{}", piece.name), &workings(piece))) }
        }
    }
}

/// The workings of a piece, once where both are the same.
pub fn workings(piece: &CutPiece) -> Vec<&seamfall_model::Working> {
    if piece.width == piece.length { vec![&piece.width] } else { vec![&piece.width, &piece.length] }
}

/// Pieces cut from `cloth` that are for something that `wanted` knows.
pub fn pieces_for<'a>(plan: &'a Plan, cloth: ClothId, wanted: impl Fn(&seamfall_plan::cut::Use) -> bool) -> Vec<&'a CutPiece> {
    plan.cutting.pieces.iter().filter(|piece| piece.cloth == cloth && piece.uses.iter().any(&wanted)).collect()
}
