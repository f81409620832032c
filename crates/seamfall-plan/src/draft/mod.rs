//! Blocks: patches from seams, and their templates.
//!
//! In: a block as drawn. Out: its patches, found by arranging the seams in the frame, and one template for patches that are
//! congruent by turning. Coordinates: the block's own, lower left corner of its bounds at the origin, in the document's unit.
//!
//! In the order of work: `seams` draws on the grid, `patches` finds the pieces and their parts, `overlay` what is
//! laid over, `grain` and `shape` say which are cut alike, `templates` makes one of each. `findings` has the words, `carry` tells which cloth a patch keeps
//! while the block is drawn.

mod carry;
pub(crate) mod crowd;
mod findings;
mod grain;
mod kinds;
mod overlay;
mod patches;
mod say;
mod seams;
mod shape;
mod templates;
#[cfg(test)]
mod tests;
mod width;

use crate::{Staged, Wanted};
pub use carry::{carried, painted, rest_painted};
use findings::Found;
use seamfall_geom::{Arrangement, Edge, Loop, Point, Source, Vec2, arrange};
use seamfall_model::{Block, Finding, PartId, Quilt, Seam, Spot};
pub(crate) use shape::{Key as ShapeKey, Lie, lie};

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
    /// Finished outline. Lines run from corner to corner, whatever meets them on the way; arcs from meeting to meeting.
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
    /// Direction of the straight grain, as an angle in degrees from the x axis, 0 to under 180. Cloth is straight both ways, so
    /// on the template it is upright or level.
    pub grain_deg: f64,
    /// Where what is up on the template points to, in degrees from the x axis: the print of its cloth stands up this way. It differs from the grain
    /// by whole right angles.
    pub up_deg: f64,
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
    /// Number of the seam in the file, from 1; the lower one where two go on as one.
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
    /// A point in its middle: that which is [`Patch::label`] on every patch cut by it.
    pub middle: Point,
    /// Marks on curved seams that are brought together: the middle of each arc, quarters where it is longer than 6 in, and the
    /// points at which other seams meet it.
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
    Square {
        /// Side.
        side: f64,
    },
    /// A rectangle; the grain may run along either side.
    Rectangle {
        /// Longer side.
        long: f64,
        /// Shorter side.
        short: f64,
    },
    /// A right triangle with equal legs, grain along the legs.
    HalfSquare {
        /// Either of the equal sides.
        leg: f64,
    },
    /// A right triangle with equal legs, grain along the long side.
    QuarterSquare {
        /// The side across from the right angle.
        long_side: f64,
    },
    /// An equilateral triangle.
    Equilateral {
        /// From a side to the corner across.
        height: f64,
    },
    /// A diamond: width between parallel sides, and its sharp angle.
    Diamond {
        /// Side.
        side: f64,
        /// Between two parallel sides.
        width: f64,
        /// Its sharp angle, in degrees.
        angle_deg: f64,
    },
    /// A regular hexagon: width between flat sides.
    Hexagon {
        /// Side.
        side: f64,
        /// Between two parallel sides.
        flats: f64,
    },
    /// Any other shape of straight edges.
    Straight,
    /// A shape with an arc.
    Curved,
    /// A shape laid over, its edge turned under.
    Overlay,
}

/// Finds the patches of `block`.
///
/// Whatever the seams are, the areas of the patches add up to that of the block, and every patch has a template. Findings: seams
/// with loose ends, that overlap, leave the block or part nothing; patches without a cloth, with two, too thin to sew, or with no
/// room for the allowance; shapes laid over that are not closed or reach beyond the block. Seams that cross more than 20,000 times
/// are said and left out, since nobody sews that many patches and they would take minutes.
#[must_use]
pub fn derive(quilt: &Quilt, block: &Block) -> Staged<Draft> {
    let (result, found) = worked_out(quilt, block, crowd::MOST_IN_ALL);
    Staged { result, findings: found.finish() }
}

