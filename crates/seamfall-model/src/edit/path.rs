//! Single values by their path in the file.

use super::{EditError, Scalar, drop_when_empty, no_such, put, put_inline, replace, take_out};
use crate::Quilt;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};
use tr::tr;

/// Keys whose value is a list.
const LISTS: &[&str] = &[
    "strips", "from", "packages", "band", "place", "fall", "way", "quilting", "between", "overlay", "outline", "seams",
    "pattern", "grid", "arc", "centre", "crop",
];

/// Steps of the longest path that a quilt file has, and some.
const DEEPEST: usize = 12;

pub(super) fn paint(doc: &mut DocumentMut, quilt: &Quilt, block: &str, part: &str, cloth: &str) -> Result<(), EditError> {
    let Some(design) = quilt.blocks.iter().find(|one| one.key == block) else {
        return Err(no_such(&tr!("block"), block, quilt.blocks.iter().map(|one| one.key.as_str())));
    };
    if !design.parts.iter().any(|one| one.name == part) {
        let names = design.parts.iter().map(|one| one.name.as_str());
        return Err(no_such(&tr!("part in block `{block}` called", block), part, names));
    }
    if !quilt.cloths.iter().any(|one| one.key == cloth) {
        return Err(no_such(&tr!("cloth"), cloth, quilt.cloths.iter().map(|one| one.key.as_str())));
    }
    let path = ["block", block, "cloths", part].map(str::to_owned);
    // A part named like its cloth needs no line.
    if part == cloth && get(doc, &path).is_none() {
        return Ok(());
    }
    set(doc, &path, &Scalar::Text(cloth.to_owned()))
}

/// What stands at a path of plain keys.
fn get<'a>(doc: &'a DocumentMut, path: &[String]) -> Option<&'a Item> {
    path.iter().try_fold(doc.as_item(), |item, key| item.get(key.as_str()))
}

pub(super) fn set(doc: &mut DocumentMut, path: &[String], value: &Scalar) -> Result<(), EditError> {
    if path.is_empty() || path.len() > DEEPEST {
        return Err(nothing_there(path));
    }
    let value = written(value);
    in_item(doc.as_item_mut(), path, 0, value).ok_or_else(|| nothing_there(path))
}

/// A value as the file has it.
pub(super) fn written(value: &Scalar) -> Value {
    match value {
        Scalar::Bool(yes) => Value::from(*yes),
        Scalar::Number(number) => number_value(*number),
        Scalar::Text(text) => Value::from(text.as_str()),
        Scalar::Numbers(numbers) => Value::Array(numbers.iter().map(|number| number_value(*number)).collect()),
    }
}

/// Whole numbers are written as such: `columns = 4`.
pub(crate) fn number_value(number: f64) -> Value {
    if number.fract() == 0.0 && number.abs() < 9e15 {
        #[expect(clippy::cast_possible_truncation, reason = "it is whole and below 2^53, where every whole number is exact")]
        return Value::from(number as i64);
    }
    Value::from(number)
}

/// Sets the value at `path[at..]` below `item`; nothing when a position lies beyond its list.
fn in_item(item: &mut Item, path: &[String], at: usize, new: Value) -> Option<()> {
    let Some(key) = path.get(at) else {
        match item {
            Item::Value(old) => replace(old, new),
            _ => *item = Item::Value(new),
        }
        return Some(());
    };
    match item {
        Item::Table(table) => {
            if at + 1 == path.len() {
                put(table, key, new);
                return Some(());
            }
            if !table.contains_key(key) {
                table.insert(key, fresh(path, at));
            }
            in_item(table.get_mut(key)?, path, at + 1, new)
        }
        Item::ArrayOfTables(list) => {
            let position: usize = key.parse().ok()?;
            if position == list.len() {
                let mut table = Table::new();
                table.decor_mut().set_prefix("\n");
                list.push(table);
            }
            let table = list.get_mut(position)?;
            let key = path.get(at + 1)?;
            if at + 2 == path.len() {
                put(table, key, new);
                return Some(());
            }
            if !table.contains_key(key) {
                table.insert(key, fresh(path, at + 1));
            }
            in_item(table.get_mut(key)?, path, at + 2, new)
        }
        Item::Value(value) => in_value(value, path, at, new),
        Item::None => None,
    }
}

