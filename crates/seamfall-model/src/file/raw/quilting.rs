//! Quilting as it is written.

use super::{At, Typed};
use schemars::JsonSchema;

/// How the quilting is done in the lap.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawLap {
    /// The free margin, from the trimmed edge: 1/2 in to 1 in; 3/4 in or 2 cm unless said.
    pub margin: Option<At<Typed>>,
    /// How far the needle travels unseen between two lines; 1 in or 2.5 cm unless said, 0 for never.
    pub reach: Option<At<Typed>>,
    /// Thread in the needle; 18 in or 45 cm unless said.
    pub needleful: Option<At<Typed>>,
    /// Thread left at either end of a needleful; 3 in or 7.5 cm unless said.
    pub tail: Option<At<Typed>>,
    /// Stitches on the top to an inch; 8 unless said.
    #[schemars(range(min = 1, max = 30))]
    pub stitches_an_inch: Option<At<f64>>,
    /// Minutes that a foot of quilting takes; 6 unless said.
    #[schemars(range(min = 0.1, max = 240))]
    pub minutes_a_foot: Option<At<f64>>,
    /// Hours a week for quilting, which fill the work bag; 7 unless said.
    #[schemars(range(min = 0.25, max = 168))]
    pub hours_a_week: Option<At<f64>>,
    /// How thick the layers are where the needle goes through; 0.1 in or 0.25 cm unless said.
    pub thickness: Option<At<Typed>>,
    /// Farthest apart two lines may be, as the batting allows; 4 in or 10 cm unless said.
    pub largest_gap: Option<At<Typed>>,
}

/// A quilting design and where it goes.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawQuilting {
    /// The key of a block or of a frame, `sashing`, `band 1` (the innermost), or `quilt`. A key that is both is `block KEY` or `frame KEY`.
    pub on: At<String>,
    /// The design.
    pub design: At<RawDesign>,
    /// `outline`: from the seams. `echo`: from one line to the next.
    pub distance: Option<At<Typed>>,
    /// `echo`: how many lines.
    #[schemars(range(min = 1, max = 100))]
    pub count: Option<At<i64>>,
    /// `parallel`, `crossed`: from level, to the left, in degrees; 45 unless said.
    #[schemars(range(min = -360, max = 360))]
    pub angle: Option<At<f64>>,
    /// `parallel`, `crossed`, `stippling`: from one line to the next.
    pub spacing: Option<At<Typed>>,
    /// Motifs: width and height; `path`: the box it is fitted into. `4`, or `4 x 2`.
    pub size: Option<At<Typed>>,
    /// Motifs and `path`: how many side by side.
    #[schemars(range(min = 1, max = 200))]
    pub repeats: Option<At<i64>>,
    /// `path`: the path data of an SVG drawing, what stands in its `d`.
    pub path: Option<At<String>>,
}

/// Designs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawDesign {
    /// Along every seam.
    InTheDitch,
    /// Along the mitred seams of a frame or a band.
    Mitres,
    /// Inside every patch.
    Outline,
    /// Lines that repeat an outline.
    Echo,
    /// Lines side by side.
    Parallel,
    /// Lines both ways.
    Crossed,
    /// An oval.
    Oval,
    /// A circle.
    Circle,
    /// A leaf.
    Leaf,
    /// Two strands that cross.
    Cable,
    /// Quarter circles about a corner.
    Fan,
    /// A spine with lobes.
    Feather,
    /// A grid of arcs.
    Arcs,
    /// One wandering curve.
    Stippling,
    /// The maker's own drawing.
    Path,
}
