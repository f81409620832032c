//! Laws that hold for any outline.

use proptest::prelude::*;
use seamfall_cutting::nest::{Budget, Cloth, Template, Turns, cut, rows};
use seamfall_geom::{Edge, Loop, Point, Turn};

use crate::check;
use crate::patterns::template;

/// A blade: part of a ring, outside a bulge and inside a hollow.
fn any_blade() -> impl Strategy<Value = Loop> {
    (0.3f64..2.0, 0.5f64..2.0, 0.2f64..2.4).prop_map(|(inner, depth, angle)| {
        let centre = Point::new(0.0, 0.0);
        let at = |reach: f64, angle: f64| {
            let (sin, cos) = libm::sincos(angle);
            Point::new(reach * cos, reach * sin)
        };
        let [a, b] = [at(inner + depth, 0.0), at(inner + depth, angle)];
        let [c, d] = [at(inner, angle), at(inner, 0.0)];
        Loop::new(vec![
            Edge::Arc { from: a, to: b, centre, turn: Turn::Left },
            Edge::Line { from: b, to: c },
            Edge::Arc { from: c, to: d, centre, turn: Turn::Right },
            Edge::Line { from: d, to: a },
        ])
    })
}

fn any_outline() -> impl Strategy<Value = Loop> {
    prop_oneof![3 => any_polygon(), 1 => any_blade()]
}

/// A star-shaped polygon: corners at rising angles, near and far, none half round from the last, or it might cross itself. Hollow corners are likely.
fn any_polygon() -> impl Strategy<Value = Loop> {
    let corners = prop::collection::vec((0.15f64..1.0, 0.6f64..3.0), 3..9).prop_filter("no step is half round", |corners| {
        let whole: f64 = corners.iter().map(|(step, _)| step).sum();
        corners.iter().all(|(step, _)| *step < whole / 2.0)
    });
    corners.prop_map(|corners| {
        let whole: f64 = corners.iter().map(|(step, _)| step).sum();
        let mut angle = 0.0;
        let points = corners.iter().map(|&(step, reach)| {
            angle += step / whole * std::f64::consts::TAU;
            let (sin, cos) = libm::sincos(angle);
            Point::new(reach * cos, reach * sin)
        });
        Loop::polygon(&points.collect::<Vec<_>>())
    })
}

fn any_turns() -> impl Strategy<Value = Turns> {
    let listed = prop::collection::vec(0.0f64..360.0, 1..4).prop_map(Turns::Listed);
    prop_oneof![Just(Turns::None), Just(Turns::Half), Just(Turns::Quarter), Just(Turns::Free), listed]
}

fn any_template() -> impl Strategy<Value = Template> {
    (any_outline(), 1u32..30, any_turns())
        .prop_filter("it encloses something", |(outline, ..)| outline.area() > 0.3)
        .prop_map(|(outline, count, turns)| template(outline, count, turns))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn rows_of_any_outline_keep_apart(template in any_template(), width in 8.0f64..30.0) {
        let cloth = Cloth { width, gap: 0.0 };
        for row in rows(&template, cloth).expect("a good template").iter().take(12) {
            prop_assert!(row.density > 0.0 && row.density <= 1.0 + 1e-9);
            for rows in [1, 2, 5] {
                check::strip(std::slice::from_ref(&template), &row.strip(rows), cloth);
            }
            // A strip holds what is asked, and one of more pieces is no lower.
            let heights: Vec<f64> = [1, 7, 20].iter().map(|&n| {
                let strip = row.strip_of(n).expect("it fits");
                assert_eq!(strip.places.len(), n);
                strip.height
            }).collect();
            prop_assert!(heights.is_sorted_by(|a, b| *a <= b + 1e-9));
        }
    }

    #[test]
    fn layouts_of_any_list_are_whole(list in prop::collection::vec(any_template(), 1..4), width in 8.0f64..30.0) {
        let cloth = Cloth { width, gap: 0.0 };
        let nesting = cut(&list, cloth, Budget::QUICK).expect("a good list");
        check::layout(&list, cloth, &nesting);
    }

    #[test]
    fn a_template_by_itself_is_as_long_as_itself(outline in any_polygon()) {
        prop_assume!(outline.area() > 0.3);
        let one = [template(outline.clone(), 1, Turns::None)];
        let nesting = cut(&one, Cloth { width: 10.0, gap: 0.0 }, Budget::QUICK).expect("a good list");
        prop_assert!((nesting.length - outline.bounds().height()).abs() < 1e-9);
    }
}
