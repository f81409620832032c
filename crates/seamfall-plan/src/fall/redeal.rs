//! Deals pressings out anew: which copy is best pressed in which of the ways there are.
//!
//! In: an answer. Out: the copies dealt so that the least stacks with these pressings, the seams of the top being free. Every place
//! chooses among the pressings of its design, every seam of the top between two sides; what two of them cost together is a table,
//! and the least of all is found by [`seamfall_solve::choices`], exactly where the setting is not too wide. Falls and copies are
//! so made better in turn; where neither helps any more is a best answer of its kind, not of all.

use super::copies;
use super::hand::Hand;
use super::model::{Copies, Model};
use super::search::Best;
use crate::piece::{End, Piecing, TopRef};
use seamfall_solve::Budget;
use seamfall_solve::choices::{Choices, Pair, cheapest};

/// Steps, of about a nanosecond.
const STEPS: u64 = 2_000_000;

/// How an end falls round its point for each choice of its node; nothing where it is pressed open.
type Senses = Vec<Option<bool>>;

/// The copies of `best`, dealt anew; nothing where the problem cannot be stated (more than eight ways).
pub(super) fn redealt(piecing: &Piecing, hand: &Hand, best: &Best) -> Option<Copies> {
    let model = Model::new(piecing, &best.orders, &best.copies, hand);
    let value = |(node, turned): (usize, bool)| (!model.open[node]).then_some(best.values[node] != turned);
    let places = piecing.holds.len();
    let mut alone: Vec<Vec<u32>> = Vec::new();
    for held in &piecing.holds {
        let inside = |pressing: usize| {
            let meetings = model.sewing(held.design).points.iter().filter_map(|point| Some((point.meeting()?, point.weight)));
            let end = |end: End| value(model.end(held.design, pressing, end));
            meetings.filter(|((a, b), _)| stacks(end(*a), end(*b))).map(|(_, weight)| weight).sum()
        };
        alone.push((0..best.copies.count[held.design]).map(inside).collect());
    }
    alone.resize(places + model.top_sewing().seams.len(), vec![0, 0]);
    let choice = |end: End| -> (usize, Senses) {
        match end {
            End::Own { .. } => {
                let (node, turned) = model.top_end(end);
                let given = model.fixed.iter().find(|(fixed, _)| *fixed == node).map(|(_, value)| *value);
                let sense = |value: bool| (!model.open[node]).then_some(given.unwrap_or(value) != turned);
                (places + model.top_number(node), vec![sense(false), sense(true)])
            }
            End::Rim { piece, rim } => {
                let TopRef::Place(place) = piecing.top_pieces[piece] else { unreachable!("strips have no seams") };
                let design = piecing.holds[place].design;
                let top = model.sewing(design).rim[rim].end;
                let mirrored = piecing.designs[design].mirrored;
                let sense = |pressing| value(model.end(design, pressing, top)).map(|value| value != mirrored);
                (place, (0..best.copies.count[design]).map(sense).collect())
            }
        }
    };
    let mut pairs = Vec::new();
    for point in &model.top_sewing().points {
        let Some((a, b)) = point.meeting() else { continue };
        let ((a, of_a), (b, of_b)) = (choice(a), choice(b));
        let weight = |x: &Option<bool>, y: &Option<bool>| if stacks(*x, *y) { point.weight } else { 0 };
        if a == b {
            alone[a].iter_mut().zip(of_a.iter().zip(&of_b)).for_each(|(cost, (x, y))| *cost += weight(x, y));
        } else {
            pairs.push(Pair { a, b, costs: of_a.iter().map(|x| of_b.iter().map(|y| weight(x, y)).collect()).collect() });
        }
    }
    let choices = Choices::new(alone, pairs).ok()?;
    let found = cheapest(&choices, Budget::steps(STEPS));
    Some(copies::numbered(piecing, hand, &found.answer[..places]))
}

/// Whether two ends at one point fall the same way along the seam: then they stack.
fn stacks(a: Option<bool>, b: Option<bool>) -> bool {
    a.zip(b).is_some_and(|(a, b)| a != b)
}
