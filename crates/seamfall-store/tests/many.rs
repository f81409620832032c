//! Many who edit at once, in threads and in processes of their own: every edit that was answered is there, and none is there twice.

mod places;

use places::{everywhere, open_at};
use seamfall_store::{Edited, NewPhoto, QuiltId, Store, StoreError};
use std::process::{Command, Stdio};

const THREADS: usize = 8;
const EDITS: usize = 12;
const PROCESSES: usize = 3;

/// Adds a line to the quilt's text; again, where somebody else was quicker.
fn add(store: &Store, id: QuiltId, line: &str) {
    loop {
        let now = store.get(id).unwrap();
        let text = format!("{}{line}\n", now.text);
        match store.commit(id, now.revision, Edited { text: &text, ledger: &now.ledger, what: line }) {
            Ok(after) => return assert_eq!(after.text, text, "what is answered is what was asked"),
            Err(StoreError::ChangedElsewhere) => {}
            Err(error) => panic!("{error}"),
        }
    }
}

/// What one process does: each thread adds lines to the one quilt and to the thread's own, and notes them in the ledger of the next one.
fn edit(store: &Store, quilts: &[QuiltId], who: &str) {
    std::thread::scope(|scope| {
        for thread in 0..THREADS {
            scope.spawn(move || {
                for edit in 0..EDITS {
                    let line = format!("{who}.{thread}.{edit}");
                    add(store, quilts[0], &line);
                    add(store, quilts[1 + thread], &line);
                    let noted = quilts[1 + (thread + 1) % THREADS];
                    loop {
                        let seen = store.get(noted).unwrap().revision;
                        let note = |now: &seamfall_store::Stored| Ok((format!("{}{line}\n", now.ledger), line.clone()));
                        match store.edit_ledger(noted, seen, note) {
                            Err(StoreError::ChangedElsewhere) => {}
                            done => break drop(done.unwrap()),
                        }
                    }
                }
            });
        }
    });
}

/// Not a test by itself: one of the processes of [`no_edit_is_lost_and_none_is_made_twice`].
#[test]
fn editor() {
    let Ok(address) = std::env::var("SEAMFALL_TEST_STORE") else { return };
    let quilts: Vec<QuiltId> = (1..=1 + THREADS).map(|number| QuiltId(i64::try_from(number).unwrap())).collect();
    edit(&open_at(&address), &quilts, &std::env::var("SEAMFALL_TEST_WHO").unwrap());
}

fn lines(text: &str) -> Vec<&str> {
    let mut lines: Vec<&str> = text.lines().collect();
    lines.sort_unstable();
    lines
}

#[test]
fn no_edit_is_lost_and_none_is_made_twice() {
    everywhere(|home| {
        let store = home.open();
        let quilts: Vec<QuiltId> = (0..=THREADS).map(|_| store.create("", "").unwrap()).collect();
        let editors = (1..PROCESSES).map(|number| {
            Command::new(std::env::current_exe().unwrap())
                .args(["editor", "--exact", "--test-threads=1"])
                .env("SEAMFALL_TEST_STORE", &home.address)
                .env("SEAMFALL_TEST_WHO", number.to_string())
                .stdout(Stdio::null())
                .spawn()
                .unwrap()
        });
        let editors: Vec<_> = editors.collect();
        edit(&store, &quilts, "0");
        for mut editor in editors {
            assert!(editor.wait().unwrap().success());
        }
        let all = |threads: std::ops::Range<usize>| {
            let each = |who| {
                let threads = threads.clone();
                threads.flat_map(move |thread| (0..EDITS).map(move |edit| format!("{who}.{thread}.{edit}")))
            };
            let mut all: Vec<String> = (0..PROCESSES).flat_map(each).collect();
            all.sort_unstable();
            all
        };
        let states = |id: QuiltId| store.list().unwrap().into_iter().find(|quilt| quilt.id == id).unwrap().states;
        assert_eq!(lines(&store.get(quilts[0]).unwrap().text), all(0..THREADS));
        assert_eq!(states(quilts[0]), (PROCESSES * THREADS * EDITS) as u64 + 1);
        for thread in 0..THREADS {
            let now = store.get(quilts[1 + thread]).unwrap();
            assert_eq!(lines(&now.text), all(thread..thread + 1));
            let noter = (thread + THREADS - 1) % THREADS;
            assert_eq!(lines(&now.ledger), all(noter..noter + 1));
            assert_eq!(states(quilts[1 + thread]), (2 * PROCESSES * EDITS) as u64 + 1, "each is a step of undo");
        }
        // Every step back takes one line away, of the text or of the ledger.
        let mut before = store.get(quilts[1]).unwrap();
        while let Ok(now) = store.undo(quilts[1]) {
            let gone = (before.text.len() - now.text.len(), before.ledger.len() - now.ledger.len());
            assert!(gone.0 == 0 && before.ledger.starts_with(&now.ledger) || gone.1 == 0 && before.text.starts_with(&now.text));
            before = now;
        }
        assert_eq!((before.text.as_str(), before.ledger.as_str()), ("", ""));
        assert_eq!(store.damage().unwrap(), Vec::<String>::new());
    });
}

