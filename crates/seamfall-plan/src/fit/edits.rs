//! A quilt's own settings: what the search may vary in it, and how what was found is brought into its file.
//!
//! In: the quilt; or one of the candidates. Out: base and wishes for [`search`](super::search::search); the edit that makes the candidate the
//! quilt, one step to take back.
//!
//! Blocks, frames, sashing and bands that are there change their widths, and stay. Where there is no band one may be added. Of a frame
//! with several strips the outermost varies, of several bands the two outermost; the others stay as they are.

use super::search::Candidate;
use super::settings::{Base, Standing, seams_in};
use super::wish::{Parity, Steps, Wishes};
use crate::answer::Impossible;
use seamfall_geom::Vec2;
use seamfall_model::{Block, ClothId, Edit, FrameChoice, Layout, Length, Measure, NewSettings, Place, Quilt, Shape};
use tr::tr;

/// What may vary of `quilt` on the way to a top of that size, within what is usual.
///
/// # Errors
/// Rows of different blocks, and blocks or frames of several sizes, which no one width describes.
pub fn wishes(quilt: &Quilt, size: Vec2) -> Result<(Wishes, Base), Impossible> {
    let place = one_size(quilt)?;
    let block = block_size(quilt, place);
    let round = |inches: f64, centimetres: f64| if quilt.measure == Measure::Inch { inches } else { centimetres };
    let step = round(0.5, 1.0);
    let steps = |from: f64, to: f64| Steps { from, to, step };
    let strips = match place.frame {
        FrameChoice::Bare => &[][..],
        FrameChoice::Framed(id) => &quilt.frames[id.0].strips,
    };
    let inner: f64 = strips.iter().rev().skip(1).map(|strip| strip.width.value()).sum();
    let fixed = quilt.bands.len().saturating_sub(2);
    let mut bands: Vec<Steps> = quilt.bands.iter().map(|_| steps(round(1.0, 3.0), round(10.0, 25.0))).collect();
    for (steps, band) in bands.iter_mut().zip(&quilt.bands).take(fixed) {
        *steps = Steps::only(band.width.value());
    }
    if bands.is_empty() {
        bands.push(steps(0.0, round(10.0, 25.0)));
    }
    let is_square = (block.x - block.y).abs() < 1e-9;
    let can_change = quilt.blocks.iter().filter(|block| is_of_size(quilt, block, place)).all(scales);
    let wishes = Wishes {
        size,
        tolerance: round(1.0, 2.5),
        standings: if is_square { vec![Standing::Straight, Standing::OnPoint] } else { vec![standing(quilt)] },
        blocks: if can_change { steps(round(4.0, 10.0), round(20.0, 50.0)) } else { Steps::only(block.x) },
        height_step: quilt.step.size(),
        columns: (1, 30),
        rows: (1, 30),
        parity: Parity::Any,
        frame: if strips.is_empty() { Steps::only(0.0) } else { steps(step, round(3.0, 8.0)) },
        sashing: if quilt.sashing.is_some() { steps(step, round(4.0, 10.0)) } else { Steps::only(0.0) },
        bands,
        own_block: Some(block.x),
    };
    let base = Base {
        measure: quilt.measure,
        allowance: quilt.allowance.0.value(),
        tall: block.y / block.x,
        seams: seams(quilt) / block.x,
        inner_frame: inner,
        frame_strips: strips.len().max(1),
        frame_offsets: (0..strips.len()).map(|strip| strips[..strip].iter().map(|strip| strip.width.value()).sum::<f64>()).sum(),
        around: quilt.sashing.as_ref().is_some_and(|sashing| sashing.around),
        machine_minutes: quilt.joining.machine_minutes_a_foot,
        quilting_minutes: quilt.lap.minutes_a_foot,
        gap: quilt.lap.largest_gap.value(),
        join_minutes: quilt.joining.minutes_a_join,
    };
    Ok((wishes, base))
}

fn standing(quilt: &Quilt) -> Standing {
    if matches!(quilt.setting.layout, Layout::OnPoint { .. }) { Standing::OnPoint } else { Standing::Straight }
}

/// A place, when all are like it: one size of block, one width of frame.
fn one_size(quilt: &Quilt) -> Result<&Place, Impossible> {
    let differ = |what: &str| {
        Impossible::new(tr!("{what}, which no one size describes", what), tr!("change them by hand, one by one"), 0.0)
    };
    if matches!(quilt.setting.layout, Layout::Rows { .. }) {
        return Err(differ(&tr!("the quilt is set in rows of different blocks")));
    }
    let mut places = quilt.setting.places.iter().flatten();
    let first = places.next().ok_or_else(|| differ(&tr!("the quilt has no blocks")))?;
    let size = |place: &Place| (block_size(quilt, place), frame_width(quilt, place.frame));
    let (block, frame) = size(first);
    let alike = |place: &Place| {
        let (other, width) = size(place);
        (other - block).hypot2() < 1e-12 && (width - frame).abs() < 1e-9
    };
    if places.all(alike) { Ok(first) } else { Err(differ(&tr!("the blocks of this quilt or their frames are of several sizes"))) }
}

