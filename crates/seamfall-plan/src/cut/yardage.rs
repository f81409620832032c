//! What to buy, by the handbook: strips across the usable width, each kind of piece in strips of its own.
//!
//! In: the cut list. Out: strips and length for every cloth that is used. A strip is as high as the short side of its piece; in a
//! cloth whose print has a direction no piece is turned, and a strip is as high as the piece is long. Remnants of one kind of
//! strip are not used for another, so that there is always enough, and often some left.

use super::{ClothToBuy, CutPiece, StripCut, Way, rules};
use seamfall_geom::TOLERANCE;
use seamfall_model::{Cloth, ClothId, Finding, Length, MakingWay, Print, Quilt, Spot};

/// How a piece lies on the cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lie {
    /// What it takes of the width of the cloth.
    across: f64,
    /// What it takes of its length.
    high: f64,
}

/// Works out what to buy; a piece that no cloth is wide enough for, and a cloth that is not used, are findings.
pub(super) fn derive(quilt: &Quilt, pieces: &[CutPiece], findings: &mut Vec<Finding>) -> Vec<ClothToBuy> {
    let mut cloths = Vec::new();
    for (number, cloth) in quilt.cloths.iter().enumerate() {
        let id = ClothId(number);
        let own: Vec<(usize, &CutPiece)> = pieces.iter().enumerate().filter(|(_, piece)| piece.cloth == id).collect();
        if own.is_empty() {
            findings.push(
                Finding::note(Spot::Cloth(cloth.key.clone()), "no piece is cut from it")
                    .help("give it to a part, a frame or a band, or take it out of the file"),
            );
            continue;
        }
        cloths.push(to_buy(quilt, id, &own, findings));
    }
    cloths
}

fn to_buy(quilt: &Quilt, id: ClothId, own: &[(usize, &CutPiece)], findings: &mut Vec<Finding>) -> ClothToBuy {
    let cloth = &quilt.cloths[id.0];
    let mut kinds: Vec<StripCut> = Vec::new();
    for &(number, piece) in own {
        let Some(lie) = lie(piece, cloth) else {
            findings.push(too_wide(quilt, cloth, piece));
            continue;
        };
        let across = Length::new(lie.across);
        let (strips, a_strip) = if piece.way == Way::Joined {
            let strips = rules::joined_strips(piece.cut, across, cloth.width, quilt.allowance);
            (strips, rules::share_of_a_joined_strip(cloth.width, across))
        } else {
            let a_strip = rules::pieces_a_strip(cloth.width, across);
            (rules::strips(piece.cut, &a_strip), a_strip)
        };
        kinds.push(StripCut { piece: number, width: Length::new(lie.high), strips, a_strip });
    }
    // Pieces come with the largest short side first; in a cloth with a direction that is not yet the widest strip.
    kinds.sort_by(|a, b| b.width.value().total_cmp(&a.width.value()));
    let length = rules::length_to_buy(kinds.iter().map(|kind| (kind.strips.value, kind.width)), quilt.measure);
    ClothToBuy { cloth: id, strips: kinds, length }
}

/// How a piece lies; nothing where it is wider than the cloth and may not be turned or joined.
fn lie(piece: &CutPiece, cloth: &Cloth) -> Option<Lie> {
    if piece.way == Way::Unit(MakingWay::StripSet) {
        return Some(Lie { across: piece.length.value, high: piece.width.value });
    }
    let as_it_stands = Lie { across: piece.width.value, high: piece.length.value };
    let turned = Lie { across: as_it_stands.high, high: as_it_stands.across };
    let usable = cloth.width.value() + TOLERANCE;
    let mut ways = match cloth.print {
        Print::None if as_it_stands.high < as_it_stands.across => vec![as_it_stands, turned],
        Print::None => vec![turned, as_it_stands],
        Print::TwoWay | Print::OneWay => vec![as_it_stands],
    };
    if piece.way == Way::Joined {
        // Joining mends the length of a strip; it must still be no higher than the cloth is wide when that is how it is turned.
        ways.truncate(1);
        return ways.pop().filter(|lie| cloth.print != Print::None || lie.high <= usable);
    }
    ways.into_iter().find(|lie| lie.across <= usable)
}

fn too_wide(quilt: &Quilt, cloth: &Cloth, piece: &CutPiece) -> Finding {
    let show = |length: f64| Length::new(length).shown_with_unit(quilt.step);
    let reason = format!(
        "a piece cut {} x {} is wider than its usable width: {}",
        show(piece.width.value),
        show(piece.length.value),
        show(cloth.width.value())
    );
    let help = if cloth.print == Print::None {
        "take a wider cloth, or divide the piece by a seam"
    } else {
        "take a wider cloth, divide the piece by a seam, or let the print be turned"
    };
    Finding::stop(Spot::Cloth(cloth.key.clone()), reason).help(help)
}
