//! The ledger: reading with places and suggestions, writing, schema.
//!
//! In: the text of a ledger and the quilt it belongs to. Out: a checked [`Ledger`], or everything that is wrong with it; and the text
//! again. Whether the quilt has the sections and pieces that are named, and whether those lie side by side, the plan alone can know:
//! a ledger outlives changes of the quilt.

use super::check::{Check, NAME_CHARS, shortened};
use super::parse::parse;
use super::problems::{FileError, FileKind, Problems};
use super::raw::*;
use super::sewing;
use super::write::{exact_length, text as quoted};
use crate::*;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::ops::Range;
use tr::tr;

/// Reads the text of the ledger of `quilt`. An empty text is the ledger of a quilt of which nothing has been sewn.
///
/// # Errors
/// All problems that could be found, with their places.
pub fn read_ledger(text: &str, quilt: &Quilt) -> Result<Ledger, FileError> {
    if text.is_empty() {
        return Ok(Ledger::default());
    }
    let raw: RawLedger = parse(FileKind::Ledger, text).map_err(|error| other_format(text).unwrap_or(error))?;
    if *raw.format != 1 {
        return Err(refused(FileKind::Ledger, text, &raw.format));
    }
    let mut problems = Problems::of(FileKind::Ledger);
    let names = Vec::new;
    let mut check = Check { problems: &mut problems, measure: quilt.measure, cloths: names(), blocks: names(), frames: names() };
    let ledger = ledger(&mut check, &raw, quilt);
    if problems.is_empty() { Ok(ledger) } else { Err(problems.finish(text)) }
}

/// JSON Schema of the ledger (as the data model that TOML and JSON share).
///
/// # Panics
/// Never: a schema is made of texts and numbers.
#[must_use]
pub fn ledger_json_schema() -> String {
    let schema = schemars::schema_for!(RawLedger);
    serde_json::to_string_pretty(&schema).expect("a schema is made of texts and numbers") + "\n"
}

/// A ledger as the text of a file, in the order and style of the documentation.
#[must_use]
pub fn write_ledger(ledger: &Ledger, quilt: &Quilt) -> String {
    let mut out = format!("format = 1\nquilt = {}\n", quoted(&quilt.name));
    for section in &ledger.sections {
        self::section(&mut out, quilt, section);
    }
    for fall in &ledger.falls {
        let [first, second] = fall.between.each_ref().map(|name| quoted(name));
        let _ = writeln!(out, "\n[[fall]]\nbetween = [{first}, {second}]\nto = {}", quoted(fall.word()));
    }
    for join in &ledger.joins {
        let side = |side: &Vec<String>| side.iter().map(|name| quoted(name)).collect::<Vec<_>>().join(", ");
        let [first, second] = join.between.each_ref().map(side);
        let _ = writeln!(out, "\n[[join]]\nbetween = [[{first}], [{second}]]");
        line(&mut out, "date", join.date.clone());
    }
    out
}

fn section(out: &mut String, quilt: &Quilt, section: &SewnSection) {
    let _ = writeln!(out, "\n[[section]]\nname = {}\nstate = \"{}\"", quoted(&section.name), section.state.word());
    let each = |sides: &[Length]| {
        format!("[{}]", sides.iter().map(|side| exact_length(*side, quilt.measure)).collect::<Vec<_>>().join(", "))
    };
    line(
        out,
        "measured",
        section.measured.map(|measured| match measured {
            Measured::One(side) => exact_length(side, quilt.measure),
            Measured::Two(sides) => each(&sides),
            Measured::Four(sides) => each(&sides),
        }),
    );
    for (key, value) in [("at", &section.at), ("with", &section.with), ("note", &section.note)] {
        line(out, key, value.as_deref().map(quoted));
    }
    line(out, "date", section.date.clone());
}

fn line(out: &mut String, key: &str, value: Option<String>) {
    if let Some(value) = value {
        let _ = writeln!(out, "{key} = {value}");
    }
}

/// What to say of a file in another format, whose keys need not be those known here.
fn other_format(text: &str) -> Option<FileError> {
    other_format_of(FileKind::Ledger, text)
}

