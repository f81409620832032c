//! Holds `ARCHITECTURE.md` and the sources against the workspace.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("xtask lies in the workspace").to_owned()
}

fn text(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn crates() -> BTreeSet<String> {
    let folder = fs::read_dir(root().join("crates")).expect("there are crates");
    folder.map(|entry| entry.expect("it can be read").file_name().to_string_lossy().into_owned()).collect()
}

/// Crates and what each may use, from the table of the page.
fn rooms() -> BTreeMap<String, BTreeSet<String>> {
    text("ARCHITECTURE.md")
        .lines()
        .filter_map(|line| line.strip_prefix("| `seamfall"))
        .map(|rest| {
            let cells: Vec<&str> = rest.split('|').map(str::trim).collect();
            let name = format!("seamfall{}", cells[0].trim_end_matches('`'));
            let may =
                cells[2].split(',').map(str::trim).filter(|word| *word != "-").map(|word| format!("seamfall-{word}")).collect();
            (name, may)
        })
        .collect()
}

/// Rust sources of a folder and below.
pub fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("it can be read").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn the_page_names_exactly_the_crates_there_are() {
    assert_eq!(rooms().into_keys().collect::<BTreeSet<_>>(), crates());
}

#[test]
fn no_crate_uses_a_room_it_may_not() {
    for (name, may) in rooms() {
        let manifest = text(&format!("crates/{name}/Cargo.toml"));
        let dependencies = manifest.split("[dependencies]").nth(1).expect("a crate lists its dependencies");
        let dependencies = dependencies.split("[dev-dependencies]").next().expect("the first part");
        for line in dependencies.lines().filter(|line| line.starts_with("seamfall-")) {
            let used = line.split(['.', ' ', '=']).next().expect("a name");
            assert!(may.contains(used) || may.contains("seamfall-all"), "{name} uses {used}");
        }
    }
}

/// Stages use only those before them in the order of work.
#[test]
fn stages_use_only_earlier_stages() {
    let order = ["fit", "draft", "set", "piece", "fall", "cut", "lap", "truing", "join", "finish"];
    for (place, stage) in order.iter().enumerate() {
        let folder = root().join("crates/seamfall-plan/src").join(stage);
        if !folder.is_dir() {
            continue;
        }
        let mut files = Vec::new();
        sources(&folder, &mut files);
        for file in files {
            let source = fs::read_to_string(&file).expect("a source can be read");
            for later in &order[place + 1..] {
                assert!(!source.contains(&format!("crate::{later}")), "{} uses the later stage {later}", file.display());
            }
        }
    }
}

#[test]
fn every_source_opens_with_what_it_is() {
    let mut files = Vec::new();
    sources(&root().join("crates"), &mut files);
    for file in files {
        let source = fs::read_to_string(&file).expect("a source can be read");
        assert!(source.starts_with("//!"), "{} has no header", file.display());
    }
}

/// The clock, files, the environment, threads and hash tables stay out of the core.
#[test]
fn the_core_touches_no_machine() {
    let forbidden = ["std::fs", "std::time", "std::env", "std::thread", "std::net", "HashMap", "HashSet"];
    for name in [
        "seamfall-geom",
        "seamfall-solve",
        "seamfall-cutting",
        "seamfall-drape",
        "seamfall-model",
        "seamfall-plan",
        "seamfall-class",
        "seamfall-draw",
    ] {
        let mut files = Vec::new();
        sources(&root().join("crates").join(name).join("src"), &mut files);
        let of_tests = |file: &PathBuf| file.iter().any(|part| part == "tests" || part == "tests.rs");
        for file in files.iter().filter(|file| !of_tests(file)) {
            let source = fs::read_to_string(file).expect("a source can be read");
            let code = source.split("#[cfg(test)]").next().expect("the first part");
            for word in forbidden {
                assert!(!code.contains(word), "{} uses {word}", file.display());
            }
        }
    }
}

/// The page of the laws names tests that there are.
#[test]
fn every_law_is_held_by_a_test() {
    let mut files = Vec::new();
    sources(&root().join("crates"), &mut files);
    let all: String = files.iter().map(|file| fs::read_to_string(file).expect("a source can be read")).collect();
    let page = text("docs/laws.md");
    let rows = page
        .lines()
        .filter_map(|line| line.strip_prefix("| "))
        .filter(|line| !line.starts_with("stage") && !line.starts_with('-'));
    let mut laws = 0;
    for row in rows {
        let held = row.split(" | ").nth(2).expect("a row says what holds its law").trim_end_matches(" |");
        for by in held.split(", ").filter(|by| *by != "every plan") {
            let name = by.trim_matches('`');
            assert!(all.contains(&format!("fn {name}(")), "{name} is no test");
        }
        laws += 1;
    }
    assert!(laws > 30, "{laws}");
}
