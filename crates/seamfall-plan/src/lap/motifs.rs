//! Motifs, drawn to size.
//!
//! In: a motif and its width and height. Out: its lines, about the origin, as chains of lines and arcs; none of them is flattened.

use seamfall_geom::{Edge, Loop, Point, Pose, Rect, Turn, Vec2};
use seamfall_model::Motif;
use std::f64::consts::SQRT_2;

/// Edges that follow one another.
pub(super) type Chain = Vec<Edge>;

/// The two halves of a circle.
pub(super) fn circle(centre: Point, radius: f64) -> Chain {
    let (west, east) = (centre - Vec2::new(radius, 0.0), centre + Vec2::new(radius, 0.0));
    vec![arc(west, east, centre, Turn::Left), arc(east, west, centre, Turn::Left)]
}

pub(super) fn arc(from: Point, to: Point, centre: Point, turn: Turn) -> Edge {
    Edge::Arc { from, to, centre, turn }
}

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// One motif. A cable is one period of it, a grid of arcs one square.
pub(super) fn motif(motif: Motif, width: f64, height: f64) -> Vec<Chain> {
    match motif {
        Motif::Circle => vec![circle(Point::ORIGIN, width.min(height) / 2.0)],
        Motif::Oval if (width - height).abs() < 1e-9 => vec![circle(Point::ORIGIN, width / 2.0)],
        Motif::Oval | Motif::Leaf | Motif::Feather if width < height => {
            let lying = self::motif(motif, height, width);
            let upright = Pose::turn_deg(90.0);
            lying.iter().map(|chain| chain.iter().map(|edge| edge.moved(upright)).collect()).collect()
        }
        Motif::Oval => vec![oval(width / 2.0, height / 2.0)],
        Motif::Leaf => leaf(width / 2.0, height / 2.0),
        Motif::Cable => cable(p(-width / 2.0, 0.0), width, height / 2.0, 1),
        Motif::Fan => fan(width.min(height)),
        Motif::Feather => feather(width, height),
        Motif::Arcs => arcs(Rect::new(-width / 2.0, -height / 2.0, width / 2.0, height / 2.0), 1, 1),
    }
}

/// An oval of four arcs, half as wide as `a` and half as high as `b`, `a` the larger. The arc at either end has radius `r`, the arcs above
/// and below the one that touches it: R = ((a - r)² + b² - r²) / (2 (b - r)). The choice of r is ours, between the sharpest bend of an
/// ellipse, b² / a, and b.
fn oval(a: f64, b: f64) -> Chain {
    let least = b * b / a;
    let small = least + 0.3 * (b - least);
    let large = ((a - small) * (a - small) + b * b - small * small) / (2.0 * (b - small));
    let (side, above) = (p(a - small, 0.0), p(0.0, b - large));
    let way = side - above;
    // Where the two arcs touch, on the line through their centres.
    let touch = above + way * (large / way.hypot2().sqrt());
    let (x, y) = (touch.x, touch.y);
    vec![
        arc(p(x, -y), p(x, y), side, Turn::Left),
        arc(p(x, y), p(-x, y), above, Turn::Left),
        arc(p(-x, y), p(-x, -y), p(-side.x, 0.0), Turn::Left),
        arc(p(-x, -y), p(x, -y), p(0.0, -above.y), Turn::Left),
    ]
}

/// Two arcs that rise by `b` over a chord of `2 a`, and the chord.
fn leaf(a: f64, b: f64) -> Vec<Chain> {
    let radius = (a * a + b * b) / (2.0 * b);
    let (west, east) = (p(-a, 0.0), p(a, 0.0));
    let low = p(0.0, b - radius);
    vec![
        vec![arc(east, west, low, Turn::Left), arc(west, east, p(0.0, -low.y), Turn::Left)],
        vec![Edge::Line { from: west, to: east }],
    ]
}

/// Quarter circles about the lower left corner of a square, four of them.
fn fan(side: f64) -> Vec<Chain> {
    let corner = p(-side / 2.0, -side / 2.0);
    (1..=4)
        .map(|ring| {
            let radius = side * f64::from(ring) / 4.0;
            vec![arc(corner + Vec2::new(radius, 0.0), corner + Vec2::new(0.0, radius), corner, Turn::Left)]
        })
        .collect()
}

