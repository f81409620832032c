//! Copies of a whole store: taken while others write, put back, refused where they are not what they should be.

use rusqlite::Connection;
use seamfall_store::{Edited, QuiltId, Store, StoreError, backup, restore};
use std::path::{Path, PathBuf};

fn folder() -> (tempfile::TempDir, PathBuf, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let (store, copy) = (folder.path().join("seamfall.sqlite"), folder.path().join("copy.sqlite"));
    (folder, store, copy)
}

fn edit(store: &Store, id: QuiltId, text: &str) {
    store.commit(id, store.get(id).unwrap().revision, Edited { text, ledger: "", what: "edit" }).unwrap();
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn texts(file: &Path) -> Vec<String> {
    let mut texts: Vec<String> = Store::open(file).unwrap().list().unwrap().into_iter().map(|quilt| quilt.text).collect();
    texts.sort();
    texts
}

#[test]
fn a_backup_of_a_store_in_use_holds_all_that_was_answered() {
    let (_folder, file, copy) = folder();
    let store = Store::open(&file).unwrap();
    let id = store.create("one", "").unwrap();
    edit(&store, id, "two");
    assert_eq!(backup(&file, &copy).unwrap(), 1);
    edit(&store, id, "three");
    let kept = Store::open(&copy).unwrap();
    assert_eq!(kept.get(id).unwrap().text, "two", "what came later is not in it");
    assert_eq!(kept.undo(id).unwrap().text, "one", "the history is in it");
    assert_eq!(kept.damage().unwrap(), Vec::<String>::new());
}

/// Each quilt has as many letters as its number of edits: a copy between two of them would show.
#[test]
fn a_backup_is_a_state_that_the_store_was_in() {
    let (folder, file, _) = folder();
    let store = Store::open(&file).unwrap();
    let [one, two] = [store.create("", "").unwrap(), store.create("", "").unwrap()];
    std::thread::scope(|scope| {
        let writer = scope.spawn(|| {
            for length in 1..150 {
                edit(&store, one, &"x".repeat(length));
                edit(&store, two, &"y".repeat(length));
            }
        });
        let mut number = 0;
        while !writer.is_finished() || number < 3 {
            number += 1;
            let copy = folder.path().join(format!("copy-{number}.sqlite"));
            assert_eq!(backup(&file, &copy).unwrap(), 2);
            let kept = Store::open(&copy).unwrap();
            assert_eq!(kept.damage().unwrap(), Vec::<String>::new());
            let [first, second] = [one, two].map(|id| kept.get(id).unwrap().text.len());
            assert!(first == second || first == second + 1, "{first} and {second}");
        }
    });
}

#[test]
fn a_store_is_put_back_and_the_one_that_was_there_is_kept() {
    let (folder, file, copy) = folder();
    let store = Store::open(&file).unwrap();
    let id = store.create("as it was", "").unwrap();
    backup(&file, &copy).unwrap();
    edit(&store, id, "spoiled");
    assert!(matches!(restore(&copy, &file), Err(StoreError::InUse)), "while it is open it is not exchanged");
    assert_eq!(store.get(id).unwrap().text, "spoiled");
    drop(store);

    let kept = restore(&copy, &file).unwrap().unwrap();
    assert_eq!(kept, folder.path().join("seamfall-replaced-1.sqlite"));
    assert_eq!(texts(&file), ["as it was"]);
    assert_eq!(texts(&kept), ["spoiled"]);
    // And again, the other way: another number.
    assert_eq!(restore(&kept, &file).unwrap().unwrap(), folder.path().join("seamfall-replaced-2.sqlite"));
    assert_eq!(texts(&file), ["spoiled"]);

    let elsewhere = folder.path().join("new");
    std::fs::create_dir(&elsewhere).unwrap();
    assert_eq!(restore(&copy, &elsewhere.join("seamfall.sqlite")).unwrap(), None, "into an empty folder");
    assert_eq!(texts(&elsewhere.join("seamfall.sqlite")), ["as it was"]);
}

/// A process that dies leaves its last edits in the log beside the store; they belong to the store that is kept.
#[test]
fn what_is_in_the_log_of_a_store_goes_with_it() {
    let (folder, file, copy) = folder();
    let id = {
        let store = Store::open(&file).unwrap();
        let id = store.create("old", "").unwrap();
        backup(&file, &copy).unwrap();
        edit(&store, id, "newest");
        // A copy of the three files while they are in use is what a dead process leaves.
        for ending in ["", "-wal", "-shm"] {
            std::fs::copy(format!("{}{ending}", file.display()), folder.path().join(format!("dead.sqlite{ending}"))).unwrap();
        }
        id
    };
    let dead = folder.path().join("dead.sqlite");
    assert!(std::fs::metadata(folder.path().join("dead.sqlite-wal")).unwrap().len() > 0, "the edit is in the log");
    let kept = restore(&copy, &dead).unwrap().unwrap();
    assert_eq!(Store::open(&dead).unwrap().get(id).unwrap().text, "old");
    assert_eq!(Store::open(&kept).unwrap().get(id).unwrap().text, "newest");
}

#[test]
fn what_is_no_backup_is_refused_and_nothing_changes() {
    let (folder, file, copy) = folder();
    Store::open(&file).unwrap().create("stays", "").unwrap();
    let before = std::fs::read(&file).unwrap();
    let path = |name: &str| folder.path().join(name);

    std::fs::write(
        path("letter"),
        "a letter to a friend, longer than the head of a database has room for, so that it is read as one",
    )
    .unwrap();
    std::fs::write(path("empty"), "").unwrap();
    Connection::open(path("recipes")).unwrap().execute_batch("CREATE TABLE recipes (name TEXT)").unwrap();
    for other in ["letter", "empty", "recipes"] {
        assert!(matches!(restore(&path(other), &file), Err(StoreError::NotAStore)), "{other}");
    }
    assert!(restore(&path("nowhere"), &file).unwrap_err().to_string().contains("cannot be opened"));
    assert!(matches!(restore(&file, &file), Err(StoreError::Itself)));

    backup(&file, &copy).unwrap();
    Connection::open(&copy).unwrap().pragma_update(None, "user_version", 999).unwrap();
    assert!(matches!(restore(&copy, &file), Err(StoreError::Newer { found: 999, .. })));

    backup(&file, &path("damaged")).unwrap();
    let mut bytes = std::fs::read(path("damaged")).unwrap();
    let last = bytes.len() - 4096;
    bytes[last..].fill(0x5a);
    std::fs::write(path("damaged"), bytes).unwrap();
    assert!(matches!(restore(&path("damaged"), &file), Err(StoreError::Damaged(_))));

    assert_eq!(std::fs::read(&file).unwrap(), before, "the store is as it was, byte for byte");
    assert_eq!(names(folder.path()).iter().filter(|name| name.contains("replaced") || name.contains(".new")).count(), 0);
}

#[test]
fn there_must_be_a_store_to_keep() {
    let (_folder, file, copy) = folder();
    assert!(matches!(backup(&file, &copy), Err(StoreError::NoStore)));
    assert!(!file.exists(), "none is made by asking");
}
