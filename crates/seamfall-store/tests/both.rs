//! The same done in a file and on a server gives the same answers, whatever is done in whatever order.
//!
//! Neither is the measure of the other: each is compared with the other after every step, refusals and their words included.

mod places;

use places::homes;
use proptest::prelude::*;
use seamfall_store::{Edited, NewPhoto, OwnBlockId, QuiltId, Revision, Store, StoreError, VersionId};

/// Something that is done with a store. Quilts, versions and blocks are named by their numbers, whether there are such or not.
#[derive(Debug, Clone)]
enum Deed {
    Create(String),
    /// As if seen so many states ago.
    Commit(i64, i64, String, String),
    EditLedger(i64, i64, String),
    /// The edit of the ledger is given up half-way.
    GiveUp(i64),
    Undo(i64),
    Redo(i64),
    Remove(i64),
    KeepVersion(i64, String),
    RenameVersion(i64, i64, String),
    DropVersion(i64, i64),
    CommitClass(i64, i64, String),
    UndoClass(i64),
    RedoClass(i64),
    KeepPhoto(i64, String, u8),
    PutPhoto(i64, String, u8),
    KeepBlock(String),
    ChangeBlock(i64, String),
    RemoveBlock(i64),
}

use Deed::*;

/// Does it, and tells all that is answered.
fn answer(store: &Store, deed: &Deed) -> String {
    fn told<T: std::fmt::Debug>(answer: Result<T, StoreError>) -> String {
        answer.map_or_else(|error| error.to_string(), |done| format!("{done:?}"))
    }
    let seen = |quilt: i64, ago: i64| Revision(store.get(QuiltId(quilt)).map_or(0, |now| now.revision.0) - ago);
    let photo = |name, picture: &u8| [["00", "01", "02"][usize::from(picture % 3)], name];
    match deed {
        Create(text) => told(store.create(text, "")),
        Commit(quilt, ago, text, what) => {
            told(store.commit(QuiltId(*quilt), seen(*quilt, *ago), Edited { text, ledger: "as sewn", what }))
        }
        EditLedger(quilt, ago, line) => told(store.edit_ledger(QuiltId(*quilt), seen(*quilt, *ago), |now| {
            Ok::<_, StoreError>((format!("{}{line}", now.ledger), line.clone()))
        })),
        GiveUp(quilt) => told(store.edit_ledger(QuiltId(*quilt), seen(*quilt, 0), |_| Err(StoreError::NoSuchBlock))),
        Undo(quilt) => told(store.undo(QuiltId(*quilt))),
        Redo(quilt) => told(store.redo(QuiltId(*quilt))),
        Remove(quilt) => told(store.remove(QuiltId(*quilt))),
        KeepVersion(quilt, name) => told(store.keep_version(QuiltId(*quilt), name)),
        RenameVersion(quilt, version, name) => told(store.rename_version(QuiltId(*quilt), VersionId(*version), name)),
        DropVersion(quilt, version) => told(store.drop_version(QuiltId(*quilt), VersionId(*version))),
        CommitClass(quilt, ago, text) => {
            let seen = store.class(QuiltId(*quilt)).map_or(0, |now| now.revision.0) - ago;
            told(store.commit_class(QuiltId(*quilt), Revision(seen), text, "class edit"))
        }
        UndoClass(quilt) => told(store.undo_class(QuiltId(*quilt))),
        RedoClass(quilt) => told(store.redo_class(QuiltId(*quilt))),
        KeepPhoto(quilt, name, picture) => {
            let [hash, name] = photo(name, picture);
            told(store.keep_photo(QuiltId(*quilt), NewPhoto { name, hash, bytes: &[*picture; 9], luminance: 0.1 }))
        }
        PutPhoto(quilt, name, picture) => {
            let [hash, name] = photo(name, picture);
            told(store.put_photo(QuiltId(*quilt), NewPhoto { name, hash, bytes: &[*picture; 9], luminance: 0.7 }))
        }
        KeepBlock(text) => told(store.keep_block(text)),
        ChangeBlock(block, text) => told(store.change_block(OwnBlockId(*block), text)),
        RemoveBlock(block) => told(store.remove_block(OwnBlockId(*block))),
    }
}

