//! The quilt as a cover with an insert.
//!
//! In: the quilt's size, how much larger the insert is, how it is filled, tied and closed. Out: the lining, the insert, channels, weight and
//! loft of the filling, ties, the opening, and how thick each kind of seam is where two cross.

use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use seamfall_geom::Vec2;
use seamfall_model::{Cover, EdgeRule, Length, Measure, Rounding, Rule, SeamKind, Working, term};
use tr::tr;

/// Grams in an ounce avoirdupois: a pound is 453.59237 g by the agreement of 1959.
const GRAMS_AN_OUNCE: f64 = 28.349_523_125;
/// Square metres in a square inch, by the same agreement.
const METRES_A_SQUARE_INCH: f64 = 0.000_645_16;

/// A cover, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverPlan {
    /// The lining, as cut: across, and along with the hem at the foot.
    pub lining: [Working; 2],
    /// The insert, finished: across and along.
    pub insert: [Working; 2],
    /// Ties: across, at the head and the foot; and along either side.
    pub ties: Option<[Working; 2]>,
    /// Buttons, snaps or ties at the opening.
    pub closures: Working,
    /// How wide the opening is.
    pub opening: Working,
    /// Channels of the insert and how wide each is.
    pub channels: Option<[Working; 2]>,
    /// Weight of the filling, in grams.
    pub weight: Option<Working>,
    /// The flap that turns over the edge at the head, as cut: its depth.
    pub flap: Option<Working>,
    /// Layers of cloth in a seam, and where two cross.
    pub layers: [Working; 2],
}

/// Works out the cover of a quilt of `size`.
///
/// # Errors
/// Ties or channels farther apart than there is room for, or nothing at all.
pub fn plan(size: Vec2, cover: &Cover, ruler: Ruler) -> Result<CoverPlan, Impossible> {
    let hem = ruler.size(2.0, 5.0);
    let seams = || ruler.seam() * 2.0;
    let lining_across = term(&tr!("width"), size.x) + seams();
    let lining_along = term(&tr!("height"), size.y) + seams() + term(&tr!("hem"), hem.value());
    let larger = |what: &str, side: f64| {
        ruler.exact(EdgeRule::Insert, what, term(&tr!("casing"), side) + term(&tr!("larger by"), cover.larger.value()))
    };
    let insert = [larger(&tr!("insert across"), size.x), larger(&tr!("insert along"), size.y)];
    let closed = ruler.size(6.0, 15.0);
    if size.x <= 2.0 * closed.value() {
        let least = 2.0 * closed.value() + 1.0;
        let reason = tr!("a cover so narrow leaves no opening between its corners");
        return Err(Impossible::new(reason, tr!("make it {least} or wider", least = ruler.shown(Length::new(least))), least));
    }
    let opening = ruler.exact(
        EdgeRule::Opening,
        &tr!("opening"),
        term(&tr!("width"), size.x) - term(&tr!("closed at a corner"), closed.value()) * 2.0,
    );
    let closures = places(&tr!("closures"), opening.length(), ruler.size(8.0, 20.0), ruler)?;
    let ties = cover.ties.map(|apart| -> Result<_, Impossible> {
        Ok([
            places(&tr!("ties across"), Length::new(size.x), apart, ruler)?,
            places(&tr!("ties along"), Length::new(size.y), apart, ruler)?,
        ])
    });
    let channels = cover.channel.map(|wide| channels(insert[0].length(), wide, ruler)).transpose()?;
    let weight = cover.grams.map(|grams| {
        let metres = area(insert[0].value, insert[1].value, ruler.measure);
        Working::new(
            Rule::Edge(EdgeRule::Fill),
            &tr!("grams of filling"),
            term(&tr!("square metres"), metres) * term(&tr!("grams a square metre"), grams),
            Rounding::Whole,
        )
    });
    let flap = cover.flap.map(|depth| {
        ruler.cut(EdgeRule::DoubledStrip, &tr!("flap at the head"), term(&tr!("depth"), depth.value()) * 2.0 + seams())
    });
    Ok(CoverPlan {
        lining: [
            ruler.cut(EdgeRule::Casing, &tr!("lining across"), lining_across),
            ruler.cut(EdgeRule::Casing, &tr!("lining along"), lining_along),
        ],
        insert,
        ties: ties.transpose()?,
        closures,
        opening,
        channels,
        weight,
        flap,
        layers: layers(cover.seam, ruler),
    })
}

