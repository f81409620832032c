//! Lines cut at a margin, and gaps among lines. Wanted values are from plane geometry; an independent polygon library cuts the same.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::clip::FloatClip;
use i_overlay::string::clip::ClipRule;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use seamfall_geom::{Edge, Inset, Loop, Point, Pose, Rect, TipTrim, Turn, Vec2, grow, largest_gap, node};
use std::f64::consts::{PI, SQRT_2};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn line(a: (f64, f64), b: (f64, f64)) -> Edge {
    Edge::Line { from: p(a.0, a.1), to: p(b.0, b.1) }
}

fn circle(centre: Point, radius: f64) -> [Edge; 2] {
    let (west, east) = (centre - Vec2::new(radius, 0.0), centre + Vec2::new(radius, 0.0));
    [(west, east), (east, west)].map(|(from, to)| Edge::Arc { from, to, centre, turn: Turn::Left })
}

/// Lengths inside and outside.
fn lengths(inset: &Inset, chain: &[Edge]) -> (f64, f64) {
    let sum = |inside: bool| -> f64 {
        inset.cut(chain).iter().filter(|run| run.inside == inside).flat_map(|run| &run.edges).map(Edge::length).sum()
    };
    (sum(true), sum(false))
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

#[test]
fn a_line_across_a_square_leaves_the_margin_at_both_ends() {
    let inset = Inset::new(&Loop::rect(Rect::new(0.0, 0.0, 12.0, 12.0)), 0.75);
    let runs = inset.cut(&[line((-2.0, 5.0), (14.0, 5.0))]);
    let ends: Vec<_> = runs.iter().map(|run| (run.inside, run.edges[0].from().x, run.edges[0].to().x)).collect();
    assert_eq!(ends, [(false, -2.0, 0.75), (true, 0.75, 11.25), (false, 11.25, 14.0)]);
}

/// A line on the margin itself is at least as far as it: inside. One along the edge is outside.
#[test]
fn a_line_along_the_margin_is_inside() {
    let inset = Inset::new(&Loop::rect(Rect::new(0.0, 0.0, 12.0, 12.0)), 0.75);
    assert_eq!(lengths(&inset, &[line((2.0, 0.75), (10.0, 0.75))]), (8.0, 0.0));
    assert_eq!(lengths(&inset, &[line((0.0, 0.0), (12.0, 0.0))]), (0.0, 12.0));
}

/// A circle of radius 5 about the middle of a square of side 8, margin 0: four arcs of 2 acos(4/5) each are outside.
#[test]
fn a_circle_stays_arcs() {
    let inset = Inset::new(&Loop::rect(Rect::new(0.0, 0.0, 8.0, 8.0)), 0.0);
    let chain = circle(p(4.0, 4.0), 5.0);
    let (inside, outside) = lengths(&inset, &chain);
    let away = 4.0 * 5.0 * 2.0 * libm::acos(4.0 / 5.0);
    assert!(close(outside, away) && close(inside, 10.0 * PI - away), "{inside} {outside}");
    assert!(
        inset.cut(&chain).iter().flat_map(|run| &run.edges).all(|edge| edge.radius().is_some_and(|radius| close(radius, 5.0)))
    );
}

/// Behind a hollow corner the inside is round: a slanting line past it is cut by a circle about the corner.
#[test]
fn the_inside_is_round_at_a_hollow_corner() {
    let hollow = Loop::polygon(&[p(0.0, 0.0), p(8.0, 0.0), p(8.0, 4.0), p(4.0, 4.0), p(4.0, 8.0), p(0.0, 8.0)]);
    let inset = Inset::new(&hollow, 1.0);
    let corner = p(4.0, 4.0);
    // At right angles to the diagonal, 0.8 from the corner: outside along 2 √(1 - 0.64).
    let (foot, way) = (corner - Vec2::new(0.8, 0.8) / SQRT_2, Vec2::new(1.0, -1.0) / SQRT_2);
    let (from, to) = (foot - way, foot + way);
    let (_, outside) = lengths(&inset, &[Edge::Line { from, to }]);
    assert!(close(outside, 1.2), "{outside}");
}

#[test]
fn a_margin_wider_than_the_section_leaves_nothing() {
    let inset = Inset::new(&Loop::polygon(&[p(0.0, 0.0), p(4.0, 0.0), p(0.0, 4.0)]), 2.0);
    assert_eq!(lengths(&inset, &[line((0.5, 0.5), (1.5, 1.5))]).0, 0.0);
}

/// A closed form: the outline of a square grown by `d` with sharp corners has area (s + 2 d)², of a triangle's legs s (s + (2 + √2) d)² / 2.
#[test]
fn areas_of_offset_outlines_are_those_of_closed_forms() {
    for d in [-0.5, -0.25, 0.25, 0.75] {
        let square = grow(&Loop::rect(Rect::new(0.0, 0.0, 6.0, 6.0)), d, TipTrim::Full).expect("there is room");
        assert!(close(square.area(), (6.0 + 2.0 * d) * (6.0 + 2.0 * d)));
        let triangle = grow(&Loop::polygon(&[p(0.0, 0.0), p(6.0, 0.0), p(0.0, 6.0)]), d, TipTrim::Full).expect("there is room");
        let leg = 6.0 + (2.0 + SQRT_2) * d;
        assert!(close(triangle.area(), leg * leg / 2.0));
        let disc = grow(&Loop::new(circle(p(1.0, 2.0), 3.0).to_vec()), d, TipTrim::Full).expect("there is room");
        assert!(close(disc.area(), PI * (3.0 + d) * (3.0 + d)));
    }
}

#[test]
fn crossed_lines_are_cut_at_their_crossing() {
    let noded = node(&[line((0.0, 1.0), (2.0, 1.0)), line((1.0, 0.0), (1.0, 2.0)), line((0.0, 1.0), (2.0, 1.0))]);
    assert_eq!((noded.vertices.len(), noded.edges.len()), (5, 4));
    let total: f64 = noded.edges.iter().map(|edge| edge.edge.length()).sum();
    assert!(close(total, 4.0));
    assert_eq!(node(&[]).edges.len(), 0);
}

/// Among the sides of a square, the largest circle is the one inscribed; among parallel lines, half their distance.
#[test]
fn gaps_are_those_of_plane_geometry() {
    let square = Loop::rect(Rect::new(0.0, 0.0, 12.0, 12.0));
    let gap = largest_gap(&square, square.edges(), 0.01, 0.0).expect("there is room");
    assert!(gap.radius <= 6.0 && 6.0 <= gap.bound && gap.bound - gap.radius <= 0.0101, "{gap:?}");
    let lines: Vec<Edge> = (0..5).map(|k| line((0.0, 3.0 * f64::from(k)), (12.0, 3.0 * f64::from(k)))).collect();
    let gap = largest_gap(&square, &lines, 0.01, 0.0).expect("there is room");
    assert!(gap.radius <= 1.5 && 1.5 <= gap.bound && gap.bound - gap.radius <= 0.0101, "{gap:?}");
    // One corner without lines: the farthest point of a right triangle from its long side is its corner, at half the square's diagonal.
    let gap = largest_gap(&square, &[line((0.0, 12.0), (12.0, 0.0))], 0.01, 0.0).expect("there is room");
    assert!((gap.radius - 6.0 * SQRT_2).abs() <= 0.011, "{gap:?}");
    assert_eq!(largest_gap(&square, &[], 0.01, 0.0), None);
    assert_eq!(largest_gap(&square, &lines, 0.01, 2.0), None);
}

fn any_region() -> impl Strategy<Value = Loop> {
    let square = Loop::rect(Rect::new(0.0, 0.0, 6.0, 6.0));
    prop_oneof![
        Just(square.clone()),
        Just(square.moved(Pose::turn_deg(45.0).then(Pose::shift(Vec2::new(3.0, -1.0))))),
        Just(Loop::polygon(&[p(0.0, 0.0), p(6.0, 0.0), p(3.0, 27_f64.sqrt())])),
        Just(Loop::polygon(&[p(0.0, 0.0), p(7.0, 0.0), p(0.0, 7.0)])),
        Just(Loop::polygon(&[p(0.0, 0.0), p(6.0, 0.0), p(6.0, 2.5), p(2.5, 2.5), p(2.5, 6.0), p(0.0, 6.0)])),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, rng_seed: RngSeed::Fixed(7), failure_persistence: None, ..ProptestConfig::default() })]

    /// Nothing is lost and nothing is doubled, whatever the margin; and a run's middle is where it says.
    #[test]
    fn inside_and_outside_are_the_whole(
        region in any_region(),
        margin in 0.0..2.0_f64,
        (a, b, c, d) in (-1.5..7.5_f64, -1.5..7.5_f64, -1.5..7.5_f64, -1.5..7.5_f64),
        bulge in prop_oneof![Just(0.0), -1.5..1.5_f64],
    ) {
        prop_assume!((a - c).abs() + (b - d).abs() > 0.1);
        let edge = if bulge.abs() < 0.05 { line((a, b), (c, d)) } else {
            let (from, to) = (p(a, b), p(c, d));
            let chord = to - from;
            let centre = from.midpoint(to) + Vec2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
            Edge::Arc { from, to, centre, turn: if bulge > 0.0 { Turn::Left } else { Turn::Right } }
        };
        let inset = Inset::new(&region, margin);
        let (inside, outside) = lengths(&inset, &[edge]);
        prop_assert!((inside + outside - edge.length()).abs() < 1e-9 * edge.length().max(1.0));
        for run in inset.cut(&[edge]) {
            for k in 1..20 {
                let at = run.edges[0].at(f64::from(k) / 20.0);
                let from_edge = region.edges().iter().map(|edge| edge.distance_to(at)).fold(f64::INFINITY, f64::min);
                // Half a tolerance either side of the margin a point may be either.
                if (from_edge - margin).abs() > 1e-5 {
                    prop_assert_eq!(run.inside, region.contains(at) && from_edge > margin, "{:?}", at);
                }
            }
        }
    }

    /// The same lines cut by i_overlay, at outlines offset by hand; it reckons on a whole-number grid, so to a ten-thousandth.
    #[test]
    fn straight_lines_are_cut_as_an_independent_library_cuts_them(
        region in any_region(),
        margin in prop_oneof![Just(0.0), 0.1..1.0_f64],
        (a, b, c, d) in (-1.5..7.5_f64, -1.5..7.5_f64, -1.5..7.5_f64, -1.5..7.5_f64),
    ) {
        prop_assume!((a - c).abs() + (b - d).abs() > 0.1);
        let corners = region.edges().len();
        // Hollow corners are round, which offset outlines of straight edges are not: those regions are cut without a margin.
        let margin = if corners == 6 { 0.0 } else { margin };
        let inner = grow(&region, -margin, TipTrim::Full).expect("there is room");
        let shape: Vec<[f64; 2]> = inner.corners().map(|p| [p.x, p.y]).collect();
        let clip = ClipRule { invert: false, boundary_included: true };
        let theirs = vec![[a, b], [c, d]].clip_by(&shape, FillRule::NonZero, clip);
        let length: f64 = theirs.iter().flat_map(|path| path.windows(2).map(|w| p(w[0][0], w[0][1]).distance(p(w[1][0], w[1][1])))).sum();
        let (ours, _) = lengths(&Inset::new(&region, margin), &[line((a, b), (c, d))]);
        prop_assert!((ours - length).abs() < 1e-4, "{ours} {length}");
    }
}
