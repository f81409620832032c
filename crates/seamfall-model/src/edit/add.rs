//! Whole parts added: cloths, blocks of the starter set, frames, sashing and bands.

use super::{EditError, no_such, position_of, tables, would_break};
use crate::file::exact_length;
use crate::{ClothId, EdgeFinish, Length, Measure, Quilt, Shape, starter_blocks};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};
use tr::tr;

pub(super) fn band(doc: &mut DocumentMut, width: &str, cloth: &str) -> Result<(), EditError> {
    let after = position_of(doc, "band");
    let mut band = table(&[("width", width.into()), ("cloth", cloth.into())]);
    band.set_position(after);
    tables(doc, "band").push(band);
    Ok(())
}

pub(super) fn sashing(doc: &mut DocumentMut, width: &str, cloth: &str) -> Result<(), EditError> {
    if doc.contains_key("sashing") {
        return Err(would_break(tr!("there is sashing already"), &tr!("change its width or its cloth instead")));
    }
    let after = position_of(doc, "place").or_else(|| position_of(doc, "setting"));
    let mut sashing = table(&[("width", width.into()), ("cloth", cloth.into())]);
    sashing.set_position(after);
    doc.insert("sashing", Item::Table(sashing));
    Ok(())
}

pub(super) fn frame(doc: &mut DocumentMut, key: &str, width: &str, cloth: &str) -> Result<(), EditError> {
    let mut strip = InlineTable::new();
    strip.insert("width", width.into());
    strip.insert("cloth", cloth.into());
    let strips: Array = std::iter::once(Value::from(strip)).collect();
    named(doc, "frame", key, &[("corners", "mitred".into()), ("strips", strips.into())])
}

pub(super) fn cloth(doc: &mut DocumentMut, key: &str, name: &str, colour: &str, from: &[(String, u32)]) -> Result<(), EditError> {
    let size = |(size, count): &(String, u32)| {
        let mut one = InlineTable::new();
        one.insert("size", size.as_str().into());
        one.insert("count", i64::from(*count).into());
        Value::from(one)
    };
    let mut entries: Vec<(&str, Value)> = vec![("name", name.into()), ("colour", colour.into())];
    if !from.is_empty() {
        entries.push(("from", from.iter().map(size).collect::<Array>().into()));
    }
    named(doc, "cloth", key, &entries)
}

/// Only what the design cannot do without is written; the rest is as usual.
pub(super) fn quilting(doc: &mut DocumentMut, measure: Measure, on: &str, design: &str, path: Option<&str>) {
    let [spacing, size] = match measure {
        Measure::Inch => ["2", "6"],
        Measure::Centimetre => ["5", "15"],
    };
    let mut entries: Vec<(&str, Value)> = vec![("on", on.into()), ("design", design.into())];
    if matches!(design, "parallel" | "crossed" | "stippling") {
        entries.push(("spacing", spacing.into()));
    }
    if design == "path" {
        // A diagonal, until there is a drawing.
        entries.push(("path", path.unwrap_or("M 0 0 L 1 1").into()));
        entries.push(("size", size.into()));
    }
    let after = position_of(doc, "quilting");
    let mut one = table(&entries);
    one.set_position(after);
    tables(doc, "quilting").push(one);
}

/// What the edge before had is not carried over: hardly a key of one edge is one of another.
pub(super) fn edge(doc: &mut DocumentMut, quilt: &Quilt, edge: &str, cloth: Option<&str>) {
    let before = doc.get("finish").and_then(|finish| finish.get("cloth")).and_then(Item::as_str).map(str::to_owned);
    let place = position_of(doc, "finish");
    doc.remove("finish");
    if edge == EdgeFinish::Straight.word() {
        return;
    }
    let mut finish = table(&[("edge", edge.into())]);
    if !matches!(edge, "scallops" | "waves") {
        let of_binding = || quilt.cloths.get(quilt.binding.map_or(0, |binding| binding.cloth.0)).map(|cloth| cloth.key.clone());
        if let Some(cloth) = cloth.map(str::to_owned).or(before).or_else(of_binding) {
            finish.insert("cloth", Item::Value(cloth.into()));
        }
    }
    finish.set_position(place);
    doc.insert("finish", Item::Table(finish));
}

/// At the size of the square that stands first in the setting, so that it can take its place.
pub(super) fn starter(doc: &mut DocumentMut, quilt: &Quilt, starter: &str, key: &str) -> Result<(), EditError> {
    let Some(design) = starter_blocks().iter().find(|block| block.key == starter) else {
        return Err(no_such(&tr!("starter block"), starter, starter_blocks().iter().map(|block| block.key.as_str())));
    };
    let text = |length| exact_length(length, quilt.measure).trim_matches('"').to_owned();
    let size = match usual_shape(quilt, design.shape) {
        Shape::Rectangle { width, height } => format!("{} x {}", text(width), text(height)),
        other => text(other.sides().0),
    };
    let mut cloths = InlineTable::new();
    for (i, part) in design.parts.iter().enumerate() {
        let ClothId(cloth) = ClothId(i % quilt.cloths.len().max(1));
        if let Some(cloth) = quilt.cloths.get(cloth) {
            cloths.insert(&part.name, cloth.key.as_str().into());
        }
    }
    named(doc, "block", key, &[("starter", starter.into()), ("size", size.into()), ("cloths", cloths.into())])
}

/// A shape at the size of the square that stands first in the setting, in its own proportions; 12 in or 30 cm without one.
pub(crate) fn usual_shape(quilt: &Quilt, shape: Shape) -> Shape {
    let first = quilt.setting.places.iter().flatten().find_map(|place| match quilt.blocks[place.block.0].shape {
        Shape::Square { side } => Some(side),
        _ => None,
    });
    let side = first.unwrap_or(Length::new(if quilt.measure == Measure::Inch { 12.0 } else { 30.0 }));
    match shape {
        Shape::Square { .. } => Shape::Square { side },
        Shape::Rectangle { width, height } => Shape::Rectangle { width: side, height: side * (height.value() / width.value()) },
        Shape::EquilateralTriangle { .. } => Shape::EquilateralTriangle { side },
        Shape::RightTriangle { .. } => Shape::RightTriangle { leg: side },
        Shape::Diamond { angle_deg, .. } => Shape::Diamond { side, angle_deg },
        Shape::Hexagon { .. } => Shape::Hexagon { side },
    }
}

/// Adds `[what.key]` behind the others of its kind.
pub(super) fn named(doc: &mut DocumentMut, what: &str, key: &str, entries: &[(&str, Value)]) -> Result<(), EditError> {
    // Frames are the last of the three; before the setting they stand where the page of the format has them.
    let before_setting = position_of(doc, "setting").map(|position| position - 1);
    let fresh = !doc.contains_key(what);
    let owner = doc.entry(what).or_insert_with(|| {
        let mut owner = Table::new();
        owner.set_implicit(true);
        Item::Table(owner)
    });
    let owner = owner.as_table_like_mut().expect("the file was read before");
    if owner.contains_key(key) {
        return Err(would_break(tr!("there is a {what} `{key}` already", what, key), &tr!("choose another key")));
    }
    let mut new = table(entries);
    if fresh {
        new.set_position(before_setting);
    }
    owner.insert(key, Item::Table(new));
    Ok(())
}

fn table(entries: &[(&str, Value)]) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    for (key, value) in entries {
        table.insert(key, Item::Value(value.clone()));
    }
    table
}
