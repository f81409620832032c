//! Versions are kept, named, and outlive edits and restarts; and what a store says that cannot be written.

mod places;

use places::everywhere;
use seamfall_store::{Edited, MOST_VERSIONS, Store, StoreError};

#[test]
fn a_version_is_what_the_quilt_was_when_it_was_kept() {
    everywhere(|home| {
        let store = home.open();
        let [quilt, other] = [store.create("first", "").unwrap(), store.create("another quilt", "").unwrap()];
        let kept = store.keep_version(quilt, "calm").unwrap();
        let seen = store.get(quilt).unwrap().revision;
        store.commit(quilt, seen, Edited { text: "second", ledger: "", what: "edit" }).unwrap();
        let bold = store.keep_version(quilt, "bold").unwrap();
        store.rename_version(quilt, bold, "bolder").unwrap();
        drop(store);

        let store = home.open();
        let told: Vec<_> = store.versions(quilt).unwrap().into_iter().map(|version| (version.name, version.text)).collect();
        assert_eq!(told, [("calm", "first"), ("bolder", "second")].map(|(name, text)| (name.to_owned(), text.to_owned())));
        assert!(store.versions(other).unwrap().is_empty());
        assert!(matches!(store.version(other, kept), Err(StoreError::NoSuchVersion)), "it is a version of another quilt");
        assert!(matches!(store.rename_version(other, kept, "mine"), Err(StoreError::NoSuchVersion)));
        assert!(matches!(store.drop_version(other, kept), Err(StoreError::NoSuchVersion)));

        assert_eq!(store.drop_version(quilt, kept).unwrap(), "calm");
        assert_eq!(store.get(quilt).unwrap().text, "second", "the quilt stands where it stood");
        store.remove(quilt).unwrap();
        assert!(store.versions(quilt).unwrap().is_empty());
        assert!(store.damage().unwrap().is_empty());
    });
}

#[test]
fn only_so_many_versions_are_kept() {
    everywhere(|home| {
        let store = home.open();
        let quilt = store.create("text", "").unwrap();
        for number in 0..MOST_VERSIONS {
            store.keep_version(quilt, &number.to_string()).unwrap();
        }
        assert_eq!(
            store.keep_version(quilt, "one more").unwrap_err().to_string(),
            "40 versions of this quilt are kept already; let go of one first"
        );
    });
}

/// A full disk and a folder that may not be written to are told in plain words; what was there stays.
#[test]
fn a_store_that_cannot_be_written_says_why_and_keeps_what_it_has() {
    let said = |code: i32| {
        let error = rusqlite::Error::SqliteFailure(rusqlite::ffi::Error::new(code), None);
        StoreError::Database(error).to_string()
    };
    assert!(said(rusqlite::ffi::SQLITE_FULL).contains("the disk is full; make room on it"));
    assert!(said(rusqlite::ffi::SQLITE_READONLY).contains("may not be written to"));
    assert!(said(rusqlite::ffi::SQLITE_CANTOPEN).contains("cannot be opened"));
    assert!(said(rusqlite::ffi::SQLITE_CORRUPT).contains("damaged"));

    let folder = tempfile::tempdir().unwrap();
    let error = Store::open(&folder.path().join("no/such/folder/seamfall.sqlite")).unwrap_err();
    assert!(error.to_string().contains("look whether the folder is there"), "{error}");
}
