//! The maker's own blocks, kept for every quilt.
//!
//! In: the text of a block's own file. Out: all of them, in the order in which they were kept. The store does not read them.

use crate::{Store, StoreError, letters};
use rusqlite::{OptionalExtension, params};
use std::fmt;

/// A block of the maker's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OwnBlockId(pub i64);

impl fmt::Display for OwnBlockId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A block of the maker's own with the text of its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnBlock {
    /// Which one.
    pub id: OwnBlockId,
    /// The text of its file.
    pub text: String,
}

impl Store {
    /// All of the maker's own blocks, the one kept first first.
    ///
    /// # Errors
    /// What the database says.
    pub fn own_blocks(&self) -> Result<Vec<OwnBlock>, StoreError> {
        let connection = self.lock();
        let mut query = connection.prepare_cached("SELECT id, text FROM own_block ORDER BY id")?;
        let rows = query.query_map([], |row| Ok(OwnBlock { id: OwnBlockId(row.get(0)?), text: letters(row, 1)? }))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// One of them.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn own_block(&self, id: OwnBlockId) -> Result<OwnBlock, StoreError> {
        let connection = self.lock();
        let mut query = connection.prepare_cached("SELECT text FROM own_block WHERE id = ?1")?;
        let text = query.query_row([id.0], |row| letters(row, 0)).optional()?;
        text.map(|text| OwnBlock { id, text }).ok_or(StoreError::NoSuchBlock)
    }

    /// Keeps another one.
    ///
    /// # Errors
    /// What the database says.
    pub fn keep_block(&self, text: &str) -> Result<OwnBlockId, StoreError> {
        self.transact(|work| {
            work.execute("INSERT INTO own_block (text) VALUES (?1)", [text])?;
            Ok(OwnBlockId(work.last_insert_rowid()))
        })
    }

    /// Puts another text in the place of one.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn change_block(&self, id: OwnBlockId, text: &str) -> Result<(), StoreError> {
        self.transact(|work| match work.execute("UPDATE own_block SET text = ?2 WHERE id = ?1", params![id.0, text])? {
            0 => Err(StoreError::NoSuchBlock),
            _ => Ok(()),
        })
    }

    /// Takes one away.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn remove_block(&self, id: OwnBlockId) -> Result<(), StoreError> {
        self.transact(|work| match work.execute("DELETE FROM own_block WHERE id = ?1", [id.0])? {
            0 => Err(StoreError::NoSuchBlock),
            _ => Ok(()),
        })
    }
}
