//! What single places do differently: `[[place]]` entries made, merged, and taken away when nothing differs any more.

use super::{EditError, drop_when_empty, no_such, position_of, put as set_key, put_inline, sewing, tables, would_break};
use crate::file::parse_place;
use crate::{Layout, Place, Quilt, letters, limits, place_name};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};
use tr::tr;

/// Row and number, from 0.
type Spot = (usize, usize);

pub(super) fn turn(doc: &mut DocumentMut, quilt: &Quilt, spot: Spot, times: u8) -> Result<(), EditError> {
    let turns = (there(quilt, spot)?.turns + times % 4) % 4;
    with_entry(doc, spot, |entry| set_turn(entry, turns));
    Ok(())
}

/// Left and right change places as they are seen: the quarter turn that comes after the mirror goes the other way.
pub(super) fn mirror(doc: &mut DocumentMut, quilt: &Quilt, spot: Spot) -> Result<(), EditError> {
    let Place { turns, mirrored, .. } = *there(quilt, spot)?;
    with_entry(doc, spot, |entry| {
        set_turn(entry, (4 - turns) % 4);
        set_mirror(entry, !mirrored);
    });
    Ok(())
}

/// The new block stands plain; a frame of the place stays.
pub(super) fn put(doc: &mut DocumentMut, quilt: &Quilt, spot: Spot, block: &str) -> Result<(), EditError> {
    there(quilt, spot)?;
    if !quilt.blocks.iter().any(|one| one.key == block) {
        return Err(no_such(&tr!("block"), block, quilt.blocks.iter().map(|one| one.key.as_str())));
    }
    let usual = pattern_block(doc, spot);
    with_entry(doc, spot, |entry| {
        set_block(entry, block, usual.as_deref());
        for key in ["turn", "mirror", "swap"] {
            entry.remove(key);
        }
    });
    Ok(())
}

pub(super) fn exchange(doc: &mut DocumentMut, quilt: &Quilt, one: Spot, other: Spot) -> Result<(), EditError> {
    there(quilt, one)?;
    there(quilt, other)?;
    if one == other {
        return Ok(());
    }
    let own = |doc: &mut DocumentMut, spot: Spot| {
        let mut kept: Vec<(&str, Option<Item>)> = Vec::new();
        with_entry(doc, spot, |entry| {
            kept = ["turn", "mirror", "swap", "frame"].map(|key| (key, entry.get(key).cloned())).into();
        });
        kept
    };
    let (first, second) = (own(doc, one), own(doc, other));
    for (spot, from, content) in [(one, other, second), (other, one, first)] {
        let block = &quilt.blocks[there(quilt, from)?.block.0].key;
        let usual = pattern_block(doc, spot);
        with_entry(doc, spot, |entry| {
            set_block(entry, block, usual.as_deref());
            for (key, item) in content {
                match item {
                    Some(item) => entry.insert(key, item),
                    None => entry.remove(key),
                };
            }
        });
    }
    Ok(())
}

