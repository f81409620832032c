//! Plan into words: sizes, shapes, ways of cutting.

use seamfall_model::{Corners, Length, Print, Quilt, QuiltedOn, QuiltingDesign, Shape, decimal};
use seamfall_plan::cut::{CutPiece, Way};
use seamfall_plan::lap::Pattern;
use seamfall_plan::set::PieceKind;
use std::collections::BTreeSet;

pub use seamfall_plan::words::{
    cut_size, holds, hours, kind, length, long, making_way, offcuts, pressings, proof, rulers, sheet, size, stretch, thread, uses,
};

/// `1/4 in`; an allowance that lies between the steps, such as 0.75 cm, as it is.
pub fn allowance(quilt: &Quilt) -> String {
    let allowance = quilt.allowance.0;
    let on_step = (quilt.step.nearest(allowance) - allowance).value().abs() < 1e-9;
    let shown = if on_step { allowance.shown(quilt.step) } else { decimal(allowance.value(), 4) };
    format!("{shown} {}", quilt.measure.sign())
}

/// `1 square`, `4 squares`, `4 patches`.
pub fn count(number: usize, one: &str) -> String {
    let ending = match (number, one.ends_with("ch")) {
        (1, _) => "",
        (_, true) => "es",
        (_, false) => "s",
    };
    format!("{number} {one}{ending}")
}

/// What its print asks for.
pub fn print(print: Print) -> &'static str {
    match print {
        Print::None => "no direction",
        Print::TwoWay => "stripes or the like: turn by halves only",
        Print::OneWay => "one way up: keep its direction",
    }
}

/// How corners are sewn.
pub fn corners(quilt: &Quilt, corners: Corners) -> String {
    match corners {
        Corners::Mitred => "mitred corners".to_owned(),
        Corners::Butted => "butted corners".to_owned(),
        Corners::Squares(cloth) => format!("corner squares of {}", quilt.cloths[cloth.0].name),
    }
}

/// The finished size of a block.
pub fn shape(quilt: &Quilt, shape: Shape) -> String {
    let show = |length: Length| length.shown(quilt.step);
    let unit = quilt.measure.sign();
    match shape {
        Shape::Square { side } => format!("square, {} {unit}", show(side)),
        Shape::Rectangle { width, height } => format!("rectangle, {} × {} {unit}", show(width), show(height)),
        Shape::EquilateralTriangle { side } => format!("triangle with equal sides of {} {unit}", show(side)),
        Shape::RightTriangle { leg } => format!("half a square, short sides {} {unit}", show(leg)),
        Shape::Diamond { side, angle_deg } => format!("diamond of {angle_deg}°, sides {} {unit}", show(side)),
        Shape::Hexagon { side } => format!("hexagon, sides {} {unit}", show(side)),
    }
}

/// What is cut, and how: two short texts, such as `4 squares` and `once corner to corner`.
///
/// `needed` pieces are wanted; whole squares are counted up.
pub fn way(quilt: &Quilt, piece: &CutPiece, needed: usize) -> (String, String) {
    let (width, long) = (piece.width.value, piece.length.value);
    let square = (width - long).abs() < 1e-6;
    match &piece.way {
        Way::Rectangle if square => (count(needed, "square"), String::new()),
        Way::Rectangle => (count(needed, "rectangle"), String::new()),
        Way::HalfSquare => (count(needed.div_ceil(2), "square"), format!("once corner to corner, {}", count(needed, "triangle"))),
        Way::QuarterSquare => {
            (count(needed.div_ceil(4), "square"), format!("twice corner to corner, {}", count(needed, "triangle")))
        }
        Way::Unit(making) => {
            let how = making_way(*making);
            // Squares and strips are counted over the quilt; of one block only the patches can be told.
            if needed == piece.needed {
                let cut = count(piece.cut, if square { "square" } else { "strip" });
                (cut, format!("sewn first, units {how}, {}", count(needed, "patch")))
            } else {
                (count(needed, "patch"), format!("units {how}"))
            }
        }
        Way::Joined { .. } => (count(needed, "long strip"), format!("joined from strips {} wide", length(quilt, width))),
        Way::Mitred => (count(needed, "strip"), "ends mitred after sewing".to_owned()),
        Way::Template { .. } if piece.motif.is_some() => (count(needed, "piece"), "by template, each on its motif".to_owned()),
        Way::Template { reversed: false, .. } => (count(needed, "piece"), "by template".to_owned()),
        Way::Template { reversed: true, .. } => (count(needed, "piece"), "by template, cloth wrong side up".to_owned()),
    }
}

/// The same before rounding, where rounding changed it: `4.8536`.
pub fn exact_size(piece: &CutPiece) -> String {
    let same = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let (width, long) = (&piece.width, &piece.length);
    if same(width.exact, width.value) && same(long.exact, long.value) {
        return "exact".to_owned();
    }
    if same(width.exact, long.exact) {
        decimal(width.exact, 4)
    } else {
        format!("{} × {}", decimal(width.exact, 4), decimal(long.exact, 4))
    }
}

/// One piece of the top, in a word or two; nothing for frames, which belong to their blocks.
pub fn piece_kind(kind: PieceKind) -> Option<&'static str> {
    Some(match kind {
        PieceKind::Frame { .. } | PieceKind::FrameSquare { .. } => return None,
        PieceKind::SideTriangle => "side triangle",
        PieceKind::CornerTriangle => "corner triangle",
        PieceKind::Sash => "sashing strip",
        PieceKind::Cornerstone => "cornerstone",
        PieceKind::Filler => "filler",
        PieceKind::Band { .. } => "band strip",
        PieceKind::BandSquare { .. } => "band corner square",
    })
}

/// A quilting design: `2 echoes, 3/8 apart`.
fn design(quilt: &Quilt, design: &QuiltingDesign) -> String {
    let show = |length: Length| length.shown(quilt.step);
    let repeated = |repeats: Option<u32>| repeats.map_or_else(String::new, |times| format!(", {times} side by side"));
    match design {
        QuiltingDesign::InTheDitch => "in the ditch, along every seam".to_owned(),
        QuiltingDesign::Mitres => "along the mitres".to_owned(),
        QuiltingDesign::Outline { distance } => format!("outline, {} inside the seams", show(*distance)),
        QuiltingDesign::Echo { distance, count: 1 } => format!("echo, {} away", show(*distance)),
        QuiltingDesign::Echo { distance, count } => format!("{count} echoes, {} apart", show(*distance)),
        QuiltingDesign::Parallel { angle_deg, spacing } => {
            format!("parallel lines at {}°, {} apart", decimal(*angle_deg, 1), show(*spacing))
        }
        QuiltingDesign::Crossed { angle_deg, spacing } => {
            format!("crossed lines at {}°, {} apart", decimal(*angle_deg, 1), show(*spacing))
        }
        QuiltingDesign::Motif { motif, size, repeats } => {
            let size = size.map_or_else(String::new, |[wide, high]| format!(", {} × {}", show(wide), show(high)));
            format!("{}{size}{}", motif.word(), repeated(*repeats))
        }
        QuiltingDesign::Stippling { spacing } => format!("stippling, {} apart", show(*spacing)),
        QuiltingDesign::Path { size: [wide, high], repeats, .. } => {
            format!("drawing of your own, {} × {}{}", show(*wide), show(*high), repeated(*repeats))
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
