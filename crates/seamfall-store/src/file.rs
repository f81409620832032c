//! A store that is one file, kept by SQLite: set up, brought up to date, and looked at for damage.
//!
//! In: a file. Out: a connection to it, with the layout of [`schema`]; or why it is refused. `user_version` counts the steps that have been done.
//! One connection, one at a time: a file has one writer, and edits are short.

use crate::schema::{APPLICATION, STEPS, known};
use crate::work::Work;
use crate::{StoreError, hold};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, TransactionBehavior};
use std::fs::File;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// A store in a file, in use.
#[derive(Debug)]
pub struct InFile {
    connection: Mutex<Connection>,
    /// Kept for as long as the store is in use: nobody puts another file in its place meanwhile.
    _held: Option<File>,
}

impl InFile {
    /// Opens the store, made or brought up to date if need be.
    pub fn open(file: &Path) -> Result<Self, StoreError> {
        let held = hold::to_use(file)?;
        let mut connection = Connection::open(file)?;
        prepare(&mut connection)?;
        Ok(Self { connection: Mutex::new(connection), _held: held })
    }

    /// Asks something.
    pub fn look<T>(&self, look: impl FnOnce(&mut Work) -> Result<T, StoreError>) -> Result<T, StoreError> {
        look(&mut Work::File(&self.lock()))
    }

    /// One thing at a time, whole or not at all. A thread that died while it held the connection left no transaction behind:
    /// one that is not committed is rolled back when it is dropped.
    pub fn transact<T, E: From<StoreError>>(&self, work: impl FnOnce(&mut Work) -> Result<T, E>) -> Result<T, E> {
        let mut connection = self.lock();
        // Immediate: a second process waits here, not half-way.
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(StoreError::from)?;
        let done = work(&mut Work::File(&transaction))?;
        transaction.commit().map_err(StoreError::from)?;
        Ok(done)
    }

    /// The connection, once nobody else has it.
    pub fn lock(&self) -> MutexGuard<'_, Connection> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

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
        work.execute_batch(step.both)?;
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
