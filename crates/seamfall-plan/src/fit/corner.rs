//! How the cloth ends at a corner of the foot, how far down it reaches there, and what is cut away for it.
//!
//! In: the drops at the side and at the foot, and by how much a block sets the corner back. Out: the edge as lines and arcs, with its workings.
//! Coordinates: the corner of the mattress at the origin, x out over the side, y out over the foot, so that square cloth covers `[0, side]` by
//! `[0, foot]` beyond the mattress. Cloth that hangs from the corner reaches as far down as its farthest point from it; over a side alone
//! it reaches as far as that side's drop.
//!
//! Where the two drops differ a hem that is level all round does not exist. The longer drop is then the radius of the arc, or bounds the
//! straight cut: of all cuts which reach no lower than the cloth does anyway, those that take least.

use crate::answer::{Answer, Impossible, Ruler};
use seamfall_geom::{Edge, Point, TOLERANCE, Turn};
use seamfall_model::{CornerShape, FitRule, Length, Term, Working, term};
use tr::tr;

/// What a corner hangs over: how far the cloth reaches beyond the mattress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drops {
    /// Over the side.
    pub side: Length,
    /// Over the foot.
    pub foot: Length,
}

/// The edge at one corner.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerCut {
    /// Its shape.
    pub shape: CornerShape,
    /// From `(side, 0)`, or lower, round to `(0, foot)`, or beyond; anticlockwise. A line or arc never has no length.
    pub edge: Vec<Edge>,
    /// How far down the cloth reaches.
    pub hang: Working,
    /// Area cut away.
    pub cut_away: Working,
}

impl Drops {
    fn longer(self) -> f64 {
        self.side.value().max(self.foot.value())
    }

    fn shorter(self) -> f64 {
        self.side.value().min(self.foot.value())
    }

    /// How far along the shorter side's edge a circle about the mattress corner is met that has the longer drop for its radius.
    fn rest(self) -> f64 {
        let (long, short) = (self.longer(), self.shorter());
        (long * long - short * short).max(0.0).sqrt()
    }

    /// Where that is.
    fn meets(self) -> [Point; 2] {
        let (side, foot) = (self.side.value(), self.foot.value());
        if side <= foot {
            [Point::new(side, self.rest()), Point::new(0.0, foot)]
        } else {
            [Point::new(side, 0.0), Point::new(self.rest(), foot)]
        }
    }
}

/// The edge of a corner; `set_back` is the side of the square block that is cut along its diagonal, and is read for that shape alone.
///
/// Drops that are nothing have no corner: the edge is empty, or runs along the other drop. Unit: the document's. Exact.
///
/// # Errors
/// A corner set back by nothing, or by so much that the cut reaches the mattress.
pub fn corner_edge(shape: CornerShape, drops: Drops, set_back: Length, ruler: Ruler) -> Result<Vec<Edge>, Impossible> {
    edge_of(shape, drops, [set_back; 2], ruler)
}

fn edge_of(shape: CornerShape, drops: Drops, legs: [Length; 2], ruler: Ruler) -> Result<Vec<Edge>, Impossible> {
    let (side, foot) = (drops.side.value(), drops.foot.value());
    let (from, to) = (Point::new(side, 0.0), Point::new(0.0, foot));
    let [arc_from, arc_to] = drops.meets();
    Ok(match shape {
        CornerShape::Square => along(&[from, Point::new(side, foot), to]),
        CornerShape::Notch => along(&[from, Point::ORIGIN, to]),
        CornerShape::Straight => along(&[from, arc_from, arc_to, to]),
        CornerShape::Level => {
            let mut edge = along(&[from, arc_from]);
            if arc_from.distance(arc_to) > TOLERANCE && drops.shorter() > 0.0 {
                edge.push(Edge::Arc { from: arc_from, to: arc_to, centre: Point::ORIGIN, turn: Turn::Left });
            }
            edge.extend(along(&[arc_to, to]));
            edge
        }
        CornerShape::SetBack => {
            check_set_back(drops, legs, ruler)?;
            let [back, up] = legs.map(Length::value);
            let (cut_from, cut_to) = (Point::new(side, foot - up), Point::new(side - back, foot));
            let start = if foot > up { from } else { cut_from };
            let end = if side > back { to } else { cut_to };
            along(&[start, cut_from, cut_to, end])
        }
    })
}

/// Lines from point to point; points that are one make none.
fn along(points: &[Point]) -> Vec<Edge> {
    let lines = points.windows(2).filter(|pair| pair[0].distance(pair[1]) > TOLERANCE);
    lines.map(|pair| Edge::Line { from: pair[0], to: pair[1] }).collect()
}

