//! The words that stand in the templates, in the language that is spoken.
//!
//! In: the text of the templates. Out: `words.json`: the language, and every message of a `say("…")` with its translation, which is where
//! the templates' `say` finds it.

use std::collections::BTreeMap;
use tr::tr;

#[derive(serde::Serialize)]
struct Words<'a> {
    /// Two or three letters, as typst and PDF take them.
    language: String,
    /// By the English message.
    said: BTreeMap<&'a str, String>,
}

/// The file that the templates read.
pub fn json<const N: usize>(templates: [&str; N]) -> Vec<u8> {
    let said = templates.into_iter().flat_map(messages).map(|message| (message, tr!(message))).collect();
    serde_json::to_vec(&Words { language: language(), said }).expect("text becomes JSON")
}

/// Every message of a template. None has a quotation mark in it.
fn messages(template: &str) -> impl Iterator<Item = &str> {
    template.split("say(\"").skip(1).filter_map(|rest| rest.split('"').next())
}

/// The language as the header of its catalogue says it, without a region; English where none is spoken.
fn language() -> String {
    let header = tr!("");
    let named = header.lines().find_map(|line| line.strip_prefix("Language:")).unwrap_or_default().trim();
    let code = named.split(['_', '-']).next().unwrap_or_default();
    let is_code = (2..=3).contains(&code.len()) && code.bytes().all(|letter| letter.is_ascii_lowercase());
    if is_code { code.to_owned() } else { "en".to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_of_a_template_are_found() {
        let template = r#"= #say("Units") \n #small(say("page {page}", page: 3)) and #"no message""#;
        assert_eq!(messages(template).collect::<Vec<_>>(), ["Units", "page {page}"]);
    }

    #[test]
    fn without_a_language_the_templates_speak_english() {
        let json: serde_json::Value = serde_json::from_slice(&json([r#"say("Units")"#])).expect("JSON");
        assert_eq!(json, serde_json::json!({ "language": "en", "said": { "Units": "Units" } }));
    }
}
