//! Plane geometry of straight lines and circular arcs.
//!
//! In: points, edges and closed loops. Out: areas, offsets, lines cut at a
//! margin, the largest gap among lines, and the arrangement of loose edges into faces. Nothing here
//! knows a word of the trade. Axes: x to the right, y up; a loop that encloses its inside runs anticlockwise.
//!
//! Two points closer than [`TOLERANCE`] are one point. Nothing else is approximate: arcs stay arcs throughout.

mod arrange;
mod beside;
mod cell;
mod clip;
mod edge;
mod gap;
mod label;
mod offset;
mod outline;
mod plane;
mod pose;
mod svg_path;

pub use arrange::{ArrangedEdge, Arrangement, Face, LooseEnd, Noded, NodedEdge, Overlap, Source, arrange, node};
pub use beside::Beside;
pub use clip::{Inset, Run};
pub use edge::{Edge, Turn};
pub use gap::{Gap, largest_gap};
pub use kurbo::{Point, Rect, Vec2};
pub use offset::{MITRE_LIMIT, OffsetError, TipTrim, grow};
pub use outline::Loop;
pub use pose::Pose;
pub use svg_path::{SvgPathError, has_far_number, svg_chains};

/// Points nearer to each other than this are one point, in whatever unit the caller works.
///
/// A millionth of an inch or of a centimetre: far below what cloth can show, far above what rounding leaves behind.
pub const TOLERANCE: f64 = 1e-6;
