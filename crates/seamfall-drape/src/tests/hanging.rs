//! Cloth that hangs freely, and over an edge.

use std::f64::consts::FRAC_PI_2;

use super::{bed, scene, settle};
use crate::Hand;
use crate::mesh::Mesh;
use crate::motion::{Motion, Rests};
use crate::pace::Course;
use seamfall_geom::{Loop, Rect};

/// A cloth that hangs from those of its points for which `held` is true, carried by so much in the first half of its course.
fn hung(outline: Rect, points: usize, held: impl Fn([f64; 2]) -> Option<[f64; 3]>, hang: f64, falls: f64) -> Motion {
    let mesh = Mesh::new(&Loop::rect(outline), points);
    let course = Course::new(mesh.step[0].min(mesh.step[1]), hang, false);
    let steps = (course.steps_of_a_fall * falls) as usize;
    let carried = |by: [f64; 3]| by.map(|by| by / (steps / 2) as f64);
    let held = (0u32..).zip(&mesh.flat).filter_map(|(point, flat)| held(*flat).map(|by| (point, carried(by)))).collect();
    let at = mesh.flat.iter().map(|flat| [flat[0], flat[1], 0.0]).collect();
    let hand = Hand { bending_length: 0.0, ..Hand::quilt(39.37) };
    let mut motion = Motion::new(mesh, at, held, Rests::default(), hand, course.at(0.0));
    for step in 0..steps {
        if step == steps / 2 {
            motion.held.iter_mut().for_each(|(_, by)| *by = [0.0; 3]);
        }
        motion.pace = course.at(step as f64 / steps as f64);
        motion.step();
    }
    motion
}

/// Source: Jakob Bernoulli, Leibniz and Huygens, Acta Eruditorum, 1691: a chain hangs as `a cosh(x / a)`; at the length `s` from its lowest
/// point it is `a asinh(s / a)` to the side and `sqrt(a² + s²) - a` up. `a` from the span and the length, by halving.
#[test]
fn a_strip_held_at_both_ends_hangs_as_a_chain() {
    let (long, span) = (100.0, 60.0);
    let by = (long - span) / 2.0;
    let ends = |flat: [f64; 2]| (flat[0].abs() > long / 2.0 - 1e-9).then(|| [-by * flat[0].signum(), 0.0, 0.0]);
    let motion = hung(Rect::new(-long / 2.0, -0.5, long / 2.0, 0.5), 100, ends, 50.0, 24.0);
    let (mut low, mut high) = (1.0, 1000.0);
    for _ in 0..100 {
        let a = (low + high) / 2.0;
        if 2.0 * a * libm::sinh(span / (2.0 * a)) > long { low = a } else { high = a }
    }
    let a = low;
    let up = |s: f64| (a * a + s * s).sqrt() - a;
    let sag = up(long / 2.0);
    for (flat, at) in motion.mesh.flat.iter().zip(&motion.at) {
        let s = flat[0];
        let should = [a * libm::asinh(s / a), up(s) - sag];
        let off = [at[0] - should[0], at[2] - should[1]];
        assert!(off.iter().all(|off| off.abs() < 0.001 * sag), "{s} from the middle: at {at:?}, should be at {should:?}");
    }
    assert!(motion.stretch() < 0.01, "{}", motion.stretch());
}

#[test]
fn a_sheet_held_by_one_edge_hangs_straight_and_keeps_its_length() {
    let edge = |flat: [f64; 2]| (flat[1] > -1e-9).then_some([0.0; 3]);
    let motion = hung(Rect::new(-10.0, -40.0, 10.0, 0.0), 800, edge, 40.0, 30.0);
    for (flat, at) in motion.mesh.flat.iter().zip(&motion.at) {
        let off = [at[0] - flat[0], at[1], at[2] - flat[1]];
        assert!(off.iter().all(|off| off.abs() < 0.01 * 40.0), "{flat:?} hangs at {at:?}");
    }
    assert!(motion.stretch() < 0.01, "{}", motion.stretch());
}

/// Height of a hem that hangs over a straight edge rounded by `r`, in the middle of cloth `t` thick: of the drop and the `r` on top, a
/// quarter circle of `r + t / 2` is used up, and the rest hangs straight from `r` below the top. Plane geometry.
fn hem_over_rounded_edge(height: f64, drop: f64, r: f64, t: f64) -> f64 {
    height - r - (drop + r - FRAC_PI_2 * (r + t / 2.0))
}

#[test]
fn a_side_hangs_by_its_drop_less_the_rounding_of_the_edge() {
    for (drop, edge) in [(10.0, 1.0), (16.0, 1.0), (16.0, 3.0), (20.0, 0.5)] {
        let bed = crate::Bed { edge, ..bed(54.0, 75.0, 25.0) };
        let outline = Loop::rect(Rect::new(-27.0 - drop, -30.0, 27.0 + drop, 30.0));
        let scene = scene(bed, outline, 3000);
        let thickness = scene.hand.thickness;
        let drape = settle(scene);
        let should = hem_over_rounded_edge(25.0, drop, edge, thickness);
        // The middle of the hem; stiff cloth stands off the edge a little, threads give a little.
        for (flat, at) in drape.flat().iter().zip(drape.points()) {
            if flat[0].abs() > 27.0 + drop - 1e-9 && flat[1].abs() < 20.0 {
                assert!((at[2] - should).abs() < 0.02 * drop, "drop {drop}, edge {edge}: {at:?}, should be {should}");
            }
        }
    }
}

#[test]
fn friction_keeps_the_head_where_it_lies_though_the_foot_pulls() {
    let bed = bed(60.0, 80.0, 25.0);
    let drape = settle(scene(bed.clone(), super::spread(&bed, 12.0, 16.0), 2000));
    for (flat, at) in drape.flat().iter().zip(drape.points()) {
        if flat[0].abs() < 25.0 && flat[1] > 30.0 {
            assert!((at[1] - flat[1]).abs() < 0.3 && (at[0] - flat[0]).abs() < 0.3, "{flat:?} lies at {at:?}");
        }
    }
}
