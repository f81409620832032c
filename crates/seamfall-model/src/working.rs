//! How a number came about: one expression that evaluates and that prints.
//!
//! In: named inputs, combined with the usual operators. Out: the number, its working in words and in numbers, and the rule
//! with its source. There is no second text that could say something else.

use crate::{ClassRule, EdgeRule, FitRule, Length, LookRule, Measure, Step};
use std::ops::{Add, Div, Mul, Sub};
use tr::tr;

/// The rules numbers come from. Each knows its sentence and its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Finished and an allowance on either side.
    Rectangle,
    /// A square cut once across for two triangles, straight grain on the short sides.
    HalfSquare,
    /// A square cut twice across for four triangles, straight grain on the long side.
    QuarterSquare,
    /// Two squares sewn on either side of a diagonal: two half-square units.
    TwoHalfSquares,
    /// Two squares sewn on either side of both diagonals: eight half-square units.
    EightHalfSquares,
    /// Two half-square units sewn on either side of the diagonal across their seams: two quarter-square units.
    QuarterSquareUnits,
    /// A large square and four small ones: four flying geese.
    FourGeese,
    /// Strips sewn side by side and cut across.
    StripSet,
    /// How often as many units as are made at a time are made.
    Batches,
    /// A strip cut across the width, as wide as the piece, cut off at its length.
    Strip,
    /// Pieces cut from a template: the strip it fits in.
    Template,
    /// A strip joined from several across the width.
    JoinedStrip,
    /// Length of all strips.
    StripsLength,
    /// Length of all strips, before the wash and with the reserve, up to what a shop cuts.
    Yardage,
    /// A size that the maker gives.
    AsGiven,
    /// The back or the batting of a section.
    Layer,
    /// The same of a section that is half a square.
    LayerHalf,
    /// Binding once round the edge.
    Binding,
    /// Length of all seams of the top.
    Seams,
    /// Thread that a lockstitch seam takes.
    Thread,
    /// Spools for a length of thread.
    Spools,
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
    /// Width or height of a lap section.
    SectionSize,
    /// Thread in a running stitch.
    RunningStitch,
    /// Needlefuls of one path.
    Needlefuls,
    /// Hours of quilting.
    QuiltingHours,
    /// The size to which sections are trimmed.
    TrimmedSize,
    /// The least to which they could be.
    LeastTrimmed,
    /// What is to be eased at a seam.
    Easing,
    /// What cloth takes.
    EasingMost,
    /// Seams taken deeper so that two sides meet.
    WiderSeam,
    /// A wider strip that makes up for what is missing.
    FrameAnew,
    /// Width or height of the top with its sections trimmed.
    TruedSize,
    /// Weight of layers over an area.
    Weight,
    /// Weight at the machine, over all that is sewn.
    MeanWeight,
    /// Length of joins.
    JoinLength,
    /// Hours of joining.
    JoiningHours,
    /// Slip stitches of a back.
    SlipStitches,
    /// Pins and clips along a join.
    Pins,
    /// How much batting is cut back.
    CutBack,
    /// How far from an edge hand stitching stops.
    StopsShort,
    /// How thick layers are.
    Thickness,
    /// What lies under the foot.
    UnderTheFoot,
    /// One of the rules of the edge.
    Edge(EdgeRule),
    /// One of the rules of the bed.
    Fit(FitRule),
    /// One of the rules of looks.
    Look(LookRule),
    /// One of the rules of a class.
    Class(ClassRule),
}

impl From<EdgeRule> for Rule {
    fn from(rule: EdgeRule) -> Self {
        Self::Edge(rule)
    }
}

impl From<ClassRule> for Rule {
    fn from(rule: ClassRule) -> Self {
        Self::Class(rule)
    }
}

impl From<FitRule> for Rule {
    fn from(rule: FitRule) -> Self {
        Self::Fit(rule)
    }
}

impl From<LookRule> for Rule {
    fn from(rule: LookRule) -> Self {
        Self::Look(rule)
    }
}

