//! Continuous bias from a square, by the geometry of the tube.
//!
//! In: the side of the square and the width of the strip; or the length that is wanted. Out: whole strips, the length they give with both
//! seams taken off, the figure of the tables beside it, and the way to mark and sew it.
//!
//! The square, side a, is cut once from corner to corner, and its halves are sewn together along two straight edges. Slid along that seam
//! so that the points stand out by t, the halves make a slanting piece (a - 2s + t)/√2 deep, whose rows along the bias are √2(a - t) long:
//! what is gained in depth is lost in length. We slide by two allowances, t = 2s: then the piece is as deep as half the
//! diagonal, a/√2, and no strip is lost to the seam. The second seam takes another 2s√2 of every row, so that w wide strips give
//! down(a / w√2) · √2(a - 4s). Edges that meet at the seam line, t = s, give √2(a - 3s) a strip, and now and then one strip less. The tests lay
//! the pieces out and measure. Tables go by area, a²/w, or take something off without saying why.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use seamfall_model::{EdgeRule, Length, Term, Working, mark, spoken, term};
use std::f64::consts::SQRT_2;
use tr::tr;

/// What a square gives.
#[derive(Debug, Clone, PartialEq)]
pub struct BiasTube {
    /// Side of the square.
    pub square: Length,
    /// Width of the strip.
    pub strip: Length,
    /// Whole strips across the depth of the piece.
    pub strips: Working,
    /// Length of the strip, seams taken off and the two loose ends not counted.
    pub length: Working,
    /// The same by area, as tables have it.
    pub by_area: Working,
    /// The same where the edges of the halves meet at the seam line.
    pub edges_met: Working,
    /// How far the points stand out when the halves are laid on each other.
    pub stand_out: Length,
}

/// Which square a length takes.
#[derive(Debug, Clone, PartialEq)]
pub struct BiasSquare {
    /// Side of the smallest square.
    pub side: Working,
    /// The same by area, up to a whole inch or centimetre, as tables have it.
    pub by_area: Working,
    /// What that smallest square gives.
    pub tube: BiasTube,
}

fn depth_of_a_strip(strip: Length) -> Term {
    term(&tr!("strip"), strip.value()) * SQRT_2
}

/// What a square of side `square` gives in strips `strip` wide.
///
/// # Errors
/// A square from which no strip can be had; the nearest is the smallest from which one can.
pub fn tube(square: Length, strip: Length, ruler: Ruler) -> Result<BiasTube, Impossible> {
    more_than_nothing(ruler, &tr!("the strip"), strip)?;
    let seam = ruler.allowance.0.value();
    let least = f64::max(strip.value() * SQRT_2, 4.0 * seam + ruler.step.size());
    if square.value() < least * (1.0 - 1e-9) {
        let least = ruler.step.up(Length::new(least));
        let reason = tr!(
            "a square of {square} is too small for bias {strip} wide: a strip lies across it slanting and takes {up}",
            square = ruler.shown(square),
            strip = ruler.shown(strip),
            up = ruler.shown(ruler.step.up(Length::new(strip.value() * SQRT_2)))
        );
        let nearest = tr!("take a square of {least} or more", least = ruler.shown(least));
        return Err(Impossible::new(reason, nearest, least.value()));
    }
    let side = || term(&tr!("square"), square.value());
    let strips = ruler.whole(EdgeRule::BiasStrips, &tr!("strips"), (side() / depth_of_a_strip(strip)).floor());
    let length = term(&tr!("strips"), strips.value) * SQRT_2 * (side() - ruler.seam() * 4.0);
    let met_strips = ((side() - ruler.seam()) / depth_of_a_strip(strip)).floor();
    let met = met_strips * SQRT_2 * (side() - ruler.seam() * 3.0);
    let area = side() * side() / term(&tr!("strip"), strip.value());
    Ok(BiasTube {
        square,
        strip,
        length: ruler.exact(EdgeRule::BiasTube, &tr!("length of the bias"), length),
        by_area: ruler.exact(EdgeRule::BiasArea, &tr!("by area, as tables have it"), area),
        edges_met: ruler.exact(EdgeRule::BiasTube, &tr!("where the edges meet at the seam line"), met),
        strips,
        stand_out: Length::new(2.0 * seam),
    })
}

