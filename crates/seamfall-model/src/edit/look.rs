//! How a cloth looks, changed as a whole: the keys of one kind do not go with those of another.

use super::path::{self, written};
use super::{EditError, NewLook, no_such};
use crate::Quilt;
use toml_edit::{DocumentMut, InlineTable, Item, Value};
use tr::tr;

/// Gives `cloth` the look, or none.
pub(super) fn set(doc: &mut DocumentMut, quilt: &Quilt, cloth: &str, look: Option<&NewLook>) -> Result<(), EditError> {
    let Some(there) = quilt.cloths.iter().find(|each| each.key == cloth) else {
        return Err(no_such(&tr!("cloth"), cloth, quilt.cloths.iter().map(|each| each.key.as_str())));
    };
    let Some(look) = look else {
        let path = ["cloth", cloth, "look"].map(str::to_owned);
        return if there.look.is_some() { path::remove(doc, &path) } else { Ok(()) };
    };
    let mut table = InlineTable::new();
    table.insert("kind", look.kind.as_str().into());
    for (key, value) in &look.with {
        table.insert(key, written(value));
    }
    let owner = doc.get_mut("cloth").and_then(|cloths| cloths.get_mut(cloth)).and_then(Item::as_table_like_mut);
    let owner = owner.expect("the file was read before");
    // A table of its own gives way to a line.
    owner.insert("look", Item::Value(Value::InlineTable(table)));
    Ok(())
}
