//! Lengths as people type them.
//!
//! In: a few characters such as `2 1/2`, `2½` or `6,5 cm`. Out: a [`Length`] in the document's unit, or why it is not one.
//! What can be read in two ways is refused, never guessed.

use crate::{Length, Measure};
use tr::tr;

/// Why a typed length was not understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// `6,5` without a unit: a decimal comma to some, a list to others.
    #[error("{}", tr!("`{typed}` can be read in two ways; write it with a point, like `6.5`, or with its unit, like `6,5 cm`", typed))]
    Ambiguous {
        /// What was typed.
        typed: String,
    },
    /// Not a length at all.
    #[error("{}", tr!("`{typed}` is not a length; write it like `2 1/2`, `2.5`, `2½`, `6,5 cm` or `3/8 yd`", typed))]
    NotALength {
        /// What was typed.
        typed: String,
    },
    /// Not a finite number, or beyond anything that is sewn.
    #[error("{}", tr!("`{typed}` is no length that can be sewn; it must lie between 0 and 1,000 yd", typed))]
    OutOfReach {
        /// What was typed.
        typed: String,
    },
}

/// The longest length that is taken: 1,000 yd, in inches.
const LONGEST_IN: f64 = 36_000.0;

/// Characters of the longest text that is looked at; a length needs far fewer.
const LONGEST_TEXT: usize = 60;

/// Reads a length as people type it, in `measure` unless it names its own unit (`in`, `"`, `cm`, `mm`, `m`, `yd`, `ft`).
///
/// # Errors
/// [`LengthError`], which says how to write it.
pub fn parse_length(typed: &str, measure: Measure) -> Result<Length, LengthError> {
    let said = || typed.trim().chars().take(LONGEST_TEXT).collect::<String>();
    let not_a_length = || LengthError::NotALength { typed: said() };
    if typed.len() > 4 * LONGEST_TEXT {
        return Err(not_a_length());
    }
    let text = typed.trim().to_lowercase().replace('\u{2044}', "/");
    let (number, unit) = split_unit(&text).ok_or_else(not_a_length)?;
    if number.contains(',') && (unit.is_none() || thousands(number)) {
        return Err(if decimal(number).is_some() { LengthError::Ambiguous { typed: said() } } else { not_a_length() });
    }
    let (minus, number) = number.strip_prefix('-').map_or((false, number), |rest| (true, rest.trim_start()));
    let value = read_number(number).ok_or_else(not_a_length)?;
    let length = match unit {
        Some(unit) => unit.in_measure(value, measure),
        None => value,
    };
    if minus || !length.is_finite() || length > LONGEST_IN * measure.inch() {
        return Err(LengthError::OutOfReach { typed: said() });
    }
    Ok(Length::new(length))
}

/// A unit that was typed behind a number: a number of inches, or a share of a centimetre.
#[derive(Clone, Copy)]
enum Unit {
    /// Whole inches to one of it.
    Inches(f64),
    /// So many centimetres to one of it.
    Centimetres(f64),
    /// So many of it to a centimetre.
    ToTheCentimetre(f64),
}

impl Unit {
    /// Source of 2.54 and 36: international yard and pound agreement, 1959.
    fn in_measure(self, value: f64, measure: Measure) -> f64 {
        match (self, measure) {
            (Self::Inches(inches), _) => value * inches * measure.inch(),
            (Self::Centimetres(cm), Measure::Centimetre) => value * cm,
            (Self::Centimetres(cm), Measure::Inch) => value * cm / 2.54,
            (Self::ToTheCentimetre(parts), Measure::Centimetre) => value / parts,
            (Self::ToTheCentimetre(parts), Measure::Inch) => value / (parts * 2.54),
        }
    }
}

