//! A disk that is full and a folder that may not be written to, both real: a small disk in memory, and a view of a folder that is for reading only.
//!
//! Both are made in a mount namespace of their own (`unshare -rm`), which a user may open on most systems of today. Where that is not allowed, the
//! test says so; the database's own limit of pages stands in for the full disk then (`full` in `seamfall-store`, which runs everywhere).

use crate::SMALL;
use crate::after::{Fate, holds, is_whole, undoes_and_redoes};
use crate::maker::{Kept, Maker};
use crate::server::{Server, client};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Set for the part of a test that runs in the namespace.
const INSIDE: &str = "SEAMFALL_TEST_INSIDE";

#[test]
fn on_a_full_disk_an_edit_is_refused_in_plain_words_and_the_next_one_works_once_there_is_room() {
    in_a_namespace("disk::inside_full");
}

#[test]
fn what_may_not_be_written_to_is_told_and_left_as_it_was() {
    in_a_namespace("disk::inside_read_only");
}

/// Runs another test of this program where it may mount.
fn in_a_namespace(test: &str) {
    let probe = tempfile::tempdir().expect("a folder");
    let mounts =
        Command::new("unshare").args(["-rm", "mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs"]).arg(probe.path()).output();
    if !mounts.as_ref().is_ok_and(|output| output.status.success()) {
        let why = mounts.map_or_else(|error| error.to_string(), |output| String::from_utf8_lossy(&output.stderr).into_owned());
        eprintln!("NOT RUN on a real disk, since this machine lets nobody mount one: {}", why.trim());
        eprintln!("the limit of pages stands in for it: test `full` of seamfall-store");
        return;
    }
    let this = std::env::current_exe().expect("this program");
    let inside = Command::new("unshare")
        .arg("-rm")
        .arg(this)
        .args([test, "--exact", "--nocapture"])
        .env(INSIDE, "1")
        .output()
        .expect("it runs");
    let said = format!("{}{}", String::from_utf8_lossy(&inside.stdout), String::from_utf8_lossy(&inside.stderr));
    assert!(inside.status.success() && said.contains("1 passed"), "{said}");
}

fn is_inside() -> bool {
    std::env::var_os(INSIDE).is_some()
}

fn mount(words: &[&str], at: &Path) {
    let mounted = Command::new("mount").args(words).arg(at).output().expect("the probe has mounted");
    assert!(mounted.status.success(), "{}", String::from_utf8_lossy(&mounted.stderr));
}

