//! Scallops and waves: arcs, whole on every side, that turn the corners; drawn and measured as the edge itself.
//!
//! In: the sides, about how wide an arc shall be, how deep, what the corners take. Out: how many, how wide each is, the arc's
//! radius and its length, the corner, and the whole edge as an outline. Scallops stand side by side, their highest points on the edge
//! of the quilt; waves go out and in by turns, their number odd so that both ends of a side are alike. The edge need not be a rectangle:
//! `arcs` lays them along sides that bend and round corners of any turn.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use super::arcs;
use super::binding::{self, Round};
use super::sides::sides;
use seamfall_geom::{Edge, Loop, Rect, TOLERANCE, Vec2};
use seamfall_model::{EdgeRule, Length, Term, Working, mark, spoken, term};
use std::f64::consts::PI;
use std::ops::Range;
use tr::tr;

/// What stands along the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Curve {
    /// Arcs that stand out, side by side.
    Scallops,
    /// Arcs out and in by turns.
    Waves,
}

/// Sizes that are wished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Which curve.
    pub curve: Curve,
    /// About how wide each shall be.
    pub about: Length,
    /// From the highest point to the lowest.
    pub depth: Length,
    /// What the corner takes of either end of a side; nothing unless said.
    pub corner: Length,
}

/// Arcs along one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// How many.
    pub count: Working,
    /// How wide each is, along the edge.
    pub width: Working,
    /// Radius of its circle, where the side is straight.
    pub radius: Working,
    /// Length of the arc, where the side is straight.
    pub arc: Working,
}

/// How the edge turns a corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corner {
    /// An arc that touches both sides, from valley to valley.
    Scallop {
        /// Its radius; its middle is as far from either side.
        radius: f64,
        /// Its angle.
        sweep: f64,
    },
    /// An arc at the depth of the valleys, where there is no room for a scallop.
    SetBack {
        /// Its radius.
        radius: f64,
        /// Its angle.
        sweep: f64,
    },
    /// Two valleys meet.
    Sharp,
    /// Round an inside corner: straight on at the depth of the valleys, so that the arcs beside it stay clear of one another.
    Inside {
        /// How far on either side.
        run: f64,
    },
}

/// A whole edge.
#[derive(Debug, Clone, PartialEq)]
pub struct CurvedEdge {
    /// Arcs along every side of the plain edge, from its first corner on, anticlockwise; round a rectangle: bottom, right, top, left.
    pub sides: Vec<Side>,
    /// How the corner behind each side turns.
    pub corners: Vec<Corner>,
    /// For each side its edges in [`CurvedEdge::outline`], and those of the corner behind it.
    pub spans: Vec<[Range<usize>; 2]>,
    /// Length of the edge once round.
    pub edge: Working,
    /// The edge: what is cut.
    pub outline: Loop,
    /// The edge without arcs, within which they lie.
    pub plain: Loop,
}

impl Wish {
    /// How far an arc stands out from the line of its ends: waves stand out by half their depth and in by the other half.
    pub(super) fn height(&self) -> f64 {
        if self.curve == Curve::Scallops { self.depth.value() } else { self.depth.value() / 2.0 }
    }

    /// What the corner takes unless said: the depth and half an arc, so that a corner scallop is about as wide as the others.
    #[must_use]
    pub fn usual_corner(curve: Curve, about: Length, depth: Length) -> Length {
        let wish = Self { curve, about, depth, corner: Length::ZERO };
        Length::new(wish.height() + f64::max(about.value() / 2.0, wish.height()))
    }
}

/// Arcs along a side of length `side`.
///
/// # Errors
/// Corners that leave nothing of the side; arcs deeper than half their width, the nearest being just that.
pub fn along(side: Length, wish: &Wish, ruler: Ruler) -> Result<Side, Impossible> {
    between(side, [Some(wish.corner.value()); 2], wish, ruler)
}

