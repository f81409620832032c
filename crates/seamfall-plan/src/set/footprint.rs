//! How much room a place takes: its block as it is turned, and its frame.

use seamfall_geom::Vec2;
use seamfall_model::{Block, FrameChoice, Place, Quilt, Shape};

/// Finished width and height of a block's bounds, in its own position.
pub(super) fn block_size(block: &Block) -> Vec2 {
    let height_60 = |side: f64| side * 3_f64.sqrt() / 2.0;
    match block.shape {
        Shape::Square { side } => Vec2::new(side.value(), side.value()),
        Shape::Rectangle { width, height } => Vec2::new(width.value(), height.value()),
        Shape::EquilateralTriangle { side } => Vec2::new(side.value(), height_60(side.value())),
        Shape::RightTriangle { leg } => Vec2::new(leg.value(), leg.value()),
        Shape::Diamond { side, angle_deg } => {
            let (sin, cos) = libm::sincos(angle_deg.to_radians());
            Vec2::new(side.value() * (1.0 + cos), side.value() * sin)
        }
        Shape::Hexagon { side } => Vec2::new(2.0 * side.value(), 2.0 * height_60(side.value())),
    }
}

/// Width of a place's frame, all strips together.
pub(super) fn frame_width(quilt: &Quilt, place: &Place) -> f64 {
    match place.frame {
        FrameChoice::Bare => 0.0,
        FrameChoice::Framed(id) => quilt.frames[id.0].strips.iter().map(|strip| strip.width.value()).sum(),
    }
}

/// Finished width and height of a place: the block as it is turned, and its frame.
pub(super) fn size(quilt: &Quilt, place: &Place) -> Vec2 {
    let block = block_size(&quilt.blocks[place.block.0]);
    let lying = if place.turns % 2 == 1 { Vec2::new(block.y, block.x) } else { block };
    let frame = 2.0 * frame_width(quilt, place);
    Vec2::new(lying.x + frame, lying.y + frame)
}
