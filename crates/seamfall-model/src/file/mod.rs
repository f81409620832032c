//! The quilt file, the ledger and the class: reading with places and suggestions, writing, schema.
//!
//! In: text. Out: a checked [`Quilt`], or everything that is wrong with it; and from a quilt its text again. The stages:
//! [`parse`] (text to [`raw`] values), [`check`] with [`block`], [`setting`], [`sewing`], [`finish`], [`bed`] and [`materials`]
//! (raw values to a quilt), [`write()`]; for the ledger [`ledger`], for a class [`class`].

mod bed;
mod block;
mod check;
mod class;
mod finish;
mod fussy;
mod joining;
mod ledger;
mod look;
mod materials;
mod parse;
mod problems;
mod quilting;
mod raw;
mod setting;
mod sewing;
mod starter;
mod starter_list;
mod write;

#[cfg(test)]
mod tests;

pub(crate) use block::{read_block, read_own, stand_in as bare_block, usual_turn_under};
pub use class::{class_json_schema, new_class, read_class};
pub use ledger::{ledger_json_schema, read_ledger, write_ledger};
pub use problems::{FileError, FileKind, Problem};
pub(crate) use starter::sized;
pub use starter::starter_blocks;
pub use write::write;
pub(crate) use write::{exact_length, shape_key};

pub(crate) use problems::suggestion;
pub(crate) use setting::parse_place;

use crate::Quilt;

/// Reads the text of a quilt file.
///
/// # Errors
/// All problems that could be found, with their places.
pub fn read(text: &str) -> Result<Quilt, FileError> {
    let raw = parse::parse(FileKind::Quilt, text)?;
    let mut problems = problems::Problems::default();
    let quilt = check::quilt(&raw, &mut problems);
    if problems.is_empty() { Ok(quilt) } else { Err(problems.finish(text)) }
}

/// JSON Schema of the quilt file (as the data model that TOML and JSON share).
///
/// # Panics
/// Never: a schema is made of texts and numbers.
#[must_use]
pub fn json_schema() -> String {
    let schema = schemars::schema_for!(raw::RawQuilt);
    serde_json::to_string_pretty(&schema).expect("a schema is made of texts and numbers") + "\n"
}
