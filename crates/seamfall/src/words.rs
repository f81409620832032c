//! The language that is spoken: a catalogue is read at the start, and given to every crate that says something.
//!
//! In: a `.po` file in the open gettext form. Out: nothing; from now on `tr!` finds its messages in it. A message without a translation,
//! with one marked as doubtful, or with one that names what the English does not, stays in English; the last is said.

use crate::failure::Failure;
use rspolib::{POEntry, POFile, TranslatedEntry};
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::Arc;
use tr::{PoTranslator, Translator};

/// Largest catalogue that is read, in bytes.
const MOST_BYTES: usize = 8 * 1024 * 1024;

/// Speaks the language of a catalogue from now on.
pub fn speak(file: &Path) -> Result<(), Failure> {
    let bytes = fs::read(file).map_err(|error| unusable(file, &error.to_string()))?;
    if bytes.len() > MOST_BYTES {
        return Err(unusable(file, "it is larger than 8 MiB"));
    }
    let text = String::from_utf8(bytes).map_err(|_| unusable(file, "it is not UTF-8 text"))?;
    let (catalogue, left_out) = Catalogue::read(&text).map_err(|why| unusable(file, &why))?;
    for message in left_out {
        eprintln!("words: \"{message}\" stays in English: its translation names what the English does not");
    }
    give(&Arc::new(catalogue));
    Ok(())
}

fn unusable(file: &Path, why: &str) -> Failure {
    Failure::Words { file: file.to_owned(), why: why.to_owned() }
}

fn give(words: &Arc<Catalogue>) {
    seamfall_model::speak(words.clone());
    seamfall_cutting::speak(words.clone());
    seamfall_drape::speak(words.clone());
    seamfall_plan::speak(words.clone());
    seamfall_class::speak(words.clone());
    seamfall_draw::speak(words.clone());
    seamfall_book::speak(words.clone());
    seamfall_photo::speak(words.clone());
    seamfall_store::speak(words.clone());
    seamfall_web::speak(words.clone());
    tr::set_translator!(words.clone());
}

/// A catalogue that also gives its header, as the translation of nothing.
struct Catalogue {
    messages: PoTranslator,
    header: String,
}

impl Catalogue {
    /// The catalogue, and the messages whose translation cannot be used.
    fn read(text: &str) -> Result<(Self, Vec<String>), String> {
        // The reader takes what is no catalogue for the name of a file.
        if !text.contains("msgid") {
            return Err("it has no messages".to_owned());
        }
        let mut file: POFile = rspolib::pofile(text).map_err(|error| error.to_string())?;
        let language = file.metadata.get("Language").map_or("", |language| language.trim());
        if language.is_empty() {
            return Err("its header does not say the language, as in `Language: de`".to_owned());
        }
        let header = format!("Language: {language}\n");
        file.entries.retain(|entry| entry.translated());
        let (fit, unfit): (Vec<POEntry>, Vec<POEntry>) = file.entries.into_iter().partition(names_the_same);
        file.entries = fit;
        if let Some(rule) = file.metadata.get_mut("Plural-Forms") {
            // Written `nplurals=2; plural=(n != 1);` by everyone; the translator wants no space.
            *rule = rule.replace(' ', "");
        }
        // By way of a file: the translator takes a catalogue in memory for an empty one.
        let fit = tempfile::NamedTempFile::with_suffix(".po").map_err(|error| error.to_string())?;
        fs::write(fit.path(), file.to_string()).map_err(|error| error.to_string())?;
        let messages = PoTranslator::from_path(fit.path()).map_err(|error| error.to_string())?;
        Ok((Self { messages, header }, unfit.into_iter().map(|entry| entry.msgid).collect()))
    }
}

/// Whether the translations name only what is filled into the English.
fn names_the_same(entry: &POEntry) -> bool {
    let mut known = named(&entry.msgid);
    known.extend(entry.msgid_plural.iter().flat_map(|plural| named(plural)));
    entry.msgstr.iter().chain(&entry.msgstr_plural).all(|words| named(words).is_subset(&known))
}

/// The names in braces.
fn named(message: &str) -> BTreeSet<&str> {
    message.split('{').skip(1).map(|rest| rest.split('}').next().unwrap_or(rest)).collect()
}

impl Translator for Catalogue {
    fn translate<'a>(&'a self, string: &'a str, context: Option<&'a str>) -> Cow<'a, str> {
        if string.is_empty() { Cow::Borrowed(&self.header) } else { self.messages.translate(string, context) }
    }

    fn ntranslate<'a>(&'a self, n: u64, one: &'a str, many: &'a str, context: Option<&'a str>) -> Cow<'a, str> {
        self.messages.ntranslate(n, one, many, context)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Polish has three forms. Source: gettext manual, "Additional functions for plural forms".
    const POLISH: &str = r#"
msgid ""
msgstr ""
"Language: pl\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

msgid "one \"patch\""
msgid_plural "{n} \"patches\""
msgstr[0] "jeden \"kawałek\""
msgstr[1] "{n} \"kawałki\""
msgstr[2] "{n} \"kawałków\""

msgctxt "side"
msgid "left"
msgstr "lewa"

#, fuzzy
msgid "right"
msgstr "prawda"

msgid "seam"
msgstr ""

msgid "{width} wide"
msgstr "{szer} szerokości"

msgid ""
"one line\n"
"another"
msgstr ""
"wiersz\n"
"drugi"
"#;

    #[test]
    fn a_catalogue_is_spoken_and_what_is_missing_stays_english() {
        let (words, left_out) = Catalogue::read(POLISH).expect("it is a catalogue");
        let counted = |n| words.ntranslate(n, "one \"patch\"", "{n} \"patches\"", None).into_owned();
        assert_eq!(
            [1, 2, 5, 12, 22].map(counted),
            ["jeden \"kawałek\"", "{n} \"kawałki\"", "{n} \"kawałków\"", "{n} \"kawałków\"", "{n} \"kawałki\""]
        );
        assert_eq!(words.translate("left", Some("side")), "lewa");
        assert_eq!(words.translate("left", None), "left");
        assert_eq!(words.translate("right", None), "right", "a doubtful translation is not spoken");
        assert_eq!(words.translate("seam", None), "seam");
        assert_eq!(words.translate("{width} wide", None), "{width} wide");
        assert_eq!(words.translate("one line\nanother", None), "wiersz\ndrugi");
        assert_eq!(words.translate("", None), "Language: pl\n");
        assert_eq!(left_out, ["{width} wide"]);
    }

    #[test]
    fn what_is_no_catalogue_is_refused() {
        for (text, why) in [
            ("", "no messages"),
            ("hello", "no messages"),
            ("msgid \"\"\nmsgstr \"\"\n", "does not say the language"),
            ("msgid \"\"\nmsgstr \"Language: xx\\n\"\nmsgid broken\n", ""),
            ("msgid \"\"\nmsgstr \"Language: xx\\nPlural-Forms: nplurals=2; plural=n +;\\n\"\n", "plural"),
        ] {
            let said = Catalogue::read(text).err().unwrap_or_else(|| panic!("{text:?} was taken"));
            assert!(said.contains(why), "{text:?}: {said}");
        }
    }
}
