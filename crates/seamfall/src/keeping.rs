//! What the workroom keeps, kept safe: copies of the store, put back, and a damaged one mended.
//!
//! In: a file, and the folder of the store. Out: what was done, in words; quilts by their names.

use crate::asked::say;
use crate::failure::Failure;
use crate::files::{self, Over};
use crate::workroom;
use seamfall_store::{Mended, MendedQuilt, Place, StoreError};
use std::path::{Path, PathBuf};
use tr::tr;

/// The file of the store. One on a server has none.
fn file_of_store(data: Option<&Path>) -> Result<PathBuf, Failure> {
    match workroom::place(data, None)? {
        Place::File(file) => Ok(file),
        place => Err(Failure::Store { place: place.to_string(), error: StoreError::OnServer }),
    }
}

fn unusable(store: &Path, error: StoreError) -> Failure {
    Failure::Store { place: store.display().to_string(), error }
}

/// Copies the store into a new file.
pub fn backup(file: &Path, data: Option<&Path>) -> Result<String, Failure> {
    let store = file_of_store(data)?;
    let mut quilts = 0;
    files::whole(file, Over::Nothing, |temporary| {
        quilts = seamfall_store::backup(&store, temporary.path()).map_err(|error| match error {
            StoreError::Database(_) | StoreError::Beside { .. } => Failure::Backup { file: file.to_owned(), error },
            error => unusable(&store, error),
        })?;
        Ok(())
    })?;
    Ok(tr!("{file}: 1 quilt, checked" | "{file}: {n} quilts, checked" % quilts, file = file.display()) + "\n")
}

/// Puts a copy in the place of the store.
pub fn restore(file: &Path, data: Option<&Path>) -> Result<String, Failure> {
    let store = file_of_store(data)?;
    if !file.is_file() {
        return Err(Failure::NoBackup { file: file.to_owned(), error: StoreError::NoStore });
    }
    let folder = store.parent().expect("a file in a folder");
    std::fs::create_dir_all(folder).map_err(|source| Failure::Write { file: folder.to_owned(), source })?;
    let kept = seamfall_store::restore(file, &store).map_err(|error| match error {
        StoreError::NotAStore | StoreError::Newer { .. } | StoreError::Damaged(_) | StoreError::Itself => {
            Failure::NoBackup { file: file.to_owned(), error }
        }
        error => unusable(&store, error),
    })?;
    let mut told = tr!("{file} is in the place of the store {store}", file = file.display(), store = store.display()) + "\n";
    if let Some(kept) = kept {
        say(
            &mut told,
            format_args!("{}", tr!("what was there is kept as {kept}; `seamfall restore` takes it back", kept = kept.display())),
        );
    }
    Ok(told)
}

/// Mends the store. Whether all that it held is there.
pub fn mend(data: Option<&Path>) -> Result<(String, bool), Failure> {
    let store = file_of_store(data)?;
    match seamfall_store::mend(&store).map_err(|error| unusable(&store, error))? {
        None => Ok((tr!("{store} is whole; nothing was changed", store = store.display()) + "\n", true)),
        Some(mended) => Ok(told(&store, &mended)),
    }
}

fn told(store: &Path, mended: &Mended) -> (String, bool) {
    let mut told = String::new();
    let mut is_all = mended.lost.is_empty();
    say(&mut told, format_args!("{}", tr!("{store} was damaged: {damage}", store = store.display(), damage = mended.damage)));
    for quilt in &mended.quilts {
        let saved = tr!("{name}: 1 state saved" | "{name}: {n} states saved" % quilt.states, name = name(quilt));
        let saved = if quilt.lost > 0 { tr!("{saved}, {lost} lost", saved, lost = quilt.lost) } else { saved };
        let saved = if quilt.moved {
            tr!("{saved}; the state it stood on may be lost, look whether it is as you left it", saved)
        } else {
            saved
        };
        say(&mut told, format_args!("  {saved}"));
        is_all &= quilt.lost == 0 && !quilt.moved;
    }
    if mended.quilts.is_empty() {
        say(&mut told, format_args!("  {}", tr!("no quilt could be read")));
        is_all = false;
    }
    for id in &mended.lost {
        say(&mut told, format_args!("  {}", tr!("quilt {id}: lost, nothing of it could be read", id)));
    }
    if mended.photos > 0 {
        say(
            &mut told,
            format_args!(
                "  {}",
                tr!("1 photograph lost; cloths that showed them have their colour"
                    | "{n} photographs lost; cloths that showed them have their colour" % mended.photos)
            ),
        );
    }
    for table in &mended.unsure {
        say(&mut told, format_args!("  {}", tr!("not all {table} could be read, more of them may be lost", table = what(table))));
    }
    is_all &= mended.photos == 0 && mended.unsure.is_empty();
    say(&mut told, format_args!("{}", tr!("the damaged store is kept as {kept}", kept = mended.kept.display())));
    (told, is_all)
}

/// What the maker calls a quilt; its number where its text cannot be read any more.
fn name(quilt: &MendedQuilt) -> String {
    match seamfall_model::read(&quilt.text) {
        Ok(read) => read.name,
        Err(_) => tr!("quilt {id} (its text cannot be read as a quilt; it is kept as it is, under *Quilts*)", id = quilt.id),
    }
}

/// What a table of the store holds.
fn what(table: &str) -> String {
    match table {
        "quilt" => tr!("quilts"),
        "state" => tr!("states of quilts"),
        "version" => tr!("versions"),
        "own_block" => tr!("blocks of your own"),
        "photo" | "photo_of" => tr!("photographs"),
        "class" | "class_state" => tr!("states of classes"),
        other => other.to_owned(),
    }
}
