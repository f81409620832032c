//! Versions of a quilt that the maker keeps under a name, to compare and to go back to.
//!
//! A version is the text of the quilt file as it was when it was kept. What has been sewn is not part of it: the ledger tells what is, whatever the design.

use crate::{QuiltId, Store, StoreError, VersionId, letters, read};
use rusqlite::{OptionalExtension, params};

/// So many versions of one quilt are kept at most.
pub const MOST_VERSIONS: usize = 40;

/// A version of a quilt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Version {
    /// Which.
    pub id: VersionId,
    /// What the maker calls it.
    pub name: String,
    /// The text of the quilt file.
    pub text: String,
}

impl Store {
    /// The versions that are kept of a quilt, in the order in which they were.
    ///
    /// # Errors
    /// What the database says.
    pub fn versions(&self, quilt: QuiltId) -> Result<Vec<Version>, StoreError> {
        let connection = self.lock();
        let mut query = connection.prepare_cached("SELECT id, name, text FROM version WHERE quilt = ?1 ORDER BY id")?;
        let rows = query.query_map([quilt.0], |row| {
            Ok(Version { id: VersionId(row.get(0)?), name: letters(row, 1)?, text: letters(row, 2)? })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// One of them.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn version(&self, quilt: QuiltId, id: VersionId) -> Result<Version, StoreError> {
        let connection = self.lock();
        let mut query = connection.prepare_cached("SELECT name, text FROM version WHERE id = ?1 AND quilt = ?2")?;
        let found = query
            .query_row([id.0, quilt.0], |row| Ok(Version { id, name: letters(row, 0)?, text: letters(row, 1)? }))
            .optional()?;
        found.ok_or(StoreError::NoSuchVersion)
    }

    /// Keeps the quilt as it stands under a name.
    ///
    /// # Errors
    /// [`StoreError::TooManyVersions`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn keep_version(&self, quilt: QuiltId, name: &str) -> Result<VersionId, StoreError> {
        self.transact(|work| {
            let now = read(work, quilt)?;
            let kept: i64 = work.query_row("SELECT count(*) FROM version WHERE quilt = ?1", [quilt.0], |row| row.get(0))?;
            if usize::try_from(kept).unwrap_or(usize::MAX) >= MOST_VERSIONS {
                return Err(StoreError::TooManyVersions);
            }
            work.execute("INSERT INTO version (quilt, name, text) VALUES (?1, ?2, ?3)", params![quilt.0, name, now.text])?;
            Ok(VersionId(work.last_insert_rowid()))
        })
    }

    /// Gives a version another name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn rename_version(&self, quilt: QuiltId, id: VersionId, name: &str) -> Result<(), StoreError> {
        self.transact(|work| {
            let changed =
                work.execute("UPDATE version SET name = ?3 WHERE id = ?1 AND quilt = ?2", params![id.0, quilt.0, name])?;
            if changed == 0 { Err(StoreError::NoSuchVersion) } else { Ok(()) }
        })
    }

    /// Lets go of a version. The quilt stays as it stands, on whichever text that is. Gives its name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn drop_version(&self, quilt: QuiltId, id: VersionId) -> Result<String, StoreError> {
        self.transact(|work| {
            let name = work
                .query_row("DELETE FROM version WHERE id = ?1 AND quilt = ?2 RETURNING name", params![id.0, quilt.0], |row| {
                    letters(row, 0)
                })
                .optional()?;
            name.ok_or(StoreError::NoSuchVersion)
        })
    }
}
