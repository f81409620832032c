//! What the maker decided about pressing and making; all else of it is the plan's choice.
//!
//! Pieces are named as the plan names them: `star.p1` a patch of a block, `B3.p1` a patch at one place, `B3` all that stands
//! there, `B3.frame1.top`, `sash.2.3`, `band1.left.2` strips. Whether two pieces lie side by side the plan finds out.

use crate::BlockId;

/// In how many ways the copies of one block may be pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pressings {
    /// In so many, 1 to [`limits::PRESSINGS`](crate::limits::PRESSINGS).
    Shared(u8),
    /// Every copy by itself.
    Own,
}

/// A seam whose fall the maker chose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixedFall {
    /// Names of the two pieces it lies between; they differ.
    pub between: [String; 2],
    /// Where it falls.
    pub to: FallTo,
}

/// Where a seam between two pieces falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FallTo {
    /// To the piece named first.
    First,
    /// To the piece named second.
    Second,
    /// To both sides: it is pressed open.
    Open,
}

impl FixedFall {
    /// Its word in the file: the name of the piece it falls to, or `open`.
    #[must_use]
    pub fn word(&self) -> &str {
        match self.to {
            FallTo::First => &self.between[0],
            FallTo::Second => &self.between[1],
            FallTo::Open => "open",
        }
    }
}

/// A way of making that the maker chose for a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChosenWay {
    /// The block that the unit is part of.
    pub block: BlockId,
    /// A patch of the unit, by its number in the block, from 1.
    pub patch: usize,
    /// How it is made.
    pub way: MakingWay,
}

/// How a unit is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MakingWay {
    /// Every patch cut by itself.
    Plain,
    /// Half- or quarter-square triangles, two from a pair of squares.
    TwoAtATime,
    /// Half-square triangles, eight from a pair of squares.
    EightAtATime,
    /// Flying geese, four from a large square and four small ones.
    FourAtATime,
    /// Strips sewn side by side and cut across.
    StripSet,
}

impl MakingWay {
    /// Its word in the file: `plain`, `two`, `eight`, `four`, `strips`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::TwoAtATime => "two",
            Self::EightAtATime => "eight",
            Self::FourAtATime => "four",
            Self::StripSet => "strips",
        }
    }
}
