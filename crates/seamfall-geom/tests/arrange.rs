//! What an arrangement of seams is, case by case. All areas worked out by hand from plane geometry.

use seamfall_geom::{Arrangement, Edge, Loop, LooseEnd, Point, Rect, Source, Turn, arrange};
use std::f64::consts::PI;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Edge {
    Edge::Line { from: p(x0, y0), to: p(x1, y1) }
}

fn arc(from: (f64, f64), to: (f64, f64), centre: (f64, f64), turn: Turn) -> Edge {
    Edge::Arc { from: p(from.0, from.1), to: p(to.0, to.1), centre: p(centre.0, centre.1), turn }
}

fn square(side: f64) -> Loop {
    Loop::rect(Rect::new(0.0, 0.0, side, side))
}

/// Arranges, checks what holds for every arrangement, and hands back areas in the order of the faces.
fn check(frame: &Loop, given: &[Edge]) -> (Arrangement, Vec<f64>) {
    let found = arrange(frame, given);
    let areas: Vec<f64> = found.faces.iter().map(seamfall_geom::Face::area).collect();
    let sum: f64 = areas.iter().sum();
    assert!((sum - frame.area()).abs() <= 1e-9 * frame.area(), "areas {areas:?} add up to {sum}, not to {}", frame.area());
    for (number, face) in found.faces.iter().enumerate() {
        assert_eq!(face.outline.edges().len(), face.edges.len());
        for (edge, &source) in face.outline.edges().iter().zip(&face.edges) {
            let arranged = &found.edges[source];
            if *edge == arranged.edge {
                assert_eq!(arranged.left, Some(number));
            } else {
                assert_eq!((*edge, arranged.right), (arranged.edge.reversed(), Some(number)));
            }
        }
        for hole in &face.holes {
            assert!(hole.area() < 0.0);
        }
    }
    for edge in &found.edges {
        assert_eq!((edge.edge.from(), edge.edge.to()), (found.vertices[edge.from], found.vertices[edge.to]));
        if let Source::Frame(_) = edge.source {
            assert!(edge.left.is_some() && edge.right.is_none());
        }
    }
    (found, areas)
}

fn assert_close(found: &[f64], wanted: &[f64]) {
    assert_eq!(found.len(), wanted.len(), "{found:?} against {wanted:?}");
    for (f, w) in found.iter().zip(wanted) {
        assert!((f - w).abs() < 1e-6, "{found:?} against {wanted:?}");
    }
}

#[test]
fn an_empty_frame_is_one_face() {
    let (found, areas) = check(&square(4.0), &[]);
    assert_eq!(areas, [16.0]);
    assert_eq!(found.faces[0].outline, square(4.0));
    assert_eq!(found.edges.len(), 4);
}

#[test]
fn a_nine_patch_is_nine_squares_from_the_top_left() {
    let given = [line(0.0, 2.0, 6.0, 2.0), line(0.0, 4.0, 6.0, 4.0), line(2.0, 0.0, 2.0, 6.0), line(4.0, 6.0, 4.0, 0.0)];
    let (found, areas) = check(&square(6.0), &given);
    assert_eq!(areas, [4.0; 9]);
    let corners: Vec<(f64, f64)> = found.faces.iter().map(|f| (f.outline.bounds().x0, f.outline.bounds().y0)).collect();
    assert_eq!(
        corners,
        [(0.0, 4.0), (2.0, 4.0), (4.0, 4.0), (0.0, 2.0), (2.0, 2.0), (4.0, 2.0), (0.0, 0.0), (2.0, 0.0), (4.0, 0.0)]
    );
    assert_eq!((found.vertices.len(), found.edges.len()), (16, 24));
    assert!(found.loose_ends.is_empty() && found.overlaps.is_empty() && found.outside.is_empty());
    // On the grid to the bit.
    assert!(found.vertices.iter().all(|v| v.x % 2.0 == 0.0 && v.y % 2.0 == 0.0));
}

#[test]
fn both_diagonals_meet_exactly_in_the_middle() {
    let (found, areas) = check(&square(3.0), &[line(0.0, 0.0, 3.0, 3.0), line(0.0, 3.0, 3.0, 0.0)]);
    assert_eq!(areas, [2.25; 4]);
    assert!(found.vertices.contains(&p(1.5, 1.5)));
}

/// A quarter circle of 3 in in a 4 in square: 9π/4 and 16 less that; its seam is 3π/2 long.
#[test]
fn a_quarter_circle_parts_a_square() {
    let (found, areas) = check(&square(4.0), &[arc((3.0, 0.0), (0.0, 3.0), (0.0, 0.0), Turn::Left)]);
    assert_close(&areas, &[8.931_417, 7.068_583]);
    let seam = found.edges.iter().find(|e| e.source == Source::Given(0)).expect("the arc is there");
    assert!((seam.edge.length() - 4.712_389).abs() < 1e-6);
    assert_eq!((seam.left, seam.right), (Some(1), Some(0)));
}

