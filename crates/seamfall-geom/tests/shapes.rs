//! Edges, loops and motions. Wanted values are worked out by hand from plane geometry.

use proptest::prelude::*;
use seamfall_geom::{Edge, Loop, Point, Pose, Rect, TOLERANCE, Turn, Vec2};
use std::f64::consts::{PI, SQRT_2};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn arc(from: (f64, f64), to: (f64, f64), centre: (f64, f64), turn: Turn) -> Edge {
    Edge::Arc { from: p(from.0, from.1), to: p(to.0, to.1), centre: p(centre.0, centre.1), turn }
}

fn line(from: (f64, f64), to: (f64, f64)) -> Edge {
    Edge::Line { from: p(from.0, from.1), to: p(to.0, to.1) }
}

/// A quarter of a disc of radius 3.
fn pie() -> Loop {
    Loop::new(vec![
        line((0.0, 0.0), (3.0, 0.0)),
        arc((3.0, 0.0), (0.0, 3.0), (0.0, 0.0), Turn::Left),
        line((0.0, 3.0), (0.0, 0.0)),
    ])
}

/// What is left of a square of 4 about that quarter.
fn rest() -> Loop {
    Loop::new(vec![
        line((3.0, 0.0), (4.0, 0.0)),
        line((4.0, 0.0), (4.0, 4.0)),
        line((4.0, 4.0), (0.0, 4.0)),
        line((0.0, 4.0), (0.0, 3.0)),
        arc((0.0, 3.0), (3.0, 0.0), (0.0, 0.0), Turn::Right),
    ])
}

/// A ring of outer radius 3, inner radius 2, open over an eighth: hollow, and its middle is outside.
fn horseshoe() -> Loop {
    let s = SQRT_2 / 2.0;
    Loop::new(vec![
        arc((3.0 * s, 3.0 * s), (3.0, 0.0), (0.0, 0.0), Turn::Left),
        line((3.0, 0.0), (2.0, 0.0)),
        arc((2.0, 0.0), (2.0 * s, 2.0 * s), (0.0, 0.0), Turn::Right),
        line((2.0 * s, 2.0 * s), (3.0 * s, 3.0 * s)),
    ])
}

#[test]
fn areas_and_lengths_of_arcs_are_exact() {
    // π r² / 4, 16 less that, 7/8 of π (3² - 2²).
    for (name, shape, area, perimeter) in [
        ("quarter disc", pie(), 9.0 * PI / 4.0, 6.0 + 3.0 * PI / 2.0),
        ("its rest", rest(), 16.0 - 9.0 * PI / 4.0, 10.0 + 3.0 * PI / 2.0),
        ("horseshoe", horseshoe(), 5.0 * PI * 7.0 / 8.0, 2.0 + 10.0 * PI * 7.0 / 8.0),
        ("rectangle", Loop::rect(Rect::new(1.0, 2.0, 4.0, 4.0)), 6.0, 10.0),
    ] {
        assert!((shape.area() - area).abs() < 1e-12, "{name}: {}", shape.area());
        assert!((shape.perimeter() - perimeter).abs() < 1e-12, "{name}: {}", shape.perimeter());
    }
    assert!((pie().area() - 7.068_583).abs() < 1e-6 && (rest().area() - 8.931_417).abs() < 1e-6);
    assert!((pie().edges()[1].length() - 4.712_389).abs() < 1e-6);
}

#[test]
fn bounds_reach_to_the_top_of_an_arc() {
    assert_eq!(pie().bounds(), Rect::new(0.0, 0.0, 3.0, 3.0));
    assert_eq!(arc((2.0, 0.0), (-2.0, 0.0), (0.0, 0.0), Turn::Left).bounds(), Rect::new(-2.0, 0.0, 2.0, 2.0));
    assert_eq!(arc((2.0, 0.0), (-2.0, 0.0), (0.0, 0.0), Turn::Right).bounds(), Rect::new(-2.0, -2.0, 2.0, 0.0));
    // Its first end is off the whole numbers, so is its radius in the last bit.
    let b = horseshoe().bounds();
    assert!([-b.x0, -b.y0, b.x1, b.y1].iter().all(|side| (side - 3.0).abs() < 1e-15));
}

#[test]
fn inside_follows_the_arc_not_the_chord() {
    for (name, shape, point, inside) in [
        ("under the arc, beyond the chord", pie(), p(2.0, 2.0), true),
        ("on the chord", pie(), p(1.5, 1.5), true),
        ("beyond the arc", pie(), p(2.2, 2.2), false),
        ("on the arc", pie(), p(1.8, 2.4), false),
        ("on a side", pie(), p(1.0, 0.0), false),
        ("level with a corner", pie(), p(-1.0, 3.0), false),
        ("between arc and chord of the rest", rest(), p(2.0, 2.0), false),
        ("the corner of the rest", rest(), p(3.5, 3.5), true),
        ("the middle of a horseshoe", horseshoe(), p(0.0, 0.0), false),
        ("its gap", horseshoe(), p(2.3, 0.9), false),
        ("its back", horseshoe(), p(-2.5, 0.0), true),
        ("level with its top", horseshoe(), p(-2.9, 3.0), false),
    ] {
        assert_eq!(shape.contains(point), inside, "{name}");
    }
}

