//! What a layout must be, from its definition alone: every piece there, inside the cloth, turned as allowed, none over another. The
//! common area of two pieces is found by a general polygon library, `i_overlay`, of which the search knows nothing.

use i_overlay::core::{fill_rule::FillRule, overlay_rule::OverlayRule};
use i_overlay::float::single::SingleFloatOverlay;
use seamfall_cutting::nest::{Cloth, Nesting, Place, Strip, Template, Turns};
use seamfall_geom::{Edge, Loop, Rect};

/// What two pieces may share along an edge of an inch, from rounding.
const SHARED: f64 = 1e-6;

/// The outline as a polygon with its corners on it; arcs in steps far below what is asked.
fn contour(outline: &Loop) -> Vec<[f64; 2]> {
    let steps = |edge: &Edge| if matches!(edge, Edge::Arc { .. }) { 64 } else { 1 };
    let points = outline.edges().iter().flat_map(|edge| {
        let steps = steps(edge);
        (0..steps).map(move |k| edge.at(f64::from(k) / f64::from(steps)))
    });
    points.map(|p| [p.x, p.y]).collect()
}

fn common_area(a: &Loop, b: &Loop) -> f64 {
    let shapes = contour(a).overlay(&contour(b), OverlayRule::Intersect, FillRule::NonZero);
    let area = |ring: &Vec<[f64; 2]>| -> f64 {
        (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()])).map(|(p, q)| p[0] * q[1] - q[0] * p[1]).sum::<f64>() / 2.0
    };
    shapes.iter().flatten().map(area).sum::<f64>().abs()
}

fn allowed(turns: &Turns, turn: f64) -> bool {
    let near = |angle: f64| ((turn - angle + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-9;
    match turns {
        Turns::None => near(0.0),
        Turns::Half => near(0.0) || near(180.0),
        Turns::Quarter => [0.0, 90.0, 180.0, 270.0].into_iter().any(near),
        Turns::Free => true,
        Turns::Listed(angles) => angles.iter().copied().any(near),
    }
}

/// Panics, with the reason, where the pieces do not lie as they must in a rectangle of that size.
pub fn pieces(templates: &[Template], places: &[Place], width: f64, height: f64) {
    let laid: Vec<(Loop, Rect)> = places
        .iter()
        .map(|place| {
            let template = &templates[place.template];
            assert!(allowed(&template.turns, place.turn), "`{}` may not be turned by {}", template.name, place.turn);
            let outline = template.outline.moved(place.pose());
            let bounds = outline.bounds();
            let inside =
                bounds.x0 >= -SHARED && bounds.y0 >= -SHARED && bounds.x1 <= width + SHARED && bounds.y1 <= height + SHARED;
            assert!(inside, "`{}` reaches over an edge: {bounds:?} in {width} x {height}", template.name);
            (outline, bounds)
        })
        .collect();
    for (i, (one, box_one)) in laid.iter().enumerate() {
        for (other, box_other) in &laid[i + 1..] {
            let both = box_one.intersect(*box_other);
            if both.width() > 0.0 && both.height() > 0.0 {
                let area = common_area(one, other);
                assert!(area <= SHARED * one.perimeter(), "two pieces share {area}: {box_one:?}, {box_other:?}");
            }
        }
    }
}

/// The same for a strip.
pub fn strip(templates: &[Template], strip: &Strip, cloth: Cloth) {
    pieces(templates, &strip.places, cloth.width, strip.height);
}

/// The same for a whole layout, which must have every piece and be no shorter than its bound.
pub fn layout(templates: &[Template], cloth: Cloth, nesting: &Nesting) {
    let mut counts = vec![0; templates.len()];
    for one in &nesting.strips {
        strip(templates, one, cloth);
        one.places.iter().for_each(|place| counts[place.template] += one.times);
    }
    let asked: Vec<u32> = templates.iter().map(|template| template.count).collect();
    assert_eq!(counts, asked, "every piece once");
    let cuts: u32 = nesting.strips.iter().map(|strip| strip.times).sum();
    let heights: f64 = nesting.strips.iter().map(|strip| strip.height * f64::from(strip.times)).sum();
    assert!((nesting.length - heights - cloth.gap * f64::from(cuts - 1)).abs() < 1e-6, "the strips make up the length");
    let area: f64 = templates.iter().map(|template| template.outline.area().abs() * f64::from(template.count)).sum();
    assert!((nesting.area_bound - area / cloth.width).abs() < 1e-6 * nesting.area_bound);
    assert!(nesting.length >= nesting.area_bound - SHARED);
}
