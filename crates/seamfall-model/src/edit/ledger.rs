//! Small changes of a ledger that leave the rest of its text, comments included, as it was.
//!
//! In: the text, empty while nothing is sewn, and one [`LedgerEdit`]. Out: the new text, read again, or why not. What says nothing
//! new leaves the text as it is, to the byte: a step ticked twice is ticked once. What is sewn is not taken back by the way:
//! a section that hangs in a join does not become less than it was.

use super::{EditError, position_of, put, sewing, tables, would_break};
use crate::{FileError, FileKind, Ledger, Quilt, SewnSection, SewnState, read_ledger};
use std::collections::BTreeMap;
use toml_edit::{Array, DocumentMut, Item, Table, Value};
use tr::tr;

/// A change of the ledger, as the workroom makes it. Sections are named as the plan names them, days are like `2026-03-07`.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
#[expect(missing_docs, reason = "the sentence of each edit says what its fields are")]
pub enum LedgerEdit {
    /// Notes how far sections are, by the word of the file. With `from` only if each of them is still there, or at `state` already.
    State {
        sections: Vec<String>,
        state: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from: Option<String>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        date: Option<String>,
    },
    /// Notes the sides of a section as typed: one, two or four; without them it is not measured.
    Measure {
        section: String,
        sides: Option<Vec<String>>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        date: Option<String>,
    },
    /// Gives sections the places of others; without a place it is their own again.
    Place { places: Vec<(String, Option<String>)> },
    /// Notes who has sections; without a name nobody.
    With { sections: Vec<String>, with: Option<String> },
    /// Notes what there is to say about a section.
    Note { section: String, note: Option<String> },
    /// Notes how the seam between two pieces was pressed: `to` one of them or `open`; without it nothing is known.
    Fall { between: [String; 2], to: Option<String> },
    /// Notes that all that hangs together on one side was joined to all on the other.
    Join {
        between: [Vec<String>; 2],
        #[serde(default, skip_serializing_if = "Option::is_none")]
        date: Option<String>,
    },
    /// Takes such a join back. Sides and sections may be named in any order.
    Unjoin { between: [Vec<String>; 2] },
    /// Follows a change of the quilt: its new name, new names of sections by their old ones, and sections of which nothing sewn is left.
    Rename {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        quilt: Option<String>,
        #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
        sections: BTreeMap<String, String>,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        dropped: Vec<String>,
    },
}

/// The text of the ledger of `quilt` after `edit`, checked by reading it again.
///
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn apply_ledger(text: &str, quilt: &Quilt, edit: &LedgerEdit) -> Result<String, EditError> {
    let before = read_ledger(text, quilt).map_err(EditError::Unreadable)?;
    allowed(&before, edit)?;
    let started = if text.is_empty() { format!("format = 1\nquilt = {}\n", Value::from(&quilt.name)) } else { text.to_owned() };
    let mut doc: DocumentMut = started.parse().map_err(|error: toml_edit::TomlError| {
        let span = error.span().unwrap_or(0..0);
        EditError::Unreadable(FileError::single_of(FileKind::Ledger, text, span, error.message(), None))
    })?;
    change(&mut doc, edit);
    let changed = doc.to_string();
    if let LedgerEdit::Rename { quilt: name, .. } = edit {
        if text.is_empty() || changed == text {
            return Ok(text.to_owned());
        }
        let name = name.clone().unwrap_or_else(|| quilt.name.clone());
        read_ledger(&changed, &Quilt { name, ..quilt.clone() }).map_err(EditError::WouldBreak)?;
        return Ok(changed);
    }
    let after = read_ledger(&changed, quilt).map_err(EditError::WouldBreak)?;
    // Only the day would be another, and it is the day on which it was noted first.
    Ok(if undated(after) == undated(before) { text.to_owned() } else { changed })
}

/// A ledger without its days.
fn undated(ledger: Ledger) -> Ledger {
    let sections = ledger.sections.into_iter().map(|section| SewnSection { date: None, ..section }).collect();
    let joins = ledger.joins.into_iter().map(|join| crate::SewnJoin { date: None, ..join }).collect();
    Ledger { sections, joins, ..ledger }
}

