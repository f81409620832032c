//! Laws of every cut list: nothing is lost, nothing is cut twice, and no size is smaller than geometry asks.

use crate::quilts::any_top;
use proptest::prelude::*;
use seamfall_cutting::check::check;
use seamfall_model::{Quilt, read};
use seamfall_plan::cut::{CutPiece, Laid, Use, Way};
use seamfall_plan::{Plan, plan};
use std::f64::consts::SQRT_2;

/// The least and the most that the finished area of an entry can be, from its cut size alone where that tells it.
///
/// Both are the same but for mitred pieces outside frames: where a section ends, they end in one slant instead of two.
fn finished_area(quilt: &Quilt, plan: &Plan, piece: &CutPiece) -> (f64, f64) {
    let allowance = quilt.allowance.0.value();
    let less = |allowances: f64| (piece.width.exact - allowances * allowance, piece.length.exact - allowances * allowance);
    let all = piece.needed as f64;
    let area = match &piece.way {
        Way::Rectangle | Way::Joined { .. } => {
            let (width, length) = less(2.0);
            all * width * length
        }
        Way::HalfSquare => all * square(less(2.0 + SQRT_2).0) / 2.0,
        Way::QuarterSquare => all * square(less(2.0 + 2.0 * SQRT_2).0) / 4.0,
        Way::Mitred => {
            // Slanted at half a right angle: each slant takes half a square of the width.
            let (width, length) = less(2.0);
            let (width, length) = (f64::min(width, length), f64::max(width, length));
            let two_slants = width * (length - width);
            let of = |each: &Use| match each {
                Use::Top { what, count, .. } if what.starts_with("frame") => (*count as f64 * two_slants, 0.0),
                each => (count_of(each) as f64 * two_slants, count_of(each) as f64 * width * width / 2.0),
            };
            let (least, more) = piece.uses.iter().map(of).fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
            return (least, least + more);
        }
        Way::Template { .. } | Way::Unit(_) => piece
            .uses
            .iter()
            .map(|each| match each {
                Use::Template { block, template, count } => {
                    plan.drafts[block.0].templates[*template].finished.area() * *count as f64
                }
                Use::Top { what, .. } | Use::Besides { what, .. } => panic!("{what}: no piece of these tops needs a template"),
            })
            .sum(),
    };
    (area, area)
}

fn count_of(each: &Use) -> usize {
    match each {
        Use::Template { count, .. } | Use::Top { count, .. } | Use::Besides { count, .. } => *count,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_piece_of_the_top_is_cut_once(text in any_top()) {
        let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        let plan = plan(&quilt);
        let pieces = &plan.cutting.pieces;

        let patches: usize = plan.top.places.iter().map(|place| plan.drafts[place.block.0].patches.len()).sum();
        let needed: usize = pieces.iter().map(|piece| piece.needed).sum();
        prop_assert_eq!(needed, patches + plan.top.strips.len());
        for piece in pieces {
            prop_assert_eq!(piece.needed, piece.uses.iter().map(count_of).sum::<usize>());
        }

        let areas = pieces.iter().map(|piece| finished_area(&quilt, &plan, piece));
        let (least, most) = areas.fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        let top = plan.top.size.x * plan.top.size.y;
        prop_assert!(least - 1e-6 * top <= top && top <= most + 1e-6 * top, "pieces {} to {}, top {}", least, most, top);
    }

    #[test]
    fn sizes_are_rounded_up_once_and_lengths_hold_their_strips(text in any_top()) {
        let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        let plan = plan(&quilt);
        let step = quilt.step.size();
        for piece in &plan.cutting.pieces {
            for size in [&piece.width, &piece.length] {
                // What is within a ten-thousandth of a step counts as on it.
                prop_assert!(size.value >= size.exact - 1.1e-4 * step && size.value < size.exact + step, "{}", size.line());
                let steps = size.value / step;
                prop_assert!((steps - steps.round()).abs() < 1e-6, "{}", size.line());
            }
        }
        let shop = quilt.measure.inch() * if quilt.measure == seamfall_model::Measure::Inch { 4.5 } else { 10.0 / 2.54 };
        for bought in &plan.cutting.bought {
            let Some(Laid::OffTheBolt(laid)) = &bought.laid else { panic!("these cloths come off the bolt") };
            prop_assert!(laid.length.value >= laid.needed.value - 1e-6 && laid.length.value < laid.needed.value + shop);
            prop_assert!(laid.least.value <= laid.length.value);
            prop_assert!(laid.cutting.bound.adds_up(&laid.job));
            prop_assert!(check(&laid.job, &laid.cutting.layout.placements(&laid.job), laid.cutting.layout.length).is_ok());
            // Rectangles of a piece are as many as are cut, or as long together.
            for (number, piece) in plan.cutting.pieces.iter().enumerate().filter(|(_, piece)| piece.of == bought.of) {
                let kinds = laid.job.kinds().iter().zip(&bought.kinds).filter(|(_, of)| of.piece == number);
                let area: f64 = kinds.map(|(kind, _)| f64::from(kind.width) * f64::from(kind.height) * f64::from(kind.count)).sum();
                // Templates interlock, so that only their own area counts.
                let (one, nested) = match &piece.way {
                    Way::Template { outline, .. } => (outline.area(), true),
                    _ => (piece.width.value * piece.length.value, false),
                };
                let wanted = one * piece.cut as f64 / (step * step);
                prop_assert!(area >= wanted - 0.5, "{}: {area} of {wanted}", piece.name);
                prop_assert!(nested || piece.joined.is_some() || area <= wanted + 0.5, "{}: {area} of {wanted}", piece.name);
            }
        }
    }
}

fn square(x: f64) -> f64 {
    x * x
}
