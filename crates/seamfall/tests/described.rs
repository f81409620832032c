//! The server asked for everything that its own description says it has, by a fuzzer that knows nothing else of it.
//!
//! Source: the description is OpenAPI 3.1 (spec.openapis.org); it is read and asked by schemathesis, a public fuzzer of HTTP. `xtask/readers/asks.py` gives it the numbers of
//! the quilts there are. Longer: `SEAMFALL_ASKS=200 cargo nextest run -p seamfall -E 'test(described)'`.

#[path = "faults/server.rs"]
mod server;

use rusqlite::Connection;
use server::{Server, client};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Questions to every address, unless said.
const ASKS: &str = "6";

/// What is asked of every answer: that the server has no fault, and that status, kind and form are those that are described; that no method is served that
/// is not described, and what breaks the form of a question is refused.
const CHECKS: &str =
    "not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance,unsupported_method";

fn fuzzer() -> PathBuf {
    let readers = std::env::var("SEAMFALL_READERS").map(PathBuf::from);
    let readers = readers.unwrap_or_else(|_| Path::new(&std::env::var("HOME").expect("a home")).join(".cache/seamfall-readers"));
    readers.join("bin/schemathesis")
}

#[test]
fn the_server_answers_as_it_is_described() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut server =
        Server::start(folder.path(), &["open", concat!(env!("CARGO_MANIFEST_DIR"), "/tests/faults/small.quilt.toml")])
            .unwrap_or_else(|(_, said)| panic!("{said}"));
    // Others to lose.
    for demo in ["tide-pool", "market-rows"] {
        assert!(client().post(format!("{}/new/{demo}", server.url)).send().expect("it answers").status().is_success());
    }
    let asks = std::env::var("SEAMFALL_ASKS").unwrap_or_else(|_| ASKS.to_owned());
    let hooks = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../xtask/readers");
    let asked = Command::new(fuzzer())
        .args(["run", &format!("{}/api.json", server.url), "--seed", "20261126", "--max-examples", &asks, "--checks", CHECKS])
        .args(["--phases", "examples,coverage,fuzzing", "--request-timeout", "120", "--no-shrink", "--no-color"])
        .args(["--generation-database", "none"])
        .current_dir(folder.path())
        .env("PYTHONPATH", &hooks)
        .env("SCHEMATHESIS_HOOKS", "asks")
        .output()
        .expect("the fuzzer is installed: bash xtask/install-test-tools.sh");
    let told = String::from_utf8_lossy(&asked.stdout);
    println!("{told}");
    assert!(
        asked.status.success(),
        "the server does not answer as it is described:\n{told}\n{}",
        String::from_utf8_lossy(&asked.stderr)
    );
    // Whatever was asked, the server still serves, and the store is whole.
    assert!(client().get(format!("{}/quilts", server.url)).send().expect("it answers").status().is_success());
    server.kill();
    let store = Connection::open(folder.path().join("seamfall.sqlite")).expect("there is a store");
    let whole: String = store.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("it can be asked");
    assert_eq!(whole, "ok");
    let mut quilts = store.prepare("SELECT text FROM state").expect("there are states");
    let texts = quilts.query_map([], |row| row.get::<_, String>(0)).expect("they can be read");
    for text in texts {
        let text = text.expect("a text");
        seamfall_model::read(&text).unwrap_or_else(|error| panic!("a quilt was kept that is none: {error:?}\n{text}"));
    }
}