/// The same where the two corners take what they take; nothing of what is no outside corner. Waves beside two corners of one kind are odd in
/// number, else even, so that they go out and in by turns all round.
pub(super) fn between(side: Length, takes: [Option<f64>; 2], wish: &Wish, ruler: Ruler) -> Result<Side, Impossible> {
    more_than_nothing(ruler, &tr!("the width"), wish.about)?;
    more_than_nothing(ruler, &tr!("the depth"), wish.depth)?;
    let [first, second] = takes.map(|taken| taken.unwrap_or(0.0));
    let corners = takes.iter().flatten().count() as f64;
    if side.value() - first - second <= TOLERANCE {
        let most = wish.corner.value() + (side.value() - wish.about.value() - first - second) / corners.max(1.0);
        let most = ruler.step.nearest(Length::new(most.max(0.0)));
        let reason = tr!("the corners take all of a side of {side}", side = ruler.shown(side));
        return Err(Impossible::new(reason, tr!("let them take {most} or less each", most = ruler.shown(most)), most.value()));
    }
    let rest = || {
        let side = term(&tr!("side"), side.value());
        match (first > 0.0, second > 0.0) {
            (false, false) => side,
            (true, true) if (first - second).abs() < TOLERANCE => side - term(&tr!("corner"), first) * 2.0,
            (true, true) => side - term(&tr!("corner"), first) - term(&tr!("other corner"), second),
            _ => side - term(&tr!("corner"), first + second),
        }
    };
    let wished = rest() / term(&tr!("about"), wish.about.value());
    // Corners of one kind: both stand out, or none does.
    let odd = wish.corner.value() < 2.0 * wish.height() - TOLERANCE || takes[0].is_some() == takes[1].is_some();
    let nearest = match wish.curve {
        Curve::Scallops => wished.nearest(),
        Curve::Waves if odd => 2.0 * ((wished - 1.0) / 2.0).nearest() + 1.0,
        Curve::Waves => 2.0 * (wished / 2.0).nearest(),
    };
    let least =
        if wish.curve == Curve::Waves && !odd { term(&tr!("two at least"), 2.0) } else { term(&tr!("one at least"), 1.0) };
    let nearest = if nearest.value() < least.value() { least } else { nearest };
    let count =
        ruler.whole(EdgeRule::ScallopCount, &if wish.curve == Curve::Scallops { tr!("scallops") } else { tr!("waves") }, nearest);
    let width = ruler.exact(EdgeRule::ScallopWidth, &tr!("width of each"), rest() / term(&tr!("number"), count.value));
    let [radius, arc] = arc_over(width.length(), Length::new(wish.height()), ruler)?;
    Ok(Side { count, width, radius, arc })
}

/// Radius and length of the arc over `width` that stands out by `height`: `r = (w²/4 + h²) / 2h`, `2r · asin(w / 2r)`.
///
/// # Errors
/// An arc higher than half its width: more than half a circle would run into its neighbours.
pub fn arc_over(width: Length, height: Length, ruler: Ruler) -> Result<[Working; 2], Impossible> {
    more_than_nothing(ruler, &tr!("the depth"), height)?;
    let half = width.value() / 2.0;
    if height.value() > half * (1.0 + 1e-9) {
        let most = Length::new(half);
        let reason = tr!(
            "an arc {width} wide cannot stand out by {height}: it would run into its neighbours",
            width = ruler.shown(width),
            height = ruler.shown(height)
        );
        return Err(Impossible::new(reason, tr!("let it stand out by {most} or less", most = ruler.shown(most)), half));
    }
    let (w, h) = (|| term(&tr!("half the width"), half), || term(&tr!("depth"), height.value()));
    let radius = ruler.exact(EdgeRule::ArcRadius, &tr!("radius"), (w() * w() + h() * h()) / (2.0 * h()));
    let angle: Term = term(&tr!("angle"), 2.0 * libm::asin((half / radius.value).min(1.0)));
    let arc = ruler.exact(EdgeRule::ArcLength, &tr!("length of the arc"), term(&tr!("radius"), radius.value) * angle);
    Ok([radius, arc])
}

/// How wide the outer band must be for arcs of a depth: half an inch more. Source: check value edges.scallop.depth.
///
/// # Errors
/// A band too narrow, with the depth that it has room for.
pub fn in_band(wish: &Wish, band: Length, ruler: Ruler) -> Result<(), Impossible> {
    let more = ruler.size(0.5, 1.25);
    if wish.depth.value() + more.value() <= band.value() * (1.0 + 1e-9) {
        return Ok(());
    }
    let most = (band.value() - more.value()).max(0.0);
    let reason = tr!(
        "arcs {depth} deep are deeper than a band of {band} has room for, which is {more} for the seam and the binding besides",
        depth = ruler.shown(wish.depth),
        band = ruler.shown(band),
        more = ruler.shown(more)
    );
    let nearest = if most > 0.0 {
        tr!(
            "make them {most} deep or less, or the band {more} or wider",
            most = ruler.shown(Length::new(most)),
            more = ruler.shown(wish.depth + more)
        )
    } else {
        tr!("make the band {more} or wider", more = ruler.shown(wish.depth + more))
    };
    Err(Impossible::new(reason, nearest, most))
}

