//! Small changes of a quilt file that leave the rest of its text, comments included, as it was.

use crate::FileError;

/// A change of the document, as the workroom makes it. Keys and numbers are those of the file; rows and places count from 0.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Edit {
    /// Turns the block at a place a quarter to the left, `times` times.
    Turn { row: usize, number: usize, times: u8 },
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
    /// Gives one place a frame of its own by its key, or `none`; without one it has the frame of its block or of the setting again.
    Frame { row: usize, number: usize, frame: Option<String> },
    /// Sets one value by its path in the file, e.g. `["sashing","width"]` to `"2 1/2"`; numbers in a path are positions from 0.
    /// What stands in the way of a path is replaced: `["band","0","corners","squares"]` where `corners` was a word, and back.
    Set { path: Vec<String>, value: Scalar },
    /// Takes away a key or table.
    Remove { path: Vec<String> },
    /// Sets the number of rows and columns.
    Resize { rows: usize, columns: usize },
    /// Adds a band outside the others.
    AddBand { width: String, cloth: String },
    /// Adds sashing, where there is none.
    AddSashing { width: String, cloth: String },
    /// Adds a frame of one strip, mitred, under a key of its own.
    AddFrame { key: String, width: String, cloth: String },
    /// Adds a block of the starter set under a key of its own, its parts given cloths of the quilt in turn.
    AddStarter { starter: String, key: String },
    /// Adds a cloth.
    AddCloth { key: String, name: String, colour: String },
}

/// A bare value of the file.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(untagged)]
pub enum Scalar {
    /// True or false.
    Bool(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
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
    #[error(transparent)]
    WouldBreak(FileError),
}

/// The text after `edit`, checked by reading it again.
///
/// # Errors
/// [`EditError`]; nothing is changed then.
pub fn apply(text: &str, edit: &Edit) -> Result<String, EditError> {
    let _ = (text, edit);
    todo!()
}
