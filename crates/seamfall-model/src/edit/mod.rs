//! Small changes of a quilt file or a ledger that leave the rest of its text, comments included, as it was.
//!
//! In: the text and one [`Edit`]. Out: the new text, read again so that it is a quilt, or why not. [`place`] changes what
//! single places do differently, [`path`] single values, [`add`] whole parts, [`cloths`] what is cut from which cloth, [`look`] how a cloth looks, [`fussy`] which motifs are cut, [`settings`] those of a whole quilt at once, [`sewing`] how
//! seams are pressed and units made, [`draw`] a block that was drawn; [`ledger`] those of what is sewn, [`class`] those of a class.

mod add;
mod class;
mod cloths;
mod draw;
mod fussy;
mod ledger;
mod look;
mod path;
mod place;
mod settings;
mod sewing;

#[cfg(test)]
mod tests;

pub(crate) use add::usual_shape;
pub use class::{ClassEdit, apply_class};
pub use ledger::{LedgerEdit, apply_ledger};
pub(crate) use path::number_value;
use tr::tr;

use crate::file::suggestion;
use crate::{Drawing, FileError, Quilt, read};
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Value};

/// A change of the document, as the workroom makes it. Keys and numbers are those of the file; rows and places count from 0.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
#[expect(missing_docs, reason = "the sentence of each edit says what its fields are")]
pub enum Edit {
    /// Turns the block at a place a quarter to the left, `times` times.
    Turn { row: usize, number: usize, times: u8 },
    /// Turns the blocks at several places at once: row, number and quarters to the left of each.
    TurnSeveral { turns: Vec<(usize, usize, u8)> },
    /// Mirrors the block at a place.
    Mirror { row: usize, number: usize },
    /// Puts another block at a place.
    Put { row: usize, number: usize, block: String },
    /// Exchanges the blocks of two places, each with its turn.
    Exchange { row: usize, number: usize, with_row: usize, with_number: usize },
    /// At one place, uses cloth `to` wherever the block has cloth `from`.
    Swap { row: usize, number: usize, from: String, to: String },
    /// Gives a part of a block another cloth, everywhere.
    Paint { block: String, part: String, cloth: String },
    /// Uses instead of the first cloth of each pair the second wherever it is used, all at once: two cloths are exchanged by naming both ways.
    Recolour { cloths: Vec<(String, String)> },
    /// Gives a cloth a look in place of the one it has; without one it is plain.
    Look { cloth: String, look: Option<NewLook> },
    /// Gives one place a frame of its own by its key, or `none`; without one it has the frame of its block or of the setting again.
    Frame { row: usize, number: usize, frame: Option<String> },
    /// Sets one value by its path in the file, e.g. `["sashing","width"]` to `"2 1/2"`; numbers in a path are positions from 0.
    /// What stands in the way of a path is replaced: `["band","0","corners","squares"]` where `corners` was a word, and back.
    Set { path: Vec<String>, value: Scalar },
    /// Takes away a key or table.
    Remove { path: Vec<String> },
    /// Lets the seam between two pieces fall `to` one of them or `open`; without it the plan chooses again. The two may be named
    /// either way round.
    Fall { between: [String; 2], to: Option<String> },
    /// Makes the unit of a patch, `star.p3`, in a way: `plain`, `two`, `eight`, `four`, `strips`; without one the plan chooses again.
    Way { of: String, way: Option<String> },
    /// Cuts a motif of a cloth for a part or a patch, `star.centre` or `star.p3`: its place in the photograph and the turn of the cloth; without one they are cut as
    /// usual.
    Fussy { of: String, cloth: String, at: Option<[f64; 2]>, turn: f64 },
    /// Sets in how many ways the copies of a block may be pressed, a number or `own`; without one the plan chooses again.
    Pressings { pressings: Option<Scalar> },
    /// Sets the number of rows and columns.
    Resize { rows: usize, columns: usize },
    /// Takes settings that were found for a size, all at once.
    Settings(NewSettings),
    /// Adds a band outside the others.
    AddBand { width: String, cloth: String },
    /// Adds sashing, where there is none.
    AddSashing { width: String, cloth: String },
    /// Adds a frame of one strip, mitred, under a key of its own.
    AddFrame { key: String, width: String, cloth: String },
    /// Adds a block of the starter set under a key of its own, its parts given cloths of the quilt in turn.
    AddStarter { starter: String, key: String },
    /// Draws a block: the one of this key anew, or another one.
    Draw { block: String, drawing: Box<Drawing> },
    /// Adds a quilting design on what `on` names as the file does, with usual sizes; `path` draws the design `path`.
    AddQuilting {
        on: String,
        design: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        path: Option<String>,
    },
    /// Covers a standard bed, by its name; what was measured of the mattress before is taken back.
    Bed { standard: String },
    /// Gives the quilt another edge, with the sizes that are usual for it; `straight` takes back what was said. Where an edge is of a cloth and none is
    /// named, it is that of the edge before, of the binding, or the first.
    Edge {
        edge: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cloth: Option<String>,
    },
    /// Adds a cloth; one that is in hand with the sizes it comes in and how many there are of each.
    AddCloth {
        key: String,
        name: String,
        colour: String,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        from: Vec<(String, u32)>,
    },
}