#[test]
fn a_closed_circle_is_a_face_and_a_hole() {
    let circle = [arc((3.0, 2.0), (1.0, 2.0), (2.0, 2.0), Turn::Left), arc((1.0, 2.0), (3.0, 2.0), (2.0, 2.0), Turn::Left)];
    let (found, areas) = check(&square(4.0), &circle);
    assert_close(&areas, &[16.0 - PI, PI]);
    assert_eq!(found.faces[0].holes.len(), 1);
    assert!((found.faces[0].holes[0].area() + PI).abs() < 1e-12);
    assert!(found.loose_ends.is_empty());
}

#[test]
fn floating_squares_nest() {
    let ring = |a: f64, b: f64| [line(a, a, b, a), line(b, a, b, b), line(b, b, a, b), line(a, b, a, a)];
    let given: Vec<Edge> = [ring(1.0, 9.0), ring(2.0, 8.0), ring(3.0, 4.0), ring(5.0, 6.0)].concat();
    let (found, areas) = check(&square(10.0), &given);
    assert_eq!(areas, [100.0 - 64.0, 64.0 - 36.0, 36.0 - 2.0, 1.0, 1.0]);
    assert_eq!(found.faces.iter().map(|f| f.holes.len()).collect::<Vec<_>>(), [1, 1, 2, 0, 0]);
}

/// A bar from the frame to a floating square bounds nothing: the same face lies on both sides.
#[test]
fn a_bar_to_a_floating_square_bounds_nothing() {
    let given = [
        line(1.0, 1.0, 3.0, 1.0),
        line(3.0, 1.0, 3.0, 3.0),
        line(3.0, 3.0, 1.0, 3.0),
        line(1.0, 3.0, 1.0, 1.0),
        line(0.0, 2.0, 1.0, 2.0),
    ];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(areas, [12.0, 4.0]);
    let bar = found.edges.iter().find(|e| e.source == Source::Given(4)).expect("the bar is kept");
    assert_eq!((bar.left, bar.right), (Some(0), Some(0)));
    assert!(found.loose_ends.is_empty());
}

#[test]
fn loose_ends_bound_nothing_and_are_told() {
    // One from the frame into the middle, one that floats, one that overshoots the seam it ends on.
    let given = [line(0.0, 1.0, 2.0, 1.0), line(1.0, 3.0, 2.0, 3.5), line(3.0, 0.0, 3.0, 4.0), line(4.0, 2.0, 2.5, 2.0)];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(areas, [12.0, 2.0, 2.0]);
    let ends: Vec<LooseEnd> = vec![
        LooseEnd { given: 0, at: p(2.0, 1.0) },
        LooseEnd { given: 1, at: p(1.0, 3.0) },
        LooseEnd { given: 1, at: p(2.0, 3.5) },
        LooseEnd { given: 3, at: p(2.5, 2.0) },
    ];
    assert_eq!(found.loose_ends, ends);
    let loose = found.edges.iter().find(|e| e.source == Source::Given(0)).expect("kept");
    assert_eq!((loose.left, loose.right), (Some(0), Some(0)));
}

#[test]
fn parts_outside_are_left_out_and_told() {
    let given = [line(-1.0, 2.0, 5.0, 2.0), line(6.0, 6.0, 7.0, 7.0), line(2.0, 2.0, 2.0, 4.0), line(3.0, 5.0, 5.0, 3.0)];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(areas, [4.0, 4.0, 8.0]);
    // The last one only touches the corner.
    assert_eq!(found.outside, [0, 1, 3]);
    assert!(found.loose_ends.is_empty());
}

#[test]
fn seams_along_the_frame_and_along_one_another_are_told_once() {
    let given = [line(1.0, 0.0, 3.0, 0.0), line(0.0, 2.0, 4.0, 2.0), line(1.0, 2.0, 3.0, 2.0), line(4.0, 2.0, 0.0, 2.0)];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(areas, [8.0, 8.0]);
    let pairs: Vec<(Source, Source)> = found.overlaps.iter().map(|o| (o.first, o.second)).collect();
    assert_eq!(
        pairs,
        [(Source::Frame(0), Source::Given(0)), (Source::Given(1), Source::Given(2)), (Source::Given(1), Source::Given(3))]
    );
    assert_eq!(found.overlaps[0].at, p(2.0, 0.0));
    assert!(found.loose_ends.is_empty());
    // Nothing meets the frame where the first ends, nor the second where the third does.
    assert_eq!(found.edges.len(), 7);
}

#[test]
fn arcs_of_one_circle_share_their_stretch() {
    let given = [arc((3.0, 0.0), (0.0, 3.0), (0.0, 0.0), Turn::Left), arc((0.0, 3.0), (1.8, 2.4), (0.0, 0.0), Turn::Right)];
    let (found, areas) = check(&square(4.0), &given);
    assert_close(&areas, &[8.931_417, 7.068_583]);
    assert_eq!(found.overlaps.len(), 1);
    assert!(found.loose_ends.is_empty());
}

