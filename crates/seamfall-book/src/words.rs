//! Plan into words: sizes, shapes, ways of cutting.

use seamfall_model::{Corners, Length, Print, Quilt, QuiltedOn, QuiltingDesign, Shape, decimal};
use seamfall_plan::cut::{CutPiece, Way};
use seamfall_plan::lap::Pattern;
use seamfall_plan::set::PieceKind;
use std::collections::BTreeSet;

pub use seamfall_plan::words::{
    cut_size, holds, hours, kind, length, long, making_way, offcuts, pressings, proof, rulers, sheet, size, stretch, thread, uses,
};
use tr::tr;

/// `1/4 in`; an allowance that lies between the steps, such as 0.75 cm, as it is.
pub fn allowance(quilt: &Quilt) -> String {
    let allowance = quilt.allowance.0;
    let on_step = (quilt.step.nearest(allowance) - allowance).value().abs() < 1e-9;
    let shown = if on_step { allowance.shown(quilt.step) } else { decimal(allowance.value(), 4) };
    format!("{shown} {}", quilt.measure.sign())
}

/// What its print asks for.
pub fn print(print: Print) -> String {
    match print {
        Print::None => tr!("no direction"),
        Print::TwoWay => tr!("stripes or the like: turn by halves only"),
        Print::OneWay => tr!("one way up: keep its direction"),
    }
}

/// How corners are sewn.
pub fn corners(quilt: &Quilt, corners: Corners) -> String {
    match corners {
        Corners::Mitred => tr!("mitred corners"),
        Corners::Butted => tr!("butted corners"),
        Corners::Squares(cloth) => tr!("corner squares of {cloth}", cloth = quilt.cloths[cloth.0].name),
    }
}

/// The finished size of a block.
pub fn shape(quilt: &Quilt, shape: Shape) -> String {
    let show = |length: Length| length.shown(quilt.step);
    let unit = quilt.measure.sign();
    match shape {
        Shape::Square { side } => tr!("square, {side} {unit}", side = show(side), unit),
        Shape::Rectangle { width, height } => {
            tr!("rectangle, {width} × {height} {unit}", width = show(width), height = show(height), unit)
        }
        Shape::EquilateralTriangle { side } => tr!("triangle with equal sides of {side} {unit}", side = show(side), unit),
        Shape::RightTriangle { leg } => tr!("half a square, short sides {leg} {unit}", leg = show(leg), unit),
        Shape::Diamond { side, angle_deg } => {
            tr!("diamond of {angle_deg}°, sides {side} {unit}", angle_deg, side = show(side), unit)
        }
        Shape::Hexagon { side } => tr!("hexagon, sides {side} {unit}", side = show(side), unit),
    }
}

/// What is cut, and how: two short texts, such as `4 squares` and `once corner to corner`.
///
/// `needed` pieces are wanted; whole squares are counted up.
pub fn way(quilt: &Quilt, piece: &CutPiece, needed: usize) -> (String, String) {
    let (width, long) = (piece.width.value, piece.length.value);
    let square = (width - long).abs() < 1e-6;
    match &piece.way {
        Way::Rectangle if square => (tr!("1 square" | "{n} squares" % needed), String::new()),
        Way::Rectangle => (tr!("1 rectangle" | "{n} rectangles" % needed), String::new()),
        Way::HalfSquare => (
            tr!("1 square" | "{n} squares" % needed.div_ceil(2)),
            tr!("once corner to corner, {needed}", needed = tr!("1 triangle" | "{n} triangles" % needed)),
        ),
        Way::QuarterSquare => (
            tr!("1 square" | "{n} squares" % needed.div_ceil(4)),
            tr!("twice corner to corner, {needed}", needed = tr!("1 triangle" | "{n} triangles" % needed)),
        ),
        Way::Unit(making) => {
            let how = making_way(*making);
            // Squares and strips are counted over the quilt; of one block only the patches can be told.
            if needed == piece.needed {
                let cut =
                    if square { tr!("1 square" | "{n} squares" % piece.cut) } else { tr!("1 strip" | "{n} strips" % piece.cut) };
                (cut, tr!("sewn first, units {how}, {needed}", how, needed = tr!("1 patch" | "{n} patches" % needed)))
            } else {
                (tr!("1 patch" | "{n} patches" % needed), tr!("units {how}", how))
            }
        }
        Way::Joined { .. } => (
            tr!("1 long strip" | "{n} long strips" % needed),
            tr!("joined from strips {width} wide", width = length(quilt, width)),
        ),
        Way::Mitred => (tr!("1 strip" | "{n} strips" % needed), tr!("ends mitred after sewing")),
        Way::Template { .. } if piece.motif.is_some() => {
            (tr!("1 piece" | "{n} pieces" % needed), tr!("by template, each on its motif"))
        }
        Way::Template { reversed: false, .. } => (tr!("1 piece" | "{n} pieces" % needed), tr!("by template")),
        Way::Template { reversed: true, .. } => (tr!("1 piece" | "{n} pieces" % needed), tr!("by template, cloth wrong side up")),
    }
}

