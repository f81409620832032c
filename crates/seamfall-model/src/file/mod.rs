//! The quilt file: reading with places and suggestions, writing, schema.

use crate::{Block, Quilt};

/// One thing that is wrong with a quilt file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Bytes of the text it is about.
    pub span: std::ops::Range<usize>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// What is wrong and why, in one sentence.
    pub reason: String,
    /// How to mend it.
    pub help: Option<String>,
}

/// Everything that is wrong with a quilt file, in the order of the file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the quilt file cannot be used: {}", .problems.first().map_or("", |p| p.reason.as_str()))]
pub struct FileError {
    /// At least one.
    pub problems: Vec<Problem>,
}

/// Reads the text of a quilt file.
///
/// # Errors
/// All problems that could be found, with their places.
pub fn read(text: &str) -> Result<Quilt, FileError> {
    let _ = text;
    todo!()
}

/// A quilt as the text of a file, in the order and style of the documentation.
#[must_use]
pub fn write(quilt: &Quilt) -> String {
    let _ = quilt;
    todo!()
}

/// JSON Schema of the quilt file (as the data model that TOML and JSON share).
#[must_use]
pub fn json_schema() -> String {
    todo!()
}

/// The starter set: traditional blocks by key, in the order of the alphabet, without cloths or size (12 in a side; parts keep
/// their order; cloth ids are the part's number).
#[must_use]
pub fn starter_blocks() -> &'static [Block] {
    todo!()
}
