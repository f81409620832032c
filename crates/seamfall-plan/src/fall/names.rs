//! Names of seams: by number, and by the two pieces they join, as the quilt file has them.

use super::{Falls, SeamRef};
use crate::Plan;
use crate::piece::{Piecing, Seam, TopRef};
use crate::set::Top;
use seamfall_model::Quilt;

/// `B3.s4`, or `top.s7`: seams are numbered in the order taken.
#[must_use]
pub fn seam_name(plan: &Plan, seam: SeamRef) -> String {
    match seam {
        SeamRef::Place { place, seam } => format!("{}.s{}", plan.top.places[place].name, seam + 1),
        SeamRef::Top { seam } => format!("top.s{}", seam + 1),
    }
}

/// The seam itself. Of a place it is drawn in the block's coordinates.
///
/// # Panics
/// When the plan has no such seam.
#[must_use]
pub fn seam(plan: &Plan, seam: SeamRef) -> &Seam {
    seam_of(&plan.piecing, &plan.falls, seam)
}

fn seam_of<'a>(piecing: &'a Piecing, falls: &Falls, seam: SeamRef) -> &'a Seam {
    match seam {
        SeamRef::Place { place, seam } => &falls.sewing(piecing, piecing.holds[place].design).seams[seam],
        SeamRef::Top { seam } => &falls.top_sewing(piecing).seams[seam],
    }
}

/// The pieces to the left and to the right of a seam (of its longest stretch), by the names that the file takes: `B3.p1`,
/// `B3.frame1.top`, `A2`, `sash.1.2`. Of a place, left and right are those of the block drawn unmirrored.
///
/// # Panics
/// When the plan has no such seam.
#[must_use]
pub fn pieces_beside(plan: &Plan, of: SeamRef) -> [String; 2] {
    beside(&plan.top, &plan.piecing, &plan.falls, of)
}

/// The same while falls are still being read back.
pub(super) fn beside(top: &Top, piecing: &Piecing, falls: &Falls, of: SeamRef) -> [String; 2] {
    let course = &seam_of(piecing, falls, of).course;
    let longest = course.iter().max_by(|a, b| a.edge.length().total_cmp(&b.edge.length())).expect("a seam has a stretch");
    [longest.left, longest.right].map(|piece| match of {
        SeamRef::Top { .. } => match piecing.top_pieces[piece] {
            TopRef::Place(place) => top.places[place].name.clone(),
            TopRef::Strip(strip) => top.strips[strip].name.clone(),
        },
        SeamRef::Place { place, .. } => {
            let held = &piecing.holds[place];
            match piece.checked_sub(piecing.designs[held.design].parts.len()) {
                None => format!("{}.p{}", top.places[place].name, piece + 1),
                Some(strip) => top.strips[held.frame_strips[strip]].name.clone(),
            }
        }
    })
}

/// The same for all copies of a block: `star.p1`. Nothing where a piece of a frame is beside it, or for a seam of the top.
///
/// # Panics
/// When the plan has no such seam.
#[must_use]
pub fn patches_beside(quilt: &Quilt, plan: &Plan, of: SeamRef) -> Option<[String; 2]> {
    let SeamRef::Place { place, .. } = of else { return None };
    let design = &plan.piecing.designs[plan.piecing.holds[place].design];
    let patches = |stretch: &&crate::piece::SeamStretch| stretch.left.max(stretch.right) < design.parts.len();
    let stretches = seam(plan, of).course.iter().filter(patches);
    let longest = stretches.max_by(|a, b| a.edge.length().total_cmp(&b.edge.length()))?;
    let key = &quilt.blocks[design.block.0].key;
    Some([longest.left, longest.right].map(|piece| format!("{key}.p{}", piece + 1)))
}
