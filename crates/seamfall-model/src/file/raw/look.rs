//! How a cloth looks, as it is written.

use super::{At, Typed};
use schemars::JsonSchema;

/// How a cloth looks where it is more than one colour.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawLook {
    /// What is on it.
    pub kind: RawLookKind,
    /// Colour of the stripes, checks or dots: #rrggbb. The ground is the cloth's colour.
    #[schemars(regex(pattern = r"^#[0-9a-fA-F]{6}$"))]
    pub colour: Option<At<String>>,
    /// Width of a stripe, or across a dot; half the repeat unless said, a third of it for dots.
    pub size: Option<At<Typed>>,
    /// From one stripe or dot to the next; 1 in or 2 cm unless said.
    pub repeat: Option<At<Typed>>,
    /// How far the figure is turned to the left, in degrees; 0 unless said: stripes along the selvage.
    #[schemars(range(min = -180, max = 180))]
    pub angle: Option<At<f64>>,
    /// Of a photograph: its file, which lies beside the quilt file.
    pub file: Option<At<String>>,
    /// Of a photograph: how wide the photographed piece of cloth really is.
    pub width: Option<At<Typed>>,
    /// Of a photograph: its pixels across and down.
    pub pixels: Option<At<Vec<i64>>>,
    /// Of a photograph: what is cut off at the left, the top, the right and the bottom, in per cent; nothing unless said. What is left is one repeat.
    pub crop: Option<At<Vec<f64>>>,
}

/// What is on a cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawLookKind {
    /// Stripes.
    Stripes,
    /// Stripes both ways.
    Checks,
    /// Dots.
    Dots,
    /// It is seen on a photograph.
    Photo,
}

/// A motif that is cut for all copies of a patch (fussy cutting).
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawFussy {
    /// The cloth: one with a photograph.
    pub cloth: At<String>,
    /// Part `centre` of block `star`, or patch 3: `star.centre`, `star.p3`.
    pub of: At<String>,
    /// What comes to the middle of the patch, in per cent of the photograph from its left and from its top.
    #[schemars(length(equal = 2))]
    pub at: At<Vec<f64>>,
    /// How far the cloth is turned to the left under the template, in degrees; 0 unless said.
    #[schemars(range(min = -180, max = 180))]
    pub turn: Option<At<f64>>,
}
