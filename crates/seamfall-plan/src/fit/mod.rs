//! From a bed to the size of its quilt, and how a quilt hangs on it.
//!
//! In: a bed; the drops. Out so far: the edge of its [`corner`]s. It stands before every other stage and draws nothing.

pub mod corner;

pub use corner::{CornerCut, Drops, corner_cut, corner_edge};
