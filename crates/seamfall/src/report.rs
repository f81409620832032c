//! The plan in plain words, for the terminal.

use seamfall_model::{Finding, Length, Quilt, SewnState, Working, shown_money};
use seamfall_plan::answer::Answer;
use seamfall_plan::caution::Caution;
use seamfall_plan::cut::sheets;
use seamfall_plan::turning::Turning;
use seamfall_plan::{Plan, words};
use std::fmt::Write;

/// Findings, one a line, the remedy below.
pub fn findings(findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        line(&mut text, format_args!("{:<5} {}: {}", finding.grade.word(), finding.spot, finding.reason));
        if let Some(help) = &finding.help {
            line(&mut text, format_args!("      help: {help}"));
        }
    }
    if findings.is_empty() {
        line(&mut text, format_args!("nothing to say against it"));
    }
    text
}

/// Sizes, sections, units and falls, cut list and what to buy.
pub fn plan(quilt: &Quilt, plan: &Plan) -> String {
    let mut text = String::new();
    let size = |x: f64| Length::new(x).shown(quilt.step);
    let unit = quilt.measure.sign();
    line(&mut text, format_args!("{}", quilt.name));
    line(&mut text, format_args!("  finished {} x {} {unit}", size(plan.top.size.x), size(plan.top.size.y)));
    for working in &plan.top.workings {
        line(&mut text, format_args!("  {}", working.line()));
    }
    fit(&mut text, plan);
    sewn(&mut text, plan);
    sewing(&mut text, plan);
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("What to buy"));
    for bought in &plan.cutting.bought {
        let price = bought.price.map_or_else(String::new, shown_money);
        line(
            &mut text,
            format_args!(
                "  {:<24} {:>14} {price:>9}  {}",
                bought.of.name(quilt),
                bought.shown(quilt),
                words::proof(quilt, bought)
            ),
        );
        if let Some(instead) = &bought.instead {
            line(&mut text, format_args!("  {:<24} {:>14} {:>9}  bought the other way: {instead}", "", "", ""));
        }
    }
    let thread = &plan.cutting.thread;
    let price = thread.price.map_or_else(String::new, shown_money);
    line(&mut text, format_args!("  {:<24} {:>14} {price:>9}", "Thread for piecing", words::thread(quilt, thread)));
    if let Some(total) = plan.cutting.price() {
        line(&mut text, format_args!("  {:<24} {:>14} {:>9}", "all that has a price", "", shown_money(total)));
    }
    line(&mut text, format_args!("  {}", words::holds(quilt)));
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("What to cut ({unit})"));
    let mut last = None;
    for piece in &plan.cutting.pieces {
        if last != Some(piece.of) {
            line(&mut text, format_args!("  {}", piece.of.name(quilt)));
            last = Some(piece.of);
        }
        let shown = |working: &Working| working.length().shown(quilt.step);
        let (width, length) = (shown(&piece.width), shown(&piece.length));
        line(
            &mut text,
            format_args!(
                "    {:>4} {:<27} {:>7} x {:<7} {}",
                piece.cut,
                words::way(&piece.way),
                width,
                length,
                words::uses(quilt, plan, &piece.uses)
            ),
        );
        if let Some(motif) = &piece.motif {
            line(&mut text, format_args!("         by the motif, one by one"));
            motif.workings().for_each(|working| line(&mut text, format_args!("         {}", working.line())));
        }
    }
    lap(&mut text, quilt, plan);
    finish(&mut text, plan);
    if !plan.findings.is_empty() {
        line(&mut text, format_args!(""));
        text.push_str(&findings(&plan.findings));
    }
    text
}

/// What is quilted in the lap, each kind of section once.
fn lap(text: &mut String, quilt: &Quilt, plan: &Plan) {
    if quilt.quilting.is_empty() {
        return;
    }
    let totals = &plan.lap.totals;
    line(text, format_args!(""));
    line(text, format_args!("What to quilt in the lap"));
    for (number, pattern) in plan.lap.patterns.iter().enumerate() {
        let names: Vec<&str> = plan.lap.sections_of(number).map(|section| plan.top.sections[section].name.as_str()).collect();
        line(text, format_args!("  {}: {}", names.join(", "), words::quilted(quilt, pattern)));
    }
    let after = if totals.after > 0.0 {
        format!(", then {} after the joins", words::hours(totals.hours_after.value))
    } else {
        String::new()
    };
    line(
        text,
        format_args!(
            "  in all {} starts (at least {}), {} needlefuls, {} of thread, {}{after}",
            totals.starts.0,
            totals.starts.1,
            totals.needlefuls,
            words::stretch(quilt, totals.thread),
            words::hours(totals.hours.value)
        ),
    );
}

/// How the edge is finished, figure by figure, and what to take care of.
fn finish(text: &mut String, plan: &Plan) {
    answers(text, "How it is finished", &plan.finish.answers, &plan.finish.cautions);
}

