//! Grown outlines. Wanted values are worked out by hand from plane geometry.

use proptest::prelude::*;
use seamfall_geom::{Edge, Loop, OffsetError, Point, Pose, Rect, TipTrim, Turn, Vec2, grow};
use std::f64::consts::{PI, SQRT_2};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn polygon(corners: &[(f64, f64)]) -> Loop {
    Loop::polygon(&corners.iter().map(|&(x, y)| p(x, y)).collect::<Vec<_>>())
}

fn arc(from: Point, to: Point, centre: Point, turn: Turn) -> Edge {
    Edge::Arc { from, to, centre, turn }
}

fn near(a: Point, b: Point) -> bool {
    (a - b).hypot2() < 1e-18
}

/// Whether two loops have the same edges in the same order, within a billionth.
fn same(a: &Loop, b: &Loop) -> bool {
    a.edges().len() == b.edges().len()
        && a.edges()
            .iter()
            .zip(b.edges())
            .all(|(e, f)| near(e.from(), f.from()) && near(e.to(), f.to()) && near(e.at(0.5), f.at(0.5)))
}

/// Legs of a grown half square: finished + (2 + √2) · allowance; the trade's 7/8 in at 1/4 in is this up to an eighth.
#[test]
fn a_half_square_grows_by_its_exact_allowance() {
    let grown = grow(&polygon(&[(0.0, 0.0), (4.0, 0.0), (0.0, 4.0)]), 0.25, TipTrim::Full).expect("a triangle grows");
    assert!((grown.bounds().width() - (4.0 + 0.25 * (2.0 + SQRT_2))).abs() < 1e-12);
    assert!((grown.bounds().width() - 4.853_553).abs() < 1e-6);
    assert_eq!(grown.edges().len(), 3);
}

/// Moving three sides of an equilateral triangle out by `s` raises it by `3 s`.
#[test]
fn an_equilateral_triangle_rises_by_three_allowances() {
    let high = 3_f64.sqrt();
    let grown = grow(&polygon(&[(0.0, 0.0), (2.0, 0.0), (1.0, high)]), 0.25, TipTrim::Full).expect("a triangle grows");
    assert!((grown.bounds().height() - (high + 0.75)).abs() < 1e-12);
}

/// The tips of a half square end flush with the square beside either leg: x and y from -1/4 to 4 1/4, no further.
#[test]
fn a_trimmed_half_square_is_flush_with_the_square_beside_it() {
    let grown = grow(&polygon(&[(0.0, 0.0), (4.0, 0.0), (0.0, 4.0)]), 0.25, TipTrim::Aligned).expect("a triangle grows");
    let b = grown.bounds();
    assert_eq!((b.x0, b.y0, b.x1, b.y1), (-0.25, -0.25, 4.25, 4.25));
    let slanted = 0.25 * (SQRT_2 - 1.0);
    let wanted = polygon(&[(-0.25, -0.25), (4.25, -0.25), (4.25, slanted), (slanted, 4.25), (-0.25, 4.25)]);
    assert!(same(&grown, &wanted), "{grown:?}");
}

/// The grown edge that runs along the seam from `a` to `b`.
fn beside(grown: &Loop, a: Point, b: Point, by: f64) -> (Point, Point) {
    let along = (b - a) / (b - a).hypot();
    let on = |q: Point| (along.cross(q - a) + by).abs() < 1e-9;
    let edge = grown.edges().iter().find(|e| on(e.from()) && on(e.to()) && (e.to() - e.from()).dot(along) > 0.0);
    edge.map(|e| (e.from(), e.to())).expect("each seam has its cut edge")
}

