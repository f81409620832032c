//! `seamfall guild` as who runs it meets it: it starts, invites, refuses what cannot be right and says why, shares a store with another, and closes.
//!
//! Source of what is expected: `docs/guild.md`; exit codes as README.md states them; a service is stopped with SIGTERM (POSIX, `kill`).

mod served;

use served::{Served, client, seamfall};
use std::io::Read;
use std::path::Path;
use std::process::Output;
use std::time::Duration;

#[test]
fn it_invites_a_keeper_on_its_first_start_and_when_it_is_told_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut first = Served::start(folder.path(), &[]);
    assert!(first.said.contains("Patch and Thimble is open at http://127.0.0.1:"), "{}", first.said);
    assert!(first.said.contains(folder.path().to_str().expect("a plain path")), "where everything is kept: {}", first.said);
    let invitation = first.invitation();
    assert!(first.get(&invitation, "").text().expect("a page").contains("Patch and Thimble"));
    assert_eq!(first.get("/members", "").headers()["location"], "/sign-in", "nobody is let in without one");
    let ada = first.join(&invitation, "name=Ada");
    assert!(first.get("/members", &ada).text().expect("a page").contains("Invite somebody"), "she is a keeper");
    assert_eq!(first.form(&invitation, "name=Ruth", "").status(), 404, "it is used up");
    drop(first);

    let mut again = Served::start(folder.path(), &["--invite-keeper"]);
    assert_eq!(again.get("/members", &ada).status(), 200, "she is still signed in");
    let invitation = again.invitation();
    let ruth = again.join(&invitation, "name=Ruth");
    assert!(again.get("/members", &ruth).text().expect("a page").contains("Invite somebody"));
    drop(again);

    let mut third = Served::start(folder.path(), &[]);
    third.child.kill().expect("it runs");
    let mut printed = String::new();
    third.child.stdout.take().expect("it is piped").read_to_string(&mut printed).expect("it is text");
    assert_eq!(printed, "", "it has keepers");
}

#[test]
fn what_cannot_be_right_is_refused_with_what_to_do() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a-file");
    std::fs::write(&file, "no store").expect("it is written");
    let broken = tempfile::tempdir().expect("a folder");
    std::fs::write(broken.path().join("seamfall.sqlite"), "no store".repeat(1000)).expect("it is written");
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a free port");
    let taken = taken.local_addr().map(|at| (at.to_string(), taken)).expect("it listens");
    let path = |path: &Path| path.to_str().expect("a plain path").to_owned();
    let data = path(folder.path());
    let cases: [(&[&str], i32, &[&str]); 9] = [
        (&[], 2, &["it is not said where the guild is kept", "--data"]),
        (&["--data", &data, "--listen", "everywhere"], 2, &["everywhere", "--listen"]),
        (&["--data", &data, "--listen", &taken.0], 4, &[&taken.0, "is another program listening there"]),
        (&["--data", &data, "--address", "ftp://quilts.example"], 2, &["ftp://quilts.example", "https://"]),
        (&["--data", &data, "--address", "https://quilts.example/guild"], 2, &["https://quilts.example/guild"]),
        (&["--data", &data, "--database", "postgres://localhost/x"], 2, &["--data", "--database"]),
        (&["--data", &path(&file)], 4, &["a-file"]),
        (&["--data", &path(broken.path())], 4, &["cannot be used", "nothing was changed"]),
        (&["--database", "postgres://seamfall@127.0.0.1:1/seamfall"], 4, &["cannot be used", "docs/guild.md"]),
    ];
    for (words, code, wanted) in cases {
        let Output { status, stdout, stderr } =
            seamfall(words).env("COLUMNS", "400").output().expect("the command was built with this test");
        // A long line is broken where the terminal ends, and a frame drawn beside it.
        let said = String::from_utf8_lossy(&stderr).replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(status.code(), Some(code), "{words:?}: {said}");
        assert!(stdout.is_empty(), "{words:?}");
        for each in wanted {
            assert!(said.contains(each), "{words:?} does not say `{each}`: {said}");
        }
    }
}

#[test]
fn two_servers_on_one_store_are_one_guild() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut one = Served::start(folder.path(), &[]);
    let invitation = one.invitation();
    let other = Served::start(folder.path(), &[]);
    assert_eq!(other.get(&invitation, "").status(), 200);
    let ada = one.join(&invitation, "name=Ada");
    assert_eq!(other.form(&invitation, "name=Eve", "").status(), 404, "used up in one, it is used up in both");
    assert!(other.get("/members", &ada).text().expect("a page").contains("Ada"), "signed in in one, she is in both");
    let ruth = one.join(&other.invite(&ada), "name=Ruth");
    let open = client().post(format!("{}/new/lamplight", one.url)).header("cookie", &ruth).send().expect("it answers");
    assert_eq!(open.status(), 200);
    assert!(other.get("/quilts", &ruth).text().expect("a page").contains("Lamplight"));
    assert_eq!(other.form("/sign-out", "", &ruth).status(), 303);
    assert_eq!(one.get("/quilts", &ruth).headers()["location"], "/sign-in", "signed out in one, she is out of both");
    assert_eq!(one.form("/members/member/2/remove", "", &ada).status(), 303);
    assert!(!other.get("/members", &ada).text().expect("a page").contains("Ruth"));
}

#[test]
fn told_to_stop_it_answers_who_is_waiting_and_ends_well() {
    for signal in ["TERM", "INT"] {
        let folder = tempfile::tempdir().expect("a folder");
        let mut served = Served::start(folder.path(), &[]);
        let invitation = served.invitation();
        let ada = served.join(&invitation, "name=Ada");
        let url = served.url.clone();
        // A page that takes its time in a debug build, and an idle connection that a browser keeps open.
        let idle = std::net::TcpStream::connect(url.trim_start_matches("http://")).expect("it listens");
        let (asks, asked) = std::sync::mpsc::channel();
        let waiting = std::thread::spawn(move || {
            let asked = client().post(format!("{url}/new/lamplight")).header("cookie", &ada);
            asks.send(()).expect("it is waited for");
            asked.send().map(|answer| answer.status().as_u16())
        });
        asked.recv().expect("it asks");
        std::thread::sleep(Duration::from_millis(50));
        let (ended, said, took) = served.stopped(signal);
        assert!(ended.success(), "{signal}: {ended}");
        assert!(said.contains("Patch and Thimble is closed"), "{signal}: {said}");
        assert!(took < Duration::from_secs(12), "{signal}: {took:?}");
        assert_eq!(waiting.join().expect("it ends").expect("it is answered"), 200, "{signal}");
        drop(idle);
        let store = rusqlite::Connection::open(folder.path().join("seamfall.sqlite")).expect("there is a store");
        let whole: String = store.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("it can be asked");
        assert_eq!(whole, "ok");
        let quilts: i64 = store.query_row("SELECT count(*) FROM quilt", [], |row| row.get(0)).expect("it can be asked");
        assert_eq!(quilts, 1, "{signal}: what was answered is kept");
    }
}