/// A spine with half circles on both sides, those below half a lobe further on.
fn feather(width: f64, height: f64) -> Vec<Chain> {
    let lobes = (width / height).round().max(1.0);
    let pitch = width / lobes;
    let start = -width / 2.0;
    let lobe = |from: f64, turn: Turn| arc(p(from, 0.0), p(from + pitch, 0.0), p(from + pitch / 2.0, 0.0), turn);
    let count = lobes as u32;
    let above = (0..count).map(|k| lobe(start + pitch * f64::from(k), Turn::Right)).collect();
    let below: Chain = (0..count.saturating_sub(1)).map(|k| lobe(start + pitch * (f64::from(k) + 0.5), Turn::Left)).collect();
    let spine = vec![Edge::Line { from: p(start, 0.0), to: p(start + width, 0.0) }];
    [spine, above, below].into_iter().filter(|chain| !chain.is_empty()).collect()
}

/// From `from` over `width` to the other side of a centre line at the height of `middle`, level at both ends: two equal arcs that touch.
/// Source: plane geometry; each has the radius (w² + h²) / (4 h).
fn bend(from: Point, width: f64, middle: f64) -> [Edge; 2] {
    let rise = 2.0 * (middle - from.y);
    let radius = (width * width + rise * rise) / (4.0 * rise.abs());
    let to = p(from.x + width, from.y + rise);
    let (up, sign) = if rise > 0.0 { (Turn::Left, 1.0) } else { (Turn::Right, -1.0) };
    let half = from.midpoint(to);
    [arc(from, half, from + Vec2::new(0.0, sign * radius), up), arc(half, to, to - Vec2::new(0.0, sign * radius), up.reversed())]
}

/// Two strands that change sides at every half of `periods`, from `start` to the right, `amplitude` either side of it.
pub(super) fn cable(start: Point, length: f64, amplitude: f64, periods: u32) -> Vec<Chain> {
    let halves = 2 * periods;
    let step = length / f64::from(halves);
    let strand = |first: f64| -> Chain {
        (0..halves)
            .flat_map(|k| {
                let side = if k % 2 == 0 { first } else { -first };
                bend(p(start.x + step * f64::from(k), start.y + side * amplitude), step, start.y)
            })
            .collect()
    };
    vec![strand(1.0), strand(-1.0)]
}

/// A cable round `inner`, in the middle of a strip `width` wide, that turns the corners in quarter circles; `periods` of the side it is
/// given. Both strands close on themselves.
pub(super) fn cable_round(inner: Rect, width: f64, amplitude: f64, periods: impl Fn(f64) -> u32) -> Vec<Chain> {
    let corners = [p(inner.x0, inner.y0), p(inner.x1, inner.y0), p(inner.x1, inner.y1), p(inner.x0, inner.y1)];
    let mut strands = vec![Vec::new(), Vec::new()];
    for (k, corner) in corners.into_iter().enumerate() {
        let next = corners[(k + 1) % 4];
        let side = (next - corner).hypot2().sqrt();
        // Drawn level below the inner side and turned into place: outward is down.
        let place = Pose::turn_deg(90.0 * k as f64).then(Pose::shift(corner.to_vec2()));
        for (strand, chain) in strands.iter_mut().zip(cable(p(0.0, -width / 2.0), side, amplitude, periods(side))) {
            let end = chain[chain.len() - 1].to();
            let about = p(side, 0.0);
            let turned = p(side + about.y - end.y, 0.0);
            strand.extend(chain.into_iter().chain([arc(end, turned, about, Turn::Left)]).map(|edge| edge.moved(place)));
        }
    }
    strands
}

