//! Who uses a store: all who work on it hold a lock together, who puts another file in its place holds it alone.
//!
//! The lock lies on a file of its own beside the store (`seamfall.sqlite.lock`), since the store's own file is exchanged. The system takes it
//! off when a process ends, however it ends.

use crate::StoreError;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

/// Holds a store together with others. Where no lock can be had, as in a folder that may not be written to, it is the database that
/// says what can be done.
pub fn to_use(store: &Path) -> Result<Option<File>, StoreError> {
    let Ok(file) = lock_file(store) else { return Ok(None) };
    match file.try_lock_shared() {
        Ok(()) => Ok(Some(file)),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

/// Holds a store alone.
pub fn alone(store: &Path) -> Result<File, StoreError> {
    let failed = |source| StoreError::Beside { file: beside(store, ".lock"), source };
    let file = lock_file(store).map_err(failed)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(TryLockError::Error(source)) => Err(failed(source)),
    }
}

fn lock_file(store: &Path) -> std::io::Result<File> {
    OpenOptions::new().create(true).truncate(false).write(true).open(beside(store, ".lock"))
}

/// The file of this name with an ending behind it.
pub fn beside(store: &Path, ending: &str) -> PathBuf {
    let mut name = store.as_os_str().to_owned();
    name.push(ending);
    name.into()
}
