//! Undo and redo over restarts, and what is left when a writer is killed.

mod places;

use places::{everywhere, open_at};
use seamfall_store::{Edited, QuiltId, Revision, Store, StoreError, Stored};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

/// An edit of the quilt, nothing being sewn.
fn edited<'a>(text: &'a str, what: &'a str) -> Edited<'a> {
    Edited { text, ledger: "", what }
}

#[test]
fn edits_can_be_undone_and_redone_after_a_restart() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("0", "").unwrap();
        for edit in 1..=5 {
            let seen = store.get(id).unwrap().revision;
            store.commit(id, seen, edited(&edit.to_string(), &format!("edit {edit}"))).unwrap();
        }
        drop(store);

        let store = home.open();
        for edit in (0..5).rev() {
            let now = store.undo(id).unwrap();
            assert_eq!(now.text, edit.to_string());
            assert_eq!(now.redo, Some(format!("edit {}", edit + 1)));
            assert_eq!(now.undo, (edit > 0).then(|| format!("edit {edit}")));
        }
        assert!(matches!(store.undo(id), Err(StoreError::NothingToUndo)));
        drop(store);

        let store = home.open();
        for edit in 1..=5 {
            assert_eq!(store.redo(id).unwrap().text, edit.to_string());
        }
        assert!(matches!(store.redo(id), Err(StoreError::NothingToRedo)));
    });
}

#[test]
fn an_edit_after_an_undo_drops_what_was_undone() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("first", "").unwrap();
        let second = store.commit(id, store.get(id).unwrap().revision, edited("second", "a")).unwrap();
        let first = store.undo(id).unwrap();
        let other = store.commit(id, first.revision, edited("other", "b")).unwrap();
        assert_eq!((other.undo.as_deref(), other.redo), (Some("b"), None));
        assert!(other.revision > second.revision, "the number of a dropped state is not used again");
        assert_eq!(store.undo(id).unwrap().text, "first");
        assert_eq!(store.redo(id).unwrap().text, "other");
    });
}

#[test]
fn an_edit_of_what_was_changed_elsewhere_is_refused() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("a", "").unwrap();
        let seen = store.get(id).unwrap().revision;
        let elsewhere = home.open();
        elsewhere.commit(id, seen, edited("b", "elsewhere")).unwrap();
        assert!(matches!(store.commit(id, seen, edited("c", "here")), Err(StoreError::ChangedElsewhere)));
        assert_eq!(store.get(id).unwrap().text, "b");
        assert!(matches!(store.commit(id, Revision(seen.0 + 100), edited("c", "here")), Err(StoreError::ChangedElsewhere)));
    });
}

#[test]
fn quilts_are_listed_the_last_one_first_and_keep_apart() {
    everywhere(|home| {
        let store = home.open();
        let (one, two) = (store.create("one", "").unwrap(), store.create("two", "").unwrap());
        assert_eq!(store.last().unwrap(), Some(two));
        store.commit(one, store.get(one).unwrap().revision, edited("one more", "edit")).unwrap();
        let listed: Vec<_> = store.list().unwrap().into_iter().map(|quilt| (quilt.id, quilt.text, quilt.states)).collect();
        assert_eq!(listed, [(one, "one more".to_owned(), 2), (two, "two".to_owned(), 1)]);
        store.remove(one).unwrap();
        assert!(matches!(store.get(one), Err(StoreError::NoSuchQuilt(_))));
        assert!(matches!(store.remove(one), Err(StoreError::NoSuchQuilt(_))));
        assert_eq!(store.get(two).unwrap().text, "two");
        assert!(store.create("three", "").unwrap() > two, "the number of a quilt that was taken away is not used again");
    });
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

/// Notes a step in the ledger, as if seen in the state `seen`.
fn tick(store: &Store, id: QuiltId, seen: Revision, step: &str) -> Result<Stored, StoreError> {
    store.edit_ledger(id, seen, |now| {
        let there = now.ledger.lines().any(|line| line == step);
        let ledger = if there { now.ledger.clone() } else { format!("{}{step}\n", now.ledger) };
        Ok((ledger, format!("{step} ticked")))
    })
}

#[test]
fn quilt_and_ledger_are_undone_in_one_row() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("design", "").unwrap();
        let sewn = tick(&store, id, store.get(id).unwrap().revision, "S1 cut").unwrap();
        let both = Edited { text: "other design", ledger: "S2 cut\n", what: "renamed" };
        store.commit(id, sewn.revision, both).unwrap();
        drop(store);
        let store = home.open();
        let stood = |stored: Stored| (stored.text, stored.ledger);
        let state = |text: &str, ledger: &str| (text.to_owned(), ledger.to_owned());
        assert_eq!(stood(store.get(id).unwrap()), state("other design", "S2 cut\n"));
        assert_eq!(stood(store.undo(id).unwrap()), state("design", "S1 cut\n"));
        assert_eq!(stood(store.undo(id).unwrap()), state("design", ""));
        assert_eq!(store.redo(id).unwrap().undo.as_deref(), Some("S1 cut ticked"));
        assert_eq!(store.list().unwrap()[0].ledger, "S1 cut\n");
    });
}