/// The cloth that is seen at the place gives way, whether it is the block's own or was swapped in before.
pub(super) fn swap(doc: &mut DocumentMut, quilt: &Quilt, spot: Spot, from: &str, to: &str) -> Result<(), EditError> {
    let place = there(quilt, spot)?;
    let cloth = |key: &str| {
        let id = quilt.cloths.iter().position(|cloth| cloth.key == key);
        id.ok_or_else(|| no_such(&tr!("cloth"), key, quilt.cloths.iter().map(|cloth| cloth.key.as_str())))
    };
    let (from_id, _) = (cloth(from)?, cloth(to)?);
    let block = &quilt.blocks[place.block.0];
    let mut own: Vec<&str> = Vec::new();
    for part in &block.parts {
        let usual = part.cloth;
        let seen = place.swaps.iter().find(|(cloth, _)| *cloth == usual).map_or(usual, |(_, to)| *to);
        let key = quilt.cloths[usual.0].key.as_str();
        if (seen.0 == from_id || usual.0 == from_id) && !own.contains(&key) {
            own.push(key);
        }
    }
    // Where the block has the cloth by itself, only that is meant.
    if own.contains(&from) {
        own = vec![from];
    }
    if own.is_empty() {
        return Err(EditError::NoSuch(tr!(
            "block `{block}` has no cloth `{from}` at {spot}",
            block = block.key,
            from,
            spot = place_name(spot.0, spot.1)
        )));
    }
    with_entry(doc, spot, |entry| {
        if !entry.get("swap").is_some_and(Item::is_table_like) {
            entry.insert("swap", Item::Value(InlineTable::new().into()));
        }
        let item = entry.get_mut("swap").expect("it was made just before");
        for key in own {
            if let (Some(swaps), true) = (item.as_inline_table_mut(), key != to) {
                put_inline(swaps, key, to.into());
            } else if let (Some(swaps), true) = (item.as_table_like_mut(), key != to) {
                set_key(swaps, key, to.into());
            } else if let Some(swaps) = item.as_table_like_mut() {
                swaps.remove(key);
            }
        }
        let swaps = item.as_table_like().expect("it was made one just before");
        if swaps.is_empty() {
            entry.remove("swap");
        }
    });
    Ok(())
}

/// Writes the swaps of a place, instead of those it had.
pub(super) fn set_swaps(doc: &mut DocumentMut, spot: Spot, swaps: InlineTable) {
    with_entry(doc, spot, |entry| {
        if swaps.is_empty() {
            entry.remove("swap");
        } else {
            set_key(entry, "swap", swaps.into());
        }
    });
}

pub(super) fn frame(doc: &mut DocumentMut, quilt: &Quilt, spot: Spot, frame: Option<&str>) -> Result<(), EditError> {
    there(quilt, spot)?;
    if let Some(key) = frame
        && key != "none"
        && !quilt.frames.iter().any(|one| one.key == key)
    {
        return Err(no_such(&tr!("frame"), key, quilt.frames.iter().map(|one| one.key.as_str())));
    }
    with_entry(doc, spot, |entry| match frame {
        Some(key) => set_key(entry, "frame", key.into()),
        None => {
            entry.remove("frame");
        }
    });
    Ok(())
}

/// Places that are no longer there lose their entries, and the falls that name them. In rows of different blocks the pattern itself grows and shrinks: new
/// rows repeat it, and the longest rows take the new number of places. `layout` is that of the quilt, or the one that it takes.
pub(super) fn resize(doc: &mut DocumentMut, quilt: &Quilt, layout: Layout, rows: usize, columns: usize) -> Result<(), EditError> {
    let most = limits::ROWS;
    if !(1..=most).contains(&rows) || !(1..=most).contains(&columns) {
        let reason = tr!("{rows} rows and {columns} columns cannot be set; there are 1 to {most} of each", rows, columns, most);
        return Err(would_break(reason, &tr!("choose a number within these bounds")));
    }
    let setting = doc.get_mut("setting").and_then(Item::as_table_like_mut).expect("the file was read before");
    let lengths: Vec<usize> = match layout {
        Layout::Rows { .. } => {
            let pattern = setting.get_mut("pattern").and_then(Item::as_array_mut).expect("the file was read before");
            repeat(pattern, rows);
            let longest = quilt.setting.places.iter().map(Vec::len).max().unwrap_or(0);
            for line in pattern.iter_mut().filter_map(Value::as_array_mut) {
                if line.len() > columns || line.len() == longest {
                    repeat(line, columns);
                }
            }
            pattern.iter().filter_map(Value::as_array).map(Array::len).collect()
        }
        layout => {
            let whole = |count: usize| Value::from(i64::try_from(count).expect("it was found to be small just before"));
            set_key(setting, "columns", whole(columns));
            set_key(setting, "rows", whole(rows));
            match layout {
                Layout::OnPoint { .. } => (0..2 * rows - 1).map(|row| columns - row % 2).collect(),
                _ => vec![columns; rows],
            }
        }
    };
    let stays = |name: &str| parse_place(name).is_some_and(|(row, number)| lengths.get(row).is_some_and(|n| number < *n));
    if doc.contains_key("place") {
        tables(doc, "place").retain(|entry| entry.get("at").and_then(Item::as_str).is_some_and(stays));
        drop_when_empty(doc, "place");
    }
    sewing::forget_places(doc, stays);
    Ok(())
}

