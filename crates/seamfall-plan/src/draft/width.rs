//! How wide a patch is at its narrowest, to find what is too thin to sew.

use seamfall_geom::{Edge, Loop, Point, TOLERANCE};

/// How wide a patch is, taken as a whole.
///
/// A patch that is nowhere hollow is as wide as the narrowest gap between two parallel lines that hold it. Any other can be
/// thin and bent, a crescent or a frame: it is as wide as a strip of its area and of half its outline's length, where that is
/// less. A tip alone does not make a patch narrow. Arcs are measured at points along them, which is good to a hundredth.
pub(super) fn narrowest(outline: &Loop, holes: &[Loop], area: f64) -> f64 {
    let points = points(outline);
    let width = gap(&hull(points));
    if holes.is_empty() && bulges(outline) {
        return width;
    }
    let around: f64 = outline.perimeter() + holes.iter().map(Loop::perimeter).sum::<f64>();
    width.min(2.0 * area / around)
}

/// Whether an anticlockwise outline is nowhere hollow.
fn bulges(outline: &Loop) -> bool {
    let edges = outline.edges();
    (0..edges.len()).all(|i| {
        let (before, edge) = (&edges[(i + edges.len() - 1) % edges.len()], &edges[i]);
        let hollow = matches!(edge, Edge::Arc { turn: seamfall_geom::Turn::Right, .. });
        !hollow && before.direction_to().cross(edge.direction_from()) > -TOLERANCE
    })
}

/// Corners, and points along arcs.
fn points(outline: &Loop) -> Vec<Point> {
    const ALONG_AN_ARC: u32 = 16;
    let mut points = Vec::new();
    for edge in outline.edges() {
        points.push(edge.from());
        if matches!(edge, Edge::Arc { .. }) {
            points.extend((1..ALONG_AN_ARC).map(|i| edge.at(f64::from(i) / f64::from(ALONG_AN_ARC))));
        }
    }
    points
}

/// The outermost points, anticlockwise (monotone chain: A. M. Andrew, 1979).
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while chain.len() > 1
                && (chain[chain.len() - 1] - chain[chain.len() - 2]).cross(point - chain[chain.len() - 1]) <= 0.0
            {
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

/// The narrowest gap between two parallel lines with a convex polygon between them: one lies on a side.
fn gap(hull: &[Point]) -> f64 {
    let side = |i: usize| (hull[i], hull[(i + 1) % hull.len()] - hull[i]);
    (0..hull.len())
        .map(side)
        .filter(|(_, along)| along.hypot2() > TOLERANCE * TOLERANCE)
        .map(|(from, along)| {
            let far = hull.iter().map(|point| along.cross(*point - from)).fold(0.0, f64::max);
            far / along.hypot2().sqrt()
        })
        .fold(f64::INFINITY, f64::min)
}
