//! Damaged stores: whatever bytes are spoiled, the store is mended or refused, the damaged file is kept as it was, the new one is whole, and what
//! was not hit is in it.

use proptest::prelude::*;
use rusqlite::Connection;
use seamfall_store::{Edited, Mended, NewPhoto, QuiltId, Store, StoreError, mend};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Bytes of a page, as SQLite has it unless told otherwise.
const PAGE: usize = 4096;

struct Folder {
    folder: tempfile::TempDir,
}

impl Folder {
    fn file(&self) -> PathBuf {
        self.folder.path().join("seamfall.sqlite")
    }

    /// Writes over the store.
    fn spoil(&self, spoil: impl FnOnce(&mut Vec<u8>)) -> Vec<u8> {
        let mut bytes = std::fs::read(self.file()).unwrap();
        spoil(&mut bytes);
        std::fs::write(self.file(), &bytes).unwrap();
        bytes
    }

    /// Pages of a table or an index that hold rows or the way to them, from the database itself.
    fn pages(&self, name: &str, kind: &str) -> Vec<usize> {
        let connection = Connection::open(self.file()).unwrap();
        let mut query =
            connection.prepare("SELECT pageno FROM dbstat WHERE name = ?1 AND pagetype = ?2 ORDER BY pageno").unwrap();
        let pages = query.query_map([name, kind], |row| row.get::<_, i64>(0)).unwrap();
        pages.map(|page| usize::try_from(page.unwrap()).unwrap()).collect()
    }

