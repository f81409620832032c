//! Drafts: patches fill their block and nothing besides, and every patch has a template that counts it.

use crate::near;
use seamfall_geom::Loop;
use seamfall_plan::Plan;
use seamfall_plan::draft::{Draft, Patch};

/// Patches smaller than this may have no point that is clearly within them.
const LARGE: f64 = 1e-3;

pub fn hold(plan: &Plan) {
    for draft in plan.drafts.iter().filter(|draft| !draft.patches.is_empty()) {
        patches_fill(draft);
        templates_count(draft);
    }
}

fn patches_fill(draft: &Draft) {
    near("patches are the whole block", draft.patches.iter().map(|patch| patch.area).sum(), draft.outline.area());
    for (number, patch) in draft.patches.iter().enumerate() {
        let holes: f64 = patch.holes.iter().map(Loop::area).sum();
        near("a patch is its outline without its holes", patch.area, patch.outline.area() + holes);
        if patch.area > LARGE {
            let over = |other: &&Patch| {
                other.outline.contains(patch.label) && !other.holes.iter().any(|hole| hole.contains(patch.label))
            };
            assert_eq!(draft.patches.iter().filter(over).count(), 1, "patch {number} overlaps at {}", patch.label);
        }
    }
    for seam in &draft.seams {
        assert!(seam.left != seam.right, "a seam parts a patch from itself");
        assert!(seam.left.max(seam.right) < draft.patches.len(), "a seam beside no patch");
    }
    // Every seam lies between two patches: what is no edge of the block is sewn once and borders two.
    let sewn: f64 = draft.seams.iter().map(|seam| seam.edge.length()).sum();
    near(
        "patches border on seams and on the edge",
        rims(draft).map(Loop::perimeter).sum(),
        draft.outline.perimeter() + 2.0 * sewn,
    );
}

/// Outlines and holes of all patches.
pub fn rims(draft: &Draft) -> impl Iterator<Item = &Loop> {
    draft.patches.iter().flat_map(|patch| std::iter::once(&patch.outline).chain(&patch.holes))
}

fn templates_count(draft: &Draft) {
    for (number, template) in draft.templates.iter().enumerate() {
        let patches = draft.patches.iter().filter(|patch| patch.template == number).count();
        let overlays = draft.overlays.iter().filter(|overlay| overlay.template == number).count();
        assert_eq!(template.count, patches + overlays, "template {} counts its pieces", template.letter);
        if let Some(cut) = &template.cut {
            assert!(cut.area() > template.finished.area(), "template {} is cut larger than it is finished", template.letter);
        }
    }
}
