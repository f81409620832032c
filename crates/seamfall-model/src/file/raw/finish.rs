//! How the quilt is finished, as it is written.

use super::{At, Typed};
use schemars::JsonSchema;

/// What the edge is.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawFinish {
    /// Straight, with the binding, unless said.
    pub edge: At<RawEdge>,
    /// Cloth of points, ruffle, facing, piping.
    pub cloth: Option<At<String>>,
    /// Points: side of the squares as cut; 4 in or 10 cm unless said.
    pub square: Option<At<Typed>>,
    /// Points: from one to the next, at most; two thirds of a point's base unless said.
    pub spacing: Option<At<Typed>>,
    /// Points: how they are folded; nested unless said.
    pub fold: Option<At<RawFold>>,
    /// Scallops and waves: about how wide each is; 8 in or 20 cm unless said.
    pub width: Option<At<Typed>>,
    /// Scallops and waves, from the highest point to the lowest: 2 in or 5 cm unless said. Ruffle: 3 in or 7.5 cm. Facing: 2 in or 5 cm.
    pub depth: Option<At<Typed>>,
    /// Scallops and waves: what a corner takes of either side; worked out unless said.
    pub corner: Option<At<Typed>>,
    /// Ruffle: how many times as long as the edge; 2 unless said.
    pub fullness: Option<At<f64>>,
    /// Piping: how thick the cord is; 1/8 in or 0.3 cm unless said. Of a flat fold what shows.
    pub cord: Option<At<Typed>>,
    /// Piping: a flat fold without a cord.
    pub flat: Option<At<bool>>,
}

/// Kinds of edges.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawEdge {
    /// Straight.
    Straight,
    /// Folded squares.
    PrairiePoints,
    /// Arcs out.
    Scallops,
    /// Arcs out and in.
    Waves,
    /// A gathered strip.
    Ruffle,
    /// A strip behind the edge.
    Facing,
    /// A corded or flat fold.
    Piping,
}

/// How points are folded.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawFold {
    /// Open at one side.
    Nested,
    /// Open in the middle.
    Overlapping,
}

/// On which thread a binding is cut.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawBindingOn {
    /// From selvage to selvage.
    Straight,
    /// From a square.
    Bias,
}

/// A tube for a rod.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawSleeve {
    /// Its cloth.
    pub cloth: At<String>,
    /// Finished depth; 4 in or 10 cm unless said.
    pub depth: Option<At<Typed>>,
}

/// A label on the back.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawLabel {
    /// Its cloth.
    pub cloth: At<String>,
    /// Finished width and height, `6 x 4`.
    pub size: Option<At<String>>,
}

/// How the seams of a cover are sewn.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawSeamKind {
    /// Pressed open.
    Open,
    /// To one side.
    Plain,
    /// Overedged.
    Overedged,
    /// Lapped and sewn flat.
    Lapped,
    /// Sewn twice.
    French,
}

/// The quilt as a cover with an insert.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawCover {
    /// Cloth of the other side.
    pub lining: At<String>,
    /// How much larger than the casing the insert is; 1 in or 2.5 cm unless said, 0 for as large.
    pub larger: Option<At<Typed>>,
    /// Channels of a loose filling, at most so wide, such as 4 in.
    pub channel: Option<At<Typed>>,
    /// Weight of a loose filling, in grams a square metre.
    pub grams: Option<At<f64>>,
    /// Ties that hold the insert, at most so far apart.
    pub ties: Option<At<Typed>>,
    /// Free end of a tie; 3 in or 7.5 cm unless said.
    pub tie_length: Option<At<Typed>>,
    /// A flap that turns over the edge at the head, so deep.
    pub flap: Option<At<Typed>>,
    /// How its seams are sewn; French unless said.
    pub seam: Option<RawSeamKind>,
}
