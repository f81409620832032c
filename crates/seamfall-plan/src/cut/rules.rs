//! The rules of the cutting table: from a finished size to what is cut, from pieces to strips, from strips to a length.
//!
//! In: finished sizes, counts and the usable width of a cloth. Out: one [`Working`] a number, exact and rounded. Everything
//! in the cut list and in the yardage goes through here. A size is rounded once, up to the quilt's step; what the trade adds
//! to a triangle in eighths (7/8 in, 1 1/4 in) is already rounded, so that we come out up to an eighth smaller now and then.

use seamfall_geom::Vec2;
use seamfall_model::{Allowance, Finished, Length, Measure, Rounding, Rule, Shrinkage, Step, Term, Working, term};
use std::f64::consts::SQRT_2;

/// The allowance and the step that all cut sizes of a quilt share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Table {
    /// Seam allowance.
    pub allowance: Allowance,
    /// What cut sizes are rounded up to.
    pub step: Step,
}

impl Table {
    fn added(self, finished: Finished, named: &str, allowances: f64) -> Term {
        term(named, finished.0.value()) + term("allowance", self.allowance.0.value()) * allowances
    }

    fn working(self, rule: Rule, what: &str, sum: Term) -> Working {
        Working::new(rule, what, sum, Rounding::Up(self.step))
    }

    /// A side of a square or a rectangle, or a strip between parallel seams: an allowance on either side.
    #[must_use]
    pub fn side(self, what: &str, finished: Finished) -> Working {
        self.working(Rule::Rectangle, what, self.added(finished, "finished", 2.0))
    }

    /// Length of a strip with mitred ends: its longer edge and an allowance at either end. No reserve is added for safety;
    /// the mitre's own allowance runs out to nothing at the corner of this rectangle.
    #[must_use]
    pub fn mitred(self, outer_edge: Finished) -> Working {
        self.working(Rule::Rectangle, "length of the strip", self.added(outer_edge, "outer edge", 2.0))
    }

    /// Side of the square that is cut once from corner to corner: `leg + (2 + √2) · allowance`. Source: plane geometry.
    #[must_use]
    pub fn half_square(self, leg: Finished) -> Working {
        self.working(Rule::HalfSquare, "side of the square", self.added(leg, "finished short side", 2.0 + SQRT_2))
    }

    /// Side of the square that is cut twice from corner to corner: `long side + (2 + 2√2) · allowance`. Source: plane geometry.
    #[must_use]
    pub fn quarter_square(self, long_side: Finished) -> Working {
        self.working(Rule::QuarterSquare, "side of the square", self.added(long_side, "finished long side", 2.0 + 2.0 * SQRT_2))
    }

    /// Side of the two squares that are sewn and cut into two half-square units: that of the square cut once. Source: plane geometry.
    #[must_use]
    pub fn two_half_squares(self, side: Finished) -> Working {
        self.working(Rule::TwoHalfSquares, "side of the square", self.added(side, "finished side", 2.0 + SQRT_2))
    }

    /// Side of the two squares that are sewn and cut into eight half-square units: twice that for two, rounded once.
    #[must_use]
    pub fn eight_half_squares(self, side: Finished) -> Working {
        let quarter = self.added(side, "finished side", 2.0 + SQRT_2);
        self.working(Rule::EightHalfSquares, "side of the square", quarter * 2.0)
    }

    /// Side of the squares for quarter-square units by way of half-square units: that of the square cut twice.
    #[must_use]
    pub fn quarter_square_units(self, side: Finished) -> Working {
        self.working(Rule::QuarterSquareUnits, "side of the square", self.added(side, "finished side", 2.0 + 2.0 * SQRT_2))
    }

    /// Side of the large square for four flying geese: it is cut twice in the end, a goose from each quarter.
    #[must_use]
    pub fn goose_square(self, width: Finished) -> Working {
        self.working(Rule::FourGeese, "side of the large square", self.added(width, "finished width", 2.0 + 2.0 * SQRT_2))
    }

    /// Side of the four small squares for four flying geese: each is cut once in the end, two pieces of sky from each.
    #[must_use]
    pub fn sky_square(self, height: Finished) -> Working {
        self.working(Rule::FourGeese, "side of a small square", self.added(height, "finished height", 2.0 + SQRT_2))
    }

    /// Width of a strip of a strip set.
    #[must_use]
    pub fn set_strip(self, width: Finished) -> Working {
        self.working(Rule::StripSet, "width of the strip", self.added(width, "finished width", 2.0))
    }

    /// Where a strip set is cut across.
    #[must_use]
    pub fn set_cut(self, length: Finished) -> Working {
        self.working(Rule::StripSet, "cut across at", self.added(length, "finished length", 2.0))
    }

    /// A side of the back or the batting of a section.
    #[must_use]
    pub fn layer(self, what: &str, finished: Finished, oversize: Length) -> Working {
        self.working(Rule::Layer, what, self.added(finished, "finished", 2.0) + term("oversize", oversize.value()) * 2.0)
    }

    /// Side of the square that is cut once for two halves of it, each larger than its section all round. Source: plane geometry.
    #[must_use]
    pub fn half_square_layer(self, leg: Finished, oversize: Length) -> Working {
        let beyond = term("allowance", self.allowance.0.value()) + term("oversize", oversize.value());
        let side = term("finished short side", leg.0.value()) + beyond * (2.0 + SQRT_2);
        self.working(Rule::LayerHalf, "side of the square", side)
    }

