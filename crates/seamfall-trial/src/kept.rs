//! What a store holds, to be compared before and after a request.
//!
//! In: a store. Out: all that a maker could lose; and whether every text in it can be read, forth and back.

use seamfall_store::{OwnBlock, PhotoOf, QuiltId, Store, StoreError, StoredClass, Version};
use std::fs;
use tempfile::TempDir;

/// All that is kept.
#[derive(Debug, PartialEq)]
pub struct Kept {
    pub quilts: Vec<KeptQuilt>,
    own: Vec<OwnBlock>,
}

/// All that is kept of a quilt.
#[derive(Debug, PartialEq)]
pub struct KeptQuilt {
    pub id: QuiltId,
    pub text: String,
    pub ledger: String,
    states: u64,
    class: StoredClass,
    versions: Vec<Version>,
    photos: Vec<PhotoOf>,
}

/// A store of a trial's own, a copy of one that was made before.
pub struct Copied {
    folder: TempDir,
}

impl Copied {
    pub fn of(pattern: &[u8]) -> Self {
        let folder = tempfile::tempdir().expect("a folder for a store");
        fs::write(folder.path().join("seamfall.sqlite"), pattern).expect("it can be written");
        Self { folder }
    }

    /// The store, opened once more.
    pub fn open(&self) -> Store {
        Store::open(&self.folder.path().join("seamfall.sqlite")).expect("the store opens")
    }
}

/// The bytes of a store, made once.
pub fn pattern(fill: impl FnOnce(&std::path::Path)) -> Vec<u8> {
    let folder = tempfile::tempdir().expect("a folder for a store");
    let file = folder.path().join("seamfall.sqlite");
    fill(&file);
    fs::read(file).expect("it was made")
}

/// What the store holds now.
pub fn kept(store: &Store) -> Kept {
    kept_of(store).expect("what is kept can be read")
}

fn kept_of(store: &Store) -> Result<Kept, StoreError> {
    let quilt = |listed: seamfall_store::Listed| {
        let id = listed.id;
        let (class, versions, photos) = (store.class(id)?, store.versions(id)?, store.photos(id)?);
        Ok(KeptQuilt { id, text: listed.text, ledger: listed.ledger, states: listed.states, class, versions, photos })
    };
    let mut quilts = store.list()?.into_iter().map(quilt).collect::<Result<Vec<_>, StoreError>>()?;
    quilts.sort_by_key(|quilt| quilt.id);
    Ok(Kept { quilts, own: store.own_blocks()? })
}

/// Holds a store to what must be true after whatever was asked: it is not damaged, and every state of every quilt can be gone back to and forth again, and read.
pub fn sound(store: &Store) {
    assert_eq!(store.damage().expect("it can be looked through"), Vec::<String>::new());
    let now = kept(store);
    for quilt in &now.quilts {
        let steps = walk(quilt.id, |id| store.undo(id));
        assert!(steps as u64 <= quilt.states, "more steps back than states");
        let forth = walk(quilt.id, |id| store.redo(id));
        assert!(forth >= steps, "{steps} steps back and {forth} forth");
        walk(quilt.id, |id| store.undo(id));
        (0..steps).for_each(|_| drop(store.redo(quilt.id).expect("it was there")));
        let stored = store.get(quilt.id).expect("it is there");
        assert_eq!((&stored.text, &stored.ledger), (&quilt.text, &quilt.ledger), "all the way back and forth leads elsewhere");
        let read = seamfall_model::read(&quilt.text).expect("it was read on the way");
        if !quilt.class.text.is_empty() {
            seamfall_model::read_class(&quilt.class.text, &read).expect("a class that is kept can be read");
        }
        for version in &quilt.versions {
            seamfall_model::read(&version.text).expect("a version that is kept can be read");
        }
    }
}

/// Goes as far as it goes, reads every state, and counts the steps.
fn walk(id: QuiltId, step: impl Fn(QuiltId) -> Result<seamfall_store::Stored, StoreError>) -> usize {
    let mut steps = 0;
    loop {
        match step(id) {
            Ok(stored) => {
                let quilt = seamfall_model::read(&stored.text).expect("every state is a quilt");
                seamfall_model::read_ledger(&stored.ledger, &quilt).expect("and has its ledger");
                steps += 1;
            }
            Err(StoreError::NothingToUndo | StoreError::NothingToRedo) => return steps,
            Err(error) => panic!("{error}"),
        }
    }
}
