//! What is sewn on last: rod sleeve, label, facing; and a band that makes a quilt larger.
//!
//! In: the quilt's sides and finished sizes. Out: what to cut.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use seamfall_geom::Vec2;
use seamfall_model::{EdgeRule, Length, Working, term};
use tr::tr;

/// Width beyond which a sleeve is made in two, in inches. Source: check value edges.sleeve.split.
const SPLIT_IN: f64 = 90.0;

/// A tube along the upper edge.
#[derive(Debug, Clone, PartialEq)]
pub struct RodSleeve {
    /// Depth of the strip as cut.
    pub width: Working,
    /// Length of the strip as cut, hems in it.
    pub length: Working,
    /// Finished length.
    pub finished: Working,
    /// How many pieces it is made in.
    pub pieces: usize,
}

/// The sleeve `depth` deep for an edge of length `edge`: `2 depth + 2 s`, 2 in longer than the edge, 1 1/2 in hemmed at either end.
///
/// # Errors
/// A depth or an edge that is nothing.
pub fn rod_sleeve(edge: Length, depth: Length, ruler: Ruler) -> Result<RodSleeve, Impossible> {
    more_than_nothing(ruler, &tr!("the depth"), depth)?;
    more_than_nothing(ruler, &tr!("the edge"), edge)?;
    let (more, hem) = (ruler.size(2.0, 5.0), ruler.size(1.5, 3.75));
    let width = term(&tr!("depth"), depth.value()) * 2.0 + ruler.seam() * 2.0;
    let length = || term(&tr!("edge"), edge.value()) + term(&tr!("more"), more.value());
    let finished = length() - term(&tr!("hem"), hem.value()) * 2.0;
    Ok(RodSleeve {
        width: ruler.cut(EdgeRule::RodSleeve, &tr!("width of the strip"), width),
        length: ruler.cut(EdgeRule::RodSleeve, &tr!("length of the strip"), length()),
        finished: ruler.exact(EdgeRule::RodSleeve, &tr!("finished length"), finished),
        pieces: if edge.value() > SPLIT_IN * ruler.measure.inch() { 2 } else { 1 },
    })
}

impl RodSleeve {
    /// The answer, with the way to sew it.
    #[must_use]
    pub fn answer(&self) -> Answer {
        let figures = [("width", &self.width), ("length", &self.length), ("finished", &self.finished)];
        let answer = Answer::new("sleeve", figures).steps([
            tr!("Hem both ends, sew the strip to a tube, wrong sides together, and press the seam to the middle of the back."),
            tr!("Sew it on by hand below the upper edge, with a little more at the front so that the rod does not bulge the quilt."),
        ]);
        if self.pieces > 1 {
            return answer.note(tr!("So wide a quilt takes two sleeves with a gap between, for a bracket in the middle."));
        }
        answer
    }
}

/// Pieces of a facing: two for the sides, two a little longer for top and bottom.
#[derive(Debug, Clone, PartialEq)]
pub struct Facing {
    /// Width of all strips.
    pub width: Working,
    /// Length of the two along the sides.
    pub sides: Working,
    /// Length of the two along top and bottom.
    pub ends: Working,
}

/// A facing `depth` deep behind the edge of a quilt of `size`.
///
/// # Errors
/// A depth that is nothing, or more than half the shorter side.
pub fn facing(size: Vec2, depth: Length, ruler: Ruler) -> Result<Facing, Impossible> {
    more_than_nothing(ruler, &tr!("the depth"), depth)?;
    let most = size.x.min(size.y) / 2.0;
    if depth.value() > most {
        let reason = tr!("a facing deeper than half the quilt meets itself");
        return Err(Impossible::new(reason, tr!("make it {most} or less", most = ruler.shown(Length::new(most))), most));
    }
    let width = term(&tr!("depth"), depth.value()) + ruler.seam() * 2.0;
    let sides = term(&tr!("height"), size.y);
    let ends = term(&tr!("width"), size.x) + ruler.seam() * 2.0;
    Ok(Facing {
        width: ruler.cut(EdgeRule::Facing, &tr!("width of the strip"), width),
        sides: ruler.cut(EdgeRule::Facing, &tr!("length along a side"), sides),
        ends: ruler.cut(EdgeRule::Facing, &tr!("length along top and bottom"), ends),
    })
}

impl Facing {
    /// The answer, with the way to sew it.
    #[must_use]
    pub fn answer(&self) -> Answer {
        let figures = [("width", &self.width), ("sides", &self.sides), ("ends", &self.ends)];
        Answer::new("facing", figures).steps([
            tr!("Turn under an allowance along one long side of every strip and press."),
            tr!("Sew the two side strips on, turn them to the back; then top and bottom, their ends turned in."),
            tr!("Let the front roll over the edge a little and slip-stitch the strips down."),
        ])
    }
}

/// A band that brings a quilt from one size to another.
#[derive(Debug, Clone, PartialEq)]
pub struct Enlarging {
    /// Width of a plain band at the left and the right.
    pub across: Working,
    /// Width of a plain band at the top and the bottom.
    pub along: Working,
    /// Of a pieced band: whole pieces across and along, and the plain strips within it that make up the difference.
    pub pieced: Option<Pieced>,
}

