//! What is to be said about the corners at the foot.
//!
//! In: the top with its corners changed. Out: how they are marked and trimmed, and what need not be made at all.

use super::{ChangedCorner, CutInto, Top};
use seamfall_model::{CornerShape, Finding, Length, Quilt, Spot};
use tr::tr;

/// Findings about changed corners.
pub(super) fn findings(quilt: &Quilt, top: &Top) -> Vec<Finding> {
    let Some(corner) = top.corners.first() else { return Vec::new() };
    let reason = tr!("both are sewn whole and trimmed after the last join");
    let mut all = vec![Finding::note(Spot::FootCorners, reason).help(corner.trimming(quilt, top))];
    for corner in &top.corners {
        all.extend(corner.places.iter().filter(|cut| cut.whole).map(|cut| place(quilt, top, corner, cut)));
        let strips = corner.strips.iter().filter(|cut| cut.whole).count();
        if strips > 0 {
            let area: f64 = corner.strips.iter().filter(|cut| cut.whole).map(|cut| cut.away).sum();
            let reason = tr!(
                "1 strip lies wholly in what is trimmed off at the {corner}"
                    | "{n} strips lie wholly in what is trimmed off at the {corner}" % strips,
                corner = corner.name()
            );
            let help = tr!("sew in any cloth of that size instead: it saves {area}", area = shown_area(quilt, area));
            all.push(Finding::note(Spot::FootCorners, reason).help(help));
        }
    }
    all
}

impl ChangedCorner {
    /// How one corner is marked and cut, in one sentence without a full stop; the other is its mirror image.
    #[must_use]
    pub fn trimming(&self, quilt: &Quilt, top: &Top) -> String {
        let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
        let allowance = quilt.allowance.0.value();
        let (Some(first), Some(last)) = (self.edge.first(), self.edge.last()) else { return String::new() };
        // Where the new edge leaves the hem at the side and at the foot, from the corner of the quilt.
        let ends = [first.from(), last.to()];
        let [side, foot] = if self.is_right { [ends[1], ends[0]] } else { ends };
        let along_foot = if self.is_right { top.size.x - foot.x } else { foot.x };
        let (up, along) = (show(side.y), show(along_foot));
        match (self.shape, self.radius()) {
            (CornerShape::Level, Some(radius)) => tr!(
                "mark an arc of {radius} about the corner of the mattress, {up} above the foot and {along} from the side, with a string and a pencil or by the template: the finished edge; cut {allowance} outside it",
                radius = show(radius),
                up,
                along,
                allowance = show(allowance)
            ),
            (CornerShape::Notch, _) => tr!(
                "mark a notch {along} wide and {up} high: the finished edge; cut {allowance} outside it and clip its inner corner",
                along,
                up,
                allowance = show(allowance)
            ),
            _ => tr!(
                "mark a line from the side, {up} above the foot, to the foot, {along} from the side: the finished edge; cut {allowance} outside it",
                up,
                along,
                allowance = show(allowance)
            ),
        }
    }
}

fn place(quilt: &Quilt, top: &Top, corner: &ChangedCorner, cut: &CutInto) -> Finding {
    let reason = tr!("it lies wholly in what is trimmed off at the {corner}, and need not be made", corner = corner.name());
    Finding::note(Spot::Place(top.places[cut.number].name.clone()), reason).help(saves(quilt, cut.away))
}

/// What is saved by leaving out a place.
fn saves(quilt: &Quilt, area: f64) -> String {
    tr!("sew in any cloth of that size instead: it saves {area}, and its piecing and quilting", area = shown_area(quilt, area))
}

fn shown_area(quilt: &Quilt, area: f64) -> String {
    tr!("{area} sq {unit} of cloth", area = area.round(), unit = quilt.measure.sign())
}