    /// Mends, and checks what always holds.
    fn mended(&self) -> Result<Option<Mended>, StoreError> {
        let before = std::fs::read(self.file()).unwrap();
        let mended = mend(&self.file());
        match &mended {
            Ok(Some(mended)) => {
                assert_eq!(std::fs::read(&mended.kept).unwrap(), before, "the damaged file is kept as it was");
                whole(&self.file());
            }
            Ok(None) => whole(&self.file()),
            Err(_) => assert_eq!(std::fs::read(self.file()).unwrap(), before, "what is refused stays as it was"),
        }
        let left: Vec<_> = std::fs::read_dir(self.folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
        assert!(left.iter().all(|name| !name.to_string_lossy().contains(".new") && !name.to_string_lossy().contains(".mending")));
        mended
    }
}

/// SQLite finds nothing wrong, every reference leads somewhere, steps have no gap, and a quilt can be undone to its first state, done again and edited.
fn whole(store: &Path) {
    // Looked at in a copy, since what is done with it here stays in it.
    let folder = tempfile::tempdir().unwrap();
    let file = &folder.path().join("copy.sqlite");
    std::fs::copy(store, file).unwrap();
    let connection = Connection::open(file).unwrap();
    let said: String = connection.query_row("PRAGMA integrity_check", [], |row| row.get(0)).unwrap();
    assert_eq!(said, "ok");
    assert!(!connection.prepare("PRAGMA foreign_key_check").unwrap().exists([]).unwrap());
    let gaps = "SELECT 1 FROM state GROUP BY quilt HAVING min(step) <> 0 OR max(step) <> count(*) - 1";
    assert!(!connection.prepare(gaps).unwrap().exists([]).unwrap(), "steps are counted without a gap");
    drop(connection);
    let store = Store::open(file).unwrap();
    let quilts = store.list().unwrap();
    for quilt in &quilts {
        assert!(store.get(quilt.id).is_ok() && store.class(quilt.id).is_ok() && store.photos(quilt.id).is_ok());
    }
    if let Some(quilt) = quilts.first() {
        while store.undo(quilt.id).is_ok() {}
        let mut states = 1;
        while store.redo(quilt.id).is_ok() {
            states += 1;
        }
        assert_eq!(states, quilt.states);
        let edited = Edited { text: "edited", ledger: "", what: "edit" };
        store.commit(quilt.id, store.get(quilt.id).unwrap().revision, edited).unwrap();
    }
    store.create("a quilt after it", "").unwrap();
}

/// A text that tells which quilt and which state it is, longer than a page with every third.
fn text(quilt: usize, state: usize) -> String {
    format!(
        "name = \"quilt {quilt}\"\nstate = {state}\n{}",
        format!("{quilt}.{state} ").repeat(if state.is_multiple_of(3) { 1200 } else { 60 })
    )
}

/// Eight quilts of twelve states, the first undone twice; versions, blocks of one's own, photographs, a class.
fn store() -> Folder {
    let folder = Folder { folder: tempfile::tempdir().unwrap() };
    let store = Store::open(&folder.file()).unwrap();
    for quilt in 0..8 {
        let id = store.create(&text(quilt, 0), "").unwrap();
        for state in 1..12 {
            let edited = Edited { text: &text(quilt, state), ledger: &format!("{quilt}:{state}"), what: "edit" };
            store.commit(id, store.get(id).unwrap().revision, edited).unwrap();
        }
        store.keep_version(id, "kept").unwrap();
        store.commit_class(id, store.class(id).unwrap().revision, &format!("class of {quilt}"), "begun").unwrap();
        let hash = format!("hash-{quilt}");
        let bytes = vec![u8::try_from(quilt).unwrap(); 9000];
        store.put_photo(id, NewPhoto { name: "moss.jpg", hash: &hash, bytes: &bytes, luminance: 0.5 }).unwrap();
    }
    store.undo(QuiltId(1)).unwrap();
    store.undo(QuiltId(1)).unwrap();
    for number in 0..4 {
        store.keep_block(&format!("own block {number}")).unwrap();
    }
    // What was taken away stays away.
    let gone = store.create("taken away", "").unwrap();
    store.remove(gone).unwrap();
    drop(store);
    assert!(Connection::open(folder.file()).unwrap().pragma_update(None, "journal_mode", "DELETE").is_ok());
    folder
}

/// Every state of every quilt, oldest first, and which it stands on; read past the store, for it would write.
fn histories(file: &Path) -> BTreeMap<QuiltId, (Vec<(String, String)>, usize)> {
    let connection = Connection::open(file).unwrap();
    let mut query = connection.prepare("SELECT quilt.id, CAST(text AS BLOB), CAST(ledger AS BLOB), current = state.id FROM quilt JOIN state ON quilt = quilt.id ORDER BY quilt.id, step").unwrap();
    let letters = |bytes: rusqlite::Result<Vec<u8>>| String::from_utf8_lossy(&bytes.unwrap()).into_owned();
    let mut rows = query.query([]).unwrap();
    let mut all: BTreeMap<QuiltId, (Vec<(String, String)>, usize)> = BTreeMap::new();
    while let Some(row) = rows.next().unwrap() {
        let (states, stands) = all.entry(QuiltId(row.get(0).unwrap())).or_default();
        if row.get(3).unwrap() {
            *stands = states.len();
        }
        states.push((letters(row.get(1)), letters(row.get(2))));
    }
    all
}

#[test]
fn a_whole_store_is_left_alone() {
    let folder = store();
    let before = std::fs::read(folder.file()).unwrap();
    assert_eq!(mend(&folder.file()).unwrap(), None);
    assert_eq!(std::fs::read(folder.file()).unwrap(), before);
    let open = Store::open(&folder.file()).unwrap();
    assert!(matches!(mend(&folder.file()), Err(StoreError::InUse)), "while it is open it is not exchanged");
    drop(open);
}

#[test]
fn a_damaged_store_says_so_when_it_is_opened_and_is_mended() {
    let folder = store();
    let before = histories(&folder.file());
    let page = folder.pages("state", "leaf")[3];
    let damaged = folder.spoil(|bytes| bytes[(page - 1) * PAGE..page * PAGE].fill(0xa5));
    let refused = Store::open(&folder.file()).unwrap_err();
    assert!(matches!(refused, StoreError::Damaged(_)), "{refused}");
    assert!(refused.to_string().contains("run `seamfall mend`"), "{refused}");
    assert_eq!(std::fs::read(folder.file()).unwrap(), damaged, "nothing is written into it");

    let mended = folder.mended().unwrap().unwrap();
    assert_eq!(mended.kept.file_name().unwrap(), "seamfall-damaged-1.sqlite");
    assert_eq!(mended.lost, []);
    let after = histories(&folder.file());
    let lost: u64 = mended.quilts.iter().map(|quilt| quilt.lost).sum();
    assert!(lost > 0 && lost < 40, "{lost}");
    for quilt in &mended.quilts {
        assert_eq!(quilt.states + quilt.lost, 12, "what is lost is known");
        let (was, is) = (&before[&quilt.id], &after[&quilt.id]);
        assert_eq!(is.0.len() as u64, quilt.states);
        assert!(is.0.iter().all(|state| was.0.contains(state)), "no state is made up");
        if quilt.lost == 0 {
            assert_eq!(was, is, "quilt {}", quilt.id);
        }
    }
}

/// A table that the database finds no way into any more is read off its pages.
#[test]
fn the_way_to_the_rows_can_be_lost_and_the_rows_are_found() {
    for (name, kind) in [("state", "internal"), ("sqlite_schema", "leaf")] {
        let folder = store();
        let before = histories(&folder.file());
        let root = folder.pages(name, kind)[0];
        let start = if root == 1 { 100 } else { 0 };
        folder.spoil(|bytes| bytes[(root - 1) * PAGE + start..root * PAGE].fill(0));
        let mended = folder.mended().unwrap().unwrap();
        let states: u64 = mended.quilts.iter().map(|quilt| quilt.states).sum();
        assert_eq!((mended.quilts.len(), states, mended.lost.len()), (8, 96, 0), "{name}");
        assert_eq!(histories(&folder.file()), before, "{name}");
        let store = Store::open(&folder.file()).unwrap();
        assert_eq!(store.own_blocks().unwrap().len(), 4, "{name}");
        assert_eq!(store.versions(QuiltId(3)).unwrap().len(), 1, "{name}");
        assert_eq!(store.class(QuiltId(3)).unwrap().text, "class of 2", "{name}");
        assert_eq!(store.photo("hash-4").unwrap().unwrap(), vec![4; 9000], "{name}");
    }
}

#[test]
fn the_head_of_the_file_can_be_lost() {
    let folder = store();
    let before = histories(&folder.file());
    folder.spoil(|bytes| bytes[..100].fill(0xff));
    assert!(matches!(Store::open(&folder.file()), Err(StoreError::NotAStore)));
    assert_eq!(folder.mended().unwrap().unwrap().quilts.len(), 8);
    assert_eq!(histories(&folder.file()), before);
}

#[test]
fn a_wrong_number_of_the_layout_is_damage_and_a_newer_layout_is_not() {
    let folder = store();
    let before = histories(&folder.file());
    let number = |number: i64| Connection::open(folder.file()).unwrap().pragma_update(None, "user_version", number).unwrap();
    number(70_000);
    assert_eq!(folder.mended().unwrap().unwrap().damage, "the number of its layout is wrong");
    number(1);
    assert!(matches!(Store::open(&folder.file()), Err(StoreError::Damaged(_))));
    assert!(folder.mended().unwrap().is_some());
    assert_eq!(histories(&folder.file()), before);
    number(70_000);
    Connection::open(folder.file()).unwrap().execute_batch("CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT").unwrap();
    assert!(matches!(folder.mended(), Err(StoreError::Newer { .. })));
}

#[test]
fn a_file_of_somebody_else_is_not_mended() {
    let folder = Folder { folder: tempfile::tempdir().unwrap() };
    assert!(matches!(mend(&folder.file()), Err(StoreError::NoStore)));
    std::fs::write(folder.file(), "a letter to a friend ".repeat(900)).unwrap();
    assert!(matches!(folder.mended(), Err(StoreError::NotAStore)));
    std::fs::remove_file(folder.file()).unwrap();
    Connection::open(folder.file())
        .unwrap()
        .execute_batch("CREATE TABLE recipes (id INTEGER PRIMARY KEY, a INT, b INT, c TEXT, d TEXT, e TEXT)")
        .unwrap();
    assert!(matches!(folder.mended(), Err(StoreError::NotAStore)));
}

#[test]
fn a_quilt_of_which_only_a_version_is_left_stands_on_it() {
    let folder = store();
    folder.spoil(|_| {});
    Connection::open(folder.file())
        .unwrap()
        .execute_batch("PRAGMA foreign_keys = OFF; DELETE FROM state WHERE quilt = 5")
        .unwrap();
    assert!(matches!(Store::open(&folder.file()), Err(StoreError::Damaged(what)) if what.contains("stand on no state")));
    let mended = folder.mended().unwrap().unwrap();
    let left = mended.quilts.iter().find(|quilt| quilt.id == QuiltId(5)).unwrap();
    assert_eq!((&left.text, left.states, left.moved), (&text(4, 11), 1, true));
}

/// What is still in the log when the damage is found is part of the store.
#[test]
fn the_log_is_mended_with_the_file() {
    let folder = store();
    let open = Store::open(&folder.file()).unwrap();
    let now = open.get(QuiltId(2)).unwrap();
    open.commit(QuiltId(2), now.revision, Edited { text: "in the log", ledger: "", what: "edit" }).unwrap();
    let dead = Folder { folder: tempfile::tempdir().unwrap() };
    for ending in ["", "-wal"] {
        std::fs::copy(format!("{}{ending}", folder.file().display()), format!("{}{ending}", dead.file().display())).unwrap();
    }
    let page = folder.pages("version", "leaf")[0];
    dead.spoil(|bytes| bytes[(page - 1) * PAGE..page * PAGE].fill(0));
    let log = std::fs::read(format!("{}-wal", dead.file().display())).unwrap();
    let mended = dead.mended().unwrap().unwrap();
    assert_eq!(std::fs::read(format!("{}-wal", mended.kept.display())).unwrap(), log, "the log is kept with it");
    assert_eq!(mended.quilts.iter().find(|quilt| quilt.id == QuiltId(2)).unwrap().text, "in the log");
    assert!(mended.unsure.contains(&"version".to_owned()), "{:?}", mended.unsure);
}

#[test]
fn a_letter_that_is_spoiled_costs_that_letter_alone() {
    let folder = store();
    let before = histories(&folder.file());
    // Within the second state of the third quilt; the database has no checksum of its texts.
    folder.spoil(|bytes| {
        let place = bytes.windows(8).position(|eight| eight == b"2.1 2.1 ").unwrap();
        bytes[place + 1] = 0x80;
    });
    let after = histories(&folder.file());
    let differing = before.iter().filter(|(id, history)| after[id] != **history).count();
    assert_eq!((before.len(), after.len(), differing), (8, 8, 1));
    assert_eq!(after[&QuiltId(3)].0[1].0, before[&QuiltId(3)].0[1].0.replacen("2.1", "2\u{fffd}1", 1));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(std::env::var("PROPTEST_CASES").map_or(60, |cases| cases.parse().unwrap())))]

    /// Single bytes, stretches and cut ends, anywhere.
    #[test]
    fn no_damage_is_too_odd_to_be_mended(
        hits in prop::collection::vec((any::<prop::sample::Index>(), 1usize..3000, any::<u8>(), any::<bool>()), 1..6),
        cut in prop::option::weighted(0.2, any::<prop::sample::Index>()),
    ) {
        let folder = kept();
        let before = histories(&folder.file());
        let whole = std::fs::read(folder.file()).unwrap();
        let hits = hits.into_iter().map(|(at, long, byte, is_single)| (at.index(whole.len()), if is_single { 1 } else { long }, byte));
        let spoiled = folder.spoil(|bytes| {
            for (at, long, byte) in hits {
                let end = (at + long).min(whole.len());
                bytes[at..end].fill(byte);
            }
            bytes.truncate(cut.map_or(whole.len(), |cut| cut.index(whole.len())));
        });
        let hit = |page: &usize| spoiled.get(page * PAGE..(page + 1) * PAGE) != whole.get(page * PAGE..(page + 1) * PAGE);
        let hit: Vec<usize> = (0..whole.len() / PAGE).filter(hit).collect();
        let mended = folder.mended();
        // With the first page the file can lose its mark and the number of its layout.
        if hit.contains(&0) && matches!(mended, Err(StoreError::NotAStore | StoreError::Newer { .. })) {
            return Ok(());
        }
        prop_assert!(mended.is_ok(), "{mended:?}");
        let after = histories(&folder.file());
        for (id, (states, _)) in before {
            if hit.iter().all(|page| !shows(&whole[page * PAGE..(page + 1) * PAGE], id)) {
                // A row of another quilt whose number was altered may stand among them.
                let mut there = after.get(&id).map_or(&[][..], |(states, _)| states).iter();
                let all = states.iter().all(|state| there.any(|other| other == state));
                prop_assert!(all, "quilt {id} was not hit by damage of {hit:?}");
            }
        }
    }
}

/// Whether a page holds a piece of a text of a quilt.
fn shows(page: &[u8], id: QuiltId) -> bool {
    let number = (id.0 - 1).to_string();
    page.windows(3).any(|three| three[0].is_ascii_whitespace() && three[1] == number.as_bytes()[0] && three[2] == b'.')
}

/// The store of these tests, made once a process and copied.
fn kept() -> Folder {
    static MADE: std::sync::OnceLock<Vec<u8>> = std::sync::OnceLock::new();
    let bytes = MADE.get_or_init(|| std::fs::read(store().file()).unwrap());
    let folder = Folder { folder: tempfile::tempdir().unwrap() };
    std::fs::write(folder.file(), bytes).unwrap();
    folder
}
