//! Scallops and waves: arcs, whole on every side, that turn the corners; drawn and measured as the edge itself.
//!
//! In: the sides, about how wide an arc shall be, how deep, what the corners take. Out: how many, how wide each is, the arc's
//! radius and its length, the corner, and the whole edge as an outline. Scallops stand side by side, their highest points on the edge
//! of the quilt; waves go out and in by turns, their number odd so that both ends of a side are alike.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use super::binding::{self, Round};
use seamfall_geom::{Edge, Loop, Point, TOLERANCE, Turn, Vec2};
use seamfall_model::{EdgeRule, Length, Term, Working, term};
use std::f64::consts::{FRAC_PI_2, TAU};

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
    /// How wide each is.
    pub width: Working,
    /// Radius of its circle.
    pub radius: Working,
    /// Length of the arc.
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
    /// A quarter circle at the depth of the valleys, where there is no room for a scallop.
    SetBack {
        /// Its radius.
        radius: f64,
    },
    /// Two valleys meet.
    Sharp,
}

/// A whole edge.
#[derive(Debug, Clone, PartialEq)]
pub struct CurvedEdge {
    /// Arcs along the top and the bottom, then along either side.
    pub sides: [Side; 2],
    /// How the corners turn.
    pub corner: Corner,
    /// Length of the edge once round.
    pub edge: Working,
    /// The edge: what is cut.
    pub outline: Loop,
}

