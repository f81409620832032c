//! Prairie points: squares folded to triangles, whole on every side.
//!
//! In: the square or the height that is wanted, the side, how far apart the points may stand. Out: height and base at the seam, a whole number
//! with its pitch. A square folded twice corner to corner (its opening at one side, so that points nest into one another) and one folded
//! in half and its corners to the middle (its opening in the middle, so that points overlap) give the same triangle. At a
//! corner of the quilt two points meet without overlap, since both sides run from seam to seam.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use crate::cut::rules;
use seamfall_model::{EdgeRule, Length, PointFold, Rounding, Rule, Working, mark, spoken, term};
use tr::tr;

/// A point folded from a square.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Side of the square.
    pub square: Working,
    /// How far it stands beyond the edge.
    pub height: Working,
    /// How wide it is where it is sewn in.
    pub base: Working,
}

/// Points along one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Along {
    /// How many.
    pub count: Working,
    /// From one to the next.
    pub spacing: Working,
}

/// The point that a square gives.
///
/// # Errors
/// A square that the seam takes whole.
pub fn of_square(square: Length, ruler: Ruler) -> Result<Point, Impossible> {
    let given =
        Working::new(Rule::AsGiven, &tr!("side of the square"), term(&tr!("as given"), square.value()), Rounding::Up(ruler.step));
    folded(given, ruler)
}

/// The square for a point that stands `height` beyond the edge: `2h + 2s`.
///
/// # Errors
/// A height that is nothing.
pub fn of_height(height: Length, ruler: Ruler) -> Result<Point, Impossible> {
    more_than_nothing(ruler, &tr!("the height"), height)?;
    let square = term(&tr!("height"), height.value()) * 2.0 + ruler.seam() * 2.0;
    folded(ruler.cut(EdgeRule::PrairiePoint, &tr!("side of the square"), square), ruler)
}

fn folded(square: Working, ruler: Ruler) -> Result<Point, Impossible> {
    let seam = ruler.allowance.0.value();
    if square.value <= 2.0 * seam + 1e-9 {
        let least = 2.0 * seam + ruler.step.size();
        let reason = tr!("the seam takes all of a square of {square}", square = ruler.shown(square.length()));
        return Err(Impossible::new(
            reason,
            tr!("take a square of {least} or more", least = ruler.shown(Length::new(least))),
            least,
        ));
    }
    let side = || term(&tr!("square"), square.value);
    let height = ruler.exact(EdgeRule::PrairiePoint, &tr!("height"), side() / 2.0 - ruler.seam());
    let base = ruler.exact(EdgeRule::PrairiePoint, &tr!("base"), side() - ruler.seam() * 2.0);
    Ok(Point { square, height, base })
}

/// How far apart points stand unless said: two thirds of their base, so that every one is overlapped by a third. Source: common practice.
#[must_use]
pub fn usual_spacing(point: &Point) -> Length {
    Length::new(point.base.value * 2.0 / 3.0)
}

/// As few points as stand no farther apart than `most`, ends flush with the ends of the side.
///
/// # Errors
/// A side shorter than one point, or a spacing that is nothing.
pub fn along(side: Length, point: &Point, most: Length, ruler: Ruler) -> Result<Along, Impossible> {
    more_than_nothing(ruler, &tr!("the spacing"), most)?;
    let base = point.base.value;
    if side.value() < base * (1.0 - 1e-9) {
        let reason = tr!(
            "a point {base} wide is wider than the side, {side}",
            base = ruler.shown(Length::new(base)),
            side = ruler.shown(side)
        );
        let largest = side.value() + 2.0 * ruler.allowance.0.value();
        let nearest = tr!("fold it from a square of {largest} or less", largest = ruler.shown(Length::new(largest)));
        return Err(Impossible::new(reason, nearest, largest));
    }
    let rest = || term(&tr!("side"), side.value()) - term(&tr!("base"), base);
    let steps = (rest() / term(&tr!("spacing at most"), most.value())).ceil();
    let count = ruler.whole(EdgeRule::PointsAlong, &tr!("points"), steps + 1.0);
    let spacing =
        if count.value > 1.0 { rest() / (term(&tr!("points"), count.value) - 1.0) } else { term(&tr!("side"), side.value()) };
    Ok(Along { spacing: ruler.exact(EdgeRule::PointSpacing, &tr!("from one point to the next"), spacing), count })
}

/// Points along `sides`, cut out of strips of cloth `usable` wide.
///
/// # Errors
/// As of [`along`]; and a square that the cloth is too narrow for.
pub fn answer(
    sides: &[Length],
    point: &Point,
    most: Option<Length>,
    fold: PointFold,
    usable: Length,
    ruler: Ruler,
) -> Result<Answer, Impossible> {
    let most = most.unwrap_or(usual_spacing(point));
    let mut figures = vec![("square", point.square.clone()), ("height", point.height.clone()), ("base", point.base.clone())];
    let mut all = 0.0;
    for side in sides {
        let along = along(*side, point, most, ruler)?;
        all += along.count.value;
        // Sides of one length are alike; which is meant is told by the length.
        let named = |working: Working| match sides {
            [_] => working,
            _ => Working { what: tr!("{what}, along {side}", what = working.what, side = ruler.shown(*side)), ..working },
        };
        figures.push(("points", named(along.count)));
        figures.push(("spacing", named(along.spacing)));
    }
    let a_strip = (term(&tr!("usable width"), usable.value()) / term(&tr!("square"), point.square.value)).floor();
    if a_strip.value() < 1.0 {
        let reason = tr!("a square of {square} is wider than the cloth", square = ruler.shown(point.square.length()));
        return Err(Impossible::new(reason, tr!("take {usable} or less", usable = ruler.shown(usable)), usable.value()));
    }
    if sides.len() > 1 {
        figures.push(("all", ruler.whole(EdgeRule::PointsAlong, &tr!("points in all"), term(&tr!("points of all sides"), all))));
    }
    let strips = ruler.whole(EdgeRule::PointsAlong, &tr!("strips of squares"), (term(&tr!("points"), all) / a_strip).ceil());
    figures.push(("cloth", rules::length_needed([(strips.value, point.square.length())])));
    figures.insert(figures.len() - 1, ("strips", strips));
    let answer = Answer::new("points", figures.iter().map(|(name, working)| (*name, working)));
    Ok(answer.steps(steps(fold, ruler)).note(spoken(MARGIN)))
}

