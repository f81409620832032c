//! The messages that a script says.
//!
//! In: the text of a script. Out: every `say("…")` in it with what is given to it. How: the calls are found by their name, their texts
//! read up to the closing quote. A text that is put together is not found, and is a mistake: a message is one literal.
//! `xtask` gathers the same calls for the catalogue.

/// One message, as a translator sees it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scripted {
    /// The English sentence.
    pub one: String,
    /// The English sentence for a count other than one.
    pub many: Option<String>,
}

/// Every message of `script`, in order, each with the rest of its call.
pub fn messages(script: &str) -> Vec<(Scripted, &str)> {
    let calls = script
        .match_indices("say(")
        .filter(|(at, _)| !script[..*at].ends_with(|c: char| c.is_alphanumeric() || "_.$".contains(c)));
    calls
        .filter_map(|(at, name)| {
            let (one, rest) = literal(&script[at + name.len()..])?;
            let many = rest.trim_start().strip_prefix(',').and_then(literal);
            let (many, rest) = many.map_or((None, rest), |(many, rest)| (Some(many), rest));
            Some((Scripted { one, many }, rest))
        })
        .collect()
}

/// A text in double quotes, and what follows it.
fn literal(script: &str) -> Option<(String, &str)> {
    let inside = script.trim_start().strip_prefix('"')?;
    let mut text = String::new();
    let mut letters = inside.char_indices();
    while let Some((at, letter)) = letters.next() {
        match letter {
            '"' => return Some((text, &inside[at + 1..])),
            '\\' => text.push(letters.next()?.1),
            other => text.push(other),
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn calls_are_found_with_what_is_given() {
        let script = r#"said(say("One \"two\" {n}", "Three, {n}", { n })); essay("no"); it.say("no"); say ("no"); say(text);"#;
        let found = messages(script);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].0, Scripted { one: r#"One "two" {n}"#.to_owned(), many: Some("Three, {n}".to_owned()) });
        assert!(found[0].1.starts_with(", { n })"));
    }
}