/// As few places as are no farther apart than `most`, one at each end.
fn places(what: &str, side: Length, most: Length, ruler: Ruler) -> Result<Working, Impossible> {
    more_than_nothing(ruler, &tr!("the distance"), most)?;
    Ok(ruler.whole(
        EdgeRule::Ties,
        what,
        (term(&tr!("side"), side.value()) / term(&tr!("apart at most"), most.value())).ceil() + 1.0,
    ))
}

/// Channels no wider than `most`: how many, how wide each.
///
/// # Errors
/// A width that is nothing.
pub fn channels(across: Length, most: Length, ruler: Ruler) -> Result<[Working; 2], Impossible> {
    more_than_nothing(ruler, &tr!("the channel"), most)?;
    let count = (term(&tr!("insert"), across.value()) / term(&tr!("channel at most"), most.value())).ceil();
    let count = ruler.whole(EdgeRule::Channels, &tr!("channels"), count);
    let width = ruler.exact(
        EdgeRule::Channels,
        &tr!("width of each"),
        term(&tr!("insert"), across.value()) / term(&tr!("channels"), count.value),
    );
    Ok([count, width])
}

/// Square metres.
fn area(width: f64, height: f64, measure: Measure) -> f64 {
    match measure {
        Measure::Inch => width * height * METRES_A_SQUARE_INCH,
        Measure::Centimetre => width * height / 10_000.0,
    }
}

/// Loft of `ounces` of a filling of `power` cubic inches an ounce, spread over `width` by `height` inches. Unit: inches.
#[must_use]
pub fn loft(ounces: f64, power: f64, width: f64, height: f64) -> Working {
    let loft = term(&tr!("ounces"), ounces) * term(&tr!("fill power"), power)
        / (term(&tr!("width"), width) * term(&tr!("height"), height));
    Working::new(Rule::Edge(EdgeRule::Fill), &tr!("loft"), loft, Rounding::Exact)
}

/// Grams a square metre of `ounces` over `width` by `height` inches.
#[must_use]
pub fn grams_a_square_metre(ounces: f64, width: f64, height: f64) -> Working {
    let area = term(&tr!("square inches"), width * height) * METRES_A_SQUARE_INCH;
    let weight = term(&tr!("ounces"), ounces) * GRAMS_AN_OUNCE / area;
    Working::new(Rule::Edge(EdgeRule::Fill), &tr!("grams a square metre"), weight, Rounding::Exact)
}

/// Flat width of the cloth over an insert `width` wide and `thick` at its middle: the arc of a lens.
///
/// # Errors
/// As of [`arc_over`](super::scallops::arc_over).
pub fn puffed(width: Length, thick: Length, ruler: Ruler) -> Result<Working, Impossible> {
    let [radius, arc] = super::scallops::arc_over(width, thick * 0.5, ruler)?;
    let angle = term(&tr!("angle"), arc.value / radius.value);
    Ok(ruler.exact(EdgeRule::Puffing, &tr!("flat width"), term(&tr!("radius"), radius.value) * angle))
}

/// Layers of cloth at the thickest place of a seam: the cloth itself and what lies behind it.
#[must_use]
pub fn layers_of(seam: SeamKind) -> u32 {
    match seam {
        // The allowance of one side lies behind it.
        SeamKind::Open => 2,
        // Both allowances lie behind one side.
        SeamKind::Plain | SeamKind::Overedged => 3,
        // Both are folded in: two and two.
        SeamKind::Lapped => 4,
        // The first seam's two allowances lie between the second's two, all behind one side.
        SeamKind::French => 5,
    }
}

