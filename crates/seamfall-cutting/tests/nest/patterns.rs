//! Patterns whose density is known in closed form.

use std::f64::consts::PI;

use seamfall_cutting::nest::{Budget, Cloth, FLATNESS, FLATNESS_OF_HOLLOWS, Row, Template, Turns, cut, rows};
use seamfall_geom::{Edge, Loop, Point, Turn};

use crate::check;

pub fn template(outline: Loop, count: u32, turns: Turns) -> Template {
    Template { name: "template".into(), outline, count, turns }
}

fn polygon(corners: &[(f64, f64)]) -> Loop {
    Loop::polygon(&corners.iter().map(|&(x, y)| Point::new(x, y)).collect::<Vec<_>>())
}

fn arc(from: (f64, f64), to: (f64, f64), centre: (f64, f64), turn: Turn) -> Edge {
    let p = |(x, y)| Point::new(x, y);
    Edge::Arc { from: p(from), to: p(to), centre: p(centre), turn }
}

/// A hexagon of side 1, two of its sides level.
fn hexagon() -> Loop {
    let h = 3f64.sqrt() / 2.0;
    polygon(&[(0.5, 0.0), (1.5, 0.0), (2.0, h), (1.5, 2.0 * h), (0.5, 2.0 * h), (0.0, h)])
}

fn circle(radius: f64) -> Loop {
    let (a, b) = ((radius, 0.0), (-radius, 0.0));
    Loop::new(vec![arc(a, b, (0.0, 0.0), Turn::Left), arc(b, a, (0.0, 0.0), Turn::Left)])
}

fn densest(outline: &Loop, turns: Turns) -> Row {
    let template = template(outline.clone(), 1, turns);
    let cloth = Cloth { width: 40.0, gap: 0.0 };
    let row = rows(&template, cloth).expect("a good template").swap_remove(0);
    check::strip(std::slice::from_ref(&template), &row.strip(5), cloth);
    row
}

/// Each tiles the plane with the turns given: plane geometry, and for quadrilaterals the half turn about the middles of the sides.
#[test]
fn what_tiles_the_plane_is_found_without_a_gap() {
    let h = 3f64.sqrt();
    for (name, outline, turns) in [
        ("hexagon", hexagon(), Turns::None),
        ("triangle, equal sides", polygon(&[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0 * h)]), Turns::Half),
        ("half-square triangle", polygon(&[(0.0, 0.0), (3.0, 0.0), (0.0, 3.0)]), Turns::Half),
        ("diamond", polygon(&[(2.0, 0.0), (4.0, 2.0 * h), (2.0, 4.0 * h), (0.0, 2.0 * h)]), Turns::None),
        (
            "diamond of 45 degrees",
            polygon(&[(0.0, 0.0), (3.0, 0.0), (3.0 + 4.5f64.sqrt(), 4.5f64.sqrt()), (4.5f64.sqrt(), 4.5f64.sqrt())]),
            Turns::None,
        ),
        ("tumbler", polygon(&[(0.75, 0.0), (4.25, 0.0), (5.0, 5.5), (0.0, 5.5)]), Turns::Half),
        ("kite", polygon(&[(0.0, 2.0), (2.0 * h, 0.0), (8.0 / h, 2.0), (2.0 * h, 4.0)]), Turns::Half),
        ("rectangle", polygon(&[(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)]), Turns::None),
        ("an L", polygon(&[(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0)]), Turns::None),
    ] {
        let density = densest(&outline, turns).density;
        assert!((density - 1.0).abs() < 1e-6, "{name}: {density}");
    }
}

/// Same way up only, a triangle covers two thirds (of all lattices; I. Fáry, 1950).
#[test]
fn a_triangle_that_may_not_be_turned_covers_two_thirds() {
    let density = densest(&polygon(&[(0.0, 0.0), (4.0, 0.0), (2.0, 3.0)]), Turns::None).density;
    assert!((density - 2.0 / 3.0).abs() < 1e-6, "{density}");
}

