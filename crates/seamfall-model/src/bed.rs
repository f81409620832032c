//! The bed that is to be covered, and how the cloth ends at its foot.

use crate::{Length, Measure, StandardBed};
use tr::tr;

/// A bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// The name it is sold under, where the maker gives one.
    pub standard: Option<&'static StandardBed>,
    /// Width of the mattress.
    pub width: Length,
    /// Length of the mattress.
    pub length: Length,
    /// Top of the mattress above the floor.
    pub height: Length,
    /// How far the quilt is to hang at the sides.
    pub sides: Length,
    /// How far it is to hang at the foot.
    pub foot: Length,
    /// Cloth for tucking in at the pillows.
    pub tuck: Length,
    /// Whether it has posts at the foot.
    pub posts: bool,
    /// What quilting takes off the size, in per cent.
    pub take_up: PerCent,
    /// What the first wash takes off it, in per cent.
    pub shrinkage: PerCent,
}

/// A share that is known between two bounds, in per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerCent {
    /// At least.
    pub least: f64,
    /// At most.
    pub most: f64,
}

impl PerCent {
    /// What quilting takes off unless said. Source: check value `lap.takeup.range_practice`.
    pub const TAKE_UP: Self = Self { least: 2.0, most: 5.0 };
    /// What the first wash takes off unless said. Source: check value `fabric.shrink.quilting_practice`.
    pub const SHRINKAGE: Self = Self { least: 2.0, most: 5.0 };
    /// None at all.
    pub const NONE: Self = Self { least: 0.0, most: 0.0 };
}

impl Bed {
    /// A bed with such a mattress, as high and hanging as deep as is usual. Sources: a height of 24 in is that of check value
    /// `beds.drop.side_drop_by_height`, half of it, a drop of 12 in, that of `beds.drop12`; in centimetres the nearest that is as round.
    #[must_use]
    pub fn usual(measure: Measure, width: Length, length: Length) -> Self {
        let [height, drop] = match measure {
            Measure::Inch => [24.0, 12.0],
            Measure::Centimetre => [60.0, 30.0],
        }
        .map(Length::new);
        Self {
            standard: None,
            width,
            length,
            height,
            sides: drop,
            foot: drop,
            tuck: Length::ZERO,
            posts: false,
            take_up: PerCent::TAKE_UP,
            shrinkage: PerCent::SHRINKAGE,
        }
    }

    /// The bed that is sold under a name, as high and hanging as deep as is usual.
    #[must_use]
    pub fn standard(measure: Measure, standard: &'static StandardBed) -> Self {
        let [width, length] = standard.mattress(measure);
        Self { standard: Some(standard), ..Self::usual(measure, width, length) }
    }
}

/// How the cloth ends at the two corners of the foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum CornerShape {
    /// Square.
    #[default]
    Square,
    /// Set back: the block in the corner is cut along its diagonal.
    SetBack,
    /// Level: an arc about the corner of the mattress.
    Level,
    /// One straight cut.
    Straight,
    /// Notched: without the square that would hang at the corner, for the posts of a bed.
    Notch,
}

impl CornerShape {
    /// Every one, that with the most cloth first.
    pub const ALL: [Self; 5] = [Self::Square, Self::SetBack, Self::Level, Self::Straight, Self::Notch];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::SetBack => "set-back",
            Self::Level => "level",
            Self::Straight => "straight",
            Self::Notch => "notch",
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Square => tr!("square"),
            Self::SetBack => tr!("set back by half a block"),
            Self::Level => tr!("level hem, an arc"),
            Self::Straight => tr!("cut straight across"),
            Self::Notch => tr!("notched, for bed posts"),
        }
    }

    /// Whether it is drawn from where the mattress ends.
    #[must_use]
    pub fn needs_the_bed(self) -> bool {
        matches!(self, Self::Level | Self::Straight | Self::Notch)
    }
}
