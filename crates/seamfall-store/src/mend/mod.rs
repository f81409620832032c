//! Mending a damaged store: every row that can still be read goes into a new one.
//!
//! In: the file of a store, with its log. Out: a new store that the database finds nothing wrong with, in its place; the damaged one under
//! another name, not a byte of it changed; and what was saved and lost, quilt by quilt. All work is done on a copy. Rows are read table by table
//! through the database, from both ends where something is bad in between (`rows`); what it cannot reach is read off the pages of the file
//! themselves (`pages`). What belongs to nothing any more is taken away or given a quilt, and steps are counted anew (`settle`).
//!
//! It does not tell texts that were altered within a row: the database has no checksum of them.

mod pages;
mod rows;
mod settle;

use crate::backup::{clear, put_in_place};
use crate::hold::{alone, beside};
use crate::{QuiltId, StoreError, file};
use rusqlite::Connection;
use std::fs;
use std::path::{Path, PathBuf};

/// What mending did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mended {
    /// Where the damaged store is kept.
    pub kept: PathBuf,
    /// What was found wrong with it first.
    pub damage: String,
    /// Every quilt that is in the new store.
    pub quilts: Vec<MendedQuilt>,
    /// Quilts of which nothing is left but their number.
    pub lost: Vec<QuiltId>,
    /// Photographs of these quilts that are lost.
    pub photos: u64,
    /// Tables that could not be read to their end: more may be lost of them than is known.
    pub unsure: Vec<String>,
}

/// A quilt in a mended store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MendedQuilt {
    /// Which.
    pub id: QuiltId,
    /// The text that it stands on now.
    pub text: String,
    /// States of it that were saved.
    pub states: u64,
    /// States of it that are known to be lost.
    pub lost: u64,
    /// Whether the state that it stood on was lost, so that it stands on another.
    pub moved: bool,
}

/// Mends the store; nothing is done, and `None` given, where nothing is wrong with it.
///
/// # Errors
/// [`StoreError::NoStore`], [`StoreError::NotAStore`], [`StoreError::Newer`], [`StoreError::InUse`], or what the database or the system
/// says of the new file. The store is as it was then.
pub fn mend(store: &Path) -> Result<Option<Mended>, StoreError> {
    if !store.is_file() {
        return Err(StoreError::NoStore);
    }
    let held = alone(store)?;
    let (copy, new) = (beside(store, ".mending"), beside(store, ".new"));
    let clean = || {
        ["", "-wal", "-shm", "-journal"]
            .iter()
            .try_for_each(|ending| clear(&beside(&copy, ending)).and_then(|()| clear(&beside(&new, ending))))
    };
    let done = clean().and_then(|()| mended(store, &copy, &new));
    let _ = clean();
    drop(held);
    done
}

fn mended(store: &Path, copy: &Path, new: &Path) -> Result<Option<Mended>, StoreError> {
    for ending in ["", "-wal"] {
        let (from, to) = (beside(store, ending), beside(copy, ending));
        if from.exists() {
            fs::copy(&from, &to).map_err(|source| StoreError::Beside { file: to, source })?;
        }
    }
    let Some(damage) = damage(copy)? else { return Ok(None) };
    let is_marked = rows::is_marked(copy)?;
    let found = rows::read(copy)?;
    let is_empty = ["quilt", "state", "version"].iter().all(|table| found.table(table).rows.is_empty());
    // Nothing of a store is in it; that it was one is told by its mark alone.
    if is_empty && !is_marked {
        return Err(StoreError::NotAStore);
    }
    let mut fresh = Connection::open(new)?;
    file::bring_up_to_date(&mut fresh)?;
    let settled = settle::fill(&mut fresh, &found)?;
    if let Some(fault) = file::damage(&fresh)?.into_iter().next() {
        return Err(StoreError::Damaged(fault));
    }
    fresh.close().map_err(|(_, error)| error)?;
    let kept = put_in_place(new, store, "damaged")?.expect("the store was there");
    let settle::Settled { quilts, lost, photos } = settled;
    Ok(Some(Mended { kept, damage, quilts, lost, photos, unsure: found.unsure() }))
}

/// What is wrong with the copy; nothing with one that can be used as it is.
fn damage(copy: &Path) -> Result<Option<String>, StoreError> {
    let looked = Connection::open(copy).map_err(StoreError::from).and_then(|copy| file::look(&copy).map(|_| copy));
    match looked {
        // The steps that an older store has still to take show whether the number of its layout is right.
        Ok(mut copy) => match file::prepare(&mut copy) {
            Ok(()) => Ok(None),
            Err(StoreError::Damaged(what)) => Ok(Some(what)),
            Err(error) => Err(error),
        },
        Err(StoreError::Damaged(what)) => Ok(Some(what)),
        Err(StoreError::Newer { found, known }) => {
            if rows::is_of_this_layout(copy)? {
                Ok(Some("the number of its layout is wrong".to_owned()))
            } else {
                Err(StoreError::Newer { found, known })
            }
        }
        Err(StoreError::NotAStore) => {
            if rows::is_anothers(copy) {
                Err(StoreError::NotAStore)
            } else {
                Ok(Some("its head cannot be read".to_owned()))
            }
        }
        Err(error) => Err(error),
    }
}
