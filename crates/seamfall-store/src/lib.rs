//! The store of quilts, their edits, undo and redo, and of the maker's own blocks. The only SQL of the house.
//!
//! In: the texts of a quilt and of its ledger after each edit, and in words what the edit did. Out: both as they stand, and the steps to
//! go back and forth. A quilt's texts are a row of states; the quilt stands on one of them. An edit after an undo drops the states that
//! were undone; versions that are kept under a name stand beside them. One edit is one transaction: whenever the process dies, at most the edit under way is lost.
//!
//! The store does not read quilts: a text is a text here.

mod backup;
mod class;
#[cfg(test)]
mod full;
mod hold;
mod mend;
mod own;
mod photos;
mod schema;
mod versions;

pub use backup::{backup, restore};
pub use mend::{Mended, MendedQuilt, mend};
pub use photos::{MOST_PHOTOS, NewPhoto, PhotoOf};
pub use versions::{MOST_VERSIONS, Version};

pub use class::StoredClass;
pub use own::{OwnBlock, OwnBlockId};

use rusqlite::types::{FromSql, FromSqlResult, ValueRef};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, TransactionBehavior, params};
use std::fmt;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use tr::tr;

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// A quilt in the store.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct QuiltId(pub i64);

impl fmt::Display for QuiltId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A state of a quilt and its ledger. Each edit, undo and redo gives another; no number is used again for another text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Revision(pub i64);

/// A version that is kept of a quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VersionId(pub i64);

/// A quilt as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stored {
    /// The text of its file.
    pub text: String,
    /// The text of its ledger; empty while nothing has been sewn.
    pub ledger: String,
    /// Its state.
    pub revision: Revision,
    /// What the edit did that undo would take back.
    pub undo: Option<String>,
    /// What the edit did that redo would do again.
    pub redo: Option<String>,
}

/// What an edit makes of a quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Edited<'a> {
    /// The text of its file.
    pub text: &'a str,
    /// The text of its ledger.
    pub ledger: &'a str,
    /// What the edit did, in words.
    pub what: &'a str,
}

/// A line of the list of quilts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// The quilt.
    pub id: QuiltId,
    /// The text of its file.
    pub text: String,
    /// The text of its ledger.
    pub ledger: String,
    /// States it has been in and can go back or forth to.
    pub states: u64,
}

