//! Pressings, falls and ways of making as they are written.

use super::At;
use schemars::JsonSchema;

/// In how many ways the copies of one block may be pressed: 1 to 4, or `own`, every copy by itself.
#[derive(Debug, Clone, serde::Deserialize, JsonSchema)]
#[serde(untagged, expecting = "it is a whole number from 1 to 4, or \"own\"")]
#[schemars(inline)]
pub(in crate::file) enum RawPressings {
    /// In so many.
    Count(#[schemars(range(min = 1, max = 4))] i64),
    /// `own`.
    Word(#[schemars(extend("const" = "own"))] String),
}

/// A seam that falls as it is said here.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawFall {
    /// Names of the two pieces it lies between.
    #[schemars(length(equal = 2))]
    pub between: At<Vec<At<String>>>,
    /// The one of the two it falls to, or `open`: pressed open.
    pub to: At<String>,
}

/// How a unit is made.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawWay {
    /// A patch of the unit: `star.p3` is patch 3 of block `star`.
    #[schemars(regex(pattern = r"^[a-z0-9][a-z0-9-]{0,39}\.p[1-9][0-9]{0,5}$"))]
    pub of: At<String>,
    /// How it is made.
    #[serde(rename = "use")]
    pub way: RawMakingWay,
}

/// Ways of making.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawMakingWay {
    /// Every patch cut by itself.
    Plain,
    /// Half- or quarter-square triangles, two at a time.
    Two,
    /// Half-square triangles, eight at a time.
    Eight,
    /// Flying geese, four at a time.
    Four,
    /// Strips sewn side by side and cut across.
    Strips,
}
