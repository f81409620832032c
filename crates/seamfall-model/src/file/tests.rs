//! Tests of reading and writing quilt files.

use super::starter::read_starter;
use super::starter_list::STARTER;
use super::*;

/// The example of the documentation.
fn page() -> String {
    let page = include_str!("../../../../docs/quilt-file.md");
    let toml = page.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next());
    toml.expect("the page opens with an example").to_owned()
}

/// A small quilt that reads, with `extra` put in front of its setting.
fn with(extra: &str) -> String {
    format!(
        r##"format = 1
name = "Small"
measure = "inch"
[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[block.plain]
shape = "square"
size = "12"
grid = 4
patches = {{ night = [[1, 1]] }}
{extra}
[setting]
layout = "straight"
columns = 2
rows = 2
pattern = [["plain"]]
"##
    )
}

/// The problems of a file, one a line, as a terminal would have them.
fn problems(text: &str) -> String {
    let error = read(text).expect_err("this file has problems");
    let line = |p: &Problem| {
        let help = p.help.as_ref().map_or(String::new(), |help| format!(" | {help}"));
        format!("{}:{} {}{help}\n", p.line, p.column, p.reason)
    };
    error.problems.iter().map(line).collect()
}

#[test]
fn the_page_of_the_format_shows_a_file_that_reads() {
    let text = page();
    let quilt = read(&text).unwrap_or_else(|error| panic!("{error}\n{}", problems(&text)));
    assert_eq!(quilt.setting.places.len(), 5);
    assert_eq!(quilt.blocks[1].starter.as_deref(), Some("churn-dash"));
    assert_eq!(quilt.setting.places[1][2].turns, 1);
}

#[test]
fn every_starter_block_reads() {
    for (key, text) in STARTER {
        if let Err(error) = read_starter(key, text) {
            panic!("{key}: {:#?}", error.problems);
        }
    }
    assert_eq!(starter_blocks().len(), STARTER.len());
}

#[test]
fn the_list_of_starter_blocks_is_the_folder() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/starter");
    let names = std::fs::read_dir(folder).expect("the folder is there").filter_map(Result::ok);
    let mut files: Vec<_> = names.map(|entry| entry.file_name().to_string_lossy().replace(".toml", "")).collect();
    files.sort();
    let listed: Vec<_> = STARTER.iter().map(|(key, _)| *key).collect();
    assert_eq!(listed, files);
}
