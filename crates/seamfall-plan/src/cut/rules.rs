//! The rules of the cutting table: from a finished size to what is cut, from pieces to strips, from strips to a length.
//!
//! In: finished sizes, counts and the usable width of a cloth. Out: one [`Working`] a number, exact and rounded. Everything
//! in the cut list and in the yardage goes through here. A size is rounded once, up to the quilt's step; what the trade adds
//! to a triangle in eighths (7/8 in, 1 1/4 in) is already rounded, so that we come out up to an eighth smaller now and then.

use seamfall_geom::Vec2;
use seamfall_model::{Allowance, Finished, Length, Measure, Rounding, Rule, Shrinkage, Step, Term, Working, term};
use std::f64::consts::SQRT_2;
use tr::tr;

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
        term(named, finished.0.value()) + term(&tr!("allowance"), self.allowance.0.value()) * allowances
    }

    fn working(self, rule: Rule, what: &str, sum: Term) -> Working {
        Working::new(rule, what, sum, Rounding::Up(self.step))
    }

    /// A side of a square or a rectangle, or a strip between parallel seams: an allowance on either side.
    #[must_use]
    pub fn side(self, what: &str, finished: Finished) -> Working {
        self.working(Rule::Rectangle, what, self.added(finished, &tr!("finished"), 2.0))
    }

    /// Length of a strip with mitred ends: its longer edge and an allowance at either end. No reserve is added for safety;
    /// the mitre's own allowance runs out to nothing at the corner of this rectangle.
    #[must_use]
    pub fn mitred(self, outer_edge: Finished) -> Working {
        self.working(Rule::Rectangle, &tr!("length of the strip"), self.added(outer_edge, &tr!("outer edge"), 2.0))
    }

    /// Side of the square that is cut once from corner to corner: `leg + (2 + √2) · allowance`. Source: plane geometry.
    #[must_use]
    pub fn half_square(self, leg: Finished) -> Working {
        self.working(Rule::HalfSquare, &tr!("side of the square"), self.added(leg, &tr!("finished short side"), 2.0 + SQRT_2))
    }

    /// Side of the square that is cut twice from corner to corner: `long side + (2 + 2√2) · allowance`. Source: plane geometry.
    #[must_use]
    pub fn quarter_square(self, long_side: Finished) -> Working {
        self.working(
            Rule::QuarterSquare,
            &tr!("side of the square"),
            self.added(long_side, &tr!("finished long side"), 2.0 + 2.0 * SQRT_2),
        )
    }

    /// Side of the two squares that are sewn and cut into two half-square units: that of the square cut once. Source: plane geometry.
    #[must_use]
    pub fn two_half_squares(self, side: Finished) -> Working {
        self.working(Rule::TwoHalfSquares, &tr!("side of the square"), self.added(side, &tr!("finished side"), 2.0 + SQRT_2))
    }

    /// Side of the two squares that are sewn and cut into eight half-square units: twice that for two, rounded once.
    #[must_use]
    pub fn eight_half_squares(self, side: Finished) -> Working {
        let quarter = self.added(side, &tr!("finished side"), 2.0 + SQRT_2);
        self.working(Rule::EightHalfSquares, &tr!("side of the square"), quarter * 2.0)
    }

    /// Side of the squares for quarter-square units by way of half-square units: that of the square cut twice.
    #[must_use]
    pub fn quarter_square_units(self, side: Finished) -> Working {
        self.working(
            Rule::QuarterSquareUnits,
            &tr!("side of the square"),
            self.added(side, &tr!("finished side"), 2.0 + 2.0 * SQRT_2),
        )
    }

    /// Side of the large square for four flying geese: it is cut twice in the end, a goose from each quarter.
    #[must_use]
    pub fn goose_square(self, width: Finished) -> Working {
        self.working(
            Rule::FourGeese,
            &tr!("side of the large square"),
            self.added(width, &tr!("finished width"), 2.0 + 2.0 * SQRT_2),
        )
    }

    /// Side of the four small squares for four flying geese: each is cut once in the end, two pieces of sky from each.
    #[must_use]
    pub fn sky_square(self, height: Finished) -> Working {
        self.working(Rule::FourGeese, &tr!("side of a small square"), self.added(height, &tr!("finished height"), 2.0 + SQRT_2))
    }

    /// Width of a strip of a strip set.
    #[must_use]
    pub fn set_strip(self, width: Finished) -> Working {
        self.working(Rule::StripSet, &tr!("width of the strip"), self.added(width, &tr!("finished width"), 2.0))
    }

    /// Where a strip set is cut across.
    #[must_use]
    pub fn set_cut(self, length: Finished) -> Working {
        self.working(Rule::StripSet, &tr!("cut across at"), self.added(length, &tr!("finished length"), 2.0))
    }

    /// A side of the back or the batting of a section.
    #[must_use]
    pub fn layer(self, what: &str, finished: Finished, oversize: Length) -> Working {
        self.working(
            Rule::Layer,
            what,
            self.added(finished, &tr!("finished"), 2.0) + term(&tr!("oversize"), oversize.value()) * 2.0,
        )
    }

    /// Side of the square that is cut once for two halves of it, each larger than its section all round. Source: plane geometry.
    #[must_use]
    pub fn half_square_layer(self, leg: Finished, oversize: Length) -> Working {
        let beyond = term(&tr!("allowance"), self.allowance.0.value()) + term(&tr!("oversize"), oversize.value());
        let side = term(&tr!("finished short side"), leg.0.value()) + beyond * (2.0 + SQRT_2);
        self.working(Rule::LayerHalf, &tr!("side of the square"), side)
    }

    /// Strip for equilateral triangles: their height and three allowances, as three sides moved out by one raise it by three.
    #[must_use]
    pub fn equilateral_strip(self, height: Finished) -> Working {
        self.working(Rule::Strip, &tr!("width of the strip"), self.added(height, &tr!("finished height"), 3.0))
    }

    /// Strip for diamonds or hexagons: their width between parallel sides and two allowances.
    #[must_use]
    pub fn parallel_strip(self, width: Finished) -> Working {
        self.working(Rule::Strip, &tr!("width of the strip"), self.added(width, &tr!("finished width"), 2.0))
    }

    /// A side of the bounds of a template, allowances in it.
    #[must_use]
    pub fn template(self, what: &str, bounds: Length) -> Working {
        self.working(Rule::Template, what, term(&tr!("cut outline"), bounds.value()))
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
    let share = term(&tr!("usable width"), usable.value()) / term(&tr!("cut across at"), cut.value);
    Working::new(Rule::StripSet, &tr!("units from one set"), share.floor(), Rounding::Whole)
}