#[test]
fn labels_lie_inside_and_have_room() {
    let high = 3_f64.sqrt();
    let u = Loop::polygon(
        &[(0.0, 0.0), (6.0, 0.0), (6.0, 5.0), (5.0, 5.0), (5.0, 1.0), (1.0, 1.0), (1.0, 5.0), (0.0, 5.0)].map(|(x, y)| p(x, y)),
    );
    // Room: radius of the largest circle inside, by hand; a label has at least 0.85 of it.
    for (name, shape, room) in [
        ("square", Loop::rect(Rect::new(0.0, 0.0, 2.0, 2.0)), 1.0),
        ("equilateral triangle", Loop::polygon(&[p(0.0, 0.0), p(2.0, 0.0), p(1.0, high)]), high / 3.0),
        ("half square", Loop::polygon(&[p(0.0, 0.0), p(1.0, 0.0), p(0.0, 1.0)]), 1.0 - SQRT_2 / 2.0),
        // A circle that touches both sides and the arc: 3 / (1 + √2).
        ("quarter disc", pie(), 3.0 / (1.0 + SQRT_2)),
        ("horseshoe", horseshoe(), 0.5),
        ("u", u, 0.5),
        ("strip", Loop::rect(Rect::new(0.0, 0.0, 60.0, 0.5)), 0.25),
    ] {
        let at = shape.label_point();
        assert!(shape.contains(at), "{name}: {at:?}");
        let found = shape.edges().iter().map(|e| (e.nearest(at) - at).hypot()).fold(f64::INFINITY, f64::min);
        assert!(found >= 0.85 * room && found <= room + 1e-9, "{name}: {found} of {room}");
    }
}

#[test]
fn mirrored_loops_stay_anticlockwise() {
    let pose = Pose::turn_deg(90.0).then(Pose::mirror()).then(Pose::shift(Vec2::new(5.0, 1.0)));
    for shape in [pie(), rest(), horseshoe()] {
        let moved = shape.moved(pose);
        assert!((moved.area() - shape.area()).abs() < 1e-12);
        let ends = moved.edges();
        assert!((0..ends.len()).all(|i| ends[i].to() == ends[(i + 1) % ends.len()].from()));
        let point = shape.label_point();
        assert!(moved.contains(pose.apply(point)));
    }
}

#[test]
fn four_quarter_turns_change_nothing() {
    let turn = Pose::turn_deg(90.0);
    assert_eq!(pie().moved(turn.then(turn).then(turn).then(turn)), pie());
    assert_eq!(pie().moved(Pose::turn_deg(-270.0)), pie().moved(Pose::turn_deg(450.0)));
}

#[test]
fn a_cut_leaves_what_is_to_its_left() {
    let square = Loop::rect(Rect::new(0.0, 0.0, 4.0, 4.0));
    let left = square.clipped(p(1.0, 0.0), p(1.0, 1.0)).expect("a part is left");
    assert_eq!((left.area(), left.bounds()), (4.0, Rect::new(0.0, 0.0, 1.0, 4.0)));
    let half = square.clipped(p(0.0, 0.0), p(4.0, 4.0)).expect("half of it");
    assert_eq!((half.area(), half.edges().len()), (8.0, 3));
    assert_eq!(square.clipped(p(5.0, 0.0), p(5.0, -1.0)), None);
    assert_eq!(square.clipped(p(4.0, 4.0), p(4.0, 0.0)), None);
    assert_eq!(square.clipped(p(4.0, 0.0), p(4.0, 4.0)), Some(square.clone()));
}

proptest! {
    #[test]
    fn one_motion_after_another_is_their_product(
        a in (-360.0..360.0_f64, any::<bool>(), -9.0..9.0_f64), b in (-360.0..360.0_f64, any::<bool>(), -9.0..9.0_f64),
        x in -9.0..9.0_f64, y in -9.0..9.0_f64,
    ) {
        let pose = |(turn, mirror, by): (f64, bool, f64)| {
            let first = if mirror { Pose::mirror() } else { Pose::IDENTITY };
            first.then(Pose::turn_deg(turn)).then(Pose::shift(Vec2::new(by, 2.0 * by)))
        };
        let (a, b) = (pose(a), pose(b));
        let gap = a.then(b).apply(p(x, y)) - b.apply(a.apply(p(x, y)));
        prop_assert!(gap.hypot() < 1e-12);
        let [ca, cb, cc, cd, ce, cf] = a.coefficients();
        let gap = a.apply(p(x, y)) - p(ca * x + cc * y + ce, cb * x + cd * y + cf);
        prop_assert!(gap.hypot() < 1e-12);
    }

    /// The two parts of a cut make the whole.
    #[test]
    fn both_sides_of_a_cut_make_the_whole(a in (-1.0..5.0_f64, -1.0..5.0_f64), b in (-1.0..5.0_f64, -1.0..5.0_f64)) {
        let (a, b) = (p(a.0, a.1), p(b.0, b.1));
        prop_assume!((b - a).hypot() > 0.01);
        let square = Loop::rect(Rect::new(0.0, 0.0, 4.0, 4.0));
        let area = |part: Option<Loop>| part.map_or(0.0, |part| part.area());
        let sum = area(square.clipped(a, b)) + area(square.clipped(b, a));
        prop_assert!((sum - 16.0).abs() < 16.0 * TOLERANCE);
    }
}
