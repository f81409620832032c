//! Cloths changed wherever they are used, several at once.
//!
//! Every reference is followed: parts of blocks, swaps of single places, frames, sashing, bands, setting, binding, backing and the edge. The cloths
//! themselves stay as they are described.

use super::{EditError, no_such, place, put_inline, would_break};
use crate::{ClothId, Quilt, Scalar, place_name};
use toml_edit::{DocumentMut, InlineTable, Item, Value};
use tr::tr;

/// Keys whose value is the key of a cloth, outside of blocks and places.
const REFERENCES: [&str; 6] = ["cloth", "squares", "cornerstones", "triangles", "filler", "lining"];

/// Uses instead of the first cloth of each pair the second, all at once: two pairs with the same cloths exchange them.
pub(super) fn recolour(doc: &mut DocumentMut, quilt: &Quilt, pairs: &[(String, String)]) -> Result<(), EditError> {
    let id = |key: &String| {
        let found = quilt.cloths.iter().position(|cloth| cloth.key == *key);
        found.map(ClothId).ok_or_else(|| no_such(&tr!("cloth"), key, quilt.cloths.iter().map(|cloth| cloth.key.as_str())))
    };
    let pairs: Vec<(ClothId, ClothId)> =
        pairs.iter().map(|(from, to)| Ok((id(from)?, id(to)?))).collect::<Result<_, EditError>>()?;
    if let Some((from, _)) =
        pairs.iter().enumerate().find(|(i, pair)| pairs[..*i].iter().any(|other| other.0 == pair.0)).map(|(_, pair)| pair)
    {
        let reason = tr!("two cloths are to take the place of `{cloths}`", cloths = quilt.cloths[from.0].key);
        return Err(would_break(reason, &tr!("name one for each")));
    }
    let after = |cloth: ClothId| pairs.iter().find(|(from, _)| *from == cloth).map_or(cloth, |(_, to)| *to);
    let key = |cloth: ClothId| quilt.cloths[cloth.0].key.as_str();
    places(doc, quilt, &after, &key)?;
    for block in &quilt.blocks {
        for part in block.parts.iter().filter(|part| after(part.cloth) != part.cloth) {
            let path = ["block", &block.key, "cloths", &part.name].map(str::to_owned);
            super::path::set(doc, &path, &Scalar::Text(key(after(part.cloth)).to_owned()))?;
        }
    }
    let renamed = |old: &str| quilt.cloths.iter().position(|cloth| cloth.key == old).map(|at| key(after(ClothId(at))));
    for (name, item) in doc.iter_mut() {
        if !["cloth", "block", "place", "fussy"].contains(&name.get()) {
            follow(item, &renamed);
        }
    }
    Ok(())
}

/// Swaps of single places, told anew in the cloths that their blocks will have.
fn places<'q>(
    doc: &mut DocumentMut,
    quilt: &Quilt,
    after: &impl Fn(ClothId) -> ClothId,
    key: &impl Fn(ClothId) -> &'q str,
) -> Result<(), EditError> {
    for (row, places) in quilt.setting.places.iter().enumerate() {
        for (number, here) in places.iter().enumerate().filter(|(_, here)| !here.swaps.is_empty()) {
            let mut swaps: Vec<(ClothId, ClothId)> = Vec::new();
            let parts = quilt.blocks[here.block.0].parts.iter().map(|part| part.cloth);
            for usual in parts.chain(here.swaps.iter().map(|(from, _)| *from)) {
                let seen = here.swaps.iter().find(|(from, _)| *from == usual).map_or(usual, |(_, to)| *to);
                let (usual, seen) = (after(usual), after(seen));
                match swaps.iter().find(|(from, _)| *from == usual) {
                    Some((_, other)) if *other != seen => {
                        let name = place_name(row, number);
                        let reason = tr!(
                            "{name} has `{other}` and `{seen}` where its block would have `{usual}` alone",
                            name,
                            other = key(*other),
                            seen = key(seen),
                            usual = key(usual)
                        );
                        return Err(would_break(
                            reason,
                            &tr!("give {name} the cloths of its block first, or exchange the two cloths", name),
                        ));
                    }
                    Some(_) => {}
                    None => swaps.push((usual, seen)),
                }
            }
            swaps.retain(|(usual, seen)| usual != seen);
            let mut table = InlineTable::new();
            swaps.iter().for_each(|(usual, seen)| put_inline(&mut table, key(*usual), key(*seen).into()));
            place::set_swaps(doc, (row, number), table);
        }
    }
    Ok(())
}

/// Follows every reference below an item.
fn follow<'q>(item: &mut Item, renamed: &impl Fn(&str) -> Option<&'q str>) {
    match item {
        Item::ArrayOfTables(list) => {
            for table in list.iter_mut() {
                table.iter_mut().for_each(|(key, item)| follow_key(key.get(), item, renamed));
            }
        }
        Item::Value(value) => follow_value(value, renamed),
        Item::Table(table) => table.iter_mut().for_each(|(key, item)| follow_key(key.get(), item, renamed)),
        Item::None => {}
    }
}

fn follow_key<'q>(key: &str, item: &mut Item, renamed: &impl Fn(&str) -> Option<&'q str>) {
    match item {
        Item::Value(value) if REFERENCES.contains(&key) && value.is_str() => refer(value, renamed),
        item => follow(item, renamed),
    }
}

fn follow_value<'q>(value: &mut Value, renamed: &impl Fn(&str) -> Option<&'q str>) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(|each| follow_value(each, renamed)),
        Value::InlineTable(table) => {
            for (key, value) in table.iter_mut() {
                match value {
                    Value::String(_) if REFERENCES.contains(&key.get()) => refer(value, renamed),
                    value => follow_value(value, renamed),
                }
            }
        }
        _ => {}
    }
}

/// Names the cloth that takes the place of the one named.
fn refer<'q>(value: &mut Value, renamed: &impl Fn(&str) -> Option<&'q str>) {
    if let Some(new) = value.as_str().and_then(renamed) {
        super::replace(value, new.into());
    }
}