    /// Strip for equilateral triangles: their height and three allowances, as three sides moved out by one raise it by three.
    #[must_use]
    pub fn equilateral_strip(self, height: Finished) -> Working {
        self.working(Rule::Strip, "width of the strip", self.added(height, "finished height", 3.0))
    }

    /// Strip for diamonds or hexagons: their width between parallel sides and two allowances.
    #[must_use]
    pub fn parallel_strip(self, width: Finished) -> Working {
        self.working(Rule::Strip, "width of the strip", self.added(width, "finished width", 2.0))
    }

    /// A side of the bounds of a template, allowances in it.
    #[must_use]
    pub fn template(self, what: &str, bounds: Length) -> Working {
        self.working(Rule::Template, what, term("cut outline", bounds.value()))
    }
}

/// Squares to cut for `needed` triangles, `a_square` out of each.
#[must_use]
pub fn squares(needed: usize, a_square: usize) -> usize {
    needed.div_ceil(a_square)
}

/// Units that a strip set gives, as long as the cloth is wide (the narrowest of its cloths) and cut across at `cut`.
#[must_use]
pub fn units_a_set(usable: Length, cut: &Working) -> Working {
    let share = term("usable width", usable.value()) / term("cut across at", cut.value);
    Working::new(Rule::StripSet, "units from one set", share.floor(), Rounding::Whole)
}

/// Strips of a set are as long as the narrowest of their cloths is wide.
#[must_use]
pub fn length_of_a_set(usable: Length) -> Working {
    Working::new(Rule::StripSet, "length of the strip", term("usable width", usable.value()), Rounding::Exact)
}

/// How often `at_a_time` units are made for `units` of them.
#[must_use]
pub fn batches(units: usize, at_a_time: usize) -> Working {
    let batches = term("units", count(units)) / term("made at a time", count(at_a_time));
    Working::new(Rule::Batches, "batches", batches.ceil(), Rounding::Whole)
}

/// Strips for `length`, longer than the cloth is wide: joined end to end, `lost` at each join.
#[must_use]
pub fn joined_strips(pieces: usize, length: Length, usable: Length, lost: Length) -> Working {
    let lost = || term("lost at a join", lost.value());
    let total = term("pieces", count(pieces)) * term("length", length.value()) - lost();
    let strips = total / (term("usable width", usable.value()) - lost());
    Working::new(Rule::JoinedStrip, "strips", strips.ceil(), Rounding::Whole)
}

/// Length of cloth that strips take, each kind a whole number and a width.
#[must_use]
pub fn length_needed(kinds: impl IntoIterator<Item = (f64, Length)>) -> Working {
    let sum = kinds
        .into_iter()
        .map(|(strips, width)| term("strips", strips) * term("width", width.value()))
        .reduce(|sum, next| sum + next)
        .unwrap_or_else(|| term("no strips", 0.0));
    let mut working = Working::new(Rule::StripsLength, "length needed", sum, Rounding::Exact);
    // The same two words for every kind of strip say nothing more the second time.
    "strips × width, all kinds added up".clone_into(&mut working.words);
    working
}

/// Length to buy, up to what a shop cuts: 1/8 yd or 0.1 m.
#[must_use]
pub fn length_to_buy(what: &str, needed: f64, shrinkage: Shrinkage, reserve: Length, measure: Measure) -> Working {
    let mut length = term("needed", needed);
    if shrinkage != Shrinkage(0) {
        length = length / (term("all", 1.0) - term("lost in the wash", shrinkage.share()));
    }
    if reserve != Length::ZERO {
        length = length + term("reserve", reserve.value());
    }
    Working::new(Rule::Yardage, what, length, Rounding::UpToShop(measure))
}

/// A size that the maker gives, up to the step.
#[must_use]
pub fn given(what: &str, size: Length, step: Step) -> Working {
    Working::new(Rule::AsGiven, what, term("as given", size.value()), Rounding::Up(step))
}

/// Length of the binding: once round the top, and 12 in (30 cm) more.
#[must_use]
pub fn binding_length(top: Vec2, measure: Measure, step: Step) -> Working {
    let more = if measure == Measure::Inch { 12.0 } else { 30.0 };
    let round = (term("width", top.x) + term("height", top.y)) * 2.0;
    Working::new(Rule::Binding, "length of the strip", round + term("more", more), Rounding::Up(step))
}

/// Length of all seams, from what all outlines measure and from the edge.
#[must_use]
pub fn seams(outlines: f64, edge: f64) -> Working {
    let seams = (term("all outlines", outlines) - term("edge", edge)) / 2.0;
    Working::new(Rule::Seams, "length of all seams", seams, Rounding::Exact)
}

/// Thread for seams: two and a half times their length, needle and bobbin together.
#[must_use]
pub fn thread(seams: &Working) -> Working {
    Working::new(Rule::Thread, "thread for piecing", term("seams", seams.value) * 2.5, Rounding::Exact)
}

/// Spools for a length of thread.
#[must_use]
pub fn spools(thread: &Working, spool: Length) -> Working {
    let spools = term("thread", thread.value) / term("on a spool", spool.value());
    Working::new(Rule::Spools, "spools", spools.ceil(), Rounding::Whole)
}

/// A count as a number to reckon with.
fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).expect("the limits of a quilt file keep every count far below four thousand million"))
}