/// All that can be seen of a store.
fn seen(store: &Store) -> String {
    let quilts: Vec<_> = store.list().unwrap();
    let each = quilts.iter().map(|quilt| {
        let id = quilt.id;
        (store.get(id).unwrap(), store.class(id).unwrap(), store.versions(id).unwrap(), store.photos(id).unwrap())
    });
    let pictures = ["00", "01", "02"].map(|hash| store.photo(hash).unwrap());
    let whole = store.damage().unwrap();
    format!(
        "{quilts:#?}\n{:#?}\n{pictures:?} {:?} {:?} {whole:?}",
        each.collect::<Vec<_>>(),
        store.own_blocks().unwrap(),
        store.last()
    )
}

fn any_deed() -> impl Strategy<Value = Deed> {
    let quilt = || 1..5_i64;
    // Mostly the state that it stands on.
    let ago = || prop_oneof![4 => Just(0_i64), 1 => -1..3_i64];
    // Letters of one to four bytes, those that sort differently by their bytes than in a dictionary, quotes, the letter of number 0.
    let text = || "[aZé_\u{1f9f5}'\"\\\\?$\n\0]{0,6}";
    let name = || prop::sample::select(&["moss.jpg", "Zebra.jpg", "äpfel.jpg", "_", "moss"][..]).prop_map(str::to_owned);
    prop_oneof![
        2 => text().prop_map(Create),
        6 => (quilt(), ago(), text(), text()).prop_map(|(quilt, ago, text, what)| Commit(quilt, ago, text, what)),
        6 => (quilt(), 0..4_i64, text()).prop_map(|(quilt, ago, line)| EditLedger(quilt, ago, line)),
        1 => quilt().prop_map(GiveUp),
        5 => quilt().prop_map(Undo),
        3 => quilt().prop_map(Redo),
        1 => quilt().prop_map(Remove),
        2 => (quilt(), text()).prop_map(|(quilt, name)| KeepVersion(quilt, name)),
        1 => (quilt(), 1..4_i64, text()).prop_map(|(quilt, version, name)| RenameVersion(quilt, version, name)),
        1 => (quilt(), 1..4_i64).prop_map(|(quilt, version)| DropVersion(quilt, version)),
        2 => (quilt(), ago(), text()).prop_map(|(quilt, ago, text)| CommitClass(quilt, ago, text)),
        1 => quilt().prop_map(UndoClass),
        1 => quilt().prop_map(RedoClass),
        2 => (quilt(), name(), 0..3_u8).prop_map(|(quilt, name, picture)| KeepPhoto(quilt, name, picture)),
        1 => (quilt(), name(), 0..3_u8).prop_map(|(quilt, name, picture)| PutPhoto(quilt, name, picture)),
        1 => text().prop_map(KeepBlock),
        1 => (1..4_i64, text()).prop_map(|(block, text)| ChangeBlock(block, text)),
        1 => (1..4_i64).prop_map(RemoveBlock),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(std::env::var("PROPTEST_CASES").map_or(24, |cases| cases.parse().unwrap())))]

    #[test]
    fn a_file_and_a_server_answer_the_same(deeds in prop::collection::vec(any_deed(), 1..60)) {
        let homes = homes();
        let stores: Vec<Store> = homes.iter().map(|home| home.open()).collect();
        for store in &stores {
            store.create("first", "").unwrap();
        }
        for deed in &deeds {
            let answers: Vec<String> = stores.iter().map(|store| answer(store, deed)).collect();
            prop_assert!(answers.windows(2).all(|two| two[0] == two[1]), "{:?}: {:#?}", deed, answers);
        }
        let all: Vec<String> = stores.iter().map(seen).collect();
        prop_assert!(all.windows(2).all(|two| two[0] == two[1]), "{}", all.join("\n\n"));
        // And another user of the same store sees it so.
        let again: Vec<String> = homes.iter().map(|home| seen(&home.open())).collect();
        prop_assert_eq!(all, again);
    }
}
