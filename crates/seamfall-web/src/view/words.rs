//! Sizes, shapes and ways of cutting in words.

use seamfall_model::{Finding, Grade, Layout, Length, Quilt, Shape, StandardBed, Value, mark, spoken};
use seamfall_plan::set::{PieceKind, Side, TopPiece};
use tr::tr;

pub use seamfall_plan::words::{
    around, cut_size, holds, hours, kind, length, long, making_way, offcuts, pressings, proof, quilted, rulers, sheet, size,
    stretch, thread, unit_kind, uses, way,
};

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

/// `US queen`.
pub fn bed_name(bed: &StandardBed) -> String {
    let (country, name) = bed.key.split_once(' ').unwrap_or(("", bed.key));
    let name = BED_NAMES.iter().find(|known| **known == name).map_or_else(|| name.to_owned(), |known| spoken(known));
    format!("{} {name}", country.to_uppercase())
}

/// What the standard beds are called in their countries.
const BED_NAMES: [&str; 18] = [
    mark!("cal king"),
    mark!("cal queen"),
    mark!("cot"),
    mark!("cot bed"),
    mark!("crib"),
    mark!("double"),
    mark!("full"),
    mark!("king"),
    mark!("king single"),
    mark!("long single"),
    mark!("queen"),
    mark!("single"),
    mark!("small double"),
    mark!("small single"),
    mark!("super king"),
    mark!("twin"),
    mark!("twin xl"),
    mark!("youth"),
];

/// A text with a capital letter at its start.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The start of what was asked for, which may be long.
pub fn short(text: &str) -> String {
    text.chars().take(40).collect()
}

/// The kind of layout.
pub fn layout(layout: Layout) -> String {
    match layout {
        Layout::Straight => tr!("straight, in rows and columns"),
        Layout::OnPoint { .. } => tr!("on point"),
        Layout::Rows { .. } => tr!("rows of different blocks"),
    }
}

/// One piece of the top.
pub fn piece_kind(kind: PieceKind) -> String {
    match kind {
        PieceKind::Frame { strip, .. } => tr!("frame, strip {strip}", strip = strip + 1),
        PieceKind::FrameSquare { strip, .. } => tr!("frame, corner square of strip {strip}", strip = strip + 1),
        PieceKind::SideTriangle => tr!("side triangle"),
        PieceKind::CornerTriangle => tr!("corner triangle"),
        PieceKind::Sash => tr!("sashing"),
        PieceKind::Cornerstone => tr!("cornerstone"),
        PieceKind::Filler => tr!("filler"),
        PieceKind::Band { band, .. } => tr!("band {band}", band = band + 1),
        PieceKind::BandSquare { band } => tr!("band {band}, corner square", band = band + 1),
    }
}

/// A strip of the top among others of its kind.
pub fn strip(strip: &TopPiece) -> String {
    // `sash.1.2`, `band1.left.2`: what tells it apart stands behind the first point of its name.
    let rest = strip.name.split_once('.').map_or("", |(_, rest)| rest);
    match strip.kind {
        PieceKind::Frame { strip, side, .. } => tr!("frame strip {strip}, {side}", strip = strip + 1, side = side_word(side)),
        PieceKind::FrameSquare { .. } => tr!("corner square of the frame"),
        PieceKind::Band { band, .. } => tr!("band {band} {place}", band = band + 1, place = place_words(rest)),
        kind => format!("{} {}", piece_kind(kind), place_words(rest)),
    }
}

/// What tells a strip apart, in words: `left 2`.
fn place_words(name: &str) -> String {
    let words = name.split('.').map(|word| match word {
        "top" => tr!("top"),
        "right" => tr!("right"),
        "bottom" => tr!("bottom"),
        "left" => tr!("left"),
        "outer" => tr!("outer"),
        other => other.to_owned(),
    });
    words.collect::<Vec<_>>().join(" ")
}

/// A side of a strip.
fn side_word(side: Side) -> String {
    match side {
        Side::Top => tr!("top"),
        Side::Right => tr!("right"),
        Side::Bottom => tr!("bottom"),
        Side::Left => tr!("left"),
    }
}

/// How light a cloth is.
pub fn value(value: Value) -> String {
    match value {
        Value::Light => tr!("light"),
        Value::Medium => tr!("medium"),
        Value::Dark => tr!("dark"),
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
