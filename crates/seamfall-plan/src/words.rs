//! Sizes, shapes and uses in words, the same in book, workroom and terminal.

use crate::Plan;
use crate::cut::{CutPiece, Use};
use crate::draft::Kind;
use crate::piece::UnitKind;
use seamfall_model::{Length, MakingWay, Pressings, Quilt};

/// `2 7/8`, in the document's unit.
#[must_use]
pub fn length(quilt: &Quilt, value: f64) -> String {
    Length::new(value).shown(quilt.step)
}

/// `two pressings a block`.
#[must_use]
pub fn pressings(pressings: Pressings) -> &'static str {
    match pressings {
        Pressings::Shared(1) => "one pressing a block",
        Pressings::Shared(2) => "two pressings a block",
        Pressings::Shared(3) => "three pressings a block",
        Pressings::Shared(_) => "four pressings a block",
        Pressings::Own => "every copy pressed by itself",
    }
}

/// `84 × 98 in`.
#[must_use]
pub fn size(quilt: &Quilt, width: f64, height: f64) -> String {
    format!("{} × {} {}", length(quilt, width), length(quilt, height), quilt.measure.sign())
}

/// The finished shape of a patch.
#[must_use]
pub fn kind(quilt: &Quilt, kind: Kind) -> String {
    let show = |value: f64| length(quilt, value);
    match kind {
        Kind::Square { side } => format!("square, {}", show(side)),
        Kind::Rectangle { long, short } => format!("rectangle, {} × {}", show(short), show(long)),
        Kind::HalfSquare { leg } => format!("half-square triangle, short sides {}", show(leg)),
        Kind::QuarterSquare { long_side } => format!("quarter-square triangle, long side {}", show(long_side)),
        Kind::Equilateral { height } => format!("equilateral triangle, {} high", show(height)),
        Kind::Diamond { width, angle_deg, .. } => format!("diamond of {angle_deg:.0}°, {} across", show(width)),
        Kind::Hexagon { flats, .. } => format!("hexagon, {} between flat sides", show(flats)),
        Kind::Straight => "straight edges".to_owned(),
        Kind::Curved => "with a curve".to_owned(),
        Kind::Overlay => "laid over, edge turned under".to_owned(),
    }
}

/// How a unit is made.
#[must_use]
pub fn making_way(way: MakingWay) -> &'static str {
    match way {
        MakingWay::Plain => "plain",
        MakingWay::TwoAtATime => "two at a time",
        MakingWay::EightAtATime => "eight at a time",
        MakingWay::FourAtATime => "four at a time",
        MakingWay::StripSet => "from a strip set",
    }
}

/// A unit that has a faster way, finished.
#[must_use]
pub fn unit_kind(quilt: &Quilt, kind: &UnitKind) -> String {
    let show = |value: f64| length(quilt, value);
    match kind {
        UnitKind::HalfSquares { side, .. } => format!("half-square unit, {}", show(*side)),
        UnitKind::QuarterSquares { side, .. } => format!("quarter-square unit, {}", show(*side)),
        UnitKind::Goose { width, .. } => format!("flying goose, {} × {}", show(*width), show(width / 2.0)),
        UnitKind::Row { length, strips } => {
            let across: f64 = strips.iter().map(|(_, width)| width).sum();
            format!("row of {}, {} × {}", strips.len(), show(across), show(*length))
        }
    }
}

/// Its cut size: `4 7/8`, or `4 7/8 × 9`.
#[must_use]
pub fn cut_size(quilt: &Quilt, piece: &CutPiece) -> String {
    let (width, long) = (piece.width.value, piece.length.value);
    // A ten-thousandth, far below any step.
    if (width - long).abs() < 1e-4 {
        length(quilt, width)
    } else {
        format!("{} × {}", length(quilt, width), length(quilt, long))
    }
}

/// What pieces are for: `Churn dash A (16); band 1 (4)`.
#[must_use]
pub fn uses(quilt: &Quilt, plan: &Plan, uses: &[Use]) -> String {
    let texts = uses.iter().map(|one| match one {
        Use::Template { block, template, count } => {
            let letter = plan.drafts[block.0].templates.get(*template).map_or("", |template| template.letter.as_str());
            format!("{} {letter} ({count})", quilt.blocks[block.0].name)
        }
        Use::Top { what, count } => format!("{what} ({count})"),
    });
    texts.collect::<Vec<_>>().join("; ")
}
