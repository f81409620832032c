//! What the plan makes of a ledger.

use super::*;
use seamfall_model::{Grade, read};

/// Plain blocks of 12 in, each a section of its own, in so many rows and columns.
fn quilt(rows: usize, columns: usize) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
largest-section = "14"
[cloth.red]
colour = "#aa3333"
[block.a]
shape = "square"
size = "12"
patches = {{ red = [[1, 1]] }}
[setting]
layout = "straight"
rows = {rows}
columns = {columns}
pattern = [["a"]]
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

fn section(name: &str, state: SewnState) -> SewnSection {
    SewnSection { name: name.to_owned(), state, measured: None, at: None, with: None, note: None, date: None }
}

fn join(first: &[&str], second: &[&str]) -> SewnJoin {
    SewnJoin { between: [first, second].map(|side| side.iter().map(|&name| name.to_owned()).collect()), date: None }
}

fn sewn(quilt: &Quilt, ledger: &Ledger) -> Staged<Sewn> {
    derive(quilt, ledger, &crate::set::derive(quilt).result)
}

/// Grade and reason of every finding.
fn said(staged: &Staged<Sewn>) -> Vec<(Grade, &str)> {
    staged.findings.iter().map(|finding| (finding.grade, finding.reason.as_str())).collect()
}

#[test]
fn an_empty_ledger_says_that_nothing_is_sewn() {
    let staged = sewn(&quilt(2, 2), &Ledger::default());
    assert_eq!(staged.findings, []);
    assert!(staged.result.is_nothing());
    assert_eq!(staged.result.groups, [vec![0], vec![1], vec![2], vec![3]]);
    assert!(staged.result.sections.iter().enumerate().all(|(number, section)| section.at == number));
}

#[test]
fn what_is_written_of_a_section_is_known_by_its_number() {
    let written = SewnSection {
        measured: Some(Measured::One(Length::new(12.375))),
        with: Some("Ada".to_owned()),
        at: Some("S4".to_owned()),
        ..section("S3", SewnState::Quilted)
    };
    let other = SewnSection { at: Some("S3".to_owned()), ..section("S4", SewnState::Cut) };
    let staged = sewn(&quilt(2, 2), &Ledger { sections: vec![written, other], ..Ledger::default() });
    assert_eq!(staged.findings, []);
    let third = &staged.result.sections[2];
    assert_eq!((third.state, third.at, third.with.as_deref()), (SewnState::Quilted, 3, Some("Ada")));
    assert_eq!(third.measured, Some(Measured::One(Length::new(12.375))));
    assert_eq!((staged.result.sections[3].at, staged.result.sections[0].state), (2, SewnState::Planned));
    assert!(!staged.result.is_nothing());
}

/// A ledger of a larger form of the quilt: what was sewn would be lost, what was only noted would not.
#[test]
fn sections_that_the_quilt_does_not_have_are_said() {
    let sections = vec![section("S9", SewnState::Quilted), section("S10", SewnState::Planned)];
    let staged = sewn(&quilt(2, 2), &Ledger { sections, joins: vec![join(&["S9"], &["S1"])], ..Ledger::default() });
    let said = said(&staged);
    assert_eq!(said.iter().map(|(grade, _)| *grade).collect::<Vec<_>>(), [Grade::Stop, Grade::Note, Grade::Stop]);
    assert!(said[0].1.contains("quilted according to the ledger") && said[0].1.contains("older form of the quilt"), "{said:?}");
    assert!(said[2].1.contains("this quilt does not have S9"), "{said:?}");
    assert_eq!(staged.result.unknown, ["S9", "S10"]);
    assert_eq!(staged.result.groups.len(), 4, "a join that cannot be is left out");
}

