//! A plan that nobody wants any more ends without a result and changes no other. Laws of our own.

use seamfall_model::{Ledger, Quilt, read};
use seamfall_plan::{Effort, Memo, designed_while, plan_while, plan_with};
use std::cell::Cell;

/// Two blocks with seams, a frame, a band and quilting, so that every stage has something to do.
fn quilt() -> Quilt {
    let text = r##"
format = 1
name = "Stops"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.star]
starter = "ohio-star"
size = "9"
cloths = { light = "red", dark = "blue" }
[block.dash]
starter = "churn-dash"
size = "9"
cloths = { light = "blue", dark = "red" }
[frame.narrow]
corners = "mitred"
strips = [{ width = "1", cloth = "blue" }]
[setting]
layout = "straight"
rows = 2
columns = 3
pattern = [["star", "dash", "dash"]]
frame = "narrow"
[[band]]
width = "2"
cloth = "red"
corners = "butted"
[backing]
cloth = "blue"
[[quilting]]
on = "quilt"
design = "crossed"
spacing = "3"
"##;
    read(text).unwrap_or_else(|error| panic!("{error:?}"))
}

/// Plans with a yes to so many questions; the plan if there is one, and how often was asked.
fn asked(quilt: &Quilt, memo: &mut Memo, yes: usize) -> (Option<seamfall_plan::Plan>, usize) {
    let asked = Cell::new(0);
    let wanted = || {
        asked.set(asked.get() + 1);
        asked.get() <= yes
    };
    (plan_while(quilt, &Ledger::default(), Effort::FIRST, memo, &wanted), asked.get())
}

#[test]
fn wherever_a_plan_is_stopped_there_is_none_and_the_next_is_the_same() {
    let quilt = quilt();
    let whole = plan_with(&quilt, &Ledger::default(), Effort::FIRST);
    let (plan, all) = asked(&quilt, &mut Memo::default(), usize::MAX);
    assert!(plan.as_ref() == Some(&whole), "asking changes nothing");
    assert!(all > 30, "asked only {all} times");
    for yes in 0..all {
        let mut memo = Memo::default();
        let (none, asked_then) = asked(&quilt, &mut memo, yes);
        assert!(none.is_none(), "there is a plan after {yes} questions");
        assert!(asked_then <= yes + 20, "{} questions after the first no, which was to question {yes}", asked_then - yes);
        if yes % 40 == 0 {
            let (again, _) = asked(&quilt, &mut memo, usize::MAX);
            assert!(again.as_ref() == Some(&whole), "what was learnt until then is true");
        }
    }
}

#[test]
fn what_a_quilt_is_made_of_is_that_of_its_plan() {
    let quilt = quilt();
    let plan = plan_with(&quilt, &Ledger::default(), Effort::EDIT);
    let designed = designed_while(&quilt, &mut Memo::default(), &|| true).expect("it is wanted");
    assert_eq!((designed.drafts, designed.top, designed.lap), (plan.drafts, plan.top, plan.lap));
    assert_eq!(designed_while(&quilt, &mut Memo::default(), &|| false), None);
}
