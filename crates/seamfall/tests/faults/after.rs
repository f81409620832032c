//! What is left after a fault, looked at from outside: by SQLite itself, past the store; and then through the store.

use crate::maker::{Kept, Maker, Unanswered};
use rusqlite::Connection;
use seamfall_store::{QuiltId, Store};
use std::path::Path;
use std::process::Command;

/// SQLite finds nothing wrong with the file: the library that is built in, and the program of the machine where there is one.
pub fn is_whole(file: &Path) {
    let connection = Connection::open(file).expect("it opens");
    let said: String = connection.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("it answers");
    assert_eq!(said, "ok");
    let nowhere = connection.prepare("PRAGMA foreign_key_check").expect("a pragma").exists([]).expect("it answers");
    assert!(!nowhere, "every reference leads somewhere");
    if let Ok(said) = Command::new("sqlite3").arg(file).arg("PRAGMA integrity_check").output() {
        assert_eq!(String::from_utf8_lossy(&said.stdout).trim(), "ok");
    }
}

/// What became of a change that was not answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    Nothing,
    There,
    Gone,
}

/// Every quilt of a maker is as was answered, text by text over its whole history; the change that was not answered is there whole or not at
/// all. The maker goes on from what is there.
pub fn holds(file: &Path, maker: &mut Maker) -> Fate {
    let mut fate = Fate::Nothing;
    match maker.unanswered.take() {
        None => {}
        Some(Unanswered::Quilt(text)) => {
            let made = found(file, &text);
            fate = if made.is_some() { Fate::There } else { Fate::Gone };
            maker.quilts.extend(made.map(|id| Kept::new(id, &text)));
        }
        Some(Unanswered::Change(after)) => {
            let there = kept(file, after.id);
            let before = maker.quilts.iter_mut().find(|quilt| quilt.id == after.id).expect("a quilt of ours");
            if there == *after && there != *before {
                *before = there;
                fate = Fate::There;
            } else if *after != *before {
                fate = Fate::Gone;
            }
        }
    }
    for quilt in &maker.quilts {
        let there = kept(file, quilt.id);
        assert!(
            there == *quilt,
            "quilt {}: {} states, at {}, are there; {} states, at {}, were answered",
            quilt.id,
            there.states.len(),
            there.at,
            quilt.states.len(),
            quilt.at
        );
    }
    fate
}

/// A quilt as the file holds it.
fn kept(file: &Path, id: i64) -> Kept {
    let connection = Connection::open(file).expect("it opens");
    let mut query = connection
        .prepare(
            "SELECT text, ledger, state.id = current FROM state JOIN quilt ON quilt.id = quilt WHERE quilt = ?1 ORDER BY step",
        )
        .expect("a query");
    let mut kept = Kept { id, states: Vec::new(), at: usize::MAX, versions: Vec::new() };
    let mut rows = query.query([id]).expect("it answers");
    while let Some(row) = rows.next().expect("a row") {
        if row.get(2).expect("a number") {
            kept.at = kept.states.len();
        }
        kept.states.push((row.get(0).expect("a text"), row.get(1).expect("a text")));
    }
    let mut query = connection.prepare("SELECT text FROM version WHERE quilt = ?1 ORDER BY id").expect("a query");
    kept.versions = query.query_map([id], |row| row.get(0)).expect("it answers").collect::<Result<_, _>>().expect("texts");
    kept
}

/// The quilt that begins with this text.
fn found(file: &Path, text: &str) -> Option<i64> {
    let connection = Connection::open(file).expect("it opens");
    connection.query_row("SELECT quilt FROM state WHERE step = 0 AND text = ?1", [text], |row| row.get(0)).ok()
}

/// No quilt is there that nobody made.
pub fn count(file: &Path) -> usize {
    let connection = Connection::open(file).expect("it opens");
    let count: i64 = connection.query_row("SELECT count(*) FROM quilt", [], |row| row.get(0)).expect("it answers");
    usize::try_from(count).expect("a count")
}

/// Undone to its first state, done again to its last, and back to where it stood. How many steps that were.
pub fn undoes_and_redoes(file: &Path, quilt: &Kept) -> usize {
    let store = Store::open(file).expect("it opens");
    let id = QuiltId(quilt.id);
    let is = |at: usize| {
        let now = store.get(id).expect("it is there");
        assert!((now.text, now.ledger) == quilt.states[at], "quilt {id} at {at}");
    };
    let mut steps = 0;
    let mut go = |to: usize, from: usize| {
        for at in from.min(to)..from.max(to) {
            let gone = if to < from { store.undo(id) } else { store.redo(id) };
            gone.expect("a step");
            is(if to < from { from - 1 - (at - to) } else { at + 1 });
            steps += 1;
        }
    };
    let last = quilt.states.len() - 1;
    go(0, quilt.at);
    assert!(store.undo(id).is_err());
    go(last, 0);
    assert!(store.redo(id).is_err());
    go(quilt.at, last);
    steps
}