/// The same before rounding, where rounding changed it: `4.8536`.
pub fn exact_size(piece: &CutPiece) -> String {
    let same = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let (width, long) = (&piece.width, &piece.length);
    if same(width.exact, width.value) && same(long.exact, long.value) {
        return tr!("exact");
    }
    if same(width.exact, long.exact) {
        decimal(width.exact, 4)
    } else {
        format!("{} × {}", decimal(width.exact, 4), decimal(long.exact, 4))
    }
}

/// So many pieces of the top of one kind; nothing for frames, which belong to their blocks.
pub fn pieces(kind: PieceKind, count: usize) -> Option<String> {
    Some(match kind {
        PieceKind::Frame { .. } | PieceKind::FrameSquare { .. } => return None,
        PieceKind::SideTriangle => tr!("1 side triangle" | "{n} side triangles" % count),
        PieceKind::CornerTriangle => tr!("1 corner triangle" | "{n} corner triangles" % count),
        PieceKind::Sash => tr!("1 sashing strip" | "{n} sashing strips" % count),
        PieceKind::Cornerstone => tr!("1 cornerstone" | "{n} cornerstones" % count),
        PieceKind::Filler => tr!("1 filler" | "{n} fillers" % count),
        PieceKind::Band { .. } => tr!("1 band strip" | "{n} band strips" % count),
        PieceKind::BandSquare { .. } => tr!("1 band corner square" | "{n} band corner squares" % count),
    })
}

/// A quilting design: `2 echoes, 3/8 apart`.
fn design(quilt: &Quilt, design: &QuiltingDesign) -> String {
    let show = |length: Length| length.shown(quilt.step);
    let repeated = |repeats: Option<u32>| repeats.map_or_else(String::new, |times| tr!(", {times} side by side", times));
    match design {
        QuiltingDesign::InTheDitch => tr!("in the ditch, along every seam"),
        QuiltingDesign::Mitres => tr!("along the mitres"),
        QuiltingDesign::Outline { distance } => tr!("outline, {distance} inside the seams", distance = show(*distance)),
        QuiltingDesign::Echo { distance, count: 1 } => tr!("echo, {distance} away", distance = show(*distance)),
        QuiltingDesign::Echo { distance, count } => tr!("{count} echoes, {distance} apart", count, distance = show(*distance)),
        QuiltingDesign::Parallel { angle_deg, spacing } => {
            tr!("parallel lines at {angle_deg}°, {spacing} apart", angle_deg = decimal(*angle_deg, 1), spacing = show(*spacing))
        }
        QuiltingDesign::Crossed { angle_deg, spacing } => {
            tr!("crossed lines at {angle_deg}°, {spacing} apart", angle_deg = decimal(*angle_deg, 1), spacing = show(*spacing))
        }
        QuiltingDesign::Motif { motif, size, repeats } => {
            let size = size.map_or_else(String::new, |[wide, high]| format!(", {} × {}", show(wide), show(high)));
            format!("{}{size}{}", motif.said(), repeated(*repeats))
        }
        QuiltingDesign::Stippling { spacing } => tr!("stippling, {spacing} apart", spacing = show(*spacing)),
        QuiltingDesign::Path { size: [wide, high], repeats, .. } => {
            tr!(
                "drawing of your own, {wide} × {high}{repeats}",
                wide = show(*wide),
                high = show(*high),
                repeats = repeated(*repeats)
            )
        }
    }
}

/// The designs on a kind of section, by what they are laid on: `Churn dash: in the ditch, along every seam; circle, 7 × 7`.
pub fn designs(quilt: &Quilt, pattern: &Pattern) -> Vec<String> {
    let used: BTreeSet<usize> = pattern.lines.iter().map(|line| line.of).collect();
    let mut said: Vec<(QuiltedOn, Vec<String>)> = Vec::new();
    for one in used.into_iter().filter_map(|of| quilt.quilting.get(of)) {
        let words = design(quilt, &one.design);
        match said.iter_mut().find(|(on, _)| *on == one.on) {
            Some((_, all)) => all.push(words),
            None => said.push((one.on, vec![words])),
        }
    }
    said.into_iter().map(|(on, all)| format!("{}: {}", on.name(quilt), all.join("; "))).collect()
}

/// Texts in their order, repeated ones once: `3 × 6 1/4, 2`.
pub fn repeated(texts: impl Iterator<Item = String>) -> String {
    let mut runs: Vec<(String, usize)> = Vec::new();
    for text in texts {
        match runs.last_mut() {
            Some((last, times)) if *last == text => *times += 1,
            _ => runs.push((text, 1)),
        }
    }
    let run = |(text, times): (String, usize)| if times > 1 { format!("{times} × {text}") } else { text };
    runs.into_iter().map(run).collect::<Vec<_>>().join(", ")
}
