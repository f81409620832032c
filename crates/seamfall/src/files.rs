//! Files: read within limits, written whole or not at all.

use crate::failure::Failure;
use seamfall_model::limits::FILE_BYTES;
use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;
use tr::tr;

/// Text of a quilt file or a ledger, no more of it than a quilt file may hold.
pub fn read(file: &Path) -> Result<String, Failure> {
    let unreadable = |source| Failure::Read { file: file.to_owned(), source };
    let mut bytes = Vec::new();
    let limit = FILE_BYTES as u64 + 1;
    fs::File::open(file).map_err(unreadable)?.take(limit).read_to_end(&mut bytes).map_err(unreadable)?;
    let no_text = |why: &str| Failure::NoText { file: file.to_owned(), why: why.to_owned() };
    if bytes.len() > FILE_BYTES {
        return Err(no_text(&tr!("it is larger than 2 MiB")));
    }
    String::from_utf8(bytes).map_err(|_| no_text(&tr!("it is not UTF-8 text")))
}

/// Path and text of the ledger beside a quilt file, if there is one.
pub fn ledger(file: &Path) -> Result<Option<(PathBuf, String)>, Failure> {
    let ledger = beside(file, "ledger.toml");
    match read(&ledger) {
        // An empty text would say that nothing is sewn, and a ledger that lost its text does not know that.
        Ok(text) if text.trim().is_empty() => Err(Failure::NoText {
            file: ledger,
            why: tr!("it is empty, though a ledger names its quilt; bring back a copy, or take it away if nothing is sewn"),
        }),
        Ok(text) => Ok(Some((ledger, text))),
        Err(Failure::Read { source, .. }) if source.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(failure) => Err(failure),
    }
}

/// Writes a file, over one that is there; into what is no file, such as a pipe, straight.
pub fn write(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if fs::metadata(file).is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        let written = fs::OpenOptions::new().write(true).open(file).and_then(|mut there| there.write_all(bytes));
        return written.map_err(|source| Failure::Write { file: file.to_owned(), source });
    }
    // Through a link to the file that it names, so that the link stays.
    let named = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
    whole(&named, Over::Anything, |temporary| {
        temporary.write_all(bytes).map_err(|source| Failure::Write { file: file.to_owned(), source })
    })
}

/// Writes a new file; one that exists is left alone.
pub fn create(file: &Path, text: &str) -> Result<(), Failure> {
    whole(file, Over::Nothing, |temporary| {
        temporary.write_all(text.as_bytes()).map_err(|source| Failure::Write { file: file.to_owned(), source })
    })
}

/// What a file may be put over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// A file of the same name.
    Anything,
    /// Nothing.
    Nothing,
}

/// The one way in which a file comes to be, whole or not at all: `fill` writes a temporary one beside it, which is brought to the disk and then given
/// the name. Where that fails, the temporary one is taken away and what was there stands. One that is left by a process that was
/// killed is called `.seamfall-` and some letters, and is of no use to anybody.
pub fn whole(file: &Path, over: Over, fill: impl FnOnce(&mut NamedTempFile) -> Result<(), Failure>) -> Result<(), Failure> {
    let failed = |source| Failure::Write { file: file.to_owned(), source };
    if over == Over::Nothing && file.symlink_metadata().is_ok() {
        return Err(Failure::Exists(file.to_owned()));
    }
    let folder = folder_of(file);
    let made = tempfile::Builder::new().prefix(".seamfall-").permissions(readable()).tempfile_in(folder);
    let mut temporary = made.map_err(failed)?;
    fill(&mut temporary)?;
    temporary.as_file().sync_all().map_err(failed)?;
    let named = match over {
        Over::Anything => temporary.persist(file),
        Over::Nothing => temporary.persist_noclobber(file),
    };
    match named {
        Ok(_) => sync_folder(folder).map_err(failed),
        Err(error) if error.error.kind() == std::io::ErrorKind::AlreadyExists => Err(Failure::Exists(file.to_owned())),
        Err(error) => Err(failed(error.error)),
    }
}

/// Makes a new folder with these files by way of a temporary one beside it, so that it is never there by half; one that exists is left alone.
pub fn create_folder(folder: &Path, files: &[(String, String)]) -> Result<(), Failure> {
    let failed = |source| Failure::Write { file: folder.to_owned(), source };
    if folder.symlink_metadata().is_ok() {
        return Err(Failure::Exists(folder.to_owned()));
    }
    let beside = folder_of(folder);
    let temporary = tempfile::Builder::new().prefix(".seamfall-").tempdir_in(beside).map_err(failed)?;
    for (name, text) in files {
        let file = fs::File::create(temporary.path().join(name)).map_err(failed)?;
        (&file).write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(failed)?;
    }
    sync_folder(temporary.path()).map_err(failed)?;
    set_readable(temporary.path()).and_then(|()| fs::rename(temporary.path(), folder)).map_err(failed)?;
    sync_folder(beside).map_err(failed)
}

/// The folder that a file lies in.
fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// A name is on the disk once its folder is.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Files are made to be read by others, as far as the user's own mask allows.
#[cfg(unix)]
fn readable() -> fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    fs::Permissions::from_mode(0o644)
}

/// A folder is made for its owner alone by `tempfile`.
#[cfg(unix)]
fn set_readable(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn set_readable(_: &Path) -> std::io::Result<()> {
    Ok(())
}

#[cfg(not(unix))]
fn readable() -> fs::Permissions {
    fs::metadata(".").expect("the current folder is there").permissions()
}

/// `harbour.quilt.toml` with another ending: `harbour.pdf`.
pub fn beside(file: &Path, ending: &str) -> PathBuf {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let stem = name
        .strip_suffix(".quilt.toml")
        .or_else(|| name.strip_suffix(".class.toml"))
        .or_else(|| name.strip_suffix(".toml"))
        .unwrap_or(&name);
    file.with_file_name(format!("{stem}.{ending}"))
}
