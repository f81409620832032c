//! The store of quilts, their edits, undo and redo, and of the maker's own blocks. The only SQL of the house.
//!
//! In: the texts of a quilt and of its ledger after each edit, and in words what the edit did. Out: both as they stand, and the steps to
//! go back and forth. A quilt's texts are a row of states; the quilt stands on one of them. An edit after an undo drops the states that
//! were undone; versions that are kept under a name stand beside them. One edit is one transaction: whenever the process dies, at most the edit under way is lost.
//!
//! It is kept in a file (`file`), or on a server where many write at once (`server`); which of the two is behind one small door (`work`), and the layout is
//! the same (`schema`). The store does not read quilts: a text is a text here.

mod backup;
mod class;
mod error;
mod file;
#[cfg(test)]
mod full;
mod guild;
mod hold;
mod mend;
#[cfg(test)]
mod older;
mod own;
mod photos;
mod place;
mod schema;
mod server;
mod versions;
mod work;

pub use backup::{backup, restore};
pub use error::StoreError;
pub use mend::{Mended, MendedQuilt, mend};
pub use photos::{MOST_PHOTOS, NewPhoto, PhotoOf};
pub use place::Place;
pub use versions::{MOST_VERSIONS, Version};

pub use class::StoredClass;
pub use guild::{Asking, Invitation, InvitationId, May, Member, MemberId, Role, SessionId, Shared};
pub use own::{OwnBlock, OwnBlockId};

use file::InFile;
use server::OnServer;
use std::fmt;
use std::path::Path;
use work::{Row, Thing, Work};

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

/// The store. Can be shared between threads. In a file one works at a time; on a server as many as it has connections.
#[derive(Debug)]
pub struct Store(Database);

#[derive(Debug)]
enum Database {
    File(InFile),
    Server(Box<OnServer>),
}

impl Store {
    /// Opens the store in `file`, made or brought up to date if need be.
    ///
    /// # Errors
    /// [`StoreError::Newer`], [`StoreError::NotAStore`], [`StoreError::Damaged`], [`StoreError::InUse`] while it is restored or mended, or
    /// what the database says.
    pub fn open(file: &Path) -> Result<Self, StoreError> {
        InFile::open(file).map(Database::File).map(Self)
    }

    /// Opens the store at `place`, made or brought up to date if need be. One on a server may be open in many processes at the same time; it is used by
    /// threads that may wait, never by one that runs a runtime.
    ///
    /// # Errors
    /// See [`Store::open`]; of a server [`StoreError::Away`], [`StoreError::NotOurs`], [`StoreError::Letters`], or what it says.
    pub fn at(place: &Place) -> Result<Self, StoreError> {
        match place {
            Place::File(file) => Self::open(file),
            Place::Server(config) => {
                let server = OnServer::at(config);
                server.transact(server::bring_up_to_date)?;
                Ok(Self(Database::Server(Box::new(server))))
            }
        }
    }

    /// Opens the store in the PostgreSQL database at an address, such as `postgres://user@host/database`.
    ///
    /// # Errors
    /// [`StoreError::Address`]; see [`Store::at`].
    pub fn connect(address: &str) -> Result<Self, StoreError> {
        Self::at(&Place::server(address)?)
    }

    /// All quilts, the one worked on last first.
    ///
    /// # Errors
    /// What the database says.
    pub fn list(&self) -> Result<Vec<Listed>, StoreError> {
        const ALL: &str =
            "SELECT quilt.id, state.text, state.ledger, (SELECT count(*) FROM state AS each WHERE each.quilt = quilt.id)
             FROM quilt JOIN state ON state.id = quilt.current ORDER BY quilt.touched DESC";
        let listed = |mut row: Row| {
            let states = row.number(3)?.unsigned_abs();
            Ok(Listed { id: QuiltId(row.number(0)?), text: row.text(1)?, ledger: row.text(2)?, states })
        };
        self.look(|work| work.rows(ALL, &[])?.into_iter().map(listed).collect())
    }

    /// The quilt worked on last.
    ///
    /// # Errors
    /// What the database says.
    pub fn last(&self) -> Result<Option<QuiltId>, StoreError> {
        let last = self.look(|work| work.row("SELECT id FROM quilt ORDER BY touched DESC LIMIT 1", &[]))?;
        last.map(|mut row| row.number(0).map(QuiltId)).transpose()
    }

    /// Adds a quilt with its ledger, which is empty while nothing has been sewn.
    ///
    /// # Errors
    /// What the database says.
    pub fn create(&self, text: &str, ledger: &str) -> Result<QuiltId, StoreError> {
        self.transact(|work| create(work, text, ledger))
    }

