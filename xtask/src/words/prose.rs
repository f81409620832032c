//! Words of a page that are no message: texts in `html!` and attributes that are read, written as plain literals.
//!
//! In: a Rust source. Out: each such literal with its line. How: by the grammar of `maud`: in the braces of an element a literal is text; after
//! `=` it is a value; what stands between `@` and its braces, and in parentheses, is code. Literals in code are found where they look like a
//! sentence.

use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// Attributes that are read or heard.
const READ: [&str; 6] = ["title", "aria-label", "placeholder", "alt", "data-confirm", "data-said"];

/// The same in every language.
const SIGNS: [&str; 1] = ["Seamfall"];

/// Plain literals that a person would read.
pub fn plain(source: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    pages(source.parse().expect("a source has tokens"), &mut found);
    found
}

/// Every `html!` in code.
fn pages(tokens: TokenStream, found: &mut Vec<(usize, String)>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    for (at, token) in tokens.iter().enumerate() {
        let TokenTree::Group(group) = token else { continue };
        match named(&tokens[..at]).as_deref() {
            Some("html!") => markup(&group.stream().into_iter().collect::<Vec<_>>(), found),
            Some("tr!") => {}
            _ => pages(group.stream(), found),
        }
    }
}

/// `html!` before a group.
fn named(before: &[TokenTree]) -> Option<String> {
    match before {
        [.., TokenTree::Ident(name), TokenTree::Punct(mark)] if mark.as_char() == '!' => Some(format!("{name}!")),
        _ => None,
    }
}

/// What stands between the braces of an element, or of `@if`.
fn markup(tokens: &[TokenTree], found: &mut Vec<(usize, String)>) {
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Punct(mark) if mark.as_char() == '@' => at = control(tokens, at, found),
            TokenTree::Punct(mark) if mark.as_char() == '=' => {
                at += 1;
                value(&attribute(&tokens[..at - 1]), tokens.get(at), found);
            }
            // `#{ … }` and `.{ … }` are put together for the script.
            TokenTree::Punct(mark) if matches!(mark.as_char(), '#' | '.') => at += 1,
            TokenTree::Literal(text) => note(text, found, has_words),
            TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => {
                markup(&group.stream().into_iter().collect::<Vec<_>>(), found);
            }
            TokenTree::Group(group) => code(group.stream(), found),
            _ => {}
        }
        at += 1;
    }
}

/// `@if … {`, `@match … {`, `@let …;`: what is code up to the braces, and what stands in them. Answers where that ends.
fn control(tokens: &[TokenTree], at: usize, found: &mut Vec<(usize, String)>) -> usize {
    let word = tokens.get(at + 1).map(ToString::to_string).unwrap_or_default();
    for (end, token) in tokens.iter().enumerate().skip(at + 2) {
        match token {
            TokenTree::Punct(mark) if word == "let" && mark.as_char() == ';' => return end,
            TokenTree::Group(group) if word != "let" && group.delimiter() == Delimiter::Brace => {
                let inside: Vec<TokenTree> = group.stream().into_iter().collect();
                if word == "match" {
                    arms(&inside, found)
                } else {
                    markup(&inside, found)
                }
                return end;
            }
            _ => {}
        }
    }
    tokens.len()
}

/// `pattern => markup,` of `@match`.
fn arms(tokens: &[TokenTree], found: &mut Vec<(usize, String)>) {
    let is = |token: &TokenTree, mark: char| matches!(token, TokenTree::Punct(punct) if punct.as_char() == mark);
    let mut rest = tokens;
    while let Some(arrow) = rest.windows(2).position(|pair| is(&pair[0], '=') && is(&pair[1], '>')) {
        rest = &rest[arrow + 2..];
        let block = matches!(rest.first(), Some(TokenTree::Group(group)) if group.delimiter() == Delimiter::Brace);
        let end = if block { 1 } else { rest.iter().position(|token| is(token, ',')).unwrap_or(rest.len()) };
        markup(&rest[..end], found);
        rest = &rest[end..];
    }
}

/// The name before `=`: `aria-label`.
fn attribute(before: &[TokenTree]) -> String {
    let mut name = Vec::new();
    for token in before.iter().rev() {
        match token {
            TokenTree::Punct(mark) if mark.as_char() == '-' => name.push("-".to_owned()),
            TokenTree::Ident(word) if name.last().is_none_or(|last| last == "-") => name.push(word.to_string()),
            _ => break,
        }
    }
    name.into_iter().rev().collect()
}

fn value(name: &str, value: Option<&TokenTree>, found: &mut Vec<(usize, String)>) {
    match value {
        Some(TokenTree::Literal(text)) if READ.contains(&name) => note(text, found, has_words),
        Some(TokenTree::Group(group)) if READ.contains(&name) && group.delimiter() == Delimiter::Brace => {
            markup(&group.stream().into_iter().collect::<Vec<_>>(), found);
        }
        Some(TokenTree::Group(group)) if READ.contains(&name) => code(group.stream(), found),
        _ => {}
    }
}

/// A splice.
fn code(tokens: TokenStream, found: &mut Vec<(usize, String)>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    for (at, token) in tokens.iter().enumerate() {
        match token {
            TokenTree::Literal(text) => note(text, found, is_sentence),
            TokenTree::Group(group) => match named(&tokens[..at]).as_deref() {
                Some("html!") => markup(&group.stream().into_iter().collect::<Vec<_>>(), found),
                Some("tr!") => {}
                _ => code(group.stream(), found),
            },
            _ => {}
        }
    }
}

fn note(literal: &proc_macro2::Literal, found: &mut Vec<(usize, String)>, wanted: fn(&str) -> bool) {
    let written = literal.to_string();
    if let Some(text) = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'))
        && wanted(text)
        && !SIGNS.contains(&text.trim())
    {
        found.push((literal.span().start().line, text.to_owned()));
    }
}

/// Two letters one after another.
fn has_words(text: &str) -> bool {
    text.split(|c: char| !c.is_alphabetic()).any(|word| word.chars().count() > 1)
}

/// Two words one after another.
fn is_sentence(text: &str) -> bool {
    let words: Vec<&str> = text.split(' ').collect();
    let is_word = |word: &str| word.chars().count() > 1 && word.chars().all(char::is_alphabetic);
    words
        .windows(2)
        .any(|pair| is_word(pair[0].trim_end_matches([',', ':', ';'])) && is_word(pair[1].trim_end_matches([',', '.', ':', ';'])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_words_of_a_page_are_found() {
        let source = r#"fn page(way: &str) -> Markup { html! {
            p.quiet #id title="Said" data-key="not read" { "Plain" (tr!("said {n}", n = 1)) " · " (way) }
            img alt={ "Of " (way) }; button title=(tr!("ok")) type="submit" { b { "7" } }
            @if way == "some way" { "then" } @else { (field("id", "What it is")) }
            @match way { "a way" => { "one" }, other => p { (other) " two" }, }
            @let it = "let be so"; "Seamfall"
        } }"#;
        let found: Vec<String> = plain(source).into_iter().map(|(_, text)| text).collect();
        assert_eq!(found, ["Said", "Plain", "Of ", "then", "What it is", "one", " two"]);
    }
}
