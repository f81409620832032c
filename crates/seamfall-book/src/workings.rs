//! How the numbers came about: every working of the plan once, under its rule.

use seamfall_model::{Quilt, Rule, Working};
use seamfall_plan::Plan;
use seamfall_plan::cut::Laid;
use serde::Serialize;
use std::collections::BTreeMap;
use tr::tr;

/// A rule, and what followed from it.
#[derive(Debug, Serialize)]
pub struct Rules {
    pub sentence: String,
    pub source: String,
    pub lines: Vec<Line>,
}

/// A working and what it is for.
#[derive(Debug, Serialize)]
pub struct Line {
    /// Names of pieces and cloths, in the order of the plan.
    pub of: String,
    pub working: String,
}

/// Everything that was worked out in `plan`; `cloth` names a cloth by its number.
pub fn workings(quilt: &Quilt, plan: &Plan) -> Vec<Rules> {
    let mut rules: BTreeMap<Rule, Vec<(String, Vec<String>)>> = BTreeMap::new();
    let mut add = |of: &str, working: &Working| {
        let lines = rules.entry(working.rule).or_default();
        let line = working.line();
        let names = match lines.iter_mut().find(|(known, _)| *known == line) {
            Some((_, names)) => names,
            None => {
                lines.push((line, Vec::new()));
                &mut lines.last_mut().expect("one was added").1
            }
        };
        if !names.iter().any(|name| name == of) {
            names.push(of.to_owned());
        }
    };
    for working in &plan.top.workings {
        add(&tr!("top"), working);
    }
    for piece in &plan.cutting.pieces {
        add(&piece.name, &piece.width);
        add(&piece.name, &piece.length);
        piece.joined.iter().for_each(|joined| add(&piece.name, joined));
    }
    for bought in &plan.cutting.bought {
        if let Some(Laid::OffTheBolt(laid)) = &bought.laid {
            [&laid.needed, &laid.length, &laid.least].into_iter().for_each(|working| add(&bought.of.name(quilt), working));
        }
    }
    if plan.lap.totals.needlefuls > 0 {
        [&plan.lap.thread_rate, &plan.lap.totals.hours, &plan.lap.totals.hours_after]
            .into_iter()
            .for_each(|working| add(&tr!("quilting"), working));
    }
    for answer in &plan.finish.answers {
        answer.figures.iter().for_each(|figure| add(&tr!("edge"), &figure.working));
    }
    plan.cutting.thread.workings().for_each(|working| add(&tr!("thread"), working));
    rules
        .into_iter()
        .map(|(rule, lines)| Rules {
            sentence: rule.sentence(),
            source: rule.source(),
            lines: lines.into_iter().map(|(working, names)| Line { of: names.join(", "), working }).collect(),
        })
        .collect()
}