/// Sets the value at `path[at..]` inside an inline table or a list.
fn in_value(value: &mut Value, path: &[String], at: usize, new: Value) -> Option<()> {
    let Some(key) = path.get(at) else {
        replace(value, new);
        return Some(());
    };
    match value {
        Value::InlineTable(table) => {
            if !table.contains_key(key) {
                let value = if at + 1 == path.len() { new.clone() } else { fresh_value(path, at) };
                put_inline(table, key, value);
            }
            in_value(table.get_mut(key)?, path, at + 1, new)
        }
        Value::Array(list) => {
            let position: usize = key.parse().ok()?;
            if position == list.len() {
                list.push(if at + 1 == path.len() { new.clone() } else { fresh_value(path, at) });
            }
            in_value(list.get_mut(position)?, path, at + 1, new)
        }
        // A word gives way to a table: `corners` to `corners.squares`.
        _ => {
            replace(value, InlineTable::new().into());
            in_value(value, path, at, new)
        }
    }
}

/// What is made for `path[at]`, which is missing and has something below it.
fn fresh(path: &[String], at: usize) -> Item {
    let named = ["cloth", "block", "frame"].contains(&path[0].as_str());
    match (at, path[at].as_str()) {
        (0, "band" | "place" | "fall" | "way") => Item::ArrayOfTables(ArrayOfTables::new()),
        (0, _) | (1, _) if at == 0 || named => {
            let mut table = Table::new();
            table.set_implicit(at == 0 && named);
            table.decor_mut().set_prefix("\n");
            Item::Table(table)
        }
        _ => Item::Value(fresh_value(path, at)),
    }
}

fn fresh_value(path: &[String], at: usize) -> Value {
    let last_key = path[at].as_str();
    if LISTS.contains(&last_key) { Array::new().into() } else { InlineTable::new().into() }
}

pub(super) fn remove(doc: &mut DocumentMut, path: &[String]) -> Result<(), EditError> {
    let (Some(last), 1..=DEEPEST) = (path.last(), path.len()) else { return Err(nothing_there(path)) };
    let owner = &path[..path.len() - 1];
    let gone = at(doc.as_item_mut(), owner).is_some_and(|item| match item {
        Below::Table(table) => table.remove(last).is_some(),
        Below::Tables(list) => {
            let position = last.parse().ok().filter(|position| *position < list.len());
            position.map(|position: usize| list.remove(position)).is_some()
        }
        Below::List(list) => {
            let position = last.parse().ok().filter(|position| *position < list.len());
            position.map(|position| take_out(list, position)).is_some()
        }
    });
    if !gone {
        return Err(nothing_there(path));
    }
    // The last of the bands takes the heading with it.
    if let [key, _] = path {
        drop_when_empty(doc, key);
    }
    Ok(())
}

/// Something that holds other things.
enum Below<'a> {
    Table(&'a mut dyn toml_edit::TableLike),
    Tables(&'a mut ArrayOfTables),
    List(&'a mut Array),
}

/// What stands at `path` below `item`, if it holds other things.
fn at<'a>(item: &'a mut Item, path: &[String]) -> Option<Below<'a>> {
    let Some((key, rest)) = path.split_first() else {
        return match item {
            Item::ArrayOfTables(list) => Some(Below::Tables(list)),
            Item::Value(Value::Array(list)) => Some(Below::List(list)),
            item => item.as_table_like_mut().map(Below::Table),
        };
    };
    match item {
        Item::ArrayOfTables(list) => {
            let table = list.get_mut(key.parse().ok()?)?;
            match rest.split_first() {
                Some((key, rest)) => at(table.get_mut(key)?, rest),
                None => Some(Below::Table(table)),
            }
        }
        Item::Value(value) => at_value(value, path),
        item => at(item.as_table_like_mut()?.get_mut(key)?, rest),
    }
}

fn at_value<'a>(value: &'a mut Value, path: &[String]) -> Option<Below<'a>> {
    let Some((key, rest)) = path.split_first() else {
        return match value {
            Value::Array(list) => Some(Below::List(list)),
            Value::InlineTable(table) => Some(Below::Table(table)),
            _ => None,
        };
    };
    match value {
        Value::Array(list) => at_value(list.get_mut(key.parse().ok()?)?, rest),
        Value::InlineTable(table) => at_value(table.get_mut(key)?, rest),
        _ => None,
    }
}

fn nothing_there(path: &[String]) -> EditError {
    let steps: Vec<_> = path.iter().take(DEEPEST).map(String::as_str).collect();
    EditError::NoSuch(tr!("there is nothing at `{steps}` in the file", steps = steps.join(".")))
}