/// Strips of a set are as long as the narrowest of their cloths is wide.
#[must_use]
pub fn length_of_a_set(usable: Length) -> Working {
    Working::new(Rule::StripSet, &tr!("length of the strip"), term(&tr!("usable width"), usable.value()), Rounding::Exact)
}

/// How often `at_a_time` units are made for `units` of them.
#[must_use]
pub fn batches(units: usize, at_a_time: usize) -> Working {
    let batches = term(&tr!("units"), count(units)) / term(&tr!("made at a time"), count(at_a_time));
    Working::new(Rule::Batches, &tr!("batches"), batches.ceil(), Rounding::Whole)
}

/// Strips for `length`, longer than the cloth is wide: joined end to end, `lost` at each join.
#[must_use]
pub fn joined_strips(pieces: usize, length: Length, usable: Length, lost: Length) -> Working {
    let lost = || term(&tr!("lost at a join"), lost.value());
    let total = term(&tr!("pieces"), count(pieces)) * term(&tr!("length"), length.value()) - lost();
    let strips = total / (term(&tr!("usable width"), usable.value()) - lost());
    Working::new(Rule::JoinedStrip, &tr!("strips"), strips.ceil(), Rounding::Whole)
}

/// Length of cloth that strips take, each kind a whole number and a width.
#[must_use]
pub fn length_needed(kinds: impl IntoIterator<Item = (f64, Length)>) -> Working {
    let sum = kinds
        .into_iter()
        .map(|(strips, width)| term(&tr!("strips"), strips) * term(&tr!("width"), width.value()))
        .reduce(|sum, next| sum + next)
        .unwrap_or_else(|| term(&tr!("no strips"), 0.0));
    let mut working = Working::new(Rule::StripsLength, &tr!("length needed"), sum, Rounding::Exact);
    // The same two words for every kind of strip say nothing more the second time.
    tr!("strips × width, all kinds added up").clone_into(&mut working.words);
    working
}

/// Length to buy, up to what a shop cuts: 1/8 yd or 0.1 m.
#[must_use]
pub fn length_to_buy(what: &str, needed: f64, shrinkage: Shrinkage, reserve: Length, measure: Measure) -> Working {
    let mut length = term(&tr!("needed"), needed);
    if shrinkage != Shrinkage(0) {
        length = length / (term(&tr!("all"), 1.0) - term(&tr!("lost in the wash"), shrinkage.share()));
    }
    if reserve != Length::ZERO {
        length = length + term(&tr!("reserve"), reserve.value());
    }
    Working::new(Rule::Yardage, what, length, Rounding::UpToShop(measure))
}

/// A size that the maker gives, up to the step.
#[must_use]
pub fn given(what: &str, size: Length, step: Step) -> Working {
    Working::new(Rule::AsGiven, what, term(&tr!("as given"), size.value()), Rounding::Up(step))
}

/// Length of the binding: once round the top, and 12 in (30 cm) more.
#[must_use]
pub fn binding_length(top: Vec2, measure: Measure, step: Step) -> Working {
    let more = if measure == Measure::Inch { 12.0 } else { 30.0 };
    let round = (term(&tr!("width"), top.x) + term(&tr!("height"), top.y)) * 2.0;
    Working::new(Rule::Binding, &tr!("length of the strip"), round + term(&tr!("more"), more), Rounding::Up(step))
}

/// Length of all seams, from what all outlines measure and from the edge.
#[must_use]
pub fn seams(outlines: f64, edge: f64) -> Working {
    let seams = (term(&tr!("all outlines"), outlines) - term(&tr!("edge"), edge)) / 2.0;
    Working::new(Rule::Seams, &tr!("length of all seams"), seams, Rounding::Exact)
}

/// Thread for seams: two and a half times their length, needle and bobbin together.
#[must_use]
pub fn thread(seams: &Working) -> Working {
    Working::new(Rule::Thread, &tr!("thread for piecing"), term(&tr!("seams"), seams.value) * 2.5, Rounding::Exact)
}

/// Spools for a length of thread.
#[must_use]
pub fn spools(thread: &Working, spool: Length) -> Working {
    let spools = term(&tr!("thread"), thread.value) / term(&tr!("on a spool"), spool.value());
    Working::new(Rule::Spools, &tr!("spools"), spools.ceil(), Rounding::Whole)
}

/// A count as a number to reckon with.
fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).expect("the limits of a quilt file keep every count far below four thousand million"))
}
