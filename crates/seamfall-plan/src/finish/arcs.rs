//! Arcs laid along an edge that may bend and turn by any angle.
//!
//! In: the plain edge and the wished arcs. Out: the edge that is cut. Valleys lie at one depth inside the plain edge, evenly along each side from
//! what its corners take; an arc goes from valley to valley through the plain edge between them. Where a side is straight that is the arc of
//! the closed form; where it bends the circle through those three points.

use super::answer::{Impossible, Ruler};
use super::scallops::{Corner, Curve, CurvedEdge, Side, Wish, between, corner};
use super::sides::{RealSide, sides};
use seamfall_geom::{Edge, Loop, Point, TOLERANCE, Turn, Vec2};
use seamfall_model::{EdgeRule, Length, Term, term};
use tr::tr;

/// Lays the arcs of `wish` round `plain`.
pub(super) fn lay(plain: &Loop, wish: &Wish, ruler: Ruler) -> Result<CurvedEdge, Impossible> {
    let deep = wish.height();
    let real = sides(plain);
    let takes = |turn: f64| taken(turn, wish);
    let mut made = Vec::with_capacity(real.len());
    for side in &real {
        made.push(between(Length::new(side.length), side.turns.map(takes), wish, ruler)?);
    }
    let mut edges: Vec<Edge> = Vec::new();
    let (mut corners, mut spans) = (Vec::new(), Vec::new());
    for (number, side) in real.iter().enumerate() {
        let from = edges.len();
        along(side, &made[number], wish, ruler, &mut edges)?;
        let middle = edges.len();
        let next = &real[(number + 1) % real.len()];
        let turn = side.turns[1];
        let there = takes(turn).unwrap_or(0.0);
        let ends = [side.place(side.length - there, deep).0, next.place(there, deep).0];
        corners.push(round_corner(side, next, ends, (there, deep), &mut edges));
        spans.push([from..middle, middle..edges.len()]);
    }
    close(&mut edges);
    let edge = length(&real, &made, &corners, &spans, &edges);
    let edge = ruler.exact(EdgeRule::ArcEdge, &tr!("length of the edge"), edge);
    Ok(CurvedEdge { sides: made, corners, spans, edge, outline: Loop::new(edges), plain: plain.clone() })
}

/// What a corner takes of either side: at a square one what is wished; nothing of an inside one, nor of what goes on smoothly.
///
/// A corner scallop is about as wide as the others whatever the turn: its depth times the tangent of half the turn, and the rest.
fn taken(turn: f64, wish: &Wish) -> Option<f64> {
    (turn > 0.0).then(|| wish.corner.value() - wish.height() * (1.0 - libm::tan(turn / 2.0)))
}

/// The arcs of one side.
fn along(side: &RealSide, made: &Side, wish: &Wish, ruler: Ruler, edges: &mut Vec<Edge>) -> Result<(), Impossible> {
    let deep = wish.height();
    let start = taken(side.turns[0], wish).unwrap_or(0.0);
    let stands_out = side.turns[0] > 0.0 && matches!(corner(start, deep, side.turns[0]), Corner::Scallop { .. });
    let straight = matches!(side.edges[..], [Edge::Line { .. }]);
    let (width, radius) = (made.width.value, made.radius.value);
    for i in 0..made.count.count() {
        #[expect(clippy::cast_precision_loss, reason = "arcs are few")]
        let at = start + width * i as f64;
        // Beside a corner that stands out waves begin inward.
        let out = wish.curve == Curve::Scallops || (i % 2 == 0) != stands_out;
        let (from, to) = (side.place(at, deep).0, side.place(at + width, deep).0);
        let middle = at + width / 2.0;
        if straight {
            // An arc out has its highest point on the edge of the quilt, one in has it as far on the other side of the line of its ends.
            let centre = side.place(middle, if out { radius } else { 2.0 * deep - radius }).0;
            edges.push(Edge::Arc { from, to, centre, turn: if out { Turn::Left } else { Turn::Right } });
            continue;
        }
        room(side, middle, (to - from).hypot2().sqrt(), wish, ruler)?;
        let arc = |inward: f64| through(from, side.place(middle, inward).0, to);
        let stretches = side.stretch(at).0..=side.stretch(at + width).0;
        // A wave that is drawn in can touch the next one where they meet; it stands out by a hair instead.
        let scallops = wish.curve == Curve::Scallops;
        edges.push(if out && scallops {
            kept_inside(side.edges[stretches].iter(), arc)
        } else {
            arc(if out { 0.0 } else { 2.0 * deep })
        });
    }
    Ok(())
}

