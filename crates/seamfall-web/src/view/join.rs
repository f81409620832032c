//! In which order sections are joined, how a join is made, and its steps, to be ticked off.

use super::answers;
use super::fields::{self, json, number, remove, set, set_to};
use super::words;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::{cross_section_svg, join_map_svg};
use seamfall_model::{Edit, JoinOrder, LedgerEdit, Quilt, Scalar, Working};
use seamfall_plan::Plan;
use seamfall_plan::caution::{MACHINE, NEEDLES};
use seamfall_plan::join::{Order, instructions, order_name, part_name};
use std::hash::{DefaultHasher, Hash, Hasher};
use tr::tr;

/// So many steps are listed at once; the others follow as these are done, and the book has all of them.
const LISTED: usize = 12;

/// Everything about joining.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let joins = &plan.join;
    let done = joins.steps.iter().filter(|step| step.join.sewn).count();
    html! {
        h2 { (tr!("In which order to join")) }
        @if joins.orders.is_empty() { p { (tr!("There is nothing to join, or no order joins it; see the findings.")) } } @else {
            p { (joins.reason) }
            (orders(quilt, plan))
            (lengths(quilt, plan))
        }
        h2 { (tr!("How a join is made")) }
        div.cross-section { (PreEscaped(cross_section_svg(quilt, &plan.join.manner.section))) }
        (manner(quilt, plan))
        h2 { (tr!("Step by step")) }
        @if !joins.steps.is_empty() {
            p { b { (tr!("{done} of {joins}", done, joins = tr!("1 join" | "{n} joins" % joins.steps.len()))) } " " (tr!("sewn.")) " " a data-for="tick" href={ (base) "sewing#joins" } { (tr!("To tick off at the machine")) } }
            (answers::cautions(&[NEEDLES, MACHINE]))
            div.join-map { (PreEscaped(join_map_svg(quilt, plan))) }
            (steps(base, quilt, plan, "note"))
        }
    }
}

/// The orders beside one another.
fn orders(quilt: &Quilt, plan: &Plan) -> Markup {
    let joins = &plan.join;
    let path = ["join", "order"];
    let row = |at: usize, order: &Order| {
        let id = format!("join-order-{}", order.kind.word());
        let recommended = at == joins.recommended;
        html! {
            tr.taken[at == joins.taken] {
                td { label.switch for=(id) {
                    input id=(id) type="radio" name="join-order" data-edit=(set_to(&path, order.kind.word())) checked[quilt.joining.order == Some(order.kind)];
                    span { (order_name(order.kind)) @if recommended { " " span.quiet { (tr!("recommended")) } } }
                } }
                td.amount { (order.joins.len()) @if let Some([within, between]) = order.within_and_between { br; span.quiet.nowrap { (within) " + " (between) } } }
                td.amount { (words::length(quilt, order.longest.value)) @if order.stacks > 0 { br; span.quiet.nowrap { (tr!("1 stack" | "{n} stacks" % order.stacks)) } } }
                td.amount { (weight(order.mean_weight.value)) br; span.quiet.nowrap { (words::hours(order.hours.value)) } }
            }
        }
    };
    html! {
        fieldset.pressings {
            legend { (tr!("Orders")) }
            table #join-orders {
                thead { tr { th scope="col" { (tr!("First")) } th.amount scope="col" { (tr!("Joins")) } th.amount scope="col" { (tr!("Longest")) } th.amount scope="col" { (tr!("Weight, time")) } } }
                tbody {
                    tr { td colspan="4" { label.switch for="join-order-free" {
                        input #join-order-free type="radio" name="join-order" data-edit=(remove(&path)) checked[quilt.joining.order.is_none()];
                        span { (tr!("the plan chooses")) @if quilt.joining.order.is_none() { @if let Some(order) = joins.order() { ": " (order_name(order.kind)) } } }
                    } } }
                    @for (at, order) in joins.orders.iter().enumerate() { (row(at, order)) }
                }
            }
        }
        @for (kind, reason) in &joins.left_out { p.quiet { (tr!("{order} cannot be had: {reason}.", order = words::capital(&order_name(*kind)), reason)) } }
        @if let Some(order) = joins.order() {
            p.quiet { (tr!("Weight is that of all that lies at the machine, in the mean over the length sewn.")) " "
                @if order.is_best() { (tr!("No order keeps it lower; that is proven.")) }
                @else if let Some(best) = joins.orders.iter().find(|order| order.kind == JoinOrder::Best) {
                    @if best.is_best() { (tr!("The lightest order is proven.")) } @else { (tr!("No order is known to be lighter than the lightest here.")) }
                }
            }
        }
    }
}

