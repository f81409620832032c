//! From text to [`RawQuilt`], [`RawLedger`] and [`RawBlock`]: the parser's errors, said in the words of the file.
//!
//! In: text. Out: typed but unchecked values. What cannot be read is noted and taken out of the tree, and the rest is read
//! again, so that one look at a file finds as much as can be found.

use super::problems::{FileError, FileKind, Problems, suggestion};
use crate::limits;
use serde::de::DeserializeOwned;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

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
        let reason =
            format!("the file has {} bytes, more than the {} that {} may have", text.len(), limits::FILE_BYTES, file.words());
        let help = "it holds what was decided or sewn and no pictures; see whether this is the right file".to_owned();
        return Err(FileError::single_of(file, text, 0..0, reason, help));
    }
    let mut tree = DeTable::parse(text).map_err(|error| {
        let reason = format!("this is not TOML: {}", error.message());
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
        return (format!("`{name}` is not a key of {owner}"), suggestion(name, quoted));
    }
    if message.starts_with("missing field") {
        return (format!("{} needs the key `{name}`", kind(file, path)), Some(format!("add `{name} = ...`")));
    }
    let owner = last.map_or("this".to_owned(), |key| format!("`{key}`"));
    if message.starts_with("unknown variant") {
        return (format!("{owner} cannot be `{name}`"), suggestion(name, quoted));
    }
    if let Some((found, expected)) = message.split_once(", expected ")
        && let Some(found) = found.strip_prefix("invalid type: ").or_else(|| found.strip_prefix("invalid value: "))
    {
        return (format!("{owner} cannot be {}", plain_found(found)), Some(format!("it must be {}", plain_kind(expected))));
    }
    (format!("{owner} cannot be read: {message}"), None)
}

/// What was found, as people say it.
fn plain_found(found: &str) -> String {
    let (kind, rest) = found.split_once(' ').unwrap_or((found, ""));
    match kind {
        "integer" | "floating" | "boolean" => rest.trim_start_matches("point ").to_owned(),
        "string" => format!("the text {rest}"),
        "sequence" => "a list".to_owned(),
        "map" => "a table".to_owned(),
        _ => found.to_owned(),
    }
}

/// What is expected, as people say it.
fn plain_kind(expected: &str) -> &str {
    match expected {
        "i64" => "a whole number",
        "u32" => "a whole number, not negative",
        "f64" => "a number",
        "a boolean" => "true or false",
        "a string" | "string or table" => "text in quotes",
        "a sequence" => "a list in square brackets",
        _ if expected.starts_with("struct ") => "a table of keys",
        _ => expected,
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
        [] => file.words().to_owned(),
        ["schedule", ..] => "the schedule".to_owned(),
        ["pace", ..] => "the paces".to_owned(),
        ["bring", "cloths", ..] => "who brings single cloths".to_owned(),
        ["bring", ..] => "who brings what".to_owned(),
        ["student", ..] => "a student".to_owned(),
        ["lesson", ..] => "a lesson".to_owned(),
        ["item", ..] => "an item".to_owned(),
        ["bed", ..] => "the bed".to_owned(),
        ["corners", ..] => "the corners at the foot".to_owned(),
        ["cloth", _, "look", ..] => "the look of a cloth".to_owned(),
        ["cloth", _, "from", ..] => "a size in `from`".to_owned(),
        ["cloth", ..] => "a cloth".to_owned(),
        ["binding", ..] => "the binding".to_owned(),
        ["backing", ..] => "the backing".to_owned(),
        ["batting", "packages", ..] => "a package".to_owned(),
        ["batting", ..] => "the batting".to_owned(),
        ["sample", ..] => "the sample".to_owned(),
        ["lap", ..] => "the lap work".to_owned(),
        ["quilting", ..] => "a quilting design".to_owned(),
        ["thread", ..] => "the thread".to_owned(),
        ["finish", ..] => "the finish".to_owned(),
        ["sleeve", ..] => "the sleeve".to_owned(),
        ["label", ..] => "the label".to_owned(),
        ["cover", ..] => "the cover".to_owned(),
        ["block", _, "overlay", .., "outline"] | ["block", _, "seams"] | ["seams"] => "an arc".to_owned(),
        ["block", _, "overlay", ..] | ["overlay", ..] => "an overlay".to_owned(),
        ["block", ..] => "a block".to_owned(),
        ["frame", _, "strips", ..] => "a strip".to_owned(),
        [.., "corners"] => "corners with squares".to_owned(),
        ["frame", ..] => "a frame".to_owned(),
        ["setting", ..] => "the setting".to_owned(),
        ["place", ..] => "a place".to_owned(),
        ["sashing", ..] => "the sashing".to_owned(),
        ["band", ..] => "a band".to_owned(),
        ["fall", ..] => "a fall".to_owned(),
        ["section", ..] => "a section".to_owned(),
        ["join", ..] => "a join".to_owned(),
        ["fussy", ..] => "a motif".to_owned(),
        ["way", ..] => "a way of making".to_owned(),
        [.., last] => format!("`{last}`"),
    }
}

/// Help for the slips of TOML that people make most.
fn syntax_help(message: &str) -> Option<String> {
    let help = if message.contains("duplicate key") {
        "each key stands once; take one of them away"
    } else if message.contains("string") || message.contains("quoted") {
        "text stands between two straight quotes: name = \"Night blue\""
    } else {
        "each line is `key = value`, or a heading such as `[setting]`; comments begin with #"
    };
    Some(help.to_owned())
}
