//! The catalogue is fresh, and what a message names is given to it.

use super::*;

#[test]
fn the_catalogue_is_fresh() {
    let there = fs::read_to_string(root().join(CATALOGUE)).unwrap_or_default();
    assert!(there == catalogue(&gather()), "words have changed: run `cargo run -p xtask -- words` and commit {CATALOGUE}");
}

/// Names in braces.
fn named(message: &str) -> BTreeSet<&str> {
    message.split('{').skip(1).map(|rest| rest.split('}').next().unwrap_or(rest)).collect()
}

#[test]
fn what_a_message_names_is_given_and_nothing_else() {
    let mut wrong = Vec::new();
    for said in gather() {
        let given: BTreeSet<&str> = said.given.iter().map(String::as_str).collect();
        for form in [Some(&said.one), said.many.as_ref()].into_iter().flatten() {
            let mut wanted = named(form);
            if said.many.is_some() {
                // A form may leave the count out: "one patch".
                wanted.insert("n");
            }
            if wanted != given || wanted.contains("") {
                wrong.push(format!("{}:{}: \"{form}\" names {wanted:?} and is given {given:?}", said.file, said.line));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Gettext knows a message by its English alone: the same words cannot have two plurals, or one and none.
#[test]
fn a_message_has_one_plural() {
    let said = gather();
    let mut plurals: BTreeMap<(&str, Option<&str>), BTreeSet<Option<&str>>> = BTreeMap::new();
    for said in &said {
        plurals.entry((&said.one, said.context.as_deref())).or_default().insert(said.many.as_deref());
    }
    plurals.retain(|_, plurals| plurals.len() > 1);
    assert!(plurals.is_empty(), "{plurals:#?}");
}

#[test]
fn pages_have_no_plain_words() {
    let pages = sources("rs").into_iter().flat_map(|(file, source)| {
        prose::plain(&source).into_iter().map(move |(line, text)| format!("{file}:{line}: \"{text}\""))
    });
    let plain: Vec<String> = pages.collect();
    assert!(plain.is_empty(), "say these with `tr!`:\n{}", plain.join("\n"));
}

/// Spaces at an end belong to the page, not to the sentence; a translator loses them.
#[test]
fn a_message_begins_and_ends_with_words() {
    let wrong: Vec<String> = gather()
        .iter()
        .filter(|said| [Some(&said.one), said.many.as_ref()].into_iter().flatten().any(|form| form.trim() != form.as_str()))
        .map(|said| format!("{}:{}: \"{}\"", said.file, said.line, said.one))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn messages_are_found_inside_other_macros_and_not_in_tests() {
    let source = r#"
        fn page() { html! { p title=(tr!("A title")) { (tr!("side" => "one {what}" | "{n} {what}" % count(2), what = tr!("patch"))) } } }
        #[cfg(test)] mod tests { fn no() { tr!("not this"); } }
        fn last(name: &str) -> String { tr!("Last, {name}", name) }
        const SIDES: [&str; 1] = [mark!("left")];
        fn spoken(marked: &str) -> String { tr!(marked) }
    "#;
    let said = rust::messages(source, "page.rs");
    let seen: Vec<(&str, Option<&str>, Vec<&str>)> =
        said.iter().map(|it| (it.one.as_str(), it.many.as_deref(), it.given.iter().map(String::as_str).collect())).collect();
    assert_eq!(
        seen,
        [
            ("A title", None, vec![]),
            ("one {what}", Some("{n} {what}"), vec!["n", "what"]),
            ("patch", None, vec![]),
            ("Last, {name}", None, vec!["name"]),
            ("left", None, vec![]),
        ]
    );
    assert_eq!(said[1].context.as_deref(), Some("side"));
}

#[test]
fn values_given_in_a_script_are_known_by_name() {
    assert_eq!(names(", { n, name: file.name.at({ a: 1 }, b), size }) and more, { x }"), ["n", "name", "size"]);
    assert!(names(")").is_empty());
}

/// Source: the file format, gettext manual, "The Format of PO Files".
#[test]
fn an_entry_is_written_as_gettext_has_it() {
    let said = |one: &str, many: Option<&str>, file: &str| Said {
        context: Some("side".to_owned()),
        one: one.to_owned(),
        many: many.map(str::to_owned),
        given: Vec::new(),
        file: file.to_owned(),
        line: 1,
    };
    let text =
        catalogue(&[said("one \"patch\"", Some("{n} patches"), "b.rs"), said("one \"patch\"", Some("{n} patches"), "a.rs")]);
    let entry = text.strip_prefix(HEADER).expect("the header comes first");
    let wanted = "\n#: a.rs b.rs\nmsgctxt \"side\"\nmsgid \"one \\\"patch\\\"\"\nmsgid_plural \"{n} patches\"\nmsgstr[0] \"\"\nmsgstr[1] \"\"\n";
    assert_eq!(entry, wanted);
}