/// The same of a ledger or a class.
pub(super) fn other_format_of(file: FileKind, text: &str) -> Option<FileError> {
    #[derive(serde::Deserialize)]
    struct Head {
        format: At<i64>,
    }
    let Head { format } = toml::from_str(text).ok()?;
    (*format != 1).then(|| refused(file, text, &format))
}

fn refused(file: FileKind, text: &str, format: &At<i64>) -> FileError {
    let reason = tr!("format {it} is not known to this version, which reads format 1", it = **format);
    let help = if **format > 1 {
        tr!("it was written by a newer Seamfall: use that one; nothing was changed")
    } else {
        tr!("write `format = 1`; there was none before it")
    };
    FileError::single_of(file, text, format.span(), reason, help.to_owned())
}

fn ledger(check: &mut Check<'_>, raw: &RawLedger, quilt: &Quilt) -> Ledger {
    if *raw.quilt != quilt.name {
        let reason = tr!(
            "this is the ledger of `{value}`, and the quilt is called `{written}`",
            value = shortened(&raw.quilt),
            written = shortened(&quilt.name)
        );
        let help = tr!(
            "if it is the same quilt under a new name, write `quilt = {quoted}`; else it belongs beside another quilt",
            quoted = quoted(&quilt.name)
        );
        check.problems.add(raw.quilt.span(), reason, help);
    }
    if let Some(section) = raw.section.get(limits::SECTIONS) {
        check.too_many(section.name.span(), raw.section.len(), &tr!("sections"), limits::SECTIONS);
    }
    if let Some(join) = raw.join.get(limits::SECTIONS) {
        check.too_many(join.between.span(), raw.join.len(), &tr!("joins"), limits::SECTIONS);
    }
    let mut seen = BTreeSet::new();
    let sections = raw.section.iter().take(limits::SECTIONS).map(|section| check.section(section, &mut seen)).collect();
    let falls = sewing::pressed(check, &raw.fall);
    let joins = raw.join.iter().take(limits::SECTIONS).filter_map(|join| check.join(join)).collect();
    Ledger { sections, falls, joins }
}

