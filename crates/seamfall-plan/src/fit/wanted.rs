//! From a bed to the size its quilt should have, finished and pieced.
//!
//! In: the bed. Out: the finished size, and the least and the largest size to piece, for quilting and the wash take off what they take off.

use crate::answer::{Answer, Impossible, Ruler};
use seamfall_geom::Vec2;
use seamfall_model::{Bed, FitRule, Length, PerCent, Working, limits, term};
use tr::tr;

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
        (bed.width, tr!("a mattress"), limits::MATTRESS_IN, tr!("wide")),
        (bed.length, tr!("a mattress"), limits::MATTRESS_IN, tr!("long")),
        (bed.height, tr!("a bed"), limits::BED_HEIGHT_IN, tr!("high")),
    ];
    for (size, what, (least, most), how) in bounds {
        let nearest = size.value().clamp(least * inch, most * inch);
        if (nearest - size.value()).abs() > 1e-9 {
            let shown = ruler.shown(Length::new(nearest));
            let way = if nearest > size.value() { tr!("more") } else { tr!("less") };
            return Err(Impossible::new(
                tr!("{what} {size} {how} cannot be planned", what, size = ruler.shown(size), how),
                tr!("make it {shown} or {way}", shown, way),
                nearest,
            ));
        }
    }
    for (drop, what) in [(bed.sides, tr!("sides")), (bed.foot, tr!("foot"))] {
        if drop > bed.height {
            let deepest = ruler.shown(bed.height);
            let reason = tr!(
                "a drop of {drop} at the {what} ends below the floor: the mattress is {deepest} high",
                drop = ruler.shown(drop),
                what,
                deepest
            );
            return Err(Impossible::new(reason, tr!("make it {deepest} or less", deepest), bed.height.value()));
        }
    }
    Ok(())
}

/// The size of the quilt for `bed`.
#[must_use]
pub fn wanted(bed: &Bed, ruler: Ruler) -> Wanted {
    let width = term(&tr!("mattress"), bed.width.value()) + term(&tr!("side drop"), bed.sides.value()) * 2.0;
    let mut length = term(&tr!("mattress"), bed.length.value()) + term(&tr!("foot drop"), bed.foot.value());
    if bed.tuck > Length::ZERO {
        length = length + term(&tr!("tuck"), bed.tuck.value());
    }
    let width = ruler.exact(FitRule::Width, &tr!("finished width"), width);
    let length = ruler.exact(FitRule::Length, &tr!("finished length"), length);
    let remains = remains(bed.take_up, bed.shrinkage, ruler);
    let pieced = |what: [&str; 2], finished: &Working| {
        // What remains most needs least.
        [(what[0], &remains[1]), (what[1], &remains[0])].map(|(what, remains)| {
            let size = term(&finished.what, finished.value) / term(&tr!("remains"), remains.value);
            ruler.exact(FitRule::Pieced, what, size)
        })
    };
    let pieced_width = pieced([&tr!("least width to piece"), &tr!("largest width to piece")], &width);
    let pieced_length = pieced([&tr!("least length to piece"), &tr!("largest length to piece")], &length);
    Wanted { width, length, remains, pieced_width, pieced_length }
}

/// What is left of a length: least, most.
pub(super) fn remains(take_up: PerCent, shrinkage: PerCent, ruler: Ruler) -> [Working; 2] {
    let left = |what: &str, quilting: f64, wash: f64| {
        let term = (1.0 - term(&tr!("take-up"), quilting / 100.0)) * (1.0 - term(&tr!("shrinkage"), wash / 100.0));
        ruler.exact(FitRule::Remains, what, term)
    };
    [left(&tr!("remains at least"), take_up.most, shrinkage.most), left(&tr!("remains at most"), take_up.least, shrinkage.least)]
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
        let part =
            |what: &str, part: f64| ruler.exact(FitRule::DropByHeight, what, term(&tr!("height"), bed.height.value()) * part);
        let (half, most) = (part(&tr!("usual drop at least"), 0.5), part(&tr!("usual drop at most"), 0.75));
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
            return answer.note(tr!("Mattresses differ from their names by up to an inch (2.5 cm): measure the bed."));
        }
        answer
    }
}
