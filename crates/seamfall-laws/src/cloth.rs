//! Cloth: every piece of the top is cut once, lies on the cloth with all others, and no layout is shorter than what is proven.

use seamfall_cutting::job::{Job, Kind};
use seamfall_cutting::sheets::{SheetCutting, SheetJob, check_sheets};
use seamfall_cutting::{Cutting, check};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::cut::{Laid, Use, Way};

/// Copies up to which places are looked at one by one.
const CHECKED: u64 = 2_000;

pub fn hold(quilt: &Quilt, plan: &Plan) {
    let mut of_the_top = 0;
    for piece in &plan.cutting.pieces {
        let mut needed = 0;
        for one in &piece.uses {
            match one {
                Use::Template { count, .. } | Use::Top { count, .. } => {
                    needed += count;
                    of_the_top += count;
                }
                Use::Besides { count, .. } => needed += count,
            }
        }
        assert_eq!(needed, piece.needed, "{} is needed for what it is used for", piece.name);
        let of_one = match piece.way {
            Way::HalfSquare => 2,
            Way::QuarterSquare => 4,
            Way::Unit(_) => continue, // cut up only when it is sewn
            Way::Rectangle | Way::Joined { .. } | Way::Template { .. } | Way::Mitred => 1,
        };
        assert!(
            piece.cut * of_one >= needed && (piece.cut - 1) * of_one < needed,
            "{}: {} cut for {needed}",
            piece.name,
            piece.cut
        );
        for size in [&piece.width, &piece.length] {
            assert!(size.value >= size.exact - 1.1e-4 * quilt.step.size(), "{} is cut too small: {}", piece.name, size.line());
        }
    }
    let patches = plan.top.places.iter().map(|place| {
        let draft = &plan.drafts[place.block.0];
        draft.patches.iter().filter(|patch| patch.part.is_some()).count() + draft.overlays.len()
    });
    assert_eq!(of_the_top, patches.sum::<usize>() + plan.top.strips.len(), "every piece of the top is cut once");

    for bought in &plan.cutting.bought {
        match &bought.laid {
            Some(Laid::OffTheBolt(laid)) => {
                length_holds(&laid.job, &laid.cutting);
                assert!(laid.length.value >= laid.needed.value - crate::NEAR, "less is bought than is needed");
                assert!(laid.length.value >= laid.least.value, "less is bought than is proven");
            }
            Some(Laid::OutOfSizes(laid)) => sheets_hold(&laid.job, &laid.cutting),
            None => {}
        }
    }
}

/// Whether there are no more copies than are looked at one by one.
#[must_use]
pub fn are_few(kinds: &[Kind]) -> bool {
    kinds.iter().map(|kind| u64::from(kind.count)).sum::<u64>() <= CHECKED
}

/// A layout on a length of cloth is one, and no shorter than its bound.
pub fn length_holds(job: &Job, cutting: &Cutting) {
    assert!(cutting.layout.length >= cutting.bound.length, "shorter than what is proven");
    if are_few(job.kinds()) {
        let placements = cutting.layout.placements(job);
        check::check(job, &placements, cutting.layout.length).unwrap_or_else(|fault| panic!("{fault}: {job:?}"));
    }
}

/// The same for sheets, each by itself.
pub fn sheets_hold(job: &SheetJob, cutting: &SheetCutting) {
    assert!(cutting.price >= cutting.bound, "cheaper than what is proven");
    if are_few(job.kinds()) {
        check_sheets(job, cutting).unwrap_or_else(|fault| panic!("{fault}: {job:?}"));
    }
}
