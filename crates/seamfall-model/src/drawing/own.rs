//! A block as a small file of its own, `NAME.block.toml`: what is drawn, without the cloths of a quilt.
//!
//! In: the text of such a file, under every check of a quilt file's block. Out: its block, whose part `i` has cloth `i`; and from a block its
//! text. It keeps the size at which it was drawn; a quilt takes it at the size it wants.

use super::Drawing;
use crate::file::{self, FileError, usual_turn_under};
use crate::{Block, Measure, Overlay, Quilt};
use std::fmt::Write as _;

/// Reads the text of a block's own file: the block, and the unit of its lengths.
///
/// # Errors
/// All problems that could be found, with their places.
pub fn read_own_block(text: &str) -> Result<(Block, Measure), FileError> {
    file::read_own(text)
}

/// A block as the text of a file of its own.
#[must_use]
pub fn write_own_block(block: &Block, measure: Measure) -> String {
    let named = Drawing::made(block, measure, |part| block.parts[part].name.clone());
    let unit = if measure == Measure::Inch { "inch" } else { "cm" };
    let mut out = format!("format = 1\nmeasure = \"{unit}\"\n\n[block]\n");
    for (key, value) in named.entries() {
        let _ = writeln!(out, "{key} = {}", value.to_string().trim());
    }
    out
}

impl Drawing {
    /// A block of the starter set, or the maker's own, as a drawing for a quilt: at about the size of the square that stands first in its
    /// setting, its parts given the cloths that are called like them, or those of the quilt in turn.
    #[must_use]
    pub fn taken(design: &Block, measure: Measure, quilt: &Quilt) -> Self {
        let shape = crate::edit::usual_shape(quilt, design.shape);
        // Proportions are kept, so that arcs stay round.
        let mut sized = file::sized(design, shape, Measure::Inch).unwrap_or_else(|| design.clone());
        sized.overlays.iter_mut().for_each(|over| in_measure(over, measure, quilt.measure));
        let named = |name: &str| quilt.cloths.iter().position(|cloth| cloth.key == name);
        let cloth = |part: usize| {
            let turn = named(&design.parts[part].name).unwrap_or(part % quilt.cloths.len().max(1));
            quilt.cloths.get(turn).map_or_else(String::new, |cloth| cloth.key.clone())
        };
        Self::made(&sized, quilt.measure, cloth)
    }
}

/// Brings the allowance that is turned under to another unit; the usual one has its own figure in each.
fn in_measure(over: &mut Overlay, from: Measure, to: Measure) {
    if over.turn_under == usual_turn_under(from) {
        over.turn_under = usual_turn_under(to);
    } else {
        over.turn_under = over.turn_under * (to.inch() / from.inch());
    }
}