/// Layers in a seam, and where it crosses another of its kind.
#[must_use]
pub fn layers(seam: SeamKind, ruler: Ruler) -> [Working; 2] {
    let one = f64::from(layers_of(seam));
    [
        ruler.whole(EdgeRule::SeamLayers, &tr!("layers in a seam"), term(&tr!("layers"), one)),
        ruler.whole(
            EdgeRule::CrossingLayers,
            &tr!("layers where two cross"),
            term(&tr!("layers"), one) * term(&tr!("layers"), one),
        ),
    ]
}

impl CoverPlan {
    /// The answer.
    #[must_use]
    pub fn answer(&self, seam: SeamKind) -> Answer {
        let mut figures = vec![
            ("lining-across", &self.lining[0]),
            ("lining-along", &self.lining[1]),
            ("insert-across", &self.insert[0]),
            ("insert-along", &self.insert[1]),
            ("opening", &self.opening),
            ("closures", &self.closures),
        ];
        if let Some([across, along]) = &self.ties {
            figures.extend([("ties-across", across), ("ties-along", along)]);
        }
        if let Some([count, width]) = &self.channels {
            figures.extend([("channels", count), ("channel", width)]);
        }
        figures.extend(self.weight.iter().map(|weight| ("weight", weight)));
        figures.extend(self.flap.iter().map(|flap| ("flap", flap)));
        figures.extend([("seam-layers", &self.layers[0]), ("crossing-layers", &self.layers[1])]);
        let thinner = SeamKind::ALL.into_iter().filter(|kind| layers_of(*kind) < layers_of(seam));
        let thinner: Vec<String> = thinner
            .map(|kind| tr!("{word} ({kind} where two cross)", word = kind.word(), kind = layers_of(kind) * layers_of(kind)))
            .collect();
        let answer = Answer::new("cover", figures);
        if thinner.is_empty() { answer } else { answer.note(tr!("Thinner seams: {thinner}.", thinner = thinner.join(", "))) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `duvet.fill.loft`, `duvet.fill.gsm`, `duvet.bag_growth`.
    #[test]
    fn filling_is_reckoned_as_published() {
        assert!((loft(30.0, 600.0, 88.0, 92.0).value - 2.22332).abs() < 1e-5);
        assert!((grams_a_square_metre(30.0, 88.0, 92.0).value - 162.827997).abs() < 1e-4);
        let flat = puffed(Length::new(88.0), Length::new(3.0), Ruler::usual(Measure::Inch)).expect("it is a lens");
        assert!((flat.value - 88.068166).abs() < 1e-5);
    }

    /// `duvet.ease_larger`: an inch; `duvet.us_cut.*`: a seam of 1/2 in makes 1 in across, and 3 in along with the hem.
    #[test]
    fn the_insert_fills_the_cover() {
        let half = Ruler { allowance: seamfall_model::Allowance(Length::new(0.5)), ..Ruler::usual(Measure::Inch) };
        for (w, l, cut_w, cut_l) in [(72.0, 90.0, 73.0, 93.0), (90.0, 102.0, 91.0, 105.0), (102.0, 108.0, 103.0, 111.0)] {
            let made =
                plan(Vec2::new(w, l), &Cover::usual(Measure::Inch, seamfall_model::ClothId(0)), half).expect("it can be had");
            assert_eq!([made.lining[0].value, made.lining[1].value], [cut_w, cut_l]);
            assert_eq!([made.insert[0].value, made.insert[1].value], [w + 1.0, l + 1.0]);
        }
    }

    /// Loose fill in channels of about 4 in: 89 in across make 23 of a little less.
    #[test]
    fn channels_are_all_alike() {
        let [count, width] = channels(Length::new(89.0), Length::new(4.0), Ruler::usual(Measure::Inch)).expect("they can be had");
        assert_eq!(count.value, 23.0);
        assert!((width.value * count.value - 89.0).abs() < 1e-9 && width.value <= 4.0);
    }
}
