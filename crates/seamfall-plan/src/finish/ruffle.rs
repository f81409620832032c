//! Ruffles and piping: strips that are longer or rounder than the edge they are sewn to.
//!
//! In: the edge, fullness, depth, corners; a cord. Out: how long and how wide the strip is. Round a corner a ruffle's outer edge runs a
//! part of a circle farther than its seam; that much is added, so that it lies flat there however little it is gathered.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use super::binding::Round;
use crate::cut::rules;
use seamfall_model::{EdgeRule, Length, Working, term};
use std::f64::consts::{FRAC_PI_2, PI};
use tr::tr;

/// How full a ruffle may be: 1 1/4 of bias, 2 1/2 usual for a bed, 3 of thin cloth and of pleats side by side.
/// Sources: check values edges.ruffle.bias, edges.ruffle.range, edges.ruffle.soft, edges.ruffle.side_plait.
pub const FULLNESS: (f64, f64) = (1.25, 3.0);

/// A ruffle before it is gathered.
#[derive(Debug, Clone, PartialEq)]
pub struct Ruffle {
    /// The edge times the fullness.
    pub along: Working,
    /// What the corners take.
    pub corners: Working,
    /// Both together.
    pub length: Working,
    /// How wide the strip is cut, doubled.
    pub strip: Working,
}

/// The ruffle `depth` deep and `fullness` times as long as the edge.
///
/// # Errors
/// A fullness below 1, which is no ruffle; a depth that is nothing.
pub fn ruffle(edge: Length, square_corners: f64, fullness: f64, depth: Length, ruler: Ruler) -> Result<Ruffle, Impossible> {
    more_than_nothing(ruler, &tr!("the depth"), depth)?;
    more_than_nothing(ruler, &tr!("the edge"), edge)?;
    if !(1.0..=10.0).contains(&fullness) {
        let nearest = fullness.clamp(FULLNESS.0, FULLNESS.1);
        let reason = tr!("a ruffle is at least as long as its edge, and no more than ten times as long");
        return Err(Impossible::new(reason, tr!("take a fullness of {nearest}", nearest), nearest));
    }
    let along = ruler.exact(
        EdgeRule::Ruffle,
        &tr!("along the edge"),
        term(&tr!("edge"), edge.value()) * term(&tr!("fullness"), fullness),
    );
    let corner = term(&tr!("square corners"), square_corners) * term(&tr!("depth"), depth.value()) * FRAC_PI_2;
    let corners = ruler.exact(EdgeRule::RuffleCorner, &tr!("for the corners"), corner);
    let length = term(&tr!("along the edge"), along.value) + term(&tr!("for the corners"), corners.value);
    let strip = term(&tr!("depth"), depth.value()) * 2.0 + ruler.seam() * 2.0;
    Ok(Ruffle {
        length: ruler.cut(EdgeRule::Ruffle, &tr!("length of the strip"), length),
        strip: ruler.cut(EdgeRule::DoubledStrip, &tr!("width of the strip"), strip),
        along,
        corners,
    })
}

/// A ruffle out of cloth `usable` wide, joined to a ring, straight seams of two allowances.
///
/// # Errors
/// As of [`ruffle`].
pub fn answer(round: &Round, fullness: f64, depth: Length, usable: Length, ruler: Ruler) -> Result<Answer, Impossible> {
    let made = ruffle(Length::new(round.length), round.square_corners, fullness, depth, ruler)?;
    let joined = term(&tr!("usable width"), usable.value()) - ruler.seam() * 2.0;
    if joined.value() <= 0.0 || made.strip.value > usable.value() {
        let deepest = usable.value() / 2.0 - ruler.allowance.0.value();
        let reason = tr!("cloth {usable} wide is too narrow for this ruffle", usable = ruler.shown(usable));
        return Err(Impossible::new(
            reason,
            tr!("make it {deepest} deep or less", deepest = ruler.shown(Length::new(deepest))),
            deepest,
        ));
    }
    let strips = ruler.whole(EdgeRule::Ruffle, &tr!("strips"), (term(&tr!("length"), made.length.value) / joined).ceil());
    let cloth = rules::length_needed([(strips.value, made.strip.length())]);
    let figures = [
        ("along", &made.along),
        ("corners", &made.corners),
        ("length", &made.length),
        ("strip", &made.strip),
        ("strips", &strips),
        ("cloth", &cloth),
    ];
    let mut answer = Answer::new("ruffle", figures).steps([
        tr!("Join the strips to a ring, press the seams open, fold it lengthwise, wrong side in."),
        tr!("Mark quarters of the ring and quarters of the edge; gather between the marks, a little more at the corners."),
    ]);
    if !(FULLNESS.0..=FULLNESS.1).contains(&fullness) {
        answer = answer.note(tr!(
            "Usual is {least} (of bias) to {most} (of thin cloth, and of pleats).",
            least = FULLNESS.0,
            most = FULLNESS.1
        ));
    }
    Ok(answer)
}