/// Two pieces laid right sides together along the seam from `a` to `b` of the first: do their cut edges end together?
fn line_up(first: &Loop, second: &Loop, a: Point, b: Point) -> (bool, bool) {
    let by = 0.25;
    let trim = |piece: &Loop| grow(piece, by, TipTrim::Aligned).expect("pieces grow");
    let (one, two) = (beside(&trim(first), a, b, by), beside(&trim(second), b, a, by));
    let along = (b - a) / (b - a).hypot();
    let mirrored = |q: Point| {
        let across: Vec2 = Vec2::new(-along.y, along.x) * along.cross(q - a);
        q - across * 2.0
    };
    (near(one.0, mirrored(two.1)), near(one.1, mirrored(two.0)))
}

#[test]
fn neighbours_laid_right_sides_together_line_up() {
    let high = 12_f64.sqrt();
    let half = polygon(&[(0.0, 0.0), (4.0, 0.0), (0.0, 4.0)]);
    let cases = [
        ("half square on square", &half, polygon(&[(0.0, -4.0), (4.0, -4.0), (4.0, 0.0), (0.0, 0.0)]), (0.0, 0.0), (4.0, 0.0)),
        ("two half squares on the slant", &half, polygon(&[(4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]), (4.0, 0.0), (0.0, 4.0)),
        ("two half squares leg to leg", &half, polygon(&[(0.0, 0.0), (0.0, -4.0), (4.0, 0.0)]), (0.0, 0.0), (4.0, 0.0)),
        (
            "quarter square on quarter square",
            &polygon(&[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0)]),
            polygon(&[(4.0, 0.0), (4.0, 4.0), (2.0, 2.0)]),
            (4.0, 0.0),
            (2.0, 2.0),
        ),
        (
            "two triangles of 60 degrees",
            &polygon(&[(0.0, 0.0), (4.0, 0.0), (2.0, high)]),
            polygon(&[(4.0, 0.0), (6.0, high), (2.0, high)]),
            (4.0, 0.0),
            (2.0, high),
        ),
        (
            "the halves of a rectangle",
            &polygon(&[(0.0, 0.0), (4.0, 0.0), (0.0, 2.0)]),
            polygon(&[(4.0, 0.0), (4.0, 2.0), (0.0, 2.0)]),
            (4.0, 0.0),
            (0.0, 2.0),
        ),
        (
            "half a rectangle on a rectangle",
            &polygon(&[(0.0, 0.0), (4.0, 0.0), (0.0, 2.0)]),
            polygon(&[(0.0, 0.0), (0.0, -3.0), (4.0, -3.0), (4.0, 0.0)]),
            (0.0, 0.0),
            (4.0, 0.0),
        ),
    ];
    for (name, first, second, a, b) in cases {
        for turn in [0.0, 90.0, 180.0, 270.0] {
            let pose = Pose::turn_deg(turn);
            let (a, b) = (pose.apply(p(a.0, a.1)), pose.apply(p(b.0, b.1)));
            assert_eq!(line_up(&first.moved(pose), &second.moved(pose), a, b), (true, true), "{name}, turned by {turn}");
        }
    }
}

#[test]
fn right_and_wide_corners_are_not_trimmed() {
    let square = Loop::rect(Rect::new(0.0, 0.0, 3.0, 3.0));
    assert_eq!(grow(&square, 0.25, TipTrim::Aligned), Ok(Loop::rect(Rect::new(-0.25, -0.25, 3.25, 3.25))));
    let high = 3_f64.sqrt() / 2.0;
    let hexagon = polygon(&[(1.0, 0.0), (0.5, high), (-0.5, high), (-1.0, 0.0), (-0.5, -high), (0.5, -high)]);
    assert_eq!(grow(&hexagon, 0.25, TipTrim::Aligned), grow(&hexagon, 0.25, TipTrim::Full));
}

