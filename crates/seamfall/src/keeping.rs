//! What the workroom keeps, kept safe: copies of the store, put back, and a damaged one mended.
//!
//! In: a file, and the folder of the store. Out: what was done, in words; quilts by their names.

use crate::asked::say;
use crate::failure::Failure;
use crate::files::{self, Over};
use crate::workroom::{STORE, data_folder};
use seamfall_store::{Mended, MendedQuilt, StoreError};
use std::path::Path;

/// Copies the store into a new file.
pub fn backup(file: &Path, data: Option<&Path>) -> Result<String, Failure> {
    let store = data_folder(data)?.join(STORE);
    let mut quilts = 0;
    files::whole(file, Over::Nothing, |temporary| {
        quilts = seamfall_store::backup(&store, temporary.path()).map_err(|error| match error {
            StoreError::Database(_) | StoreError::Beside { .. } => Failure::Backup { file: file.to_owned(), error },
            error => Failure::Store { file: store.clone(), error },
        })?;
        Ok(())
    })?;
    Ok(format!("{}: {}, checked\n", file.display(), counted(quilts, "quilt")))
}

/// Puts a copy in the place of the store.
pub fn restore(file: &Path, data: Option<&Path>) -> Result<String, Failure> {
    let folder = data_folder(data)?;
    if !file.is_file() {
        return Err(Failure::NoBackup { file: file.to_owned(), error: StoreError::NoStore });
    }
    std::fs::create_dir_all(&folder).map_err(|source| Failure::Write { file: folder.clone(), source })?;
    let store = folder.join(STORE);
    let kept = seamfall_store::restore(file, &store).map_err(|error| match error {
        StoreError::NotAStore | StoreError::Newer { .. } | StoreError::Damaged(_) | StoreError::Itself => {
            Failure::NoBackup { file: file.to_owned(), error }
        }
        error => Failure::Store { file: store.clone(), error },
    })?;
    let mut told = format!("{} is in the place of the store {}\n", file.display(), store.display());
    if let Some(kept) = kept {
        say(&mut told, format_args!("what was there is kept as {}; `seamfall restore` takes it back", kept.display()));
    }
    Ok(told)
}

/// Mends the store. Whether all that it held is there.
pub fn mend(data: Option<&Path>) -> Result<(String, bool), Failure> {
    let store = data_folder(data)?.join(STORE);
    match seamfall_store::mend(&store).map_err(|error| Failure::Store { file: store.clone(), error })? {
        None => Ok((format!("{} is whole; nothing was changed\n", store.display()), true)),
        Some(mended) => Ok(told(&store, &mended)),
    }
}

fn told(store: &Path, mended: &Mended) -> (String, bool) {
    let mut told = String::new();
    let mut is_all = mended.lost.is_empty();
    say(&mut told, format_args!("{} was damaged: {}", store.display(), mended.damage));
    for quilt in &mended.quilts {
        let lost = if quilt.lost > 0 { format!(", {} lost", quilt.lost) } else { String::new() };
        let moved = if quilt.moved { "; the state it stood on may be lost, look whether it is as you left it" } else { "" };
        say(&mut told, format_args!("  {}: {} saved{lost}{moved}", name(quilt), counted(quilt.states, "state")));
        is_all &= quilt.lost == 0 && !quilt.moved;
    }
    if mended.quilts.is_empty() {
        say(&mut told, format_args!("  no quilt could be read"));
        is_all = false;
    }
    for id in &mended.lost {
        say(&mut told, format_args!("  quilt {id}: lost, nothing of it could be read"));
    }
    if mended.photos > 0 {
        say(
            &mut told,
            format_args!("  {} lost; cloths that showed them have their colour", counted(mended.photos, "photograph")),
        );
    }
    for table in &mended.unsure {
        say(&mut told, format_args!("  not all {} could be read, more of them may be lost", what(table)));
    }
    is_all &= mended.photos == 0 && mended.unsure.is_empty();
    say(&mut told, format_args!("the damaged store is kept as {}", mended.kept.display()));
    (told, is_all)
}

/// What the maker calls a quilt; its number where its text cannot be read any more.
fn name(quilt: &MendedQuilt) -> String {
    match seamfall_model::read(&quilt.text) {
        Ok(read) => read.name,
        Err(_) => format!("quilt {} (its text cannot be read as a quilt; it is kept as it is, under *Quilts*)", quilt.id),
    }
}

fn counted(count: u64, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// What a table of the store holds.
fn what(table: &str) -> &str {
    match table {
        "quilt" => "quilts",
        "state" => "states of quilts",
        "version" => "versions",
        "own_block" => "blocks of your own",
        "photo" | "photo_of" => "photographs",
        "class" | "class_state" => "states of classes",
        other => other,
    }
}