/// Settings of a whole quilt: what stands in it stays, its sizes and numbers change.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct NewSettings {
    /// On point, with this cloth for the triangles where there is none yet; else straight.
    pub on_point: Option<String>,
    /// Rows; on point, the longer ones.
    pub rows: usize,
    /// Places in a row; on point, in the longer rows.
    pub columns: usize,
    /// Size of each block, by its key.
    pub blocks: Vec<(String, String)>,
    /// Width of the outermost strip of each frame, by its key.
    pub frames: Vec<(String, String)>,
    /// Width of the sashing, where there is some.
    pub sashing: Option<String>,
    /// Widths of the bands, the innermost first; those there are not yet are added.
    pub bands: Vec<String>,
    /// Cloth of bands that are added.
    pub band_cloth: String,
}

/// How a cloth is to look: keys of the file, those that its kind has.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct NewLook {
    /// Its kind.
    pub kind: String,
    /// Keys and values besides, in the order in which they are written.
    pub with: Vec<(String, Scalar)>,
}

/// A bare value of the file.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(untagged)]
pub enum Scalar {
    /// True or false.
    Bool(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
    /// Several numbers, such as the least and the most of a share.
    Numbers(Vec<f64>),
}

/// Why an edit was not made. The text is left as it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EditError {
    /// The text itself cannot be read.
    #[error(transparent)]
    Unreadable(FileError),
    /// The edit names something that is not there.
    #[error("{0}")]
    NoSuch(String),
    /// The quilt would not be one any more.
    #[error("{}", .0.problems.first().map_or("", |problem| problem.reason.as_str()))]
    WouldBreak(FileError),
}

/// The text after `edit`, checked by reading it again.
///
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn apply(text: &str, edit: &Edit) -> Result<String, EditError> {
    let quilt = read(text).map_err(EditError::Unreadable)?;
    apply_to(text, &quilt, edit).map(|(changed, _)| changed)
}

/// The same where `text` has been read as `quilt` before: the text after `edit`, and the quilt that was read from it.
///
/// # Errors
/// As [`apply`].
pub fn apply_to(text: &str, quilt: &Quilt, edit: &Edit) -> Result<(String, Quilt), EditError> {
    let unreadable = |error: toml_edit::TomlError| {
        EditError::Unreadable(FileError::single(text, error.span().unwrap_or(0..0), error.message(), None))
    };
    let mut doc: DocumentMut = text.parse().map_err(unreadable)?;
    change(&mut doc, quilt, edit)?;
    let changed = doc.to_string();
    let quilt = read(&changed).map_err(EditError::WouldBreak)?;
    Ok((changed, quilt))
}

