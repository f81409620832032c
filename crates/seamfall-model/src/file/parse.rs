//! From text to [`RawQuilt`], [`RawLedger`] and [`RawBlock`]: the parser's errors, said in the words of the file.
//!
//! In: text. Out: typed but unchecked values. What cannot be read is noted and taken out of the tree, and the rest is read
//! again, so that one look at a file finds as much as can be found.

use super::problems::{FileError, FileKind, Problems, suggestion};
use super::raw::{CORNERS_LIKE, SEAM_LIKE};
use crate::{limits, spoken};
use serde::de::DeserializeOwned;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};
use tr::tr;

/// How often the rest of a file is read again after something was taken out of it.
const TRIES: usize = 12;

/// One step down into the tree.
#[derive(Debug, Clone, PartialEq)]
enum Way {
    Key(String),
    Position,
}

/// Reads `text`, that of such a file, as a `T`.
pub(super) fn parse<T: DeserializeOwned>(file: FileKind, text: &str) -> Result<T, FileError> {
    if text.len() > limits::FILE_BYTES {
        let reason = tr!(
            "the file has {bytes} bytes, more than the {most} that {file} may have",
            bytes = text.len(),
            most = limits::FILE_BYTES,
            file = file.words()
        );
        let help = tr!("it holds what was decided or sewn and no pictures; see whether this is the right file");
        return Err(FileError::single_of(file, text, 0..0, reason, help));
    }
    let mut tree = DeTable::parse(text).map_err(|error| {
        let reason = tr!("this is not TOML: {message}", message = error.message());
        FileError::single_of(file, text, error.span().unwrap_or(0..0), reason, syntax_help(error.message()))
    })?;
    let mut problems = Problems::of(file);
    // What is missing only because it was taken out, or because it was written wrongly, is not told again.
    let mut excused: Vec<(Vec<Way>, String)> = Vec::new();
    for _ in 0..TRIES {
        let error = match T::deserialize(toml::de::Deserializer::from(tree.clone())) {
            Ok(value) if problems.is_empty() => return Ok(value),
            Ok(_) => break,
            Err(error) => error,
        };
        let span = error.span().unwrap_or(0..0);
        let path = find(tree.get_ref(), &span).unwrap_or_default();
        let (reason, help) = in_our_words(file, error.message(), &path);
        let quoted = |text: &str| text.split('`').nth(1).unwrap_or_default().to_owned();
        let missing = error.message().starts_with("missing field");
        if !missing || !excused.contains(&(path.clone(), quoted(error.message()))) {
            problems.add(span.clone(), reason, help.clone());
        }
        if let Some((Way::Key(last), above)) = path.split_last() {
            excused.push((above.to_vec(), last.clone()));
            excused.push((above.to_vec(), help.as_deref().map(quoted).unwrap_or_default()));
        }
        if !take_out(tree.get_mut(), &span) {
            break;
        }
    }
    Err(problems.finish(text))
}

/// The way to the key or value at exactly `span`; of several the deepest.
fn find(table: &DeTable<'_>, span: &Range<usize>) -> Option<Vec<Way>> {
    table.iter().find_map(|(key, value)| {
        let mut path = vec![Way::Key(key.get_ref().to_string())];
        if key.span() != *span {
            path.extend(find_in(value, span)?);
        }
        Some(path)
    })
}

fn find_in(value: &Spanned<DeValue<'_>>, span: &Range<usize>) -> Option<Vec<Way>> {
    let below = match value.get_ref() {
        DeValue::Table(table) => find(table, span),
        DeValue::Array(list) => list.iter().find_map(|item| {
            let mut path = vec![Way::Position];
            path.extend(find_in(item, span)?);
            Some(path)
        }),
        _ => None,
    };
    below.or_else(|| (value.span() == *span).then(Vec::new))
}

/// Takes the key or value at `span` out of the tree; says whether there was one.
fn take_out(table: &mut DeTable<'_>, span: &Range<usize>) -> bool {
    let before = table.len();
    if table.iter_mut().any(|(_, value)| take_out_below(value, span)) {
        return true;
    }
    *table = std::mem::take(table).into_iter().filter(|(key, value)| key.span() != *span && value.span() != *span).collect();
    table.len() < before
}

fn take_out_below(value: &mut Spanned<DeValue<'_>>, span: &Range<usize>) -> bool {
    match value.get_mut() {
        DeValue::Table(table) => take_out(table, span),
        DeValue::Array(list) => {
            if list.iter_mut().any(|item| take_out_below(item, span)) {
                return true;
            }
            let mut kept = DeArray::new();
            list.iter().filter(|item| item.span() != *span).for_each(|item| kept.push(item.clone()));
            let changed = kept.len() < list.len();
            *list = kept;
            changed
        }
        _ => false,
    }
}