/// The smallest square from which `length` of bias `strip` wide can be had.
///
/// For n strips the side must be n·w·√2 for the depth and length/(n·√2) + 4s for the length; the first grows with n, the second
/// falls, so that the search ends where the first alone is larger than the best so far.
///
/// # Errors
/// A length or a strip that is nothing.
pub fn square_for(length: Length, strip: Length, ruler: Ruler) -> Result<BiasSquare, Impossible> {
    more_than_nothing(ruler, &tr!("the length"), length)?;
    more_than_nothing(ruler, &tr!("the strip"), strip)?;
    let wanted = || term(&tr!("length"), length.value());
    let deep = |n: f64| term(&tr!("strips"), n) * depth_of_a_strip(strip);
    let long = |n: f64| wanted() / (term(&tr!("strips"), n) * SQRT_2) + ruler.seam() * 4.0;
    let mut best: Option<Term> = None;
    let mut n = 1.0;
    while best.as_ref().is_none_or(|best| deep(n).value() < best.value()) {
        let side = if deep(n).value() >= long(n).value() { deep(n) } else { long(n) };
        if best.as_ref().is_none_or(|best| side.value() < best.value()) {
            best = Some(side);
        }
        n += 1.0;
    }
    let side = best.expect("one strip has been tried");
    let mut working = ruler.cut(EdgeRule::BiasSquare, &tr!("side of the square"), side);
    let mut made = tube(working.length(), strip, ruler)?;
    // A size that is forgiven a ten-thousandth of a step may just miss the last strip.
    if made.length.value < length.value() - 1e-6 && made.length.value < length.value() * (1.0 - 1e-4) {
        working.value += ruler.step.size();
        made = tube(working.length(), strip, ruler)?;
    }
    let area = (wanted() * term(&tr!("strip"), strip.value())).sqrt().ceil();
    Ok(BiasSquare {
        by_area: ruler.whole(EdgeRule::BiasArea, &tr!("side by area, as tables have it"), area),
        side: working,
        tube: made,
    })
}

impl BiasTube {
    /// The answer, with the way to mark and sew it.
    #[must_use]
    pub fn answer(&self, ruler: Ruler) -> Answer {
        Answer::new("bias", self.figures()).steps(self.steps(ruler)).note(spoken(PRESS))
    }

