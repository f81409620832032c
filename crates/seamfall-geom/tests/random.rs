//! Whatever is drawn, the faces add up to the frame; and an independent polygon library finds the same areas.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use proptest::prelude::*;
use seamfall_geom::{Arrangement, Edge, Loop, Point, Rect, Turn, Vec2, arrange};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// An arc by its bulge, the tangent of a quarter of its sweep; a line where it is next to nothing.
fn bulged(from: Point, to: Point, bulge: f64) -> Edge {
    if bulge.abs() < 0.05 {
        return Edge::Line { from, to };
    }
    let chord = to - from;
    let centre = from.midpoint(to) + Vec2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
    Edge::Arc { from, to, centre, turn: if bulge > 0.0 { Turn::Left } else { Turn::Right } }
}

fn any_frame() -> impl Strategy<Value = Loop> {
    let disc = Loop::new(vec![bulged(p(0.0, 3.0), p(6.0, 3.0), 1.0), bulged(p(6.0, 3.0), p(0.0, 3.0), 1.0)]);
    let arch = Loop::new(vec![
        Edge::Line { from: p(0.0, 0.0), to: p(6.0, 0.0) },
        Edge::Line { from: p(6.0, 0.0), to: p(6.0, 3.0) },
        bulged(p(6.0, 3.0), p(0.0, 3.0), 1.0),
        Edge::Line { from: p(0.0, 3.0), to: p(0.0, 0.0) },
    ]);
    let hollow = Loop::new(vec![
        Edge::Line { from: p(0.0, 0.0), to: p(6.0, 0.0) },
        Edge::Line { from: p(6.0, 0.0), to: p(6.0, 6.0) },
        bulged(p(6.0, 6.0), p(0.0, 6.0), -0.6),
        Edge::Line { from: p(0.0, 6.0), to: p(0.0, 0.0) },
    ]);
    prop_oneof![
        Just(Loop::rect(Rect::new(0.0, 0.0, 6.0, 6.0))),
        Just(Loop::polygon(&[p(0.0, 0.0), p(6.0, 0.0), p(3.0, 27_f64.sqrt())])),
        Just(disc),
        Just(arch),
        Just(hollow),
    ]
}

/// Free seams, some far outside.
fn any_edge() -> impl Strategy<Value = Edge> {
    let c = || -1.5..7.5_f64;
    (c(), c(), c(), c(), prop_oneof![Just(0.0), -1.5..1.5_f64]).prop_map(|(a, b, c, d, bulge)| bulged(p(a, b), p(c, d), bulge))
}

/// Seams between points of a grid of whole numbers, bulges of quarter and half circles: overlaps, touches and equal crossings.
fn grid_edge() -> impl Strategy<Value = Edge> {
    let c = || (-1..8_i32).prop_map(f64::from);
    let bulge = prop_oneof![3 => Just(0.0), 1 => Just(1.0), 1 => Just(-1.0), 1 => Just(2_f64.sqrt() - 1.0), 1 => Just(1.0 - 2_f64.sqrt())];
    (c(), c(), c(), c(), bulge).prop_map(|(a, b, c, d, bulge)| bulged(p(a, b), p(c, d), bulge))
}

/// Seams through one point, and seams that miss it by about the tolerance.
fn fan_edge() -> impl Strategy<Value = Edge> {
    let miss = || prop_oneof![Just(0.0), -3e-6..3e-6_f64];
    (0.0..6.3_f64, 0.5..6.0_f64, 0.5..6.0_f64, miss(), miss()).prop_map(|(angle, ahead, behind, dx, dy)| {
        let (sin, cos) = libm::sincos(angle);
        let middle = p(2.5 + dx, 2.25 + dy);
        let along = Vec2::new(cos, sin);
        Edge::Line { from: middle - along * behind, to: middle + along * ahead }
    })
}

/// Ends that differ from whole numbers by up to three tolerances.
fn shaken_edge() -> impl Strategy<Value = Edge> {
    let c = || ((-1..8_i32).prop_map(f64::from), -3e-6..3e-6_f64).prop_map(|(c, off)| c + off);
    let bulge = prop_oneof![2 => Just(0.0), 1 => Just(1.0), 1 => Just(1.0 - 2_f64.sqrt())];
    (c(), c(), c(), c(), bulge).prop_map(|(a, b, c, d, bulge)| bulged(p(a, b), p(c, d), bulge))
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![any::<f64>(), -9.0..9.0_f64, Just(f64::NAN), Just(f64::INFINITY), Just(1e18), Just(0.0)]
}

fn wild_edge() -> impl Strategy<Value = Edge> {
    (any_number(), any_number(), any_number(), any_number(), any_number(), any_number(), 0..3).prop_map(
        |(a, b, c, d, e, f, kind)| {
            let (from, to, centre) = (p(a, b), p(c, d), p(e, f));
            match kind {
                0 => Edge::Line { from, to },
                1 => Edge::Arc { from, to, centre, turn: Turn::Left },
                _ => Edge::Arc { from, to, centre, turn: Turn::Right },
            }
        },
    )
}

fn seams() -> impl Strategy<Value = Vec<Edge>> {
    let many = |edge: BoxedStrategy<Edge>| prop::collection::vec(edge, 0..25);
    prop_oneof![
        many(any_edge().boxed()),
        many(grid_edge().boxed()),
        many(fan_edge().boxed()),
        many(shaken_edge().boxed()),
        many(wild_edge().boxed()),
        many(prop_oneof![any_edge(), grid_edge(), fan_edge(), shaken_edge()].boxed()),
    ]
}

