//! Tests of reading and writing ledgers.

use super::super::*;
use super::reading::with;
use crate::*;
use proptest::prelude::*;

/// The example of the documentation.
fn page() -> String {
    let page = include_str!("../../../../../docs/ledger-file.md");
    page.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).expect("the page opens with an example").to_owned()
}

/// The quilt that it belongs to.
fn small() -> Quilt {
    read(&with("")).expect("it reads")
}

fn good(text: &str) -> Ledger {
    read_ledger(text, &small()).unwrap_or_else(|error| panic!("{error:#?}\n{text}"))
}

/// The problems of a ledger, one a line.
fn problems(text: &str) -> String {
    let error = read_ledger(text, &small()).expect_err("this file has problems");
    assert_eq!(error.file, FileKind::Ledger);
    let line = |p: &Problem| {
        let help = p.help.as_ref().map_or(String::new(), |help| format!(" | {help}"));
        format!("{}:{} {}{help}\n", p.line, p.column, p.reason)
    };
    error.problems.iter().map(line).collect()
}

/// The problems of a ledger that goes on like this from its third line.
fn refused(rest: &str) -> String {
    problems(&format!("format = 1\nquilt = \"Small\"\n{rest}"))
}

/// The problems of a section S1 of which this is said in line 5.
fn refused_of_section(line: &str) -> String {
    refused(&format!("[[section]]\nname = \"S1\"\n{line}\n"))
}

#[test]
fn the_page_of_the_ledger_shows_one_that_reads() {
    let ledger = good(&page());
    let first = &ledger.sections[0];
    assert_eq!((first.name.as_str(), first.state), ("S1", SewnState::Quilted));
    assert_eq!(first.measured, Some(Measured::One(Length::new(12.375))));
    assert_eq!((first.with.as_deref(), first.note.as_deref()), (Some("Ada"), Some("one leaf is missing")));
    assert_eq!(first.date.as_deref(), Some("2026-03-07"));
    assert_eq!(ledger.sections[1].measured.map(Measured::sides), Some([12.5, 12.375, 12.5, 12.375].map(Length::new)));
    assert_eq!(ledger.sections[2].measured.map(Measured::sides), Some([12.5, 12.375, 12.5, 12.25].map(Length::new)));
    assert_eq!(ledger.sections[1].at.as_deref(), Some("S4"));
    assert_eq!(ledger.falls, [FixedFall { between: ["A1.p1", "A1.p2"].map(str::to_owned), to: FallTo::Open }]);
    assert_eq!(
        ledger.joins,
        [SewnJoin { between: [vec!["S3".to_owned()], vec!["S2".to_owned()]], date: Some("2026-04-02".to_owned()) }]
    );
}

#[test]
fn nothing_written_is_nothing_sewn() {
    assert_eq!(good(""), Ledger::default());
    assert_eq!(good("format = 1\nquilt = \"Small\"\n"), Ledger::default());
}

#[test]
fn every_state_has_its_word() {
    for state in SewnState::ALL {
        let text = format!("format = 1\nquilt = \"Small\"\n[[section]]\nname = \"S1\"\nstate = \"{}\"\n", state.word());
        assert_eq!(good(&text).sections[0].state, state);
    }
    insta::assert_snapshot!(refused_of_section("state = \"quited\""), @"5:9 `state` cannot be `quited` | did you mean `quilted`?");
}

