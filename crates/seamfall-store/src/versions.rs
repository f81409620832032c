//! Versions of a quilt that the maker keeps under a name, to compare and to go back to.
//!
//! A version is the text of the quilt file as it was when it was kept. What has been sewn is not part of it: the ledger tells what is, whatever the design.

use crate::work::Row;
use crate::{QuiltId, Store, StoreError, VersionId, read};

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
        const SQL: &str = "SELECT id, name, text FROM version WHERE quilt = ?1 ORDER BY id";
        let version = |mut row: Row| Ok(Version { id: VersionId(row.number(0)?), name: row.text(1)?, text: row.text(2)? });
        self.look(|work| work.rows(SQL, &[quilt.0.into()])?.into_iter().map(version).collect())
    }

    /// One of them.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn version(&self, quilt: QuiltId, id: VersionId) -> Result<Version, StoreError> {
        const SQL: &str = "SELECT name, text FROM version WHERE id = ?1 AND quilt = ?2";
        let found = self.look(|work| work.row(SQL, &[id.0.into(), quilt.0.into()]))?;
        let mut row = found.ok_or(StoreError::NoSuchVersion)?;
        Ok(Version { id, name: row.text(0)?, text: row.text(1)? })
    }

    /// Keeps the quilt as it stands under a name.
    ///
    /// # Errors
    /// [`StoreError::TooManyVersions`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn keep_version(&self, quilt: QuiltId, name: &str) -> Result<VersionId, StoreError> {
        self.transact(|work| {
            work.hold(quilt)?;
            let now = read(work, quilt)?;
            let kept = work.one("SELECT count(*) FROM version WHERE quilt = ?1", &[quilt.0.into()])?.number(0)?;
            if usize::try_from(kept).unwrap_or(usize::MAX) >= MOST_VERSIONS {
                return Err(StoreError::TooManyVersions);
            }
            let sql = "INSERT INTO version (quilt, name, text) VALUES (?1, ?2, ?3) RETURNING id";
            work.one(sql, &[quilt.0.into(), name.into(), now.text.as_str().into()])?.number(0).map(VersionId)
        })
    }

    /// Gives a version another name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn rename_version(&self, quilt: QuiltId, id: VersionId, name: &str) -> Result<(), StoreError> {
        self.transact(|work| {
            let sql = "UPDATE version SET name = ?3 WHERE id = ?1 AND quilt = ?2";
            let changed = work.execute(sql, &[id.0.into(), quilt.0.into(), name.into()])?;
            if changed == 0 { Err(StoreError::NoSuchVersion) } else { Ok(()) }
        })
    }

    /// Lets go of a version. The quilt stays as it stands, on whichever text that is. Gives its name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchVersion`], or what the database says.
    pub fn drop_version(&self, quilt: QuiltId, id: VersionId) -> Result<String, StoreError> {
        self.transact(|work| {
            let sql = "DELETE FROM version WHERE id = ?1 AND quilt = ?2 RETURNING name";
            work.row(sql, &[id.0.into(), quilt.0.into()])?.ok_or(StoreError::NoSuchVersion)?.text(0)
        })
    }
}