/// A quarter circle of 3 and the corner of a 4 x 4 square that it leaves: the seam grows to 3 1/4 and 2 3/4 about one centre.
#[test]
fn arcs_keep_their_centre() {
    let (o, a, b) = (Point::ORIGIN, p(3.0, 0.0), p(0.0, 3.0));
    let pie = Loop::new(vec![Edge::Line { from: o, to: a }, arc(a, b, o, Turn::Left), Edge::Line { from: b, to: o }]);
    let grown = grow(&pie, 0.25, TipTrim::Aligned).expect("it grows");
    assert_eq!(grown.edges().len(), 3);
    assert!((grown.edges()[1].radius().expect("an arc") - 3.25).abs() < 1e-12);
    // At y = -1/4 a circle of 3 1/4 is at √(3.25² - 0.25²) = √10.5.
    assert!(near(grown.edges()[1].from(), p(10.5_f64.sqrt(), -0.25)));
    let rest = Loop::new(vec![
        Edge::Line { from: a, to: p(4.0, 0.0) },
        Edge::Line { from: p(4.0, 0.0), to: p(4.0, 4.0) },
        Edge::Line { from: p(4.0, 4.0), to: p(0.0, 4.0) },
        Edge::Line { from: p(0.0, 4.0), to: b },
        arc(b, a, o, Turn::Right),
    ]);
    let grown = grow(&rest, 0.25, TipTrim::Aligned).expect("it grows");
    assert_eq!(grown.edges().len(), 5);
    assert!((grown.edges()[4].radius().expect("an arc") - 2.75).abs() < 1e-12);
    // √(2.75² - 0.25²) = √7.5.
    assert!(near(grown.edges()[4].to(), p(7.5_f64.sqrt(), -0.25)));
}

/// A stadium: straight sides run smoothly into half circles, grown and shrunk alike. Area 2 r l + π r².
#[test]
fn smooth_joins_stay_smooth() {
    let ends = [p(-2.0, -1.0), p(2.0, -1.0), p(2.0, 1.0), p(-2.0, 1.0)];
    let stadium = Loop::new(vec![
        Edge::Line { from: ends[0], to: ends[1] },
        arc(ends[1], ends[2], p(2.0, 0.0), Turn::Left),
        Edge::Line { from: ends[2], to: ends[3] },
        arc(ends[3], ends[0], p(-2.0, 0.0), Turn::Left),
    ]);
    for by in [0.5, -0.5] {
        let grown = grow(&stadium, by, TipTrim::Aligned).expect("it grows");
        let r = 1.0 + by;
        assert!((grown.area() - (8.0 * r + PI * r * r)).abs() < 1e-12);
        assert_eq!(grown.edges().len(), 4);
    }
}

#[test]
fn a_hole_moves_inward() {
    let hole = polygon(&[(0.0, 0.0), (0.0, 2.0), (2.0, 2.0), (2.0, 0.0)]);
    let grown = grow(&hole, 0.25, TipTrim::Aligned).expect("it grows");
    assert_eq!(grown.area(), -2.25);
}

