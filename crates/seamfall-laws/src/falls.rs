//! Falls: a meeting nests when both seams on top fall the same way round its point, and the stacks are those that are counted.
//!
//! Source of the definitions: `docs/sewing.md`.

use seamfall_geom::{Point, Pose, Vec2};
use seamfall_model::{Pressings, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::fall::{Count, Fall, SeamRef, State};
use seamfall_plan::piece::Seam;

pub fn hold(quilt: &Quilt, plan: &Plan) {
    let falls = &plan.falls;
    for count in &falls.counts {
        assert!(count.bound <= count.weight, "less than what is proven: {count:?}");
        assert!(count.stacks as u64 <= count.weight, "a stack weighs one at least: {count:?}");
    }
    let proven: Vec<&Count> = falls.counts.iter().filter(|count| count.is_proven()).collect();
    assert!(proven.windows(2).all(|pair| pair[0].weight >= pair[1].weight), "more pressings, more stacks: {:?}", falls.counts);

    let (mut stacks, mut weight) = (0, 0);
    for meeting in &falls.meetings {
        let [left, right] = [meeting.left, meeting.right].map(|seam| sense(plan, seam, meeting.at));
        let state = match (left, right) {
            (Some(a), Some(b)) if a == b => State::Nests,
            (Some(_), Some(_)) => State::Stacks,
            _ => State::Flat,
        };
        assert_eq!(state, meeting.state, "{meeting:?}");
        stacks += usize::from(state == State::Stacks);
        weight += if state == State::Stacks { u64::from(meeting.weight) } else { 0 };
    }
    assert_eq!((stacks, weight), (falls.count().stacks, falls.count().weight), "the stacks are those that are counted");
    assert_eq!(falls.stacks.len(), stacks, "every stack is told");
    assert!(falls.stacks.iter().all(|stack| falls.meetings[stack.meeting].state == State::Stacks), "what nests is no stack");

    let free = quilt.falls.is_empty() && plan.sewn.pressed.is_empty();
    for (design, pressings) in falls.pressings.iter().enumerate() {
        // Copies that are pressed already, or by the maker's word, are as they are.
        if let (Pressings::Shared(most), true) = (falls.count().pressings, free) {
            assert!(pressings.len() <= usize::from(most), "{} pressings of {most}", pressings.len());
        }
        for (number, pressing) in pressings.iter().enumerate() {
            let places = plan.piecing.holds.iter().zip(&falls.of_place);
            let pressed = places.filter(|(held, of)| held.design == design && **of == number).count();
            assert_eq!(pressed, pressing.places, "places of a pressing");
        }
    }
}

/// Whether a seam falls anticlockwise round its end at `at`; nothing where it is pressed open.
fn sense(plan: &Plan, seam: SeamRef, at: Point) -> Option<bool> {
    let (falls, piecing) = (&plan.falls, &plan.piecing);
    let (seam, fall, pose): (&Seam, Fall, Pose) = match seam {
        SeamRef::Top { seam } => (&falls.top_sewing(piecing).seams[seam], falls.top[seam], Pose::shift(Vec2::ZERO)),
        SeamRef::Place { place, seam } => {
            let sewing = falls.sewing(piecing, piecing.holds[place].design);
            (&sewing.seams[seam], falls.pressing(piecing, place).falls[seam], plan.top.places[place].pose)
        }
    };
    let away = |end: Point| (pose.apply(end) - at).hypot();
    let starts = away(seam.from()) < away(seam.to());
    assert!(away(if starts { seam.from() } else { seam.to() }) < 1e-3, "a seam that ends elsewhere meets at {at}");
    let (first, last) = (seam.course.first()?.edge, seam.course.last()?.edge);
    // On its way, as it lies in the top; and out of the meeting.
    let way = pose.apply_vec(if starts { first.direction_from() } else { last.direction_to() });
    let out = if starts { way } else { -way };
    let left = if pose.is_mirrored() { Vec2::new(way.y, -way.x) } else { Vec2::new(-way.y, way.x) };
    match fall {
        Fall::Open => None,
        Fall::Left => Some(out.cross(left) > 0.0),
        Fall::Right => Some(out.cross(-left) > 0.0),
    }
}