fn weight(grams: f64) -> String {
    if grams < 1000.0 { format!("{grams:.0} g") } else { tr!("{grams} kg", grams = format!("{:.1}", grams / 1000.0)) }
}

/// Lengths, weights and hours of the order that is taken.
fn lengths(quilt: &Quilt, plan: &Plan) -> Markup {
    let Some(order) = plan.join.order() else { return html! {} };
    let line = |id: &str, what: &str, amount: String, working: &Working| {
        fields::worked(id, &html! { span.what { (what) } b.amount { (amount) } }, &[working])
    };
    let feet = |working: &Working| words::stretch(quilt, working.value);
    html! {
        ul.numbers {
            li { (line("how-join-heaviest", &tr!("The whole quilt weighs, in the last join"), weight(order.heaviest.value), &order.heaviest)) }
            li { (line("how-join-mean", &tr!("Weight at the machine, in the mean"), weight(order.mean_weight.value), &order.mean_weight)) }
            li { (line("how-join-machine", &tr!("At the machine, still to be sewn"), feet(&order.machine), &order.machine)) }
            li { (line("how-join-hand", &tr!("By hand, still to be sewn"), feet(&order.hand), &order.hand)) }
            li { (line("how-join-hours", &tr!("Time, still to come"), words::hours(order.hours.value), &order.hours)) }
        }
    }
}

fn manner(quilt: &Quilt, plan: &Plan) -> Markup {
    let joining = &quilt.joining;
    let section = &plan.join.manner.section;
    let path = ["join", "catch-batting"];
    let caught =
        |value: bool| json(&Edit::Set { path: path.iter().map(|&word| word.to_owned()).collect(), value: Scalar::Bool(value) });
    let choices = [
        (tr!("wherever it is thin enough"), remove(&path), joining.catch_batting.is_none()),
        (tr!("yes, of one side"), caught(true), joining.catch_batting == Some(true)),
        (tr!("no, cut both back"), caught(false), joining.catch_batting == Some(false)),
    ];
    let plain =
        |key: &'static str, label: &str, value: String| number(&format!("join-{key}"), label, &value, &["join", key], "any");
    html! {
        p {
            @if section.too_thick { (tr!("The batting is too thick to be caught: both sides are cut back and butt over the seam.")) }
            @else if section.caught { (tr!("The batting of one side is caught in the seam; the other is cut back so that the two butt.")) }
            @else { (tr!("No batting is caught: both sides are cut back and butt over the seam.")) }
        }
        details.card #join-manner {
            summary { b { (tr!("How you join")) } " " span.quiet { (tr!("batting, weights, pace")) } }
            div.fields {
                (fields::choice("join-catch", &tr!("Catch the batting in the seam"), &choices))
                (fields::text("join-batting", &tr!("Thickness of the batting"), &words::typed(quilt, joining.batting_thickness), &set(&["join", "batting-thickness"])))
                (fields::text("join-pins", &tr!("From pin to pin"), &words::typed(quilt, joining.pin_spacing), &set(&["join", "pin-spacing"])))
                (plain("batting-weight", &tr!("Batting, grams a square metre"), joining.batting_weight.to_string()))
                (plain("cloth-weight", &tr!("Cloth, grams a square metre"), joining.cloth_weight.to_string()))
                (plain("machine-minutes-a-foot", &tr!("Machine, minutes a foot"), joining.machine_minutes_a_foot.to_string()))
                (plain("hand-minutes-a-foot", &tr!("By hand, minutes a foot"), joining.hand_minutes_a_foot.map_or(String::new(), |minutes| minutes.to_string())))
                (plain("minutes-a-join", &tr!("Handling, minutes a join"), joining.minutes_a_join.to_string()))
            }
        }
    }
}