/// The mattress's corner must not lie beyond the cut: on the far side of it the two drops, each in parts of its leg, are less than one.
fn check_set_back(drops: Drops, legs: [Length; 2], ruler: Ruler) -> Result<(), Impossible> {
    let shown = |value: f64| ruler.shown(Length::new(value));
    let [back, up] = legs.map(Length::value);
    if back.min(up) <= 0.0 {
        let least = ruler.step.size();
        return Err(Impossible::new(
            tr!("a corner set back by nothing is square"),
            tr!("make it {least} or more", least = shown(least)),
            least,
        ));
    }
    let parts = drops.side.value() / back + drops.foot.value() / up;
    if parts < 1.0 - TOLERANCE / back.max(up) {
        let reason = tr!("a corner set back by {back} leaves the corner of the mattress bare", back = shown(back));
        return Err(Impossible::new(reason, tr!("make it {parts} or less", parts = shown(back * parts)), back * parts));
    }
    Ok(())
}

/// A corner with its workings. `set_back` is read for that shape alone: what the cut takes along the foot, and up the side; of a square block
/// its side both times.
///
/// # Errors
/// As [`corner_edge`]; and drops that are both nothing.
pub fn corner_cut(shape: CornerShape, drops: Drops, set_back: [Length; 2], ruler: Ruler) -> Result<CornerCut, Impossible> {
    if drops.longer() <= 0.0 {
        let least = ruler.step.size();
        let nearest = tr!("make it {least} or more", least = ruler.shown(Length::new(least)));
        return Err(Impossible::new(tr!("cloth that does not hang has no corner"), nearest, least));
    }
    let edge = edge_of(shape, drops, set_back, ruler)?;
    let side = || term(&tr!("side drop"), drops.side.value());
    let foot = || term(&tr!("foot drop"), drops.foot.value());
    let long = || term(&tr!("longer drop"), drops.longer());
    let short = || term(&tr!("shorter drop"), drops.shorter());
    let rest = || (square(long) - square(short)).sqrt();
    let (rule, hang, cut_away) = match shape {
        CornerShape::Square => (FitRule::CornerHang, (square(side) + square(foot)).sqrt(), term(&tr!("nothing"), 0.0)),
        CornerShape::SetBack => {
            let (hang, away) = set_back_terms(drops, set_back);
            (FitRule::SetBack, hang, away)
        }
        CornerShape::Level => {
            let angle = libm::asin((drops.shorter() / drops.longer()).min(1.0));
            let left = (short() * rest() + square(long) * term(&tr!("angle of the arc"), angle)) / 2.0;
            (FitRule::LevelHem, long(), side() * foot() - left)
        }
        CornerShape::Straight => (FitRule::StraightCut, long(), short() * (long() - rest()) / 2.0),
        CornerShape::Notch => (FitRule::Notch, long(), side() * foot()),
    };
    Ok(CornerCut {
        shape,
        edge,
        hang: ruler.exact(rule, &tr!("corner hangs"), hang),
        cut_away: ruler.exact(FitRule::CutAway, &tr!("cut away at each corner"), cut_away),
    })
}

/// How far down a corner that is set back reaches, and what is cut away: of the two ends of the cut the farther one counts.
fn set_back_terms(drops: Drops, legs: [Length; 2]) -> (Term, Term) {
    let names =
        if legs[0] == legs[1] { [tr!("block"), tr!("block")] } else { [tr!("block along the foot"), tr!("block up the side")] };
    let names = &names;
    let [back, up] = [0, 1].map(|leg| move || term(&names[leg], legs[leg].value()));
    let (side, foot) = (|| term(&tr!("side drop"), drops.side.value()), || term(&tr!("foot drop"), drops.foot.value()));
    let end = |kept: &dyn Fn() -> Term, cut: &dyn Fn() -> Term, by: &dyn Fn() -> Term| {
        let left = || cut() - by();
        if left().value() > 0.0 { (square(kept) + square(left)).sqrt() } else { kept() }
    };
    let (at_side, at_foot) = (end(&side, &foot, &up), end(&foot, &side, &back));
    let hang = if at_side.value() > at_foot.value() { at_side } else { at_foot };
    (hang, back() * up() / 2.0)
}

fn square(side: impl Fn() -> Term) -> Term {
    side() * side()
}

impl CornerCut {
    /// How far the corner hangs beyond the floor; negative where it hangs free.
    #[must_use]
    pub fn on_the_floor(&self, height: Length, ruler: Ruler) -> Working {
        let over = term(&tr!("corner hangs"), self.hang.value) - term(&tr!("height"), height.value());
        ruler.exact(FitRule::OnTheFloor, &tr!("beyond the floor"), over)
    }

    /// Whether it touches the floor. A hem that just meets it, to the tolerance, hangs free.
    #[must_use]
    pub fn drags(&self, height: Length) -> bool {
        self.hang.value > height.value() + TOLERANCE
    }

