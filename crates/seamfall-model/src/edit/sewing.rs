//! Pressings, falls and ways of making: set, changed, and given back to the plan.

use super::{EditError, Scalar, drop_when_empty, path, position_of, put, tables};
use crate::file::parse_place;
use toml_edit::{Array, DocumentMut, Item, Table, Value};

/// Tables of the file that may stand before falls and ways, the last first.
const BEFORE: &[&str] = &["way", "fall", "band", "sashing", "place", "setting"];

pub(super) fn pressings(doc: &mut DocumentMut, pressings: Option<&Scalar>) -> Result<(), EditError> {
    match pressings {
        Some(value) => path::set(doc, &["pressings".to_owned()], value),
        None => {
            doc.remove("pressings");
            Ok(())
        }
    }
}

/// The pair may be named either way round; an entry that is there keeps its own.
pub(super) fn fall(doc: &mut DocumentMut, [first, second]: &[String; 2], to: Option<&str>) {
    let here = |entry: &Table| {
        let pair = between(entry);
        pair == [first, second] || pair == [second, first]
    };
    let pair: Array = [first, second].into_iter().map(String::as_str).collect();
    entry(doc, "fall", here, ("between", pair.into()), to.map(|to| ("to", to)));
}

pub(super) fn way(doc: &mut DocumentMut, of: &str, way: Option<&str>) {
    let here = |entry: &Table| entry.get("of").and_then(Item::as_str) == Some(of);
    entry(doc, "way", here, ("of", of.into()), way.map(|way| ("use", way)));
}

/// Takes away the falls that name something at a place that does not stay.
pub(super) fn forget_places(doc: &mut DocumentMut, stays: impl Fn(&str) -> bool) {
    let lost = |name: &&str| {
        let owner = name.split('.').next().unwrap_or_default();
        parse_place(owner).is_some() && !stays(owner)
    };
    if doc.contains_key("fall") {
        tables(doc, "fall").retain(|entry| !between(entry).iter().any(lost));
        drop_when_empty(doc, "fall");
    }
}

/// The pieces that a fall names.
fn between(entry: &Table) -> Vec<&str> {
    entry.get("between").and_then(Item::as_array).into_iter().flatten().filter_map(Value::as_str).collect()
}

/// Sets a key of the entry of a list that is `here`, which is made, beginning with `first`, when it is missing; without
/// something to set takes the entry away.
fn entry(
    doc: &mut DocumentMut,
    list: &str,
    here: impl Fn(&Table) -> bool,
    (name, named): (&str, Value),
    set: Option<(&str, &str)>,
) {
    if set.is_none() && !doc.contains_key(list) {
        return;
    }
    let from = BEFORE.iter().position(|key| *key == list).unwrap_or(0);
    let after = BEFORE[from..].iter().find_map(|key| position_of(doc, key));
    let entries = tables(doc, list);
    let found = entries.iter().position(here);
    match (set, found) {
        (Some((key, value)), Some(index)) => {
            let entry = entries.get_mut(index).expect("it was found just before");
            put(entry, key, value.into());
        }
        (Some((key, value)), None) => {
            let mut entry = Table::new();
            entry.decor_mut().set_prefix("\n");
            entry.insert(name, Item::Value(named));
            entry.insert(key, Item::Value(value.into()));
            entry.set_position(after);
            entries.push(entry);
        }
        (None, Some(index)) => {
            entries.remove(index);
            drop_when_empty(doc, list);
        }
        (None, None) => {}
    }
}
