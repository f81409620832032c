//! What is bought, as it is written.

use super::{At, RawBindingOn, Typed};
use schemars::JsonSchema;

/// A size in which cloth or batting comes.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawSupply {
    /// What the maker calls it; its size unless said.
    pub name: Option<At<String>>,
    /// Usable width and length, `22 x 18`: from selvage to selvage, then along the selvage.
    pub size: At<String>,
    /// How many there are; as many as are wanted unless said.
    #[schemars(range(min = 1, max = 10000))]
    pub count: Option<At<i64>>,
    /// What one costs; nothing unless said.
    #[schemars(range(min = 0))]
    pub price: Option<At<f64>>,
}

/// How long strips lie on the cloth.
#[derive(Debug, Clone, Copy, Default, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawGrain {
    /// From selvage to selvage, joined where the cloth is not wide enough.
    #[default]
    Across,
    /// Along the selvage, in one piece.
    Along,
}

/// The strip round the edge.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawBinding {
    /// Its cloth.
    pub cloth: At<String>,
    /// Width as it is cut; 2 1/2 in or 6.5 cm unless said.
    pub width: Option<At<Typed>>,
    /// On which thread it is cut: straight (from selvage to selvage) unless said.
    pub on: Option<RawBindingOn>,
}

/// The back of every lap section.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawBacking {
    /// Its cloth.
    pub cloth: At<String>,
    /// Beyond the cut edge of the section, on each side; 1 in or 2.5 cm unless said.
    pub oversize: Option<At<Typed>>,
}

/// The middle layer of every lap section.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawBatting {
    /// What the maker calls it; `Batting` unless said.
    pub name: Option<At<String>>,
    /// Beyond the cut edge of the section, on each side; 3/4 in or 2 cm unless said.
    pub oversize: Option<At<Typed>>,
    /// Width of the roll.
    pub roll: Option<At<Typed>>,
    /// What a yard or a metre off the roll costs.
    #[schemars(range(min = 0))]
    pub price: Option<At<f64>>,
    /// Packaged sizes.
    #[serde(default)]
    pub packages: Vec<RawSupply>,
}

/// Pieces to practise the quilting on.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawSample {
    /// Cloth of the front.
    pub cloth: At<String>,
    /// Side of the square, as cut; 14 in or 35 cm unless said.
    pub size: Option<At<Typed>>,
    /// How many; 1 unless said.
    #[schemars(range(min = 1, max = 100))]
    pub count: Option<At<i64>>,
}

/// The thread for piecing.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawThread {
    /// Length on one spool, `"200 yd"`.
    pub spool: At<Typed>,
    /// What a spool costs.
    #[schemars(range(min = 0))]
    pub price: Option<At<f64>>,
}
