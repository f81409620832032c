//! Joining as it is written.

use super::{At, Typed};
use schemars::JsonSchema;

/// How lap sections are joined.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawJoining {
    /// The order; the plan's choice unless said.
    pub order: Option<RawJoinOrder>,
    /// Whether the batting of one side is caught in the seam; wherever it is thin enough unless said.
    pub catch_batting: Option<bool>,
    /// How thick the batting is; 1/8 in or 0.3 cm unless said.
    pub batting_thickness: Option<At<Typed>>,
    /// Grams that a square metre of batting weighs; 136 unless said, which is 4 oz a square yard.
    #[schemars(range(min = 1, max = 2000))]
    pub batting_weight: Option<At<f64>>,
    /// Grams that a square metre of cloth weighs; 155 unless said.
    #[schemars(range(min = 1, max = 2000))]
    pub cloth_weight: Option<At<f64>>,
    /// How far the fold of the turned backing lies beyond the seam; 0 unless said: it lies on it.
    pub back_overlap: Option<At<Typed>>,
    /// From one pin to the next; 3 in or 7.5 cm unless said.
    pub pin_spacing: Option<At<Typed>>,
    /// Minutes that a foot of a join takes at the machine, with its pins; 2 unless said.
    #[schemars(range(min = 0.1, max = 240))]
    pub machine_minutes_a_foot: Option<At<f64>>,
    /// Minutes that a foot of slip stitch takes; worked out from the pace of quilting unless said.
    #[schemars(range(min = 0.1, max = 240))]
    pub hand_minutes_a_foot: Option<At<f64>>,
    /// Minutes for folding back, cutting back and laying flat, once a join; 10 unless said.
    #[schemars(range(min = 0, max = 240))]
    pub minutes_a_join: Option<At<f64>>,
}

/// Orders of joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawJoinOrder {
    /// Sections into rows, then the rows.
    Rows,
    /// Sections into columns, then the columns.
    Columns,
    /// Always two groups that are as nearly equal as can be.
    Halves,
    /// The one that keeps the weight at the machine lowest.
    Best,
}