/// Whether an edit goes with what is sewn by now.
fn allowed(ledger: &Ledger, edit: &LedgerEdit) -> Result<(), EditError> {
    let no = |reason: String, help: &str| Err(would_break(reason, help));
    let stands =
        |name: &str| ledger.sections.iter().find(|section| section.name == *name).map_or(SewnState::Planned, |one| one.state);
    match edit {
        LedgerEdit::State { sections, state, from, .. } => {
            for name in sections {
                let now = stands(name);
                if from.as_ref().is_some_and(|from| from != now.word() && state != now.word()) {
                    return no(
                        tr!("{name} is {word} by now", name, word = now.said()),
                        &tr!("look at it as it is now, then make the change again"),
                    );
                }
                let less = SewnState::ALL.iter().any(|each| each.word() == state && *each < now);
                let joined = ledger.joins.iter().any(|join| join.between.iter().flatten().any(|each| each == name));
                if less && joined {
                    return no(
                        tr!("{name} hangs in a join that is sewn and cannot be only {state} again", name, state = said(state)),
                        &tr!("take the join back first"),
                    );
                }
            }
            Ok(())
        }
        LedgerEdit::Join { between, .. } => match ledger.joins.iter().any(|join| same(&join.between, between)) {
            // Said twice is said once.
            true => Ok(()),
            false => match between.iter().any(Vec::is_empty) {
                true => no(tr!("one side of the join is empty"), &tr!("name at least one section on either side")),
                false => Ok(()),
            },
        },
        LedgerEdit::Unjoin { between } if !ledger.joins.iter().any(|join| same(&join.between, between)) => {
            Err(EditError::NoSuch(tr!(
                "{first} and {second} are not joined",
                first = listed(&between[0]),
                second = listed(&between[1])
            )))
        }
        _ => Ok(()),
    }
}

fn change(doc: &mut DocumentMut, edit: &LedgerEdit) {
    match edit {
        LedgerEdit::State { sections, state, date, .. } => {
            // What is in no list is planned anyway.
            let value = |fresh: bool| (!fresh || state != SewnState::Planned.word()).then(|| Value::from(state));
            sections.iter().for_each(|name| set(doc, name, "state", value, date.as_deref()));
        }
        LedgerEdit::Measure { section, sides, date } => {
            let value = sides.as_ref().map(|sides| match &sides[..] {
                [all] => Value::from(all),
                each => each.iter().map(String::as_str).collect::<Array>().into(),
            });
            set(doc, section, "measured", |_| value, date.as_deref());
        }
        LedgerEdit::Place { places } => {
            for (name, at) in places {
                set(doc, name, "at", |_| at.as_ref().filter(|at| *at != name).map(Value::from), None);
            }
        }
        LedgerEdit::With { sections, with } => {
            sections.iter().for_each(|name| set(doc, name, "with", |_| spoken(with.as_ref()), None));
        }
        LedgerEdit::Note { section, note } => set(doc, section, "note", |_| spoken(note.as_ref()), None),
        LedgerEdit::Fall { between, to } => sewing::fall(doc, between, to.as_deref()),
        LedgerEdit::Join { between, date } => join(doc, between, date.as_deref()),
        LedgerEdit::Unjoin { between } => {
            tables(doc, "join").retain(|entry| !same(&sides(entry), between));
            super::drop_when_empty(doc, "join");
        }
        LedgerEdit::Rename { quilt, sections, dropped } => {
            drop_sections(doc, dropped);
            rename(doc, quilt.as_deref(), sections);
        }
    }
}

/// Words to write down; none where there are only spaces.
fn spoken(words: Option<&String>) -> Option<Value> {
    words.filter(|words| !words.trim().is_empty()).map(Value::from)
}

/// A day, as TOML has days; what is none is left for the check to say.
fn day(date: &str) -> Value {
    date.parse::<toml_edit::Datetime>().map_or_else(|_| Value::from(date), Value::from)
}

/// Sets a key of a section, which is added when it is not there (`fresh`) and there is something to set; without a value takes the key
/// away.
fn set(doc: &mut DocumentMut, name: &str, key: &str, value: impl FnOnce(bool) -> Option<Value>, date: Option<&str>) {
    let is = |entry: &Table| entry.get("name").and_then(Item::as_str) == Some(name);
    let found = doc.contains_key("section").then(|| tables(doc, "section").iter().position(is)).flatten();
    let value = value(found.is_none());
    if found.is_none() && value.is_none() {
        return;
    }
    // The first one goes to the head, before falls and joins.
    let after = position_of(doc, "section").or(Some(0));
    let entries = tables(doc, "section");
    let index = found.unwrap_or_else(|| {
        let mut entry = Table::new();
        entry.decor_mut().set_prefix("\n");
        entry.insert("name", Item::Value(name.into()));
        entry.set_position(after);
        entries.push(entry);
        entries.len() - 1
    });
    let entry = entries.get_mut(index).expect("it was found or made just before");
    match value {
        Some(value) => put(entry, key, value),
        None => drop(entry.remove(key)),
    }
    if let Some(date) = date {
        put(entry, "date", day(date));
    }
}

fn join(doc: &mut DocumentMut, between: &[Vec<String>; 2], date: Option<&str>) {
    if doc.contains_key("join") && tables(doc, "join").iter().any(|entry| same(&sides(entry), between)) {
        return;
    }
    let after = position_of(doc, "join");
    let side = |side: &Vec<String>| side.iter().map(String::as_str).collect::<Array>();
    let mut entry = Table::new();
    entry.decor_mut().set_prefix("\n");
    entry.insert("between", Item::Value(between.iter().map(side).collect::<Array>().into()));
    if let Some(date) = date {
        entry.insert("date", Item::Value(day(date)));
    }
    entry.set_position(after);
    tables(doc, "join").push(entry);
}

