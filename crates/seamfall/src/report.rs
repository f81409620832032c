//! The plan in plain words, for the terminal.

use seamfall_model::{Finding, Length, Quilt, SewnState, Working, shown_money};
use seamfall_plan::answer::Answer;
use seamfall_plan::caution::Caution;
use seamfall_plan::cut::sheets;
use seamfall_plan::turning::Turning;
use seamfall_plan::{Plan, words};
use std::fmt::Write;
use tr::tr;

/// Findings, one a line, the remedy below.
pub fn findings(findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        line(&mut text, format_args!("{:<5} {}: {}", finding.grade.said(), finding.spot, finding.reason));
        if let Some(help) = &finding.help {
            line(&mut text, format_args!("      {}", tr!("help: {help}", help)));
        }
    }
    if findings.is_empty() {
        line(&mut text, format_args!("{}", tr!("nothing to say against it")));
    }
    text
}

/// Sizes, sections, units and falls, cut list and what to buy.
pub fn plan(quilt: &Quilt, plan: &Plan) -> String {
    let mut text = String::new();
    let size = |x: f64| Length::new(x).shown(quilt.step);
    let unit = quilt.measure.sign();
    line(&mut text, format_args!("{}", quilt.name));
    line(
        &mut text,
        format_args!(
            "  {}",
            tr!("finished {width} x {height} {unit}", width = size(plan.top.size.x), height = size(plan.top.size.y), unit)
        ),
    );
    for working in &plan.top.workings {
        line(&mut text, format_args!("  {}", working.line()));
    }
    fit(&mut text, plan);
    sewn(&mut text, plan);
    sewing(&mut text, plan);
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("{}", tr!("What to buy")));
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
            line(
                &mut text,
                format_args!("  {:<24} {:>14} {:>9}  {}", "", "", "", tr!("bought the other way: {instead}", instead)),
            );
        }
    }
    let thread = &plan.cutting.thread;
    let price = thread.price.map_or_else(String::new, shown_money);
    line(&mut text, format_args!("  {:<24} {:>14} {price:>9}", tr!("Thread for piecing"), words::thread(quilt, thread)));
    if let Some(total) = plan.cutting.price() {
        line(&mut text, format_args!("  {:<24} {:>14} {:>9}", tr!("all that has a price"), "", shown_money(total)));
    }
    line(&mut text, format_args!("  {}", words::holds(quilt)));
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("{}", tr!("What to cut ({unit})", unit)));
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
            line(&mut text, format_args!("         {}", tr!("by the motif, one by one")));
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
    line(text, format_args!("{}", tr!("What to quilt in the lap")));
    for (number, pattern) in plan.lap.patterns.iter().enumerate() {
        let names: Vec<&str> = plan.lap.sections_of(number).map(|section| plan.top.sections[section].name.as_str()).collect();
        line(text, format_args!("  {}: {}", names.join(", "), words::quilted(quilt, pattern)));
    }
    let (starts, bound) = totals.starts;
    let all = tr!(
        "in all {starts} starts (at least {bound}), {needlefuls} needlefuls, {thread} of thread, {hours}",
        starts,
        bound,
        needlefuls = totals.needlefuls,
        thread = words::stretch(quilt, totals.thread),
        hours = words::hours(totals.hours.value)
    );
    let all = if totals.after > 0.0 {
        tr!("{all}, then {hours} after the joins", all, hours = words::hours(totals.hours_after.value))
    } else {
        all
    };
    line(text, format_args!("  {all}"));
}

/// How the edge is finished, figure by figure, and what to take care of.
fn finish(text: &mut String, plan: &Plan) {
    answers(text, &tr!("How it is finished"), &plan.finish.answers, &plan.finish.cautions);
}

