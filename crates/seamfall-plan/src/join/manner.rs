//! How joins are made, and the numbers that follow from it, each with its working.

use super::cross_section::{CrossSection, Options};
use super::layers::PRESSED;
use seamfall_model::{Joining, Quilt, Rounding, Rule, Term, Working, term};
use tr::tr;

/// How joins are made.
#[derive(Debug, Clone, PartialEq)]
pub struct Manner {
    /// A join cut across.
    pub section: CrossSection,
    /// One inch in the document's unit.
    pub inch: f64,
    /// The free margin, from the trimmed edge.
    pub margin: f64,
    /// Grams a square metre of cloth weighs.
    pub cloth_weight: f64,
    /// Grams a square metre of batting weighs.
    pub batting_weight: f64,
    /// From one pin to the next.
    pub pin_spacing: f64,
    /// Minutes a foot at the machine.
    pub machine_pace: f64,
    /// Minutes a foot of slip stitch.
    pub hand_pace: f64,
    /// Minutes a join for handling it.
    pub minutes_a_join: f64,
}

/// Slip stitches along an inch, the other way round: length in the fold, in inches.
const FOLD_IN: f64 = 1.0 / Joining::SLIP_STITCHES_AN_INCH;

impl Manner {
    /// That of a quilt.
    #[must_use]
    pub fn new(quilt: &Quilt) -> Self {
        let joining = &quilt.joining;
        Self {
            section: CrossSection::new(Options::of(quilt)),
            inch: quilt.measure.inch(),
            margin: quilt.lap.margin.value(),
            cloth_weight: joining.cloth_weight,
            batting_weight: joining.batting_weight,
            pin_spacing: joining.pin_spacing.value(),
            machine_pace: joining.machine_minutes_a_foot,
            hand_pace: joining.hand_pace(&quilt.lap),
            minutes_a_join: joining.minutes_a_join,
        }
    }

    /// Square metres in a square of the unit.
    fn square_metre(&self) -> f64 {
        let metre = 0.0254 / self.inch;
        metre * metre
    }

    fn layers_weight(&self) -> Term {
        2.0 * term(&tr!("cloth"), self.cloth_weight) + term(&tr!("batting"), self.batting_weight)
    }

    /// Grams that an area weighs with all its layers.
    #[must_use]
    pub fn weight(&self, area: f64) -> Working {
        let grams = term(&tr!("square metres"), area * self.square_metre()) * self.layers_weight();
        Working::new(Rule::Weight, &tr!("weight in grams"), grams, Rounding::Whole)
    }

    /// Grams at the machine over all that is sewn: `burden` is area times length.
    pub(super) fn mean_weight(&self, burden: f64, length: f64) -> Working {
        let grams = term(&tr!("square metres by length"), burden * self.square_metre()) / term(&tr!("length"), length.max(1e-9))
            * self.layers_weight();
        Working::new(Rule::MeanWeight, &tr!("weight at the machine in grams"), grams, Rounding::Whole)
    }

    /// Pins along a join: they hold the fronts for the machine, then the fold of the back for the needle.
    #[must_use]
    pub fn pins(&self, length: f64, crossings: usize) -> Working {
        let pins = (term(&tr!("length"), length) / term(&tr!("spacing"), self.pin_spacing)).ceil() + 1.0;
        let all = if crossings > 0 { pins + term(&tr!("crossings"), crossings as f64) * 2.0 } else { pins };
        Working::new(Rule::Pins, &tr!("pins"), all, Rounding::Whole)
    }

    /// Clips that hold battings and backings out of the way on both sides.
    #[must_use]
    pub fn clips(&self, length: f64) -> Working {
        let side = (term(&tr!("length"), length) / (term(&tr!("spacing"), self.pin_spacing) * 2.0)).ceil() + 1.0;
        Working::new(Rule::Pins, &tr!("clips"), side * 2.0, Rounding::Whole)
    }

    /// Slip stitches along the back of a join.
    #[must_use]
    pub fn slip_stitches(&self, length: f64) -> Working {
        let stitches = (term(&tr!("length"), length) / term(&tr!("in the fold"), FOLD_IN * self.inch)).ceil();
        Working::new(Rule::SlipStitches, &tr!("slip stitches"), stitches, Rounding::Whole)
    }

    /// How far from a trimmed edge that is still to be joined hand stitching stops.
    #[must_use]
    pub fn stops_short(&self) -> Working {
        Working::new(Rule::StopsShort, &tr!("from the trimmed edge"), term(&tr!("free margin"), self.margin), Rounding::Exact)
    }

    /// How thick so many cottons and the batting are.
    #[must_use]
    pub fn thickness(&self, layers: u32) -> Working {
        let thick = term(&tr!("layers"), f64::from(layers)) * term(&tr!("cloth"), self.section.cloth)
            + term(&tr!("batting"), self.section.batting);
        Working::new(Rule::Thickness, &tr!("thickness"), thick, Rounding::Exact)
    }

    /// How thick it is under the foot while the join is sewn.
    #[must_use]
    pub fn under_the_foot(&self, layers: u32) -> Working {
        let cloth = term(&tr!("layers"), f64::from(layers)) * term(&tr!("cloth"), self.section.cloth);
        let thick = if self.section.caught { cloth + term(&tr!("batting"), self.section.batting) * PRESSED } else { cloth };
        Working::new(Rule::UnderTheFoot, &tr!("under the foot"), thick, Rounding::Exact)
    }

    /// Hours for so many joins of a length altogether.
    #[must_use]
    pub fn hours(&self, length: f64, joins: usize) -> Working {
        let pace = term(&tr!("machine"), self.machine_pace) + term(&tr!("hand"), self.hand_pace);
        let sewing = term(&tr!("feet"), length / (12.0 * self.inch)) * pace;
        let all = (sewing + term(&tr!("joins"), joins as f64) * term(&tr!("handling"), self.minutes_a_join)) / 60.0;
        Working::new(Rule::JoiningHours, &tr!("hours of joining"), all, Rounding::Exact)
    }

    /// Length of joins.
    pub(super) fn length(what: &str, joins: usize, length: f64) -> Working {
        let mean = if joins > 0 { length / joins as f64 } else { 0.0 };
        let all = term(&tr!("joins"), joins as f64) * term(&tr!("mean length"), mean);
        Working::new(Rule::JoinLength, what, all, Rounding::Exact)
    }
}