/// Finds the patches of every block, as far as there may be so many in all; nothing once nobody wants them any more.
pub(crate) fn derive_all(quilt: &Quilt, wanted: Wanted) -> Option<Vec<Staged<Draft>>> {
    let mut left = crowd::MOST_IN_ALL;
    let next = |block: &Block| {
        let (result, found) = worked_out(quilt, block, left);
        left = left.saturating_sub(result.patches.len());
        wanted().then(|| Staged { result, findings: found.finish() })
    };
    quilt.blocks.iter().map(next).collect()
}

/// The same with the point that each finding is about, where it is about one: a loose end, the middle of a patch.
#[must_use]
pub fn derive_placed(quilt: &Quilt, block: &Block) -> (Draft, Vec<(Finding, Option<Point>)>) {
    let (draft, found) = worked_out(quilt, block, crowd::MOST_IN_ALL);
    let mut placed = found.placed();
    for (finding, at) in &mut placed {
        if let Spot::Patch { patch, .. } = &finding.spot {
            *at = draft.patches.get(patch - 1).map(|patch| patch.label);
        }
    }
    (draft, placed)
}

/// The course of a seam as it is drawn, whatever it parts; nothing of it where it has no length.
#[must_use]
pub fn course(block: &Block, seam: &Seam) -> Vec<Edge> {
    let mut edges = Vec::new();
    seams::append(block, seam, &mut edges);
    edges
}

/// A block, where so many patches are `left` to all blocks together.
fn worked_out<'a>(quilt: &'a Quilt, block: &'a Block, left: usize) -> (Draft, Found<'a>) {
    let mut found = Found::new(quilt, block);
    let outline = block.shape.outline();
    let drawn = seams::drawn(&mut found);
    let crossings = crowd::crossings(&drawn.edges, crowd::MOST);
    if crossings > crowd::MOST || crossings + drawn.edges.len() > left {
        if crossings > crowd::MOST {
            found.too_many_crossings()
        } else {
            found.too_many_in_all()
        }
        let bare = Block { seams: Vec::new(), marks: Vec::new(), ..block.clone() };
        return (derive(quilt, &bare).result, found);
    }
    let arranged = arrange(&outline, &drawn.edges);
    found.seams(&drawn, &arranged);
    let pieces = patches::pieces(&arranged);
    let parts = patches::parts(block, &pieces, &mut found);
    let (mut templates, cut_by) = templates::of_pieces(&pieces, &mut found);
    let labels: Vec<Point> = cut_by.iter().map(|cut| cut.label).collect();
    found.no_cloth(&parts, &labels);
    let shapes = overlay::outlines(&outline, &mut found);
    let (over, over_by) = templates::of_overlays(&shapes, templates.len(), &mut found);
    templates.extend(over);
    let overlays = shapes.into_iter().zip(over_by);
    let overlays = overlays
        .map(|((number, outline), template)| OverlayShape { outline, part: block.overlays[number].part, template })
        .collect();
    let patches = pieces.into_iter().zip(cut_by).zip(parts.into_iter().zip(labels));
    let patches = patches
        .map(|((piece, cut_by), (part, label))| Patch {
            outline: piece.outline,
            holes: piece.holes,
            area: piece.area,
            part,
            label,
            template: cut_by.template,
            grain_deg: cut_by.grain_deg,
            up_deg: cut_by.up_deg,
        })
        .collect();
    let size = outline.bounds().size().to_vec2();
    let seams = seam_lines(&arranged, &drawn.seam);
    (Draft { outline, size, patches, overlays, seams, templates }, found)
}

/// The stretches of seam that part two patches.
fn seam_lines(arranged: &Arrangement, seam: &[usize]) -> Vec<SeamLine> {
    let line = |edge: &seamfall_geom::ArrangedEdge| match (edge.source, edge.left, edge.right) {
        (Source::Given(given), Some(left), Some(right)) if left != right => {
            Some(SeamLine { edge: edge.edge, seam: seam[given] + 1, left, right })
        }
        _ => None,
    };
    arranged.edges.iter().filter_map(line).collect()
}
