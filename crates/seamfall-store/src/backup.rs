//! Copies of a whole store: taken while it is in use, and put back.
//!
//! In: the file of a store, and the file of a copy. Out: a copy that is one file and has been checked; or the copy in the place of the
//! store, and the store that was there under another name. Pages are copied by the database's own online backup, in one transaction, so that a copy is
//! a state that the store was in.

use crate::hold::{alone, beside, to_use};
use crate::{StoreError, file};
use rusqlite::backup::Backup;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Copies the store into `copy`, a file that is empty or not there yet. A workroom may go on writing meanwhile. Gives the number of quilts in it.
///
/// # Errors
/// [`StoreError::NoStore`], [`StoreError::Newer`], [`StoreError::NotAStore`], [`StoreError::Damaged`], [`StoreError::InUse`] while it is
/// restored or mended, or what the database says, of the store or of the copy.
pub fn backup(store: &Path, copy: &Path) -> Result<u64, StoreError> {
    if !store.is_file() {
        return Err(StoreError::NoStore);
    }
    let _held = to_use(store)?;
    copy_whole(&to_read(store, OpenFlags::SQLITE_OPEN_READ_WRITE)?, copy)
}

/// Puts a copy in the place of the store, which may be there or not. Gives the name under which the one that was there is kept.
///
/// # Errors
/// [`StoreError::NotAStore`], [`StoreError::Newer`] or [`StoreError::Damaged`] of the copy, [`StoreError::InUse`] of the store,
/// [`StoreError::Itself`] where both are one, or what the database or the system says. The store is as it was then.
pub fn restore(copy: &Path, store: &Path) -> Result<Option<PathBuf>, StoreError> {
    if let (Ok(one), Ok(other)) = (copy.canonicalize(), store.canonicalize())
        && one == other
    {
        return Err(StoreError::Itself);
    }
    let from = to_read(copy, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    let held = alone(store)?;
    let new = beside(store, ".new");
    let done = clear(&new).and_then(|()| {
        copy_whole(&from, &new)?;
        fold(store);
        put_in_place(&new, store, "replaced")
    });
    let _ = clear(&new);
    drop(held);
    done
}

/// Opens a file to copy it. A store that lies where nothing may be written cannot have the log it asks for beside it; where it has none, it is
/// read as a file that nobody changes.
fn to_read(file: &Path, flags: OpenFlags) -> Result<Connection, StoreError> {
    let opened = Connection::open_with_flags(file, flags)?;
    let tables = opened.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get::<_, i64>(0));
    let refused =
        matches!(tables.err().and_then(|error| error.sqlite_error_code()), Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly));
    if !refused || beside(file, "-wal").exists() {
        return Ok(opened);
    }
    let name: String = file
        .to_string_lossy()
        .chars()
        .map(|c| if "%?#".contains(c) { format!("%{:02x}", u32::from(c)) } else { c.to_string() })
        .collect();
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    Ok(Connection::open_with_flags(format!("file:{name}?immutable=1"), flags)?)
}

/// Copies a store that was looked at, and looks at the copy. Gives the number of quilts in it.
fn copy_whole(from: &Connection, copy: &Path) -> Result<u64, StoreError> {
    from.busy_timeout(Duration::from_secs(5))?;
    if !file::look(from)? {
        return Err(StoreError::NotAStore);
    }
    let mut to = Connection::open(copy)?;
    // All at once: a writer would make it begin anew.
    Backup::new(from, &mut to)?.run_to_completion(i32::MAX, Duration::from_millis(50), None)?;
    // One file, without the log that a store in use has beside it.
    to.pragma_update(None, "journal_mode", "DELETE")?;
    file::look(&to)?;
    let quilts: i64 = to.query_row("SELECT count(*) FROM quilt", [], |row| row.get(0))?;
    Ok(quilts.unsigned_abs())
}

/// Puts what is still in the log of a store into its file. A damaged one is left alone, and its log is kept with it.
fn fold(store: &Path) {
    let Ok(there) = Connection::open_with_flags(store, OpenFlags::SQLITE_OPEN_READ_WRITE) else { return };
    let left = there.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
    if left.is_ok() && file::look(&there).is_ok_and(|is_there| is_there) {
        // What cannot be folded in is kept beside it.
        let _ = there.pragma_update(None, "journal_mode", "DELETE");
    }
}

/// Puts the file `new` in the place of the store, which nobody else uses. What was there is kept beside it as `seamfall-WHY-1.sqlite`, with the first
/// number that is free; its name is given. At every moment the one or the other is there, whole.
pub fn put_in_place(new: &Path, store: &Path, why: &str) -> Result<Option<PathBuf>, StoreError> {
    let failed = |file: &Path| {
        let file = file.to_owned();
        move |source| StoreError::Beside { file, source }
    };
    File::open(new).and_then(|file| file.sync_all()).map_err(failed(new))?;
    let mut aside = None;
    if store.exists() {
        let kept = free_name(store, why);
        for ending in ["-wal", ""] {
            let (from, to) = (beside(store, ending), beside(&kept, ending));
            if from.exists() {
                keep(&from, &to).map_err(failed(&to))?;
            }
        }
        aside = Some(kept);
    }
    // The log of the one does not belong to the other.
    for ending in ["-wal", "-shm", "-journal"] {
        clear(&beside(store, ending))?;
    }
    fs::rename(new, store).and_then(|()| sync_folder(store)).map_err(failed(store))?;
    Ok(aside)
}

/// A second name for a file; a copy where the system has no second names.
fn keep(from: &Path, to: &Path) -> io::Result<()> {
    fs::hard_link(from, to).or_else(|_| fs::copy(from, to).and_then(|_| File::open(to)?.sync_all()))
}

fn free_name(store: &Path, why: &str) -> PathBuf {
    let stem = store.file_stem().unwrap_or_default().to_string_lossy();
    let names = (1..).map(|number| store.with_file_name(format!("{stem}-{why}-{number}.sqlite")));
    names.into_iter().find(|name| name.symlink_metadata().is_err()).expect("numbers do not end")
}

/// Takes a file of ours away, if it is there.
pub fn clear(file: &Path) -> Result<(), StoreError> {
    match fs::remove_file(file) {
        Err(source) if source.kind() != io::ErrorKind::NotFound => Err(StoreError::Beside { file: file.to_owned(), source }),
        _ => Ok(()),
    }
}

/// A name is on the disk once its folder is.
#[cfg(unix)]
fn sync_folder(file: &Path) -> io::Result<()> {
    File::open(file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new(".")))?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