/// The number and its unit, if it has one; nothing when the unit is unknown.
fn split_unit(text: &str) -> Option<(&str, Option<Unit>)> {
    let number = text.trim_end_matches(|c: char| c.is_alphabetic() || ['"', '″', '”'].contains(&c));
    // Numbers that are words must not be taken for a unit: they are refused as numbers.
    if number.trim_end_matches(['-', '+']).trim().is_empty() {
        return Some((text, None));
    }
    let unit = match &text[number.len()..] {
        "" => None,
        "in" | "inch" | "inches" | "\"" | "″" | "”" => Some(Unit::Inches(1.0)),
        "ft" | "foot" | "feet" => Some(Unit::Inches(12.0)),
        "yd" | "yds" | "yard" | "yards" => Some(Unit::Inches(36.0)),
        "mm" => Some(Unit::ToTheCentimetre(10.0)),
        "cm" => Some(Unit::Centimetres(1.0)),
        "m" => Some(Unit::Centimetres(100.0)),
        _ => return None,
    };
    Some((number.trim_end(), unit))
}

/// Whether the comma could part thousands: `1,000 cm` is a metre hundred to some and a centimetre to others.
fn thousands(number: &str) -> bool {
    number.split_once(',').is_some_and(|(before, after)| after.len() == 3 && !before.trim_matches(['-', '0', ' ']).is_empty())
}

/// A number with or without a fraction: `2.5`, `2 1/2`, `2-1/2`, `2½`, `1/2`, and what only looks like one, `nan` and `inf`.
fn read_number(text: &str) -> Option<f64> {
    if matches!(text, "nan" | "inf" | "+inf" | "infinity") {
        return Some(f64::INFINITY);
    }
    if let Some((last, _)) = text.char_indices().next_back()
        && let Some(fraction) = vulgar(&text[last..])
    {
        let before = text[..last].trim_end();
        return if before.is_empty() { Some(fraction) } else { Some(whole(before)? + fraction) };
    }
    let Some((over, under)) = text.split_once('/') else { return decimal(text) };
    let (before, over) = match over.trim_end().rsplit_once([' ', '-', '\u{a0}', '\u{202f}']) {
        Some((before, over)) => (Some(whole(before.trim_end())?), over),
        None => (None, over.trim_end()),
    };
    let (over, under) = (whole(over)?, whole(under.trim_start())?);
    // A mixed number with an improper fraction is a slip: `2 5/4` is hardly meant.
    if before.is_some() && over >= under && under > 0.0 {
        return None;
    }
    // Nothing over nothing is no number either.
    let fraction = if under == 0.0 { f64::INFINITY } else { over / under };
    Some(before.unwrap_or(0.0) + fraction)
}

/// Digits and nothing else.
fn whole(text: &str) -> Option<f64> {
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    digits.then(|| text.parse().ok())?
}

/// Digits with a point or a comma, or a number written with a power of ten.
fn decimal(text: &str) -> Option<f64> {
    let allowed = |c: char| c.is_ascii_digit() || ['.', ',', 'e', '+', '-'].contains(&c);
    let starts = text.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
    if !starts || !text.chars().all(allowed) || text.matches(['.', ',']).count() > 1 {
        return None;
    }
    text.replace(',', ".").parse().ok()
}

/// A fraction that is one character.
fn vulgar(text: &str) -> Option<f64> {
    let (over, under) = match text {
        "½" => (1.0, 2.0),
        "⅓" => (1.0, 3.0),
        "⅔" => (2.0, 3.0),
        "¼" => (1.0, 4.0),
        "¾" => (3.0, 4.0),
        "⅕" => (1.0, 5.0),
        "⅖" => (2.0, 5.0),
        "⅗" => (3.0, 5.0),
        "⅘" => (4.0, 5.0),
        "⅙" => (1.0, 6.0),
        "⅚" => (5.0, 6.0),
        "⅛" => (1.0, 8.0),
        "⅜" => (3.0, 8.0),
        "⅝" => (5.0, 8.0),
        "⅞" => (7.0, 8.0),
        _ => return None,
    };
    Some(over / under)
}
