//! How light a colour is to the eye, and which value that makes a cloth.
//!
//! In: red, green and blue as screens and cameras have them. Out: luminance Y from 0 (black) to 1 (white) and lightness L* from 0 to 100.
//! Sources: IEC 61966-2-1 (sRGB) for the way to Y; CIE 15:2004, section 8.2.1, for L*, by which equal steps look equal. Light, medium and dark
//! are thirds of L*: common practice is to sort by eye, and this sorts as evenly.

use crate::{Colour, LookRule, Rounding, Term, Value, Working, term};
use tr::tr;

/// Where light and medium, medium and dark part, in L*.
pub const LIGHT_FROM: f64 = 200.0 / 3.0;
/// See [`LIGHT_FROM`].
pub const DARK_BELOW: f64 = 100.0 / 3.0;

/// Shares of red, green and blue in luminance. Source: IEC 61966-2-1.
const SHARES: [f64; 3] = [0.2126, 0.7152, 0.0722];

/// A channel from 0 to 255 as a share of the light it stands for. Source: IEC 61966-2-1, section 5.2.
#[must_use]
pub fn linear(channel: u8) -> f64 {
    let share = f64::from(channel) / 255.0;
    if share <= 0.04045 { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
}

/// The channel that stands for a share of light, the other way round.
#[must_use]
pub fn channel(linear: f64) -> u8 {
    let share = if linear <= 0.003_130_8 { linear * 12.92 } else { 1.055 * libm::pow(linear, 1.0 / 2.4) - 0.055 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it lies between 0 and 255")]
    let channel = (share.clamp(0.0, 1.0) * 255.0).round() as u8;
    channel
}

/// Luminance of linear red, green and blue, from 0 to 1.
#[must_use]
pub fn luminance(linear: [f64; 3]) -> f64 {
    linear.iter().zip(SHARES).map(|(light, share)| light * share).sum()
}

/// Lightness L* of a luminance. Source: CIE 15:2004, section 8.2.1.
#[must_use]
pub fn lightness(luminance: f64) -> Working {
    /// Below this the eye's curve is taken for straight.
    const EDGE: f64 = 216.0 / 24_389.0;
    let light = term(&tr!("light given back"), luminance);
    let seen: Term = if luminance > EDGE { 116.0 * light.cbrt() - 16.0 } else { light * (24_389.0 / 27.0) };
    Working::new(LookRule::Lightness.into(), &tr!("lightness L*"), seen, Rounding::Exact)
}

/// The value of a cloth whose mean luminance this is.
#[must_use]
pub fn value_of(luminance: f64) -> Value {
    match lightness(luminance).value {
        light if light >= LIGHT_FROM => Value::Light,
        dark if dark < DARK_BELOW => Value::Dark,
        _ => Value::Medium,
    }
}

impl Colour {
    /// Its luminance, from 0 to 1.
    #[must_use]
    pub fn luminance(self) -> f64 {
        luminance([self.0, self.1, self.2].map(linear))
    }

    /// The grey that is as light.
    #[must_use]
    pub fn grey(self) -> Self {
        let grey = channel(self.luminance());
        Self(grey, grey, grey)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// White, black and mid grey: CIE 15 defines L* of white as 100 and of black as 0; 18.42 per cent is L* 50 by its own formula
    /// ((66/116)^3). The primaries' Y are the shares of IEC 61966-2-1; their L* as printed in its worked tables: 53.24, 87.74, 32.30.
    #[test]
    fn lightness_is_that_of_the_standards() {
        assert!((lightness(1.0).value - 100.0).abs() < 1e-9);
        assert!(lightness(0.0).value.abs() < 1e-12);
        assert!((lightness((66.0_f64 / 116.0) * (66.0 / 116.0) * (66.0 / 116.0)).value - 50.0).abs() < 1e-9);
        for (colour, wanted) in [(Colour(255, 0, 0), 53.24), (Colour(0, 255, 0), 87.74), (Colour(0, 0, 255), 32.30)] {
            assert!((lightness(colour.luminance()).value - wanted).abs() < 0.01, "{colour:?}");
        }
    }

    #[test]
    fn a_grey_is_as_light_as_its_colour() {
        for colour in [Colour(200, 30, 60), Colour(0, 0, 0), Colour(255, 255, 255), Colour(90, 160, 20)] {
            let (own, grey) = (lightness(colour.luminance()).value, lightness(colour.grey().luminance()).value);
            assert!((own - grey).abs() < 0.3, "{colour:?}: {own} {grey}");
        }
    }
}
