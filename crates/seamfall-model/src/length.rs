//! Lengths, as they are kept and shown. How they are typed is in [`parse_length`](crate::parse_length).

use std::ops::{Add, Mul, Sub};

/// The unit a quilt is made in, from its file to its book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Inches, shown as fractions.
    Inch,
    /// Centimetres, shown to the millimetre.
    Centimetre,
}

impl Measure {
    /// One inch in this unit.
    #[must_use]
    pub fn inch(self) -> f64 {
        match self {
            Self::Inch => 1.0,
            Self::Centimetre => 2.54,
        }
    }

    /// The usual seam allowance: 1/4 in or 0.75 cm. Source: common practice.
    #[must_use]
    pub fn usual_allowance(self) -> Allowance {
        Allowance(Length(match self {
            Self::Inch => 0.25,
            Self::Centimetre => 0.75,
        }))
    }

    /// `in` or `cm`.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Centimetre => "cm",
        }
    }
}

/// A length in the document's own unit, inches or centimetres. Always finite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length(pub(crate) f64);

/// What is seen once every seam is sewn.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Finished(pub Length);

/// The strip between a seam and the cut edge.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Allowance(pub Length);

/// The step to which lengths are shown and cut, in the document's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// 1/8 in.
    Eighth,
    /// 1/16 in.
    Sixteenth,
    /// 1 mm in a document in centimetres.
    Millimetre,
}

impl Step {
    /// Its size in the document's unit.
    #[must_use]
    pub fn size(self) -> f64 {
        match self {
            Self::Eighth => 0.125,
            Self::Sixteenth => 0.0625,
            Self::Millimetre => 0.1,
        }
    }

    /// Steps in one unit: whole, so that dividing by it gives the very number that is typed.
    fn per_unit(self) -> f64 {
        match self {
            Self::Eighth => 8.0,
            Self::Sixteenth => 16.0,
            Self::Millimetre => 10.0,
        }
    }

    /// `length` rounded up to this step; what is within a ten-thousandth of a step counts as on it.
    #[must_use]
    pub fn up(self, length: Length) -> Length {
        // Adding nothing turns -0 into 0.
        Length((length.0 * self.per_unit() - 1e-4).ceil() / self.per_unit() + 0.0)
    }

    /// `length` to the nearest step.
    #[must_use]
    pub fn nearest(self, length: Length) -> Length {
        Length((length.0 * self.per_unit()).round() / self.per_unit() + 0.0)
    }
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// `value` in the document's unit, which must be finite.
    ///
    /// # Panics
    /// When `value` is not finite: lengths are checked where they enter, in [`parse_length`](crate::parse_length).
    #[must_use]
    pub fn new(value: f64) -> Self {
        assert!(value.is_finite(), "a length is finite");
        Self(value)
    }

    /// The bare number, in the document's unit.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }

    /// As a quilter writes it, without a unit: `12 1/2`, or `31.8` in centimetres. Rounded to the nearest step for the eye
    /// only; a length that is not on the step is marked with `~` in front.
    #[must_use]
    pub fn shown(self, step: Step) -> String {
        let steps = (self.0 * step.per_unit()).round();
        // The same ten-thousandth of a step that `Step::up` forgives.
        let mark = if (self.0 * step.per_unit() - steps).abs() > 1e-4 { "~" } else { "" };
        let sign = if steps < 0.0 { "-" } else { "" };
        let steps = steps.abs();
        if step == Step::Millimetre {
            return format!("{mark}{sign}{}", steps / 10.0);
        }
        let (whole, mut over) = ((steps / step.per_unit()).floor(), steps.rem_euclid(step.per_unit()));
        let mut under = step.per_unit();
        while over > 0.0 && over.rem_euclid(2.0) == 0.0 {
            (over, under) = (over / 2.0, under / 2.0);
        }
        match (whole > 0.0, over > 0.0) {
            (_, false) => format!("{mark}{sign}{whole}"),
            (false, true) => format!("{mark}{sign}{over}/{under}"),
            (true, true) => format!("{mark}{sign}{whole} {over}/{under}"),
        }
    }

    /// [`shown`](Self::shown) with its unit behind: `12 1/2 in`.
    #[must_use]
    pub fn shown_with_unit(self, step: Step) -> String {
        let unit = if step == Step::Millimetre { "cm" } else { "in" };
        format!("{} {unit}", self.shown(step))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self(self.0 * by)
    }
}
