//! Numbers as the maker wrote them.

use seamfall_model::{GridPoint, decimal};

/// A number to three places.
pub(super) fn number(value: f64) -> String {
    decimal(value, 3)
}

/// A point as it stands in the file: `[3, 4.5]`.
pub(super) fn point(point: GridPoint) -> String {
    format!("[{}, {}]", number(point.u), number(point.v))
}
