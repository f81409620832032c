//! What to take care of, where the risk arises.
//!
//! In: the quilt and its top. Out: plain sentences with their sources. They inform and forbid nothing; local rules go first.

use crate::caution::{self, Caution};
use crate::set::Top;
use seamfall_model::{Measure, Quilt, mark};
use tr::tr;

const CORDS: &str = "ASTM F1816, written for children's coats; UL Bare Is Best, on cords near a crib";
const SMALL_PARTS: &str = "16 CFR 1501";
const PRACTICE: &str = mark!("common practice");

/// A full bed's quilt, in square inches: from there on a wet quilt is more than one pair of arms should lift. Found by trying: two layers
/// of cotton and one of batting weigh about 12 oz a square yard, and hold more than twice that of water.
const HEAVY_SQUARE_IN: f64 = 6_000.0;

/// All that are due.
pub(super) fn of(quilt: &Quilt, top: &Top) -> Vec<Caution> {
    let inch = quilt.measure.inch();
    let (short, long) = (top.size.x.min(top.size.y) / inch, top.size.x.max(top.size.y) / inch);
    let of_a_crib = quilt.bed.is_some_and(|bed| bed.standard.is_some_and(|bed| bed.infant));
    let mut all = Vec::new();
    if of_a_crib || caution::is_crib_sized(top.size, quilt.measure) {
        all.push(caution::infants());
    }
    let mut say = |title, words: String, source| all.push(Caution { title, words: words.into(), source });
    if let Some(cover) = &quilt.finish.cover {
        if cover.ties.is_some() {
            let longest = if quilt.measure == Measure::Inch { "3 in" } else { "7.5 cm" };
            let words = tr!(
                "No long ties or drawstrings where small children sleep: let no free end be longer than {longest}, and keep every cord 3 ft (1 m) from a crib.",
                longest
            );
            say(mark!("Ties"), words, CORDS);
        }
        let words = tr!("Snaps and buttons that come off are small parts: none where children under three years sleep.");
        say(mark!("Small parts"), words, SMALL_PARTS);
    }
    if short * long >= HEAVY_SQUARE_IN {
        let words =
            tr!("A quilt of this size is heavy when it is wet: let the water run off, lift it with two, never by its edge.");
        say(mark!("Lifting"), words, PRACTICE);
    }
    if quilt.finish.cover.is_some_and(|cover| cover.grams.is_some()) {
        all.push(caution::FIBRES);
    }
    all
}
