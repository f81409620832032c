//! The class of a quilt: its text after each edit, with undo and redo of its own.
//!
//! In: the text of a class after an edit, and in words what it did. Out: it as it stands, and the steps to go back and forth. A class is a row of
//! states beside those of its quilt, so that an edit of the one never takes the other back. An empty text is a quilt without a class.

use crate::work::Work;
use crate::{QuiltId, Revision, Store, StoreError};

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
        self.look(|work| read(work, id))
    }

    /// Records an edit of the class. `seen` is the state it was made from.
    ///
    /// # Errors
    /// [`StoreError::ChangedElsewhere`] when the class no longer stands on `seen`, [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn commit_class(&self, id: QuiltId, seen: Revision, text: &str, what: &str) -> Result<StoredClass, StoreError> {
        self.transact(|work| {
            work.hold(id)?;
            let now = read(work, id)?;
            if now.revision != seen {
                return Err(StoreError::ChangedElsewhere);
            }
            let step = step(work, now.revision)?.map_or(0, |step| step + 1);
            work.execute("DELETE FROM class_state WHERE quilt = ?1 AND step >= ?2", &[id.0.into(), step.into()])?;
            let sql = "INSERT INTO class_state (quilt, step, text, what) VALUES (?1, ?2, ?3, ?4) RETURNING id";
            let state = work.one(sql, &[id.0.into(), step.into(), text.into(), what.into()])?.number(0)?;
            stand_on(work, id, state)?;
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
            work.hold(id)?;
            let now = read(work, id)?;
            let Some(step) = step(work, now.revision)? else { return Ok(None) };
            let sql = "SELECT id FROM class_state WHERE quilt = ?1 AND step = ?2";
            let Some(mut next) = work.row(sql, &[id.0.into(), (step + by).into()])? else { return Ok(None) };
            stand_on(work, id, next.number(0)?)?;
            read(work, id).map(Some)
        })
    }
}

fn step(work: &mut Work, revision: Revision) -> Result<Option<i64>, StoreError> {
    let found = work.row("SELECT step FROM class_state WHERE id = ?1", &[revision.0.into()])?;
    found.map(|mut row| row.number(0)).transpose()
}

fn stand_on(work: &mut Work, id: QuiltId, state: i64) -> Result<(), StoreError> {
    const SQL: &str =
        "INSERT INTO class (quilt, current) VALUES (?1, ?2) ON CONFLICT (quilt) DO UPDATE SET current = excluded.current";
    work.execute(SQL, &[id.0.into(), state.into()]).map(drop)
}

fn read(work: &mut Work, id: QuiltId) -> Result<StoredClass, StoreError> {
    const SQL: &str =
        "SELECT coalesce(here.id, 0), coalesce(here.text, ''), CASE WHEN here.step > 0 THEN here.what END, next.what
         FROM quilt LEFT JOIN class ON class.quilt = quilt.id LEFT JOIN class_state AS here ON here.id = class.current
         LEFT JOIN class_state AS next ON next.quilt = quilt.id AND next.step = here.step + 1
         WHERE quilt.id = ?1";
    let mut row = work.row(SQL, &[id.0.into()])?.ok_or(StoreError::NoSuchQuilt(id))?;
    let [undo, redo] = [row.text_if_any(2)?, row.text_if_any(3)?];
    Ok(StoredClass { text: row.text(1)?, revision: Revision(row.number(0)?), undo, redo })
}
