//! What is draped over what: a bed, a cloth and its hand, and how closely to follow it; checked once, when the drape is begun.
//!
//! In: lengths in one unit. Out: the scene, or why it cannot be, with the nearest value that could.

use seamfall_geom::Loop;

/// What is accepted.
pub mod limits {
    /// Fewest and most points that a cloth is followed with.
    pub const POINTS: (usize, usize) = (100, 40_000);
    /// The cloth is at most so many times as long one way as the other, or the points would lie in a single row.
    pub const SLENDER: f64 = 20.0;
    /// A side of the bed, or the cloth's, is at most so many times the other's.
    pub const TIMES: f64 = 1000.0;
}

/// A mattress as a box that stands on the floor, what is under it included.
#[derive(Debug, Clone, PartialEq)]
pub struct Bed {
    /// Side to side.
    pub width: f64,
    /// Head to foot.
    pub length: f64,
    /// From the floor to the top of the mattress.
    pub height: f64,
    /// Radius of its rounded edges.
    pub edge: f64,
    /// Posts that rise above it.
    pub posts: Vec<Post>,
}

/// An upright post that stands on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Post {
    /// Its middle.
    pub at: [f64; 2],
    /// From side to side, both ways.
    pub thickness: f64,
    /// A round post, or a square one.
    pub round: bool,
    /// From the floor to its top.
    pub height: f64,
}

/// How a cloth handles: all that its shape at rest depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hand {
    /// From one face to the other.
    pub thickness: f64,
    /// Cube root of bending stiffness over weight.
    pub bending_length: f64,
    /// Shear stiffness over weight: how long a piece hung on the bias gives by about half its own part of this.
    pub shear_length: f64,
    /// Friction on mattress, posts and floor, as a share of the force pressing them together.
    pub friction: f64,
}

impl Hand {
    /// A hand from what a laboratory measures: kilograms a square metre, newton metres, newtons a metre.
    ///
    /// `metre` is how many of the caller's units are in one.
    #[must_use]
    pub fn measured(thickness_m: f64, weight_kg: f64, bending_nm: f64, shear_n: f64, friction: f64, metre: f64) -> Self {
        let pull = weight_kg * 9.806_65;
        Self {
            thickness: thickness_m * metre,
            bending_length: libm::cbrt(bending_nm / pull) * metre,
            shear_length: shear_n / pull * metre,
            friction,
        }
    }

    /// A bed quilt of two cottons and a thin batting, quilted all over.
    ///
    /// Common practice, no standard: 5 mm thick; 0.5 kg a square metre (cottons of 0.14, batting of 0.2). Shear 100 N/m: woven cottons
    /// have 17 to 84 N/m each (0.3 to 1.5 gf/cm a degree, S. Kawabata, "The standardization and analysis of hand evaluation", 1980).
    /// Bending 0.6 mN m, a bending length of 5 cm: cotton alone has 1.5 to 3 cm (Peirce 1930), and layers that are held together bend less.
    /// Friction 0.5, cotton on cotton.
    #[must_use]
    pub fn quilt(metre: f64) -> Self {
        Self::measured(0.005, 0.5, 0.0006, 100.0, 0.5, metre)
    }
}

/// A cloth over a bed.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// The bed.
    pub bed: Bed,
    /// The cloth laid flat at the height of the mattress, seen from above: the same axes, so its place says how it lies.
    pub outline: Loop,
    /// How the cloth handles.
    pub hand: Hand,
    /// About how many points to follow.
    pub points: usize,
}

/// Why a scene cannot be draped.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SceneError {
    /// A size that is no number, or not above nothing.
    #[error("{what} must be a length above 0, and is {value}")]
    Length {
        /// Which one.
        what: &'static str,
        /// What was asked.
        value: f64,
    },
    /// Too few points, or too many.
    #[error("a cloth is followed with {least} to {most} points, not {points}; nearest: {nearest}", least = limits::POINTS.0, most = limits::POINTS.1)]
    Points {
        /// What was asked.
        points: usize,
        /// What could be.
        nearest: usize,
    },
    /// The rounding of the edge does not fit the bed.
    #[error("an edge rounded by {edge} does not fit the bed; at most {most}")]
    Edge {
        /// What was asked.
        edge: f64,
        /// What could be.
        most: f64,
    },
    /// A cloth that is a ribbon.
    #[error("the cloth is {long} long and {wide} wide; at most {times} times as long as wide", times = limits::SLENDER)]
    Slender {
        /// Its longer side.
        long: f64,
        /// Its shorter side.
        wide: f64,
    },
    /// Cloth and bed are of quite different size.
    #[error("{what} of {value} is out of all proportion to the cloth; between {least} and {most}")]
    Proportion {
        /// Which one.
        what: &'static str,
        /// What was asked.
        value: f64,
        /// The least that could be.
        least: f64,
        /// The most.
        most: f64,
    },
}

impl Scene {
    /// Whether it can be draped.
    pub(crate) fn check(&self) -> Result<(), SceneError> {
        let bounds = self.outline.bounds();
        let (bed, hand) = (&self.bed, &self.hand);
        let (least, most) = limits::POINTS;
        if self.points < least || self.points > most {
            return Err(SceneError::Points { points: self.points, nearest: self.points.clamp(least, most) });
        }
        let above_nothing = [
            ("the width of the cloth", bounds.width()),
            ("the length of the cloth", bounds.height()),
            ("the area of the cloth", self.outline.area()),
            ("the thickness of the cloth", hand.thickness),
            ("the shear length of the cloth", hand.shear_length),
        ];
        let lengths =
            [("the width of the bed", bed.width), ("the length of the bed", bed.length), ("the height of the bed", bed.height)];
        let posts = bed
            .posts
            .iter()
            .flat_map(|post| [("the thickness of a post", post.thickness), ("the height of a post", post.height)]);
        for (what, value) in above_nothing.into_iter().chain(lengths).chain(posts) {
            if !(value.is_finite() && value > 0.0) {
                return Err(SceneError::Length { what, value });
            }
        }
        let places = bed.posts.iter().flat_map(|post| post.at).map(|value| ("the place of a post", value));
        let not_below = [("the bending length of the cloth", hand.bending_length), ("the friction", hand.friction)];
        let corners = [bounds.x0, bounds.y0].map(|value| ("the place of the cloth", value));
        for (what, value) in not_below.into_iter().chain(corners).chain(places) {
            if !value.is_finite() || (value < 0.0 && not_below.iter().any(|(name, _)| *name == what)) {
                return Err(SceneError::Length { what, value });
            }
        }
        let (long, wide) = (bounds.width().max(bounds.height()), bounds.width().min(bounds.height()));
        if long > limits::SLENDER * wide {
            return Err(SceneError::Slender { long, wide });
        }
        let (least, most) = (long / limits::TIMES, long * limits::TIMES);
        if let Some(&(what, value)) = lengths.iter().find(|(_, value)| *value < least || *value > most) {
            return Err(SceneError::Proportion { what, value, least, most });
        }
        let most = bed.width.min(bed.length).min(bed.height) / 2.0;
        if !(bed.edge >= 0.0 && bed.edge <= most) {
            return Err(SceneError::Edge { edge: bed.edge, most });
        }
        Ok(())
    }
}