#[test]
fn joins_make_groups_and_their_sections_joined() {
    // Rows of three: S1 S2 S3 above S4 S5 S6. The last join names the rows by one section each.
    let joins = vec![join(&["S1"], &["S2"]), join(&["S1", "S2"], &["S3"]), join(&["S4"], &["S5"]), join(&["S2"], &["S4"])];
    let staged = sewn(&quilt(2, 3), &Ledger { joins, ..Ledger::default() });
    assert_eq!(staged.findings, []);
    assert_eq!(staged.result.groups, [vec![0, 1, 2, 3, 4], vec![5]]);
    assert_eq!(staged.result.joins.len(), 4);
    let joined = staged.result.sections.iter().filter(|section| section.state == SewnState::Joined).count();
    assert_eq!(joined, 5);
}

#[test]
fn joins_that_cannot_have_been_are_said_and_left_out() {
    for (joins, reason) in [
        (vec![join(&["S1"], &["S3"])], "they do not lie side by side"),
        (vec![join(&["S1", "S2"], &["S3"])], "no earlier join has made one of S1, S2"),
        (vec![join(&["S1"], &["S2"]), join(&["S2"], &["S1"])], "both sides hang together already"),
    ] {
        let before = joins.len() - 1;
        let staged = sewn(&quilt(2, 3), &Ledger { joins, ..Ledger::default() });
        let said = said(&staged);
        assert!(matches!(said[..], [(Grade::Stop, text)] if text.ends_with(reason)), "{said:?}");
        assert_eq!(staged.result.joins.len(), before);
    }
}

/// Blocks that touch only in a corner have no seam in common.
#[test]
fn corners_make_no_neighbours() {
    let top = crate::set::derive(&quilt(2, 2)).result;
    let touching: Vec<(usize, usize)> =
        (0..4).flat_map(|a| (a + 1..4).map(move |b| (a, b))).filter(|&(a, b)| touch(&top, a, b)).collect();
    assert_eq!(touching, [(0, 1), (0, 2), (1, 3), (2, 3)]);
}

/// A section that takes another's place is joined where it is, not where it was made for.
#[test]
fn joins_go_by_the_places_that_sections_take() {
    let moved = |name: &str, at: &str| SewnSection { at: Some(at.to_owned()), ..section(name, SewnState::Trimmed) };
    let sections = vec![moved("S1", "S2"), moved("S2", "S1")];
    let staged = sewn(&quilt(1, 3), &Ledger { sections, joins: vec![join(&["S1"], &["S3"])], ..Ledger::default() });
    assert_eq!(staged.findings, []);
    assert_eq!(staged.result.groups, [vec![0, 2], vec![1]]);
}

#[test]
fn two_sections_cannot_stand_in_one_place() {
    let sections = vec![SewnSection { at: Some("S2".to_owned()), ..section("S1", SewnState::Cut) }];
    let staged = sewn(&quilt(1, 3), &Ledger { sections, ..Ledger::default() });
    assert_eq!(said(&staged), [(Grade::Stop, "S1 and S2 are to stand in the one place of S2")]);
}

#[test]
fn a_section_joined_to_nothing_is_asked_about() {
    let staged = sewn(&quilt(1, 3), &Ledger { sections: vec![section("S1", SewnState::Joined)], ..Ledger::default() });
    assert_eq!(said(&staged), [(Grade::Warn, "it is said to be joined, and no join of the ledger names it")]);
}

/// 12 in finished is 12 1/2 in from raw edge to raw edge; an inch off can be framed anew or trimmed, more is a slip of the tape.
#[test]
fn a_size_far_from_the_planned_is_asked_about() {
    for (side, odd) in [(12.5, false), (13.5, false), (11.5, false), (13.625, true), (11.375, true)] {
        let sides = [12.5, side, 12.5, 12.5].map(Length::new);
        let written = SewnSection { measured: Some(Measured::Four(sides)), ..section("S1", SewnState::Quilted) };
        let staged = sewn(&quilt(1, 1), &Ledger { sections: vec![written], ..Ledger::default() });
        let said = said(&staged);
        assert_eq!(!said.is_empty(), odd, "{side}: {said:?}");
        assert!(
            said.iter().all(|(grade, text)| *grade == Grade::Warn && text.starts_with("its right side measures")),
            "{said:?}"
        );
    }
}
