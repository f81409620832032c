//! The bed: the size its quilt should have, how this one hangs on it, and its corners.
//!
//! In: the plan. Out: figures as they are said; every shape of corner beside the others.

use crate::figures::{Figure, Figures};
use crate::finishing::{self, Part};
use seamfall_model::{Length, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::{CornerHang, Fit};
use serde::Serialize;
use tr::tr;

/// The chapter.
#[derive(Debug, Serialize)]
pub struct Bed {
    mattress: String,
    figure: Option<Figure>,
    parts: Vec<Part>,
    corners: Vec<Corner>,
}

/// A shape of corner.
#[derive(Debug, Serialize)]
struct Corner {
    shape: String,
    taken: bool,
    hangs: String,
    floor: String,
}

/// The chapter; nothing without a bed.
pub fn bed(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Option<Bed> {
    let fit = plan.fit.as_ref()?;
    let answers = fit.answers.iter().filter(|answer| matches!(answer.question, "size" | "drops"));
    Some(Bed {
        mattress: mattress(quilt, fit),
        figure: figures
            .bed(quilt, plan)
            .map(|path| Figure { path, alt: tr!("The quilt on its bed, to scale: from above, from the side and from the foot") }),
        parts: answers.map(|answer| finishing::part(quilt, plan, answer, figures)).collect(),
        corners: fit.hang.iter().flat_map(|hang| &hang.corners).map(|corner| row(quilt, corner)).collect(),
    })
}

fn show(quilt: &Quilt, value: f64) -> String {
    Length::new(value).shown_with_unit(quilt.step)
}

fn mattress(quilt: &Quilt, fit: &Fit) -> String {
    let bed = &fit.bed;
    let [width, length, height] = [bed.width, bed.length, bed.height].map(|side| show(quilt, side.value()));
    let [sides, foot] = [bed.sides, bed.foot].map(|drop| show(quilt, drop.value()));
    let said = tr!(
        "The mattress is {width} wide and {length} long, its top {height} above the floor. To hang {sides} at the sides and {foot} at the foot.",
        width,
        length,
        height,
        sides,
        foot
    );
    if bed.posts { format!("{said} {}", tr!("It has posts at the foot.")) } else { said }
}

fn row(quilt: &Quilt, corner: &CornerHang) -> Corner {
    let (hangs, floor) = match &corner.cut {
        Ok(cut) => (show(quilt, cut.hang.value), corner.to_the_floor(Ruler::of(quilt)).unwrap_or_default()),
        Err(none) => (String::new(), none.reason.clone()),
    };
    Corner { shape: corner.shape.words(), taken: quilt.corners == corner.shape, hangs, floor }
}
