//! Lines from path data. Lengths are those of closed forms; the grammar is that of SVG 1.1, section 8.3.

use seamfall_geom::{Edge, SvgPathError, svg_chains};
use std::f64::consts::PI;

fn chains(data: &str) -> Result<Vec<Vec<Edge>>, SvgPathError> {
    svg_chains(data, 6.0, 3.0, 0.001, 1000)
}

fn length(chains: &[Vec<Edge>]) -> f64 {
    chains.iter().flatten().map(Edge::length).sum()
}

/// A square of 10 is scaled to the smaller side of the box, 3, about the origin; y runs up.
#[test]
fn a_drawing_is_fitted_into_its_box() {
    let square = chains("M 10 10 h 10 v 10 h -10 z").expect("path data");
    assert_eq!(square.len(), 1);
    assert!((length(&square) - 12.0).abs() < 1e-9);
    let first = square[0][0];
    assert!((first.from().x + 1.5).abs() < 1e-9 && (first.from().y - 1.5).abs() < 1e-9, "{first:?}");
}

/// A circle of two arcs is 3 across: π times that, less what chords lose. The sagitta is the tolerance, so that each chord of angle θ has
/// r (1 - cos θ/2) = 0.001 at most, and loses a share θ²/24 of its length.
#[test]
fn curves_leave_their_lines_by_the_tolerance_at_most() {
    let circle = chains("M 0 5 A 5 5 0 0 1 10 5 A 5 5 0 0 1 0 5 Z").expect("path data");
    let whole = 3.0 * PI;
    let theta = 2.0 * libm::acos(1.0 - 0.001 / 1.5);
    let lost = (whole - length(&circle)) / whole;
    assert!(0.0 < lost && lost < theta * theta / 24.0, "{lost}");
    for edge in circle.iter().flatten() {
        let middle = edge.at(0.5);
        assert!((libm::hypot(middle.x, middle.y) - 1.5).abs() < 0.0015, "{middle:?}");
    }
}

#[test]
fn every_move_starts_a_chain() {
    assert_eq!(chains("M 0 0 L 4 0 M 0 2 L 4 2 L 4 1").expect("path data").len(), 2);
}

#[test]
fn what_is_no_drawing_is_refused() {
    for (data, error) in [
        ("<path d='M 0 0'/>", SvgPathError::Markup),
        ("M 0 0 L 1", SvgPathError::Grammar),
        ("L 1 1", SvgPathError::Grammar),
        ("translate(3)", SvgPathError::Grammar),
        ("M 0 0 L 1e300 1", SvgPathError::Number),
        ("", SvgPathError::Empty),
        ("M 1 1", SvgPathError::Empty),
        ("M 1 1 L 1 1", SvgPathError::Empty),
    ] {
        assert_eq!(chains(data), Err(error), "{data}");
    }
    assert_eq!(chains(&format!("M 0 0 {}", "L 1 2 3 4 ".repeat(600))), Err(SvgPathError::TooMany(1000)));
}

/// An arc is drawn as curves that leave it by less than so much; one with a radius of 1e38 would take three million of them.
#[test]
fn numbers_far_beyond_any_drawing_are_refused_before_they_are_drawn() {
    for (data, far) in [
        ("M0,01e38A5  1 0 1 0 9 9", true),
        ("M0 0L10000000000 0", true),
        ("M0 0l1.5.5e30 2", true),
        ("M0 0L1e9-1e-300", false),
        ("M0 0a5 3 30 019 9.5.5e2", false),
        ("M 0 0 C 1 2 3 2 4 0 S 7 -2 8 0Z", false),
    ] {
        assert_eq!(seamfall_geom::has_far_number(data), far, "{data}");
    }
    assert_eq!(
        seamfall_geom::svg_chains("M0,01e38A5 1 0 1 0 9 9", 6.0, 4.0, 0.01, 100),
        Err(seamfall_geom::SvgPathError::Number)
    );
}