fn change(doc: &mut DocumentMut, quilt: &Quilt, edit: &Edit) -> Result<(), EditError> {
    match edit {
        Edit::Turn { row, number, times } => place::turn(doc, quilt, (*row, *number), *times),
        Edit::TurnSeveral { turns } => {
            turns.iter().try_for_each(|&(row, number, times)| place::turn(doc, quilt, (row, number), times))
        }
        Edit::Mirror { row, number } => place::mirror(doc, quilt, (*row, *number)),
        Edit::Put { row, number, block } => place::put(doc, quilt, (*row, *number), block),
        Edit::Exchange { row, number, with_row, with_number } => {
            place::exchange(doc, quilt, (*row, *number), (*with_row, *with_number))
        }
        Edit::Swap { row, number, from, to } => place::swap(doc, quilt, (*row, *number), from, to),
        Edit::Frame { row, number, frame } => place::frame(doc, quilt, (*row, *number), frame.as_deref()),
        Edit::Resize { rows, columns } => place::resize(doc, quilt, quilt.setting.layout, *rows, *columns),
        Edit::Fall { between, to } => {
            sewing::fall(doc, between, to.as_deref());
            Ok(())
        }
        Edit::Way { of, way } => {
            sewing::way(doc, of, way.as_deref());
            Ok(())
        }
        Edit::Fussy { of, cloth, at, turn } => {
            fussy::set(doc, of, cloth, *at, *turn);
            Ok(())
        }
        Edit::Pressings { pressings } => sewing::pressings(doc, pressings.as_ref()),
        Edit::Recolour { cloths } => cloths::recolour(doc, quilt, cloths),
        Edit::Look { cloth, look } => look::set(doc, quilt, cloth, look.as_ref()),
        Edit::Paint { block, part, cloth } => path::paint(doc, quilt, block, part, cloth),
        Edit::Set { path, value } => path::set(doc, path, value),
        Edit::Remove { path } => path::remove(doc, path),
        Edit::Settings(new) => settings::take(doc, quilt, new),
        Edit::AddBand { width, cloth } => add::band(doc, width, cloth),
        Edit::AddSashing { width, cloth } => add::sashing(doc, width, cloth),
        Edit::AddFrame { key, width, cloth } => add::frame(doc, key, width, cloth),
        Edit::AddStarter { starter, key } => add::starter(doc, quilt, starter, key),
        Edit::Draw { block, drawing } => draw::block(doc, block, drawing),
        Edit::AddQuilting { on, design, path } => {
            add::quilting(doc, quilt.measure, on, design, path.as_deref());
            Ok(())
        }
        Edit::Bed { standard } => {
            for side in ["width", "length"] {
                let path = ["bed", side].map(str::to_owned);
                if doc.get("bed").is_some_and(|bed| bed.get(side).is_some()) {
                    path::remove(doc, &path)?;
                }
            }
            path::set(doc, &["bed", "standard"].map(str::to_owned), &Scalar::Text(standard.clone()))
        }
        Edit::Edge { edge, cloth } => {
            add::edge(doc, quilt, edge, cloth.as_deref());
            Ok(())
        }
        Edit::AddCloth { key, name, colour, from } => add::cloth(doc, key, name, colour, from),
    }
}

/// That something is not there, with the name that may have been meant.
fn no_such<'a>(what: &str, name: &str, names: impl IntoIterator<Item = &'a str>) -> EditError {
    let reason = tr!("there is no {what} `{name}`", what, name);
    EditError::NoSuch(suggestion(name, names).map_or_else(|| reason.clone(), |help| format!("{reason}; {help}")))
}

/// A reason why the quilt would not be one any more.
pub(crate) fn would_break(reason: String, help: &str) -> EditError {
    EditError::WouldBreak(FileError::single("", 0..0, reason, help.to_owned()))
}

/// Replaces a value and keeps the spaces and comments round it.
fn replace(old: &mut Value, mut new: Value) {
    *new.decor_mut() = old.decor().clone();
    *old = new;
}

/// Sets a key of a table or inline table; what was there keeps its place and its comments.
fn put(table: &mut dyn toml_edit::TableLike, key: &str, new: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => replace(old, new),
        _ => {
            table.insert(key, Item::Value(new));
        }
    }
}

/// Adds a key to an inline table, closing up the space before the brace.
fn put_inline(table: &mut InlineTable, key: &str, new: Value) {
    if table.contains_key(key) {
        return put(table, key, new);
    }
    let end = table.iter_mut().last().map(|(_, last)| {
        let end = last.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or_default().to_owned();
        last.decor_mut().set_suffix("");
        end
    });
    table.insert(key, new.decorated(" ", end.unwrap_or_else(|| " ".to_owned())));
}

/// Takes an entry out of a list, and the comment behind it, which hangs before the next one.
fn take_out(list: &mut Array, position: usize) {
    let gone = list.remove(position);
    if let (Some(next), Some(prefix)) = (list.get_mut(position), gone.decor().prefix()) {
        next.decor_mut().set_prefix(prefix.clone());
    }
}

/// The list of tables under a key of the file, made when it is missing, and brought to the form `[[key]]`.
fn tables<'a>(doc: &'a mut DocumentMut, key: &str) -> &'a mut ArrayOfTables {
    let item = doc.entry(key).or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    if !item.is_array_of_tables() {
        // The file was read before, so that this is a list of tables, or an empty list.
        *item = Item::ArrayOfTables(std::mem::take(item).into_array_of_tables().unwrap_or_default());
    }
    item.as_array_of_tables_mut().expect("it was made one just before")
}

/// Takes a list of tables away when nothing is left in it.
fn drop_when_empty(doc: &mut DocumentMut, key: &str) {
    if doc.get(key).and_then(Item::as_array_of_tables).is_some_and(ArrayOfTables::is_empty) {
        doc.remove(key);
    }
}

/// Where in the file a new table goes that belongs behind `key`, if it can be told.
fn position_of(doc: &DocumentMut, key: &str) -> Option<isize> {
    match doc.get(key)? {
        Item::Table(table) => table.position(),
        Item::ArrayOfTables(list) => list.iter().filter_map(toml_edit::Table::position).max(),
        _ => None,
    }
}