    fn figures(&self) -> [(&'static str, &Working); 4] {
        [("strips", &self.strips), ("length", &self.length), ("by-area", &self.by_area), ("edges-met", &self.edges_met)]
    }

    /// How it is marked, sewn and cut.
    #[must_use]
    pub fn steps(&self, ruler: Ruler) -> Vec<String> {
        let (square, strip) = (ruler.shown(self.square), ruler.shown(self.strip));
        let (seam, out) = (ruler.shown(ruler.allowance.0), ruler.shown(self.stand_out));
        vec![
            tr!("Cut a square of {square} and mark two opposite sides with A, the other two with B.", square),
            tr!("Cut it once from corner to corner."),
            tr!(
                "Lay the two sides A on each other, right sides together, so that the points stand out by {out}; sew with {seam} and press the seam open.",
                out,
                seam
            ),
            tr!(
                "On the wrong side mark {strips} lines along the long slanting edge, {strip} apart, {strip} from the edge for the first; cut off what is left over beyond the last.",
                strips = self.strips.count(),
                strip
            ),
            tr!(
                "Bring the two sides B together to a tube, right sides together and one line further, so that a strip stands out at either end; lines meet lines at the seam, not at the edge."
            ),
            tr!(
                "Sew with {seam}, press the seam open, and cut along the line round and round, from the strip that stands out.",
                seam
            ),
        ]
    }
}

const PRESS: &str = mark!("Bias stretches: press it up and down, never along.");

impl BiasSquare {
    /// The answer, with the way to mark and sew it.
    #[must_use]
    pub fn answer(&self, ruler: Ruler) -> Answer {
        let sides = [("square", &self.side), ("square-by-area", &self.by_area)];
        Answer::new("bias", sides.into_iter().chain(self.tube.figures())).steps(self.tube.steps(ruler)).note(spoken(PRESS))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use seamfall_model::{Allowance, Measure};

    const INCH: Ruler = Ruler { measure: Measure::Inch, step: seamfall_model::Step::Eighth, allowance: Allowance(Length::ZERO) };

    fn ruler(seam: f64) -> Ruler {
        Ruler { allowance: Allowance(Length::new(seam)), ..INCH }
    }

    /// The halves of a square as they lie once sewn, laid out from nothing but the square, the seam and how far the points stand out;
    /// no formula of the module is used.
    ///
    /// The first half has its right angle below and its long side on top, from (0, 0) to (d, 0), d the diagonal. The second is the same half
    /// turned by half a turn; it is shifted so that the two sewing lines, an allowance inside their edges, are one line, and slid along
    /// it by `out`. A point is cloth where it is in the first half on its side of the line, or in the second on the other.
    fn sewn(side: f64, seam: f64, out: f64) -> impl Fn(f64, f64) -> bool {
        let diagonal = side * SQRT_2;
        let half = move |x: f64, y: f64| y <= 1e-9 && y >= -x - 1e-9 && y >= x - diagonal - 1e-9;
        // The edge to be sewn of the first half runs from (d, 0) down left to (d/2, -d/2); its inner normal is (-1, 1)/√2.
        let inside = move |x: f64, y: f64| ((diagonal - x) + y) / SQRT_2;
        // Half a turn brings the right angle of the second half to (d, 0), where the points lie on each other when nothing stands out;
        // then it moves across the seam by both allowances, and along it by `out`.
        let across = 2.0 * seam / SQRT_2;
        let along = out / SQRT_2;
        let shift = (-across - along, across - along);
        move |x: f64, y: f64| {
            let first = half(x, y) && inside(x, y) >= seam - 1e-9;
            let (u, v) = (x - shift.0, y - shift.1);
            // The right angle of the half is at (d/2, -d/2): turned about so that it comes to (d, 0).
            let second = half(1.5 * diagonal - u, -0.5 * diagonal - v) && inside(x, y) <= seam + 1e-9;
            first || second
        }
    }

    /// The longest run of cloth in the row at `y`, by walking along it.
    fn row(cloth: &impl Fn(f64, f64) -> bool, y: f64, diagonal: f64) -> (f64, f64) {
        let step = diagonal / 20_000.0;
        let xs: Vec<f64> = (0..30_000).map(|i| f64::from(i) * step).filter(|&x| cloth(x, y)).collect();
        let (from, to) = (xs[0], xs[xs.len() - 1]);
        let full = (to - from) / step + 1.0;
        assert!((full - xs.len() as f64).abs() < 1.5, "the row has no hole: {full} {}", xs.len());
        (from, to)
    }

    /// Unrolls the tube: lays the sewn halves out, looks in how many whole strips every row has cloth from the left side to the right,
    /// and measures them between the two edges of the second seam.
    fn unrolled(side: f64, strip: f64, seam: f64, out: f64) -> (usize, f64) {
        let cloth = sewn(side, seam, out);
        let diagonal = side * SQRT_2;
        // How deep the piece is: below the long side of the first half there is cloth down to that of the second.
        let mut depth = 0.0;
        let mut y = -1e-6;
        while (0..400).any(|i| cloth(f64::from(i) / 400.0 * 1.5 * diagonal, y)) {
            depth = -y;
            y -= side / 20_000.0;
        }
        let strips = ((depth + side / 10_000.0) / strip).floor() as usize;
        // The left edge is that of the first half, the right one that of the second, which runs on upwards: both slant alike.
        let middle = row(&cloth, -depth / 2.0, diagonal);
        let length = middle.1 - middle.0;
        for i in 1..40 {
            let y = -depth * f64::from(i) / 40.0;
            let (from, to) = row(&cloth, y, diagonal);
            // Whatever stands out beyond the slanting edges is cut off; nothing may be missing.
            let left = middle.0 - (y + depth / 2.0);
            assert!(from <= left + side / 2_000.0 && to >= left + length - side / 2_000.0, "row {y}: {from} {to}, edge {left}");
        }
        // The second seam takes an allowance of either slanting edge, √2 of it along the row.
        (strips, strips as f64 * (length - 2.0 * seam * SQRT_2))
    }

    /// `edges.bias.tube_*`: strips and lengths, and the same by laying the cloth out and measuring.
    #[test]
    fn the_tube_gives_what_is_measured_on_the_cloth() {
        for (side, strip, strips, length) in
            [(30.0, 2.25, 9, 369.10974), (36.0, 2.5, 10, 494.974747), (18.0, 1.5, 8, 192.333044), (40.0, 2.0, 14, 772.160605)]
        {
            let made = tube(Length::new(side), Length::new(strip), ruler(0.25)).expect("a strip fits");
            assert_eq!(made.strips.count(), strips, "{side}");
            assert!((made.length.value - length).abs() < 1e-5, "{side}: {}", made.length.value);
            let (counted, measured) = unrolled(side, strip, 0.25, 0.5);
            assert_eq!(counted, strips, "{side}");
            assert!((measured - length).abs() < 0.002 * length, "{side}: measured {measured}, reckoned {length}");
            let (_, met) = unrolled(side, strip, 0.25, 0.25);
            assert!((met - made.edges_met.value).abs() < 0.002 * met, "{side}: measured {met}, {}", made.edges_met.value);
        }
    }

    /// Published tables and rules beside the tube: `edges.bias.mydeco_20`, `sewaquilt_12`, `copy_12` to `copy_15`, `quality_26`. By area they
    /// promise more than there is; where something was taken off nobody says what.
    #[test]
    fn tables_by_area_promise_too_much() {
        for (side, strip, by_area, tube_gives) in [
            (20.0, 2.0, 200.0, 188.1),
            (12.0, 2.0, 72.0, 62.2),
            (13.0, 2.0, 84.5, 67.9),
            (15.0, 2.0, 112.5, 99.0),
            (26.0, 3.0, 225.333_333, 212.1),
        ] {
            let made = tube(Length::new(side), Length::new(strip), ruler(0.25)).expect("a strip fits");
            assert!((made.by_area.value - by_area).abs() < 1e-5, "{side}");
            assert!((made.length.value - tube_gives).abs() < 0.05, "{side}: {}", made.length.value);
        }
    }

    /// `edges.bias.mydeco_250`, `copy_450`, `quality_10yd` (without the inch that it adds), `mixed_55`: the square by area. What the tube of
    /// that square gives is in the notes of the values: short by 1.1, 11.6 and 8.3 in.
    #[test]
    fn the_square_by_area_is_too_small_and_ours_is_not() {
        for (length, strip, by_area, gives) in
            [(250.0, 2.0, 23.0, 248.9), (450.0, 2.25, 32.0, 438.4), (360.0, 3.0, 33.0, 316.8), (55.0, 2.5, 12.0, 46.7)]
        {
            let (length, strip) = (Length::new(length), Length::new(strip));
            let square = square_for(length, strip, ruler(0.25)).expect("there is one");
            assert_eq!(square.by_area.value, by_area);
            let small = tube(Length::new(by_area), strip, ruler(0.25)).expect("a strip fits");
            assert!((small.length.value - gives).abs() < 0.05, "{}", small.length.value);
            assert!(square.tube.length.value >= length.value(), "{square:?}");
        }
    }

    /// `edges.bias.quality_10yd`: a 34 in square, an inch being added, gives 373.4 in.
    #[test]
    fn the_inch_that_one_shop_adds_makes_it_safe() {
        let made = tube(Length::new(34.0), Length::new(3.0), ruler(0.25)).expect("a strip fits");
        assert!((made.length.value - 373.4).abs() < 0.05);
    }

    #[test]
    fn a_square_smaller_than_the_strip_is_told_the_smallest() {
        let trouble = tube(Length::new(2.0), Length::new(2.25), ruler(0.25)).expect_err("too small");
        assert_eq!(trouble.nearest, "take a square of 3 1/4 in or more");
        assert!(tube(Length::new(trouble.value), Length::new(2.25), ruler(0.25)).is_ok());
    }

    proptest! {
        /// The square is enough, and one step smaller is not.
        #[test]
        fn the_square_is_the_smallest(length in 4.0_f64..2_000.0, strip in 4_u32..40, seam in 1_u32..5) {
            let (length, strip, ruler) = (Length::new(length), Length::new(f64::from(strip) / 8.0), ruler(f64::from(seam) / 8.0));
            let square = square_for(length, strip, ruler).expect("there is one");
            prop_assert!(square.tube.length.value >= length.value() * (1.0 - 1e-4));
            if let Ok(smaller) = tube(Length::new(square.side.value - 0.125), strip, ruler) {
                prop_assert!(smaller.length.value < length.value());
            }
        }
    }
}