#[test]
fn a_ledger_of_another_quilt_is_refused() {
    insta::assert_snapshot!(problems("format = 1\nquilt = \"Large\"\n"), @r#"2:9 this is the ledger of `Large`, and the quilt is called `Small` | if it is the same quilt under a new name, write `quilt = "Small"`; else it belongs beside another quilt"#);
    insta::assert_snapshot!(problems("format = 1\n"), @"1:1 the ledger needs the key `quilt` | add `quilt = ...`");
    insta::assert_snapshot!(problems("\n"), @"1:1 the ledger needs the key `format` | add `format = ...`");
}

/// Another format may have other keys, which are not told one by one.
#[test]
fn another_format_is_refused_by_its_number() {
    insta::assert_snapshot!(problems("format = 2\nquilt = \"Small\"\ncolour = \"red\"\n"), @"1:10 format 2 is not known to this version, which reads format 1 | it was written by a newer Seamfall: use that one; nothing was changed");
    insta::assert_snapshot!(problems("format = 0\nquilt = \"Small\"\n"), @"1:10 format 0 is not known to this version, which reads format 1 | write `format = 1`; there was none before it");
}

#[test]
fn sizes_that_cannot_have_been_measured_are_refused() {
    insta::assert_snapshot!(refused_of_section("measured = 0"), @"5:12 `measured` is 0 in, less than the least that can be sewn, 1/16 in | make it 1/16 in or more");
    insta::assert_snapshot!(refused_of_section("measured = \"-12\""), @"5:12 `measured`: `-12` is no length that can be sewn | it must lie between 0 and 1,000 yd");
    insta::assert_snapshot!(refused_of_section("measured = \"100 m\""), @"5:12 `measured` is 3937.0079 in, more than the most that is taken here, 240 in | make it 240 in or less");
    insta::assert_snapshot!(refused_of_section("measured = \"12,5\""), @"5:12 `measured`: `12,5` can be read in two ways | write it with a point, like `6.5`, or with its unit, like `6,5 cm`");
    insta::assert_snapshot!(refused_of_section("measured = [12, 12, 12]"), @"5:12 `measured` holds 3 sides | write one for all sides, two for width and height, or four: bottom, right, top, left");
    insta::assert_snapshot!(refused_of_section("measured = []"), @"5:12 `measured` holds 0 sides | write one for all sides, two for width and height, or four: bottom, right, top, left");
    insta::assert_snapshot!(refused_of_section("measured = [12, \"broad\", 12, 0]"), @r"
    5:17 `measured`: `broad` is not a length | write it like `2 1/2`, `2.5`, `2½`, `6,5 cm` or `3/8 yd`
    5:30 `measured` is 0 in, less than the least that can be sewn, 1/16 in | make it 1/16 in or more
    ");
    insta::assert_snapshot!(refused_of_section("measured = true"), @r#"5:12 `measured` cannot be `true` | it must be a length like "12 1/2", or a list of two or four"#);
}

#[test]
fn what_is_said_twice_is_refused() {
    insta::assert_snapshot!(refused("[[section]]\nname = \"S1\"\n[[section]]\nname = \"S1\"\n"), @"6:8 section `S1` is listed twice | put all that is known of it into one of the two, and take the other away");
    insta::assert_snapshot!(refused_of_section("measured = 12\nmeasured = 13"), @"6:1 this is not TOML: duplicate key | each key stands once; take one of them away");
    insta::assert_snapshot!(refused("[[fall]]\nbetween = [\"A1\", \"A2\"]\nto = \"A1\"\n[[fall]]\nbetween = [\"A2\", \"A1\"]\nto = \"A1\"\n"), @"7:11 the seam between `A2` and `A1` is listed twice | take one of the two away");
}

#[test]
fn names_of_sections_have_one_form() {
    for name in ["s3", "3", "S03", "S", "S1234567", "B3", "S3 "] {
        let said = refused(&format!("[[section]]\nname = \"{name}\"\n"));
        assert!(said.starts_with(&format!("4:8 `{name}` is no name of a section | ")), "{said}");
        assert_eq!(said.contains("write `S3`"), name.contains('3') && !name.contains('B') && name.len() < 5, "{said}");
    }
    insta::assert_snapshot!(refused_of_section("at = \"bag\""), @"5:6 `bag` is no name of a section | sections are called S1, S2, S3 ...");
}

#[test]
fn days_are_days_of_the_calendar() {
    let section = |date: &str| format!("format = 1\nquilt = \"Small\"\n[[section]]\nname = \"S1\"\ndate = {date}\n");
    for day in ["2026-03-07", "2024-02-29", "2000-02-29", "1999-12-31"] {
        for written in [day.to_owned(), format!("\"{day}\"")] {
            assert_eq!(good(&section(&written)).sections[0].date.as_deref(), Some(day));
        }
    }
    for no_day in [
        "\"2026-02-29\"",
        "\"1900-02-29\"",
        "\"2026-13-01\"",
        "\"2026-04-31\"",
        "\"26-3-7\"",
        "\"7 March\"",
        "2026-03-07T10:00:00",
        "10:00:00",
    ] {
        let said = problems(&section(no_day));
        assert!(said.contains("is no day of the calendar | write year, month and day, like 2026-03-07"), "{no_day}: {said}");
    }
    assert!(problems(&section("2026-02-30")).starts_with("5:"), "one without quotes is refused by TOML itself");
    insta::assert_snapshot!(refused_of_section("date = 7"), @"5:8 `date` cannot be `7` | it must be a day like 2026-03-07");
}

#[test]
fn joins_have_two_sides_that_differ() {
    let join = |between: &str| refused(&format!("[[join]]\nbetween = {between}\n"));
    insta::assert_snapshot!(join("[[\"S1\"]]"), @r#"4:11 `between` names the sections on two sides, not on 1 | write it like [["S1", "S2"], ["S3"]]"#);
    insta::assert_snapshot!(join("[[\"S1\"], []]"), @"4:20 one side of the join is empty | name at least one section on either side");
    insta::assert_snapshot!(join("[[\"S1\", \"S2\"], [\"S1\"]]"), @"4:27 section `S1` is named twice in one join | each section hangs on one side");
    insta::assert_snapshot!(join("[\"S1\", \"S2\"]"), @r#"
    4:12 `between` cannot be the text "S1" | it must be a list in square brackets
    4:18 `between` cannot be the text "S2" | it must be a list in square brackets
    "#);
}

/// Pieces may be gone since: that is for the plan to say, and the rest of the ledger stays readable.
#[test]
fn falls_beside_pieces_that_are_gone_still_read() {
    let fall = |a: &str, b: &str, to: &str| format!("[[fall]]\nbetween = [\"{a}\", \"{b}\"]\nto = \"{to}\"\n");
    let text =
        format!("format = 1\nquilt = \"Small\"\n{}", fall("star.p1", "star.p2", "star.p2") + &fall("Z9.p1", "Z9.p2", "open"));
    assert_eq!(good(&text).falls.len(), 2);
    insta::assert_snapshot!(refused(&fall("A1", "A2", "A3")), @"5:6 `A3` is neither of the two pieces | there is: `A1`, `A2`, `open`");
}

#[test]
fn unknown_keys_are_refused_by_name() {
    insta::assert_snapshot!(refused("[[sections]]\nname = \"S1\"\n"), @"3:3 `sections` is not a key of the ledger | did you mean `section`?");
    insta::assert_snapshot!(refused_of_section("sate = \"cut\""), @"5:1 `sate` is not a key of a section | did you mean `state`?");
    insta::assert_snapshot!(refused("[[join]]\nof = [\"S1\"]\n"), @"4:1 `of` is not a key of a join | there is: `between`, `date`");
    insta::assert_snapshot!(refused("[[section]]\nstate = \"cut\"\n"), @"3:1 a section needs the key `name` | add `name = ...`");
}

#[test]
fn words_that_cannot_be_printed_are_refused() {
    insta::assert_snapshot!(refused_of_section("with = \"A\\nB\""), @"5:8 the name holds a line break or another character that cannot be printed");
    insta::assert_snapshot!(refused_of_section("note = \"A\\u0007B\""), @"5:8 the note holds a character that cannot be printed");
    assert!(refused_of_section(&format!("note = \"{}\"", "a".repeat(2_001))).contains("more than 2000 characters"));
    assert_eq!(
        good("format = 1\nquilt = \"Small\"\n[[section]]\nname = \"S1\"\nnote = \"one\\ntwo\"\n").sections[0].note.as_deref(),
        Some("one\ntwo")
    );
}

/// One look at a file finds all that is wrong with it.
#[test]
fn all_problems_are_said_at_once() {
    insta::assert_snapshot!(refused("[[section]]\nname = \"s1\"\nmeasured = 0\ndate = \"never\"\n[[join]]\nbetween = [[], [\"S2\"]]\n"), @r"
    4:8 `s1` is no name of a section | write `S1`
    5:12 `measured` is 0 in, less than the least that can be sewn, 1/16 in | make it 1/16 in or more
    6:8 `never` is no day of the calendar | write year, month and day, like 2026-03-07
    8:12 one side of the join is empty | name at least one section on either side
    ");
}

#[test]
fn there_are_only_so_many_sections_and_no_file_is_too_large_to_refuse() {
    let sections = |count: usize| (1..=count).map(|i| format!("[[section]]\nname = \"S{i}\"\n")).collect::<String>();
    assert_eq!(good(&format!("format = 1\nquilt = \"Small\"\n{}", sections(10_000))).sections.len(), 10_000);
    assert!(refused(&sections(10_001)).contains("there are 10001 sections, more than the 10000 that can be planned"));
    assert!(problems(&"#".repeat(limits::FILE_BYTES + 1)).contains("more than the 2097152 that the ledger may have"));
}

#[test]
fn the_schema_knows_what_the_page_shows_and_refuses_what_is_refused() {
    let schema: serde_json::Value = serde_json::from_str(&ledger_json_schema()).expect("it is JSON");
    let validator = jsonschema::validator_for(&schema).expect("it is a schema");
    // JSON has no dates: they are text there.
    let json = |text: &str| {
        let text =
            text.replace("date = 2026-03-07", "date = \"2026-03-07\"").replace("date = 2026-04-02", "date = \"2026-04-02\"");
        serde_json::to_value(toml::from_str::<toml::Value>(&text).expect("TOML")).expect("JSON")
    };
    assert!(
        validator.is_valid(&json(&page())),
        "{:?}",
        validator.iter_errors(&json(&page())).map(|e| e.to_string()).collect::<Vec<_>>()
    );
    for (from, to) in
        [("\"quilted\"", "\"quited\""), ("name = \"S1\"", "name = \"1\""), ("with =", "by ="), ("\"2026-03-07\"", "\"soon\"")]
    {
        let text = page().replace("date = 2026-03-07", "date = \"2026-03-07\"").replace(from, to);
        assert!(!validator.is_valid(&json(&text)), "{to}");
    }
}

fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        (8..3_840_u32).prop_map(|sixteenths| Length::new(f64::from(sixteenths) / 16.0)),
        (0.5..200.0_f64).prop_map(Length::new)
    ]
}

fn any_section() -> impl Strategy<Value = SewnSection> {
    let measured = prop_oneof![
        any_length().prop_map(Measured::One),
        [any_length(), any_length()].prop_map(Measured::Two),
        [any_length(), any_length(), any_length(), any_length()].prop_map(Measured::Four),
    ];
    let words = || prop::option::of("[a-zA-Z \"'\\\\#=äöü½]{0,20}[a-z]");
    let day = prop::option::of((1..=12_u32, 1..=28_u32).prop_map(|(month, day)| format!("2026-{month:02}-{day:02}")));
    let at = prop::option::of((1..50_u32).prop_map(|at| format!("S{at}")));
    (prop::sample::select(&SewnState::ALL), prop::option::of(measured), at, words(), words(), day).prop_map(
        |(state, measured, at, with, note, date)| SewnSection { name: String::new(), state, measured, at, with, note, date },
    )
}

proptest! {
    #[test]
    fn what_is_written_reads_back_as_the_same(sections in prop::collection::vec(any_section(), 0..8), inches in any::<bool>()) {
        let quilt = Quilt { measure: if inches { Measure::Inch } else { Measure::Centimetre }, ..small() };
        let named = sections.into_iter().enumerate().map(|(i, section)| SewnSection { name: format!("S{}", i + 1), ..section });
        let joins = vec![SewnJoin { between: [vec!["S1".to_owned(), "S2".to_owned()], vec!["S3".to_owned()]], date: None }];
        let falls = vec![FixedFall { between: ["A1", "sash.1.2"].map(str::to_owned), to: FallTo::Second }];
        let ledger = Ledger { sections: named.collect(), falls, joins };
        let text = write_ledger(&ledger, &quilt);
        let read = read_ledger(&text, &quilt).unwrap_or_else(|error| panic!("{error}\n{text}"));
        prop_assert_eq!(&read, &ledger, "{}", text);
        prop_assert_eq!(write_ledger(&read, &quilt), text);
    }
}
