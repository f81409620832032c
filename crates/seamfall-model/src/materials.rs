//! What is bought: how cloth comes, backing, batting, binding, practice pieces, thread, and what they cost.

use crate::{BindingOn, ClothId, Length};

/// Money in hundredths of whatever the maker pays in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Price(pub u32);

impl Price {
    /// `12.50`.
    #[must_use]
    pub fn shown(self) -> String {
        shown_money(u64::from(self.0))
    }
}

/// Hundredths as money: `12.50`.
#[must_use]
pub fn shown_money(hundredths: u64) -> String {
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// Parts of a thousand: what cloth loses of its length in the wash.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Shrinkage(pub u16);

impl Shrinkage {
    /// As a share of one.
    #[must_use]
    pub fn share(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// In per cent, as it stands in the file: `3`, `2.5`.
    #[must_use]
    pub fn per_cent(self) -> String {
        crate::decimal(f64::from(self.0) / 10.0, 1)
    }
}

/// A size in which cloth or batting comes: a fat quarter, a pre-cut square or strip, a measured scrap, a package.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What the maker calls it.
    pub name: String,
    /// Usable width, from selvage to selvage or as it lies.
    pub width: Length,
    /// Usable length, along the selvage.
    pub length: Length,
    /// How many there are; as many as are wanted unless said.
    pub count: Option<u32>,
    /// What one costs; what is in hand costs nothing.
    pub price: Price,
}

impl Supply {
    /// Width of the widest, if there are any.
    #[must_use]
    pub fn widest(all: &[Self]) -> Option<Length> {
        all.iter().map(|supply| supply.width).max_by(|a, b| a.value().total_cmp(&b.value()))
    }
}

/// Along which thread of the cloth the length of a strip lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Grain {
    /// Anyhow; from selvage to selvage and joined where it is longer than the cloth is wide.
    #[default]
    Across,
    /// Along the selvage, in one piece.
    Along,
}

impl Grain {
    /// Its word in the file: `across`, `along`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::Along => "along",
        }
    }
}

/// The strip round the finished edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Binding {
    /// Its cloth.
    pub cloth: ClothId,
    /// Width as it is cut, before it is folded.
    pub width: Length,
    /// On which thread it is cut.
    pub on: BindingOn,
}

/// The back of every lap section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Backing {
    /// Its cloth.
    pub cloth: ClothId,
    /// Beyond the cut edge of the section, on each side.
    pub oversize: Length,
}

/// The middle layer of every lap section. Where several ways to buy it are given, the cheapest is taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Batting {
    /// What the maker calls it.
    pub name: String,
    /// Beyond the cut edge of the section, on each side.
    pub oversize: Length,
    /// Off the roll.
    pub roll: Option<Roll>,
    /// Packaged sizes.
    pub packages: Vec<Supply>,
}

/// Batting by the length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roll {
    /// Its width.
    pub width: Length,
    /// What a yard or a metre costs.
    pub price: Option<Price>,
}

/// Pieces to practise the quilting on, and to measure the maker's pace: a front, a batting and a back of the same size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// Cloth of the front.
    pub cloth: ClothId,
    /// Side of the square, as cut.
    pub size: Length,
    /// How many.
    pub count: u32,
}

/// Thread as it is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// Length on one spool.
    pub spool: Length,
    /// What a spool costs.
    pub price: Option<Price>,
}