/// The command, its code and what it says in one line.
fn seamfall(words: &[&str]) -> (Option<i32>, String) {
    let Output { status, stdout, stderr } =
        Command::new(env!("CARGO_BIN_EXE_seamfall")).args(words).env("NO_COLOR", "1").output().expect("it runs");
    let said = format!("{} {}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr));
    (status.code(), said.replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Names of what lies in a folder.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect()
}

/// Fills a disk to its last byte.
fn fill(folder: &Path) -> PathBuf {
    let filler = folder.join("filler");
    let mut file = fs::File::create(&filler).expect("there is room for a name");
    for size in [65536, 512, 1] {
        while file.write_all(&vec![7; size]).is_ok() {}
    }
    filler
}

#[test]
fn inside_full() {
    if !is_inside() {
        return;
    }
    let (folder, elsewhere) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
    let disk = folder.path();
    mount(&["-t", "tmpfs", "-o", "size=6m", "tmpfs"], disk);
    let (file, quilt, book) = (disk.join("seamfall.sqlite"), disk.join("small.quilt.toml"), disk.join("book.pdf"));
    fs::write(&quilt, SMALL).expect("it is written");
    fs::write(&book, "the book that was there").expect("it is written");
    let id = seamfall_store::Store::open(&file).expect("a new store opens").create(SMALL, "").expect("it is kept").0;
    let mut server = Server::start(disk, &[]).expect("it starts");
    let mut maker = Maker::new(vec![Kept::new(id, SMALL)], 7);
    for _ in 0..20 {
        maker.edit_on(&server.url).expect("there is room");
    }

    let filler = fill(disk);
    let refused = (0..500).find_map(|_| maker.edit_on(&server.url).err()).expect("the disk is full");
    assert_eq!(refused.0, 500, "{}", refused.1);
    assert!(
        refused.1.contains("nothing was changed, the store could not be used: the disk is full; make room on it"),
        "{}",
        refused.1
    );
    let answered = maker.quilts[0].clone();
    let shown =
        client().get(format!("{}/q/{id}/file", server.url)).send().and_then(|answer| answer.text()).expect("it can be read");
    assert_eq!(shown, answered.states[answered.at].0, "the quilt is shown as it was");

    // Neither a book nor a backup is written by half, and what was there stays.
    let path = |path: &Path| path.display().to_string();
    let (code, said) = seamfall(&["book", &path(&quilt), "--out", &path(&book)]);
    assert_eq!(code, Some(4), "{said}");
    assert!(said.contains("cannot be written") && said.contains("the room on the disk"), "{said}");
    assert_eq!(fs::read_to_string(&book).expect("it is there"), "the book that was there");
    let (code, said) = seamfall(&["backup", &path(&disk.join("copy.sqlite")), "--data", &path(disk)]);
    assert_eq!(code, Some(4), "{said}");
    assert!(!disk.join("copy.sqlite").exists());
    assert!(names(disk).iter().all(|name| !name.starts_with(".seamfall-")), "nothing temporary is left: {:?}", names(disk));
    // A backup on another disk can be had meanwhile.
    let copy = elsewhere.path().join("copy.sqlite");
    let (code, said) = seamfall(&["backup", &path(&copy), "--data", &path(disk)]);
    assert_eq!(code, Some(0), "{said}");
    is_whole(&copy);
    let (code, said) = seamfall(&["restore", &path(&copy), "--data", &path(disk)]);
    assert_eq!(code, Some(4), "the workroom is open: {said}");

    fs::remove_file(&filler).expect("there is room again");
    for _ in 0..5 {
        maker.edit_on(&server.url).expect("there is room again");
    }
    assert_eq!(maker.quilts[0].at, answered.at + 5, "each of them made a state");

    // Full again, killed, and begun on the full disk.
    let filler = fill(disk);
    while maker.edit_on(&server.url).is_ok() {}
    server.kill();
    if let Err((status, said)) = Server::start(disk, &[]) {
        assert_eq!(status.code(), Some(4), "{said}");
        assert!(said.contains("cannot be used") && said.contains("room"), "{said}");
    }
    fs::remove_file(&filler).expect("there is room again");
    is_whole(&file);
    assert_eq!(holds(&file, &mut maker), Fate::Nothing);
    assert!(undoes_and_redoes(&file, &maker.quilts[0]) > 40);
    let (code, said) = seamfall(&["restore", &path(&copy), "--data", &path(disk)]);
    assert_eq!(code, Some(0), "{said}");
    is_whole(&file);
}

#[test]
fn inside_read_only() {
    if !is_inside() {
        return;
    }
    let (folder, view, elsewhere) =
        (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
    let file = folder.path().join("seamfall.sqlite");
    let store = seamfall_store::Store::open(&file).expect("a new store opens");
    store.create(SMALL, "").expect("it is kept");
    drop(store);
    fs::write(folder.path().join("small.quilt.toml"), SMALL).expect("it is written");
    let before = fs::read(&file).expect("it is there");
    let there = names(folder.path()).len();
    mount(&["--bind", &folder.path().display().to_string()], view.path());
    mount(&["-o", "remount,bind,ro"], view.path());
    let path = |name: &str| view.path().join(name).display().to_string();

    let (status, said) = Server::start(view.path(), &[]).err().expect("it cannot work there");
    assert_eq!(status.code(), Some(4), "{said}");
    assert!(said.contains("may not be written to") || said.contains("may be written to"), "{said}");
    assert!(said.contains("--data"), "{said}");
    for words in [&["book", &path("small.quilt.toml")][..], &["new", &path("new.quilt.toml")]] {
        let (code, said) = seamfall(words);
        assert_eq!(code, Some(4), "{said}");
        assert!(said.contains("cannot be written") && said.contains("permissions"), "{said}");
    }
    // What is there can be had: a backup of it is taken, and another folder gets it.
    let copy = elsewhere.path().join("copy.sqlite").display().to_string();
    let (code, said) = seamfall(&["backup", &copy, "--data", &view.path().display().to_string()]);
    assert_eq!(code, Some(0), "{said}");
    let data = elsewhere.path().join("data").display().to_string();
    let (code, said) = seamfall(&["restore", &path("seamfall.sqlite"), "--data", &data]);
    assert_eq!(code, Some(0), "{said}");
    is_whole(&elsewhere.path().join("data/seamfall.sqlite"));
    assert_eq!(fs::read(&file).expect("it is there"), before, "not a byte was changed");
    assert_eq!(names(folder.path()).len(), there, "and no file was added");
}