/// Why the store did not do it. Nothing was changed then.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// No such quilt.
    #[error("{}", tr!("there is no quilt {value} in the store; it may have been taken away", value = _0))]
    NoSuchQuilt(QuiltId),
    /// Somebody else, such as a second window, has changed the quilt since it was read.
    #[error("{}", tr!("the quilt was changed elsewhere in the meantime; it is shown as it is now, then make the change again"))]
    ChangedElsewhere,
    /// No such block.
    #[error("{}", tr!("there is no such block of your own any more; it may have been taken away"))]
    NoSuchBlock,
    /// Nothing left to undo.
    #[error("{}", tr!("there is nothing to undo"))]
    NothingToUndo,
    /// Nothing left to redo.
    #[error("{}", tr!("there is nothing to redo"))]
    NothingToRedo,
    /// [`MOST_PHOTOS`] are kept already.
    #[error("{}", tr!("{most} photographs of this quilt are kept, as many as can be; use those it has", most = MOST_PHOTOS))]
    TooManyPhotos,
    /// Written by a newer version of the program.
    #[error(
        "{}", tr!("the store was written by a newer Seamfall (its layout is number {found}, this one knows up to {known}); use that one, or another folder with `--data`", found, known))]
    Newer {
        /// Layout of the store.
        found: i64,
        /// The latest that is known here.
        known: i64,
    },
    /// Another program's database, or none at all.
    #[error("{}", tr!("this file is not a store of Seamfall; choose another folder with `--data`"))]
    NotAStore,
    /// The file is damaged.
    #[error(
        "{}", tr!("the store is damaged ({value}); close the workroom and run `seamfall mend`, which saves what can be read and keeps the damaged file", value = _0))]
    Damaged(String),
    /// A workroom is open on it.
    #[error("{}", tr!("the store is in use; close the workroom, and every other Seamfall that works on this folder, then do it again"))]
    InUse,
    /// There is none.
    #[error("{}", tr!("there is no store here yet; look whether `--data` names the right folder"))]
    NoStore,
    /// A file was to be restored into itself.
    #[error("{}", tr!("this file is the store itself; name a file that `seamfall backup` wrote"))]
    Itself,
    /// A file beside the store could not be written.
    #[error("{}", tr!("nothing was changed, {file} could not be written: {source}; make room on the disk or allow writing in its folder, then do it again", file = file.display(), source))]
    Beside {
        /// The file.
        file: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// No such version.
    #[error("{}", tr!("there is no such version of this quilt; it may have been let go of in another window"))]
    NoSuchVersion,
    /// More versions than are kept.
    #[error("{}", tr!("{most} versions of this quilt are kept already; let go of one first", most = MOST_VERSIONS))]
    TooManyVersions,
    /// The database itself failed: disk full, file damaged, no permission.
    #[error("{}", database_words(.0))]
    Database(#[from] rusqlite::Error),
}

/// What the database says, in words that tell what to do about it.
fn database_words(error: &rusqlite::Error) -> String {
    use rusqlite::ErrorCode;
    let what = match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => tr!("the disk is full; make room on it, then do it again"),
        Some(ErrorCode::ReadOnly) => {
            tr!("its folder or file may not be written to; allow that, or choose another folder with `--data`")
        }
        Some(ErrorCode::CannotOpen) => {
            tr!(
                "its file cannot be opened; look whether the folder is there and may be written to, or choose another with `--data`"
            )
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            tr!("another Seamfall is writing to it; do it again in a moment")
        }
        Some(ErrorCode::SystemIoFailure) => {
            tr!("the disk could not be read or written; look whether it is still there and has room, then do it again")
        }
        Some(ErrorCode::DatabaseCorrupt) => {
            tr!(
                "its file is damaged; close the workroom and run `seamfall mend`, which saves what can be read and keeps the damaged file"
            )
        }
        _ => return tr!("the store could not be used: {error}", error),
    };
    tr!("nothing was changed, the store could not be used: {what}", what)
}

/// The store. Can be shared between threads; one works at a time.
#[derive(Debug)]
pub struct Store {
    connection: Mutex<Connection>,
    /// Kept for as long as the store is in use: nobody puts another file in its place meanwhile.
    _held: Option<File>,
}

impl Store {
    /// Opens the store in `file`, made or brought up to date if need be.
    ///
    /// # Errors
    /// [`StoreError::Newer`], [`StoreError::NotAStore`], [`StoreError::Damaged`], [`StoreError::InUse`] while it is restored or mended, or
    /// what the database says.
    pub fn open(file: &Path) -> Result<Self, StoreError> {
        let held = hold::to_use(file)?;
        let mut connection = Connection::open(file)?;
        schema::prepare(&mut connection)?;
        Ok(Self { connection: Mutex::new(connection), _held: held })
    }

