//! The class of a quilt: kept after every edit, with undo of its own, and gone with its quilt.

mod places;

use places::everywhere;
use seamfall_store::{QuiltId, Revision, StoreError};

#[test]
fn every_edit_of_a_class_is_kept_and_can_be_taken_back() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("quilt", "").expect("it is created");
        let none = store.class(id).expect("it is read");
        assert_eq!((none.text.as_str(), none.revision, none.undo), ("", Revision(0), None));
        let first = store.commit_class(id, Revision(0), "one", "class begun").expect("it is kept");
        let second = store.commit_class(id, first.revision, "two", "student added").expect("it is kept");
        assert_eq!(second.undo.as_deref(), Some("student added"));
        drop(store);
        let store = home.open();
        assert_eq!(store.class(id).expect("it is read"), second);
        let back = store.undo_class(id).expect("there is one");
        assert_eq!((back.text.as_str(), back.redo.as_deref()), ("one", Some("student added")));
        assert!(matches!(store.undo_class(id), Err(StoreError::NothingToUndo)));
        assert_eq!(store.redo_class(id).expect("there is one").text, "two");
        assert!(matches!(store.redo_class(id), Err(StoreError::NothingToRedo)));
        // The quilt's own states know nothing of it.
        assert_eq!(store.get(id).expect("it is read").undo, None);
        store.remove(id).expect("it goes");
        assert!(matches!(store.class(id), Err(StoreError::NoSuchQuilt(_))));
    });
}

#[test]
fn a_class_changed_elsewhere_is_not_overwritten() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("quilt", "").expect("it is created");
        let seen = store.commit_class(id, Revision(0), "one", "class begun").expect("it is kept").revision;
        store.commit_class(id, seen, "two", "first window").expect("it is kept");
        assert!(matches!(store.commit_class(id, seen, "three", "second window"), Err(StoreError::ChangedElsewhere)));
        // After an undo and another edit the number of the state that was undone never comes back.
        let undone = store.class(id).expect("it is read").revision;
        let one = store.undo_class(id).expect("there is one").revision;
        let other = store.commit_class(id, one, "other", "again").expect("it is kept");
        assert!(other.revision != undone && other.redo.is_none());
        assert!(matches!(store.class(QuiltId(99)), Err(StoreError::NoSuchQuilt(_))));
    });
}