#[test]
fn the_one_worked_on_last_is_known_though_all_are_worked_on_at_once() {
    everywhere(|home| {
        let store = home.open();
        let quilts: Vec<QuiltId> = (0..THREADS).map(|_| store.create("", "").unwrap()).collect();
        for _ in 0..4 {
            std::thread::scope(|scope| {
                for id in &quilts {
                    let store = &store;
                    scope.spawn(move || (0..EDITS).for_each(|edit| add(store, *id, &edit.to_string())));
                }
            });
            if home.address.starts_with("postgres:") {
                let mut raw = postgres::Client::connect(&home.address, postgres::NoTls).unwrap();
                let same = raw.query_one("SELECT count(*) - count(DISTINCT touched) FROM quilt", &[]).unwrap();
                assert_eq!(same.get::<_, i64>(0), 0, "no two have the same place");
            }
            assert_eq!(store.last().unwrap(), Some(store.list().unwrap()[0].id));
        }
        for id in quilts.iter().rev() {
            add(&store, *id, "last");
        }
        let listed: Vec<QuiltId> = store.list().unwrap().into_iter().map(|quilt| quilt.id).collect();
        assert_eq!(listed, quilts, "the last one first");
    });
}

/// Photographs hang on no one quilt: a picture is let go of here while it is kept there.
#[test]
fn pictures_that_are_let_go_of_while_others_keep_them_are_there() {
    everywhere(|home| {
        let store = home.open();
        let kept = store.create("keeps all", "").unwrap();
        let picture = |number: usize| (format!("hash-{number}"), [u8::try_from(number).unwrap(); 100]);
        std::thread::scope(|scope| {
            for thread in 0..4 {
                let store = &store;
                scope.spawn(move || {
                    for round in 0..10 {
                        let other = store.create("goes again", "").unwrap();
                        let (hash, bytes) = picture((thread + round) % 5);
                        let photo = NewPhoto { name: "moss.jpg", hash: &hash, bytes: &bytes, luminance: 0.5 };
                        store.keep_photo(other, photo).unwrap();
                        if round == 9 {
                            store.keep_photo(kept, photo).unwrap();
                        }
                        store.remove(other).unwrap();
                    }
                });
            }
        });
        let photos = store.photos(kept).unwrap();
        assert_eq!(photos.len(), 4, "a name is given once: {photos:?}");
        for photo in photos {
            let number: usize = photo.hash.strip_prefix("hash-").unwrap().parse().unwrap();
            assert_eq!(store.photo(&photo.hash).unwrap().unwrap(), picture(number).1);
        }
        for number in 0..5 {
            let (hash, _) = picture(number);
            let known = store.photos(kept).unwrap().iter().any(|photo| photo.hash == hash);
            assert_eq!(store.photo(&hash).unwrap().is_some(), known);
        }
    });
}
