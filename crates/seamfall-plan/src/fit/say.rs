//! What there is to say about a quilt on its bed.
//!
//! In: how it hangs. Out: findings, with the ways out that there are.

use super::hang::OnBed;
use crate::answer::Ruler;
use seamfall_geom::TOLERANCE;
use seamfall_model::{Bed, CornerShape, Finding, Length, Spot, Working};
use tr::tr;

/// A drop that misses by more than this is told, in inches: as much as a mattress differs from its name (check values `beds.us_actual`).
const MISS_IN: f64 = 1.0;

/// What there is to say about a quilt whose corners are of that shape.
pub(super) fn findings(bed: &Bed, shape: CornerShape, hang: &OnBed, ruler: Ruler) -> Vec<Finding> {
    let mut all = Vec::new();
    let shown = |value: f64| ruler.shown(ruler.step.nearest(Length::new(value)));
    let height = shown(bed.height.value());
    let edges = [
        (tr!("the sides"), "sides", &hang.side, &hang.side_miss, bed.sides),
        (tr!("the foot"), "foot", &hang.foot, &hang.foot_miss, bed.foot),
    ];
    for (at, key, [least, most], miss, wanted) in edges {
        if least.value < -TOLERANCE {
            let reason = tr!(
                "after quilting and the wash the quilt may end {least} short of the mattress at {at}",
                least = shown(-least.value),
                at
            );
            all.push(
                Finding::warn(Spot::Bed, reason)
                    .help(tr!("make it larger: `seamfall fit settings` finds settings for this bed"))
                    .decide(&["bed"]),
            );
        } else if most.value > bed.height.value() + TOLERANCE {
            let reason =
                tr!("at {at} the cloth hangs {most}, and the mattress is {height} high", at, most = shown(most.value), height);
            all.push(
                Finding::warn(Spot::Bed, reason).help(tr!("make the quilt smaller, or it drags on the floor")).decide(&["bed"]),
            );
        } else if miss.value.abs() > MISS_IN * ruler.measure.inch() {
            all.push(missed(&at, key, [least, most], miss, wanted, ruler));
        }
    }
    all.extend(corners(bed, shape, hang, &shown));
    all
}

fn missed(at: &str, key: &str, drop: [&Working; 2], miss: &Working, wanted: Length, ruler: Ruler) -> Finding {
    let shown = |value: f64| ruler.shown(ruler.step.nearest(Length::new(value)));
    let [least, most] = drop.map(|drop| shown(drop.value));
    let word = if miss.value > 0.0 { tr!("deeper") } else { tr!("less") };
    let reason = tr!(
        "at {at} the quilt hangs {least} to {most}, about {miss} {word} than the {wanted} wanted",
        at,
        least,
        most,
        miss = shown(miss.value.abs()),
        word,
        wanted = shown(wanted.value())
    );
    Finding::note(Spot::Bed, reason).help(tr!("take other settings, or another `{key}` under `[bed]`", key)).decide(&["bed", key])
}

fn corners(bed: &Bed, shape: CornerShape, hang: &OnBed, shown: &dyn Fn(f64) -> String) -> Vec<Finding> {
    let mut all = Vec::new();
    let Some(corner) = hang.corner(shape) else { return all };
    if bed.posts && shape != CornerShape::Notch && hang.covers() && hang.foot[1].value > TOLERANCE {
        let reason = tr!("the bed has posts at the foot, and the cloth cannot hang round them");
        let help = tr!("notch the corners: `shape = \"notch\"` under `[corners]`");
        all.push(Finding::warn(Spot::FootCorners, reason).help(help).set(&["corners", "shape"], "notch"));
    }
    let Ok(cut) = &corner.cut else { return all };
    if corner.drags {
        let reason = tr!(
            "the cloth hangs {hang}, the mattress top is {height} high",
            hang = shown(cut.hang.value),
            height = shown(bed.height.value())
        );
        all.push(Finding::warn(Spot::FootCorners, reason).help(ways_out(shape, hang)).decide(&["corners", "shape"]));
    }
    all
}

/// The shapes that hang free, in words.
fn ways_out(shape: CornerShape, hang: &OnBed) -> String {
    let free = hang.corners.iter().filter(|corner| corner.shape != shape && corner.cut.is_ok() && !corner.drags);
    let words: Vec<String> = free
        .map(|corner| match corner.shape {
            CornerShape::Square => tr!("leave them square"),
            CornerShape::SetBack => tr!("set the corners back by half a block"),
            CornerShape::Level => tr!("hem them level"),
            CornerShape::Straight => tr!("cut them straight"),
            CornerShape::Notch => tr!("notch them"),
        })
        .collect();
    match words.split_last() {
        None => tr!("make the quilt smaller; no other corner hangs free either"),
        Some((last, [])) => last.clone(),
        Some((last, others)) => tr!("{others}, or {last}", others = others.join(", "), last),
    }
}
