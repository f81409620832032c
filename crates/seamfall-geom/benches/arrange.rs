//! How long it takes to find the faces of a drawing.
//!
//! `lines`: seams from edge to edge, half of them level, half upright. `strokes`: the same kind of grid drawn as unit lines, as
//! a maker draws it. `curves`: quarter circles in every square of a grid. `fan`: seams through one point.

use divan::Bencher;
use seamfall_geom::{Arrangement, Edge, Loop, Point, Rect, Turn, arrange};

fn main() {
    divan::main();
}

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Edge {
    Edge::Line { from: Point::new(x0, y0), to: Point::new(x1, y1) }
}

fn square(side: u32) -> Loop {
    Loop::rect(Rect::new(0.0, 0.0, f64::from(side), f64::from(side)))
}

/// Times one drawing, its number of faces checked once outside the clock.
fn bench(bencher: Bencher, frame: &Loop, seams: &[Edge], faces: usize) {
    assert_eq!(arrange(frame, seams).faces.len(), faces);
    bencher.bench_local(|| -> Arrangement { arrange(divan::black_box(frame), divan::black_box(seams)) });
}

#[divan::bench(args = [10, 100, 1000])]
fn lines(bencher: Bencher, seams: u32) {
    let half = seams / 2;
    let end = f64::from(half + 1);
    let drawn: Vec<Edge> = (1..=half).map(f64::from).flat_map(|k| [line(0.0, k, end, k), line(k, 0.0, k, end)]).collect();
    bench(bencher, &square(half + 1), &drawn, ((half + 1) * (half + 1)) as usize);
}

/// Sides of 3, 7, 23 and 32 squares.
#[divan::bench(args = [12, 84, 1012, 1984])]
fn strokes(bencher: Bencher, seams: u32) {
    let side = (2..).find(|n| 2 * n * (n - 1) >= seams).expect("the count grows with the side");
    let drawn: Vec<Edge> = (1..side)
        .flat_map(|k| (0..side).map(move |i| (f64::from(k), f64::from(i))))
        .flat_map(|(k, i)| [line(i, k, i + 1.0, k), line(k, i, k, i + 1.0)])
        .collect();
    assert_eq!(drawn.len(), seams as usize);
    bench(bencher, &square(side), &drawn, (side * side) as usize);
}

/// Sides of 3, 10 and 31 squares, one level and one upright seam between any two rows and columns besides.
#[divan::bench(args = [9, 100, 961])]
fn curves(bencher: Bencher, arcs: u32) {
    let side = (1..).find(|n| n * n >= arcs).expect("squares grow");
    let end = f64::from(side);
    let mut drawn: Vec<Edge> = (1..side).map(f64::from).flat_map(|k| [line(0.0, k, end, k), line(k, 0.0, k, end)]).collect();
    for (x, y) in (0..side).flat_map(|x| (0..side).map(move |y| (f64::from(x), f64::from(y)))) {
        let centre = Point::new(x, y);
        drawn.push(Edge::Arc { from: Point::new(x + 0.75, y), to: Point::new(x, y + 0.75), centre, turn: Turn::Left });
    }
    bench(bencher, &square(side), &drawn, (2 * side * side) as usize);
}

#[divan::bench(args = [10, 100, 1000])]
fn fan(bencher: Bencher, seams: u32) {
    let step = 8.0 / f64::from(seams / 2);
    let drawn: Vec<Edge> = (0..seams / 2)
        .map(|i| (f64::from(i) * step, f64::from(i + 1) * step))
        .flat_map(|(t, u)| [line(t, 0.0, 8.0 - t, 8.0), line(0.0, u, 8.0, 8.0 - u)])
        .collect();
    bench(bencher, &square(8), &drawn, 2 * seams as usize);
}

/// A place for a label in each of the 100 patches of a block with arcs.
#[divan::bench]
fn labels(bencher: Bencher) {
    let pie = Loop::new(vec![
        line(0.0, 0.0, 3.0, 0.0),
        Edge::Arc { from: Point::new(3.0, 0.0), to: Point::new(0.0, 3.0), centre: Point::ORIGIN, turn: Turn::Left },
        line(0.0, 3.0, 0.0, 0.0),
    ]);
    let triangle = Loop::polygon(&[Point::new(0.0, 0.0), Point::new(3.0, 0.0), Point::new(0.0, 3.0)]);
    bencher.bench_local(|| -> f64 {
        (0..50).map(|_| divan::black_box(&pie).label_point().x + divan::black_box(&triangle).label_point().x).sum()
    });
}
