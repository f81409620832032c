//! How much room a place takes: its block as it is turned, and its frame.

use seamfall_geom::Vec2;
use seamfall_model::{Block, FrameChoice, Place, Quilt};

/// Finished width and height of a block's bounds, in its own position.
pub(super) fn block_size(block: &Block) -> Vec2 {
    block.shape.outline().bounds().size().to_vec2()
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
