//! The top: blocks, frames, sashing and bands in their places, divided into lap sections.
//!
//! In: the quilt's setting. Out: where everything lies, and sections no larger than can be handled in the lap. Coordinates: the
//! top's own, lower left corner at the origin, y up, in the document's unit.

mod builder;
mod corners;
mod divide;
mod footprint;
mod on_point;
mod rings;
mod straight;
#[cfg(test)]
mod tests;

pub use corners::{ChangedCorner, CutInto};

use crate::Staged;
use builder::Builder;
use seamfall_geom::{Loop, Pose, Vec2};
use seamfall_model::{BlockId, ClothId, FrameId, Layout, Quilt, Working};
use tr::tr;

/// The top of a quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Top {
    /// Finished width and height, with bands.
    pub size: Vec2,
    /// Its finished edge, anticlockwise from the foot: a rectangle unless corners are changed.
    pub outline: Loop,
    /// The corners at the foot that are not square, the left one first. All is sewn whole and trimmed after the last join.
    pub corners: Vec<ChangedCorner>,
    /// The blocks, row by row from the top.
    pub places: Vec<PlacedBlock>,
    /// Everything else, each piece as it is sewn: long strips already divided where sections end.
    pub strips: Vec<TopPiece>,
    /// Lap sections, from the top down, then from the left.
    pub sections: Vec<Section>,
    /// How the numbers above came about: width, height, counts of blocks, triangles and sections.
    pub workings: Vec<Working>,
}

/// A block in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedBlock {
    /// `C4`: see [`seamfall_model::place_name`].
    pub name: String,
    /// Row from the top, from 0.
    pub row: usize,
    /// Place in the row from the left, from 0.
    pub number: usize,
    /// The block.
    pub block: BlockId,
    /// From the block's coordinates to the top's.
    pub pose: Pose,
    /// Finished outline of the block, without its frame.
    pub outline: Loop,
    /// Cloth of each part of the block, here.
    pub cloths: Vec<ClothId>,
    /// Its frame.
    pub frame: Option<FrameId>,
    /// Number of its section.
    pub section: usize,
}

/// A piece of the top that is not part of a block.
#[derive(Debug, Clone, PartialEq)]
pub struct TopPiece {
    /// Stable name, also the id in drawings: `B3.frame1.top`, `sash.2.3`, `band1.left.2`.
    pub name: String,
    /// What it is.
    pub kind: PieceKind,
    /// Its cloth.
    pub cloth: ClothId,
    /// Finished outline.
    pub outline: Loop,
    /// Number of its section.
    pub section: usize,
}

/// What a piece of the top is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PieceKind {
    /// A strip of the frame of a place, which is named by its number in [`Top::places`].
    Frame {
        /// The place.
        place: usize,
        /// Strip from the block outward, from 0.
        strip: usize,
        /// Side of the block as it stands before the whole place is turned on its point.
        side: Side,
    },
    /// A corner square of a frame.
    FrameSquare {
        /// The place.
        place: usize,
        /// Strip from the block outward, from 0.
        strip: usize,
    },
    /// A side triangle of a setting on point.
    SideTriangle,
    /// A corner triangle of a setting on point.
    CornerTriangle,
    /// A strip of sashing.
    Sash,
    /// A square where sashing crosses (cut through the middle at the edge of a setting on point).
    Cornerstone,
    /// A strip that fills up a row.
    Filler,
    /// A strip of a band.
    Band {
        /// The band, from the innermost, 0.
        band: usize,
        /// Side of the top.
        side: Side,
    },
    /// A corner square of a band.
    BandSquare {
        /// The band, from the innermost, 0.
        band: usize,
    },
}

/// A side of a block or of the top as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Upper.
    Top,
    /// Right.
    Right,
    /// Lower.
    Bottom,
    /// Left.
    Left,
}

impl Side {
    /// Its word: `top`, `right`, `bottom`, `left`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Left => "left",
        }
    }

    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Top => tr!("top"),
            Self::Right => tr!("right"),
            Self::Bottom => tr!("bottom"),
            Self::Left => tr!("left"),
        }
    }
}

/// What is layered and quilted as one.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// `S1`, `S2`, ...
    pub name: String,
    /// Its outline.
    pub outline: Loop,
    /// Longest and shortest side it is handled by: of its bounds along its own seams (turned 45 degrees on point).
    pub size: Vec2,
    /// How its width and its height came about.
    pub workings: [Working; 2],
    /// Blocks in it.
    pub places: Vec<usize>,
    /// Other pieces in it.
    pub strips: Vec<usize>,
    /// What is left of its outline once the corners of the quilt are trimmed, part by part; nothing where they leave it whole.
    pub kept: Option<Vec<Loop>>,
}

impl Section {
    /// What is left of it in the finished quilt, part by part.
    #[must_use]
    pub fn left(&self) -> &[Loop] {
        self.kept.as_deref().unwrap_or(std::slice::from_ref(&self.outline))
    }
}

/// Sets the blocks of `quilt` into its top.
#[must_use]
pub fn derive(quilt: &Quilt) -> Staged<Top> {
    let mut findings = Vec::new();
    let mut builder = Builder::new(quilt);
    let rings = rings::of(quilt);
    let size = match quilt.setting.layout {
        Layout::OnPoint { triangles } => on_point::lay(&mut builder, triangles, &rings, &mut findings),
        Layout::Straight | Layout::Rows { .. } => straight::lay(&mut builder, &rings, &mut findings),
    };
    let mut top = builder.finish(size, &mut findings);
    corners::change(quilt, &mut top, &mut findings);
    Staged { result: top, findings }
}