/// How a corner of the plain edge turns that takes `taken` of either side, with valleys `deep` inside the edge; `turn` in radians.
///
/// With T the tangent of half the turn (1 at a square corner), the circle that touches both sides, of radius m, has its middle m T along and m
/// inside either of them. It meets a valley, c along and d inside, where (c - mT)² + (d - m)² = m². Its valleys are no closer than it is wide
/// where m is at least d, which is where c is at least d (1 + T). At a square corner m = c + d - √(2cd).
#[must_use]
pub fn corner(taken: f64, deep: f64, turn: f64) -> Corner {
    let half = libm::tan(turn / 2.0);
    if turn < 0.0 {
        return Corner::Inside { run: -deep * half };
    }
    if taken >= deep * (1.0 + half) - TOLERANCE {
        let reach = taken * half + deep;
        let root = (deep * deep + 2.0 * taken * deep * half - half * half * deep * deep).max(0.0).sqrt();
        let radius = (taken * taken + deep * deep) / (reach + root);
        // Seen from the middle, a valley lies so far beyond the way along its side, on either side.
        let beyond = libm::atan2(radius - deep, taken - radius * half);
        return Corner::Scallop { radius, sweep: PI + turn - 2.0 * beyond };
    }
    let left = taken - deep * half;
    if left <= TOLERANCE { Corner::Sharp } else { Corner::SetBack { radius: left / half, sweep: turn } }
}

impl Corner {
    /// Length of its edge.
    #[must_use]
    pub fn length(self) -> f64 {
        match self {
            Self::Scallop { radius, sweep } | Self::SetBack { radius, sweep } => radius * sweep,
            Self::Sharp => 0.0,
            Self::Inside { run } => 2.0 * run,
        }
    }
}

/// The whole edge of a rectangular quilt of `size`.
///
/// # Errors
/// As of [`along`]; and a corner that takes less than the arcs are deep.
pub fn round(size: Vec2, wish: &Wish, ruler: Ruler) -> Result<CurvedEdge, Impossible> {
    round_edge(&Loop::rect(Rect::new(0.0, 0.0, size.x, size.y)), wish, ruler)
}

/// The whole edge of a quilt whose plain edge is `plain`, anticlockwise.
///
/// # Errors
/// As of [`round`]; and a bend so tight that valleys would run together.
pub fn round_edge(plain: &Loop, wish: &Wish, ruler: Ruler) -> Result<CurvedEdge, Impossible> {
    let deep = wish.height();
    if wish.corner.value() < deep * (1.0 - 1e-9) {
        let reason = tr!(
            "a corner that takes {corner} leaves no room between valleys {deep} deep",
            corner = ruler.shown(wish.corner),
            deep = ruler.shown(Length::new(deep))
        );
        let nearest = tr!("let the corner take {deep} or more", deep = ruler.shown(Length::new(deep)));
        return Err(Impossible::new(reason, nearest, deep));
    }
    arcs::lay(plain, wish, ruler)
}

/// Arcs along one side, as a question.
///
/// # Errors
/// As of [`along`] and [`in_band`].
pub fn answer(side: Length, wish: &Wish, band: Option<Length>, ruler: Ruler) -> Result<Answer, Impossible> {
    if let Some(band) = band {
        in_band(wish, band, ruler)?;
    }
    let made = along(side, wish, ruler)?;
    Ok(Answer::new(name(wish.curve), made.figures().iter().map(|(name, working)| (*name, working))).steps(steps(wish, ruler)))
}