/// The arc that stands out as far as it can without leaving the cloth beside `edges`; `arc` draws it so far inward. Where a straight stretch goes
/// over into a bend, the circle through both valleys and a place on the edge leaves it on the one side: it is drawn in by as much, until that is too
/// little to be seen.
fn kept_inside<'a>(edges: impl Iterator<Item = &'a Edge> + Clone, arc: impl Fn(f64) -> Edge) -> Edge {
    let mut inward = 0.0;
    let mut drawn = arc(inward);
    for _ in 0..ROUNDS {
        let places = (1..SAMPLES).map(|i| drawn.at(f64::from(i) / f64::from(SAMPLES)));
        let out = places.flat_map(|at| edges.clone().map(move |edge| outside(edge, at))).fold(0.0, f64::max);
        if out <= TOLERANCE {
            break;
        }
        inward += out;
        drawn = arc(inward);
    }
    drawn
}

/// How often an arc is drawn in, and at how many places it is looked at. Found by trying: what is left then is below a fiftieth of the depth.
const ROUNDS: u32 = 12;
const SAMPLES: u32 = 16;

/// How far beyond a stretch of the edge, carried on, a place lies; the edge runs anticlockwise.
fn outside(edge: &Edge, at: Point) -> f64 {
    match *edge {
        Edge::Line { from, to } => (to - from).normalize().cross(from - at),
        Edge::Arc { from, centre, turn, .. } => {
            let far = (at - centre).hypot2().sqrt() - (from - centre).hypot2().sqrt();
            if turn == Turn::Left { far } else { -far }
        }
    }
}

/// Whether valleys lie clear of one another round a bend.
fn room(side: &RealSide, at: f64, chord: f64, wish: &Wish, ruler: Ruler) -> Result<(), Impossible> {
    let Edge::Arc { turn: Turn::Left, .. } = side.edges[side.stretch(at).0] else { return Ok(()) };
    let radius = side.edges[side.stretch(at).0].radius().unwrap_or(f64::INFINITY);
    let (deep, most) = (wish.height(), (chord / 2.0).min(radius / 2.0));
    if deep <= most * (1.0 + 1e-9) {
        return Ok(());
    }
    let most = if wish.curve == Curve::Waves { most * 2.0 } else { most };
    let reason = tr!(
        "arcs {depth} deep round a bend of {radius} would run into one another",
        depth = ruler.shown(wish.depth),
        radius = ruler.shown(Length::new(radius))
    );
    Err(Impossible::new(reason, tr!("make them {most} deep or less", most = ruler.shown(Length::new(most))), most))
}

/// What goes from the last valley of a side to the first of the next.
fn round_corner(
    side: &RealSide,
    next: &RealSide,
    [from, to]: [Point; 2],
    (taken, deep): (f64, f64),
    edges: &mut Vec<Edge>,
) -> Corner {
    let turn = side.turns[1];
    if turn == 0.0 {
        return Corner::Sharp;
    }
    let turned = corner(taken, deep, turn);
    let (at, way) = side.place(side.length, 0.0);
    let inward = Vec2::new(-way.y, way.x);
    // How far inside either side the middle of the arc lies.
    let (radius, inside) = match turned {
        Corner::Scallop { radius, .. } => (radius, radius),
        Corner::SetBack { radius, .. } => (radius, radius + deep),
        Corner::Inside { run } => {
            let corner = from + way * run;
            edges.extend([Edge::Line { from, to: corner }, Edge::Line { from: corner, to }]);
            return turned;
        }
        Corner::Sharp => {
            if (to - from).hypot2().sqrt() > TOLERANCE {
                edges.push(Edge::Line { from, to });
            }
            return turned;
        }
    };
    let is_line = |edge: Option<&Edge>| matches!(edge, Some(Edge::Line { .. }));
    let middle = at - way * (inside * libm::tan(turn / 2.0)) + inward * inside;
    if is_line(side.edges.last()) && is_line(next.edges.first()) {
        edges.push(Edge::Arc { from, to, centre: middle, turn: Turn::Left });
        return turned;
    }
    // Beside a bend the valleys lie a little off: the circle through them and through the point nearest to the corner.
    let off = middle - at;
    let long = off.hypot2().sqrt();
    let beside = side.edges.last().into_iter().chain(next.edges.first());
    let arc = kept_inside(beside, |inward| through(from, at + off * ((long - radius + inward) / long), to));
    edges.push(arc);
    let (radius, sweep) = (arc.radius().unwrap_or(0.0), arc.sweep().unwrap_or(0.0));
    match turned {
        Corner::Scallop { .. } => Corner::Scallop { radius, sweep },
        _ => Corner::SetBack { radius, sweep },
    }
}

