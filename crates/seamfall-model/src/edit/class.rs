//! Small changes of a class that leave the rest of its text, comments included, as it was.
//!
//! In: the text of a class and one [`ClassEdit`]. Out: the new text, read again, or why not. Students, lessons and items are told by their
//! number from 0, as they stand in the file.

use super::{EditError, path, position_of, tables, would_break};
use crate::{FileError, FileKind, Quilt, Scalar, read_class};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};
use tr::tr;

/// A change of a class, as the workroom makes it.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
#[expect(missing_docs, reason = "the sentence of each edit says what its fields are")]
pub enum ClassEdit {
    /// Sets one value by its path in the file, e.g. `["student","0","rows"]` to 5; numbers in a path are positions from 0.
    Set { path: Vec<String>, value: Scalar },
    /// Takes away a key or an entry; a key that is not there is away already.
    Remove { path: Vec<String> },
    /// Sets how large a student's quilt is: a bed that it covers, or rows and columns, or neither.
    Size {
        student: usize,
        #[serde(default)]
        rows: Option<u32>,
        #[serde(default)]
        columns: Option<u32>,
        #[serde(default)]
        covers: Option<String>,
    },
    /// Gives a student cloth `to` instead of `from`; without one the quilt's own again.
    Swap {
        student: usize,
        from: String,
        #[serde(default)]
        to: Option<String>,
    },
    /// Adds a cloth that the quilt does not have.
    AddCloth { key: String, name: String, colour: String },
    /// Adds a student.
    AddStudent { name: String },
    /// Adds a lesson behind the others.
    AddLesson { work: Vec<String> },
    /// Sets what a lesson works at.
    Work { lesson: usize, work: Vec<String> },
    /// Adds a tool or whatever else is brought.
    AddItem { name: String, by: String },
    /// Sets the work that an item is for; none means all.
    ItemWork { item: usize, work: Vec<String> },
    /// Sets the days without a lesson.
    Without { days: Vec<String> },
    /// Follows the quilt to a new name.
    Rename { quilt: String },
}

/// The text of a class of `quilt` after `edit`, checked by reading it again.
///
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn apply_class(text: &str, quilt: &Quilt, edit: &ClassEdit) -> Result<String, EditError> {
    if !matches!(edit, ClassEdit::Rename { .. }) {
        read_class(text, quilt).map_err(EditError::Unreadable)?;
    }
    let mut doc: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| {
        let span = error.span().unwrap_or(0..0);
        EditError::Unreadable(FileError::single_of(FileKind::Class, text, span, error.message(), None))
    })?;
    change(&mut doc, edit)?;
    let changed = doc.to_string();
    read_class(&changed, quilt).map_err(EditError::WouldBreak)?;
    Ok(changed)
}

fn change(doc: &mut DocumentMut, edit: &ClassEdit) -> Result<(), EditError> {
    match edit {
        ClassEdit::Set { path, value } => path::set(doc, path, value),
        ClassEdit::Remove { path } => match path::remove(doc, path) {
            Err(EditError::NoSuch(_)) if path.len() != 2 => Ok(()),
            done => done,
        },
        ClassEdit::Size { student, rows, columns, covers } => {
            let entry = entry(doc, "student", *student)?;
            let number = |count: &u32| Value::from(i64::from(*count));
            put(entry, "rows", rows.as_ref().map(number));
            put(entry, "columns", columns.as_ref().map(number));
            put(entry, "covers", covers.as_ref().map(Value::from));
            Ok(())
        }
        ClassEdit::Swap { student, from, to } => {
            swap(entry(doc, "student", *student)?, from, to.as_deref());
            Ok(())
        }
        ClassEdit::AddCloth { key, name, colour } => {
            let mut put = |last: &str, value: &str| {
                path::set(doc, &["cloth", key, last].map(str::to_owned), &Scalar::Text(value.to_owned()))
            };
            put("name", name)?;
            put("colour", colour)
        }
        ClassEdit::AddStudent { name } => {
            add(doc, "student", &[("name", name.into())]);
            Ok(())
        }
        ClassEdit::AddLesson { work } => {
            add(doc, "lesson", &[("work", words(work))]);
            Ok(())
        }
        ClassEdit::Work { lesson, work } => {
            put(entry(doc, "lesson", *lesson)?, "work", Some(words(work)));
            Ok(())
        }
        ClassEdit::AddItem { name, by } => {
            add(doc, "item", &[("name", name.into()), ("by", by.into())]);
            Ok(())
        }
        ClassEdit::ItemWork { item, work } => {
            put(entry(doc, "item", *item)?, "work", (!work.is_empty()).then(|| words(work)));
            Ok(())
        }
        ClassEdit::Without { days } => {
            let days: Array = days.iter().map(|day| Value::from(day.as_str())).collect();
            let schedule = doc.get_mut("schedule").and_then(Item::as_table_like_mut);
            let schedule = schedule.ok_or_else(|| EditError::NoSuch(tr!("there is no schedule")))?;
            super::put(schedule, "without", Value::Array(days));
            Ok(())
        }
        ClassEdit::Rename { quilt } => path::set(doc, &["quilt".to_owned()], &Scalar::Text(quilt.clone())),
    }
}

fn words(all: &[String]) -> Value {
    Value::Array(all.iter().map(|word| Value::from(word.as_str())).collect())
}

fn entry<'a>(doc: &'a mut DocumentMut, key: &str, number: usize) -> Result<&'a mut Table, EditError> {
    let count = tables(doc, key).len();
    if number >= count {
        return Err(would_break(
            tr!("there is no {key} {number}, only {count}", key, number = number + 1, count),
            &tr!("look at the class as it is now"),
        ));
    }
    Ok(tables(doc, key).get_mut(number).expect("it was counted just before"))
}

/// Sets a key, or takes it away.
fn put(table: &mut Table, key: &str, value: Option<Value>) {
    match value {
        Some(value) => super::put(table, key, value),
        None => drop(table.remove(key)),
    }
}

fn swap(student: &mut Table, from: &str, to: Option<&str>) {
    let swaps = student.entry("swap").or_insert_with(|| Item::Value(InlineTable::new().into()));
    if let Some(swaps) = swaps.as_table_like_mut() {
        match to {
            Some(to) => super::put(swaps, from, to.into()),
            None => drop(swaps.remove(from)),
        }
        if swaps.is_empty() {
            student.remove("swap");
        }
    }
}

/// Adds an entry behind the others of its kind.
fn add(doc: &mut DocumentMut, key: &str, entries: &[(&str, Value)]) {
    let place = position_of(doc, key);
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    for (name, value) in entries {
        table.insert(name, Item::Value(value.clone()));
    }
    if let Some(place) = place {
        table.set_position(Some(place));
    }
    tables(doc, key).push(table);
}
