//! The layout of the store, and how an older one is brought up to date.
//!
//! `user_version` counts the steps below that have been done; each is done once, in a transaction of its own. Steps are only ever
//! added at the end.

use crate::StoreError;
use rusqlite::{Connection, TransactionBehavior};
use std::time::Duration;

/// Marks the file as a store of Seamfall: `Seam` in ASCII, in the header that SQLite keeps for this.
const APPLICATION: i64 = 0x5365_616d;

/// `step` counts a quilt's states from 0 without a gap. AUTOINCREMENT: the number of a state that was dropped never comes back for
/// another text, so that a window that missed the change is noticed. No foreign key from `current`: it would be circular.
/// A ledger is empty while nothing has been sewn, as in every state from before there were ledgers.
const STEPS: &[&str] = &[
    "
    CREATE TABLE quilt (id INTEGER PRIMARY KEY AUTOINCREMENT, current INTEGER NOT NULL, touched INTEGER NOT NULL) STRICT;
    CREATE TABLE state (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        quilt INTEGER NOT NULL REFERENCES quilt (id),
        step INTEGER NOT NULL,
        text TEXT NOT NULL,
        what TEXT NOT NULL,
        UNIQUE (quilt, step)
    ) STRICT;
",
    "
    ALTER TABLE state ADD COLUMN ledger TEXT NOT NULL DEFAULT '';
",
    "
    CREATE TABLE version (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        quilt INTEGER NOT NULL REFERENCES quilt (id),
        name TEXT NOT NULL,
        text TEXT NOT NULL
    ) STRICT;
    CREATE INDEX version_of ON version (quilt);
",
    "
    CREATE TABLE own_block (id INTEGER PRIMARY KEY AUTOINCREMENT, text TEXT NOT NULL) STRICT;
",
    "
    CREATE TABLE photo (hash TEXT PRIMARY KEY, bytes BLOB NOT NULL, luminance REAL NOT NULL) STRICT;
    CREATE TABLE photo_of (
        quilt INTEGER NOT NULL REFERENCES quilt (id),
        name TEXT NOT NULL,
        hash TEXT NOT NULL REFERENCES photo (hash),
        PRIMARY KEY (quilt, name)
    ) STRICT;
    CREATE INDEX photo_by_hash ON photo_of (hash);
",
    "
    CREATE TABLE class_state (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        quilt INTEGER NOT NULL REFERENCES quilt (id),
        step INTEGER NOT NULL,
        text TEXT NOT NULL,
        what TEXT NOT NULL,
        UNIQUE (quilt, step)
    ) STRICT;
    CREATE TABLE class (quilt INTEGER PRIMARY KEY REFERENCES quilt (id), current INTEGER NOT NULL) STRICT;
",
];

/// Sets the connection up and brings the layout up to date.
pub fn prepare(connection: &mut Connection) -> Result<(), StoreError> {
    // A second workroom on the same folder waits this long for its turn.
    connection.busy_timeout(Duration::from_secs(5))?;
    check(connection)?;
    // WAL and FULL: every edit is on the disk before it is answered, one sync each (NORMAL could lose the last ones with the power).
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    let work = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let done = version(&work)?;
    for step in STEPS.iter().skip(usize::try_from(done).unwrap_or(0)) {
        work.execute_batch(step)?;
    }
    if done < known() {
        work.pragma_update(None, "application_id", APPLICATION)?;
        work.pragma_update(None, "user_version", known())?;
    }
    work.commit()?;
    Ok(())
}

/// Refuses a file that is not ours or is newer than we are, before anything is written.
fn check(connection: &Connection) -> Result<(), StoreError> {
    let application: i64 = match connection.pragma_query_value(None, "application_id", |row| row.get(0)) {
        Err(error) if error.sqlite_error_code() == Some(rusqlite::ErrorCode::NotADatabase) => return Err(StoreError::NotAStore),
        answer => answer?,
    };
    let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application != APPLICATION && (application != 0 || tables > 0) {
        return Err(StoreError::NotAStore);
    }
    match version(connection)? {
        found if found > known() => Err(StoreError::Newer { found, known: known() }),
        _ => Ok(()),
    }
}

fn version(connection: &Connection) -> Result<i64, StoreError> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

fn known() -> i64 {
    i64::try_from(STEPS.len()).expect("a handful of steps")
}
