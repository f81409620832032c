//! Sewing orders: every piece is sewn in once, every stretch between two pieces once, and no fewer bends are claimed than there are.

use crate::blocks::rims;
use crate::{is_stopped, near};
use seamfall_geom::{Loop, Rect};
use seamfall_plan::Plan;
use seamfall_plan::piece::{Design, Join, Seam, Sewing, Sewn, TopRef};

pub fn hold(plan: &Plan) {
    for design in &plan.piecing.designs {
        let (inner, outer) = perimeters(plan, design);
        for order in design.orders.iter() {
            every_piece_once(order, design.parts.len() + design.frame_pieces.len());
            every_stretch_once(order, inner, outer);
        }
    }
    let pieces = plan.piecing.top_pieces.iter().map(|piece| match *piece {
        TopRef::Place(place) => perimeters(plan, &plan.piecing.designs[plan.piecing.holds[place].design]).1,
        TopRef::Strip(strip) => plan.top.strips[strip].outline.perimeter(),
    });
    let inner: f64 = pieces.sum();
    // A top with gaps is not sewn whole.
    for order in plan.piecing.top.iter().filter(|_| !is_stopped(plan)) {
        every_piece_once(order, plan.piecing.top_pieces.len());
        every_stretch_once(order, inner, 2.0 * (plan.top.size.x + plan.top.size.y));
    }
}

/// Perimeters of the pieces of a design together, and its own.
fn perimeters(plan: &Plan, design: &Design) -> (f64, f64) {
    let draft = &plan.drafts[design.block.0];
    let inner = rims(draft).chain(&design.frame_pieces).map(Loop::perimeter).sum();
    let framed = design.frame_pieces.iter().map(Loop::bounds).reduce(|all: Rect, one| all.union(one));
    (inner, framed.map_or(draft.outline.perimeter(), |all| 2.0 * (all.width() + all.height())))
}

fn every_piece_once(order: &Sewing, pieces: usize) {
    assert_eq!(order.whole.is_none(), !order.stuck.is_empty(), "what is not sewn is said");
    let mut used = [vec![0; pieces], vec![0; order.joins.len()]];
    let mut use_up = |part: Sewn| match part {
        Sewn::Piece(piece) => used[0][piece] += 1,
        Sewn::Join(join) => used[1][join] += 1,
    };
    for (number, join) in order.joins.iter().enumerate() {
        for part in [join.left, join.right] {
            assert!(!matches!(part, Sewn::Join(earlier) if earlier >= number), "a join comes after what it needs");
            use_up(part);
        }
    }
    order.whole.into_iter().for_each(&mut use_up);
    if order.stuck.is_empty() {
        assert!(used.iter().flatten().all(|times| *times == 1), "every piece and every unit is sewn in once");
    }
    let bends = order.joins.iter().map(|join: &Join| join.bends.len()).sum::<usize>();
    assert!(order.bends == bends && bends >= order.bends_bound, "{bends} bends, at least {}", order.bends_bound);
}

fn every_stretch_once(order: &Sewing, inner: f64, outer: f64) {
    if order.stuck.is_empty() {
        let sewn: f64 = order.seams.iter().map(Seam::length).sum();
        near("every stretch between two pieces is sewn once", inner, outer + 2.0 * sewn);
    }
}