/// Width of a strip over a cord as thick as `cord`, or flat, folded so that `cord` shows.
///
/// # Errors
/// A cord that is nothing.
pub fn piping(cord: Length, flat: bool, ruler: Ruler) -> Result<Working, Impossible> {
    more_than_nothing(ruler, &tr!("the cord"), cord)?;
    let seams = ruler.seam() * 2.0;
    Ok(if flat {
        ruler.cut(EdgeRule::FlatPiping, &tr!("width of the strip"), term(&tr!("shows"), cord.value()) * 2.0 + seams)
    } else {
        ruler.cut(EdgeRule::Piping, &tr!("width of the strip"), term(&tr!("cord"), cord.value()) * PI + seams)
    })
}

/// The same as an answer.
///
/// # Errors
/// As of [`piping`].
pub fn piping_answer(cord: Length, flat: bool, ruler: Ruler) -> Result<Answer, Impossible> {
    let strip = piping(cord, flat, ruler)?;
    Ok(Answer::new("piping", [("strip", &strip)]).steps([
        tr!("Cut the strip on the bias, so that it goes round corners and curves."),
        tr!("Sew it to the edge before the binding, clipped to its seam at every corner."),
    ]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_model::{Allowance, Measure};

    /// `edges.ruffle.quilt_worked`: 560 in along, strips 6 1/2 in, 14 of them, 91 in of cloth; the corners take π/2 · 3 in each and
    /// the same 14 strips have room for it. `edges.ruffle.double_cloth`, `queen_cloth`: 535 and 550 in along.
    #[test]
    fn a_ruffle_is_the_edge_times_the_fullness() {
        let inches = Ruler::usual(Measure::Inch);
        let made =
            answer(&Round::rectangle(60.0, 80.0), 2.0, Length::new(3.0), Length::new(42.0), inches).expect("it can be had");
        let value = |name: &str| made.figure(name).expect("it is there").value;
        assert_eq!((value("along"), value("strip"), value("strips"), value("cloth")), (560.0, 6.5, 14.0, 91.0));
        assert!((value("corners") - 6.0 * PI).abs() < 1e-9);
        for (edge, length) in [(214.0, 535.0), (220.0, 550.0)] {
            let straight = ruffle(Length::new(edge), 0.0, 2.5, Length::new(14.0), inches).expect("it can be had");
            assert_eq!((straight.along.value, straight.corners.value, straight.length.value), (length, 0.0, length));
        }
        assert_eq!(ruffle(Length::new(60.0), 0.0, 0.5, Length::new(3.0), inches).expect_err("no ruffle").value, 1.25);
    }

    /// `edges.piping.cord_6mm`: 30.85 mm, exactly π · 6 + 12. `edges.piping.esprit`: a cord 1/2 in round with seams of 1/2 in.
    /// `edges.piping.flat`: 1 1/4 in, which is 3/8 in showing with our seams.
    #[test]
    fn piping_goes_once_round_the_cord() {
        let cm = Ruler { allowance: Allowance(Length::new(0.6)), ..Ruler::usual(Measure::Centimetre) };
        let strip = piping(Length::new(0.6), false, cm).expect("it can be had");
        assert!((strip.exact - 3.0849556).abs() < 1e-7 && strip.value == 3.1);
        let half = Ruler { allowance: Allowance(Length::new(0.5)), ..Ruler::usual(Measure::Inch) };
        assert!((piping(Length::new(0.5 / PI), false, half).expect("it can be had").exact - 1.5).abs() < 1e-9);
        let inches = Ruler::usual(Measure::Inch);
        assert_eq!(piping(Length::new(0.375), true, inches).expect("it can be had").value, 1.25);
    }
}