/// The arc from `from` through `middle` to `to`; a line where the three lie on one.
fn through(from: Point, middle: Point, to: Point) -> Edge {
    let (a, b) = (middle - from, to - from);
    let across = 2.0 * a.cross(b);
    if across.abs() <= TOLERANCE * b.hypot2() {
        return Edge::Line { from, to };
    }
    let (aa, bb) = (a.hypot2(), b.hypot2());
    let centre = from + Vec2::new(b.y * aa - a.y * bb, a.x * bb - b.x * aa) / across;
    // Anticlockwise the arc lies to the right of its chord.
    Edge::Arc { from, to, centre, turn: if across > 0.0 { Turn::Left } else { Turn::Right } }
}

/// Each edge starts to the bit where the one before ends.
fn close(edges: &mut [Edge]) {
    let n = edges.len();
    for i in 0..n {
        let start = edges[(i + n - 1) % n].to();
        edges[i] = match edges[i] {
            Edge::Line { to, .. } => Edge::Line { from: start, to },
            Edge::Arc { to, centre, turn, .. } => Edge::Arc { from: start, to, centre, turn },
        };
    }
}

/// The length of all arcs and corners: alike ones together.
fn length(real: &[RealSide], made: &[Side], corners: &[Corner], spans: &[[std::ops::Range<usize>; 2]], edges: &[Edge]) -> Term {
    let mut straight: Vec<(String, f64, f64)> = Vec::new();
    let mut bent = 0.0;
    for ((side, made), [arcs, _]) in real.iter().zip(made).zip(spans) {
        let [Edge::Line { from, to }] = side.edges[..] else {
            bent += edges[arcs.clone()].iter().map(Edge::length).sum::<f64>();
            continue;
        };
        let what = if (to.x - from.x).abs() > (to.y - from.y).abs() { tr!("arcs across") } else { tr!("arcs along") };
        match straight.iter_mut().find(|known| known.0 == what && (known.2 - made.arc.value).abs() < TOLERANCE) {
            Some(known) => known.1 += made.count.value,
            None => straight.push((what, made.count.value, made.arc.value)),
        }
    }
    let mut turned: Vec<(String, f64, f64)> = Vec::new();
    for corner in corners {
        let what = if matches!(corner, Corner::Inside { .. }) { tr!("inside corner") } else { tr!("corner") };
        match turned.iter_mut().find(|known| known.0 == what && (known.2 - corner.length()).abs() < TOLERANCE) {
            Some(known) => known.1 += 1.0,
            None => turned.push((what, 1.0, corner.length())),
        }
    }
    let arcs = straight.into_iter().map(|(what, count, arc)| term(&what, count) * term(&tr!("arc"), arc));
    let bent = (bent > 0.0).then(|| term(&tr!("arcs round the bends"), bent));
    let turned = turned.into_iter().map(|(what, count, length)| count * term(&what, length));
    arcs.chain(bent).chain(turned).reduce(|all, one| all + one).unwrap_or_else(|| term(&tr!("edge"), 0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::{Drops, corner_edge};
    use proptest::prelude::*;
    use seamfall_geom::{Inset, node};
    use seamfall_model::{CornerShape, Measure};

    fn inches() -> Ruler {
        Ruler::usual(Measure::Inch)
    }

    fn wish(curve: Curve, about: f64, depth: f64) -> Wish {
        let [about, depth] = [about, depth].map(Length::new);
        Wish { curve, about, depth, corner: Wish::usual_corner(curve, about, depth) }
    }

    /// 90 by 96 in with a corner of a shape at the lower right, drops of `side` and `foot`.
    fn edge(shape: CornerShape, side: f64, foot: f64) -> Loop {
        let drops = Drops { side: Length::new(side), foot: Length::new(foot) };
        let mut edges = vec![];
        let pose = seamfall_geom::Pose::shift(Vec2::new(90.0 - side, 96.0 - foot));
        // At the upper right as the drops are seen; the whole turned upside down is an edge as good.
        edges.extend(
            corner_edge(shape, drops, Length::new(6.0), inches()).expect("it can be had").iter().map(|edge| edge.moved(pose)),
        );
        let (from, to) = (edges[0].from(), edges[edges.len() - 1].to());
        let corners = [to, Point::new(0.0, 96.0), Point::ORIGIN, Point::new(90.0, 0.0), from];
        edges.extend(corners.windows(2).map(|pair| Edge::Line { from: pair[0], to: pair[1] }));
        Loop::new(edges)
    }

    /// At a turn of 45 degrees a corner takes its depth times tan(22.5°) and half an arc; the same circle by its definition: as far from both sides
    /// as from the valley. Plane geometry.
    #[test]
    fn a_blunt_corner_is_turned_by_a_circle_that_touches_both_sides() {
        let turn = std::f64::consts::FRAC_PI_4;
        let (taken, deep) = (5.0, 1.5);
        let Corner::Scallop { radius, sweep } = corner(taken, deep, turn) else { panic!("there is room") };
        let half = libm::tan(turn / 2.0);
        let off = ((taken - radius * half) * (taken - radius * half) + (radius - deep) * (radius - deep)).sqrt();
        assert!((off - radius).abs() < 1e-12, "{radius} {off}");
        // As the turn goes to nothing it becomes the arc along a straight side.
        let Corner::Scallop { radius, sweep: flat } = corner(taken, deep, 1e-9) else { panic!("there is room") };
        assert!((radius - (taken * taken + deep * deep) / (2.0 * deep)).abs() < 1e-6);
        assert!((flat - 2.0 * libm::asin(taken / radius)).abs() < 1e-6 && sweep > flat);
    }

    /// A level hem where both drops are alike goes on smoothly: from the top round the corner it is one side, and the arcs on it are whole.
    #[test]
    fn arcs_go_on_round_a_level_hem() {
        let plain = edge(CornerShape::Level, 14.0, 14.0);
        let made = lay(&plain, &wish(Curve::Scallops, 8.0, 1.5), inches()).expect("they fit");
        assert_eq!((made.sides.len(), made.corners.len()), (3, 3));
        assert!(made.sides.iter().all(|side| (side.width.value - 8.0).abs() < 1.0));
    }

    #[test]
    fn a_bend_too_tight_is_refused_with_the_nearest() {
        let plain = edge(CornerShape::Level, 5.0, 5.0);
        let trouble = lay(&plain, &wish(Curve::Scallops, 8.0, 3.0), inches()).expect_err("valleys would run together");
        assert!(trouble.reason.contains("round a bend of 5 in"), "{}", trouble.reason);
        let again = lay(&plain, &wish(Curve::Scallops, 8.0, trouble.value), inches());
        assert!(again.is_ok(), "the nearest can be had: {again:?}");
    }

    proptest! {
        /// Whatever the corner: the edge closes, is as long as its working says, crosses itself nowhere, and stays on the cloth.
        #[test]
        fn an_edge_of_arcs_closes_round_every_corner(
            shape in 0..5_usize, side in 10.0..20.0_f64, more in 0.0..6.0_f64, about in 4.0..9.0_f64, share in 0.1..0.3_f64, waves: bool
        ) {
            let plain = edge(CornerShape::ALL[shape], side, side + more);
            let curve = if waves { Curve::Waves } else { Curve::Scallops };
            let wish = wish(curve, about, about * share);
            let Ok(made) = lay(&plain, &wish, inches()) else { return Ok(()) };
            let edges = made.outline.edges();
            for (edge, next) in edges.iter().zip(edges.iter().cycle().skip(1)) {
                prop_assert_eq!(edge.to(), next.from());
                if let Edge::Arc { from, to, centre, .. } = edge {
                    prop_assert!(((*from - *centre).hypot2().sqrt() - (*to - *centre).hypot2().sqrt()).abs() < 1e-6);
                }
            }
            // Arcs that are alike to the tolerance are told together, as many times the first of them.
            let off = (made.outline.perimeter() - made.edge.value).abs();
            prop_assert!(off < TOLERANCE * edges.len() as f64, "{} {}", made.outline.perimeter(), made.edge.line());
            prop_assert_eq!(node(edges).vertices.len(), edges.len(), "it crosses itself: {:?}", made.outline);
            let inside = Inset::new(&plain, 0.0);
            for edge in edges {
                for i in 0..8 {
                    let at = edge.at(f64::from(i) / 8.0);
                    let off = plain.edges().iter().map(|edge| edge.distance_to(at)).fold(f64::INFINITY, f64::min);
                    // Where a straight stretch goes over into a bend, a hair is left of what a scallop stood out before it was drawn in.
                    let hair = wish.depth.value() / if waves { 8.0 } else { 50.0 };
                    prop_assert!(inside.holds(at) || off < hair, "{:?} {:?} is {} off", edge, at, off);
                }
            }
            prop_assert!(made.outline.area() > 0.0 && made.outline.area() < plain.area());
        }
    }
}
