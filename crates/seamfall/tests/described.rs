//! The server asked for everything that its own description says it has, by a fuzzer that knows nothing else of it.
//!
//! Source: the description is OpenAPI 3.1 (spec.openapis.org); it is read and asked by schemathesis, a public fuzzer of HTTP. `xtask/readers/asks.py` gives it the numbers of
//! the quilts there are, and in a guild the cookies of its members. Longer: `SEAMFALL_ASKS=200 cargo nextest run -p seamfall -E 'test(described)'`.

#[path = "guild/served.rs"]
mod served;
#[path = "faults/server.rs"]
mod server;

use rusqlite::Connection;
use served::Served as Guild;
use server::{Server, client};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Questions to every address, unless said.
const ASKS: &str = "6";

/// And of a guild, whose workroom is that of a single maker.
const GUILD_ASKS: &str = "1";

/// And to what it has of its own.
const GUILDS_OWN_ASKS: &str = "4";

/// What is asked of every answer: that the server has no fault, and that status, kind and form are those that are described; that no method is served that
/// is not described, and what breaks the form of a question is refused.
const CHECKS: &str =
    "not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance,unsupported_method";

fn fuzzer() -> PathBuf {
    let readers = std::env::var("SEAMFALL_READERS").map(PathBuf::from);
    let readers = readers.unwrap_or_else(|_| Path::new(&std::env::var("HOME").expect("a home")).join(".cache/seamfall-readers"));
    readers.join("bin/schemathesis")
}

/// Has the fuzzer ask a server for everything that it says it has, `asks` questions to each address, in `words` of the fuzzer's own. In a guild it is
/// given the `cookies` that it comes with.
fn asked_for_everything(url: &str, folder: &Path, asks: &str, words: &[&str], cookies: &[String]) {
    let asks = std::env::var("SEAMFALL_ASKS").unwrap_or_else(|_| asks.to_owned());
    let hooks = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../xtask/readers");
    // What a guild does not tell a stranger its description is told here.
    let description = folder.join("api.json");
    let told = client().get(format!("{url}/api.json")).header("cookie", cookies.last().map_or("", String::as_str)).send();
    std::fs::write(&description, told.expect("it answers").bytes().expect("a description")).expect("it is written");
    let mut fuzzer = Command::new(fuzzer());
    fuzzer
        .arg("run")
        .arg(&description)
        .args(["--url", url, "--seed", "20261126", "--max-examples", &asks, "--checks", CHECKS])
        .args(words)
        .args(["--request-timeout", "120", "--no-shrink", "--no-color"])
        .args(["--generation-database", "none"])
        .current_dir(folder)
        .env("PYTHONPATH", &hooks)
        .env("SCHEMATHESIS_HOOKS", "asks");
    if !cookies.is_empty() {
        fuzzer.env("SEAMFALL_COOKIES", cookies.join(" "));
    }
    let asked = fuzzer.output().expect("the fuzzer is installed: bash xtask/install-test-tools.sh");
    let told = String::from_utf8_lossy(&asked.stdout);
    println!("{told}");
    assert!(
        asked.status.success(),
        "the server does not answer as it is described:\n{told}\n{}",
        String::from_utf8_lossy(&asked.stderr)
    );
}

/// Whatever was asked, the store is whole, and every state that was kept is a quilt.
fn holds(folder: &Path) {
    let store = Connection::open(folder.join("seamfall.sqlite")).expect("there is a store");
    let whole: String = store.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("it can be asked");
    assert_eq!(whole, "ok");
    let mut quilts = store.prepare("SELECT text FROM state").expect("there are states");
    let texts = quilts.query_map([], |row| row.get::<_, String>(0)).expect("they can be read");
    for text in texts {
        let text = text.expect("a text");
        seamfall_model::read(&text).unwrap_or_else(|error| panic!("a quilt was kept that is none: {error:?}\n{text}"));
    }
}

const SMALL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/faults/small.quilt.toml");

#[test]
fn the_server_answers_as_it_is_described() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut server = Server::start(folder.path(), &["open", SMALL]).unwrap_or_else(|(_, said)| panic!("{said}"));
    // Others to lose.
    for demo in ["tide-pool", "market-rows"] {
        assert!(client().post(format!("{}/new/{demo}", server.url)).send().expect("it answers").status().is_success());
    }
    asked_for_everything(&server.url, folder.path(), ASKS, &["--phases", "examples,coverage,fuzzing"], &[]);
    // It still serves.
    assert!(client().get(format!("{}/quilts", server.url)).send().expect("it answers").status().is_success());
    server.kill();
    holds(folder.path());
}

/// Members who ask in turn: one may ask twenty times a second.
const MEMBERS: usize = 10;

#[test]
fn a_guild_answers_a_member_as_it_is_described() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut guild = Guild::start(folder.path(), &[]);
    let invitation = guild.invitation();
    let keeper = guild.join(&invitation, "name=Ada");
    let joins = |_| guild.join(&guild.invite(&keeper), "name=Ruth");
    let mut cookies: Vec<String> = (0..MEMBERS + 1).map(joins).collect();
    // The first makes the quilts, and lets the others change them.
    let maker = cookies.remove(0);
    let small = std::fs::read_to_string(SMALL).expect("it is there");
    for (path, body) in [("/import", small.as_str()), ("/new/tide-pool", ""), ("/new/market-rows", "")] {
        let made = client().post(format!("{}{path}", guild.url)).header("cookie", &maker).body(body.to_owned()).send();
        assert_eq!(made.expect("it answers").status(), 200, "{path}");
    }
    for (quilt, member) in (1..=3).flat_map(|quilt| (3..3 + MEMBERS).map(move |member| (quilt, member))) {
        let shared = guild.form(&format!("/q/{quilt}/members"), &format!("member={member}&may=edit"), &maker);
        assert_eq!(shared.status(), 303);
    }
    let described: serde_json::Value = guild.get("/api.json", &maker).json().expect("a description");
    assert_eq!(described["paths"]["/q/{id}/edit"]["post"]["x-needs"], "edit");
    let all: Vec<String> = std::iter::once(keeper).chain(cookies).collect();
    asked_for_everything(&guild.url, folder.path(), GUILD_ASKS, &["--phases", "fuzzing"], &all);
    let its_own = ["--phases", "coverage,fuzzing", "--include-path-regex", r"^/(sign|join|me)|/members"];
    asked_for_everything(&guild.url, folder.path(), GUILDS_OWN_ASKS, &its_own, &all);
    assert_eq!(guild.get("/quilts", &maker).status(), 200, "it still serves");
    drop(guild);
    holds(folder.path());
}