impl Side {
    fn figures(&self) -> [(&'static str, Working); 4] {
        [("count", &self.count), ("width", &self.width), ("radius", &self.radius), ("arc", &self.arc)]
            .map(|(name, working)| (name, working.clone()))
    }

    /// The same, saying which side they are of.
    fn figures_of(&self, side: &str) -> [(&'static str, Working); 4] {
        self.figures().map(|(name, working)| (name, Working { what: format!("{}, {side}", working.what), ..working }))
    }
}

/// Arcs all round, as a question.
///
/// # Errors
/// As of [`round`] and [`in_band`].
pub fn answer_round(size: Vec2, wish: &Wish, band: Option<Length>, ruler: Ruler) -> Result<Answer, Impossible> {
    if let Some(band) = band {
        in_band(wish, band, ruler)?;
    }
    Ok(answer_of(&round(size, wish, ruler)?, wish, ruler))
}

/// An edge that has been worked out, as an answer: every kind of side and of corner once.
pub(super) fn answer_of(made: &CurvedEdge, wish: &Wish, ruler: Ruler) -> Answer {
    let strip = binding::length(&Round::of(&made.outline, ruler.allowance.0.value()), None, ruler);
    let mut corners: Vec<Working> = Vec::new();
    for corner in &made.corners {
        let length = match *corner {
            Corner::Scallop { radius, sweep } => term(&tr!("radius"), radius) * term(&tr!("angle"), sweep),
            Corner::Inside { run } => term(&tr!("run"), run) * 2.0,
            other => term(&tr!("quarter circle"), other.length()),
        };
        let what =
            if matches!(corner, Corner::Inside { .. }) { tr!("length of an inside corner") } else { tr!("length of a corner") };
        let length = ruler.exact(EdgeRule::ArcCorner, &what, length);
        if corners.iter().all(|known| known.what != length.what || (known.value - length.value).abs() > TOLERANCE) {
            corners.push(length);
        }
    }
    let sides: Vec<_> = kinds_of_sides(made).into_iter().flat_map(|(side, names)| side.figures_of(&names)).collect();
    let sides = sides.iter().map(|(name, working)| (*name, working));
    let corners = corners.iter().map(|corner| ("corner", corner));
    let figures = sides.chain(corners).chain([("edge", &made.edge), ("binding", &strip)]);
    Answer::new(name(wish.curve), figures)
        .steps(steps(wish, ruler))
        .note(tr!("Bind it with bias: a strip on the straight does not lie round a curve."))
}

/// Every kind of side once, with the names of those that are so: `top and bottom`. Level and upright ones are told apart even where they are alike.
fn kinds_of_sides(made: &CurvedEdge) -> Vec<(&Side, String)> {
    const NAMES: [&str; 6] =
        [mark!("top"), mark!("bottom"), mark!("left"), mark!("right"), mark!("corners"), mark!("round the bends")];
    let bounds = made.plain.bounds();
    let mut kinds: Vec<(&Side, usize, Vec<usize>)> = Vec::new();
    for (side, real) in made.sides.iter().zip(sides(&made.plain)) {
        let number = match real.edges[..] {
            [Edge::Line { from, to }] if from.y == to.y => match () {
                () if from.y >= bounds.y1 - TOLERANCE => 0,
                () if from.y <= bounds.y0 + TOLERANCE => 1,
                () => 4,
            },
            [Edge::Line { from, to }] if from.x == to.x => match () {
                () if from.x <= bounds.x0 + TOLERANCE => 2,
                () if from.x >= bounds.x1 - TOLERANCE => 3,
                () => 4,
            },
            [Edge::Line { .. }] => 4,
            _ => 5,
        };
        let is_like = |known: &&mut (&Side, usize, Vec<usize>)| {
            known.1 == number / 2 && known.0.count == side.count && (known.0.width.value - side.width.value).abs() < TOLERANCE
        };
        match kinds.iter_mut().find(is_like) {
            Some(known) => known.2.push(number),
            None => kinds.push((side, number / 2, vec![number])),
        }
    }
    let named = |(side, _, mut numbers): (_, usize, Vec<usize>)| {
        numbers.sort_unstable();
        numbers.dedup();
        (
            side,
            numbers
                .into_iter()
                .map(|number| spoken(NAMES[number]))
                .reduce(|all, one| tr!("{all} and {one}", all, one))
                .unwrap_or_default(),
        )
    };
    kinds.into_iter().map(named).collect()
}

fn name(curve: Curve) -> &'static str {
    if curve == Curve::Scallops { "scallops" } else { "waves" }
}

/// Depths that look well. Source: check value edges.scallop.depth.
const LOOKS_WELL_IN: (f64, f64) = (1.5, 3.0);

fn steps(wish: &Wish, ruler: Ruler) -> Vec<String> {
    let inches = wish.depth.value() / ruler.measure.inch();
    let mut steps = vec![
        tr!("Mark the edge with the template before it is cut, from the middle of a side to its ends, then the corners."),
        tr!("Sew the binding on along the marked line, then cut along it: an edge cut first stretches."),
        tr!("Clip at each valley to the sewing line, never through it."),
    ];
    if inches < LOOKS_WELL_IN.0 || inches > LOOKS_WELL_IN.1 {
        steps.push(tr!("Depths from 1 1/2 to 3 in (4 to 7.5 cm) look well."));
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use seamfall_model::Measure;

    fn inches() -> Ruler {
        Ruler::usual(Measure::Inch)
    }

    fn wish(curve: Curve, about: f64, depth: f64, corner: f64) -> Wish {
        Wish { curve, about: Length::new(about), depth: Length::new(depth), corner: Length::new(corner) }
    }

    /// `edges.scallop.abright_w`: 8 of 8 in along 68 in, 2 in kept at both ends. `edges.scallop.vine_31`: five waves of 6.2 in along 31 in.
    /// `edges.scallop.wave_odd`: six wished become five or seven.
    #[test]
    fn counts_are_whole() {
        let side = along(Length::new(68.0), &wish(Curve::Scallops, 8.0, 1.5, 2.0), inches()).expect("they fit");
        assert_eq!((side.count.value, side.width.value), (8.0, 8.0));
        let side = along(Length::new(31.0), &wish(Curve::Waves, 6.0, 2.0, 0.0), inches()).expect("they fit");
        assert_eq!((side.count.value, side.width.value), (5.0, 6.2));
        let side = along(Length::new(36.0), &wish(Curve::Waves, 6.0, 2.0, 0.0), inches()).expect("they fit");
        assert_eq!(side.count.value.rem_euclid(2.0), 1.0);
        let side = along(Length::new(48.0), &wish(Curve::Scallops, 8.0, 2.0, 0.0), inches()).expect("they fit");
        assert_eq!(side.count.value, 6.0, "scallops need not be odd");
    }

    /// `edges.scallop.arc`: 8 in wide and 2 in deep: radius 5, 9.272952 in of edge. Half a circle: π/2 times the width.
    #[test]
    fn arcs_have_the_length_of_the_closed_form() {
        let [radius, arc] = arc_over(Length::new(8.0), Length::new(2.0), inches()).expect("it is an arc");
        assert!((radius.value - 5.0).abs() < 1e-9 && (arc.value - 9.272952).abs() < 1e-6);
        let [_, half] = arc_over(Length::new(6.0), Length::new(3.0), inches()).expect("it is an arc");
        assert!((half.value - 3.0 * std::f64::consts::PI).abs() < 1e-9);
    }

    #[test]
    fn what_is_too_deep_is_told_the_nearest() {
        let trouble = arc_over(Length::new(4.0), Length::new(3.0), inches()).expect_err("too deep");
        assert_eq!((trouble.nearest.as_str(), trouble.value), ("let it stand out by 2 in or less", 2.0));
        let trouble = in_band(&wish(Curve::Scallops, 8.0, 3.0, 0.0), Length::new(3.0), inches()).expect_err("too deep");
        assert_eq!(
            (trouble.nearest.as_str(), trouble.value),
            ("make them 2 1/2 in deep or less, or the band 3 1/2 in or wider", 2.5)
        );
        assert!(in_band(&wish(Curve::Scallops, 8.0, 2.5, 0.0), Length::new(3.0), inches()).is_ok());
        let trouble = round(Vec2::new(60.0, 80.0), &wish(Curve::Scallops, 8.0, 2.0, 1.0), inches()).expect_err("no room");
        assert_eq!(trouble.value, 2.0);
    }

    proptest! {
        /// The edge as it is drawn is closed, stays within the quilt and touches its sides, and is as long as the working says.
        #[test]
        fn the_drawn_edge_is_the_reckoned_one(
            w in 40.0_f64..120.0, h in 40.0_f64..120.0, about in 4.0_f64..10.0, share in 0.05_f64..0.3, taken in 1.0_f64..3.0, waves: bool
        ) {
            let depth = about * share;
            let curve = if waves { Curve::Waves } else { Curve::Scallops };
            let wish = Wish { corner: Length::new(0.0), ..wish(curve, about, depth, 0.0) };
            let wish = Wish { corner: Length::new(wish.height() * taken), ..wish };
            let made = round(Vec2::new(w, h), &wish, inches()).expect("it can be had");
            let edges = made.outline.edges();
            for (edge, next) in edges.iter().zip(edges.iter().cycle().skip(1)) {
                prop_assert!((edge.to() - next.from()).hypot2() < 1e-12);
                if let Edge::Arc { from, to, centre, .. } = edge {
                    prop_assert!(((*from - *centre).hypot2().sqrt() - (*to - *centre).hypot2().sqrt()).abs() < 1e-9);
                }
            }
            let bounds = made.outline.bounds();
            prop_assert!(bounds.x0 > -1e-6 && bounds.y0 > -1e-6 && bounds.x1 < w + 1e-6 && bounds.y1 < h + 1e-6);
            prop_assert!(bounds.x0 < 1e-6 && bounds.y0 < 1e-6 && bounds.x1 > w - 1e-6 && bounds.y1 > h - 1e-6);
            prop_assert!((made.outline.perimeter() - made.edge.value).abs() < 1e-6, "{} {}", made.outline.perimeter(), made.edge.value);
            prop_assert!(made.outline.area() > 0.0 && made.outline.area() < w * h);
        }
    }
}
