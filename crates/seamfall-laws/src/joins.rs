//! Joins: every order joins every section once, each step after those it needs, and no order traps an edge.

use crate::near;
use seamfall_geom::{Edge, Loop, Point};
use seamfall_plan::Plan;
use seamfall_plan::join::{Order, Part};

/// Sections share what lies as close as this.
const CLOSE: f64 = 1e-3;

pub fn hold(plan: &Plan) {
    for order in &plan.join.orders {
        every_section_once(plan, order);
        // Where joins turn a corner a part is set in, and its edge is no longer one straight line.
        if plan.join.steps.iter().all(|step| step.set_in.is_none()) {
            no_edge_is_trapped(plan, order);
        }
        assert!(
            order.bound <= order.burden,
            "less weight than what is proven: {:?} {} {}",
            order.kind,
            order.burden,
            order.bound
        );
    }
    if let Some(taken) = plan.join.order() {
        assert_eq!(taken.joins.len(), plan.join.steps.len(), "a step for every join");
        let lengths: Vec<f64> = plan.join.orders.iter().map(|order| order.joins.iter().map(|join| join.length()).sum()).collect();
        lengths.windows(2).for_each(|pair| near("every order sews the same seams", pair[0], pair[1]));
        nothing_is_forgotten(plan);
    }
}

fn every_section_once(plan: &Plan, order: &Order) {
    let mut used = [vec![0; plan.top.sections.len()], vec![0; order.joins.len()]];
    for (number, join) in order.joins.iter().enumerate() {
        for part in join.parts {
            match part {
                Part::Section(section) => used[0][section] += 1,
                Part::Join(earlier) => {
                    assert!(earlier < number, "a step comes after what it needs");
                    used[1][earlier] += 1;
                }
            }
        }
    }
    let [sections, joins] = used;
    if sections.len() > 1 {
        assert!(sections.iter().all(|times| *times == 1), "every section is joined once");
        let last = joins.len() - 1;
        assert!(joins.iter().enumerate().all(|(number, times)| *times == usize::from(number < last)), "nothing is left beside");
    }
}

/// A join sews all that its two parts share, in one straight line: an edge between them that it left would be trapped.
fn no_edge_is_trapped(plan: &Plan, order: &Order) {
    let mut held: Vec<Vec<usize>> = Vec::new();
    for join in &order.joins {
        let [left, right] = join.parts.map(|part| match part {
            Part::Section(section) => vec![section],
            Part::Join(earlier) => std::mem::take(&mut held[earlier]),
        });
        // What is sewn already is as it is.
        if !join.sewn {
            let outline = |section: &usize| &plan.top.sections[*section].outline;
            let shared: f64 =
                left.iter().flat_map(|a| right.iter().map(move |b| shared(outline(a), outline(b), join.seam))).sum();
            assert!((shared - join.length()).abs() < CLOSE * (left.len() + right.len()) as f64, "{shared} of {}", join.length());
        }
        held.push(left.into_iter().chain(right).collect());
    }
}

/// Length that two outlines share, which lies along `seam`.
fn shared(a: &Loop, b: &Loop, seam: [Point; 2]) -> f64 {
    let apart = |a: &Loop, b: &Loop| {
        let (a, b) = (a.bounds().inflate(CLOSE, CLOSE), b.bounds());
        a.x1 < b.x0 || b.x1 < a.x0 || a.y1 < b.y0 || b.y1 < a.y0
    };
    if apart(a, b) {
        return 0.0;
    }
    let line = (seam[1] - seam[0]).normalize();
    let mut sum = 0.0;
    for one in a.edges() {
        for other in b.edges() {
            let (Edge::Line { from, to }, Edge::Line { from: p, to: q }) = (*one, *other) else { continue };
            let long = (to - from).hypot();
            let way = (to - from) / long;
            if way.cross(p - from).abs() > CLOSE || way.cross(q - from).abs() > CLOSE {
                continue;
            }
            let (low, high) = (way.dot(q - from).max(0.0), way.dot(p - from).min(long));
            if high - low > CLOSE {
                let ends = [from + way * low, from + way * high];
                assert!(ends.iter().all(|at| line.cross(*at - seam[0]).abs() < CLOSE), "a join leaves the line it is sewn along");
                sum += high - low;
            }
        }
    }
    sum
}

/// Every thread that hangs is taken up after one join, every line that waits for one is quilted once.
fn nothing_is_forgotten(plan: &Plan) {
    let mut hanging: Vec<(usize, Point)> =
        plan.join.steps.iter().flat_map(|step| step.hanging.iter().map(|one| (one.section, one.at))).collect();
    let taken = hanging.len();
    hanging.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.x.total_cmp(&b.1.x)).then(a.1.y.total_cmp(&b.1.y)));
    hanging.dedup();
    assert_eq!(hanging.len(), taken, "a thread is taken up twice");
    let mut waiting: Vec<(usize, usize)> =
        plan.join.steps.iter().flat_map(|step| step.waiting.iter().map(|one| (one.section, one.line))).collect();
    let quilted = waiting.len();
    waiting.sort_unstable();
    waiting.dedup();
    assert_eq!(waiting.len(), quilted, "a line is quilted twice");
}