#[test]
fn collinear_seams_end_to_end_become_one_edge() {
    let (found, areas) = check(&square(4.0), &[line(0.0, 2.0, 1.0, 2.0), line(4.0, 2.0, 1.0, 2.0)]);
    assert_eq!(areas, [8.0, 8.0]);
    assert!(found.faces.iter().all(|f| f.outline.edges().len() == 4));
}

#[test]
fn an_end_within_tolerance_of_a_seam_is_on_it() {
    let given = [line(2.0, 0.0, 2.0, 4.0), line(2.0 + 9e-7, 2.0, 4.0 - 9e-7, 2.0), line(0.0, 1.0, 2.0 + 9e-7, 1.0)];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(areas.len(), 4);
    assert!(found.loose_ends.is_empty(), "{:?}", found.loose_ends);
}

/// A circle that touches a line and another circle: 2 circles of radius 1 side by side on the middle line of a 4 x 4 square.
#[test]
fn touching_arcs_part_where_they_touch() {
    let circle = |x: f64, y: f64| {
        [arc((x + 1.0, y), (x - 1.0, y), (x, y), Turn::Left), arc((x - 1.0, y), (x + 1.0, y), (x, y), Turn::Left)]
    };
    let given: Vec<Edge> = [circle(1.0, 1.0).to_vec(), circle(3.0, 1.0).to_vec(), vec![line(0.0, 2.0, 4.0, 2.0)]].concat();
    let (found, areas) = check(&square(4.0), &given);
    let corner = 1.0 - PI / 4.0;
    let mut sorted = areas.clone();
    sorted.sort_by(f64::total_cmp);
    // Four corners of the lower half, two waists between the circles, two circles, the upper half. The circles touch the frame at
    // the bottom, the sides and each other.
    assert_close(&sorted, &[corner, corner, corner, corner, 2.0 * corner, 2.0 * corner, PI, PI, 8.0]);
    assert!(found.loose_ends.is_empty());
}

#[test]
fn a_frame_with_arcs_is_parted_like_any_other() {
    // A half disc of radius 2.
    let frame = Loop::new(vec![line(-2.0, 0.0, 2.0, 0.0), arc((2.0, 0.0), (-2.0, 0.0), (0.0, 0.0), Turn::Left)]);
    let (_, areas) = check(&frame, &[line(0.0, -1.0, 0.0, 3.0)]);
    assert_close(&areas, &[PI, PI]);
    // A full disc as frame, of three quarters and one.
    let frame = Loop::new(vec![
        arc((2.0, 0.0), (0.0, -2.0), (0.0, 0.0), Turn::Left),
        arc((0.0, -2.0), (2.0, 0.0), (0.0, 0.0), Turn::Left),
    ]);
    let (found, areas) = check(&frame, &[line(-2.0, 0.0, 2.0, 0.0)]);
    assert_close(&areas, &[2.0 * PI, 2.0 * PI]);
    assert!(found.loose_ends.is_empty());
}

#[test]
fn useless_edges_are_left_out_safely() {
    let nan = f64::NAN;
    let given = [
        line(nan, 0.0, 1.0, 1.0),
        line(0.0, 0.0, f64::INFINITY, 1.0),
        arc((1.0, 1.0), (2.0, 1.0), (nan, 0.0), Turn::Left),
        line(1.0, 1.0, 1.0, 1.0),
        arc((1.0, 1.0), (1.0, 1.0), (2.0, 1.0), Turn::Left),
        line(1e300, -1e300, 1e300, 1e300),
        arc((0.0, 1.0), (4.0, 1.0), (2.0, 1e12), Turn::Left),
        // Two ends not equally far from their centre.
        arc((0.0, 2.0), (4.0, 2.0), (1.7, 2.0), Turn::Left),
    ];
    let (found, areas) = check(&square(4.0), &given);
    assert_eq!(found.outside, [0, 1, 2, 5]);
    assert_eq!(found.loose_ends.iter().map(|e| e.given).collect::<Vec<_>>(), [3, 4]);
    // A level seam from the flat arc, half a circle that hangs through it and touches the frame below.
    assert_eq!(areas.len(), 6);
    assert_eq!(arrange(&Loop::polygon(&[p(0.0, 0.0), p(nan, 1.0), p(1.0, 1.0)]), &given), Arrangement::default());
    assert_eq!(arrange(&Loop::polygon(&[]), &given), Arrangement::default());
    assert_eq!(arrange(&square(1e18), &given), Arrangement::default());
}

/// A thousand seams through the middle of a square: two thousand triangles.
#[test]
fn a_thousand_seams_through_one_point() {
    let given: Vec<Edge> = (0..500)
        .flat_map(|i| {
            let (t, u) = (f64::from(i) * 8.0 / 500.0, f64::from(i + 1) * 8.0 / 500.0);
            [line(t, 0.0, 8.0 - t, 8.0), line(0.0, u, 8.0, 8.0 - u)]
        })
        .collect();
    let (found, areas) = check(&square(8.0), &given);
    assert_eq!(areas.len(), 2000);
    assert!(areas.iter().all(|a| (a - 64.0 / 2000.0).abs() < 1e-9));
    assert!(found.loose_ends.is_empty());
}