/// Two browsers, both of which show the state from before the other's tick.
#[test]
fn ticks_are_made_though_others_have_ticked_and_twice_is_once() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("design", "").unwrap();
        let seen = store.get(id).unwrap().revision;
        let elsewhere = home.open();
        tick(&elsewhere, id, seen, "S1 cut").unwrap();
        let after = tick(&store, id, seen, "S2 cut").unwrap();
        assert_eq!(after.ledger, "S1 cut\nS2 cut\n");
        let again = tick(&elsewhere, id, seen, "S2 cut").unwrap();
        assert_eq!(again, after, "a step ticked twice makes no new state");

        store.commit(id, after.revision, Edited { text: "other design", ledger: &after.ledger, what: "edit" }).unwrap();
        let refused = tick(&elsewhere, id, after.revision, "S3 cut");
        assert!(matches!(refused, Err(StoreError::ChangedElsewhere)), "what S3 is may be another by now");
        // Undone, the design is that which was seen; what the edit says is passed on, and nothing is written then.
        store.undo(id).unwrap();
        assert!(tick(&elsewhere, id, seen, "S3 cut").is_ok());
        let before = store.get(id).unwrap();
        let failed: Result<Stored, StoreError> = store.edit_ledger(id, seen, |_| Err(StoreError::NothingToUndo));
        assert!(matches!(failed, Err(StoreError::NothingToUndo)));
        assert_eq!(store.get(id).unwrap(), before);
        assert!(matches!(tick(&store, QuiltId(99), seen, "S3 cut"), Err(StoreError::NoSuchQuilt(_))));
    });
}

#[test]
fn nothing_is_lost_when_several_tick_at_once() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create("design", "").unwrap();
        let seen = store.get(id).unwrap().revision;
        let (writers, steps) = (4, 25);
        std::thread::scope(|scope| {
            for writer in 0..writers {
                let store = home.open();
                scope.spawn(move || {
                    for step in 0..steps {
                        tick(&store, id, seen, &format!("W{writer}.{step}")).unwrap();
                        tick(&store, id, seen, &format!("all.{step}")).unwrap();
                    }
                });
            }
        });
        let now = store.get(id).unwrap();
        let mut lines: Vec<&str> = now.ledger.lines().collect();
        assert_eq!(lines.len(), (writers + 1) * steps, "each step is there");
        lines.sort_unstable();
        lines.dedup();
        assert_eq!(lines.len(), (writers + 1) * steps, "and there once");
        assert_eq!(store.list().unwrap()[0].states, (writers as u64 + 1) * steps as u64 + 1, "each is a step of undo");
    });
}

/// The layout of the first version, as it stands in stores out there.
const LAYOUT_1: &str = "
    CREATE TABLE quilt (id INTEGER PRIMARY KEY AUTOINCREMENT, current INTEGER NOT NULL, touched INTEGER NOT NULL) STRICT;
    CREATE TABLE state (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        quilt INTEGER NOT NULL REFERENCES quilt (id),
        step INTEGER NOT NULL,
        text TEXT NOT NULL,
        what TEXT NOT NULL,
        UNIQUE (quilt, step)
    ) STRICT;
    INSERT INTO quilt (id, current, touched) VALUES (3, 8, 1);
    INSERT INTO state (id, quilt, step, text, what) VALUES (7, 3, 0, 'first', ''), (8, 3, 1, 'second', 'edit'), (9, 3, 2, 'third', 'more');
    PRAGMA application_id = 0x5365616d;
    PRAGMA user_version = 1;
";

