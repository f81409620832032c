//! The layout of the store, and how an older one is brought up to date.
//!
//! `user_version` counts the steps below that have been done; each is done once, in a transaction of its own. Steps are only ever
//! added at the end.

use crate::StoreError;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, TransactionBehavior};
use std::time::Duration;

/// Marks the file as a store of Seamfall: `Seam` in ASCII, in the header that SQLite keeps for this.
pub const APPLICATION: i64 = 0x5365_616d;

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
    // A damaged file is not even tidied up when it is closed.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    look(connection)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false)?;
    // WAL and FULL: every edit is on the disk before it is answered, one sync each (NORMAL could lose the last ones with the power).
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    bring_up_to_date(connection).map_err(damaged)
}

/// Does the steps that have not been done yet.
pub fn bring_up_to_date(connection: &mut Connection) -> Result<(), StoreError> {
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

/// An empty store in memory, of the latest layout: what a whole one looks like.
pub fn pattern() -> Result<Connection, StoreError> {
    let mut connection = Connection::open_in_memory()?;
    bring_up_to_date(&mut connection)?;
    Ok(connection)
}

/// Looks at a store before anything is written: refuses one that is not ours, is newer than we are, or is damaged. Whether there is one; in
/// a new file there is not.
pub fn look(connection: &Connection) -> Result<bool, StoreError> {
    let is_there = check(connection).map_err(damaged)?;
    let damage = if is_there { damage(connection).map_err(|error| damaged(error.into()))? } else { Vec::new() };
    match damage.into_iter().next() {
        Some(first) => Err(StoreError::Damaged(first)),
        None => Ok(is_there),
    }
}

/// A file in which the database cannot find its way is a damaged one; a disk that is full, or a folder that may not be written to, is not.
fn damaged(error: StoreError) -> StoreError {
    use ErrorCode::*;
    let StoreError::Database(error) = error else { return error };
    match error.sqlite_error_code() {
        Some(
            DatabaseBusy
            | DatabaseLocked
            | CannotOpen
            | ReadOnly
            | DiskFull
            | SystemIoFailure
            | OutOfMemory
            | PermissionDenied
            | FileLockingProtocolFailed
            | OperationInterrupted
            | NotADatabase,
        ) => error.into(),
        _ => StoreError::Damaged(error.to_string()),
    }
}

/// What the database finds wrong with its file, tables that are missing, and quilts that stand on nothing. A hundred megabytes take 50 ms.
pub fn damage(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut query = connection.prepare("PRAGMA integrity_check(20)")?;
    let mut found: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    found.retain(|line| line != "ok");
    if !found.is_empty() {
        return Ok(found);
    }
    for table in ["quilt", "state"] {
        let there: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema WHERE name = ?1", [table], |row| row.get(0))?;
        if there == 0 {
            return Ok(vec![format!("its table `{table}` is missing")]);
        }
    }
    let orphans: i64 = connection.query_row(
        "SELECT count(*) FROM quilt WHERE NOT EXISTS (SELECT 1 FROM state WHERE state.id = current AND state.quilt = quilt.id)",
        [],
        |row| row.get(0),
    )?;
    if orphans > 0 {
        found.push(format!("{orphans} quilts stand on no state"));
    }
    let mut query = connection.prepare("SELECT \"table\", count(*) FROM pragma_foreign_key_check GROUP BY 1")?;
    let lost = query
        .query_map([], |row| Ok(format!("{} rows of `{}` belong to nothing", row.get::<_, i64>(1)?, row.get::<_, String>(0)?)))?;
    found.extend(lost.collect::<Result<Vec<_>, _>>()?);
    Ok(found)
}

/// Refuses a file that is not ours or is newer than we are. Whether it is a store, and not a new file.
fn check(connection: &Connection) -> Result<bool, StoreError> {
    let application: i64 = match connection.pragma_query_value(None, "application_id", |row| row.get(0)) {
        Err(error) if error.sqlite_error_code() == Some(ErrorCode::NotADatabase) => return Err(StoreError::NotAStore),
        answer => answer?,
    };
    let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application != APPLICATION && (application != 0 || tables > 0) {
        return Err(StoreError::NotAStore);
    }
    match version(connection)? {
        found if found > known() => Err(StoreError::Newer { found, known: known() }),
        0 if tables > 0 => Err(StoreError::Damaged("the number of its layout is lost".to_owned())),
        found => Ok(found > 0),
    }
}

pub fn version(connection: &Connection) -> Result<i64, StoreError> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

pub fn known() -> i64 {
    i64::try_from(STEPS.len()).expect("a handful of steps")
}
