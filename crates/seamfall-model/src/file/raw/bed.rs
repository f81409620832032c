//! The bed and the corners at its foot, as they are written.

use super::{At, Typed};
use schemars::JsonSchema;

/// The bed that is to be covered.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawBed {
    /// The name it is sold under: `us queen`.
    pub standard: Option<At<String>>,
    /// Width of the mattress; that of the standard unless said.
    pub width: Option<At<Typed>>,
    /// Length of the mattress; that of the standard unless said.
    pub length: Option<At<Typed>>,
    /// Top of the mattress above the floor; 24 in or 60 cm unless said.
    pub height: Option<At<Typed>>,
    /// How far the quilt is to hang at the sides; 12 in or 30 cm unless said.
    pub sides: Option<At<Typed>>,
    /// How far it is to hang at the foot; 12 in or 30 cm unless said.
    pub foot: Option<At<Typed>>,
    /// Cloth for tucking in at the pillows; 0 unless said.
    pub tuck: Option<At<Typed>>,
    /// Whether it has posts at the foot.
    #[serde(default)]
    pub posts: bool,
    /// What quilting takes off the size, in per cent, least and most; 2 to 5 unless said.
    #[schemars(length(equal = 2))]
    pub take_up: Option<At<Vec<f64>>>,
    /// What the first wash takes off it, in per cent, least and most; 2 to 5 unless said.
    #[schemars(length(equal = 2))]
    pub shrinkage: Option<At<Vec<f64>>>,
}

/// The two corners at the foot.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawFootCorners {
    /// Their shape.
    pub shape: At<RawCornerShape>,
}

/// How the cloth ends at a corner.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawCornerShape {
    /// Square.
    Square,
    /// The block in the corner is cut along its diagonal.
    SetBack,
    /// An arc about the corner of the mattress.
    Level,
    /// One straight cut.
    Straight,
    /// Without the square that would hang at the corner.
    Notch,
}