    /// Length of the edge.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.edge.iter().map(Edge::length).sum()
    }

    /// The answer for a bed so high.
    #[must_use]
    pub fn answer(&self, height: Length, ruler: Ruler) -> Answer {
        let floor = self.on_the_floor(height, ruler);
        let figures = [("hang", &self.hang), ("beyond-floor", &floor), ("cut-area", &self.cut_away)];
        Answer::new(self.shape.word(), figures)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use seamfall_geom::Loop;
    use seamfall_model::Measure;

    fn drops(side: f64, foot: f64) -> Drops {
        Drops { side: Length::new(side), foot: Length::new(foot) }
    }

    fn cut(shape: CornerShape, side: f64, foot: f64, back: f64) -> CornerCut {
        corner_cut(shape, drops(side, foot), [Length::new(back); 2], Ruler::usual(Measure::Inch)).expect("this corner can be cut")
    }

    /// Check value `beds.corner_drop_exact`: a side drop of 14 in hangs 19.79899 in at a square corner. `beds.corner_rounded`: a quarter circle
    /// takes 36.26771 square inches at a drop of 13 in. The others by plane geometry.
    #[test]
    fn corners_hang_as_geometry_has_it() {
        for (shape, side, foot, back, hang, away) in [
            (CornerShape::Square, 14.0, 14.0, 0.0, 19.798_99, 0.0),
            (CornerShape::Level, 13.0, 13.0, 0.0, 13.0, 36.267_71),
            (CornerShape::Straight, 14.0, 14.0, 0.0, 14.0, 98.0),
            (CornerShape::Notch, 14.0, 10.0, 0.0, 14.0, 140.0),
            // Half of a block of 8 in, 32 square inches; left are 6 in of one drop and 14 of the other.
            (CornerShape::SetBack, 14.0, 14.0, 8.0, 15.231_55, 32.0),
            (CornerShape::SetBack, 14.0, 12.0, 12.0, 14.0, 72.0),
            // 3, 4, 5: the arc meets the shorter side 8 in down.
            (CornerShape::Straight, 6.0, 10.0, 0.0, 10.0, 6.0),
        ] {
            let made = cut(shape, side, foot, back);
            assert!((made.hang.value - hang).abs() < 1e-5, "{}: {}", shape.word(), made.hang.line());
            assert!((made.cut_away.value - away).abs() < 1e-5, "{}: {}", shape.word(), made.cut_away.line());
        }
    }

    #[test]
    fn the_working_reads_as_its_arithmetic() {
        let line = cut(CornerShape::Square, 14.0, 14.0, 0.0).hang.line();
        let words = "corner hangs = √(side drop × side drop + foot drop × foot drop)";
        assert_eq!(line, format!("{words} = √(14 × 14 + 14 × 14) = 19.799"));
    }

    #[test]
    fn a_corner_cannot_be_set_back_onto_the_mattress() {
        let ruler = Ruler::usual(Measure::Inch);
        let tried = |back: f64| corner_cut(CornerShape::SetBack, drops(6.0, 5.0), [Length::new(back); 2], ruler);
        assert_eq!(tried(11.0).map(|made| made.edge.len()), Ok(1));
        assert_eq!(tried(12.0).map_err(|trouble| trouble.value), Err(11.0));
        assert_eq!(tried(0.0).map_err(|trouble| trouble.value), Err(0.125));
        let flat = corner_cut(CornerShape::Square, drops(0.0, 0.0), [Length::ZERO; 2], ruler);
        assert_eq!(flat.map_err(|trouble| trouble.reason), Err("cloth that does not hang has no corner".to_owned()));
    }

    /// How far down a point of the cloth hangs, from the definition.
    fn hangs(point: Point) -> f64 {
        match (point.x > 0.0, point.y > 0.0) {
            (true, true) => point.distance(Point::ORIGIN),
            (true, false) => point.x,
            (false, true) => point.y,
            (false, false) => 0.0,
        }
    }

    proptest! {
        /// Walking along the edge finds no point that hangs lower than is said, and one that hangs as low; and what is cut away and what is
        /// left make the whole, measured round the outline.
        #[test]
        fn the_edge_is_what_is_said_of_it(side in 0.5..30.0f64, foot in 0.5..30.0f64, share in 0.01..1.0f64) {
            for shape in CornerShape::ALL {
                let back = share * (side + foot);
                let made = cut(shape, side, foot, back);
                let lowest = made.edge.iter().flat_map(|edge| (0..=64).map(|i| hangs(edge.at(f64::from(i) / 64.0)))).fold(0.0, f64::max);
                prop_assert!((lowest - made.hang.value).abs() < 1e-6, "{} {lowest} {}", shape.word(), made.hang.line());
                // The cloth from far inside the mattress, so that cuts beyond the corner of it are counted.
                let far = -(side + foot);
                let whole = (side - far) * (foot - far);
                let (first, last) = (made.edge[0].from(), made.edge[made.edge.len() - 1].to());
                let mut round = made.edge.clone();
                let corners = [last, Point::new(far, foot), Point::new(far, far), Point::new(side, far), first];
                round.extend(along(&corners));
                let left = Loop::new(round).area();
                prop_assert!((whole - left - made.cut_away.value).abs() < 1e-6, "{}: {left}", shape.word());
            }
        }

        /// Of the five no other hangs as low as the square one, and those that are level hang as the longer drop does.
        #[test]
        fn every_way_out_hangs_higher(side in 1.0..30.0f64, foot in 1.0..30.0f64) {
            let square = cut(CornerShape::Square, side, foot, 0.0).hang.value;
            for shape in [CornerShape::SetBack, CornerShape::Level, CornerShape::Straight, CornerShape::Notch] {
                prop_assert!(cut(shape, side, foot, 1.0).hang.value < square);
            }
        }
    }
}