/// How it fits its bed, figure by figure, and what to take care of.
fn fit(text: &mut String, plan: &Plan) {
    if let Some(fit) = &plan.fit {
        answers(text, &tr!("How it fits the bed"), &fit.answers, &fit.cautions);
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
            line(text, format_args!("    {}", tr!("note: {note}", note)));
        }
    }
    for caution in cautions {
        line(
            text,
            format_args!("  {}", tr!("take care: {words} ({source})", words = caution.words(), source = caution.source())),
        );
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
            line(&mut text, format_args!("  {}", tr!("left over: {offcuts}", offcuts = offcuts.join("; "))));
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
        .map(|state| format!("{} {}", count(state), state.said()))
        .collect();
    line(
        text,
        format_args!(
            "  {}",
            tr!("sewn so far, of {sections} sections: {states}", sections = plan.sewn.sections.len(), states = states.join(", "))
        ),
    );
}

/// Units, stacks for each number of pressings, and what is thickest.
fn sewing(text: &mut String, plan: &Plan) {
    line(text, format_args!(""));
    line(text, format_args!("{}", tr!("How it is sewn and pressed")));
    let whole = plan.units.all.iter().filter(|unit| unit.is_whole).count();
    line(
        text,
        format_args!(
            "  {}",
            tr!("{units} units to make in batches, {whole} of them whole blocks", units = plan.units.all.len(), whole)
        ),
    );
    for (number, count) in plan.falls.counts.iter().enumerate() {
        let taken = if number == plan.falls.taken { ">" } else { " " };
        let stacks = match count.stacks {
            0 => tr!("nothing stacks"),
            some => tr!("1 meeting stacks" | "{n} meetings stack" % some),
        };
        let proof = if count.is_proven() { tr!("proven least") } else { tr!("not proven least") };
        let pressings = words::pressings(count.pressings);
        line(
            text,
            format_args!(
                "{taken} {}",
                tr!(
                    "{pressings}: {stacks} (weight {weight}, at least {bound}; {proof})",
                    pressings,
                    stacks,
                    weight = count.weight,
                    bound = count.bound,
                    proof
                )
            ),
        );
    }
    if let Some((layers, at)) = plan.falls.thickest {
        line(
            text,
            format_args!(
                "  {}",
                tr!(
                    "thickest: up to {layers} layers at {x}, {y} from the lower left corner",
                    layers,
                    x = format_args!("{:.2}", at.x),
                    y = format_args!("{:.2}", at.y)
                )
            ),
        );
    }
    for stack in &plan.falls.stacks {
        let layers = plan.falls.meetings[stack.meeting].layers;
        let ways = stack.ways_out.iter().cloned().reduce(|all, one| tr!("{all}; or {one}", all, one)).unwrap_or_default();
        line(
            text,
            format_args!(
                "  {}",
                tr!(
                    "stack, {place}: {layers} layers; {reason}; {ways}",
                    place = stack.place,
                    layers,
                    reason = stack.reason,
                    ways
                )
            ),
        );
    }
}

/// What turning blocks would do.
pub fn turning(plan: &Plan, turning: Option<&Turning>) -> String {
    let mut text = String::new();
    let Some(turning) = turning else {
        let none = if plan.falls.count().stacks == 0 {
            tr!("nothing stacks, so nothing need be turned")
        } else {
            tr!("no turn that was tried leaves fewer stacks")
        };
        line(&mut text, format_args!("\n{none}"));
        return text;
    };
    let look = if turning.keeps_look { tr!("the quilt looks as it does now") } else { tr!("the quilt looks different then") };
    line(
        &mut text,
        format_args!(
            "\n{}",
            tr!(
                "Turning these leaves {stacks} instead of {now}; {look}:",
                stacks = turning.stacks,
                now = plan.falls.count().stacks,
                look
            )
        ),
    );
    let names: Vec<String> = turning
        .places
        .iter()
        .map(|(place, turns)| tr!("{place} by {turns}", place = plan.top.places[*place].name, turns))
        .collect();
    line(&mut text, format_args!("  {}", tr!("{names} (quarter turns to the left)", names = names.join(", "))));
    text
}

fn line(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("writing to a string cannot fail");
}
