//! Numbers as the maker wrote them.

use seamfall_model::GridPoint;

/// A number to three places, without trailing zeros.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A point as it stands in the file: `[3, 4.5]`.
pub(super) fn point(point: GridPoint) -> String {
    format!("[{}, {}]", number(point.u), number(point.v))
}
