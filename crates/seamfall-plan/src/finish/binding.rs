//! Binding: how long the strip is round the real edge, and how wide it is cut.
//!
//! In: the outline of the quilt, or two sides; finished and cut widths. Out: the length with what inside corners take, widths, minutes
//! of sewing down. Outside corners are mitred, the strip folded up and down flush with the edge, which takes nothing; the pleat lies wholly
//! in the folded side. An edge with a curve wants bias.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use super::sides;
use crate::cut::rules;
use seamfall_geom::{Edge, Loop, TOLERANCE, Turn};
use seamfall_model::{EdgeRule, Length, Term, Working, term};
use std::f64::consts::FRAC_PI_2;
use tr::tr;

/// The edge of a quilt, once round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Round {
    /// Its length, curves along the curve.
    pub length: f64,
    /// What the sewing line runs farther at inside corners.
    pub inside_extra: f64,
    /// Corners that stand out.
    pub outside: usize,
    /// Corners that stand in.
    pub inside: usize,
    /// Corners that stand out by clearly less than a square one, 80 degrees or less.
    pub blunt: usize,
    /// How far it turns outward in all, at corners and along curves, in square corners: 4 round a rectangle or a circle.
    pub square_corners: f64,
    /// Whether a part of it is curved.
    pub curved: bool,
}

/// A corner that turns less than this is blunt: 80 degrees, in radians. A choice: a pleat there lies visibly otherwise than at a square corner.
const BLUNT: f64 = 80.0 / 180.0 * std::f64::consts::PI;

impl Round {
    /// Round a rectangle.
    #[must_use]
    pub fn rectangle(width: f64, height: f64) -> Self {
        Self {
            length: 2.0 * (width + height),
            inside_extra: 0.0,
            outside: 4,
            inside: 0,
            blunt: 0,
            square_corners: 4.0,
            curved: false,
        }
    }

    /// Round `outline`, which runs anticlockwise; sewn `seam` inside its edge.
    ///
    /// At an inside corner between straight sides, turned by θ, the sewing line runs `seam · tan(θ/2)` beyond either side. Between curves
    /// nothing is added: along a curve that stands out the sewing line is shorter than the edge by as much.
    #[must_use]
    pub fn of(outline: &Loop, seam: f64) -> Self {
        let edges = outline.edges();
        let mut round = Self {
            length: outline.perimeter(),
            inside_extra: 0.0,
            outside: 0,
            inside: 0,
            blunt: 0,
            square_corners: edges.iter().map(outward).sum(),
            curved: edges.iter().any(|edge| matches!(edge, Edge::Arc { .. })),
        };
        for (edge, next) in edges.iter().zip(edges.iter().cycle().skip(1)) {
            let turn = sides::turn(edge, next);
            if turn == 0.0 {
                continue;
            }
            if turn > 0.0 {
                round.outside += 1;
                round.blunt += usize::from(turn < BLUNT);
                round.square_corners += turn / FRAC_PI_2;
                continue;
            }
            round.inside += 1;
            if matches!((edge, next), (Edge::Line { .. }, Edge::Line { .. })) {
                round.inside_extra += 2.0 * seam * libm::tan((-turn / 2.0).min(FRAC_PI_2 * 0.9));
            }
        }
        round
    }

    fn term(&self) -> Term {
        let edge = term(&tr!("edge"), self.length);
        if self.inside_extra > TOLERANCE { edge + term(&tr!("inside corners"), self.inside_extra) } else { edge }
    }
}

/// How far an edge of an anticlockwise outline turns outward, in square corners.
fn outward(edge: &Edge) -> f64 {
    match edge {
        Edge::Arc { turn: Turn::Left, .. } => edge.sweep().unwrap_or(0.0) / FRAC_PI_2,
        _ => 0.0,
    }
}

/// The strip round the edge, and a foot (30 cm) `more` unless said.
#[must_use]
pub fn length(round: &Round, more: Option<Length>, ruler: Ruler) -> Working {
    let more = more.unwrap_or(ruler.size(12.0, 30.0));
    ruler.cut(EdgeRule::Round, &tr!("length of the strip"), round.term() + term(&tr!("more"), more.value()))
}

/// Width of a strip that is folded in two before it is sewn on and shows `finished` wide: `2 (2w + s)`.
#[must_use]
pub fn double_width(finished: Length, ruler: Ruler) -> Working {
    let width = (term(&tr!("finished"), finished.value()) * 2.0 + ruler.seam()) * 2.0;
    ruler.cut(EdgeRule::DoubleBinding, &tr!("width of a double strip"), width)
}

/// Width of a strip of one layer that shows `finished` wide: `2w + 2s`.
#[must_use]
pub fn single_width(finished: Length, ruler: Ruler) -> Working {
    let width = term(&tr!("finished"), finished.value()) * 2.0 + ruler.seam() * 2.0;
    ruler.cut(EdgeRule::SingleBinding, &tr!("width of a single strip"), width)
}

