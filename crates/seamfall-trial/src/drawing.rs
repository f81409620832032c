//! Drawings that a maker brings, and quilting designs of path data.
//!
//! In: the bytes of an SVG file, or path data alone. Out: a refusal with its reason, or chains of lines that are no more than may be, lie within the size
//! that was asked for, and are path data that is read again.

use seamfall_geom::svg_chains;
use seamfall_model::limits::{PATH_BYTES, PATH_LINES, PATH_TOLERANCE_IN};
use seamfall_photo::drawing::path_data;

/// Box into which chains are fitted, in inches.
const BOX: [f64; 2] = [6.0, 4.0];

pub fn trial(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else { return };
    if !text.contains('<') {
        return chains(text);
    }
    match path_data(data) {
        Ok(path) => {
            assert!(path.len() <= PATH_BYTES + 200 && !path.is_empty(), "{} bytes of path data", path.len());
            assert!(path.starts_with('M'), "path data begins with a move: {path:.40}");
            chains(&path);
        }
        Err(reason) => assert!(!reason.trim().is_empty(), "a drawing is refused without a reason"),
    }
}

fn chains(path: &str) {
    let Ok(chains) = svg_chains(path, BOX[0], BOX[1], PATH_TOLERANCE_IN, PATH_LINES) else { return };
    assert!(chains.iter().map(Vec::len).sum::<usize>() <= PATH_LINES);
    for edge in chains.iter().flatten() {
        for point in [edge.from(), edge.to()] {
            let inside = point.x.abs() <= BOX[0] / 2.0 + 2.0 * PATH_TOLERANCE_IN
                && point.y.abs() <= BOX[1] / 2.0 + 2.0 * PATH_TOLERANCE_IN;
            assert!(inside, "{point:?} lies outside the size that was asked for");
        }
    }
    for chain in &chains {
        assert!(chain.windows(2).all(|two| two[0].to() == two[1].from()), "a chain is drawn without lifting the pen");
    }
}