impl Rule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::Rectangle => tr!("A piece is cut at its finished size and an allowance on either side."),
            Self::HalfSquare => {
                tr!(
                    "A square cut once corner to corner gives two triangles; it is the finished short side and (2 + √2) allowances."
                )
            }
            Self::QuarterSquare => {
                tr!(
                    "A square cut twice corner to corner gives four triangles; it is the finished long side and (2 + 2√2) allowances."
                )
            }
            Self::TwoHalfSquares => {
                tr!(
                    "Two squares are sewn an allowance from the diagonal on either side and cut apart on it: two units; each square is the finished side and (2 + √2) allowances."
                )
            }
            Self::EightHalfSquares => {
                tr!(
                    "Two squares are sewn an allowance from both diagonals on either side and cut into eight units; each square is twice the finished side and (2 + √2) allowances."
                )
            }
            Self::QuarterSquareUnits => {
                tr!(
                    "Two half-square units are sewn an allowance from the diagonal across their seams and cut apart on it: two units; every square is the finished side and (2 + 2√2) allowances."
                )
            }
            Self::FourGeese => {
                tr!(
                    "A large square and four small ones make four geese: the large is the finished width and (2 + 2√2) allowances, a small one the finished height and (2 + √2)."
                )
            }
            Self::StripSet => {
                tr!(
                    "Strips across the width, each its finished width and an allowance on either side, are sewn lengthwise; the set is cut across at the finished length and an allowance on either side."
                )
            }
            Self::Batches => tr!("What is made at a time is made as often as it takes for all units."),
            Self::Strip => {
                tr!("A strip is cut across the width of the cloth, as wide as the piece is cut, and cut off at its length.")
            }
            Self::Template => tr!("A piece cut by a template needs a strip as wide as the template, laid along its grain."),
            Self::JoinedStrip => {
                tr!("A strip longer than the cloth is wide is joined from several, each join taking an allowance of either end.")
            }
            Self::StripsLength => tr!("The widths of all strips across the cloth, added up."),
            Self::Yardage => {
                tr!("What is needed, divided by what the wash leaves of it, and the reserve, rounded up to what a shop cuts.")
            }
            Self::AsGiven => tr!("As the maker gives it."),
            Self::Layer => tr!("A layer is cut an allowance and the oversize larger than its section, on every side."),
            Self::LayerHalf => {
                tr!(
                    "Half a square is cut from a square of the short side and (2 + √2) times the allowance and the oversize together."
                )
            }
            Self::Binding => tr!("Once round the edge, and a foot more for its two ends and for comfort."),
            Self::Seams => {
                tr!("Every seam lies between two pieces, so that seams are half of what all outlines measure beyond the edge.")
            }
            Self::Thread => {
                tr!(
                    "A lockstitch seam takes 2 and 2 × thickness × stitches times its length: two cottons at 12 stitches an inch 2.53, the trade says 2.5."
                )
            }
            Self::Spools => tr!("Whole spools."),
            Self::TopSize => tr!("Finished blocks, frames, sashing and bands, added up."),
            Self::Diagonal => tr!("A square on its corner measures its side times √2 from corner to corner."),
            Self::SettingTriangles => {
                tr!("Side triangles have the block's side for their short sides, corner triangles have half its diagonal.")
            }
            Self::Count => tr!("Counted over the whole quilt."),
            Self::Sections => {
                tr!("The top is cut along straight seams until no section is longer than can be quilted in the lap.")
            }
            Self::SectionSize => tr!("A section reaches from its first edge to its last, measured along its own seams."),
            Self::RunningStitch => {
                tr!(
                    "Of equal stitches and gaps, twice as many slanting passes as stitches go through the layers: each is the square root of half a stitch's way squared and the thickness squared."
                )
            }
            Self::Needlefuls => tr!("Each path takes as many needlefuls as its thread fills, the tails taken off each."),
            Self::QuiltingHours => tr!("Length quilted, at the maker's own pace."),
            Self::TrimmedSize => {
                tr!(
                    "Sides planned alike are trimmed alike: to the smallest that is measured, unless points or allowances would be lost."
                )
            }
            Self::LeastTrimmed => {
                tr!(
                    "As planned, or the largest where all are measured and smaller, less what may be trimmed off both ends: 1/16 in at points, 1/8 in at patches without, half of a strip."
                )
            }
            Self::Easing => tr!("The difference of the two sides that are sewn together."),
            Self::EasingMost => tr!("Cloth takes 1/8 in in 12 in."),
            Self::WiderSeam => tr!("A side comes out shorter by what both its end seams are taken deeper."),
            Self::FrameAnew => tr!("A strip at either end makes up half of what is missing."),
            Self::TruedSize => tr!("As planned, and what trimming its sections changes along a row or a column."),
            Self::Weight => {
                tr!("Two cloths and the batting between them, by area; allowances inside the piecing are not counted.")
            }
            Self::MeanWeight => tr!("What lies at the machine in each join, both its sides, weighed by the length that is sewn."),
            Self::JoinLength => tr!("Every join is as long as its seam, finished."),
            Self::JoiningHours => tr!("Fronts at the machine and backs by hand, foot by foot, and the handling of every join."),
            Self::SlipStitches => tr!("A quarter of an inch lies in the fold for each stitch."),
            Self::Pins => {
                tr!(
                    "One at either end and no farther apart than the spacing; two more at every crossing, one on either side of it."
                )
            }
            Self::CutBack => {
                tr!(
                    "Both battings end at the cut edge, an allowance beyond the seam: where one is caught the other is cut back by two allowances, where neither is, each by one, so that they butt."
                )
            }
            Self::StopsShort => {
                tr!(
                    "Hand stitching stops at the free margin of an edge that has still to be joined, so that its layers can be folded back."
                )
            }
            Self::Thickness => tr!("Every layer of cloth, and the batting."),
            Self::UnderTheFoot => tr!("Every layer of cloth, and an eighth of the batting, to which the foot presses it."),
            Self::Edge(rule) => rule.sentence(),
            Self::Fit(rule) => rule.sentence(),
            Self::Look(rule) => rule.sentence(),
            Self::Class(rule) => rule.sentence(),
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> String {
        match self {
            Self::AsGiven => tr!("the quilt file"),
            Self::Rectangle
            | Self::LayerHalf
            | Self::Seams
            | Self::HalfSquare
            | Self::QuarterSquare
            | Self::TwoHalfSquares
            | Self::EightHalfSquares
            | Self::QuarterSquareUnits
            | Self::FourGeese
            | Self::TopSize
            | Self::SectionSize
            | Self::Diagonal
            | Self::JoinLength
            | Self::CutBack
            | Self::Easing
            | Self::WiderSeam
            | Self::FrameAnew
            | Self::TruedSize
            | Self::SettingTriangles => tr!("plane geometry"),
            Self::RunningStitch => tr!("plane geometry; check value lap.use.running_exact"),
            Self::Edge(rule) => rule.source(),
            Self::Fit(rule) => rule.source(),
            Self::Look(rule) => rule.source(),
            Self::Class(rule) => rule.source(),
            Self::SlipStitches => tr!("check value lap.slip.count"),
            Self::Weight => tr!("check values fabric.weight.from_yards_per_pound and fabric.batt.poly_4oz_gsm"),
            Self::Thickness => tr!("check value lap.use.301_quilt"),
            Self::Count
            | Self::Batches
            | Self::StripsLength
            | Self::Spools
            | Self::Needlefuls
            | Self::QuiltingHours
            | Self::MeanWeight
            | Self::JoiningHours => tr!("counting"),
            Self::StripSet
            | Self::Strip
            | Self::Template
            | Self::JoinedStrip
            | Self::Yardage
            | Self::Layer
            | Self::Binding
            | Self::Thread
            | Self::TrimmedSize
            | Self::LeastTrimmed
            | Self::EasingMost
            | Self::Pins
            | Self::StopsShort
            | Self::UnderTheFoot
            | Self::Sections => tr!("common practice"),
        }
    }
}

