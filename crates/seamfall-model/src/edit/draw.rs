//! A block that was drawn, written into the file.

use super::{EditError, add, put, take_out};
use crate::Drawing;
use toml_edit::{Array, DocumentMut, Item, TableLike, Value};

/// What a block may have beside what is drawn: its frame. All else is written anew, so that nothing of an older drawing is left.
const DRAWN: &[&str] = &["starter", "name", "shape", "size", "angle", "grid", "seams", "patches", "cloths", "overlay"];

pub(super) fn block(doc: &mut DocumentMut, key: &str, drawing: &Drawing) -> Result<(), EditError> {
    let mut entries = drawing.entries();
    let there = doc.get_mut("block").and_then(|blocks| blocks.get_mut(key)).and_then(Item::as_table_like_mut);
    // A block that is called by its key needs no line for it.
    if drawing.name == key && there.as_ref().is_none_or(|table| !table.contains_key("name")) {
        entries.retain(|(each, _)| *each != "name");
    }
    let Some(table) = there else { return add::named(doc, "block", key, &entries) };
    for key in DRAWN {
        if entries.iter().all(|(other, _)| other != key) {
            table.remove(key);
        }
    }
    for (key, value) in entries {
        if is_there(table, key, &value) {
            continue;
        }
        match (table.get_mut(key).and_then(Item::as_array_mut), value) {
            (Some(old), Value::Array(new)) if key == "seams" => keep_comments(old, &new),
            (_, value) => put(table, key, value),
        }
    }
    Ok(())
}

/// Whether a key has this value already, however it is written.
fn is_there(table: &dyn TableLike, key: &str, value: &Value) -> bool {
    table.get(key).and_then(Item::as_value).is_some_and(|old| plain(old) == plain(value))
}

/// Seams that stay keep the comments round them; those that are gone are taken out, and new ones stand where they are drawn.
fn keep_comments(old: &mut Array, new: &Array) {
    for (i, value) in new.iter().enumerate() {
        let same = (i..old.len()).find(|&at| old.get(at).is_some_and(|old| plain(old) == plain(value)));
        match same {
            Some(at) => (i..at).for_each(|_| take_out(old, i)),
            None => old.insert_formatted(i, value.clone()),
        }
    }
    while old.len() > new.len() {
        let comment =
            old.get(new.len()).and_then(|gone| gone.decor().prefix()?.as_str()).unwrap_or_default().trim_end().to_owned();
        take_out(old, new.len());
        // The comment behind the last one that stays hangs before the one that is gone.
        if old.len() == new.len() && comment.contains('#') {
            old.set_trailing(comment + "\n");
        }
    }
    // What is written in several lines closes on one of its own.
    if !old.trailing_comma() && new.len() > 1 {
        old.set_trailing_comma(true);
        old.set_trailing("\n");
    }
}

/// A value without the spaces and comments in it, and numbers as numbers.
fn plain(value: &Value) -> String {
    match value {
        Value::Array(list) => format!("[{}]", list.iter().map(plain).collect::<Vec<_>>().join(",")),
        Value::InlineTable(table) => {
            let entries = table.iter().map(|(key, value)| format!("{key}={}", plain(value)));
            format!("{{{}}}", entries.collect::<Vec<_>>().join(","))
        }
        Value::Integer(number) => number.value().to_string(),
        Value::Float(number) => number.value().to_string(),
        Value::String(text) => format!("{:?}", text.value()),
        Value::Boolean(yes) => yes.value().to_string(),
        Value::Datetime(date) => date.value().to_string(),
    }
}
