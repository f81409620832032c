//! How corners hang, against geometry: cloth that does not stretch cannot reach lower than its farthest point from the corner allows.
//!
//! Source: `sqrt(side² + foot²)` for a square corner of both; plane geometry. The corner of the mattress is rounded here, so the reach
//! is taken from where the rounding begins, and what goes round it is taken off: the shortest way down a rounded corner is a quarter circle,
//! then straight. A real corner stands out in a fold, and so hangs less low.

use std::f64::consts::FRAC_PI_2;

use super::{bed, scene, settle, spread};
use crate::{Bed, Post};
use seamfall_geom::{Edge, Loop, Point, Turn};

/// Shares of the reach by which the lowest point may lie below what geometry allows, since threads and bias give, and above it, since it
/// stands out in a fold. The second is no law: between nothing and 0.063 was measured, more where the corner is cut.
const BELOW: f64 = 0.02;
const ABOVE: f64 = 0.08;

/// The lowest that any point of the cloth beyond the foot corners can be.
fn lowest_allowed(bed: &Bed, thickness: f64, flat: &[[f64; 2]]) -> (f64, f64) {
    let (x, y) = (bed.width / 2.0, bed.length / 2.0);
    let beyond = flat.iter().filter(|at| at[0].abs() > x && at[1] < -y);
    let far = |at: &[f64; 2]| {
        let (a, b) = (at[0].abs() - (x - bed.edge), -at[1] - (y - bed.edge));
        (a * a + b * b).sqrt()
    };
    let reach = beyond.map(far).fold(0.0, f64::max);
    (reach, bed.height - bed.edge - (reach - FRAC_PI_2 * (bed.edge + thickness / 2.0)))
}

fn check(what: &str, bed: &Bed, outline: Loop) {
    let scene = scene(bed.clone(), outline, 4000);
    let thickness = scene.hand.thickness;
    let drape = settle(scene);
    let (reach, allowed) = lowest_allowed(bed, thickness, drape.flat());
    assert!(drape.settled(), "{what}: speed {}", drape.speed());
    assert!(drape.stretch() < 0.01, "{what}: threads give {}", drape.stretch());
    let corners = drape.corners();
    assert_eq!(corners.len(), 2, "{what}: the cloth ends at the head");
    for corner in corners {
        let above = (corner.height - allowed) / reach;
        assert!(above > -BELOW && above < ABOVE, "{what}: {above} of {reach} above, at {}", corner.height);
    }
}

#[test]
fn square_corners_hang_to_the_root_of_the_squares() {
    for (side, foot) in [(8.0, 8.0), (12.0, 16.0), (17.0, 15.0), (20.0, 10.0)] {
        let bed = bed(60.0, 80.0, 36.0);
        check(&format!("{side} by {foot}"), &bed, spread(&bed, side, foot));
    }
}

/// The lower corners of a spread replaced: from the point on the foot edge to the point on the side, given for the right one.
fn with_corners(bed: &Bed, side: f64, foot: f64, corner: &dyn Fn(f64) -> Vec<Edge>) -> Loop {
    let (x, y) = (bed.width / 2.0, bed.length / 2.0);
    let (right, left) = (corner(1.0), corner(-1.0));
    let ends = |edges: &[Edge]| (edges[0].from(), edges[edges.len() - 1].to());
    let ((foot_right, side_right), (foot_left, side_left)) = (ends(&right), ends(&left));
    let (high_right, high_left) = (Point::new(x + side, y), Point::new(-x - side, y));
    let mut edges = right;
    edges.extend([Edge::Line { from: side_right, to: high_right }, Edge::Line { from: high_right, to: high_left }]);
    edges.push(Edge::Line { from: high_left, to: side_left });
    edges.extend(left.iter().rev().map(Edge::reversed));
    edges.push(Edge::Line { from: foot_left, to: foot_right });
    assert!((foot_left.y + y + foot).abs() < 1e-9);
    Loop::new(edges)
}

#[test]
fn a_corner_set_back_or_cut_hangs_to_its_farthest_point() {
    let bed = bed(60.0, 80.0, 36.0);
    let (x, y, side, foot) = (30.0, 40.0, 16.0, 14.0);
    for back in [6.0, 12.0] {
        let line = |hand: f64| {
            let from = Point::new(hand * (x + side - back), -y - foot);
            vec![Edge::Line { from, to: Point::new(hand * (x + side), -y - foot + back) }]
        };
        check(&format!("cut {back} back"), &bed, with_corners(&bed, side, foot, &line));
    }
    let steps = |hand: f64| {
        let at = |dx: f64, dy: f64| Point::new(hand * (x + side - dx), -y - foot + dy);
        let corners = [at(8.0, 0.0), at(8.0, 8.0), at(0.0, 8.0)];
        vec![Edge::Line { from: corners[0], to: corners[1] }, Edge::Line { from: corners[1], to: corners[2] }]
    };
    check("stepped back", &bed, with_corners(&bed, side, foot, &steps));
}

#[test]
fn a_level_hem_hangs_level() {
    let bed = bed(60.0, 80.0, 36.0);
    let (x, y, drop) = (30.0, 40.0, 16.0);
    let arc = |hand: f64| {
        let centre = Point::new(hand * x, -y);
        let turn = if hand > 0.0 { Turn::Left } else { Turn::Right };
        vec![Edge::Arc { from: Point::new(hand * x, -y - drop), to: Point::new(hand * (x + drop), -y), centre, turn }]
    };
    check("level hem", &bed, with_corners(&bed, drop, drop, &arc));
}

#[test]
fn a_notch_lets_posts_through() {
    let mut bed = bed(60.0, 80.0, 30.0);
    let (side, foot) = (14.0, 14.0);
    bed.posts =
        [-1.0, 1.0].map(|hand| Post { at: [hand * 32.0, -42.0], thickness: 3.0, round: hand > 0.0, height: 50.0 }).to_vec();
    let notch = |hand: f64| {
        let corners =
            [Point::new(hand * 30.0, -40.0 - foot), Point::new(hand * 30.0, -40.0), Point::new(hand * (30.0 + side), -40.0)];
        vec![Edge::Line { from: corners[0], to: corners[1] }, Edge::Line { from: corners[1], to: corners[2] }]
    };
    let drape = settle(scene(bed.clone(), with_corners(&bed, side, foot, &notch), 4000));
    assert!(drape.corners().is_empty(), "nothing hangs over the corners: {:?}", drape.corners());
    assert!(drape.stretch() < 0.01, "threads give {}", drape.stretch());
    for at in drape.points() {
        let inside = bed.posts.iter().any(|post| (at[0] - post.at[0]).abs() < 1.0 && (at[1] - post.at[1]).abs() < 1.0);
        assert!(!inside, "{at:?} is in a post");
    }
}

#[test]
fn a_corner_that_is_too_long_lies_on_the_floor() {
    let bed = bed(60.0, 80.0, 18.0);
    let drape = settle(scene(bed.clone(), spread(&bed, 16.0, 16.0), 4000));
    let lying = drape.hem_on_floor();
    assert!(drape.lowest() >= 0.0 && drape.lowest() < 0.2, "{}", drape.lowest());
    // The reach is 22.6: about 4.6 lie at each of two corners, both sides of the hem.
    assert!(lying > 4.0 && lying < 40.0, "{lying}");
    let short = settle(scene(bed.clone(), spread(&bed, 10.0, 10.0), 2000));
    assert_eq!(short.hem_on_floor(), 0.0);
}
