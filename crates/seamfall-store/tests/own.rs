//! The maker's own blocks are kept over restarts, beside the quilts and apart from their edits.

mod places;

use places::everywhere;
use seamfall_store::{Store, StoreError};

#[test]
fn own_blocks_are_kept_changed_and_taken_away() {
    everywhere(|home| {
        let store = home.open();
        assert_eq!(store.own_blocks().expect("a list"), []);
        let first = store.keep_block("one").expect("it is kept");
        let second = store.keep_block("two").expect("it is kept");
        store.change_block(first, "one more").expect("it is there");
        drop(store);

        let store = home.open();
        let texts = |store: &Store| store.own_blocks().expect("a list").into_iter().map(|block| block.text).collect::<Vec<_>>();
        assert_eq!(texts(&store), ["one more", "two"]);
        assert_eq!(store.own_block(second).expect("it is there").text, "two");
        store.remove_block(first).expect("it is there");
        assert_eq!(texts(&store), ["two"]);
        for gone in [store.remove_block(first), store.change_block(first, "x"), store.own_block(first).map(drop)] {
            assert!(matches!(gone, Err(StoreError::NoSuchBlock)), "{gone:?}");
        }
        // A number is not given out again.
        let third = store.keep_block("three").expect("it is kept");
        assert!(third > second);
        assert_eq!(store.list().expect("a list"), []);
    });
}