#[test]
fn a_store_from_before_there_were_ledgers_is_brought_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    rusqlite::Connection::open(folder.path().join("seamfall.sqlite")).unwrap().execute_batch(LAYOUT_1).unwrap();
    let open = || Store::open(&folder.path().join("seamfall.sqlite")).expect("the store opens");
    let store = open();
    let id = QuiltId(3);
    let now = store.get(id).unwrap();
    assert_eq!((now.text.as_str(), now.ledger.as_str(), now.revision), ("second", "", Revision(8)));
    assert_eq!((now.undo.as_deref(), now.redo.as_deref()), (Some("edit"), Some("more")));
    assert_eq!(store.redo(id).unwrap().text, "third");
    let sewn = tick(&store, id, Revision(9), "S1 cut").unwrap();
    assert_eq!((sewn.text.as_str(), sewn.ledger.as_str()), ("third", "S1 cut\n"));
    drop(store);
    let store = open();
    assert_eq!(store.get(id).unwrap(), sewn);
    assert_eq!(store.damage().unwrap(), Vec::<String>::new());
    assert_eq!(store.undo(id).unwrap().ledger, "");
}

/// Not a test by itself: the process that [`whenever_a_writer_dies_every_answered_edit_is_there`] kills. Even edits change the quilt and
/// its ledger, odd ones the ledger alone.
#[test]
fn writer() {
    let Ok(folder) = std::env::var("SEAMFALL_TEST_WRITER") else { return };
    let store = open_at(&std::env::var("SEAMFALL_TEST_STORE").expect("the test says where"));
    let id = store.last().unwrap().expect("the test made a quilt");
    let answered = Path::new(&folder).join("answered");
    loop {
        let now = store.get(id).unwrap();
        let next = number(&now.ledger) + 1;
        let (ledger, what) = (long(next), format!("edit {next}"));
        if next.is_multiple_of(2) {
            store.commit(id, now.revision, Edited { text: &long(next), ledger: &ledger, what: &what }).unwrap();
        } else {
            store.edit_ledger::<StoreError>(id, now.revision, |_| Ok((ledger, what))).unwrap();
        }
        std::fs::write(&answered, next.to_string()).unwrap();
        if next.is_multiple_of(7) {
            store.undo(id).unwrap();
            store.redo(id).unwrap();
        }
    }
}

/// A text of several pages, so that a torn write would show.
fn long(number: u64) -> String {
    format!("{number}\n{}", format!("{number} ").repeat(4_000))
}

fn number(text: &str) -> u64 {
    text.lines().next().unwrap().parse().unwrap()
}

#[test]
fn whenever_a_writer_dies_every_answered_edit_is_there() {
    everywhere(|home| {
        let store = home.open();
        let id = store.create(&long(0), &long(0)).unwrap();
        drop(store);
        let mut last = 0;
        for round in 0..20_u64 {
            let mut writer = Command::new(std::env::current_exe().unwrap())
                .args(["writer", "--exact", "--test-threads=1"])
                .env("SEAMFALL_TEST_WRITER", home.folder.path())
                .env("SEAMFALL_TEST_STORE", &home.address)
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            // Once it has written, however busy the machine is; then odd waits, so that it dies at another moment each time.
            let note = || std::fs::read_to_string(home.folder.path().join("answered")).unwrap_or_default();
            let before = note();
            let patience = std::time::Instant::now();
            while note() == before && patience.elapsed() < Duration::from_secs(20) {
                std::thread::sleep(Duration::from_millis(2));
            }
            std::thread::sleep(Duration::from_micros(20_000 + 7_919 * (round % 8)));
            writer.kill().unwrap();
            writer.wait().unwrap();

            let store = home.open();
            assert_eq!(store.damage().unwrap(), Vec::<String>::new(), "round {round}");
            // A kill can also tear the note of what was answered: then it is empty, and the round proves less.
            let answered =
                std::fs::read_to_string(home.folder.path().join("answered")).ok().and_then(|text| text.parse::<u64>().ok());
            let whole = |now: &Stored| {
                let stands = number(&now.ledger);
                assert_eq!(
                    (now.text.as_str(), now.ledger.as_str()),
                    (&*long(stands - stands % 2), &*long(stands)),
                    "round {round}"
                );
                stands
            };
            let stands = whole(&store.get(id).unwrap());
            // It may have died between an undo and its redo, which is one step.
            assert!(stands + 1 >= answered.unwrap_or(0).max(last), "round {round}: {answered:?} was answered, {stands} is there");
            last = stands;
            for back in 1..=stands.min(3) {
                assert_eq!(whole(&store.undo(id).unwrap()), stands - back);
            }
            for _ in 1..=stands.min(3) {
                store.redo(id).unwrap();
            }
        }
        assert!(last > 20, "the writers wrote: {last}");
    });
}