    /// All quilts, the one worked on last first.
    ///
    /// # Errors
    /// What the database says.
    pub fn list(&self) -> Result<Vec<Listed>, StoreError> {
        let connection = self.lock();
        let mut query = connection.prepare_cached(
            "SELECT quilt.id, state.text, state.ledger, (SELECT count(*) FROM state AS each WHERE each.quilt = quilt.id)
             FROM quilt JOIN state ON state.id = quilt.current ORDER BY quilt.touched DESC",
        )?;
        let rows = query.query_map([], |row| {
            let states = row.get::<_, i64>(3)?.unsigned_abs();
            Ok(Listed { id: QuiltId(row.get(0)?), text: letters(row, 1)?, ledger: letters(row, 2)?, states })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The quilt worked on last.
    ///
    /// # Errors
    /// What the database says.
    pub fn last(&self) -> Result<Option<QuiltId>, StoreError> {
        let connection = self.lock();
        let id = connection.query_row("SELECT id FROM quilt ORDER BY touched DESC LIMIT 1", [], |row| row.get(0)).optional()?;
        Ok(id.map(QuiltId))
    }

    /// Adds a quilt with its ledger, which is empty while nothing has been sewn.
    ///
    /// # Errors
    /// What the database says.
    pub fn create(&self, text: &str, ledger: &str) -> Result<QuiltId, StoreError> {
        self.transact(|work| {
            work.execute("INSERT INTO quilt (current, touched) VALUES (0, 0)", [])?;
            let id = QuiltId(work.last_insert_rowid());
            add(work, id, 0, Edited { text, ledger, what: "" })?;
            Ok(id)
        })
    }

    /// The quilt as it stands.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn get(&self, id: QuiltId) -> Result<Stored, StoreError> {
        read(&self.lock(), id)
    }

    /// Records an edit. `seen` is the state it was made from.
    ///
    /// # Errors
    /// [`StoreError::ChangedElsewhere`] when the quilt no longer stands on `seen`, [`StoreError::NoSuchQuilt`], or what the
    /// database says.
    pub fn commit(&self, id: QuiltId, seen: Revision, edited: Edited) -> Result<Stored, StoreError> {
        self.transact(|work| {
            let (current, step) = standing(work, id)?;
            if current != seen.0 {
                return Err(StoreError::ChangedElsewhere);
            }
            put(work, id, step, edited)?;
            read(work, id)
        })
    }

    /// Records an edit of the ledger, which `edit` makes of the ledger as it stands now: it is made as well when others have written into
    /// the ledger since `seen`, if only the quilt's own text is still that of `seen`. Gives the new text and what the edit did; a
    /// text that is as it was makes no new state. Nobody else can come between, so `edit` should be quick, and not ask
    /// the store.
    ///
    /// # Errors
    /// [`StoreError::ChangedElsewhere`] when the quilt's text is another by now, [`StoreError::NoSuchQuilt`], or what the database or
    /// `edit` says; nothing was changed then.
    pub fn edit_ledger<E: From<StoreError>>(
        &self,
        id: QuiltId,
        seen: Revision,
        edit: impl FnOnce(&Stored) -> Result<(String, String), E>,
    ) -> Result<Stored, E> {
        self.transact(|work| {
            let now = read(work, id)?;
            if text_of(work, id, seen)?.as_ref() != Some(&now.text) {
                return Err(StoreError::ChangedElsewhere.into());
            }
            let (ledger, what) = edit(&now)?;
            if ledger == now.ledger {
                return Ok(now);
            }
            let (_, step) = standing(work, id)?;
            put(work, id, step, Edited { text: &now.text, ledger: &ledger, what: &what })?;
            Ok(read(work, id)?)
        })
    }

    /// Goes one edit back.
    ///
    /// # Errors
    /// [`StoreError::NothingToUndo`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn undo(&self, id: QuiltId) -> Result<Stored, StoreError> {
        self.step(id, -1)?.ok_or(StoreError::NothingToUndo)
    }

    /// Goes one edit forth again.
    ///
    /// # Errors
    /// [`StoreError::NothingToRedo`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn redo(&self, id: QuiltId) -> Result<Stored, StoreError> {
        self.step(id, 1)?.ok_or(StoreError::NothingToRedo)
    }

    /// Takes a quilt away with all its states.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn remove(&self, id: QuiltId) -> Result<(), StoreError> {
        self.transact(|work| {
            class::remove(work, id)?;
            work.execute("DELETE FROM state WHERE quilt = ?1", [id.0])?;
            work.execute("DELETE FROM version WHERE quilt = ?1", [id.0])?;
            work.execute("DELETE FROM photo_of WHERE quilt = ?1", [id.0])?;
            photos::forget(work)?;
            match work.execute("DELETE FROM quilt WHERE id = ?1", [id.0])? {
                0 => Err(StoreError::NoSuchQuilt(id)),
                _ => Ok(()),
            }
        })
    }

    /// What the database finds wrong with its own file; nothing when it is whole.
    ///
    /// # Errors
    /// What the database says.
    pub fn damage(&self) -> Result<Vec<String>, StoreError> {
        Ok(schema::damage(&self.lock())?)
    }

    fn step(&self, id: QuiltId, by: i64) -> Result<Option<Stored>, StoreError> {
        self.transact(|work| {
            let (_, step) = standing(work, id)?;
            let next: Option<i64> = work
                .query_row("SELECT id FROM state WHERE quilt = ?1 AND step = ?2", params![id.0, step + by], |row| row.get(0))
                .optional()?;
            let Some(next) = next else { return Ok(None) };
            stand_on(work, id, next)?;
            read(work, id).map(Some)
        })
    }

    /// One thing at a time, whole or not at all. A thread that died while it held the connection left no transaction behind:
    /// one that is not committed is rolled back when it is dropped.
    fn transact<T, E: From<StoreError>>(&self, work: impl FnOnce(&Transaction) -> Result<T, E>) -> Result<T, E> {
        let mut connection = self.lock();
        // Immediate: a second process waits here, not half-way.
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(StoreError::from)?;
        let done = work(&transaction)?;
        transaction.commit().map_err(StoreError::from)?;
        Ok(done)
    }

    fn lock(&self) -> MutexGuard<'_, Connection> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The state a quilt stands on: its id and its step.
