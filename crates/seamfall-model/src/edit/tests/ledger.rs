//! Tests of edits of the ledger.

use super::*;
use crate::{Ledger, SewnState, read_ledger};
use std::collections::BTreeMap;

/// A ledger as people write them, comments and all.
const SEWN: &str = r#"# Harbour, sewn since the new year.
format = 1
quilt = "Harbour"

# At the seaside.
[[section]]
name = "S2"   # the dark one
state = "quilted" # in March
measured = ["12 1/2", 12.25]
with = "Ada"

[[section]]
name = "S3"
state = "trimmed"

[[join]]   # the first
between = [["S3"], [ "S4" ]]
date = 2026-04-02
"#;

fn quilt() -> Quilt {
    read(SAMPLE).expect("the sample reads")
}

fn sewn(text: &str, edit: &LedgerEdit) -> String {
    apply_ledger(text, &quilt(), edit).unwrap_or_else(|error| panic!("{edit:?}: {error}"))
}

fn ledger(text: &str) -> Ledger {
    read_ledger(text, &quilt()).expect("it reads")
}

/// The lines that an edit takes away and those it adds.
fn noted(edit: &LedgerEdit) -> String {
    differences(SEWN, &sewn(SEWN, edit))
}

fn refused(edit: &LedgerEdit) -> String {
    apply_ledger(SEWN, &quilt(), edit).expect_err("it cannot be").to_string()
}

fn names(names: &[&str]) -> Vec<String> {
    names.iter().map(|&name| name.to_owned()).collect()
}

fn state(sections: &[&str], state: &str, date: Option<&str>) -> LedgerEdit {
    LedgerEdit::State { sections: names(sections), state: state.to_owned(), from: None, date: date.map(str::to_owned) }
}

fn measure(section: &str, sides: &[&str]) -> LedgerEdit {
    let sides = (!sides.is_empty()).then(|| names(sides));
    LedgerEdit::Measure { section: section.to_owned(), sides, date: None }
}

fn join(first: &[&str], second: &[&str]) -> LedgerEdit {
    LedgerEdit::Join { between: [names(first), names(second)], date: Some("2026-05-01".to_owned()) }
}

fn unjoin(first: &[&str], second: &[&str]) -> LedgerEdit {
    LedgerEdit::Unjoin { between: [names(first), names(second)] }
}