    /// The quilt as it stands.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn get(&self, id: QuiltId) -> Result<Stored, StoreError> {
        self.look(|work| read(work, id))
    }

    /// Records an edit. `seen` is the state it was made from.
    ///
    /// # Errors
    /// [`StoreError::ChangedElsewhere`] when the quilt no longer stands on `seen`, [`StoreError::NoSuchQuilt`], or what the
    /// database says.
    pub fn commit(&self, id: QuiltId, seen: Revision, edited: Edited) -> Result<Stored, StoreError> {
        self.transact(|work| {
            work.hold(id)?;
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
            work.hold(id)?;
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
            work.hold(id)?;
            work.hold_all(Thing::Photos)?;
            for sql in [
                "DELETE FROM class WHERE quilt = ?1",
                "DELETE FROM class_state WHERE quilt = ?1",
                "DELETE FROM state WHERE quilt = ?1",
                "DELETE FROM version WHERE quilt = ?1",
                "DELETE FROM photo_of WHERE quilt = ?1",
                "DELETE FROM quilt WHERE id = ?1",
            ] {
                work.execute(sql, &[id.0.into()])?;
            }
            photos::forget(work)
        })
    }

    /// What the database finds wrong with its own file; nothing when it is whole. On a server, what does not fit together in the tables.
    ///
    /// # Errors
    /// What the database says.
    pub fn damage(&self) -> Result<Vec<String>, StoreError> {
        match &self.0 {
            Database::File(file) => Ok(file::damage(&file.lock())?),
            Database::Server(server) => server.look(server::damage),
        }
    }

    fn step(&self, id: QuiltId, by: i64) -> Result<Option<Stored>, StoreError> {
        self.transact(|work| {
            work.hold(id)?;
            let (_, step) = standing(work, id)?;
            let next = work.row("SELECT id FROM state WHERE quilt = ?1 AND step = ?2", &[id.0.into(), (step + by).into()])?;
            let Some(mut next) = next else { return Ok(None) };
            stand_on(work, id, next.number(0)?)?;
            read(work, id).map(Some)
        })
    }

    /// Asks something: one statement, which sees one state of the store. It may be asked twice, where a connection has broken.
    fn look<T>(&self, look: impl Fn(&mut Work) -> Result<T, StoreError>) -> Result<T, StoreError> {
        match &self.0 {
            Database::File(file) => file.look(look),
            Database::Server(server) => server.look(look),
        }
    }

    /// Whole or not at all. What others must not change meanwhile is held first: [`Work::hold`].
    fn transact<T, E: From<StoreError>>(&self, work: impl FnOnce(&mut Work) -> Result<T, E>) -> Result<T, E> {
        match &self.0 {
            Database::File(file) => file.transact(work),
            Database::Server(server) => server.transact(work),
        }
    }
}

/// The state a quilt stands on: its id and its step.
fn standing(work: &mut Work, id: QuiltId) -> Result<(i64, i64), StoreError> {
    const SQL: &str = "SELECT state.id, state.step FROM quilt JOIN state ON state.id = quilt.current WHERE quilt.id = ?1";
    let mut row = work.row(SQL, &[id.0.into()])?.ok_or(StoreError::NoSuchQuilt(id))?;
    Ok((row.number(0)?, row.number(1)?))
}

/// Stands a quilt on a state, and makes it the one worked on last.
fn stand_on(work: &mut Work, id: QuiltId, state: i64) -> Result<(), StoreError> {
    work.execute("UPDATE quilt SET current = ?2 WHERE id = ?1", &[id.0.into(), state.into()])?;
    work.touch(id)
}

/// Adds a state behind `step`, in place of those that were undone, and stands the quilt on it.
fn put(work: &mut Work, id: QuiltId, step: i64, edited: Edited) -> Result<(), StoreError> {
    work.execute("DELETE FROM state WHERE quilt = ?1 AND step > ?2", &[id.0.into(), step.into()])?;
    add(work, id, step + 1, edited)
}

/// Adds a quilt with its first state.
fn create(work: &mut Work, text: &str, ledger: &str) -> Result<QuiltId, StoreError> {
    let id = QuiltId(work.one("INSERT INTO quilt (current, touched) VALUES (0, 0) RETURNING id", &[])?.number(0)?);
    add(work, id, 0, Edited { text, ledger, what: "" })?;
    Ok(id)
}

fn add(work: &mut Work, id: QuiltId, step: i64, Edited { text, ledger, what }: Edited) -> Result<(), StoreError> {
    const SQL: &str = "INSERT INTO state (quilt, step, text, ledger, what) VALUES (?1, ?2, ?3, ?4, ?5) RETURNING id";
    let state = work.one(SQL, &[id.0.into(), step.into(), text.into(), ledger.into(), what.into()])?.number(0)?;
    stand_on(work, id, state)
}

/// The quilt's text in a state, unless that was dropped.
fn text_of(work: &mut Work, id: QuiltId, state: Revision) -> Result<Option<String>, StoreError> {
    let found = work.row("SELECT text FROM state WHERE id = ?1 AND quilt = ?2", &[state.0.into(), id.0.into()])?;
    found.map(|mut row| row.text(0)).transpose()
}

fn read(work: &mut Work, id: QuiltId) -> Result<Stored, StoreError> {
    const SQL: &str = "SELECT here.id, here.text, here.ledger, CASE WHEN here.step > 0 THEN here.what END, next.what
         FROM quilt JOIN state AS here ON here.id = quilt.current
         LEFT JOIN state AS next ON next.quilt = quilt.id AND next.step = here.step + 1
         WHERE quilt.id = ?1";
    let mut row = work.row(SQL, &[id.0.into()])?.ok_or(StoreError::NoSuchQuilt(id))?;
    let [text, ledger] = [row.text(1)?, row.text(2)?];
    let [undo, redo] = [row.text_if_any(3)?, row.text_if_any(4)?];
    Ok(Stored { revision: Revision(row.number(0)?), text, ledger, undo, redo })
}
