//! A store that may not grow: the database refuses with the very error of a full disk (`PRAGMA max_page_count`, SQLITE_FULL). It runs where no small
//! disk can be had; on a real one the server is tried by the program of faults of the command line.

use crate::{Database, Edited, Store, StoreError};

/// Lets the store have so many pages more than it has.
fn room(store: &Store, more: i64) {
    let Database::File(file) = &store.0 else { panic!("it is in a file") };
    let connection = file.lock();
    let pages: i64 = connection.query_row("PRAGMA page_count", [], |row| row.get(0)).unwrap();
    connection.query_row(&format!("PRAGMA max_page_count = {}", pages + more), [], |row| row.get::<_, i64>(0)).unwrap();
}

#[test]
fn what_has_no_room_is_refused_whole_and_made_once_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("seamfall.sqlite")).unwrap();
    let text = |number: usize| format!("{number} ").repeat(3000);
    let id = store.create(&text(0), "").unwrap();
    room(&store, 20);
    let edit = |number: usize| {
        let seen = store.get(id).unwrap().revision;
        store.commit(id, seen, Edited { text: &text(number), ledger: "", what: "edit" })
    };
    let (full, refused) = (1..).find_map(|number| edit(number).err().map(|error| (number, error))).unwrap();
    assert!(matches!(&refused, StoreError::Database(error) if error.sqlite_error_code() == Some(rusqlite::ErrorCode::DiskFull)));
    assert!(refused.to_string().contains("the disk is full; make room on it, then do it again"), "{refused}");
    assert!(full > 2, "there was room for some: {full}");
    assert_eq!(store.get(id).unwrap().text, text(full - 1));
    assert!(store.create(&text(full), "").is_err());
    assert_eq!(store.undo(id).unwrap().text, text(full - 2), "what takes no room works");
    assert_eq!(store.redo(id).unwrap().text, text(full - 1));
    assert_eq!(store.damage().unwrap(), Vec::<String>::new());

    room(&store, 1000);
    assert_eq!(edit(full).unwrap().text, text(full));
    assert_eq!(store.list().unwrap()[0].states, full as u64 + 1);
    assert_eq!(store.damage().unwrap(), Vec::<String>::new());
}
