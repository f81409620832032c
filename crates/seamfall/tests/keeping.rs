//! `backup`, `restore` and `mend` as a maker runs them: what they say, what they leave, and with which code they end.

use seamfall_store::{Edited, QuiltId, Store};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

fn seamfall(folder: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    command.args(words).args(["--data", "data"]).current_dir(folder).env("NO_COLOR", "1");
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the command was built with this test");
    // A workroom that opens, though it should not, must not hold this test up for ever.
    let until = Instant::now() + Duration::from_secs(30);
    while Instant::now() < until && child.try_wait().expect("it runs").is_none() {
        std::thread::sleep(Duration::from_millis(5));
    }
    let _ = child.kill();
    child.wait_with_output().expect("it ended")
}

fn said(output: &Output) -> (Option<i32>, String) {
    // Long sentences are broken over lines there.
    let words = format!("{} {}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    (output.status.code(), words.replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A folder with a store that holds two demo quilts, the first of twenty states.
fn folder() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("data")).expect("a folder");
    let file = folder.path().join("data/seamfall.sqlite");
    let store = Store::open(&file).expect("a new store opens");
    let demo = |name: &str| {
        let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../quilts", name].iter().collect();
        fs::read_to_string(path).expect("a demo quilt")
    };
    let id = store.create(&demo("lamplight.quilt.toml"), "").expect("it is kept");
    for number in 1..20 {
        let text = format!("{}# {number}\n", demo("lamplight.quilt.toml"));
        store
            .commit(id, store.get(id).expect("it is there").revision, Edited { text: &text, ledger: "", what: "edit" })
            .expect("kept");
    }
    store.create(&demo("tide-pool.quilt.toml"), "").expect("it is kept");
    (folder, file)
}

fn texts(file: &Path) -> Vec<String> {
    let store = Store::open(file).expect("it opens");
    [1, 2].map(|id| store.get(QuiltId(id)).expect("it is there").text).to_vec()
}

#[test]
fn a_backup_is_taken_and_put_back() {
    let (folder, file) = folder();
    let before = texts(&file);
    let (code, words) = said(&seamfall(folder.path(), &["backup", "kept.sqlite"]));
    assert_eq!((code, words.as_str()), (Some(0), "kept.sqlite: 2 quilts, checked"));
    let (code, words) = said(&seamfall(folder.path(), &["backup", "kept.sqlite"]));
    assert_eq!(code, Some(4), "{words}");
    assert!(words.contains("kept.sqlite is there already"), "{words}");

    Store::open(&file).expect("it opens").remove(QuiltId(1)).expect("it goes");
    let (code, words) = said(&seamfall(folder.path(), &["restore", "kept.sqlite"]));
    assert_eq!(code, Some(0), "{words}");
    assert!(words.contains("what was there is kept as data/seamfall-replaced-1.sqlite"), "{words}");
    assert_eq!(texts(&file), before);
    let left = |folder: &Path| {
        fs::read_dir(folder)
            .expect("a folder")
            .filter(|entry| entry.as_ref().expect("a file").file_name().to_string_lossy().starts_with('.'))
            .count()
    };
    assert_eq!((left(folder.path()), left(&folder.path().join("data"))), (0, 0), "nothing temporary is left");
}

#[test]
fn what_cannot_be_restored_is_told_with_the_reason() {
    let (folder, file) = folder();
    let before = texts(&file);
    fs::write(folder.path().join("letter.txt"), "dear friend, ".repeat(100)).expect("it is written");
    let (code, words) = said(&seamfall(folder.path(), &["restore", "letter.txt"]));
    assert_eq!(code, Some(3), "{words}");
    assert!(words.contains("letter.txt cannot be put in the place of the store: it is no store of Seamfall"), "{words}");
    let (code, words) = said(&seamfall(folder.path(), &["restore", "nowhere.sqlite"]));
    assert_eq!(code, Some(3), "{words}");
    assert!(words.contains("there is no such file"), "{words}");
    let open = Store::open(&file).expect("it opens");
    let (code, words) = said(&seamfall(folder.path(), &["backup", "kept.sqlite"]));
    assert_eq!(code, Some(0), "a backup is taken while it is open: {words}");
    let (code, words) = said(&seamfall(folder.path(), &["restore", "kept.sqlite"]));
    assert_eq!(code, Some(4), "{words}");
    assert!(words.contains("the store is in use; close the workroom"), "{words}");
    drop(open);
    assert_eq!(texts(&file), before);
}

#[test]
fn a_store_of_a_newer_version_is_refused() {
    let (folder, file) = folder();
    let connection = rusqlite::Connection::open(&file).expect("it opens");
    connection
        .execute_batch("CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT; PRAGMA user_version = 99")
        .expect("it is changed");
    drop(connection);
    for words in [&["--no-browser"][..], &["backup", "kept.sqlite"], &["mend"]] {
        let (code, words) = said(&seamfall(folder.path(), words));
        assert_eq!(code, Some(4), "{words}");
        assert!(words.contains("written by a newer Seamfall (its layout is number 99"), "{words}");
    }
    assert!(!folder.path().join("kept.sqlite").exists());
}

#[test]
fn a_damaged_store_is_not_opened_and_is_mended() {
    let (folder, file) = folder();
    let (code, words) = said(&seamfall(folder.path(), &["mend"]));
    assert_eq!((code, words.as_str()), (Some(0), "data/seamfall.sqlite is whole; nothing was changed"));

    // A page of zeros, as a dying disk leaves it, where rows of the first quilt begin.
    let connection = rusqlite::Connection::open(&file).expect("it opens");
    connection.pragma_update(None, "journal_mode", "DELETE").expect("one file");
    let leaf = "SELECT pageno FROM dbstat WHERE name = 'state' AND pagetype = 'leaf' ORDER BY pageno";
    let leaf: usize = connection.query_row(leaf, [], |row| row.get::<_, i64>(0)).expect("a page").try_into().expect("a page");
    drop(connection);
    let mut bytes = fs::read(&file).expect("it is read");
    bytes[(leaf - 1) * 4096..leaf * 4096].fill(0);
    fs::write(&file, &bytes).expect("it is written");
    for words in [&["--no-browser"][..], &["backup", "kept.sqlite"]] {
        let (code, words) = said(&seamfall(folder.path(), words));
        assert_eq!(code, Some(4), "{words}");
        assert!(words.contains("data/seamfall.sqlite cannot be used: the store is damaged"), "{words}");
        assert!(words.contains("run `seamfall mend`"), "{words}");
    }
    let (code, words) = said(&seamfall(folder.path(), &["mend"]));
    assert_eq!(code, Some(1), "{words}");
    assert!(words.contains("data/seamfall.sqlite was damaged"), "{words}");
    assert!(words.contains("Lamplight") && words.contains("states saved") && words.contains(" lost"), "{words}");
    assert!(words.contains("the damaged store is kept as data/seamfall-damaged-1.sqlite"), "{words}");
    assert_eq!(fs::read(folder.path().join("data/seamfall-damaged-1.sqlite")).expect("it is kept"), bytes);
    assert_eq!(texts(&file).len(), 2, "both are there");
    let (code, words) = said(&seamfall(folder.path(), &["mend"]));
    assert_eq!(code, Some(0), "{words}");
}
