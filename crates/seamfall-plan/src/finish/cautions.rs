//! What to take care of, where the risk arises.
//!
//! In: the quilt and its top. Out: plain sentences with their sources. They inform and forbid nothing; local rules go first.

use crate::set::Top;
use seamfall_model::{Measure, Quilt};

/// Something to take care of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// In plain words.
    pub words: String,
    /// Who says so.
    pub source: &'static str,
}

const INFANTS: &str = "American Academy of Pediatrics, Sleep-Related Infant Deaths, 2022; NHS, Safer sleeping";
const CORDS: &str = "ASTM F1816, written for children's coats; UL Bare Is Best, on cords near a crib";
const SMALL_PARTS: &str = "16 CFR 1501";
const PRACTICE: &str = "common practice";

/// Sizes that a crib or a cot quilt has, in inches: a cot duvet is 120 by 150 cm (check value `duvet.uk.cot_bed`), a crib's
/// mattress about 27 by 52 in.
const CRIB_IN: [(f64, f64); 2] = [(24.0, 48.0), (33.0, 60.0)];

/// A full bed's quilt, in square inches: from there on a wet quilt is more than one pair of arms should lift. Found by trying: two layers
/// of cotton and one of batting weigh about 12 oz a square yard, and hold more than twice that of water.
const HEAVY_SQUARE_IN: f64 = 6_000.0;

/// All that are due.
pub(super) fn of(quilt: &Quilt, top: &Top) -> Vec<Caution> {
    let inch = quilt.measure.inch();
    let (short, long) = (top.size.x.min(top.size.y) / inch, top.size.x.max(top.size.y) / inch);
    let mut all = Vec::new();
    let mut say = |words: String, source| all.push(Caution { words, source });
    if (CRIB_IN[0].0..=CRIB_IN[0].1).contains(&short) && (CRIB_IN[1].0..=CRIB_IN[1].1).contains(&long) {
        say("No quilt or other loose bedding belongs where an infant under twelve months sleeps.".to_owned(), INFANTS);
    }
    if let Some(cover) = &quilt.finish.cover {
        if cover.ties.is_some() {
            let longest = if quilt.measure == Measure::Inch { "3 in" } else { "7.5 cm" };
            let words = format!(
                "No long ties or drawstrings where small children sleep: let no free end be longer than {longest}, and keep every cord 3 ft (1 m) from a crib."
            );
            say(words, CORDS);
        }
        say(
            "Snaps and buttons that come off are small parts: none where children under three years sleep.".to_owned(),
            SMALL_PARTS,
        );
        if cover.grams.is_some() {
            say(
                "Down, feathers, wool and their dust trouble people with allergies: ask who will sleep under it.".to_owned(),
                PRACTICE,
            );
        }
    }
    if short * long >= HEAVY_SQUARE_IN {
        say(
            "A quilt of this size is heavy when it is wet: let the water run off, lift it with two, never by its edge."
                .to_owned(),
            PRACTICE,
        );
    }
    all
}
