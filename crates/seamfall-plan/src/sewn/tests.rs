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

mod changes {
    use super::super::{Change, wasted};
    use super::*;
    use crate::{Designed, Effort, Plan, plan, plan_with};
    use seamfall_model::{LedgerEdit, apply, apply_ledger, read_ledger, write_ledger};

    /// Two rows of three framed blocks, a section each: a star, then plain ones.
    const TEXT: &str = r##"
format = 1
name = "Test"
measure = "inch"
largest-section = "16"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.star]
shape = "square"
size = "12"
grid = 2
seams = [[0, 0, 2, 2]]
patches = { red = [[0.5, 1.5]], blue = [[1.5, 0.5]] }
[block.plain]
shape = "square"
size = "12"
patches = { red = [[1, 1]] }
[frame.narrow]
corners = "mitred"
strips = [{ width = "1", cloth = "blue" }]
[setting]
layout = "straight"
rows = 2
columns = 3
pattern = [["star", "plain", "plain"], ["plain", "plain", "plain"]]
frame = "narrow"
[[quilting]]
on = "plain"
design = "parallel"
spacing = "2"
"##;

    fn designed(plan: &Plan) -> Designed {
        Designed { drafts: plan.drafts.clone(), top: plan.top.clone(), lap: plan.lap.clone() }
    }

    fn every(state: SewnState) -> Ledger {
        Ledger { sections: (1..=6).map(|number| section(&format!("S{number}"), state)).collect(), ..Ledger::default() }
    }

    fn worked(text: &str, ledger: &Ledger) -> (Quilt, Plan) {
        let quilt = read(text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        let plan = plan_with(&quilt, ledger, Effort::FIRST);
        (quilt, plan)
    }

    /// What becomes of `ledger` when the text of the quilt changes.
    fn change(ledger: &Ledger, after: &str) -> Change {
        let (quilt, before) = worked(TEXT, ledger);
        let (changed, after) = worked(after, &Ledger::default());
        wasted((&quilt, &before), (&changed, &designed(&after)))
    }

    fn reasons(change: &Change) -> Vec<String> {
        change.wasted.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn no_change_wastes_nothing_and_renames_nothing() {
        let change = change(&every(SewnState::Joined), TEXT);
        assert_eq!(change, Change::default());
        let quilt = read(TEXT).expect("it reads");
        assert_eq!(change.edit(&quilt, &quilt), None);
    }

    #[test]
    fn what_is_only_planned_is_never_wasted() {
        let wider = TEXT.replace("width = \"1\"", "width = \"1 1/2\"");
        assert_eq!(change(&every(SewnState::Planned), &wider), Change::default());
    }

    #[test]
    fn a_wider_frame_wastes_what_is_cut_for_the_narrow_one() {
        let ledger =
            Ledger { sections: vec![section("S3", SewnState::Quilted), section("S5", SewnState::Cut)], ..Ledger::default() };
        for (width, said) in [("1 1/2", "wider"), ("1/2", "narrower")] {
            let change = change(&ledger, &TEXT.replace("width = \"1\"", &format!("width = \"{width}\"")));
            assert_eq!(
                reasons(&change),
                [format!("S3, quilted: its frame is {said} now"), format!("S5, cut: its frame is {said} now")]
            );
            assert_eq!((change.dropped, change.renamed.len()), (names(&["S3", "S5"]), 0));
        }
    }

    fn names(names: &[&str]) -> Vec<String> {
        names.iter().map(|&name| name.to_owned()).collect()
    }

    /// Every kind of change, which sections it wastes at which state, and why.
    #[test]
    fn each_change_wastes_what_it_must_and_no_more() {
        use SewnState::{Cut, Framed, Layered, Pieced, Quilted, Trimmed};
        let edit = |edits: &[Edit]| edits.iter().fold(TEXT.to_owned(), |text, edit| apply(&text, edit).expect("it can be made"));
        let turn = [Edit::Turn { row: 0, number: 0, times: 1 }];
        let band = [Edit::AddBand { width: "1".to_owned(), cloth: "red".to_owned() }];
        let paint = [Edit::Paint { block: "star".to_owned(), part: "blue".to_owned(), cloth: "red".to_owned() }];
        let mirror = [Edit::Mirror { row: 0, number: 0 }];
        let smaller = [Edit::Resize { rows: 1, columns: 3 }];
        let closer = TEXT.replace("spacing = \"2\"", "spacing = \"3\"");
        let backed = format!("{TEXT}\n[backing]\ncloth = \"red\"\n");
        let allowance = TEXT.replace("measure = \"inch\"", "measure = \"inch\"\nseam = \"3/8\"");
        let frame = TEXT.replace("cloth = \"blue\" }]", "cloth = \"red\" }]");
        let all = ["S1", "S2", "S3", "S4", "S5", "S6"];
        let plain = &all[1..];
        let lower = &all[3..];
        for (state, after, sections, why) in [
            (Pieced, edit(&turn), &all[..0], ""),
            (Framed, edit(&turn), &all[..1], "its block is turned now"),
            (Cut, edit(&mirror), &all[..1], "its block is mirrored now"),
            (Cut, edit(&paint), &all[..1], "its block is of other cloths now"),
            (Framed, edit(&band), &all[..0], ""),
            (Layered, edit(&band), &all[..], "band is to be sewn to it now"),
            (Trimmed, edit(&smaller), lower, "its place is gone"),
            (Layered, closer.clone(), &all[..0], ""),
            (Quilted, closer, plain, "its quilting is another now"),
            (Framed, backed.clone(), &all[..0], ""),
            (Layered, backed, &all[..], "its backing is of another cloth now"),
            (Cut, allowance, &all[..], "the seam allowance is another now"),
            (Cut, frame, &all[..], "its frame is of another cloth now"),
        ] {
            let change = change(&every(state), &after);
            let wanted: Vec<String> = sections.iter().map(|name| format!("{name}, {}: {why}", state.word())).collect();
            assert_eq!(reasons(&change), wanted, "{state:?} {why}");
        }
    }

    use seamfall_model::Edit;

    /// Two places exchanged: the sections go with their blocks, unless one of them hangs in a join.
    #[test]
    fn exchanged_sections_take_their_names_along() {
        let edit = Edit::Exchange { row: 0, number: 0, with_row: 1, with_number: 1 };
        let after = apply(TEXT, &edit).expect("it can be made");
        let ledger = Ledger { sections: vec![section("S1", SewnState::Quilted)], ..Ledger::default() };
        let moved = change(&ledger, &after);
        assert_eq!(reasons(&moved), Vec::<String>::new());
        assert_eq!(moved.renamed, [("S1", "S5"), ("S5", "S1")].map(|(a, b)| (a.to_owned(), b.to_owned())).into());
        let joined = Ledger { joins: vec![join(&["S1"], &["S2"])], ..ledger };
        assert_eq!(reasons(&change(&joined, &after)), ["S1, joined: another block is there now"]);
    }

    /// A wide band is sections of its own, which come first, from the top down: the blocks' sections get new numbers and nothing is wasted.
    #[test]
    fn sections_that_are_only_renumbered_are_kept_under_their_new_names() {
        let after = apply(TEXT, &Edit::AddBand { width: "10".to_owned(), cloth: "red".to_owned() }).expect("it can be made");
        let ledger = Ledger { joins: vec![join(&["S1"], &["S2"])], ..every(SewnState::Quilted) };
        let (quilt, before) = worked(TEXT, &ledger);
        let (changed, plan) = worked(&after, &Ledger::default());
        let change = wasted((&quilt, &before), (&changed, &designed(&plan)));
        assert_eq!(change.wasted, []);
        assert!(change.renamed.len() >= 5, "{change:?}");
        for (old, new) in &change.renamed {
            let place = |plan: &Plan, name: &str| {
                let section = plan.top.sections.iter().find(|section| section.name == *name).expect("it is there");
                plan.top.places[section.places[0]].name.clone()
            };
            assert_eq!(place(&before, old), place(&plan, new));
        }
        // The ledger follows, and says of the new plan what it said of the old.
        let text = write_ledger(&ledger, &quilt);
        let text = apply_ledger(&text, &quilt, &change.edit(&quilt, &changed).expect("names change")).expect("it can be made");
        let followed = read_ledger(&text, &changed).expect("it reads");
        let plan = plan_with(&changed, &followed, Effort::FIRST);
        assert_eq!(plan.sewn.unknown, Vec::<String>::new());
        assert_eq!(plan.sewn.joins.len(), 1);
        let sewn = plan.sewn.sections.iter().filter(|section| section.state >= SewnState::Quilted).count();
        assert_eq!(sewn, 6);
        // And taken away again, all is as it was.
        let back = wasted((&changed, &plan), (&quilt, &designed(&before)));
        assert_eq!(back.wasted, []);
        let back = apply_ledger(&text, &changed, &back.edit(&changed, &quilt).expect("names change")).expect("it can be made");
        assert_eq!(read_ledger(&back, &quilt).expect("it reads"), ledger);
    }

    /// Whatever is sewn and however the design is changed: what is not wasted is there afterwards, once, under a name of its own.
    #[test]
    fn nothing_sewn_is_lost_without_a_word() {
        let edits = [
            Edit::Exchange { row: 0, number: 0, with_row: 1, with_number: 2 },
            Edit::Resize { rows: 2, columns: 2 },
            Edit::Resize { rows: 3, columns: 3 },
            Edit::Turn { row: 1, number: 1, times: 2 },
            Edit::AddBand { width: "10".to_owned(), cloth: "red".to_owned() },
            Edit::AddSashing { width: "2".to_owned(), cloth: "blue".to_owned() },
            Edit::Put { row: 0, number: 0, block: "plain".to_owned() },
            Edit::Put { row: 1, number: 0, block: "star".to_owned() },
        ];
        for (number, edit) in edits.iter().enumerate() {
            for sewn in 0..12_usize {
                let state = SewnState::ALL[(sewn * 5 + number) % 7];
                let sections: Vec<SewnSection> = (0..6)
                    .filter(|i| (sewn * 7 + i * i * 3 + number) % 3 > 0)
                    .map(|i| section(&format!("S{}", i + 1), state))
                    .collect();
                let ledger = Ledger { sections, ..Ledger::default() };
                let (quilt, before) = worked(TEXT, &ledger);
                let (changed, _) = worked(&apply(TEXT, edit).expect("it can be made"), &Ledger::default());
                let change = wasted((&quilt, &before), (&changed, &designed(&plan(&changed))));
                let text = write_ledger(&ledger, &quilt);
                let followed = change.edit(&quilt, &changed).map_or(Ok(text.clone()), |edit| apply_ledger(&text, &quilt, &edit));
                let followed = read_ledger(&followed.expect("it can follow"), &changed).expect("it reads");
                let count = |ledger: &Ledger| ledger.sections.iter().filter(|section| section.state >= SewnState::Cut).count();
                assert_eq!(count(&followed) + change.wasted.len(), count(&ledger), "{edit:?}: {change:?}");
                assert_eq!(
                    derive(&changed, &followed, &crate::set::derive(&changed).result).result.unknown,
                    Vec::<String>::new()
                );
            }
        }
    }

    #[test]
    fn a_new_name_of_the_quilt_goes_into_the_ledger() {
        let (quilt, before) = worked(TEXT, &every(SewnState::Cut));
        let renamed = read(&TEXT.replace("name = \"Test\"", "name = \"Gift\"")).expect("it reads");
        let change = wasted((&quilt, &before), (&renamed, &designed(&plan(&renamed))));
        let edit = LedgerEdit::Rename { quilt: Some("Gift".to_owned()), sections: BTreeMap::new(), dropped: Vec::new() };
        assert_eq!(change.edit(&quilt, &renamed), Some(edit));
    }
}
