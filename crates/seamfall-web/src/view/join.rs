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

/// So many steps are listed at once; the others follow as these are done, and the book has all of them.
const LISTED: usize = 12;

/// Everything about joining.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let joins = &plan.join;
    let done = joins.steps.iter().filter(|step| step.join.sewn).count();
    html! {
        h2 { "In which order to join" }
        @if joins.orders.is_empty() { p { "There is nothing to join, or no order joins it; see the findings." } } @else {
            p { (joins.reason) }
            (orders(quilt, plan))
            (lengths(quilt, plan))
        }
        h2 { "How a join is made" }
        div.cross-section { (PreEscaped(cross_section_svg(quilt, &plan.join.manner.section))) }
        (manner(quilt, plan))
        h2 { "Step by step" }
        @if !joins.steps.is_empty() {
            p { b { (done) " of " (words::count(joins.steps.len(), "join", "joins")) } " sewn. " a href={ (base) "sewing#joins" } { "To tick off at the machine" } }
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
                    span { (order_name(order.kind)) @if recommended { " " span.quiet { "recommended" } } }
                } }
                td.amount { (order.joins.len()) @if let Some([within, between]) = order.within_and_between { br; span.quiet.nowrap { (within) " + " (between) } } }
                td.amount { (words::length(quilt, order.longest.value)) @if order.stacks > 0 { br; span.quiet.nowrap { (words::count(order.stacks, "stack", "stacks")) } } }
                td.amount { (weight(order.mean_weight.value)) br; span.quiet.nowrap { (words::hours(order.hours.value)) } }
            }
        }
    };
    html! {
        fieldset.pressings {
            legend { "Orders" }
            table #join-orders {
                thead { tr { th scope="col" { "First" } th.amount scope="col" { "Joins" } th.amount scope="col" { "Longest" } th.amount scope="col" { "Weight, time" } } }
                tbody {
                    tr { td colspan="4" { label.switch for="join-order-free" {
                        input #join-order-free type="radio" name="join-order" data-edit=(remove(&path)) checked[quilt.joining.order.is_none()];
                        span { "the plan chooses" @if quilt.joining.order.is_none() { @if let Some(order) = joins.order() { ": " (order_name(order.kind)) } } }
                    } } }
                    @for (at, order) in joins.orders.iter().enumerate() { (row(at, order)) }
                }
            }
        }
        @for (kind, reason) in &joins.left_out { p.quiet { (words::capital(&order_name(*kind))) " cannot be had: " (reason) "." } }
        @if let Some(order) = joins.order() {
            p.quiet { "Weight is that of all that lies at the machine, in the mean over the length sewn. "
                @if order.is_best() { "No order keeps it lower; that is proven." }
                @else if let Some(best) = joins.orders.iter().find(|order| order.kind == JoinOrder::Best) {
                    @if best.is_best() { "The lightest order is proven." } @else { "No order is known to be lighter than the lightest here." }
                }
            }
        }
    }
}

fn weight(grams: f64) -> String {
    if grams < 1000.0 { format!("{grams:.0} g") } else { format!("{:.1} kg", grams / 1000.0) }
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
            li { (line("how-join-heaviest", "The whole quilt weighs, in the last join", weight(order.heaviest.value), &order.heaviest)) }
            li { (line("how-join-mean", "Weight at the machine, in the mean", weight(order.mean_weight.value), &order.mean_weight)) }
            li { (line("how-join-machine", "At the machine, still to be sewn", feet(&order.machine), &order.machine)) }
            li { (line("how-join-hand", "By hand, still to be sewn", feet(&order.hand), &order.hand)) }
            li { (line("how-join-hours", "Time, still to come", words::hours(order.hours.value), &order.hours)) }
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
        ("wherever it is thin enough".to_owned(), remove(&path), joining.catch_batting.is_none()),
        ("yes, of one side".to_owned(), caught(true), joining.catch_batting == Some(true)),
        ("no, cut both back".to_owned(), caught(false), joining.catch_batting == Some(false)),
    ];
    let plain =
        |key: &'static str, label: &str, value: String| number(&format!("join-{key}"), label, &value, &["join", key], "any");
    html! {
        p {
            @if section.too_thick { "The batting is too thick to be caught: both sides are cut back and butt over the seam." }
            @else if section.caught { "The batting of one side is caught in the seam; the other is cut back so that the two butt." }
            @else { "No batting is caught: both sides are cut back and butt over the seam." }
        }
        details.card #join-manner {
            summary { b { "How you join" } " " span.quiet { "batting, weights, pace" } }
            div.fields {
                (fields::choice("join-catch", "Catch the batting in the seam", &choices))
                (fields::text("join-batting", "Thickness of the batting", &words::typed(quilt, joining.batting_thickness), &set(&["join", "batting-thickness"])))
                (fields::text("join-pins", "From pin to pin", &words::typed(quilt, joining.pin_spacing), &set(&["join", "pin-spacing"])))
                (plain("batting-weight", "Batting, grams a square metre", joining.batting_weight.to_string()))
                (plain("cloth-weight", "Cloth, grams a square metre", joining.cloth_weight.to_string()))
                (plain("machine-minutes-a-foot", "Machine, minutes a foot", joining.machine_minutes_a_foot.to_string()))
                (plain("hand-minutes-a-foot", "By hand, minutes a foot", joining.hand_minutes_a_foot.map_or(String::new(), |minutes| minutes.to_string())))
                (plain("minutes-a-join", "Handling, minutes a join", joining.minutes_a_join.to_string()))
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
        @if open.len() > LISTED { p.quiet { "And " (open.len() - LISTED) " more, which follow as these are done." } }
        @let done: Vec<usize> = (0..joins.steps.len()).filter(|&at| joins.steps[at].join.sewn).collect();
        @if !done.is_empty() {
            details.card #joins-done {
                summary { b { "Sewn" } " " span.quiet { (words::count(done.len(), "join", "joins")) } }
                ul.plain { @for at in done { li { (at + 1) ". " (names(plan, at).join(" to ")) " "
                    button type="button" id={ "unjoin-" (at + 1) } data-note=[(how == "note").then(|| unjoin(plan, at))] data-tick=[(how == "tick").then(|| unjoin(plan, at))] { "↶ not sewn" }
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
            summary { b { (at + 1) ". " (left) " to " (right) } " " span.quiet { (words::length(quilt, step.join.length())) " " (quilt.measure.sign()) @if !ready { ", after earlier joins" } } }
            img.step src={ (base) "join/" (at + 1) ".svg?" (look(plan, at)) } alt={ "Join " (at + 1) ": " (left) " to " (right) } loading="lazy";
            ol.doing { @for sentence in instructions(quilt, &plan.top, &plan.join, at) { li { (sentence) } } }
            @if ready {
                p { button.tick type="button" id={ "sewn-join-" (at + 1) } data-note=[(how == "note").then_some(&edit)] data-tick=[(how == "tick").then_some(&edit)] { "✓ sewn" } }
            }
        }
    }
}
