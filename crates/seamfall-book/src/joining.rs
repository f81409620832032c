//! The joining of the sections: the order, a join cut across, and every step large enough to be read at the machine.
//!
//! In: the plan. Out: words and figures. Everything that is done at a step is said by the plan (`join::instructions`).

use crate::figures::{Figure, Figures};
use crate::words;
use seamfall_model::{Quilt, decimal};
use seamfall_plan::Plan;
use seamfall_plan::join::{instructions, order_name, part_name};
use serde::Serialize;
use tr::tr;

/// So many steps are drawn; of more the rest is in words.
const DRAWN: usize = 120;

/// The chapter.
#[derive(Debug, Serialize)]
pub struct Joining {
    reason: String,
    orders: Vec<OrderRow>,
    left_out: Vec<String>,
    map: Figure,
    across: Figure,
    steps: Vec<StepCard>,
    workings: Vec<String>,
}

/// An order among the others.
#[derive(Debug, Serialize)]
struct OrderRow {
    name: String,
    taken: bool,
    joins: String,
    longest: String,
    weight: String,
    hours: String,
    stacks: usize,
}

/// What is done at one join.
#[derive(Debug, Serialize)]
struct StepCard {
    number: usize,
    parts: [String; 2],
    length: String,
    sewn: bool,
    figure: Option<Figure>,
    sentences: Vec<String>,
}

/// The chapter; nothing where there is nothing to join.
pub fn joining(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Option<Joining> {
    let joins = &plan.join;
    let order = joins.order()?;
    if joins.steps.is_empty() {
        return None;
    }
    let orders = joins.orders.iter().enumerate().map(|(at, order)| OrderRow {
        name: order_name(order.kind),
        taken: at == joins.taken,
        joins: match order.within_and_between {
            Some([within, between]) => format!("{} ({within} + {between})", order.joins.len()),
            None => order.joins.len().to_string(),
        },
        longest: words::length(quilt, order.longest.value),
        weight: format!("{} kg", decimal(order.mean_weight.value / 1000.0, 2)),
        hours: decimal(order.hours.value, 1),
        stacks: order.stacks,
    });
    let steps = (0..joins.steps.len()).map(|at| step(quilt, plan, at, figures)).collect();
    Some(Joining {
        reason: joins.reason.clone(),
        orders: orders.collect(),
        left_out: joins.left_out.iter().map(|(kind, reason)| format!("{}: {reason}", order_name(*kind))).collect(),
        map: Figure {
            path: figures.join_map(quilt, plan),
            alt: tr!("The joins of {name}, numbered in their order", name = quilt.name),
        },
        across: Figure {
            path: figures.join_across(quilt, plan),
            alt: tr!("A join cut across: fronts, batting and backing of both sides, to scale"),
        },
        steps,
        workings: [&order.heaviest, &order.mean_weight, &order.machine, &order.hand, &order.hours]
            .into_iter()
            .map(seamfall_model::Working::line)
            .collect(),
    })
}

fn step(quilt: &Quilt, plan: &Plan, at: usize, figures: &mut Figures) -> StepCard {
    let joins = &plan.join;
    let step = &joins.steps[at];
    let parts = step.join.parts.map(|part| part_name(&plan.top, &joins.sections(part)));
    let drawn = if at < DRAWN { figures.join_step(quilt, plan, at) } else { None };
    StepCard {
        number: at + 1,
        length: format!("{} {}", words::length(quilt, step.join.length()), quilt.measure.sign()),
        sewn: step.join.sewn,
        figure: drawn.map(|path| Figure {
            path,
            alt: tr!(
                "How join {at} is sewn: {upper} laid on {lower}, with pins, the fall and the hand stitching",
                at = at + 1,
                upper = parts[0],
                lower = parts[1]
            ),
        }),
        sentences: instructions(quilt, &plan.top, joins, at),
        parts,
    }
}