/// How it fits its bed, figure by figure, and what to take care of.
fn fit(text: &mut String, plan: &Plan) {
    if let Some(fit) = &plan.fit {
        answers(text, "How it fits the bed", &fit.answers, &fit.cautions);
    }
}

fn answers(text: &mut String, heading: &str, answers: &[Answer], cautions: &[Caution]) {
    if answers.is_empty() && cautions.is_empty() {
        return;
    }
    line(text, format_args!(""));
    line(text, format_args!("{heading}"));
    for answer in answers {
        line(text, format_args!("  {}", answer.question));
        for figure in &answer.figures {
            line(text, format_args!("    {}", figure.working.line()));
        }
        for note in &answer.notes {
            line(text, format_args!("    note: {note}"));
        }
    }
    for caution in cautions {
        line(text, format_args!("  take care: {} ({})", caution.words(), caution.source()));
    }
}

/// How every material is cut, line by line, and what is left over.
pub fn cutting(quilt: &Quilt, plan: &Plan) -> String {
    let mut text = String::new();
    for bought in &plan.cutting.bought {
        line(&mut text, format_args!("{}: {}", bought.of.name(quilt), bought.shown(quilt)));
        line(&mut text, format_args!("  {}", words::proof(quilt, bought)));
        for sheet in sheets(quilt, &plan.cutting, bought) {
            line(&mut text, format_args!("  {}", words::sheet(quilt, &sheet)));
            for cut in &sheet.lines {
                let number = format!("{}{}", "  ".repeat(cut.depth), cut.number);
                line(
                    &mut text,
                    format_args!("    {number:<14} {:>4} × {:>7}  {}", cut.times, cut.ruler.shown(quilt.step), cut.gives),
                );
            }
        }
        let offcuts = words::offcuts(quilt, bought);
        if !offcuts.is_empty() {
            line(&mut text, format_args!("  left over: {}", offcuts.join("; ")));
        }
        line(&mut text, format_args!(""));
    }
    text
}

/// How many sections are how far; nothing while nothing is sewn.
fn sewn(text: &mut String, plan: &Plan) {
    if plan.sewn.is_nothing() {
        return;
    }
    let count = |state: SewnState| plan.sewn.sections.iter().filter(|section| section.state == state).count();
    let states: Vec<String> = SewnState::ALL
        .into_iter()
        .rev()
        .filter(|state| count(*state) > 0)
        .map(|state| format!("{} {}", count(state), state.word()))
        .collect();
    line(text, format_args!("  sewn so far, of {} sections: {}", plan.sewn.sections.len(), states.join(", ")));
}

/// Units, stacks for each number of pressings, and what is thickest.
fn sewing(text: &mut String, plan: &Plan) {
    line(text, format_args!(""));
    line(text, format_args!("How it is sewn and pressed"));
    let whole = plan.units.all.iter().filter(|unit| unit.is_whole).count();
    line(text, format_args!("  {} units to make in batches, {whole} of them whole blocks", plan.units.all.len()));
    for (number, count) in plan.falls.counts.iter().enumerate() {
        let taken = if number == plan.falls.taken { ">" } else { " " };
        let stacks = match count.stacks {
            0 => "nothing stacks".to_owned(),
            1 => "1 meeting stacks".to_owned(),
            many => format!("{many} meetings stack"),
        };
        let proof = if count.is_proven() { "proven least" } else { "not proven least" };
        let pressings = words::pressings(count.pressings);
        line(text, format_args!("{taken} {pressings}: {stacks} (weight {}, at least {}; {proof})", count.weight, count.bound));
    }
    if let Some((layers, at)) = plan.falls.thickest {
        line(text, format_args!("  thickest: up to {layers} layers at {:.2}, {:.2} from the lower left corner", at.x, at.y));
    }
    for stack in &plan.falls.stacks {
        let layers = plan.falls.meetings[stack.meeting].layers;
        let ways = stack.ways_out.join("; or ");
        line(text, format_args!("  stack, {}: {layers} layers; {}; {ways}", stack.place, stack.reason));
    }
}

/// What turning blocks would do.
pub fn turning(plan: &Plan, turning: Option<&Turning>) -> String {
    let mut text = String::new();
    let Some(turning) = turning else {
        let none = if plan.falls.count().stacks == 0 {
            "nothing stacks, so nothing need be turned"
        } else {
            "no turn that was tried leaves fewer stacks"
        };
        line(&mut text, format_args!("\n{none}"));
        return text;
    };
    let look = if turning.keeps_look { "the quilt looks as it does now" } else { "the quilt looks different then" };
    line(&mut text, format_args!("\nTurning these leaves {} instead of {}; {look}:", turning.stacks, plan.falls.count().stacks));
    let names: Vec<String> =
        turning.places.iter().map(|(place, turns)| format!("{} by {turns}", plan.top.places[*place].name)).collect();
    line(&mut text, format_args!("  {} (quarter turns to the left)", names.join(", ")));
    text
}

fn line(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("writing to a string cannot fail");
}
