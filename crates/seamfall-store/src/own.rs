//! The maker's own blocks, kept for every quilt.
//!
//! In: the text of a block's own file. Out: all of them, in the order in which they were kept. The store does not read them.

use crate::work::Row;
use crate::{Store, StoreError};
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
        let block = |mut row: Row| Ok(OwnBlock { id: OwnBlockId(row.number(0)?), text: row.text(1)? });
        self.look(|work| work.rows("SELECT id, text FROM own_block ORDER BY id", &[])?.into_iter().map(block).collect())
    }

    /// One of them.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn own_block(&self, id: OwnBlockId) -> Result<OwnBlock, StoreError> {
        let found = self.look(|work| work.row("SELECT text FROM own_block WHERE id = ?1", &[id.0.into()]))?;
        Ok(OwnBlock { id, text: found.ok_or(StoreError::NoSuchBlock)?.text(0)? })
    }

    /// Keeps another one.
    ///
    /// # Errors
    /// What the database says.
    pub fn keep_block(&self, text: &str) -> Result<OwnBlockId, StoreError> {
        self.transact(|work| {
            let mut kept = work.one("INSERT INTO own_block (text) VALUES (?1) RETURNING id", &[text.into()])?;
            kept.number(0).map(OwnBlockId)
        })
    }

    /// Puts another text in the place of one.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn change_block(&self, id: OwnBlockId, text: &str) -> Result<(), StoreError> {
        self.transact(|work| match work.execute("UPDATE own_block SET text = ?2 WHERE id = ?1", &[id.0.into(), text.into()])? {
            0 => Err(StoreError::NoSuchBlock),
            _ => Ok(()),
        })
    }

    /// Takes one away.
    ///
    /// # Errors
    /// [`StoreError::NoSuchBlock`], or what the database says.
    pub fn remove_block(&self, id: OwnBlockId) -> Result<(), StoreError> {
        self.transact(|work| match work.execute("DELETE FROM own_block WHERE id = ?1", &[id.0.into()])? {
            0 => Err(StoreError::NoSuchBlock),
            _ => Ok(()),
        })
    }
}
