//! What to buy and what to cut, cloth by cloth, in words.

use crate::words;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::cut::{ClothToBuy, StripCut, Way};
use serde::Serialize;

/// A cloth, what to buy of it, and what to cut out of it.
#[derive(Debug, Serialize)]
pub struct Cloth {
    /// Its number in the book, shown wherever its colour is.
    pub number: usize,
    pub name: String,
    pub colour: String,
    /// `dark; one way up`.
    pub about: String,
    /// Usable width.
    pub width: String,
    /// `1 7/8 yd`.
    pub buy: String,
    /// How that came about.
    pub working: String,
    pub pieces: Vec<Piece>,
}

/// A line of the cut list.
#[derive(Debug, Serialize)]
pub struct Piece {
    pub name: String,
    /// `3 strips of 4 7/8`, across the width.
    pub strips: String,
    /// `8 from each`.
    pub from_each: String,
    pub cut: String,
    pub way: String,
    pub size: String,
    pub exact: String,
    pub uses: String,
}

/// The cloths that are used, in the order of the file.
pub fn cloths(quilt: &Quilt, plan: &Plan) -> Vec<Cloth> {
    plan.cutting.cloths.iter().map(|bought| cloth(quilt, plan, bought)).collect()
}

fn cloth(quilt: &Quilt, plan: &Plan, bought: &ClothToBuy) -> Cloth {
    let cloth = &quilt.cloths[bought.cloth.0];
    let pieces = plan.cutting.pieces.iter().enumerate().filter(|(_, piece)| piece.cloth == bought.cloth);
    Cloth {
        number: bought.cloth.0 + 1,
        name: cloth.name.clone(),
        colour: cloth.colour.hex(),
        about: format!("{}; {}", cloth.value.word(), words::print(cloth.print)),
        width: cloth.width.shown_with_unit(quilt.step),
        buy: bought.shown(quilt),
        working: bought.length.line(),
        pieces: pieces
            .map(|(number, piece)| {
                let (cut, way) = words::way(quilt, piece, piece.needed);
                let strip = bought.strips.iter().find(|strip| strip.piece == number);
                let strips = |strip: &StripCut| {
                    let count = words::count(strip.strips.count(), "strip");
                    format!("{count} of {}", strip.width.shown(quilt.step))
                };
                // What a strip gives of a piece longer than it is no number of pieces.
                let from_each = |strip: &StripCut| match piece.way {
                    Way::Joined => String::new(),
                    _ => format!("{} from each", strip.a_strip.count()),
                };
                Piece {
                    name: piece.name.clone(),
                    strips: strip.map_or_else(String::new, strips),
                    from_each: strip.map_or_else(String::new, from_each),
                    cut,
                    way,
                    size: words::cut_size(quilt, piece),
                    exact: words::exact_size(piece),
                    uses: words::uses(quilt, plan, &piece.uses),
                }
            })
            .collect(),
    }
}
