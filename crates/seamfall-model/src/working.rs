//! How a number came about: one expression that evaluates and that prints.

use crate::{Length, Step};
use std::ops::{Add, Div, Mul, Sub};

/// The rules numbers come from. Each knows its sentence and its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Finished and an allowance on either side.
    Rectangle,
    /// A square cut once across for two triangles, straight grain on the short sides.
    HalfSquare,
    /// A square cut twice across for four triangles, straight grain on the long side.
    QuarterSquare,
    /// A strip cut across the width, as wide as the piece, cut off at its length.
    Strip,
    /// Pieces cut from a template: the strip it fits in.
    Template,
    /// A strip joined from several across the width.
    JoinedStrip,
    /// Strips across the width needed for a number of pieces.
    StripsAcross,
    /// Length of all strips, up to what a shop cuts.
    Yardage,
    /// Width or height of the top.
    TopSize,
    /// Diagonal of a block on point.
    Diagonal,
    /// Side and corner triangles of a setting on point.
    SettingTriangles,
    /// A count of blocks, strips or triangles.
    Count,
    /// Number of lap sections.
    Sections,
}

impl Rule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> &'static str {
        todo!()
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> &'static str {
        todo!()
    }
}

/// A value with the words and the numbers it was made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    value: f64,
    words: String,
    numbers: String,
    /// Whether it is a sum, which needs brackets when multiplied.
    sum: bool,
}

/// A named input.
#[must_use]
pub fn term(name: &str, value: f64) -> Term {
    let _ = (name, value);
    todo!()
}

impl Term {
    /// What it comes to.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.value
    }

    /// Rounded up to a whole number, shown so.
    #[must_use]
    pub fn ceil(self) -> Self {
        todo!()
    }

    /// Rounded down to a whole number, shown so.
    #[must_use]
    pub fn floor(self) -> Self {
        todo!()
    }
}

macro_rules! operator {
    ($($trait:ident $method:ident),*) => {$(
        impl $trait for Term {
            type Output = Self;
            fn $method(self, other: Self) -> Self {
                let _ = other;
                todo!()
            }
        }
        impl $trait<f64> for Term {
            type Output = Self;
            fn $method(self, other: f64) -> Self {
                let _ = other;
                todo!()
            }
        }
    )*};
}
operator!(Add add, Sub sub, Mul mul, Div div);

/// A rounding that followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rounding {
    /// None: the value is exact.
    Exact,
    /// Up to a step that can be cut.
    Up(Step),
    /// Up to what a shop cuts: 1/8 yd or 0.1 m, in the document's unit (4.5 in, 10 cm).
    UpToShop,
    /// A whole count.
    Whole,
}

/// A number with the rule, inputs and arithmetic it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    /// The rule.
    pub rule: Rule,
    /// What the number is: `side of the square`.
    pub what: String,
    /// In words: `finished + allowance × 3.4142`.
    pub words: String,
    /// In numbers: `5 + 0.25 × 3.4142`.
    pub numbers: String,
    /// Before rounding.
    pub exact: f64,
    /// After rounding.
    pub value: f64,
    /// The rounding.
    pub rounding: Rounding,
}

impl Working {
    /// Records `term` under `rule`, rounded.
    #[must_use]
    pub fn new(rule: Rule, what: &str, term: Term, rounding: Rounding) -> Self {
        let _ = (rule, what, term, rounding);
        todo!()
    }

    /// The number after rounding, as a length.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::new(self.value)
    }

    /// One line: `side of the square = finished + allowance × 3.4142 = 5 + 0.25 × 3.4142 = 5.8536, up to 5 7/8`.
    #[must_use]
    pub fn line(&self) -> String {
        todo!()
    }
}