/// Brings a list to `length`, over and over from its start.
fn repeat(list: &mut Array, length: usize) {
    let before = list.len();
    if let Some(gone) = list.get(length) {
        // The comment behind the last that stays hangs before the first that goes.
        let prefix = gone.decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default();
        let comment = prefix.split('\n').next().filter(|line| line.contains('#')).unwrap_or_default();
        let trailing = format!("{comment}{}", list.trailing().as_str().unwrap_or_default());
        list.set_trailing(trailing);
        while list.len() > length {
            list.remove(list.len() - 1);
        }
    }
    // Later ones stand as the second does, without its comment; the first stands close to its bracket.
    let spaces = list.get(1).and_then(|second| second.decor().prefix()).and_then(|prefix| prefix.as_str()).unwrap_or(" ");
    let spaces = spaces.rfind('\n').map_or(" ", |line| &spaces[line..]).to_owned();
    while list.len() < length {
        let again = list.get(list.len() % before).cloned().expect("it lies within the list");
        list.push_formatted(again.decorated(spaces.as_str(), ""));
    }
}

/// The place as it is, or that there is none.
fn there(quilt: &Quilt, (row, number): Spot) -> Result<&Place, EditError> {
    let place = quilt.setting.places.get(row).and_then(|places| places.get(number));
    place.ok_or_else(|| {
        let rows = quilt.setting.places.len();
        // No setting has a thousand rows; beyond them a name would only puzzle.
        let name = if row < 1_000 && number < 1_000 { format!(" {}", place_name(row, number)) } else { String::new() };
        let last = letters(rows.max(1) - 1);
        let reason = match quilt.setting.places.get(row) {
            Some(places) => tr!("there is no place{name}; this row has {places}", name, places = places.len()),
            None => tr!("there is no place{name}; the last row is {last}", name, last),
        };
        EditError::NoSuch(reason)
    })
}

/// The block that the pattern has at a place.
fn pattern_block(doc: &DocumentMut, (row, number): Spot) -> Option<String> {
    let pattern = doc.get("setting")?.as_table_like()?.get("pattern")?.as_array()?;
    let line = pattern.get(row % pattern.len().max(1))?.as_array()?;
    Some(line.get(number % line.len().max(1))?.as_str()?.to_owned())
}

fn set_turn(entry: &mut Table, turns: u8) {
    if turns == 0 {
        entry.remove("turn");
    } else {
        set_key(entry, "turn", i64::from(turns).into());
    }
}

fn set_mirror(entry: &mut Table, mirrored: bool) {
    if mirrored {
        set_key(entry, "mirror", true.into());
    } else {
        entry.remove("mirror");
    }
}

fn set_block(entry: &mut Table, block: &str, usual: Option<&str>) {
    if usual == Some(block) {
        entry.remove("block");
    } else {
        set_key(entry, "block", block.into());
    }
}

/// Changes the entry of a place, which is made when it is missing and taken away when it says nothing.
fn with_entry(doc: &mut DocumentMut, spot: Spot, change: impl FnOnce(&mut Table)) {
    let after = position_of(doc, "place").or_else(|| position_of(doc, "setting"));
    let places = tables(doc, "place");
    let here = |entry: &Table| entry.get("at").and_then(Item::as_str).and_then(parse_place) == Some(spot);
    let found = places.iter().position(here);
    let index = found.unwrap_or_else(|| {
        let mut entry = Table::new();
        entry.insert("at", Item::Value(place_name(spot.0, spot.1).into()));
        entry.decor_mut().set_prefix("\n");
        entry.set_position(after);
        places.push(entry);
        places.len() - 1
    });
    let entry = places.get_mut(index).expect("it was found or made just before");
    change(entry);
    if entry.len() <= 1 {
        places.remove(index);
    }
    drop_when_empty(doc, "place");
}