/// How a square is folded.
#[must_use]
pub fn steps(fold: PointFold, ruler: Ruler) -> Vec<String> {
    let mut steps: Vec<String> = match fold {
        PointFold::Nested => [
            tr!("Fold the square from corner to corner, wrong side in, and press."),
            tr!("Fold it again from corner to corner: all raw edges lie on the long side, the opening at one side."),
            tr!("Slip the fold of each point into the opening of the next."),
        ]
        .into(),
        PointFold::Overlapping => [
            tr!("Fold the square in half, wrong side in, and press."),
            tr!("Fold both corners at the fold down to the middle of the raw edge: the opening is in the middle."),
            tr!("Lay each point over the one before it."),
        ]
        .into(),
    };
    steps.push(tr!("Pin them along the front, points inward and raw edges even, the first and the last flush with the ends; sew with {allowance}, back folded away.", allowance = ruler.shown(ruler.allowance.0)));
    steps.push(tr!("At a corner two points lie side by side without overlap."));
    steps
}

/// Source: check value edges.points.quilt_margin.
pub(super) const MARGIN: &str =
    mark!("Quilting stays 1 in (2.5 cm) away from the edge, so that the back can be turned under behind the points.");

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use seamfall_model::Measure;

    fn inches() -> Ruler {
        Ruler::usual(Measure::Inch)
    }

    /// `edges.points.geometry`: 4 in square, 1 3/4 in high, 3 1/2 in wide. `edges.points.mccall`: 4 1/2 in for 2 in.
    #[test]
    fn a_point_is_half_its_square_less_the_seam() {
        let point = of_square(Length::new(4.0), inches()).expect("it folds");
        assert_eq!((point.height.value, point.base.value), (1.75, 3.5));
        assert_eq!(of_height(Length::new(2.0), inches()).expect("it folds").square.value, 4.5);
    }

    /// `edges.points.count_overlap`: 36 points of 3 in squares along 72 in, 1.985714 in apart. `edges.points.no_overlap`: edge to edge the
    /// base divides.
    #[test]
    fn points_are_whole_on_every_side() {
        let point = of_square(Length::new(3.0), inches()).expect("it folds");
        let fit = along(Length::new(72.0), &point, Length::new(2.0), inches()).expect("they fit");
        assert_eq!(fit.count.value, 36.0);
        assert!((fit.spacing.value - 1.985714).abs() < 1e-6);
        let touching = along(Length::new(75.0), &point, point.base.length(), inches()).expect("they fit");
        assert_eq!((touching.count.value, touching.spacing.value), (30.0, 2.5));
    }

    /// `edges.points.sassy`: 23 and 17 points of 4 in squares, 80 in all: sides for which that is so, by the same rule.
    #[test]
    fn all_sides_are_added_up() {
        let point = of_square(Length::new(4.0), inches()).expect("it folds");
        let side = |count: f64| Length::new(3.5 + (count - 1.0) * 3.0);
        let sides = [side(23.0), side(17.0), side(23.0), side(17.0)];
        let usable = Length::new(42.0);
        let answer = answer(&sides, &point, Some(Length::new(3.0)), PointFold::Nested, usable, inches()).expect("they fit");
        assert_eq!(answer.figure("all").expect("four sides").value, 80.0);
        assert_eq!(answer.figure("strips").expect("cut from strips").value, 8.0);
    }

    #[test]
    fn what_cannot_be_is_told_the_nearest() {
        let point = of_square(Length::new(12.0), inches()).expect("it folds");
        let trouble = along(Length::new(8.0), &point, Length::new(2.0), inches()).expect_err("too wide");
        assert_eq!(trouble.nearest, "fold it from a square of 8 1/2 in or less");
        assert_eq!(of_square(Length::new(0.5), inches()).expect_err("all seam").value, 0.625);
    }

    proptest! {
        /// The last point ends where the side does, no two stand farther apart than wished, and one fewer would.
        #[test]
        fn ends_are_flush(side in 6.0_f64..150.0, square in 8_u32..40, most in 0.5_f64..5.0) {
            let point = of_square(Length::new(f64::from(square) / 8.0), inches()).expect("it folds");
            let fit = along(Length::new(side), &point, Length::new(most), inches()).expect("they fit");
            let n = fit.count.value;
            prop_assert!(n >= 2.0 && fit.spacing.value <= most + 1e-9);
            prop_assert!((point.base.value + (n - 1.0) * fit.spacing.value - side).abs() < 1e-9);
            prop_assert!(n == 2.0 || (side - point.base.value) / (n - 2.0) > most);
        }
    }
}
