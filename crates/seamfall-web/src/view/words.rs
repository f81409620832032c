//! Sizes, shapes and ways of cutting in words.

use seamfall_model::{Finding, Grade, Layout, Length, Print, Quilt, Shape, Value};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutPiece, Use, Way};
use seamfall_plan::draft::Kind;
use seamfall_plan::set::PieceKind;

/// `2 7/8`, in the document's unit.
pub fn length(quilt: &Quilt, value: f64) -> String {
    Length::new(value).shown(quilt.step)
}

/// `84 × 98 in`.
pub fn size(quilt: &Quilt, width: f64, height: f64) -> String {
    format!("{} × {} {}", length(quilt, width), length(quilt, height), quilt.measure.sign())
}

/// A length as it can be typed again: as a fraction where it is on the step, else as a decimal.
pub fn typed(quilt: &Quilt, length: Length) -> String {
    let shown = length.shown(quilt.step);
    if shown.starts_with('~') { length.value().to_string() } else { shown }
}

/// The size of a shape as it can be typed again: `9 x 12`.
pub fn typed_size(quilt: &Quilt, shape: Shape) -> String {
    match shape {
        Shape::Rectangle { width, height } => format!("{} x {}", typed(quilt, width), typed(quilt, height)),
        Shape::Square { side } | Shape::EquilateralTriangle { side } | Shape::Diamond { side, .. } | Shape::Hexagon { side } => {
            typed(quilt, side)
        }
        Shape::RightTriangle { leg } => typed(quilt, leg),
    }
}

/// `1 patch`, `4 patches`.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// How light a cloth is, as in the file.
pub fn value(value: Value) -> &'static str {
    match value {
        Value::Light => "light",
        Value::Medium => "medium",
        Value::Dark => "dark",
    }
}

/// Which way a print runs, as in the file.
pub fn print(print: Print) -> &'static str {
    match print {
        Print::None => "none",
        Print::TwoWay => "two-way",
        Print::OneWay => "one-way",
    }
}

/// The kind of layout.
pub fn layout(layout: Layout) -> &'static str {
    match layout {
        Layout::Straight => "straight, in rows and columns",
        Layout::OnPoint { .. } => "on point",
        Layout::Rows { .. } => "rows of different blocks",
    }
}

/// The finished shape of a patch.
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

/// How a piece is cut.
pub fn way(way: &Way) -> &'static str {
    match way {
        Way::Rectangle => "",
        Way::HalfSquare => "cut once corner to corner",
        Way::QuarterSquare => "cut twice corner to corner",
        Way::Joined => "joined from strips",
        Way::Mitred => "ends mitred",
        Way::Template { reversed: false, .. } => "by template",
        Way::Template { reversed: true, .. } => "by template, cloth wrong side up",
    }
}

/// Its cut size: `4 7/8`, or `4 7/8 × 9`.
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

/// One piece of the top.
pub fn piece_kind(kind: PieceKind) -> String {
    match kind {
        PieceKind::Frame { strip, .. } => format!("frame, strip {}", strip + 1),
        PieceKind::FrameSquare { strip, .. } => format!("frame, corner square of strip {}", strip + 1),
        PieceKind::SideTriangle => "side triangle".to_owned(),
        PieceKind::CornerTriangle => "corner triangle".to_owned(),
        PieceKind::Sash => "sashing".to_owned(),
        PieceKind::Cornerstone => "cornerstone".to_owned(),
        PieceKind::Filler => "filler".to_owned(),
        PieceKind::Band { band, .. } => format!("band {}", band + 1),
        PieceKind::BandSquare { band } => format!("band {}, corner square", band + 1),
    }
}

/// A sign beside the word of a grade, so that colour is never needed.
pub fn sign(finding: &Finding) -> &'static str {
    match finding.grade {
        Grade::Stop => "✕",
        Grade::Warn => "!",
        Grade::Note => "i",
    }
}
