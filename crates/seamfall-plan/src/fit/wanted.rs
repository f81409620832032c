//! From a bed to the size its quilt should have, finished and pieced.
//!
//! In: the bed. Out: the finished size, and the least and the largest size to piece, for quilting and the wash take off what they take off.

use crate::answer::{Answer, Impossible, Ruler};
use seamfall_geom::Vec2;
use seamfall_model::{Bed, FitRule, Length, PerCent, Working, limits, term};

/// The size a quilt should have.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Width once it is quilted and washed.
    pub width: Working,
    /// Length once it is quilted and washed.
    pub length: Working,
    /// What quilting and the wash leave of a length: least, most.
    pub remains: [Working; 2],
    /// Width to piece: least, most.
    pub pieced_width: [Working; 2],
    /// Length to piece: least, most.
    pub pieced_length: [Working; 2],
}

/// Whether `bed` can be covered as it is wished.
///
/// # Errors
/// A mattress or a height beyond what is planned, and a drop below the floor; with the nearest that can be had.
pub fn check(bed: &Bed, ruler: Ruler) -> Result<(), Impossible> {
    let inch = ruler.measure.inch();
    let bounds = [
        (bed.width, "a mattress", limits::MATTRESS_IN, "wide"),
        (bed.length, "a mattress", limits::MATTRESS_IN, "long"),
        (bed.height, "a bed", limits::BED_HEIGHT_IN, "high"),
    ];
    for (size, what, (least, most), how) in bounds {
        let nearest = size.value().clamp(least * inch, most * inch);
        if (nearest - size.value()).abs() > 1e-9 {
            let shown = ruler.shown(Length::new(nearest));
            let way = if nearest > size.value() { "more" } else { "less" };
            return Err(Impossible::new(
                format!("{what} {} {how} cannot be planned", ruler.shown(size)),
                format!("make it {shown} or {way}"),
                nearest,
            ));
        }
    }
    for (drop, what) in [(bed.sides, "sides"), (bed.foot, "foot")] {
        if drop > bed.height {
            let deepest = ruler.shown(bed.height);
            let reason =
                format!("a drop of {} at the {what} ends below the floor: the mattress is {deepest} high", ruler.shown(drop));
            return Err(Impossible::new(reason, format!("make it {deepest} or less"), bed.height.value()));
        }
    }
    Ok(())
}

/// The size of the quilt for `bed`.
#[must_use]
pub fn wanted(bed: &Bed, ruler: Ruler) -> Wanted {
    let width = term("mattress", bed.width.value()) + term("side drop", bed.sides.value()) * 2.0;
    let mut length = term("mattress", bed.length.value()) + term("foot drop", bed.foot.value());
    if bed.tuck > Length::ZERO {
        length = length + term("tuck", bed.tuck.value());
    }
    let width = ruler.exact(FitRule::Width, "finished width", width);
    let length = ruler.exact(FitRule::Length, "finished length", length);
    let remains = remains(bed.take_up, bed.shrinkage, ruler);
    let pieced = |what: [&str; 2], finished: &Working| {
        // What remains most needs least.
        [(what[0], &remains[1]), (what[1], &remains[0])].map(|(what, remains)| {
            let size = term(&finished.what, finished.value) / term("remains", remains.value);
            ruler.exact(FitRule::Pieced, what, size)
        })
    };
    let pieced_width = pieced(["least width to piece", "largest width to piece"], &width);
    let pieced_length = pieced(["least length to piece", "largest length to piece"], &length);
    Wanted { width, length, remains, pieced_width, pieced_length }
}

/// What is left of a length: least, most.
pub(super) fn remains(take_up: PerCent, shrinkage: PerCent, ruler: Ruler) -> [Working; 2] {
    let left = |what: &str, quilting: f64, wash: f64| {
        let term = (1.0 - term("take-up", quilting / 100.0)) * (1.0 - term("shrinkage", wash / 100.0));
        ruler.exact(FitRule::Remains, what, term)
    };
    [left("remains at least", take_up.most, shrinkage.most), left("remains at most", take_up.least, shrinkage.least)]
}

impl Wanted {
    /// The size to piece from which neither end is farther off than need be: that between the least and the largest.
    #[must_use]
    pub fn to_piece(&self) -> Vec2 {
        let middle = |[least, most]: &[Working; 2]| f64::midpoint(least.value, most.value);
        Vec2::new(middle(&self.pieced_width), middle(&self.pieced_length))
    }

    /// The answer, with the drop that suits the height of the bed.
    #[must_use]
    pub fn answer(&self, bed: &Bed, ruler: Ruler) -> Answer {
        let part = |what: &str, part: f64| ruler.exact(FitRule::DropByHeight, what, term("height", bed.height.value()) * part);
        let (half, most) = (part("usual drop at least", 0.5), part("usual drop at most", 0.75));
        let answer = Answer::new(
            "size",
            [
                ("width", &self.width),
                ("length", &self.length),
                ("remains-least", &self.remains[0]),
                ("remains-most", &self.remains[1]),
                ("pieced-width-least", &self.pieced_width[0]),
                ("pieced-width-most", &self.pieced_width[1]),
                ("pieced-length-least", &self.pieced_length[0]),
                ("pieced-length-most", &self.pieced_length[1]),
                ("usual-drop-least", &half),
                ("usual-drop-most", &most),
            ],
        );
        if bed.standard.is_some() {
            return answer.note("Mattresses differ from their names by up to an inch (2.5 cm): measure the bed.");
        }
        answer
    }
}