impl Check<'_> {
    fn section<'a>(&mut self, raw: &'a RawSection, seen: &mut BTreeSet<&'a str>) -> SewnSection {
        let name = self.section_name(&raw.name);
        if !seen.insert(&raw.name.0) {
            let reason = tr!("section `{written}` is listed twice", written = shortened(&name));
            let help = tr!("put all that is known of it into one of the two, and take the other away");
            self.problems.add(raw.name.span(), reason, help);
        }
        let state = raw.state.map_or(SewnState::Planned, |state| match state {
            RawState::Planned => SewnState::Planned,
            RawState::Cut => SewnState::Cut,
            RawState::Pieced => SewnState::Pieced,
            RawState::Framed => SewnState::Framed,
            RawState::Layered => SewnState::Layered,
            RawState::Quilted => SewnState::Quilted,
            RawState::Trimmed => SewnState::Trimmed,
            RawState::Joined => SewnState::Joined,
        });
        SewnSection {
            name,
            state,
            measured: raw.measured.as_ref().and_then(|measured| self.measured(measured)),
            at: raw.at.as_ref().map(|at| self.section_name(at)),
            with: raw.with.as_ref().map(|with| self.words(with, &tr!("name"), NAME_CHARS)),
            note: raw.note.as_ref().map(|note| self.note(note)),
            date: raw.date.as_ref().map(|date| self.date(date)),
        }
    }

    fn section_name(&mut self, name: &At<SectionName>) -> String {
        if !is_section(&name.0) {
            let reason = tr!("`{written}` is no name of a section", written = shortened(&name.0));
            let number = name.0.trim().trim_start_matches(['S', 's']).trim_start_matches('0');
            let mended = format!("S{number}");
            let help =
                if is_section(&mended) { tr!("write `{mended}`", mended) } else { tr!("sections are called S1, S2, S3 ...") };
            self.problems.add(name.span(), reason, help);
        }
        name.0.clone()
    }

    /// One side for all, width and height, or all four.
    fn measured(&mut self, raw: &At<RawMeasured>) -> Option<Measured> {
        match &**raw {
            RawMeasured::One(side) => self.side(side, raw.span()).map(Measured::One),
            RawMeasured::Each(list) => {
                let sides: Vec<Length> = list.iter().filter_map(|side| self.side(side, side.span())).collect();
                match (list.len(), &sides[..]) {
                    (2, &[width, height]) => Some(Measured::Two([width, height])),
                    (4, &[bottom, right, top, left]) => Some(Measured::Four([bottom, right, top, left])),
                    (2 | 4, _) => None,
                    (other, _) => {
                        let reason = tr!("`measured` holds {other} sides", other);
                        let help = tr!("write one for all sides, two for width and height, or four: bottom, right, top, left");
                        self.problems.add(raw.span(), reason, help.to_owned());
                        None
                    }
                }
            }
        }
    }

    /// A side that can have been measured; one that cannot is a slip of the pen.
    fn side(&mut self, typed: &Typed, span: Range<usize>) -> Option<Length> {
        let text = match typed {
            Typed::Text(text) => text.clone(),
            Typed::Number(number) => number.to_string(),
        };
        match parse_length(&text, self.measure) {
            Ok(length) => {
                self.between(length, span, "measured", (limits::SHORTEST_IN, limits::SIDE_IN));
                Some(length)
            }
            Err(error) => {
                self.not_a_length(&error, span, "measured");
                None
            }
        }
    }

    /// Words that may take several lines.
    pub(super) fn note(&mut self, note: &At<String>) -> String {
        let other = |c: char| c.is_control() && c != '\n';
        if note.chars().count() > limits::NOTE_CHARS {
            let reason = tr!("the note has more than {most} characters", most = limits::NOTE_CHARS);
            self.problems.add(note.span(), reason, tr!("shorten it"));
        } else if note.chars().any(other) {
            self.problems.add(note.span(), tr!("the note holds a character that cannot be printed"), None);
        }
        (**note).clone()
    }

    pub(super) fn date(&mut self, date: &At<RawDate>) -> String {
        if !is_day(&date.0) {
            let reason = tr!("`{date}` is no day of the calendar", date = shortened(&date.0));
            self.problems.add(date.span(), reason, tr!("write year, month and day, like 2026-03-07"));
        }
        date.0.clone()
    }

    /// One join, or nothing, and a problem, where it names no two sides.
    fn join(&mut self, raw: &RawJoin) -> Option<SewnJoin> {
        let [first, second] = &raw.between[..] else {
            let reason = tr!("`between` names the sections on two sides, not on {between}", between = raw.between.len());
            self.problems.add(raw.between.span(), reason, tr!("write it like [[\"S1\", \"S2\"], [\"S3\"]]"));
            return None;
        };
        let mut seen = BTreeSet::new();
        let between = [first, second].map(|side| {
            if side.is_empty() {
                let help = tr!("name at least one section on either side");
                self.problems.add(side.span(), tr!("one side of the join is empty"), help);
            }
            let names = side.iter().map(|name| {
                if !seen.insert(name.0.as_str()) {
                    let reason = tr!("section `{written}` is named twice in one join", written = shortened(&name.0));
                    self.problems.add(name.span(), reason, tr!("each section hangs on one side"));
                }
                self.section_name(name)
            });
            names.collect::<Vec<_>>()
        });
        Some(SewnJoin { between, date: raw.date.as_ref().map(|date| self.date(date)) })
    }
}

/// `S1`, `S2`, ...: no zeros in front, so that one section has one name.
fn is_section(name: &str) -> bool {
    let number = name.strip_prefix('S').unwrap_or_default();
    (1..=6).contains(&number.len()) && number.bytes().all(|b| b.is_ascii_digit()) && !number.starts_with('0')
}

/// Whether `text` is a day that was or will be. Source: the Gregorian calendar, ISO 8601.
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return false };
    let number = |part: &str, digits: usize| {
        (part.len() == digits && part.bytes().all(|b| b.is_ascii_digit())).then(|| part.parse::<u32>().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2)) else { return false };
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return false,
    };
    (1..=days).contains(&day)
}
