//! `restore` and `mend` killed while they work: at every moment there is a store, the one or the other, and nothing of either is lost.

use crate::SMALL;
use crate::after::is_whole;
use crate::chance::Chance;
use seamfall_store::{Edited, Store};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// So often each of them is killed.
const KILLS: usize = 12;

fn command(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    command.args(words).args(["--data", "."]).current_dir(folder).stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// A store with a history of its own.
fn filled(file: &Path, name: &str) {
    let store = Store::open(file).expect("a new store opens");
    let id = store.create(SMALL, "").expect("it is kept");
    for number in 0..40 {
        let text = format!("# {name} {number}\n{SMALL}");
        store
            .commit(id, store.get(id).expect("it is there").revision, Edited { text: &text, ledger: "", what: "edit" })
            .expect("kept");
    }
}

fn text(file: &Path) -> String {
    let store = Store::open(file).expect("it opens");
    store.get(store.last().expect("it answers").expect("a quilt")).expect("it is there").text
}

/// Runs a command to its end once to see how long it takes, then again and again on a fresh copy of the folder, killed; looks at what is left.
fn killed(made: &Path, words: &[&str], look: impl Fn(&Path) -> bool) {
    let mut chance = Chance(5);
    let mut takes = Duration::ZERO;
    let mut done = 0;
    for round in 0..=KILLS {
        let folder = tempfile::tempdir().expect("a folder");
        for entry in fs::read_dir(made).expect("a folder") {
            let entry = entry.expect("an entry");
            fs::copy(entry.path(), folder.path().join(entry.file_name())).expect("it is copied");
        }
        let began = Instant::now();
        let mut child = command(folder.path(), words).spawn().expect("it runs");
        if round == 0 {
            child.wait().expect("it ends");
            takes = began.elapsed();
            assert!(look(folder.path()), "it is done");
            continue;
        }
        std::thread::sleep(takes.mul_f64(chance.below(1000) as f64 / 1000.0));
        child.kill().expect("it can be killed");
        child.wait().expect("it ends");
        done += usize::from(look(folder.path()));
        // And what was left does not stand in the way of the next time.
        assert!(command(folder.path(), words).status().expect("it runs").code().is_some_and(|code| code < 2));
        assert!(look(folder.path()), "it is done");
    }
    eprintln!("{words:?} killed {KILLS} times, done {done} times");
}

#[test]
fn a_restore_that_is_killed_leaves_the_one_store_or_the_other() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    filled(&path("seamfall.sqlite"), "present");
    filled(&path("copy.sqlite"), "copy");
    assert!(fs::metadata(path("copy.sqlite-wal")).is_err(), "the copy is one file");
    let [present, copy] = ["seamfall.sqlite", "copy.sqlite"].map(|name| text(&path(name)));
    killed(folder.path(), &["restore", "copy.sqlite"], |folder| {
        let file = folder.join("seamfall.sqlite");
        is_whole(&file);
        let there = text(&file);
        if there == present {
            return false;
        }
        assert_eq!(there, copy);
        assert_eq!(text(&folder.join("seamfall-replaced-1.sqlite")), present, "the one that was there is kept");
        true
    });
}

#[test]
fn a_mending_that_is_killed_loses_nothing_of_the_damaged_store() {
    let folder = tempfile::tempdir().expect("a folder");
    let file: PathBuf = folder.path().join("seamfall.sqlite");
    filled(&file, "present");
    let connection = rusqlite::Connection::open(&file).expect("it opens");
    connection.pragma_update(None, "journal_mode", "DELETE").expect("one file");
    let leaf = "SELECT pageno FROM dbstat WHERE name = 'state' AND pagetype = 'leaf' ORDER BY pageno LIMIT 1 OFFSET 3";
    let leaf: usize = connection.query_row(leaf, [], |row| row.get::<_, i64>(0)).expect("a page").try_into().expect("a page");
    drop(connection);
    let mut damaged = fs::read(&file).expect("it is read");
    damaged[(leaf - 1) * 4096..leaf * 4096].fill(0);
    fs::write(&file, &damaged).expect("it is written");
    killed(folder.path(), &["mend"], |folder| {
        let file = folder.join("seamfall.sqlite");
        if fs::read(&file).expect("there is a store") == damaged {
            return false;
        }
        is_whole(&file);
        assert!(text(&file).contains("# present"));
        assert!(fs::read(folder.join("seamfall-damaged-1.sqlite")).expect("it is kept") == damaged, "byte for byte");
        true
    });
}