#[test]
fn the_first_edit_begins_the_ledger() {
    insta::assert_snapshot!(sewn("", &state(&["S1", "S2"], "cut", Some("2026-03-07"))), @r#"
    format = 1
    quilt = "Harbour"

    [[section]]
    name = "S1"
    state = "cut"
    date = 2026-03-07

    [[section]]
    name = "S2"
    state = "cut"
    date = 2026-03-07
    "#);
}

#[test]
fn a_state_is_changed_where_it_stands() {
    insta::assert_snapshot!(noted(&state(&["S2", "S1"], "trimmed", Some("2026-04-01"))), @r#"
    - state = "quilted" # in March
    + state = "trimmed" # in March
    + date = 2026-04-01
    + [[section]]
    + name = "S1"
    + state = "trimmed"
    + date = 2026-04-01
    +
    "#);
}

#[test]
fn sides_are_noted_as_they_are_typed() {
    insta::assert_snapshot!(noted(&measure("S2", &["12 3/8"])), @r#"
    - measured = ["12 1/2", 12.25]
    + measured = "12 3/8"
    "#);
    insta::assert_snapshot!(noted(&measure("S3", &["12½", "31 cm"])), @r#"+ measured = ["12½", "31 cm"]"#);
    insta::assert_snapshot!(noted(&measure("S2", &[])), @r#"- measured = ["12 1/2", 12.25]"#);
    insta::assert_snapshot!(refused(&measure("S2", &["0"])), @"`measured` is 0 in, less than the least that can be sewn, 1/16 in");
    insta::assert_snapshot!(refused(&measure("S2", &["12", "12", "12"])), @"`measured` holds 3 sides");
}

#[test]
fn places_people_and_notes_come_and_go() {
    let place = |section: &str, at: Option<&str>| (section.to_owned(), at.map(str::to_owned));
    insta::assert_snapshot!(noted(&LedgerEdit::Place { places: vec![place("S2", Some("S3")), place("S3", Some("S2"))] }), @r#"
    + at = "S3"
    + at = "S2"
    "#);
    let with = |with: Option<&str>| LedgerEdit::With { sections: names(&["S2"]), with: with.map(str::to_owned) };
    insta::assert_snapshot!(noted(&with(Some("Ben"))), @r#"
    - with = "Ada"
    + with = "Ben"
    "#);
    insta::assert_snapshot!(noted(&with(None)), @r#"- with = "Ada""#);
    let note = LedgerEdit::Note { section: "S9".to_owned(), note: Some("a \"long\" thread".to_owned()) };
    insta::assert_snapshot!(noted(&note), @r#"
    + [[section]]
    + name = "S9"
    + note = 'a "long" thread'
    +
    "#);
}

#[test]
fn falls_and_joins_are_noted_behind_the_others() {
    let fall = |to: Option<&str>| LedgerEdit::Fall { between: ["A1", "A2"].map(str::to_owned), to: to.map(str::to_owned) };
    let pressed = sewn(SEWN, &fall(Some("A2")));
    insta::assert_snapshot!(differences(SEWN, &pressed), @r#"
    +
    + [[fall]]
    + between = ["A1", "A2"]
    + to = "A2"
    "#);
    assert_eq!(sewn(&pressed, &fall(None)), SEWN);
    insta::assert_snapshot!(noted(&join(&["S3", "S4"], &["S5"])), @r#"
    +
    + [[join]]
    + between = [["S3", "S4"], ["S5"]]
    + date = 2026-05-01
    "#);
    insta::assert_snapshot!(noted(&unjoin(&["S4"], &["S3"])), @r#"
    -
    - [[join]]   # the first
    - between = [["S3"], [ "S4" ]]
    - date = 2026-04-02
    "#);
    insta::assert_snapshot!(refused(&unjoin(&["S4"], &["S5"])), @"S4 and S5 are not joined");
    insta::assert_snapshot!(refused(&join(&["S4"], &[])), @"one side of the join is empty");
    insta::assert_snapshot!(refused(&join(&["S4"], &["S4"])), @"section `S4` is named twice in one join");
}

/// A step ticked by two is ticked once, and stands as the first has noted it.
#[test]
fn what_says_nothing_new_leaves_every_byte() {
    for edit in [
        state(&["S2"], "quilted", Some("2026-12-24")),
        state(&["S7"], "planned", Some("2026-12-24")),
        measure("S2", &["12.5", "12 1/4"]),
        measure("S3", &[]),
        LedgerEdit::With { sections: names(&["S2"]), with: Some("Ada".to_owned()) },
        LedgerEdit::With { sections: names(&["S8"]), with: None },
        LedgerEdit::Place { places: vec![("S5".to_owned(), Some("S5".to_owned()))] },
        LedgerEdit::Note { section: "S2".to_owned(), note: Some(" ".to_owned()) },
        join(&["S4"], &["S3"]),
        LedgerEdit::Rename { quilt: None, sections: BTreeMap::new(), dropped: Vec::new() },
    ] {
        assert_eq!(sewn(SEWN, &edit), SEWN, "{edit:?}");
    }
    assert_eq!(sewn("", &state(&["S1"], "planned", None)), "", "nothing sewn needs no ledger");
}

#[test]
fn what_is_sewn_is_not_taken_back_by_the_way() {
    insta::assert_snapshot!(refused(&state(&["S3"], "pieced", None)), @"S3 hangs in a join that is sewn and cannot be only pieced again");
    // A step that somebody else has gone on from is not gone back to by a window that has not seen it.
    let from = |from: &str, to: &str| LedgerEdit::State {
        sections: names(&["S2"]),
        state: to.to_owned(),
        from: Some(from.to_owned()),
        date: None,
    };
    insta::assert_snapshot!(refused(&from("pieced", "framed")), @"S2 is quilted by now");
    assert_eq!(sewn(SEWN, &from("layered", "quilted")), SEWN, "that it is there already is no contradiction");
    assert_eq!(ledger(&sewn(SEWN, &from("quilted", "trimmed"))).sections[0].state, SewnState::Trimmed);
}

/// Sections that change their numbers with each other come out right, in one step.
#[test]
fn a_ledger_follows_its_quilt() {
    let sections = [("S2", "S3"), ("S3", "S2"), ("S4", "S40")].map(|(old, new)| (old.to_owned(), new.to_owned())).into();
    let edit = LedgerEdit::Rename { quilt: Some("Harbour lights".to_owned()), sections, dropped: Vec::new() };
    insta::assert_snapshot!(noted(&edit), @r#"
    - quilt = "Harbour"
    + quilt = "Harbour lights"
    - name = "S2"   # the dark one
    + name = "S3"   # the dark one
    - name = "S3"
    + name = "S2"
    - between = [["S3"], [ "S4" ]]
    + between = [["S2"], [ "S40" ]]
    "#);
    let after = sewn(SEWN, &edit);
    assert!(read_ledger(&after, &quilt()).is_err(), "it belongs to the quilt under its new name");
    assert!(read_ledger(&after, &Quilt { name: "Harbour lights".to_owned(), ..quilt() }).is_ok());
}

/// What is wasted by a change of the quilt is planned anew: it stands in no list and hangs in no join.
#[test]
fn what_is_dropped_is_in_no_list() {
    let dropped = |dropped: &[&str]| LedgerEdit::Rename { quilt: None, sections: BTreeMap::new(), dropped: names(dropped) };
    insta::assert_snapshot!(noted(&dropped(&["S2", "S4"])), @r#"
    - # At the seaside.
    - name = "S2"   # the dark one
    - state = "quilted" # in March
    - measured = ["12 1/2", 12.25]
    - with = "Ada"
    -
    - [[section]]
    -
    - [[join]]   # the first
    - between = [["S3"], [ "S4" ]]
    - date = 2026-04-02
    "#);
    let text = sewn(SEWN, &join(&["S3", "S4"], &["S5"]));
    let after = ledger(&sewn(&text, &dropped(&["S4"])));
    assert_eq!(after.joins.iter().map(|join| join.between.clone()).collect::<Vec<_>>(), [[names(&["S3"]), names(&["S5"])]]);
}

#[test]
fn every_edit_says_what_it_did() {
    let said = [
        state(&["S3"], "quilted", None),
        state(&["S1", "S2", "S3", "S4", "S5", "S6"], "cut", None),
        measure("S3", &["12 1/2", "12"]),
        measure("S3", &[]),
        LedgerEdit::Place { places: vec![("S3".to_owned(), Some("S5".to_owned()))] },
        LedgerEdit::With { sections: names(&["S1", "S2"]), with: Some("Ada".to_owned()) },
        LedgerEdit::Fall { between: ["A1", "A2"].map(str::to_owned), to: Some("open".to_owned()) },
        join(&["S1", "S2"], &["S3"]),
        unjoin(&["S1"], &["S2"]),
    ];
    insta::assert_snapshot!(said.map(|edit| edit.said()).join("\n"), @r"
    S3 quilted
    S1, S2, S3 and 3 more cut
    S3 measured 12 1/2, 12
    S3 is not measured
    S3 takes the place of S5
    Ada has S1 and S2
    A1 and A2 were pressed open
    S1 and S2 joined to S3
    S1 taken off S2
    ");
}

#[test]
fn edits_travel_as_json() {
    let edit: LedgerEdit = serde_json::from_str(r#"{"do":"state","sections":["S3"],"state":"quilted"}"#).expect("it reads");
    assert_eq!(edit, state(&["S3"], "quilted", None));
    assert!(serde_json::from_str::<LedgerEdit>(r#"{"do":"state","sections":["S3"],"state":"quilted","who":"Ada"}"#).is_err());
}

fn any_name() -> impl Strategy<Value = String> {
    prop_oneof![9 => (1..9_u32).prop_map(|number| format!("S{number}")), 1 => Just("bag".to_owned())]
}

fn any_ledger_edit() -> impl Strategy<Value = LedgerEdit> {
    let some = || prop::collection::vec(any_name(), 0..4);
    let day = || prop::option::of(prop::sample::select(&["2026-03-07", "2026-02-30", "today"][..]).prop_map(str::to_owned));
    let words = || prop::option::of("[ -~½\n\"]{0,12}");
    let state = || prop::sample::select(&["planned", "cut", "quilted", "trimmed", "joined", "sewn"][..]).prop_map(str::to_owned);
    let side = || prop::sample::select(&["12", "12 1/2", "0", "31 cm", "wide", "-1"][..]).prop_map(str::to_owned);
    let piece = || prop::sample::select(&["A1", "A2", "lantern.p1", "open", ""][..]).prop_map(str::to_owned);
    prop_oneof![
        (some(), state(), prop::option::of(state()), day()).prop_map(|(sections, state, from, date)| LedgerEdit::State {
            sections,
            state,
            from,
            date
        }),
        (any_name(), prop::option::of(prop::collection::vec(side(), 0..5)), day())
            .prop_map(|(section, sides, date)| LedgerEdit::Measure { section, sides, date }),
        prop::collection::vec((any_name(), prop::option::of(any_name())), 0..3).prop_map(|places| LedgerEdit::Place { places }),
        (some(), words()).prop_map(|(sections, with)| LedgerEdit::With { sections, with }),
        (any_name(), words()).prop_map(|(section, note)| LedgerEdit::Note { section, note }),
        ([piece(), piece()], prop::option::of(piece())).prop_map(|(between, to)| LedgerEdit::Fall { between, to }),
        ([some(), some()], day()).prop_map(|(between, date)| LedgerEdit::Join { between, date }),
        [some(), some()].prop_map(|between| LedgerEdit::Unjoin { between }),
        prop::collection::btree_map(any_name(), any_name(), 0..3).prop_map(|sections| LedgerEdit::Rename {
            quilt: None,
            sections,
            dropped: Vec::new()
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever is noted in whatever order, the ledger reads, its comments stay, and the edit made again says nothing new.
    #[test]
    fn any_row_of_edits_leaves_a_ledger(edits in prop::collection::vec(any_ledger_edit(), 1..25), fresh in any::<bool>()) {
        let quilt = quilt();
        let mut text = if fresh { String::new() } else { SEWN.to_owned() };
        for edit in edits {
            if let Ok(after) = apply_ledger(&text, &quilt, &edit) {
                prop_assert!(read_ledger(&after, &quilt).is_ok(), "{edit:?} on\n{text}");
                prop_assert!(fresh || after.starts_with("# Harbour, sewn since the new year."));
                if !matches!(edit, LedgerEdit::Rename { .. } | LedgerEdit::Unjoin { .. }) {
                    let again = apply_ledger(&after, &quilt, &edit).ok();
                    prop_assert_eq!(again.as_ref(), Some(&after), "{:?} again on\n{}", edit, after);
                }
                text = after;
            }
        }
    }
}
