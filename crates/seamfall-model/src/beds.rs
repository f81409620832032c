//! Standard beds: their names and the nominal size of their mattress.
//!
//! In: nothing. Out: a list. A name is not a size: makers differ by up to an inch (check values `beds.us_actual`), so that a measured
//! width and length win. Beds that are sold in inches in one place and in centimetres in another have two sizes, and neither is the other
//! converted (check values `beds.uk`).

use crate::{Length, Measure};

/// A bed that is sold under a name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardBed {
    /// Its name in the file: `us queen`.
    pub key: &'static str,
    /// Width and length of the mattress, where it is sold in inches.
    pub inches: Option<[f64; 2]>,
    /// The same where it is sold in centimetres.
    pub centimetres: Option<[f64; 2]>,
    /// Whether infants sleep in it.
    pub infant: bool,
    /// Where the size comes from.
    pub source: &'static str,
}

impl StandardBed {
    /// The bed of this name.
    #[must_use]
    pub fn named(key: &str) -> Option<&'static Self> {
        BEDS.iter().find(|bed| bed.key == key)
    }

    /// Width and length of its mattress: the size of that unit, or the other converted where it is sold in that alone.
    #[must_use]
    pub fn mattress(&self, measure: Measure) -> [Length; 2] {
        let inch = Measure::Centimetre.inch();
        let size = match measure {
            Measure::Inch => self.inches.or_else(|| self.centimetres.map(|size| size.map(|side| side / inch))),
            Measure::Centimetre => self.centimetres.or_else(|| self.inches.map(|size| size.map(|side| side * inch))),
        };
        size.expect("every bed of the list has a size").map(Length::new)
    }
}

const fn inches(key: &'static str, size: [f64; 2], source: &'static str) -> StandardBed {
    StandardBed { key, inches: Some(size), centimetres: None, infant: false, source }
}

const fn centimetres(key: &'static str, size: [f64; 2], source: &'static str) -> StandardBed {
    StandardBed { key, inches: None, centimetres: Some(size), infant: false, source }
}

const fn both(key: &'static str, inches: [f64; 2], centimetres: [f64; 2], source: &'static str) -> StandardBed {
    StandardBed { key, inches: Some(inches), centimetres: Some(centimetres), infant: false, source }
}

const fn infant(bed: StandardBed) -> StandardBed {
    StandardBed { infant: true, ..bed }
}

/// Every bed, country by country, the narrowest first.
pub const BEDS: &[StandardBed] = &[
    infant(inches("us crib", [27.0, 52.0], "check value beds.us_older.crib")),
    inches("us youth", [33.0, 66.0], "check value beds.us_older.youth"),
    inches("us twin", [39.0, 75.0], "check value beds.drop12.twin"),
    inches("us twin xl", [39.0, 80.0], "check value beds.drop12.twin_xl"),
    inches("us full", [54.0, 75.0], "check value beds.us.full"),
    inches("us queen", [60.0, 80.0], "check value beds.drop12.queen"),
    inches("us cal queen", [60.0, 84.0], "check value beds.us.cal_queen"),
    inches("us cal king", [72.0, 84.0], "check value beds.us.cal_king"),
    inches("us king", [76.0, 80.0], "check value beds.us.king"),
    infant(centimetres("uk cot bed", [70.0, 140.0], "common practice")),
    both("uk small single", [30.0, 75.0], [75.0, 190.0], "check value beds.uk.small_single"),
    both("uk single", [36.0, 75.0], [90.0, 190.0], "common practice"),
    both("uk small double", [48.0, 75.0], [120.0, 190.0], "common practice"),
    both("uk double", [54.0, 75.0], [135.0, 190.0], "check value beds.uk.double"),
    both("uk king", [60.0, 78.0], [150.0, 200.0], "check value beds.uk.king"),
    both("uk super king", [72.0, 78.0], [180.0, 200.0], "check value beds.uk.super_king"),
    centimetres("eu single", [90.0, 200.0], "check value beds.eu.single"),
    centimetres("eu double", [140.0, 200.0], "check value beds.eu.double"),
    centimetres("eu king", [160.0, 200.0], "check value beds.eu.king"),
    centimetres("eu super king", [180.0, 200.0], "check value beds.eu.super_king"),
    infant(centimetres("au cot", [69.0, 130.0], "check value beds.au.cot")),
    both("au single", [36.0, 74.0], [92.0, 187.0], "check value beds.au_other.single"),
    both("au long single", [36.0, 80.0], [92.0, 203.0], "check value beds.au.long_single"),
    both("au king single", [42.0, 80.0], [107.0, 203.0], "check value beds.au.king_single"),
    both("au double", [54.0, 74.0], [137.0, 187.0], "check value beds.au_other.double"),
    both("au queen", [60.0, 80.0], [153.0, 203.0], "check value beds.au.queen"),
    both("au king", [72.0, 80.0], [183.0, 203.0], "check value beds.au.king"),
];
