//! The top: blocks and strips fill it, each is in one section, and no section is larger than is said.

use crate::{area, is_stopped, near};
use seamfall_geom::Loop;
use seamfall_model::Quilt;
use seamfall_plan::Plan;

/// Pieces up to which each is compared with every other.
const COMPARED: usize = 600;

pub fn hold(quilt: &Quilt, plan: &Plan) {
    let top = &plan.top;
    if is_stopped(plan) {
        return;
    }
    let pieces: Vec<&Loop> =
        top.places.iter().map(|place| &place.outline).chain(top.strips.iter().map(|strip| &strip.outline)).collect();
    near("blocks and strips are the whole top", area(&pieces), top.size.x * top.size.y);
    if pieces.len() <= COMPARED {
        for piece in &pieces {
            let middle = piece.label_point();
            assert_eq!(pieces.iter().filter(|other| other.contains(middle)).count(), 1, "pieces overlap at {middle}");
        }
    }

    let mut seen = [vec![0; top.places.len()], vec![0; top.strips.len()]];
    for (number, section) in top.sections.iter().enumerate() {
        section.places.iter().for_each(|&place| seen[0][place] += 1);
        section.strips.iter().for_each(|&strip| seen[1][strip] += 1);
        assert!(section.places.iter().all(|&place| top.places[place].section == number), "{} is another's", section.name);
        assert!(section.strips.iter().all(|&strip| top.strips[strip].section == number), "{} is another's", section.name);
        let places = section.places.iter().map(|&place| &top.places[place].outline);
        let pieces: Vec<&Loop> = places.chain(section.strips.iter().map(|&strip| &top.strips[strip].outline)).collect();
        near("a section is what lies in it", area(&pieces), section.outline.area());
        let largest = quilt.largest_section.value();
        assert!(section.size.x.max(section.size.y) <= largest * (1.0 + crate::NEAR), "{} is larger than {largest}", section.name);
    }
    assert!(seen.iter().flatten().all(|count| *count == 1), "every piece is in one section");

    near(
        "a corner takes nothing but itself",
        top.outline.area(),
        top.sections.iter().flat_map(|section| section.left()).map(Loop::area).sum(),
    );
}