/// What must hold for every arrangement.
fn adds_up(frame: &Loop, found: &Arrangement) -> Result<(), TestCaseError> {
    let sum: f64 = found.faces.iter().map(seamfall_geom::Face::area).sum();
    prop_assert!((sum - frame.area()).abs() <= 1e-9 * frame.area(), "areas add up to {sum}, not to {}", frame.area());
    for edge in &found.edges {
        prop_assert!(edge.from != edge.to);
        prop_assert_eq!((edge.edge.from(), edge.edge.to()), (found.vertices[edge.from], found.vertices[edge.to]));
    }
    for face in &found.faces {
        for (k, edge) in face.outline.edges().iter().enumerate() {
            prop_assert_eq!(edge.to(), face.outline.edges()[(k + 1) % face.edges.len()].from());
        }
    }
    Ok(())
}

/// What must hold besides unless seams miss one another by about the tolerance: an edge of an outline has that face on one side
/// and another, or none, on the other.
fn parts_faces(found: &Arrangement) -> Result<(), TestCaseError> {
    prop_assert!(found.edges.iter().all(|edge| edge.left.is_some()));
    for (i, face) in found.faces.iter().enumerate() {
        for edge in face.edges.iter().map(|&number| &found.edges[number]) {
            prop_assert!(edge.left == Some(i) || edge.right == Some(i));
            prop_assert!(edge.left != edge.right);
        }
    }
    Ok(())
}

fn flat(outline: &Loop) -> Vec<[f64; 2]> {
    outline
        .edges()
        .iter()
        .flat_map(|edge| {
            let steps = if edge.radius().is_some() { 64 } else { 1 };
            (0..steps).map(move |k| edge.at(f64::from(k) / f64::from(steps))).map(|p| [p.x, p.y])
        })
        .collect()
}

/// Area of the part two sets of contours share, by the other library.
fn shared(a: &[Vec<[f64; 2]>], b: &[Vec<[f64; 2]>]) -> f64 {
    let shapes = a.to_vec().overlay(&b.to_vec(), OverlayRule::Intersect, FillRule::NonZero);
    let area = |contour: &Vec<[f64; 2]>| -> f64 {
        (0..contour.len())
            .map(|i| (contour[i], contour[(i + 1) % contour.len()]))
            .map(|(p, q)| p[0] * q[1] - q[0] * p[1])
            .sum::<f64>()
            / 2.0
    };
    shapes.iter().flatten().map(area).sum::<f64>().abs()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn faces_add_up_to_the_frame(frame in any_frame(), seams in seams()) {
        adds_up(&frame, &arrange(&frame, &seams))?;
    }

    #[test]
    fn edges_part_faces(frame in any_frame(), seams in prop::collection::vec(prop_oneof![any_edge(), grid_edge()], 0..25)) {
        let found = arrange(&frame, &seams);
        adds_up(&frame, &found)?;
        parts_faces(&found)?;
    }

    #[test]
    fn the_same_seams_give_the_same_arrangement(frame in any_frame(), seams in seams()) {
        prop_assert_eq!(format!("{:?}", arrange(&frame, &seams)), format!("{:?}", arrange(&frame, &seams)));
    }

    /// Points of the grid at which seams cross stay on it to the bit.
    #[test]
    fn level_and_upright_seams_meet_on_the_grid(xs in prop::collection::vec(0..25_i32, 1..9), ys in prop::collection::vec(0..25_i32, 1..9)) {
        let at = |k: i32| f64::from(k) * 0.25;
        let seams: Vec<Edge> = xs.iter().map(|&x| Edge::Line { from: p(at(x), -1.0), to: p(at(x), 6.0) })
            .chain(ys.iter().map(|&y| Edge::Line { from: p(6.5, at(y)), to: p(0.0, at(y)) })).collect();
        let found = arrange(&Loop::rect(Rect::new(0.0, 0.0, 6.0, 6.0)), &seams);
        prop_assert!(found.vertices.iter().all(|v| (v.x * 4.0).fract() == 0.0 && (v.y * 4.0).fract() == 0.0));
        let inner = |list: &[i32]| list.iter().filter(|&&k| k > 0 && k < 24).collect::<std::collections::BTreeSet<_>>().len() + 1;
        prop_assert_eq!(found.faces.len(), inner(&xs) * inner(&ys));
    }

    /// Faces do not overlap: any two of them share no area by the other library's account, and each has the area it has there.
    #[test]
    fn another_library_finds_the_same_faces(frame in any_frame(), seams in prop::collection::vec(prop_oneof![any_edge(), grid_edge()], 0..9)) {
        let found = arrange(&frame, &seams);
        // Chords instead of arcs: both sides of a seam lose and win the same, so only the frame's own bulge is missed.
        let contours: Vec<Vec<Vec<[f64; 2]>>> = found.faces.iter()
            .map(|face| std::iter::once(&face.outline).chain(&face.holes).map(flat).collect()).collect();
        for (i, a) in contours.iter().enumerate() {
            let area = found.faces[i].area();
            let arcs: f64 = found.faces[i].outline.perimeter();
            prop_assert!((shared(a, a) - area).abs() < 1e-3 * (1.0 + arcs), "face {i}: {} against {area}", shared(a, a));
            for b in &contours[..i] {
                prop_assert!(shared(a, b) < 1e-4, "faces overlap by {}", shared(a, b));
            }
        }
    }

    #[test]
    fn labels_lie_inside_every_face(frame in any_frame(), seams in prop::collection::vec(prop_oneof![any_edge(), grid_edge()], 0..9)) {
        for face in arrange(&frame, &seams).faces {
            // Slivers thinner than the tolerance have no inside to speak of.
            if face.outline.area() > 1e-4 * face.outline.perimeter() {
                prop_assert!(face.outline.contains(face.outline.label_point()), "{:?}", face.outline);
            }
        }
    }
}