/// Finished width and height of the block at a place, as it is turned.
fn block_size(quilt: &Quilt, place: &Place) -> Vec2 {
    let size = quilt.blocks[place.block.0].shape.outline().bounds().size().to_vec2();
    if place.turns % 2 == 1 { Vec2::new(size.y, size.x) } else { size }
}

fn frame_width(quilt: &Quilt, choice: FrameChoice) -> f64 {
    match choice {
        FrameChoice::Bare => 0.0,
        FrameChoice::Framed(id) => quilt.frames[id.0].strips.iter().map(|strip| strip.width.value()).sum(),
    }
}

/// Whether a block, that stands in the quilt or might, has the size of that which stands there.
fn is_of_size(quilt: &Quilt, block: &Block, place: &Place) -> bool {
    let one = quilt.blocks[place.block.0].shape.outline().bounds();
    let other = block.shape.outline().bounds();
    matches!(block.shape, Shape::Square { .. } | Shape::Rectangle { .. })
        && (one.width() - other.width()).abs() + (one.height() - other.height()).abs() < 1e-9
}

/// Whether a block can be drawn in another size: its points count divisions of a grid, or it has no seams.
fn scales(block: &Block) -> bool {
    block.grid.is_some() || block.starter.is_some() || (block.seams.is_empty() && block.overlays.is_empty())
}

/// Seams of a block, in the mean over all places.
fn seams(quilt: &Quilt) -> f64 {
    let of_block: Vec<f64> = quilt.blocks.iter().map(seams_in).collect();
    let places: Vec<f64> = quilt.setting.places.iter().flatten().map(|place| of_block[place.block.0]).collect();
    places.iter().sum::<f64>() / places.len().max(1) as f64
}

/// The edit that makes `candidate` the quilt; nothing where it has no blocks.
#[must_use]
pub fn as_edit(quilt: &Quilt, candidate: &Candidate) -> Option<Edit> {
    let place = quilt.setting.places.iter().flatten().next()?;
    let typed = |width: f64| shown(quilt, width);
    let lying = if place.turns % 2 == 1 { Vec2::new(candidate.block.y, candidate.block.x) } else { candidate.block };
    let changes = (block_size(quilt, place).x - candidate.block.x).abs() > 1e-9;
    let blocks = quilt.blocks.iter().filter(|block| changes && is_of_size(quilt, block, place) && scales(block)).map(|block| {
        let size = match block.shape {
            Shape::Square { .. } => typed(lying.x),
            _ => format!("{} x {}", typed(lying.x), typed(lying.y)),
        };
        (block.key.clone(), size)
    });
    let whole = frame_width(quilt, place.frame);
    let frames = quilt.frames.iter().filter(|frame| {
        let width: f64 = frame.strips.iter().map(|strip| strip.width.value()).sum();
        candidate.frame > 0.0 && whole > 0.0 && (width - whole).abs() < 1e-9
    });
    let outermost = |strips: &[seamfall_model::Strip]| {
        let inner: f64 = strips.iter().rev().skip(1).map(|strip| strip.width.value()).sum();
        let own: f64 = frame_inside(quilt, place);
        // A frame as wide in all, but of other strips, stays as wide as the others.
        typed(candidate.frame + own - inner)
    };
    let on_point = (candidate.standing == Standing::OnPoint).then(|| key(quilt, triangles(quilt)));
    let new = NewSettings {
        on_point,
        rows: candidate.rows as usize,
        columns: candidate.columns as usize,
        blocks: blocks.collect(),
        frames: frames.map(|frame| (frame.key.clone(), outermost(&frame.strips))).collect(),
        sashing: (candidate.sashing > 0.0 && quilt.sashing.is_some()).then(|| typed(candidate.sashing)),
        bands: candidate.bands.iter().filter(|width| **width > 0.0).map(|width| typed(*width)).collect(),
        band_cloth: key(quilt, edge_cloth(quilt)),
    };
    Some(new.into())
}

fn frame_inside(quilt: &Quilt, place: &Place) -> f64 {
    match place.frame {
        FrameChoice::Bare => 0.0,
        FrameChoice::Framed(id) => quilt.frames[id.0].strips.iter().rev().skip(1).map(|strip| strip.width.value()).sum(),
    }
}

/// Triangles are of the cloth they are of, or of that at the edge.
fn triangles(quilt: &Quilt) -> ClothId {
    match quilt.setting.layout {
        Layout::OnPoint { triangles } => triangles,
        _ => edge_cloth(quilt),
    }
}

/// The cloth at the edge: of the binding, of the outermost band, or the first.
fn edge_cloth(quilt: &Quilt) -> ClothId {
    let band = quilt.bands.last().map(|band| band.cloth);
    quilt.binding.map(|binding| binding.cloth).or(band).unwrap_or(ClothId(0))
}

fn key(quilt: &Quilt, cloth: ClothId) -> String {
    quilt.cloths.get(cloth.0).map_or_else(String::new, |cloth| cloth.key.clone())
}

/// A length as it is typed: a fraction where it is on the step, else to a millionth.
fn shown(quilt: &Quilt, width: f64) -> String {
    let length = Length::new((width * 1e6).round() / 1e6);
    let text = length.shown(quilt.step);
    if text.starts_with('~') { length.value().to_string() } else { text }
}