/// What kind of expression a term is: it decides where brackets are needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A name, a number or something in brackets.
    Single,
    /// A product or a quotient.
    Product,
    /// A sum or a difference.
    Sum,
}

/// A value with the words and the numbers it was made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    value: f64,
    words: String,
    numbers: String,
    kind: Kind,
}

/// A named input.
#[must_use]
pub fn term(name: &str, value: f64) -> Term {
    Term { value, words: name.to_owned(), numbers: decimal(value, 4), kind: if value < 0.0 { Kind::Sum } else { Kind::Single } }
}

/// Forgiven when rounding to whole numbers: what arithmetic in floating point leaves behind.
const SLACK: f64 = 1e-9;

impl Term {
    /// What it comes to.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.value
    }

    /// Rounded up to a whole number, shown so.
    #[must_use]
    pub fn ceil(self) -> Self {
        self.rounded(&tr!("rounded" => "up"), |value| (value - SLACK).ceil())
    }

    /// Rounded down to a whole number, shown so.
    #[must_use]
    pub fn floor(self) -> Self {
        self.rounded(&tr!("rounded" => "down"), |value| (value + SLACK).floor())
    }

    /// To the nearest whole number, shown so.
    #[must_use]
    pub fn nearest(self) -> Self {
        self.rounded(&tr!("rounded" => "near"), |value| (value + SLACK).round())
    }

    /// Its square root, shown so.
    #[must_use]
    pub fn sqrt(self) -> Self {
        self.rounded("√", f64::sqrt)
    }

    /// Its cube root, shown so.
    #[must_use]
    pub fn cbrt(self) -> Self {
        self.rounded("∛", libm::cbrt)
    }

    fn rounded(self, way: &str, round: impl Fn(f64) -> f64) -> Self {
        Self {
            // Adding nothing turns -0 into 0.
            value: round(self.value) + 0.0,
            words: format!("{way}({})", self.words),
            numbers: format!("{way}({})", self.numbers),
            kind: Kind::Single,
        }
    }

    /// A bare number.
    fn number(value: f64) -> Self {
        term(&decimal(value, 4), value)
    }

    /// Joins two terms by `sign`; those whose kind is in `left` or in `right` are put in brackets on that side.
    fn joined(self, sign: &str, other: Self, value: f64, kind: Kind, left: &[Kind], right: &[Kind]) -> Self {
        let text = |a: &str, b: &str| {
            let bracket = |text: &str, yes: bool| if yes { format!("({text})") } else { text.to_owned() };
            format!("{} {sign} {}", bracket(a, left.contains(&self.kind)), bracket(b, right.contains(&other.kind)))
        };
        Self { value, words: text(&self.words, &other.words), numbers: text(&self.numbers, &other.numbers), kind }
    }
}

