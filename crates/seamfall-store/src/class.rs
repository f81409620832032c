//! The class of a quilt: its text after each edit, with undo and redo of its own.
//!
//! In: the text of a class after an edit, and in words what it did. Out: it as it stands, and the steps to go back and forth. A class is a row of
//! states beside those of its quilt, so that an edit of the one never takes the other back. An empty text is a quilt without a class.

use crate::{QuiltId, Revision, Store, StoreError, letters};
use rusqlite::{Connection, OptionalExtension, params};

/// The class of a quilt as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredClass {
    /// Its text; empty where the quilt has no class.
    pub text: String,
    /// Its state; 0 before the first.
    pub revision: Revision,
    /// What the edit did that undo would take back.
    pub undo: Option<String>,
    /// What the edit did that redo would do again.
    pub redo: Option<String>,
}

impl Store {
    /// The class of a quilt.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn class(&self, id: QuiltId) -> Result<StoredClass, StoreError> {
        read(&self.lock(), id)
    }

    /// Records an edit of the class. `seen` is the state it was made from.
    ///
    /// # Errors
    /// [`StoreError::ChangedElsewhere`] when the class no longer stands on `seen`, [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn commit_class(&self, id: QuiltId, seen: Revision, text: &str, what: &str) -> Result<StoredClass, StoreError> {
        self.transact(|work| {
            let now = read(work, id)?;
            if now.revision != seen {
                return Err(StoreError::ChangedElsewhere);
            }
            let step = step(work, now.revision)?.map_or(0, |step| step + 1);
            work.execute("DELETE FROM class_state WHERE quilt = ?1 AND step >= ?2", params![id.0, step])?;
            work.execute(
                "INSERT INTO class_state (quilt, step, text, what) VALUES (?1, ?2, ?3, ?4)",
                params![id.0, step, text, what],
            )?;
            stand_on(work, id, work.last_insert_rowid())?;
            read(work, id)
        })
    }

    /// Goes one edit of the class back.
    ///
    /// # Errors
    /// [`StoreError::NothingToUndo`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn undo_class(&self, id: QuiltId) -> Result<StoredClass, StoreError> {
        self.go_class(id, -1)?.ok_or(StoreError::NothingToUndo)
    }

    /// Goes one edit of the class forth again.
    ///
    /// # Errors
    /// [`StoreError::NothingToRedo`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn redo_class(&self, id: QuiltId) -> Result<StoredClass, StoreError> {
        self.go_class(id, 1)?.ok_or(StoreError::NothingToRedo)
    }

    fn go_class(&self, id: QuiltId, by: i64) -> Result<Option<StoredClass>, StoreError> {
        self.transact(|work| {
            let now = read(work, id)?;
            let Some(step) = step(work, now.revision)? else { return Ok(None) };
            let next: Option<i64> = work
                .query_row("SELECT id FROM class_state WHERE quilt = ?1 AND step = ?2", params![id.0, step + by], |row| {
                    row.get(0)
                })
                .optional()?;
            let Some(next) = next else { return Ok(None) };
            stand_on(work, id, next)?;
            read(work, id).map(Some)
        })
    }
}

/// Takes the class of a quilt away with all its states.
pub(crate) fn remove(connection: &Connection, id: QuiltId) -> Result<(), StoreError> {
    connection.execute("DELETE FROM class WHERE quilt = ?1", [id.0])?;
    connection.execute("DELETE FROM class_state WHERE quilt = ?1", [id.0])?;
    Ok(())
}

fn step(connection: &Connection, revision: Revision) -> Result<Option<i64>, StoreError> {
    let query = connection.query_row("SELECT step FROM class_state WHERE id = ?1", [revision.0], |row| row.get(0));
    Ok(query.optional()?)
}

fn stand_on(connection: &Connection, id: QuiltId, state: i64) -> Result<(), StoreError> {
    connection.execute(
        "INSERT INTO class (quilt, current) VALUES (?1, ?2) ON CONFLICT (quilt) DO UPDATE SET current = excluded.current",
        params![id.0, state],
    )?;
    Ok(())
}

fn read(connection: &Connection, id: QuiltId) -> Result<StoredClass, StoreError> {
    connection
        .query_row("SELECT id FROM quilt WHERE id = ?1", [id.0], |row| row.get::<_, i64>(0))
        .optional()?
        .ok_or(StoreError::NoSuchQuilt(id))?;
    let now: Option<(i64, i64, String, String)> = connection
        .query_row(
            "SELECT class_state.id, step, text, what FROM class JOIN class_state ON class_state.id = current WHERE class.quilt = ?1",
            [id.0],
            |row| Ok((row.get(0)?, row.get(1)?, letters(row, 2)?, letters(row, 3)?)),
        )
        .optional()?;
    let Some((state, step, text, what)) = now else {
        return Ok(StoredClass { text: String::new(), revision: Revision(0), undo: None, redo: None });
    };
    let redo = connection
        .query_row("SELECT what FROM class_state WHERE quilt = ?1 AND step = ?2", params![id.0, step + 1], |row| letters(row, 0))
        .optional()?;
    Ok(StoredClass { text, revision: Revision(state), undo: (step > 0).then_some(what), redo })
}