/// The steps: what can be sewn next first of all open ones, then the others, then those that are done. A tick carries its edit in `data-HOW`.
pub fn steps(base: &str, quilt: &Quilt, plan: &Plan, how: &str) -> Markup {
    let joins = &plan.join;
    let ready = |at: usize| joins.is_ready(&joins.steps[at]);
    let open: Vec<usize> = (0..joins.steps.len()).filter(|&at| !joins.steps[at].join.sewn).collect();
    let first = open.iter().copied().find(|&at| ready(at));
    html! {
        @for &at in open.iter().take(LISTED) { (step(base, quilt, plan, at, ready(at), first == Some(at), how)) }
        @if open.len() > LISTED { p.quiet { (tr!("And {more} more, which follow as these are done.", more = open.len() - LISTED)) } }
        @let done: Vec<usize> = (0..joins.steps.len()).filter(|&at| joins.steps[at].join.sewn).collect();
        @if !done.is_empty() {
            details.card #joins-done {
                summary { b { (tr!("Sewn")) } " " span.quiet { (tr!("1 join" | "{n} joins" % done.len())) } }
                ul.plain { @for at in done { li { (at + 1) ". " (names(plan, at).join(" to ")) " "
                    button type="button" id={ "unjoin-" (at + 1) } data-note=[(how == "note").then(|| unjoin(plan, at))] data-tick=[(how == "tick").then(|| unjoin(plan, at))] { (tr!("↶ not sewn")) }
                } } }
            }
        }
    }
}

fn names(plan: &Plan, at: usize) -> [String; 2] {
    plan.join.steps[at].join.parts.map(|part| part_name(&plan.top, &plan.join.sections(part)))
}

fn between(plan: &Plan, at: usize) -> [Vec<String>; 2] {
    plan.join.steps[at]
        .join
        .parts
        .map(|part| plan.join.sections(part).into_iter().map(|section| plan.top.sections[section].name.clone()).collect())
}

fn unjoin(plan: &Plan, at: usize) -> String {
    json(&LedgerEdit::Unjoin { between: between(plan, at) })
}

/// What the drawing of a join depends on, for its address: it is made anew when that changes.
fn look(plan: &Plan, at: usize) -> String {
    let mut hasher = DefaultHasher::new();
    let step = &plan.join.steps[at];
    (format!("{:?}", (step, &plan.join.manner)), plan.sewn.groups.len()).hash(&mut hasher);
    format!("{:x}", hasher.finish())
}

fn step(base: &str, quilt: &Quilt, plan: &Plan, at: usize, ready: bool, open: bool, how: &str) -> Markup {
    let step = &plan.join.steps[at];
    let [left, right] = names(plan, at);
    let edit = json(&LedgerEdit::Join { between: between(plan, at), date: Some("$today".to_owned()) });
    html! {
        details.card.join #{ "join-" (at + 1) } open[open] {
            summary { b { (tr!("{at}. {left} to {right}", at = at + 1, left, right)) } " " span.quiet { (words::length(quilt, step.join.length())) " " (quilt.measure.sign()) @if !ready { ", " (tr!("after earlier joins")) } } }
            img.step src={ (base) "join/" (at + 1) ".svg?" (look(plan, at)) } alt=(tr!("Join {at}: {left} to {right}", at = at + 1, left, right)) loading="lazy";
            ol.doing { @for sentence in instructions(quilt, &plan.top, &plan.join, at) { li { (sentence) } } }
            @if ready {
                p { button.tick type="button" id={ "sewn-join-" (at + 1) } data-note=[(how == "note").then_some(&edit)] data-tick=[(how == "tick").then_some(&edit)] { (tr!("✓ sewn")) } }
            }
        }
    }
}
