//! Blocks: patches from seams, and their templates.
//!
//! In: a block as drawn. Out: its patches, found by arranging the seams in the frame, and one template for patches that are
//! congruent by turning. Coordinates: the block's own, lower left corner of its bounds at the origin, in the document's unit.

use crate::Staged;
use seamfall_geom::{Edge, Loop, Point, Vec2};
use seamfall_model::{Block, PartId, Quilt};

/// A block worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Finished outline.
    pub outline: Loop,
    /// Finished width and height of the outline's bounds.
    pub size: Vec2,
    /// Patches, from the top down, then from the left. Patch `i` is number `i + 1` to the maker.
    pub patches: Vec<Patch>,
    /// Shapes laid over, the lowest first.
    pub overlays: Vec<OverlayShape>,
    /// Seams between patches: each stretch between two meetings once.
    pub seams: Vec<SeamLine>,
    /// One a kind of patch (congruent by turning, whatever the cloth), in order of first use; overlays behind.
    pub templates: Vec<Template>,
}

/// The area between seams.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Finished outline.
    pub outline: Loop,
    /// What is cut out of it by a closed seam, each clockwise.
    pub holes: Vec<Loop>,
    /// Finished area, in square units.
    pub area: f64,
    /// Its part of the colouring; none is a finding.
    pub part: Option<PartId>,
    /// A point inside, good for a label.
    pub label: Point,
    /// Number of its template in [`Draft::templates`].
    pub template: usize,
    /// Direction of the straight grain, as an angle in degrees from the x axis, 0 to under 180.
    pub grain_deg: f64,
}

/// A shape laid over the patches.
#[derive(Debug, Clone, PartialEq)]
pub struct OverlayShape {
    /// Finished outline.
    pub outline: Loop,
    /// Its part.
    pub part: PartId,
    /// Number of its template.
    pub template: usize,
}

/// A stretch of seam between two patches.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamLine {
    /// Its course.
    pub edge: Edge,
    /// Number of the seam in the file, from 1.
    pub seam: usize,
    /// Patch to its left.
    pub left: usize,
    /// Patch to its right.
    pub right: usize,
}

/// A pattern piece, lying so that its straight grain runs upright, its bounds' lower left corner at the origin of the cut outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// `A`, `B`, ... then `AA`, unique within the block.
    pub letter: String,
    /// What kind of shape it is.
    pub kind: Kind,
    /// Finished (sewing) outline.
    pub finished: Loop,
    /// Finished holes.
    pub holes: Vec<Loop>,
    /// Cut outline: the allowance added, tips trimmed. Nothing where the allowance does not fit, which is a finding.
    pub cut: Option<Loop>,
    /// Marks on curved seams that are brought together: the middle of each arc, and quarters where it is long.
    pub notches: Vec<Notch>,
    /// Patches cut by it in one block (or overlays, for a shape laid over).
    pub count: usize,
}

/// A match mark: a short line across the allowance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// On the seam line.
    pub from: Point,
    /// Towards the cut edge.
    pub to: Point,
}

/// Shapes that have a usual way of cutting; sizes are finished ones in the document's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// A square.
    Square { side: f64 },
    /// A rectangle, the longer side along the grain.
    Rectangle { long: f64, short: f64 },
    /// A right triangle with equal legs, grain along the legs.
    HalfSquare { leg: f64 },
    /// A right triangle with equal legs, grain along the long side.
    QuarterSquare { long_side: f64 },
    /// An equilateral triangle.
    Equilateral { height: f64 },
    /// A diamond: width between parallel sides, and its sharp angle.
    Diamond { side: f64, width: f64, angle_deg: f64 },
    /// A regular hexagon: width between flat sides.
    Hexagon { side: f64, flats: f64 },
    /// Any other shape of straight edges.
    Straight,
    /// A shape with an arc.
    Curved,
    /// A shape laid over, its edge turned under.
    Overlay,
}

/// Finds the patches of `block`.
#[must_use]
pub fn derive(quilt: &Quilt, block: &Block) -> Staged<Draft> {
    let _ = (quilt, block);
    todo!()
}