macro_rules! operator {
    ($($trait:ident $method:ident $sign:literal $kind:ident $left:expr, $right:expr;)*) => {$(
        impl $trait for Term {
            type Output = Self;
            fn $method(self, other: Self) -> Self {
                let value = $trait::$method(self.value, other.value);
                self.joined($sign, other, value, Kind::$kind, &$left, &$right)
            }
        }
        impl $trait<f64> for Term {
            type Output = Self;
            fn $method(self, other: f64) -> Self {
                $trait::$method(self, Self::number(other))
            }
        }
        impl $trait<Term> for f64 {
            type Output = Term;
            fn $method(self, other: Term) -> Term {
                $trait::$method(Term::number(self), other)
            }
        }
    )*};
}
operator! {
    Add add "+" Sum [], [];
    Sub sub "−" Sum [], [Kind::Sum];
    Mul mul "×" Product [Kind::Sum], [Kind::Sum];
    Div div "÷" Product [Kind::Sum], [Kind::Sum, Kind::Product];
}

/// A number to so many decimal places, without trailing zeros.
#[must_use]
pub fn decimal(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if places > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A rounding that followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rounding {
    /// None: the value is exact.
    Exact,
    /// Up to a step that can be cut.
    Up(Step),
    /// Up to what a shop cuts: 1/8 yd or 0.1 m, in the document's unit (4.5 in, 10 cm).
    UpToShop(Measure),
    /// A whole count, up.
    Whole,
}

impl Rounding {
    /// `exact` rounded so.
    fn apply(self, exact: f64) -> f64 {
        match self {
            Self::Exact => exact,
            Self::Up(step) => step.up(Length::new(exact)).value(),
            Self::UpToShop(measure) => {
                let piece = shop_piece(measure);
                (exact / piece - SLACK).ceil() * piece
            }
            Self::Whole => (exact - SLACK).ceil() + 0.0,
        }
    }

    /// A rounded value as it is said.
    fn shown(self, value: f64) -> String {
        match self {
            Self::Exact | Self::Whole => decimal(value, 4),
            Self::Up(step) => Length::new(value).shown(step),
            Self::UpToShop(Measure::Inch) => format!("{} yd", Length::new(value / 36.0).shown(Step::Eighth)),
            Self::UpToShop(Measure::Centimetre) => format!("{} m", decimal(value / 100.0, 4)),
        }
    }
}

/// What a shop cuts: 1/8 yd or 0.1 m. Source: common practice.
fn shop_piece(measure: Measure) -> f64 {
    match measure {
        Measure::Inch => 4.5,
        Measure::Centimetre => 10.0,
    }
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
    ///
    /// # Panics
    /// When the value is not finite, which takes a division by nothing: inputs are checked sizes.
    #[must_use]
    pub fn new(rule: Rule, what: &str, term: Term, rounding: Rounding) -> Self {
        assert!(term.value.is_finite(), "a working is made of checked sizes");
        Self {
            rule,
            what: what.to_owned(),
            words: term.words,
            numbers: term.numbers,
            exact: term.value,
            value: rounding.apply(term.value),
            rounding,
        }
    }

    /// The number after rounding, as a length.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::new(self.value)
    }

    /// The number after rounding, as a count.
    #[must_use]
    pub fn count(&self) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "counts are small and not negative")]
        let count = self.value.round() as usize;
        count
    }

    /// One line: `side of the square = finished + allowance × 3.4142 = 5 + 0.25 × 3.4142 = 5.8536, up to 5 7/8`.
    ///
    /// A part that would only repeat the one before is left out, and so is a rounding that changes nothing.
    #[must_use]
    pub fn line(&self) -> String {
        let exact = decimal(self.exact, 4);
        let rounded = self.rounding.shown(self.value);
        // A ten-thousandth, the last place that is printed.
        let same = (self.value - self.exact).abs() < 1e-4;
        let last = match self.rounding {
            Rounding::UpToShop(_) if same => format!("{exact}, {rounded}"),
            _ if same => rounded,
            _ => tr!("{exact}, up to {rounded}", exact, rounded),
        };
        let mut line = format!("{} = {}", self.what, self.words);
        if self.numbers != self.words && self.numbers != exact {
            line = format!("{line} = {}", self.numbers);
        }
        if self.words != last {
            line = format!("{line} = {last}");
        }
        line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Zeros go only behind the point. Regression: 70 without decimals was written as 7.
    #[test]
    fn whole_numbers_keep_their_zeros() {
        for (value, places, text) in [
            (70.0, 0, "70"),
            (0.0, 0, "0"),
            (-0.2, 0, "0"),
            (70.0, 2, "70"),
            (70.5, 2, "70.5"),
            (100.04, 1, "100"),
            (-0.04, 1, "0"),
        ] {
            assert_eq!(decimal(value, places), text);
        }
    }

    /// The worked example of the trade: "add 7/8 in" is 0.8536 up to an eighth; 1/4 × (2 + √2) = 0.853553.
    #[test]
    fn a_half_square_reads_as_its_arithmetic() {
        let side = term("finished", 5.0) + term("allowance", 0.25) * (2.0 + std::f64::consts::SQRT_2);
        let working = Working::new(Rule::HalfSquare, "side of the square", side, Rounding::Up(Step::Eighth));
        assert_eq!(
            working.line(),
            "side of the square = finished + allowance × 3.4142 = 5 + 0.25 × 3.4142 = 5.8536, up to 5 7/8"
        );
        assert_eq!(working.length(), Length::new(5.875));
    }

    #[test]
    fn brackets_stand_where_the_order_needs_them() {
        let (a, b, c) = (|| term("a", 1.0), || term("b", 2.0), || term("c", 4.0));
        for (made, words, value) in [
            ((a() + b()) * c(), "(a + b) × c", 12.0),
            (a() + b() * c(), "a + b × c", 9.0),
            (a() - (b() - c()), "a − (b − c)", 3.0),
            (a() - b() - c(), "a − b − c", -5.0),
            (a() / (b() * c()), "a ÷ (b × c)", 0.125),
            (a() * b() / c(), "a × b ÷ c", 0.5),
            (2.0 * (a() + b()), "2 × (a + b)", 6.0),
            (c() + -1.0 * a(), "c + (-1) × a", 3.0),
            (c() - term("d", -1.0), "c − (d)", 5.0),
        ] {
            assert_eq!((made.words.as_str(), made.value), (words, value));
        }
    }

    #[test]
    fn roundings_to_whole_numbers_are_part_of_the_working() {
        let strips = (term("pieces", 7.0) / (term("width", 42.0) / term("side", 12.0)).floor()).ceil();
        assert_eq!(strips.words, "up(pieces ÷ down(width ÷ side))");
        let working = Working::new(Rule::JoinedStrip, "strips", strips, Rounding::Whole);
        assert_eq!(working.line(), "strips = up(pieces ÷ down(width ÷ side)) = up(7 ÷ down(42 ÷ 12)) = 3");
    }

    #[test]
    fn what_is_whole_but_for_the_last_bit_stays_whole() {
        assert_eq!((term("a", 0.1 + 0.2) / 0.1).ceil().value(), 3.0);
        assert_eq!((term("a", 0.3) / 0.1).floor().value(), 3.0);
    }

    /// 1/8 yd is 4.5 in, as `fabric.yard.1_8` has it.
    #[test]
    fn yardage_goes_up_to_what_a_shop_cuts() {
        let line =
            |value, measure| Working::new(Rule::Yardage, "cloth", term("strips", value), Rounding::UpToShop(measure)).line();
        assert_eq!(line(50.0, Measure::Inch), "cloth = strips = 50, up to 1 1/2 yd");
        assert_eq!(line(54.0, Measure::Inch), "cloth = strips = 54, 1 1/2 yd");
        assert_eq!(line(131.0, Measure::Centimetre), "cloth = strips = 131, up to 1.4 m");
    }

    #[test]
    fn nothing_is_said_twice() {
        let line = |term: Term, rounding| Working::new(Rule::Rectangle, "width", term, rounding).line();
        assert_eq!(line(term("finished", 5.0), Rounding::Exact), "width = finished = 5");
        assert_eq!(line(term("finished", 5.5), Rounding::Up(Step::Eighth)), "width = finished = 5 1/2");
    }
}