/// Circles: no lattice is denser than pi / sqrt(12) (Lagrange, 1773), and the rows found are that dense, but for the flattening.
#[test]
fn circles_lie_in_the_densest_lattice() {
    let radius = 1.75;
    let row = densest(&circle(radius), Turns::None);
    let best = PI / 12f64.sqrt();
    assert!(row.density <= best && row.density >= best * (1.0 - 3.0 * FLATNESS / radius), "{}", row.density);
    // Rows alternate between eleven and ten or eleven: from row to row no more than r sqrt(3).
    let (five, six) = (row.strip(5).height, row.strip(6).height);
    assert!((six - five - radius * 3f64.sqrt()).abs() < 2.0 * FLATNESS, "{five} {six}");
}

/// A clamshell is a half circle over two hollow quarter circles of the same radius; each row fills the hollows of the one below.
#[test]
fn clamshells_tile() {
    let r = 2.0;
    let shell = Loop::new(vec![
        arc((r, r), (-r, r), (0.0, r), Turn::Left),
        arc((-r, r), (0.0, 0.0), (-r, 0.0), Turn::Right),
        arc((0.0, 0.0), (r, r), (r, 0.0), Turn::Right),
    ]);
    assert!((shell.area() - 2.0 * r * r).abs() < 1e-9, "half a circle more and two quarters less");
    // Where a bulge lies in a hollow both are off: the pitch of 2 r and the rise of r may be larger by as much.
    let off = FLATNESS + FLATNESS_OF_HOLLOWS;
    let row = densest(&shell, Turns::None);
    assert!(row.density <= 1.0 && row.density > 2.0 * r * r / ((2.0 * r + 2.0 * off) * (r + 2.0 * off)), "{}", row.density);
    assert!((row.strip(4).height - 5.0 * r).abs() < 8.0 * off, "four rows of 2 r, each r above the last");
}

/// Twelve columns of hexagons and halves at their ends: 11 1/2 hexagons high, where all of them have a place.
#[test]
fn half_hexagons_fill_the_ends_of_the_columns() {
    let scale = 2.25;
    let h = scale * 3f64.sqrt() / 2.0;
    let p = |x: f64, y: f64| (scale * x, h * y);
    let whole = polygon(&[p(0.5, 0.0), p(1.5, 0.0), p(2.0, 1.0), p(1.5, 2.0), p(0.5, 2.0), p(0.0, 1.0)]);
    let half = polygon(&[p(0.0, 0.0), p(0.5, -1.0), p(1.5, -1.0), p(2.0, 0.0)]);
    let templates = [template(whole, 130, Turns::None), template(half, 14, Turns::Half)];
    let cloth = Cloth { width: 42.0, gap: 0.0 };
    let nesting = cut(&templates, cloth, Budget::FULL).expect("hexagons");
    check::layout(&templates, cloth, &nesting);
    assert!((nesting.length - 23.0 * h).abs() < 1e-6, "{} and not {}", nesting.length, 23.0 * h);
}

/// A parallelogram laid along its long side, where the grain allows it: strips as high as the distance of its sides.
#[test]
fn any_turn_allowed_finds_the_lowest_strip() {
    let slanted = polygon(&[(0.0, 0.0), (2.0, 0.0), (6.0, 8.0), (4.0, 8.0)]);
    let template = template(slanted, 20, Turns::Free);
    let cloth = Cloth { width: 42.0, gap: 0.0 };
    let found = rows(&template, cloth).expect("a good template");
    let lowest = found.iter().map(|row| row.strip(1).height).fold(f64::MAX, f64::min);
    let apart = 16.0 / 80f64.sqrt();
    assert!((lowest - apart).abs() < 1e-6, "{lowest} and not {apart}");
    let one = std::slice::from_ref(&template);
    let nesting = cut(one, cloth, Budget::FULL).expect("parallelograms");
    check::layout(one, cloth, &nesting);
}
