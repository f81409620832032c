//! A made-up language, which shows what is not said in the language that was chosen.
//!
//! In it every message stands between ⟦ and ⟧. What a person reads outside of them was not said with `tr!`, unless a maker wrote it.
//! A program that speaks it speaks nothing else any more: tests with it run in a process of their own, as `cargo nextest` does.

use seamfall_model::Quilt;
use std::borrow::Cow;
use tr::Translator;

/// The made-up language.
#[derive(Debug, Clone, Copy)]
pub struct MadeUp;

impl Translator for MadeUp {
    fn translate<'a>(&'a self, message: &'a str, _context: Option<&'a str>) -> Cow<'a, str> {
        // The translation of nothing is the header of a catalogue.
        Cow::Owned(if message.is_empty() { "Language: x-made-up\n".to_owned() } else { format!("⟦{message}⟧") })
    }

    fn ntranslate<'a>(&'a self, n: u64, one: &'a str, many: &'a str, _context: Option<&'a str>) -> Cow<'a, str> {
        Cow::Owned(format!("⟦{}⟧", if n == 1 { one } else { many }))
    }
}

/// What the maker of a quilt named: the quilt, its cloths, blocks, parts and frames, the keys of all of them, its batting, and the sizes it comes in.
#[must_use]
pub fn names(quilt: &Quilt) -> Vec<String> {
    let mut names = vec![quilt.name.clone()];
    names.extend(quilt.cloths.iter().flat_map(|cloth| [cloth.name.clone(), cloth.key.clone()]));
    names.extend(quilt.blocks.iter().flat_map(|block| [block.name.clone(), block.key.clone()]));
    names.extend(quilt.blocks.iter().flat_map(|block| block.parts.iter().map(|part| part.name.clone())));
    names.extend(quilt.frames.iter().map(|frame| frame.key.clone()));
    names.extend(quilt.batting.iter().map(|batting| batting.name.clone()));
    let supplies =
        quilt.batting.iter().flat_map(|batting| &batting.packages).chain(quilt.cloths.iter().flat_map(|cloth| &cloth.from));
    names.extend(supplies.map(|supply| supply.name.clone()));
    names
}

/// What stands in `text` outside of all messages, where words of two letters and more are in it that are no name of `known`. What stands between
/// backticks is typed, in every language alike.
#[must_use]
pub fn outside(text: &str, known: &[&str]) -> Vec<String> {
    let mut rest = String::new();
    let mut depth = 0_usize;
    for letter in text.chars() {
        match letter {
            '⟦' => depth += 1,
            '⟧' => depth = depth.saturating_sub(1),
            letter if depth == 0 => rest.push(letter),
            _ => {}
        }
    }
    let mut longest: Vec<&&str> = known.iter().filter(|name| name.chars().any(char::is_alphabetic)).collect();
    longest.sort_by_key(|name| std::cmp::Reverse(name.len()));
    let mut left: String = rest.split('`').step_by(2).collect::<Vec<_>>().join(" ");
    for name in longest {
        left = without(&left, name);
    }
    let said = left.split(|c: char| !c.is_alphabetic()).any(|word| word.chars().count() > 1);
    if said { vec![rest.trim().to_owned()] } else { Vec::new() }
}

/// `text` without `name` wherever it stands as a word of its own.
fn without(text: &str, name: &str) -> String {
    let mut left = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(name) {
        let (before, after) = (&rest[..at], &rest[at + name.len()..]);
        left.push_str(before);
        let inside = before.ends_with(char::is_alphabetic) || after.starts_with(char::is_alphabetic);
        left.push_str(if inside { name } else { " " });
        rest = after;
    }
    left + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_message_is_found() {
        assert!(outside("⟦The band is ⟦3 patches⟧ wide⟧, 4 1/2 in", &["in"]).is_empty());
        assert!(outside("`width`: ⟦is no length⟧", &[]).is_empty());
        assert_eq!(outside("⟦The band⟧ is wide", &["in"]), ["is wide"]);
        assert_eq!(outside("inch", &["in"]), ["inch"], "a name is not found inside a word");
    }
}