/// On every side of `columns` by `rows` squares (or rectangles) two quarter arcs that bulge both ways.
pub(super) fn arcs(room: Rect, columns: u32, rows: u32) -> Vec<Chain> {
    let (w, h) = (room.width() / f64::from(columns), room.height() / f64::from(rows));
    let at = |i: u32, j: u32| p(room.x0 + w * f64::from(i), room.y0 + h * f64::from(j));
    // A quarter circle over a chord c has the radius c / √2.
    let over = |from: Point, to: Point| {
        let chord = to - from;
        let radius = chord.hypot2().sqrt() / SQRT_2;
        let middle = from.midpoint(to);
        let off = Vec2::new(-chord.y, chord.x) * 0.5;
        debug_assert!((off.hypot2() * 2.0 - radius * radius).abs() < 1e-6 * radius.max(1.0));
        arc(from, to, middle + off, Turn::Left)
    };
    let mut chains = Vec::new();
    let mut row = |points: Vec<Point>| {
        let there: Chain = points.windows(2).map(|pair| over(pair[0], pair[1])).collect();
        let back: Chain = points.windows(2).rev().map(|pair| over(pair[1], pair[0])).collect();
        chains.extend([there, back]);
    };
    (0..=rows).for_each(|j| row((0..=columns).map(|i| at(i, j)).collect()));
    (0..=columns).for_each(|i| row((0..=rows).map(|j| at(i, j)).collect()));
    chains
}

/// The outline of a loop as a chain.
pub(super) fn outline(outline: &Loop) -> Chain {
    outline.edges().to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn length(chains: &[Chain]) -> f64 {
        chains.iter().flatten().map(Edge::length).sum()
    }

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    /// Every edge starts where the one before ends.
    fn follow(chains: &[Chain]) -> bool {
        chains.iter().all(|chain| chain.windows(2).all(|pair| (pair[0].to() - pair[1].from()).hypot2() < 1e-18))
    }

    /// Closed forms: a circle, a leaf's arcs (2 r asin(a / r) each), quarter circles, half circles, S bends.
    #[test]
    fn lengths_of_motifs_are_those_of_closed_forms() {
        assert!(close(length(&motif(Motif::Circle, 6.0, 5.0)), 5.0 * PI));
        let radius: f64 = (4.0 + 1.0) / 2.0;
        assert!(close(length(&motif(Motif::Leaf, 4.0, 2.0)), 4.0 * radius * libm::asin(2.0 / radius) + 4.0));
        assert!(close(length(&motif(Motif::Fan, 8.0, 8.0)), PI / 2.0 * (2.0 + 4.0 + 6.0 + 8.0)));
        assert!(close(length(&motif(Motif::Feather, 12.0, 2.0)), 12.0 + PI * (6.0 + 5.0)));
        assert!(close(length(&motif(Motif::Arcs, 2.0, 2.0)), 8.0 * PI / 2.0 * SQRT_2));
        // A cable twice as long as high bends in quarter circles of its amplitude.
        assert!(close(length(&motif(Motif::Cable, 4.0, 2.0)), 2.0 * 4.0 * PI / 2.0));
    }

    /// An oval touches its box, and every two arcs share their direction where they meet.
    #[test]
    fn an_oval_is_smooth_and_fills_its_box() {
        for (w, h) in [(6.0, 3.0), (3.0, 6.0), (10.0, 9.0)] {
            let chains = motif(Motif::Oval, w, h);
            let bounds = Loop::new(chains[0].clone()).bounds();
            assert!(close(bounds.width(), w) && close(bounds.height(), h), "{bounds:?}");
            for (k, edge) in chains[0].iter().enumerate() {
                let next = &chains[0][(k + 1) % 4];
                assert!((edge.direction_to() - next.direction_from()).hypot2() < 1e-18);
            }
        }
    }

    /// The corners are quarter circles about the inner corners: radii of half the width, more and less the amplitude.
    #[test]
    fn a_cable_turns_the_corners_and_closes() {
        let strands = cable_round(Rect::new(-4.0, -3.0, 4.0, 3.0), 2.0, 0.5, |side| (side / 2.0) as u32);
        assert!(follow(&strands));
        for strand in &strands {
            let (first, last) = (strand[0], strand[strand.len() - 1]);
            assert!((first.from() - last.to()).hypot2() < 1e-18);
            for pair in strand.windows(2) {
                assert!((pair[0].direction_to() - pair[1].direction_from()).hypot2() < 1e-12);
            }
        }
        // 14 periods of two bends either strand, each half period 1 over a rise of 1: quarter circles of radius 1/2; and the corners.
        assert!(close(length(&strands), 2.0 * 14.0 * 4.0 * PI / 4.0 + 4.0 * PI / 2.0 * (1.5 + 0.5)));
    }

    #[test]
    fn motifs_are_chains() {
        for one in Motif::ALL {
            assert!(follow(&motif(one, 5.0, 3.0)), "{one:?}");
        }
    }
}