impl Wish {
    /// How far an arc stands out from the line of its ends: waves stand out by half their depth and in by the other half.
    fn height(&self) -> f64 {
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
    more_than_nothing(ruler, "the width", wish.about)?;
    more_than_nothing(ruler, "the depth", wish.depth)?;
    let left = side.value() - 2.0 * wish.corner.value();
    if left <= TOLERANCE {
        let most = ruler.step.nearest(Length::new((side.value() / 2.0 - wish.about.value() / 2.0).max(0.0)));
        let reason = format!("the corners take all of a side of {}", ruler.shown(side));
        return Err(Impossible::new(reason, format!("let them take {} or less each", ruler.shown(most)), most.value()));
    }
    let rest = || {
        if wish.corner == Length::ZERO {
            term("side", side.value())
        } else {
            term("side", side.value()) - term("corner", wish.corner.value()) * 2.0
        }
    };
    let wished = rest() / term("about", wish.about.value());
    let nearest = match wish.curve {
        Curve::Scallops => wished.nearest(),
        Curve::Waves => 2.0 * ((wished - 1.0) / 2.0).nearest() + 1.0,
    };
    let nearest = if nearest.value() < 1.0 { term("one at least", 1.0) } else { nearest };
    let count = ruler.whole(EdgeRule::ScallopCount, if wish.curve == Curve::Scallops { "scallops" } else { "waves" }, nearest);
    let width = ruler.exact(EdgeRule::ScallopWidth, "width of each", rest() / term("number", count.value));
    let [radius, arc] = arc_over(width.length(), Length::new(wish.height()), ruler)?;
    Ok(Side { count, width, radius, arc })
}

/// Radius and length of the arc over `width` that stands out by `height`: `r = (w²/4 + h²) / 2h`, `2r · asin(w / 2r)`.
///
/// # Errors
/// An arc higher than half its width: more than half a circle would run into its neighbours.
pub fn arc_over(width: Length, height: Length, ruler: Ruler) -> Result<[Working; 2], Impossible> {
    more_than_nothing(ruler, "the depth", height)?;
    let half = width.value() / 2.0;
    if height.value() > half * (1.0 + 1e-9) {
        let most = Length::new(half);
        let reason = format!(
            "an arc {} wide cannot stand out by {}: it would run into its neighbours",
            ruler.shown(width),
            ruler.shown(height)
        );
        return Err(Impossible::new(reason, format!("let it stand out by {} or less", ruler.shown(most)), half));
    }
    let (w, h) = (|| term("half the width", half), || term("depth", height.value()));
    let radius = ruler.exact(EdgeRule::ArcRadius, "radius", (w() * w() + h() * h()) / (2.0 * h()));
    let angle: Term = term("angle", 2.0 * libm::asin((half / radius.value).min(1.0)));
    let arc = ruler.exact(EdgeRule::ArcLength, "length of the arc", term("radius", radius.value) * angle);
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
    let reason = format!(
        "arcs {} deep are deeper than a band of {} has room for, which is {} for the seam and the binding besides",
        ruler.shown(wish.depth),
        ruler.shown(band),
        ruler.shown(more)
    );
    let nearest = if most > 0.0 {
        format!(
            "make them {} deep or less, or the band {} or wider",
            ruler.shown(Length::new(most)),
            ruler.shown(wish.depth + more)
        )
    } else {
        format!("make the band {} or wider", ruler.shown(wish.depth + more))
    };
    Err(Impossible::new(reason, nearest, most))
}

/// How a corner turns that takes `taken` of either side, with valleys `deep` inside the edge.
///
/// The circle that touches both sides with its middle at (m, m) meets a valley at (c, d) where (c - m)² + (d - m)² = m², so that
/// m = c + d - √(2cd). Its valleys are no closer than it is wide where c is at least 2d.
#[must_use]
pub fn corner(taken: f64, deep: f64) -> Corner {
    if taken >= 2.0 * deep - TOLERANCE {
        let radius = taken + deep - (2.0 * taken * deep).sqrt();
        // Seen from the middle, a valley lies so far beyond the quarter circle that looks inward, on either side.
        let beyond = libm::atan2(radius - deep, taken - radius);
        return Corner::Scallop { radius, sweep: TAU - FRAC_PI_2 - 2.0 * beyond };
    }
    if taken <= deep + TOLERANCE { Corner::Sharp } else { Corner::SetBack { radius: taken - deep } }
}

impl Corner {
    /// Length of its arc.
    #[must_use]
    pub fn length(self) -> f64 {
        match self {
            Self::Scallop { radius, sweep } => radius * sweep,
            Self::SetBack { radius } => radius * FRAC_PI_2,
            Self::Sharp => 0.0,
        }
    }
}

/// The whole edge of a quilt of `size`.
///
/// # Errors
/// As of [`along`]; and a corner that takes less than the arcs are deep.
pub fn round(size: Vec2, wish: &Wish, ruler: Ruler) -> Result<CurvedEdge, Impossible> {
    let deep = wish.height();
    if wish.corner.value() < deep * (1.0 - 1e-9) {
        let reason = format!(
            "a corner that takes {} leaves no room between valleys {} deep",
            ruler.shown(wish.corner),
            ruler.shown(Length::new(deep))
        );
        let nearest = format!("let the corner take {} or more", ruler.shown(Length::new(deep)));
        return Err(Impossible::new(reason, nearest, deep));
    }
    let sides = [along(Length::new(size.x), wish, ruler)?, along(Length::new(size.y), wish, ruler)?];
    let turned = corner(wish.corner.value(), deep);
    let outline = outline(size, wish, &sides, turned);
    let arcs = |side: &Side, what: &str| term(what, 2.0 * side.count.value) * term("arc", side.arc.value);
    let edge = arcs(&sides[0], "arcs across") + arcs(&sides[1], "arcs along") + 4.0 * term("corner", turned.length());
    Ok(CurvedEdge { edge: ruler.exact(EdgeRule::ArcEdge, "length of the edge", edge), sides, corner: turned, outline })
}

/// The edges of all sides and corners, anticlockwise from the lower left.
fn outline(size: Vec2, wish: &Wish, sides: &[Side; 2], turned: Corner) -> Loop {
    let (deep, taken) = (wish.height(), wish.corner.value());
    let mut edges = Vec::new();
    for number in 0..4 {
        // `place` of a side: along it from its start, and inward from it.
        let place = |along: f64, inward: f64| match number {
            0 => Point::new(along, inward),
            1 => Point::new(size.x - inward, along),
            2 => Point::new(size.x - along, size.y - inward),
            _ => Point::new(inward, size.y - along),
        };
        let length = if number % 2 == 0 { size.x } else { size.y };
        let side = &sides[number % 2];
        let (width, radius) = (side.width.value, side.radius.value);
        for i in 0..side.count.count() {
            #[expect(clippy::cast_precision_loss, reason = "arcs are few")]
            let start = taken + width * i as f64;
            // Beside a corner that stands out waves begin inward.
            let out = wish.curve == Curve::Scallops || (i % 2 == 0) != matches!(turned, Corner::Scallop { .. });
            // An arc out has its highest point on the edge of the quilt, one in has it as far on the other side of the line of its ends.
            let middle = place(start + width / 2.0, if out { radius } else { 2.0 * deep - radius });
            let turn = if out { Turn::Left } else { Turn::Right };
            edges.push(Edge::Arc { from: place(start, deep), to: place(start + width, deep), centre: middle, turn });
        }
        let (from, to) = (place(length - taken, deep), place(length - deep, taken));
        match turned {
            Corner::Scallop { radius, .. } => {
                edges.push(Edge::Arc { from, to, centre: place(length - radius, radius), turn: Turn::Left });
            }
            Corner::SetBack { .. } => edges.push(Edge::Arc { from, to, centre: place(length - taken, taken), turn: Turn::Left }),
            Corner::Sharp => {}
        }
    }
    Loop::new(edges)
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
    let made = round(size, wish, ruler)?;
    let strip = binding::length(&Round::of(&made.outline, ruler.allowance.0.value()), None, ruler);
    let corner = match made.corner {
        Corner::Scallop { radius, sweep } => term("radius", radius) * term("angle", sweep),
        other => term("quarter circle", other.length()),
    };
    let corner = ruler.exact(EdgeRule::ArcCorner, "length of a corner", corner);
    let sides: Vec<_> =
        made.sides.iter().zip(["top and bottom", "left and right"]).flat_map(|(made, side)| made.figures_of(side)).collect();
    let sides = sides.iter().map(|(name, working)| (*name, working));
    let figures = sides.chain([("corner", &corner), ("edge", &made.edge), ("binding", &strip)]);
    Ok(Answer::new(name(wish.curve), figures)
        .steps(steps(wish, ruler))
        .note("Bind it with bias: a strip on the straight does not lie round a curve."))
}

fn name(curve: Curve) -> &'static str {
    if curve == Curve::Scallops { "scallops" } else { "waves" }
}

/// Depths that look well. Source: check value edges.scallop.depth.
const LOOKS_WELL_IN: (f64, f64) = (1.5, 3.0);

fn steps(wish: &Wish, ruler: Ruler) -> Vec<String> {
    let inches = wish.depth.value() / ruler.measure.inch();
    let mut steps = vec![
        "Mark the edge with the template before it is cut, from the middle of a side to its ends, then the corners.".to_owned(),
        "Sew the binding on along the marked line, then cut along it: an edge cut first stretches.".to_owned(),
        "Clip at each valley to the sewing line, never through it.".to_owned(),
    ];
    if inches < LOOKS_WELL_IN.0 || inches > LOOKS_WELL_IN.1 {
        steps.push("Depths from 1 1/2 to 3 in (4 to 7.5 cm) look well.".to_owned());
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
