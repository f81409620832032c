//! The words of the house in one place: every message that is said in a source, for translators.
//!
//! In: the sources of all crates, the scripts of the workroom and the templates of the book. Out: `words/seamfall.pot`, sorted by message. Each message stands with
//! the files it is said in and no lines, so that the catalogue changes only when words do.

#[cfg(test)]
mod prose;
mod rust;
#[path = "../../../crates/seamfall-web/src/language/scripted.rs"]
mod scripted;
mod typst;

use rspolib::POEntry;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The catalogue without translations, below the root of the workspace.
pub const CATALOGUE: &str = "words/seamfall.pot";

const HEADER: &str = r#"# The words of Seamfall. Copy this file to words/LANGUAGE.po and translate it: docs/words.md says how.
# Written by `cargo run -p xtask -- words`.
msgid ""
msgstr ""
"Language: \n"
"MIME-Version: 1.0\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Content-Transfer-Encoding: 8bit\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"
"#;

/// A message that a source says.
#[derive(Clone, Debug)]
pub struct Said {
    /// Which of two meanings, where the English is the same.
    pub context: Option<String>,
    /// The English sentence.
    pub one: String,
    /// The English sentence for a count other than one.
    pub many: Option<String>,
    #[cfg_attr(not(test), expect(dead_code, reason = "a test holds them against the message"))]
    /// Names of what is filled in; what has no name stands as an empty one.
    pub given: Vec<String>,
    /// The file, below the root.
    pub file: String,
    #[cfg_attr(not(test), expect(dead_code, reason = "told by the tests, not written down"))]
    /// The line of the file.
    pub line: usize,
}

/// Writes the catalogue anew.
pub fn write() {
    let path = root().join(CATALOGUE);
    fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("the folder can be made");
    fs::write(&path, catalogue(&gather())).expect("the catalogue can be written");
    println!("{}", path.display());
}

/// Every message of the house.
pub fn gather() -> Vec<Said> {
    let mut said = Vec::new();
    for (file, source) in sources("rs") {
        said.extend(rust::messages(&source, &file));
    }
    for (file, script) in sources("js") {
        said.extend(scripted::messages(&script).into_iter().map(|(message, rest)| Said {
            context: None,
            one: message.one,
            many: message.many,
            given: names(rest),
            file: file.clone(),
            line: script[..rest.as_ptr() as usize - script.as_ptr() as usize].lines().count(),
        }));
    }
    for (file, template) in sources("typ") {
        said.extend(typst::messages(&template, &file));
    }
    said
}

/// The catalogue of `said`: one entry for each message, sorted.
pub fn catalogue(said: &[Said]) -> String {
    let mut entries = BTreeMap::<_, BTreeSet<&str>>::new();
    for said in said {
        entries.entry((said.one.as_str(), said.context.as_deref(), said.many.as_deref())).or_default().insert(&said.file);
    }
    let mut text = HEADER.to_owned();
    for ((one, context, many), files) in entries {
        let mut entry = POEntry::from(one);
        entry.msgctxt = context.map(str::to_owned);
        entry.msgid_plural = many.map(str::to_owned);
        entry.msgstr = many.is_none().then(String::new);
        entry.msgstr_plural = if many.is_some() { vec![String::new(); 2] } else { Vec::new() };
        entry.occurrences = files.into_iter().map(|file| (file.to_owned(), String::new())).collect();
        text.push('\n');
        // One line each: a catalogue of whole sentences is compared line by line.
        text.push_str(entry.to_string_with_wrapwidth(100_000).trim_end());
        text.push('\n');
    }
    text
}

/// Names in the values given to a message of a script: `, { n, name: file.name })` gives `n` and `name`.
fn names(rest: &str) -> Vec<String> {
    let Some(inside) = rest.trim_start().strip_prefix(',').and_then(|rest| rest.trim_start().strip_prefix('{')) else {
        return Vec::new();
    };
    let (mut depth, mut names, mut word, mut at_name) = (0, Vec::new(), String::new(), true);
    for letter in inside.chars() {
        match letter {
            '(' | '[' | '{' => depth += 1,
            '}' if depth == 0 => break,
            ')' | ']' | '}' => depth -= 1,
            ',' if depth == 0 => at_name = true,
            ':' if depth == 0 => at_name = false,
            letter if at_name && depth == 0 && !letter.is_whitespace() => {
                word.push(letter);
                continue;
            }
            _ => {}
        }
        if !word.is_empty() && depth == 0 && !letter.is_whitespace() {
            names.push(std::mem::take(&mut word));
        }
    }
    names.extend((!word.is_empty()).then_some(word));
    names
}

/// The folder of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("xtask lies in the workspace").to_owned()
}

/// Files of the crates, without their tests, that end so: the path below the root, and the text.
pub fn sources(ending: &str) -> Vec<(String, String)> {
    fn walk(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).expect("a folder of sources") {
            let path = entry.expect("it can be read").path();
            let of_tests = path.file_stem().is_some_and(|name| name == "tests");
            if path.is_dir() && !of_tests {
                walk(&path, ending, found);
            } else if !of_tests && path.extension().is_some_and(|it| it == ending) {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    for part in fs::read_dir(root().join("crates")).expect("there are crates") {
        let part = part.expect("it can be read").path();
        for folder in ["src", "assets", "typst"].map(|name| part.join(name)).into_iter().filter(|folder| folder.is_dir()) {
            walk(&folder, ending, &mut found);
        }
    }
    found.sort();
    let below = |path: &PathBuf| path.strip_prefix(root()).expect("it lies below the root").to_string_lossy().replace('\\', "/");
    found.iter().map(|path| (below(path), fs::read_to_string(path).expect("a source can be read"))).collect()
}

#[cfg(test)]
mod tests;
