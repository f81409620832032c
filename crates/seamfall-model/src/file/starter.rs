//! The starter set: traditional blocks, drafted from their geometry, one a file in `starter/`.
//!
//! In: the files, built in. Out: blocks 12 units in a side, which [`sized`] brings to the size that a quilt wants. A starter
//! file is a block of the quilt file without cloths; its points follow its grid, or are lengths at 12 in a side.

use super::block::{design, usual_turn_under};
use super::check::Check;
use super::parse::parse;
use super::problems::{FileError, Problems};
use super::raw::{RawBlock, RawGrid, RawShape, Typed};
use super::starter_list::STARTER;
use crate::{Arc, Block, GridPoint, Length, Mark, Measure, Overlay, Seam, Shape};
use std::sync::LazyLock;
use tr::tr;

/// Side of a starter block.
const SIDE: f64 = 12.0;

/// The starter set: traditional blocks by key, in the order of the alphabet, without cloths or size (12 in a side; parts keep
/// their order; cloth ids are the part's number).
#[must_use]
pub fn starter_blocks() -> &'static [Block] {
    // A test reads every file of the set, so none is missing here.
    static BLOCKS: LazyLock<Vec<Block>> =
        LazyLock::new(|| STARTER.iter().filter_map(|(key, text)| read_starter(key, text).ok()).collect());
    &BLOCKS
}

/// Reads one file of the starter set.
pub(super) fn read_starter(key: &str, text: &str) -> Result<Block, FileError> {
    let raw: RawBlock = parse(super::FileKind::Quilt, text)?;
    let mut problems = Problems::default();
    for (name, there) in [("starter", raw.starter.is_some()), ("cloths", raw.cloths.is_some()), ("frame", raw.frame.is_some())] {
        if there {
            problems.add(0..0, tr!("a starter block has no `{name}`", name), None);
        }
    }
    let mut check =
        Check { problems: &mut problems, measure: Measure::Inch, cloths: Vec::new(), blocks: Vec::new(), frames: Vec::new() };
    let Some(kind) = raw.shape.as_ref().map(|shape| **shape) else {
        problems.add(0..0, tr!("a starter block needs the key `shape`"), None);
        return Err(problems.finish(text));
    };
    let side = Length::new(SIDE);
    let shape = match kind {
        RawShape::Square => Shape::Square { side },
        RawShape::Rectangle => Shape::Rectangle { width: side, height: height(&raw) },
        RawShape::Triangle => Shape::EquilateralTriangle { side },
        RawShape::RightTriangle => Shape::RightTriangle { leg: side },
        RawShape::Diamond => Shape::Diamond { side, angle_deg: raw.angle.as_ref().map_or(60.0, |angle| **angle) },
        RawShape::Hexagon => Shape::Hexagon { side },
    };
    let mut block = design(&mut check, &raw, shape, kind);
    match &raw.name {
        Some(name) => block.name = check.name(name),
        None => problems.add(0..0, tr!("a starter block needs the key `name`"), None),
    }
    block.key = key.to_owned();
    block.starter = Some(key.to_owned());
    for (i, part) in block.parts.iter_mut().enumerate() {
        part.cloth = crate::ClothId(i);
    }
    if problems.is_empty() { Ok(block) } else { Err(problems.finish(text)) }
}

/// Height of a rectangle 12 wide: in the proportions of its size if it names one, else of its grid.
fn height(raw: &RawBlock) -> Length {
    let typed = raw.size.as_ref().and_then(|size| match &**size {
        Typed::Text(text) => text.split_once('x'),
        Typed::Number(_) => None,
    });
    let read = |text: &str| crate::parse_length(text, Measure::Inch).ok().filter(|length| length.value() > 0.0);
    if let Some((width, height)) = typed.and_then(|(width, height)| Some((read(width)?, read(height)?))) {
        return Length::new(SIDE * height.value() / width.value());
    }
    match raw.grid.as_ref().map(|grid| **grid) {
        Some(RawGrid::Each([n, m])) if n > 0 => Length::new(SIDE * f64::from(m) / f64::from(n)),
        _ => Length::new(SIDE),
    }
}

/// `design` at the size of `shape`, which is of its kind. Nothing when its arcs would not stay round.
pub(crate) fn sized(design: &Block, shape: Shape, measure: Measure) -> Option<Block> {
    let ((a, b), (wide, high)) = (design.shape.sides(), shape.sides());
    let (along, up) = (wide.value() / a.value(), high.value() / b.value());
    let arcs = |seams: &[Seam]| seams.iter().any(|seam| matches!(seam, Seam::Arc(_)));
    let any_arcs = arcs(&design.seams) || design.overlays.iter().any(|overlay| arcs(&overlay.outline));
    if any_arcs && (along - up).abs() > 1e-6 * up {
        return None;
    }
    // Points on a grid go with it; others are lengths.
    let (along, up) = if design.grid.is_some() { (1.0, 1.0) } else { (along, up) };
    let at = |p: GridPoint| GridPoint { u: p.u * along, v: p.v * up };
    let seams = |seams: &[Seam]| {
        let moved = seams.iter().map(|seam| match seam {
            Seam::Line(points) => Seam::Line(points.iter().copied().map(at).collect()),
            Seam::Arc(arc) => Seam::Arc(Arc { from: at(arc.from), to: at(arc.to), centre: at(arc.centre), ..*arc }),
        });
        moved.collect::<Vec<_>>()
    };
    let overlays = design.overlays.iter().map(|overlay| Overlay {
        outline: seams(&overlay.outline),
        part: overlay.part,
        turn_under: match measure {
            Measure::Inch => overlay.turn_under,
            // The usual allowance has its own figure in centimetres.
            Measure::Centimetre if overlay.turn_under == usual_turn_under(Measure::Inch) => usual_turn_under(measure),
            Measure::Centimetre => overlay.turn_under * 2.54,
        },
    });
    Some(Block {
        shape,
        seams: seams(&design.seams),
        marks: design.marks.iter().map(|mark| Mark { at: at(mark.at), ..*mark }).collect(),
        overlays: overlays.collect(),
        ..design.clone()
    })
}