/// What a double strip of width `strip` leaves for the turn, where it shows `finished` wide.
#[must_use]
pub fn turn_of_cloth(strip: Length, finished: Length, ruler: Ruler) -> Working {
    let bare = (term(&tr!("finished"), finished.value()) * 2.0 + ruler.seam()) * 2.0;
    ruler.exact(EdgeRule::TurnOfCloth, &tr!("left for the turn"), term(&tr!("strip"), strip.value()) - bare)
}

/// Hours of sewing the strip down by hand, 16 in in ten minutes. Source: check value edges.bind.time.
#[must_use]
pub fn sewing_down(length: Length, ruler: Ruler) -> Working {
    let inches = term(&tr!("inches"), length.value() / ruler.measure.inch());
    ruler.exact(EdgeRule::SewingDown, &tr!("hours of sewing down"), inches / 16.0 * 10.0 / 60.0)
}

/// How wide a strip is cut that shows `finished` wide, doubled and of one layer.
#[must_use]
pub fn widths(finished: Length, ruler: Ruler) -> Answer {
    Answer::new("binding-width", [("double", &double_width(finished, ruler)), ("single", &single_width(finished, ruler))])
        .note(tr!("A strip for a thick edge is cut 1/4 to 3/4 in (0.5 to 2 cm) wider, for the turn."))
}