/// A band of whole pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieced {
    /// Pieces along the top, without the corners.
    pub across: Working,
    /// Pieces along a side, without the corners.
    pub along: Working,
    /// Width of the plain strip at the left and the right.
    pub strip_across: Working,
    /// Width of the plain strip at the top and the bottom.
    pub strip_along: Working,
    /// Width of the quilt then.
    pub width: Working,
    /// Height of the quilt then.
    pub height: Working,
}

/// A plain band from `size` to `wanted`; of pieces `piece` wide as well, where there are to be some.
///
/// # Errors
/// A wanted size smaller than the quilt.
pub fn enlarge(size: Vec2, wanted: Vec2, piece: Option<Length>, ruler: Ruler) -> Result<Enlarging, Impossible> {
    for (have, want, what) in [(size.x, wanted.x, tr!("wide")), (size.y, wanted.y, tr!("high"))] {
        if want < have {
            let have = Length::new(have);
            let reason = tr!("a band does not make a quilt {have} {what} smaller", have = ruler.shown(have), what);
            return Err(Impossible::new(reason, tr!("wish for {have} or more", have = ruler.shown(have)), have.value()));
        }
    }
    let half = |what: &str, have: f64, want: f64| {
        ruler.exact(EdgeRule::Enlarging, what, (term(&tr!("wanted"), want) - term(&tr!("quilt"), have)) / 2.0)
    };
    Ok(Enlarging {
        across: half(&tr!("band at left and right"), size.x, wanted.x),
        along: half(&tr!("band at top and bottom"), size.y, wanted.y),
        pieced: piece.map(|piece| pieced(size, piece, ruler)).transpose()?,
    })
}

fn pieced(size: Vec2, piece: Length, ruler: Ruler) -> Result<Pieced, Impossible> {
    more_than_nothing(ruler, &tr!("the piece"), piece)?;
    let one = || term(&tr!("piece"), piece.value());
    let count = |what: &str, side: f64| ruler.whole(EdgeRule::WholePieces, what, (term(&tr!("side"), side) / one()).ceil());
    let (across, along) = (count(&tr!("pieces across"), size.x), count(&tr!("pieces along"), size.y));
    let reach = |count: &Working| term(&tr!("pieces"), count.value) * one();
    let strip = |what: &str, count: &Working, side: f64| {
        ruler.exact(EdgeRule::WholePieces, what, (reach(count) - term(&tr!("side"), side)) / 2.0)
    };
    let full = |what: &str, count: &Working| ruler.exact(EdgeRule::WholePieces, what, reach(count) + one() * 2.0);
    Ok(Pieced {
        strip_across: strip(&tr!("plain strip at left and right"), &across, size.x),
        strip_along: strip(&tr!("plain strip at top and bottom"), &along, size.y),
        width: full(&tr!("width then"), &across),
        height: full(&tr!("height then"), &along),
        across,
        along,
    })
}

impl Enlarging {
    /// The answer.
    #[must_use]
    pub fn answer(&self) -> Answer {
        let mut figures = vec![("across", &self.across), ("along", &self.along)];
        if let Some(pieced) = &self.pieced {
            figures.extend([
                ("pieces-across", &pieced.across),
                ("pieces-along", &pieced.along),
                ("strip-across", &pieced.strip_across),
                ("strip-along", &pieced.strip_along),
                ("width", &pieced.width),
                ("height", &pieced.height),
            ]);
        }
        Answer::new("enlarge", figures)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_model::Measure;

    /// `edges.sleeve.iqa`: cut 8 1/2 in for 4 in finished; `iqa_length`: 59 in on a 60 in edge; `split`: beyond 90 in in two.
    #[test]
    fn the_sleeve_is_that_of_the_show() {
        let inches = Ruler::usual(Measure::Inch);
        let sleeve = rod_sleeve(Length::new(60.0), Length::new(4.0), inches).expect("it can be had");
        assert_eq!((sleeve.width.value, sleeve.length.value, sleeve.finished.value, sleeve.pieces), (8.5, 62.0, 59.0, 1));
        assert_eq!(rod_sleeve(Length::new(91.0), Length::new(4.0), inches).expect("it can be had").pieces, 2);
    }

    /// Pieces of 4 in round 50 x 66 in: 13 and 17 reach 52 and 68 in, an inch of plain strip on every side, 60 x 76 in with the corners.
    #[test]
    fn a_pieced_band_has_whole_pieces() {
        let inches = Ruler::usual(Measure::Inch);
        let made = enlarge(Vec2::new(50.0, 66.0), Vec2::new(60.0, 76.0), Some(Length::new(4.0)), inches).expect("it can be had");
        assert_eq!((made.across.value, made.along.value), (5.0, 5.0));
        let pieced = made.pieced.expect("pieces were asked for");
        assert_eq!((pieced.across.value, pieced.along.value), (13.0, 17.0));
        assert_eq!((pieced.strip_across.value, pieced.strip_along.value), (1.0, 1.0));
        assert_eq!((pieced.width.value, pieced.height.value), (60.0, 76.0));
        assert_eq!(enlarge(Vec2::new(50.0, 66.0), Vec2::new(40.0, 76.0), None, inches).expect_err("smaller").value, 50.0);
    }
}
