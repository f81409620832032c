//! Cautions: what they are, and the one that more than one stage gives.
//!
//! In: sizes. Out: plain sentences with their sources. They inform and forbid nothing; local rules go first.

use seamfall_geom::Vec2;
use seamfall_model::Measure;

/// Something to take care of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// In plain words.
    pub words: String,
    /// Who says so.
    pub source: &'static str,
}

const INFANTS: &str = "American Academy of Pediatrics, Sleep-Related Infant Deaths, 2022; NHS, Safer sleeping";

/// Sizes that a crib or a cot quilt has, in inches: a cot duvet is 120 by 150 cm (check value `duvet.uk.cot_bed`), a crib's
/// mattress about 27 by 52 in.
const CRIB_IN: [(f64, f64); 2] = [(24.0, 48.0), (33.0, 60.0)];

/// Whether a quilt of `size` is one for a crib or a cot.
#[must_use]
pub fn is_crib_sized(size: Vec2, measure: Measure) -> bool {
    let inch = measure.inch();
    let (short, long) = (size.x.min(size.y) / inch, size.x.max(size.y) / inch);
    (CRIB_IN[0].0..=CRIB_IN[0].1).contains(&short) && (CRIB_IN[1].0..=CRIB_IN[1].1).contains(&long)
}

/// Where an infant sleeps.
#[must_use]
pub fn infants() -> Caution {
    Caution {
        words: "No quilt or other loose bedding belongs where an infant under twelve months sleeps.".to_owned(),
        source: INFANTS,
    }
}
