//! What to cut and what to buy, by handbook rules: strips across the width of the cloth.
//!
//! In: templates and places, and how units are made. Out: every piece with its exact and its rounded cut size, count and cloth, and
//! the yardage. Pieces of one size and cloth are one entry, whatever block they are for; those of units made in a faster way are cut as
//! the squares and strips of that way.

mod list;
mod making;
mod mirror;
mod patches;
pub mod rules;
mod strips;
#[cfg(test)]
mod tests;
mod yardage;

use crate::{Staged, draft::Draft, set::Top};
use list::List;
use seamfall_geom::Loop;
use seamfall_model::{BlockId, ClothId, Length, MakingWay, Measure, Quilt, Step, Working};

pub use making::{CutFor, FasterWay, LookMaking, Making, StripSet, UnitMaking, making};

/// The cut list.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Every kind of piece, by cloth, then the largest first.
    pub pieces: Vec<CutPiece>,
    /// What to buy of each cloth that is used, in the order of the file.
    pub cloths: Vec<ClothToBuy>,
}

/// Pieces of one size, cut from one cloth in one way.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Stable name: `c1`, `c2`, ...
    pub name: String,
    /// The cloth.
    pub cloth: ClothId,
    /// How many pieces are sewn.
    pub needed: usize,
    /// How many squares, rectangles or strips are cut for them: half as many squares as half-square triangles.
    pub cut: usize,
    /// What is cut.
    pub way: Way,
    /// Across, after rounding up: width of the square, rectangle, strip or template's bounds.
    ///
    /// In a cloth whose print has a direction `width` runs across the print and `length` along it, whichever is the longer.
    pub width: Working,
    /// Along, after rounding up; the same as `width` for a square.
    pub length: Working,
    /// What it is for: `Churn dash, A` or `band 1, left and right`.
    pub uses: Vec<Use>,
}

/// What a piece is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Use {
    /// A template of a block.
    Template {
        /// The block.
        block: BlockId,
        /// Number of the template in its draft.
        template: usize,
        /// Pieces sewn.
        count: usize,
    },
    /// Frames, sashing, bands and triangles of the setting, in words.
    Top {
        /// `band 1, left and right`.
        what: String,
        /// Pieces sewn.
        count: usize,
    },
}

/// How a piece is cut.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// As it is: a square or a rectangle.
    Rectangle,
    /// A square cut once corner to corner: two triangles.
    HalfSquare,
    /// A square cut twice corner to corner: four triangles.
    QuarterSquare,
    /// For units made in a faster way: a square, or for a strip set a strip across the width. It is sewn before it is cut up.
    Unit(MakingWay),
    /// A strip longer than the width of the cloth: joined from several.
    Joined,
    /// With a template, out of a strip as high as it; `reversed` pieces are cut from the cloth turned over.
    Template {
        /// The cut outline, its grain upright.
        outline: Loop,
        /// Whether the template lies on its face.
        reversed: bool,
    },
    /// With mitred ends: cut as a rectangle, long enough for the mitre.
    Mitred,
}

/// What to buy of a cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothToBuy {
    /// The cloth.
    pub cloth: ClothId,
    /// Strips across the width, the widest first.
    pub strips: Vec<StripCut>,
    /// Length of all strips, in the document's unit, before and after rounding up to what a shop cuts.
    pub length: Working,
}

/// Strips of one width across the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct StripCut {
    /// Number of the piece in [`Cutting::pieces`].
    pub piece: usize,
    /// How wide the strip is cut: what its pieces take of the cloth's length.
    pub width: Length,
    /// How many strips, with its working.
    pub strips: Working,
    /// Pieces from one strip, with its working.
    pub a_strip: Working,
}

impl ClothToBuy {
    /// `1 7/8 yd`, or `1.8 m`.
    #[must_use]
    pub fn shown(&self, quilt: &Quilt) -> String {
        match quilt.measure {
            // What a shop cuts is an eighth of a yard, so a yard of length is written as an inch of it would be.
            Measure::Inch => format!("{} yd", Length::new(self.length.value / 36.0).shown(Step::Eighth)),
            Measure::Centimetre => format!("{:.1} m", self.length.value / 100.0),
        }
    }
}

/// Works out the cut list.
#[must_use]
pub fn derive(quilt: &Quilt, drafts: &[Draft], top: &Top, making: &Making) -> Staged<Cutting> {
    let mut findings = Vec::new();
    let mut list = List::new(quilt);
    patches::add(&mut list, quilt, drafts, top, making);
    strips::add(&mut list, quilt, top, &mut findings);
    let pieces = list.finish();
    let cloths = yardage::derive(quilt, &pieces, &mut findings);
    Staged { result: Cutting { pieces, cloths }, findings }
}
