//! What to buy and what to cut, every number with its working.

use super::fields::{swatch, worked};
use super::words;
use maud::{Markup, html};
use seamfall_model::{ClothId, Measure, Quilt, Working};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutPiece, Use};

/// What to buy, then what to cut of each cloth. A line unfolds to its working.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    let unit = match quilt.measure {
        Measure::Inch => "inches",
        Measure::Centimetre => "centimetres",
    };
    html! {
        h2 { "What to buy" }
        ul.numbers {
            @for bought in &plan.cutting.cloths {
                @let cloth = &quilt.cloths[bought.cloth.0];
                @let strips = bought.strips.iter().flat_map(|strip| [&strip.a_strip, &strip.strips]);
                @let workings: Vec<&Working> = std::iter::once(&bought.length).chain(strips).collect();
                li { (worked(&format!("how-buy-{}", cloth.key), &html! {
                    span.what { (swatch(bought.cloth)) " " (cloth.name) br; span.quiet { (cloth.width.shown_with_unit(quilt.step)) " wide" } }
                    b.amount { (bought.shown(quilt)) }
                }, &workings)) }
            }
        }
        h2 { "What to cut, in " (unit) }
        @for bought in &plan.cutting.cloths {
            h3 { (swatch(bought.cloth)) " " (quilt.cloths[bought.cloth.0].name) }
            ul.numbers {
                @for piece in plan.cutting.pieces.iter().filter(|piece| piece.cloth == bought.cloth) {
                    li { (worked(&format!("how-cut-{}", piece.name), &html! {
                        b.amount { (piece.cut) " of" }
                        span.what { b { (words::cut_size(quilt, piece)) } " " (words::way(&piece.way))
                            br; span.quiet { (words::uses(quilt, plan, &piece.uses)) } }
                    }, &workings(piece))) }
                }
            }
        }
    }
}

/// The workings of a piece, once where both are the same.
pub fn workings(piece: &CutPiece) -> Vec<&Working> {
    if piece.width == piece.length { vec![&piece.width] } else { vec![&piece.width, &piece.length] }
}

/// Pieces cut from `cloth` that are for something that `wanted` knows.
pub fn pieces_for(plan: &Plan, cloth: ClothId, wanted: impl Fn(&Use) -> bool) -> Vec<&CutPiece> {
    plan.cutting.pieces.iter().filter(|piece| piece.cloth == cloth && piece.uses.iter().any(&wanted)).collect()
}
