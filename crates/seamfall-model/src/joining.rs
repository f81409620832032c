//! What the maker decided about joining lap sections: the order, the batting, and how she works at it.

use crate::{Lap, Length, Measure};

/// An order in which sections are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum JoinOrder {
    /// Sections into rows, then the rows.
    Rows,
    /// Sections into columns, then the columns.
    Columns,
    /// Always two groups that are as nearly equal as can be.
    Halves,
    /// The one that keeps the weight at the machine lowest over the length sewn.
    Best,
}

impl JoinOrder {
    /// Every one, the simplest first.
    pub const ALL: [Self; 4] = [Self::Rows, Self::Columns, Self::Halves, Self::Best];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rows => "rows",
            Self::Columns => "columns",
            Self::Halves => "halves",
            Self::Best => "best",
        }
    }
}

/// How sections are joined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joining {
    /// The order; the plan's choice unless said.
    pub order: Option<JoinOrder>,
    /// Whether the batting of one side is caught in the seam; wherever it is thin enough unless said.
    pub catch_batting: Option<bool>,
    /// How thick the batting is.
    pub batting_thickness: Length,
    /// Grams that a square metre of batting weighs.
    pub batting_weight: f64,
    /// Grams that a square metre of cloth weighs.
    pub cloth_weight: f64,
    /// How far the fold of the turned backing lies beyond the seam; nothing for a fold that lies on it.
    pub back_overlap: Length,
    /// From one pin to the next.
    pub pin_spacing: Length,
    /// Minutes that a foot of a join takes at the machine, with its pins.
    pub machine_minutes_a_foot: f64,
    /// Minutes that a foot of slip stitch takes; worked out from the pace of quilting unless said.
    pub hand_minutes_a_foot: Option<f64>,
    /// Minutes for folding back, cutting back and laying flat, once a join.
    pub minutes_a_join: f64,
}

impl Joining {
    /// Slip stitches to an inch. Source: check values `lap.slip.hapgood`, `lap.slip.patton`, `lap.slip.gw`: a quarter inch in the fold.
    pub const SLIP_STITCHES_AN_INCH: f64 = 4.0;

    /// How it is done where the file says nothing. Sources: batting of 1/8 in is `fabric.batt.cotton_thickness`, its 136 g a square metre
    /// are 4 oz a square yard (`fabric.batt.poly_4oz_gsm`), and cloth of 155 g is `fabric.weight.from_yards_per_pound`, three yards to the
    /// pound. Pins every 3 in and the minutes are common practice.
    #[must_use]
    pub fn usual(measure: Measure) -> Self {
        let [batting_thickness, pin_spacing] = match measure {
            Measure::Inch => [0.125, 3.0],
            Measure::Centimetre => [0.3, 7.5],
        }
        .map(Length::new);
        Self {
            order: None,
            catch_batting: None,
            batting_thickness,
            batting_weight: 136.0,
            cloth_weight: 155.0,
            back_overlap: Length::ZERO,
            pin_spacing,
            machine_minutes_a_foot: 2.0,
            hand_minutes_a_foot: None,
            minutes_a_join: 10.0,
        }
    }

    /// Minutes that a foot of slip stitch takes: as said, or at the maker's pace of quilting, stitch for stitch.
    #[must_use]
    pub fn hand_pace(&self, lap: &Lap) -> f64 {
        self.hand_minutes_a_foot.unwrap_or(lap.minutes_a_foot * Self::SLIP_STITCHES_AN_INCH / lap.stitches_an_inch)
    }
}
