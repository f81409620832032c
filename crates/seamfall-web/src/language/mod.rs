//! The language of the pages.
//!
//! Every sentence goes through `tr!`, with the English as its key. Here are the choice of the language, its name for the pages, and the
//! words of the scripts: those ask for theirs with `say("…")` and get them as a script of its own, which is not loaded in English.

mod scripted;

use crate::routes::scripts;
use scripted::Scripted;
use serde_json::{Map, Value, json};
use tr::{Translator, tr};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl Translator + 'static) {
    tr::set_translator!(language);
}

/// Whether another language than English is spoken.
pub fn is_spoken() -> bool {
    !header().is_empty()
}

/// The language as a page says it: `en`, `pt-BR`.
pub fn tag() -> String {
    let header = header();
    let named = header.lines().find_map(|line| line.strip_prefix("Language:")).map_or("", str::trim);
    if named.is_empty() { "en".to_owned() } else { named.replace('_', "-") }
}

/// The header of the catalogue: by custom the translation of nothing.
fn header() -> String {
    tr!("")
}

/// The words of the scripts as a script: `const words = {…};`.
pub fn script() -> String {
    let mut words = Map::new();
    for script in scripts() {
        for (message, _) in scripted::messages(&script) {
            let (key, word) = word(&message);
            words.insert(key, word);
        }
    }
    format!("const words = {};\n", Value::Object(words))
}

/// A message's key and its translation. A plural has its forms and, for each count up to 200, which of them is meant: rules of plurals look
/// at the last two digits of larger counts.
fn word(message: &Scripted) -> (String, Value) {
    let Some(many) = &message.many else {
        return (message.one.clone(), json!(with(|said| said.translate(&message.one, None).into_owned())));
    };
    let mut forms: Vec<String> = Vec::new();
    let of: Vec<usize> = (0..200)
        .map(|count| {
            let form = with(|said| said.ntranslate(count, &message.one, many, None).into_owned());
            forms.iter().position(|known| *known == form).unwrap_or_else(|| {
                forms.push(form);
                forms.len() - 1
            })
        })
        .collect();
    (format!("{}|{many}", message.one), json!({ "forms": forms, "of": of }))
}

/// The translator of this crate, which `tr!` keeps to messages known when the program is built.
fn with<T>(ask: impl FnOnce(&dyn Translator) -> T) -> T {
    tr::internal::with_translator(module_path!(), ask)
}