#[test]
fn outlines_without_room_are_refused() {
    let (a, b) = (p(1.0, 0.0), p(1.4, 0.0));
    let bite = Loop::new(vec![
        Edge::Line { from: p(0.0, 0.0), to: a },
        arc(a, b, p(1.2, 0.0), Turn::Right),
        Edge::Line { from: b, to: p(3.0, 0.0) },
        Edge::Line { from: p(3.0, 0.0), to: p(0.0, 3.0) },
        Edge::Line { from: p(0.0, 3.0), to: p(0.0, 0.0) },
    ]);
    assert_eq!(grow(&bite, 0.25, TipTrim::Full), Err(OffsetError::HollowTooTight { edge: 1, at: a }));
    // A slot narrower than two distances; a square shrunk past its middle; a C whose jaws meet.
    let slot = polygon(&[(0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (1.7, 3.0), (1.7, 1.0), (1.3, 1.0), (1.3, 3.0), (0.0, 3.0)]);
    assert!(matches!(grow(&slot, 0.25, TipTrim::Full), Err(OffsetError::Collides { .. })));
    assert!(grow(&slot, 0.15, TipTrim::Full).is_ok());
    let square = Loop::rect(Rect::new(0.0, 0.0, 1.0, 1.0));
    assert!(matches!(grow(&square, -0.6, TipTrim::Full), Err(OffsetError::Collides { .. })));
    let jaws = polygon(&[
        (0.0, 0.0),
        (4.0, 0.0),
        (4.0, 1.9),
        (3.0, 1.9),
        (3.0, 1.0),
        (1.0, 1.0),
        (1.0, 3.0),
        (3.0, 3.0),
        (3.0, 2.1),
        (4.0, 2.1),
        (4.0, 4.0),
        (0.0, 4.0),
    ]);
    assert!(matches!(grow(&jaws, 0.25, TipTrim::Full), Err(OffsetError::Collides { .. })));
}

#[test]
fn needles_are_cut_off_at_the_mitre_limit() {
    let needle = polygon(&[(0.0, 0.0), (10.0, -0.2), (10.0, 0.2)]);
    let grown = grow(&needle, 0.25, TipTrim::Full).expect("it grows");
    assert_eq!(grown.edges().len(), 4);
    assert!((grown.bounds().x0 + 12.0 * 0.25).abs() < 1e-9);
}

prop_compose! {
    /// A star-shaped outline about the origin of lines and arcs: corners 20 to 60 degrees apart, bulges either way.
    fn any_outline()(steps in prop::collection::vec((0.6..1.0_f64, 3.0..5.0_f64, -0.35..0.35_f64, any::<bool>()), 6..14)) -> Loop {
        let whole: f64 = steps.iter().map(|s| s.0).sum();
        let mut angle = 0.0;
        let corners: Vec<Point> = steps.iter().map(|&(step, radius, ..)| {
            angle += step / whole * 2.0 * PI;
            p(radius * libm::cos(angle), radius * libm::sin(angle))
        }).collect();
        let n = corners.len();
        Loop::new((0..n).map(|i| {
            let (from, to, bulge) = (corners[i], corners[(i + 1) % n], steps[i].2);
            if !steps[i].3 || bulge.abs() < 0.02 {
                return Edge::Line { from, to };
            }
            // An arc by the tangent of a quarter of its sweep.
            let chord = to - from;
            let off = (1.0 - bulge * bulge) / (4.0 * bulge);
            let centre = from.midpoint(to) + Vec2::new(-chord.y, chord.x) * off;
            Edge::Arc { from, to, centre, turn: if bulge > 0.0 { Turn::Left } else { Turn::Right } }
        }).collect())
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn shrinking_undoes_growing(outline in any_outline(), by in 0.01..0.3_f64) {
        // Not where a needle was cut off, or where parts ran into each other.
        if let Ok(grown) = grow(&outline, by, TipTrim::Full)
            && grown.edges().len() == outline.edges().len()
        {
            let back = grow(&grown, -by, TipTrim::Full);
            prop_assert!(back.is_ok_and(|back| same(&back, &outline)));
        }
    }

    /// Growth takes in the perimeter times the distance, and more at the corners that stand out.
    #[test]
    fn a_convex_outline_grows_by_at_least_its_perimeter_times_the_distance(
        radius in 1.0..5.0_f64, corners in 3..12_u32, by in 0.01..0.5_f64,
    ) {
        let outline = Loop::polygon(&(0..corners).map(|i| {
            let angle = 2.0 * PI * f64::from(i) / f64::from(corners);
            p(radius * libm::cos(angle), radius * libm::sin(angle))
        }).collect::<Vec<_>>());
        let won = grow(&outline, by, TipTrim::Full).expect("it grows").area() - outline.area();
        // Tangents at the corners: n tan(π / n) for each square of the distance.
        let n = f64::from(corners);
        prop_assert!((won - outline.perimeter() * by - n * libm::tan(PI / n) * by * by).abs() < 1e-9);
    }

    #[test]
    fn growing_never_panics(outline in any_outline(), by in -3.0..3.0_f64, aligned in any::<bool>()) {
        let tips = if aligned { TipTrim::Aligned } else { TipTrim::Full };
        if let Ok(grown) = grow(&outline, by, tips) {
            prop_assert!(grown.area().is_finite());
        }
    }
}
