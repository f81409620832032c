//! How the edge is finished, what is sewn on last, and the quilt as a cover.

use crate::{ClothId, Length, Measure};

/// All that is decided about the end of the work.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Finishing {
    /// What the edge is.
    pub edge: EdgeFinish,
    /// A tube for a rod.
    pub sleeve: Option<Sleeve>,
    /// A label on the back.
    pub label: Option<Label>,
    /// The quilt as a cover with an insert.
    pub cover: Option<Cover>,
}

/// What the edge of a quilt is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum EdgeFinish {
    /// Straight, as the binding has it, if there is one.
    #[default]
    Straight,
    /// Folded squares in the edge.
    PrairiePoints {
        /// Their cloth.
        cloth: ClothId,
        /// Side of the squares as cut.
        square: Length,
        /// From one point to the next, at most; two thirds of a point's base unless said.
        spacing: Option<Length>,
        /// How they are folded.
        fold: PointFold,
    },
    /// Arcs that stand out, side by side; bound on the bias.
    Scallops(Arcs),
    /// Arcs out and in by turns; bound on the bias.
    Waves(Arcs),
    /// A gathered strip.
    Ruffle {
        /// Its cloth.
        cloth: ClothId,
        /// Finished depth.
        depth: Length,
        /// How many times as long as the edge.
        fullness: f64,
    },
    /// A strip behind the edge, in place of a binding.
    Facing {
        /// Its cloth.
        cloth: ClothId,
        /// Finished depth.
        depth: Length,
    },
    /// A corded or a flat fold in the edge.
    Piping {
        /// Its cloth.
        cloth: ClothId,
        /// How thick the cord is; of a flat fold what shows.
        cord: Length,
        /// Without a cord.
        flat: bool,
    },
}

impl EdgeFinish {
    /// Its word in the file.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::PrairiePoints { .. } => "prairie-points",
            Self::Scallops(_) => "scallops",
            Self::Waves(_) => "waves",
            Self::Ruffle { .. } => "ruffle",
            Self::Facing { .. } => "facing",
            Self::Piping { .. } => "piping",
        }
    }
}

/// Sizes of scallops and waves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arcs {
    /// About how wide each is.
    pub width: Length,
    /// From the highest point to the lowest.
    pub depth: Length,
    /// What a corner takes of either side; worked out unless said.
    pub corner: Option<Length>,
}

/// How prairie points are folded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum PointFold {
    /// Twice from corner to corner: open at one side, each slips into the next.
    #[default]
    Nested,
    /// In half, then both corners to the middle: each lies over the one before.
    Overlapping,
}

impl PointFold {
    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Nested => "nested",
            Self::Overlapping => "overlapping",
        }
    }
}

/// On which thread of the cloth a strip round the edge is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum BindingOn {
    /// From selvage to selvage.
    #[default]
    Straight,
    /// On the bias, from a square.
    Bias,
}

impl BindingOn {
    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::Bias => "bias",
        }
    }
}

/// A tube along the upper edge, for a rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sleeve {
    /// Its cloth.
    pub cloth: ClothId,
    /// Finished depth.
    pub depth: Length,
}

/// A label on the back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Label {
    /// Its cloth.
    pub cloth: ClothId,
    /// Finished width and height.
    pub size: [Length; 2],
}

/// How the long seams of a cover are sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum SeamKind {
    /// Pressed open.
    Open,
    /// Both allowances to one side.
    Plain,
    /// Both allowances overedged together.
    Overedged,
    /// Each allowance folded into the other, sewn down flat.
    Lapped,
    /// Sewn twice, the allowances inside.
    #[default]
    French,
}

impl SeamKind {
    /// All of them, the thinnest first.
    pub const ALL: [Self; 5] = [Self::Open, Self::Plain, Self::Overedged, Self::Lapped, Self::French];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Plain => "plain",
            Self::Overedged => "overedged",
            Self::Lapped => "lapped",
            Self::French => "french",
        }
    }
}

/// The quilt as a cover with an insert.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cover {
    /// Cloth of the other side.
    pub lining: ClothId,
    /// How much larger than the casing the insert is, each way.
    pub larger: Length,
    /// Channels of the insert, at most so wide; none for a sheet of batting.
    pub channel: Option<Length>,
    /// Weight of a loose filling, in grams a square metre.
    pub grams: Option<f64>,
    /// Ties that hold the insert, at most so far apart.
    pub ties: Option<Length>,
    /// Length of the free end of a tie.
    pub tie_length: Length,
    /// A flap that turns over the edge at the head, so deep.
    pub flap: Option<Length>,
    /// How its seams are sewn.
    pub seam: SeamKind,
}

impl Cover {
    /// As it is unless said: an insert an inch (2.5 cm) larger (check value `duvet.ease_larger`), no channels, no ties, French seams; ties
    /// no longer than 3 in (7.5 cm), as the drawstrings of children's coats (check value `beds.infant.drawstring_length`).
    #[must_use]
    pub fn usual(measure: Measure, lining: ClothId) -> Self {
        let size = |inches, centimetres| Length::new(if measure == Measure::Inch { inches } else { centimetres });
        Self {
            lining,
            larger: size(1.0, 2.5),
            channel: None,
            grams: None,
            ties: None,
            tie_length: size(3.0, 7.5),
            flap: None,
            seam: SeamKind::default(),
        }
    }
}
