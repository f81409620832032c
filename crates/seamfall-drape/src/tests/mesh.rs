//! The mesh is the cloth: its area, its corners, and where a place lies in it.

use crate::mesh::Mesh;
use seamfall_geom::{Edge, Loop, Point, Rect, Turn};

/// A rectangle with its lower right corner rounded, and its upper left cut.
fn shape() -> Loop {
    let p = Point::new;
    let arc = Edge::Arc { from: p(30.0, 0.0), to: p(50.0, 20.0), centre: p(30.0, 20.0), turn: Turn::Left };
    let mut edges = vec![Edge::Line { from: p(0.0, 0.0), to: p(30.0, 0.0) }, arc];
    let corners = [p(50.0, 20.0), p(50.0, 70.0), p(12.0, 70.0), p(0.0, 51.0), p(0.0, 0.0)];
    edges.extend(corners.windows(2).map(|ends| Edge::Line { from: ends[0], to: ends[1] }));
    Loop::new(edges)
}

fn area(mesh: &Mesh) -> f64 {
    let at = |corner: u32| Point::new(mesh.flat[corner as usize][0], mesh.flat[corner as usize][1]);
    mesh.cells.iter().map(|cell| Loop::polygon(&cell.map(at)).area()).sum()
}

#[test]
fn cells_cover_the_cloth_once() {
    for points in [400, 3000] {
        let rect = Rect::new(-3.0, 1.0, 44.0, 90.0);
        let mesh = Mesh::new(&Loop::rect(rect), points);
        assert!((area(&mesh) - rect.area()).abs() < 1e-9 * rect.area());
        assert!((mesh.flat.len() as f64 / points as f64 - 1.0).abs() < 0.25, "{} for {points}", mesh.flat.len());
        // An outline that is not of the grid: less than a cell's width times a tenth of its length is lost or gained.
        let mesh = Mesh::new(&shape(), points);
        let slack = 0.1 * mesh.step[0] * shape().perimeter();
        assert!((area(&mesh) - shape().area()).abs() < slack, "{} of {}", area(&mesh), shape().area());
    }
}

#[test]
fn corners_of_the_cloth_are_points_of_the_mesh() {
    let mesh = Mesh::new(&shape(), 1000);
    for corner in [[0.0, 0.0], [50.0, 70.0], [12.0, 70.0], [0.0, 51.0]] {
        assert!(mesh.flat.contains(&corner), "{corner:?}");
    }
}

#[test]
fn no_two_ties_of_a_colour_share_a_point_and_no_two_are_one() {
    let mesh = Mesh::new(&shape(), 1000);
    let mut seen = std::collections::BTreeSet::new();
    for colour in mesh.threads.iter().chain(&mesh.bias) {
        let mut touched = std::collections::BTreeSet::new();
        for tie in colour {
            assert!(tie.rest > 0.0 && tie.a != tie.b);
            assert!(touched.insert(tie.a) && touched.insert(tie.b), "{tie:?}");
            assert!(seen.insert((tie.a.min(tie.b), tie.a.max(tie.b))), "{tie:?}");
        }
    }
}

#[test]
fn a_place_is_found_in_a_coarser_mesh_and_lies_where_it_lay() {
    let (coarse, fine) = (Mesh::new(&shape(), 400), Mesh::new(&shape(), 4000));
    let at: Vec<_> = coarse.flat.iter().map(|flat| [flat[0], flat[1], flat[0] - 2.0 * flat[1]]).collect();
    for (flat, at) in fine.flat.iter().zip(crate::refine::refined(&coarse, &at, &fine)) {
        let should = [flat[0], flat[1], flat[0] - 2.0 * flat[1]];
        assert!((0..3).all(|axis| (at[axis] - should[axis]).abs() < 1e-6), "{at:?}, should be {should:?}");
    }
}