fn standing(connection: &Connection, id: QuiltId) -> Result<(i64, i64), StoreError> {
    connection
        .prepare_cached("SELECT state.id, state.step FROM quilt JOIN state ON state.id = quilt.current WHERE quilt.id = ?1")?
        .query_row([id.0], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?
        .ok_or(StoreError::NoSuchQuilt(id))
}

/// Stands a quilt on a state, and makes it the one worked on last.
fn stand_on(connection: &Connection, id: QuiltId, state: i64) -> Result<(), StoreError> {
    connection
        .prepare_cached("UPDATE quilt SET current = ?2, touched = (SELECT max(touched) + 1 FROM quilt) WHERE id = ?1")?
        .execute(params![id.0, state])?;
    Ok(())
}

/// Adds a state behind `step`, in place of those that were undone, and stands the quilt on it.
fn put(connection: &Connection, id: QuiltId, step: i64, edited: Edited) -> Result<(), StoreError> {
    connection.execute("DELETE FROM state WHERE quilt = ?1 AND step > ?2", params![id.0, step])?;
    add(connection, id, step + 1, edited)
}

fn add(connection: &Connection, id: QuiltId, step: i64, Edited { text, ledger, what }: Edited) -> Result<(), StoreError> {
    connection.execute(
        "INSERT INTO state (quilt, step, text, ledger, what) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![id.0, step, text, ledger, what],
    )?;
    stand_on(connection, id, connection.last_insert_rowid())
}

/// The quilt's text in a state, unless that was dropped.
fn text_of(connection: &Connection, id: QuiltId, state: Revision) -> Result<Option<String>, StoreError> {
    let mut query = connection.prepare_cached("SELECT text FROM state WHERE id = ?1 AND quilt = ?2")?;
    Ok(query.query_row([state.0, id.0], |row| letters(row, 0)).optional()?)
}

/// A text, whatever became of its letters: those that a damaged disk has spoiled are shown as `\u{fffd}`, and all the others are there.
struct Letters(String);

impl FromSql for Letters {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        value.as_bytes().map(|bytes| Self(String::from_utf8_lossy(bytes).into_owned()))
    }
}

fn letters(row: &Row, column: usize) -> rusqlite::Result<String> {
    row.get(column).map(|Letters(text)| text)
}

fn read(connection: &Connection, id: QuiltId) -> Result<Stored, StoreError> {
    connection
        .prepare_cached(
            "SELECT here.id, here.text, here.ledger, CASE WHEN here.step > 0 THEN here.what END, next.what
             FROM quilt JOIN state AS here ON here.id = quilt.current
             LEFT JOIN state AS next ON next.quilt = quilt.id AND next.step = here.step + 1
             WHERE quilt.id = ?1",
        )?
        .query_row([id.0], |row| {
            let [text, ledger] = [letters(row, 1)?, letters(row, 2)?];
            let [undo, redo] = [row.get::<_, Option<Letters>>(3)?, row.get(4)?].map(|what| what.map(|Letters(what)| what));
            Ok(Stored { revision: Revision(row.get(0)?), text, ledger, undo, redo })
        })
        .optional()?
        .ok_or(StoreError::NoSuchQuilt(id))
}