/// How much binding goes round `round`, in strips cut `strip` wide out of cloth of width `usable`, joined on the slant.
///
/// # Errors
/// A strip that is nothing, or no narrower than the cloth.
pub fn answer(
    round: &Round,
    strip: Length,
    usable: Length,
    more: Option<Length>,
    finished: Option<Length>,
    ruler: Ruler,
) -> Result<Answer, Impossible> {
    more_than_nothing(ruler, &tr!("the strip"), strip)?;
    more_than_nothing(ruler, &tr!("the edge"), Length::new(round.length))?;
    if strip >= usable {
        let reason = tr!(
            "a strip {strip} wide cannot be joined from cloth {usable} wide",
            strip = ruler.shown(strip),
            usable = ruler.shown(usable)
        );
        let nearest = usable.value() - ruler.step.size();
        return Err(Impossible::new(reason, tr!("take {most} or less", most = ruler.shown(Length::new(nearest))), nearest));
    }
    let length = length(round, more, ruler);
    let strips = rules::joined_strips(1, length.length(), usable, strip);
    let cloth = rules::length_needed([(strips.value, strip)]);
    let hours = sewing_down(length.length(), ruler);
    let finished = finished.unwrap_or(ruler.allowance.0);
    let left = turn_of_cloth(strip, finished, ruler);
    let figures =
        [("length", &length), ("strips", &strips), ("cloth", &cloth), ("left-for-the-turn", &left), ("sewing-down", &hours)];
    let mitres = ruler.whole(EdgeRule::Round, &tr!("mitres"), term(&tr!("corners that stand out"), round.outside as f64));
    let inside =
        ruler.whole(EdgeRule::InsideCorner, &tr!("inside corners"), term(&tr!("corners that stand in"), round.inside as f64));
    let is_plain = (round.outside, round.inside, round.blunt) == (4, 0, 0) || round.outside + round.inside == 0;
    let corners = [("mitres", &mitres), ("inside-corners", &inside)].into_iter().filter(|_| !is_plain);
    let mut answer = Answer::new("binding", figures.into_iter().chain(corners)).steps([
        tr!("Join the strips on the slant: lay two across each other, sew from corner to corner, cut an allowance beyond."),
        tr!("At an outside corner stop an allowance before the end, fold the strip up and down again flush with the edge, and go on."),
    ]);
    if round.blunt > 0 {
        answer = answer.steps([
            tr!("At a blunt corner stop an allowance before the end, turn to the new side and fold the strip so that it lies flush with it: the pleat is as wide as the turn asks, narrower than at a square corner."),
        ]);
    }
    if round.inside > 0 {
        answer = answer.steps([tr!(
            "At an inside corner clip the quilt to the sewing line, straighten it and sew on; fold the mitre afterwards."
        )]);
    }
    if round.curved {
        answer = answer.note(tr!("An edge with curves wants bias: a strip on the straight does not lie round a curve."));
    }
    if left.value < 0.0 {
        let least = double_width(finished, ruler);
        answer = answer
            .note(tr!("This strip is too narrow to be doubled: it takes {least} or more.", least = ruler.shown(least.length())));
    }
    Ok(answer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_geom::Point;
    use seamfall_model::Measure;

    fn inches() -> Ruler {
        Ruler::usual(Measure::Inch)
    }

    /// `edges.bind.width_*`, `edges.bind.turn_of_cloth`, `edges.piping.bias_binding` (with seams of 3/8 in).
    #[test]
    fn widths_are_those_of_the_published_rules() {
        let length = Length::new;
        for (finished, strip) in [(0.25, 1.5), (0.5, 2.5), (0.75, 3.5)] {
            assert_eq!(double_width(length(finished), inches()).value, strip);
        }
        assert_eq!(turn_of_cloth(length(2.25), length(0.25), inches()).value, 0.75);
        let book = Ruler { allowance: seamfall_model::Allowance(length(0.375)), ..inches() };
        assert_eq!(single_width(length(0.5), book).value, 1.75);
    }

    /// `edges.bind.yardage_72x90`: 9 strips, 20 1/4 in. `edges.bind.qb_52x64`: 252 in with 20 in more. `edges.bind.hero`: 300 in and nothing
    /// more. `edges.bind.time`: 3 hours and an eighth for 300 in. `edges.bind.castilleja_50x60`: 6 strips, 2 in off each.
    #[test]
    fn lengths_are_those_of_the_published_sums() {
        let ask = |w, h, strip, usable, more| {
            let asked =
                answer(&Round::rectangle(w, h), Length::new(strip), Length::new(usable), Some(Length::new(more)), None, inches());
            asked.expect("it can be had")
        };
        let value = |answer: &Answer, name: &str| answer.figure(name).expect("it is there").value;
        let long = ask(72.0, 90.0, 2.25, 40.0, 12.0);
        assert_eq!((value(&long, "length"), value(&long, "strips"), value(&long, "cloth")), (336.0, 9.0, 20.25));
        assert_eq!(value(&ask(52.0, 64.0, 2.25, 40.0, 20.0), "length"), 252.0);
        assert_eq!(value(&ask(63.0, 87.0, 2.5, 40.0, 0.0), "length"), 300.0);
        assert_eq!(value(&ask(63.0, 87.0, 2.5, 40.0, 0.0), "sewing-down"), 3.125);
        let sewing_down = ask(63.0, 87.0, 2.5, 40.0, 0.0).figures.into_iter().find(|figure| figure.name == "sewing-down");
        assert_eq!(sewing_down.expect("it is there").shown(inches()), "3.1 h");
        assert_eq!(value(&ask(50.0, 60.0, 2.0, 40.0, 2.0), "strips"), 6.0);
        // `edges.bind.cottonpatch_40x50`: 4.29 strips there, which cannot be cut: five here, as its note has it.
        assert_eq!(value(&ask(40.0, 50.0, 3.5, 42.0, 0.0), "strips"), 5.0);
        assert_eq!(value(&ask(40.0, 50.0, 3.5, 42.0, 0.0), "cloth"), 17.5);
    }

    /// A quilt with a notch for bed posts in two corners: a square inside corner takes two allowances (tan 45° = 1), an outside corner none
    /// (`edges.bind.corner_extra`).
    #[test]
    fn inside_corners_take_two_allowances_and_outside_corners_nothing() {
        let points = [(0.0, 0.0), (60.0, 0.0), (60.0, 80.0), (0.0, 80.0), (0.0, 12.0), (-9.0, 12.0), (-9.0, 2.0), (0.0, 2.0)];
        let outline = Loop::polygon(&points.map(|(x, y)| Point::new(x, y)));
        let round = Round::of(&outline, 0.25);
        assert_eq!((round.outside, round.inside, round.curved), (6, 2, false));
        assert!((round.length - (280.0 + 18.0)).abs() < 1e-9);
        assert!((round.inside_extra - 2.0 * 0.5).abs() < 1e-9);
    }

    /// Four quarter circles at the corners: the edge is 2 (w + h) - 8 r + 2 π r, not its chords.
    #[test]
    fn curves_are_measured_along_the_curve() {
        let (w, h, r) = (60.0, 80.0, 10.0);
        let p = Point::new;
        let line = |from, to| Edge::Line { from, to };
        let arc = |from, to, centre| Edge::Arc { from, to, centre, turn: Turn::Left };
        let outline = Loop::new(vec![
            line(p(r, 0.0), p(w - r, 0.0)),
            arc(p(w - r, 0.0), p(w, r), p(w - r, r)),
            line(p(w, r), p(w, h - r)),
            arc(p(w, h - r), p(w - r, h), p(w - r, h - r)),
            line(p(w - r, h), p(r, h)),
            arc(p(r, h), p(0.0, h - r), p(r, h - r)),
            line(p(0.0, h - r), p(0.0, r)),
            arc(p(0.0, r), p(r, 0.0), p(r, r)),
        ]);
        let round = Round::of(&outline, 0.25);
        assert_eq!((round.outside, round.inside, round.curved), (0, 0, true));
        assert!((round.square_corners - 4.0).abs() < 1e-9);
        assert!((round.length - (2.0 * (w + h) - 8.0 * r + 2.0 * std::f64::consts::PI * r)).abs() < 1e-9);
    }
}