/// The sides that a join names.
fn sides(entry: &Table) -> [Vec<String>; 2] {
    let side = |number: usize| {
        let list = entry.get("between").and_then(Item::as_array).and_then(|both| both.get(number)).and_then(Value::as_array);
        list.into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    };
    [side(0), side(1)]
}

/// Whether two joins are one, whichever side and section is named first.
fn same(a: &[Vec<String>; 2], b: &[Vec<String>; 2]) -> bool {
    let sorted = |join: &[Vec<String>; 2]| {
        let mut sides = join.clone();
        sides.iter_mut().for_each(|side| side.sort_unstable());
        sides.sort_unstable();
        sides
    };
    sorted(a) == sorted(b)
}

/// Takes sections out of the list and out of joins; a join of which one side is left with nothing goes.
fn drop_sections(doc: &mut DocumentMut, dropped: &[String]) {
    let is_dropped = |name: Option<&str>| name.is_some_and(|name| dropped.iter().any(|each| each == name));
    if doc.contains_key("section") {
        tables(doc, "section").retain(|entry| !is_dropped(entry.get("name").and_then(Item::as_str)));
        super::drop_when_empty(doc, "section");
    }
    if doc.contains_key("join") {
        let joins = tables(doc, "join");
        for entry in joins.iter_mut() {
            let both = entry.get_mut("between").and_then(Item::as_array_mut).into_iter().flat_map(Array::iter_mut);
            both.filter_map(Value::as_array_mut).for_each(|side| side.retain(|name| !is_dropped(name.as_str())));
        }
        joins.retain(|entry| !sides(entry).iter().any(Vec::is_empty));
        super::drop_when_empty(doc, "join");
    }
}

fn rename(doc: &mut DocumentMut, quilt: Option<&str>, sections: &BTreeMap<String, String>) {
    if let Some(name) = quilt {
        put(doc.as_table_mut(), "quilt", name.into());
    }
    let renamed = |value: &mut Value| {
        if let Some(new) = value.as_str().and_then(|old| sections.get(old)) {
            super::replace(value, new.into());
        }
    };
    if doc.contains_key("section") {
        for entry in tables(doc, "section").iter_mut() {
            ["name", "at"].iter().for_each(|key| entry.get_mut(key).and_then(Item::as_value_mut).into_iter().for_each(renamed));
        }
    }
    if doc.contains_key("join") {
        for entry in tables(doc, "join").iter_mut() {
            let both = entry.get_mut("between").and_then(Item::as_array_mut).into_iter().flat_map(Array::iter_mut);
            both.filter_map(Value::as_array_mut).flat_map(Array::iter_mut).for_each(renamed);
        }
    }
}

impl LedgerEdit {
    /// What it did, as a short sentence without a full stop, for the undo button and for who listens.
    #[must_use]
    pub fn said(&self) -> String {
        match self {
            Self::State { sections, state, .. } => format!("{} {}", listed(sections), said(state)),
            Self::Measure { section, sides: Some(sides), .. } => {
                tr!("{section} measured {sides}", section, sides = sides.join(", "))
            }
            Self::Measure { section, sides: None, .. } => tr!("{section} is not measured", section),
            Self::Place { places } => match &places[..] {
                [(section, Some(at))] if section != at => tr!("{section} takes the place of {at}", section, at),
                [(section, _)] => tr!("{section} stands in its own place", section),
                many => tr!("{many} sections placed", many = many.len()),
            },
            Self::With { sections, with: Some(with) } => tr!("{with} has {sections}", with, sections = listed(sections)),
            Self::With { sections, with: None } => tr!("nobody has {sections}", sections = listed(sections)),
            Self::Note { section, note: Some(_) } => tr!("note on {section}", section),
            Self::Note { section, note: None } => tr!("note on {section} taken away", section),
            Self::Fall { between: [first, second], to } => match to.as_deref() {
                None => tr!("{first} and {second}: not known how it is pressed", first, second),
                Some("open") => tr!("{first} and {second} were pressed open", first, second),
                Some(to) => tr!("{first} and {second} were pressed to {to}", first, second, to),
            },
            Self::Join { between: [first, second], .. } => {
                tr!("{first} joined to {second}", first = listed(first), second = listed(second))
            }
            Self::Unjoin { between: [first, second] } => {
                tr!("{first} taken off {second}", first = listed(first), second = listed(second))
            }
            Self::Rename { .. } => tr!("the ledger follows the quilt"),
        }
    }
}

/// A state by its word in the file, as it is said.
fn said(word: &str) -> String {
    SewnState::ALL.into_iter().find(|state| state.word() == word).map_or_else(|| word.to_owned(), SewnState::said)
}

/// `S1`, `S1 and S2`, `S1, S2 and S3`, `S1, S2, S3 and 4 more`.
fn listed(names: &[String]) -> String {
    match names {
        [] => tr!("nothing"),
        [one] => one.clone(),
        [first @ .., last] if names.len() <= 4 => tr!("{first} and {last}", first = first.join(", "), last),
        many => tr!("{first} and {more} more", first = many[..3].join(", "), more = many.len() - 3),
    }
}
