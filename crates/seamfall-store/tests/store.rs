//! Undo and redo over restarts, and what is left when a writer is killed.

use seamfall_store::{Revision, Store, StoreError};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

fn store() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let store = open(folder.path());
    (folder, store)
}

fn open(folder: &Path) -> Store {
    Store::open(&folder.join("seamfall.sqlite")).expect("the store opens")
}

#[test]
fn edits_can_be_undone_and_redone_after_a_restart() {
    let (folder, store) = store();
    let id = store.create("0").unwrap();
    for edit in 1..=5 {
        let seen = store.get(id).unwrap().revision;
        store.commit(id, seen, &edit.to_string(), &format!("edit {edit}")).unwrap();
    }
    drop(store);

    let store = open(folder.path());
    for edit in (0..5).rev() {
        let now = store.undo(id).unwrap();
        assert_eq!(now.text, edit.to_string());
        assert_eq!(now.redo, Some(format!("edit {}", edit + 1)));
        assert_eq!(now.undo, (edit > 0).then(|| format!("edit {edit}")));
    }
    assert!(matches!(store.undo(id), Err(StoreError::NothingToUndo)));
    drop(store);

    let store = open(folder.path());
    for edit in 1..=5 {
        assert_eq!(store.redo(id).unwrap().text, edit.to_string());
    }
    assert!(matches!(store.redo(id), Err(StoreError::NothingToRedo)));
}

#[test]
fn an_edit_after_an_undo_drops_what_was_undone() {
    let (_folder, store) = store();
    let id = store.create("first").unwrap();
    let second = store.commit(id, store.get(id).unwrap().revision, "second", "a").unwrap();
    let first = store.undo(id).unwrap();
    let other = store.commit(id, first.revision, "other", "b").unwrap();
    assert_eq!((other.undo.as_deref(), other.redo), (Some("b"), None));
    assert!(other.revision > second.revision, "the number of a dropped state is not used again");
    assert_eq!(store.undo(id).unwrap().text, "first");
    assert_eq!(store.redo(id).unwrap().text, "other");
}

#[test]
fn an_edit_of_what_was_changed_elsewhere_is_refused() {
    let (folder, store) = store();
    let id = store.create("a").unwrap();
    let seen = store.get(id).unwrap().revision;
    let elsewhere = open(folder.path());
    elsewhere.commit(id, seen, "b", "elsewhere").unwrap();
    assert!(matches!(store.commit(id, seen, "c", "here"), Err(StoreError::ChangedElsewhere)));
    assert_eq!(store.get(id).unwrap().text, "b");
    assert!(matches!(store.commit(id, Revision(seen.0 + 100), "c", "here"), Err(StoreError::ChangedElsewhere)));
}

#[test]
fn quilts_are_listed_the_last_one_first_and_keep_apart() {
    let (_folder, store) = store();
    let (one, two) = (store.create("one").unwrap(), store.create("two").unwrap());
    assert_eq!(store.last().unwrap(), Some(two));
    store.commit(one, store.get(one).unwrap().revision, "one more", "edit").unwrap();
    let listed: Vec<_> = store.list().unwrap().into_iter().map(|quilt| (quilt.id, quilt.text, quilt.states)).collect();
    assert_eq!(listed, [(one, "one more".to_owned(), 2), (two, "two".to_owned(), 1)]);
    store.remove(one).unwrap();
    assert!(matches!(store.get(one), Err(StoreError::NoSuchQuilt(_))));
    assert!(matches!(store.remove(one), Err(StoreError::NoSuchQuilt(_))));
    assert_eq!(store.get(two).unwrap().text, "two");
    assert!(store.create("three").unwrap() > two, "the number of a quilt that was taken away is not used again");
}

#[test]
fn newer_stores_and_other_files_are_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let newer = folder.path().join("newer.sqlite");
    drop(Store::open(&newer).unwrap());
    rusqlite::Connection::open(&newer).unwrap().pragma_update(None, "user_version", 999).unwrap();
    assert!(matches!(Store::open(&newer), Err(StoreError::Newer { found: 999, .. })));

    let other = folder.path().join("other.sqlite");
    rusqlite::Connection::open(&other).unwrap().execute_batch("CREATE TABLE recipes (name TEXT)").unwrap();
    assert!(matches!(Store::open(&other), Err(StoreError::NotAStore)));

    let text = folder.path().join("text.sqlite");
    std::fs::write(&text, "a letter to a friend, longer than the header of a database has room for, so that it is read as one")
        .unwrap();
    assert!(matches!(Store::open(&text), Err(StoreError::NotAStore)));
    assert!(std::fs::read_to_string(&text).unwrap().starts_with("a letter"));
}

/// Not a test by itself: the process that [`whenever_a_writer_dies_every_answered_edit_is_there`] kills.
#[test]
fn writer() {
    let Ok(folder) = std::env::var("SEAMFALL_TEST_WRITER") else { return };
    let store = open(Path::new(&folder));
    let id = store.last().unwrap().expect("the test made a quilt");
    let answered = Path::new(&folder).join("answered");
    loop {
        let now = store.get(id).unwrap();
        let next = now.text.lines().next().unwrap().parse::<u64>().unwrap() + 1;
        // A text of several pages, so that a torn write would show.
        let text = format!("{next}\n{}", format!("{next} ").repeat(4_000));
        store.commit(id, now.revision, &text, &format!("edit {next}")).unwrap();
        std::fs::write(&answered, next.to_string()).unwrap();
        if next.is_multiple_of(7) {
            store.undo(id).unwrap();
            store.redo(id).unwrap();
        }
    }
}

#[test]
fn whenever_a_writer_dies_every_answered_edit_is_there() {
    let (folder, store) = store();
    let id = store.create("0\n").unwrap();
    drop(store);
    let mut last = 0;
    for round in 0..20_u64 {
        let mut writer = Command::new(std::env::current_exe().unwrap())
            .args(["writer", "--exact", "--test-threads=1"])
            .env("SEAMFALL_TEST_WRITER", folder.path())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Odd waits, so that it dies at another moment each time.
        std::thread::sleep(Duration::from_micros(60_000 + 7_919 * round));
        writer.kill().unwrap();
        writer.wait().unwrap();

        let store = open(folder.path());
        assert_eq!(store.damage().unwrap(), Vec::<String>::new(), "round {round}");
        // A kill can also tear the note of what was answered: then it is empty, and the round proves less.
        let answered = std::fs::read_to_string(folder.path().join("answered")).ok().and_then(|text| text.parse::<u64>().ok());
        let now = store.get(id).unwrap();
        let (first, rest) = now.text.split_once('\n').unwrap();
        let stands: u64 = first.parse().unwrap();
        assert!(stands == 0 || rest == format!("{stands} ").repeat(4_000), "round {round}: the text is whole");
        // It may have died between an undo and its redo, which is one step.
        assert!(stands + 1 >= answered.unwrap_or(0).max(last), "round {round}: {answered:?} was answered, {stands} is there");
        last = stands;
        for back in 1..=stands.min(3) {
            assert!(store.undo(id).unwrap().text.starts_with(&format!("{}\n", stands - back)));
        }
        for _ in 1..=stands.min(3) {
            store.redo(id).unwrap();
        }
    }
    assert!(last > 20, "the writers wrote: {last}");
}