/// The parser's message as reason and help.
fn in_our_words(file: FileKind, message: &str, path: &[Way]) -> (String, Option<String>) {
    let mut quoted = message.split('`').skip(1).step_by(2);
    let name = quoted.next().unwrap_or_default();
    let last = path.iter().rev().find_map(|way| match way {
        Way::Key(key) => Some(key.as_str()),
        Way::Position => None,
    });
    if message.starts_with("unknown field") {
        let owner = kind(file, &path[..path.len().saturating_sub(1)]);
        return (tr!("`{name}` is not a key of {owner}", name, owner), suggestion(name, quoted));
    }
    if message.starts_with("missing field") {
        return (tr!("{table} needs the key `{name}`", table = kind(file, path), name), Some(tr!("add `{name} = ...`", name)));
    }
    let owner = last.map_or_else(|| tr!("this"), |key| format!("`{key}`"));
    if message.starts_with("unknown variant") {
        return (tr!("{owner} cannot be `{name}`", owner, name), suggestion(name, quoted));
    }
    if let Some((found, expected)) = message.split_once(", expected ")
        && let Some(found) = found.strip_prefix("invalid type: ").or_else(|| found.strip_prefix("invalid value: "))
    {
        return (
            tr!("{owner} cannot be {found}", owner, found = plain_found(found)),
            Some(tr!("it must be {expected}", expected = plain_kind(expected))),
        );
    }
    (tr!("{owner} cannot be read: {message}", owner, message), None)
}

/// What was found, as people say it.
fn plain_found(found: &str) -> String {
    let (kind, rest) = found.split_once(' ').unwrap_or((found, ""));
    match kind {
        "integer" | "floating" | "boolean" => rest.trim_start_matches("point ").to_owned(),
        "string" => tr!("the text {rest}", rest),
        "sequence" => tr!("a list"),
        "map" => tr!("a table"),
        _ => found.to_owned(),
    }
}

/// What is expected, as people say it.
fn plain_kind(expected: &str) -> String {
    match expected {
        "i64" => tr!("a whole number"),
        "u32" => tr!("a whole number, not negative"),
        "f64" => tr!("a number"),
        "a boolean" => tr!("true or false"),
        "a string" | "string or table" => tr!("text in quotes"),
        "a sequence" => tr!("a list in square brackets"),
        _ if expected.starts_with("struct ") => tr!("a table of keys"),
        SEAM_LIKE => {
            tr!("a seam like {line} or {arc}", line = "[x, y, x, y]", arc = "{ arc = [x, y, x, y], centre = [x, y] }")
        }
        CORNERS_LIKE => tr!("{words} or {squares}", words = "\"mitred\", \"butted\"", squares = "{ squares = \"CLOTH\" }"),
        // What a value of ours expects is marked where it is read.
        _ => spoken(expected),
    }
}

/// What a table is, by the way to it.
fn kind(file: FileKind, path: &[Way]) -> String {
    let keys: Vec<&str> = path
        .iter()
        .filter_map(|way| match way {
            Way::Key(key) => Some(key.as_str()),
            Way::Position => None,
        })
        .collect();
    // In a file of its own a block stands under no key, or is the whole of it.
    let keys = match (file, keys.as_slice()) {
        (FileKind::Block, ["block", rest @ ..]) if !rest.is_empty() => [&["block", "own"], rest].concat(),
        (FileKind::Block, ["overlay" | "seams", ..]) => [&["block", "own"], &keys[..]].concat(),
        _ => keys,
    };
    match keys.as_slice() {
        [] => file.words(),
        ["schedule", ..] => tr!("the schedule"),
        ["pace", ..] => tr!("the paces"),
        ["bring", "cloths", ..] => tr!("who brings single cloths"),
        ["bring", ..] => tr!("who brings what"),
        ["student", ..] => tr!("a student"),
        ["lesson", ..] => tr!("a lesson"),
        ["item", ..] => tr!("an item"),
        ["bed", ..] => tr!("the bed"),
        ["corners", ..] => tr!("the corners at the foot"),
        ["cloth", _, "look", ..] => tr!("the look of a cloth"),
        ["cloth", _, "from", ..] => tr!("a size in `from`"),
        ["cloth", ..] => tr!("a cloth"),
        ["binding", ..] => tr!("the binding"),
        ["backing", ..] => tr!("the backing"),
        ["batting", "packages", ..] => tr!("a package"),
        ["batting", ..] => tr!("the batting"),
        ["sample", ..] => tr!("the sample"),
        ["lap", ..] => tr!("the lap work"),
        ["quilting", ..] => tr!("a quilting design"),
        ["thread", ..] => tr!("the thread"),
        ["finish", ..] => tr!("the finish"),
        ["sleeve", ..] => tr!("the sleeve"),
        ["label", ..] => tr!("the label"),
        ["cover", ..] => tr!("the cover"),
        ["block", _, "overlay", .., "outline"] | ["block", _, "seams"] | ["seams"] => tr!("an arc"),
        ["block", _, "overlay", ..] | ["overlay", ..] => tr!("an overlay"),
        ["block", ..] => tr!("a block"),
        ["frame", _, "strips", ..] => tr!("a strip"),
        [.., "corners"] => tr!("corners with squares"),
        ["frame", ..] => tr!("a frame"),
        ["setting", ..] => tr!("the setting"),
        ["place", ..] => tr!("a place"),
        ["sashing", ..] => tr!("the sashing"),
        ["band", ..] => tr!("a band"),
        ["fall", ..] => tr!("a fall"),
        ["section", ..] => tr!("a section"),
        ["join", ..] => tr!("a join"),
        ["fussy", ..] => tr!("a motif"),
        ["way", ..] => tr!("a way of making"),
        [.., last] => format!("`{last}`"),
    }
}

/// Help for the slips of TOML that people make most.
fn syntax_help(message: &str) -> Option<String> {
    let help = if message.contains("duplicate key") {
        tr!("each key stands once; take one of them away")
    } else if message.contains("string") || message.contains("quoted") {
        tr!("text stands between two straight quotes: name = \"Night blue\"")
    } else {
        tr!("each line is `key = value`, or a heading such as `[setting]`; comments begin with #")
    };
    Some(help)
}
