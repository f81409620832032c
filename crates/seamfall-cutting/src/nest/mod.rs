//! Curved and odd templates out of cloth of one width, in the least length that is found.
//!
//! In: [`Template`]s, each an outline of lines and arcs with a count and the turns its grain allows, and the [`Cloth`]. Out: a
//! [`Nesting`], strips across the cloth with the place of every piece, and beside its length the area bound: no layout is shorter than
//! the area of all pieces over the cloth's width. Between the two nothing is proven.
//!
//! How: [`rows`] gives the patterns in which one template repeats, their pitch computed from no-fit polygons, so that no two pieces
//! overlap. [`cut`] lays the template with the most cloth in such a pattern, puts the others into what is left, and then takes
//! the uppermost pieces off and looks for room further down, as often as the [`Budget`] of steps allows. Same list, same layout.
//!
//! Not here: mirrored pieces (the right side of cloth is up), irregular scraps, and proofs. Axes: x across the cloth, y along it.

mod bed;
mod block;
mod convex;
mod lattice;
pub mod list;
mod meeting;
mod rows;
mod search;
mod shape;
mod strips;

use seamfall_geom::{Loop, Pose, Vec2};
use thiserror::Error;

pub use rows::{Row, rows};
pub use search::cut;
pub use shape::{FLATNESS, FLATNESS_OF_HOLLOWS};
use tr::tr;

/// Pieces that overlap by less than this touch. A tenth of what geometry takes for one point.
const HAIR: f64 = 1e-7;
/// Copies of one template that may be asked for.
pub const MOST_COPIES: u32 = 999_999;

/// What the grain allows. Turns are anticlockwise; a turn that looks like another is not tried twice.
#[derive(Debug, Clone, PartialEq)]
pub enum Turns {
    /// As drawn only: a print with a direction.
    None,
    /// As drawn or turned half round: the grain runs both ways.
    Half,
    /// In quarter turns: lengthwise and crosswise grain are as good.
    Quarter,
    /// Any way round. Tried are those that lay a straight line along the cloth.
    Free,
    /// These angles in degrees, no others.
    Listed(Vec<f64>),
}

/// A template with the number of pieces to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// Its name, for messages.
    pub name: String,
    /// Its outline as cut.
    pub outline: Loop,
    /// How many are cut.
    pub count: u32,
    /// What its grain allows.
    pub turns: Turns,
}

/// Cloth, or a measured scrap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cloth {
    /// Usable width.
    pub width: f64,
    /// Least distance between two pieces, 0 for a common cut. Nothing is kept from the edges.
    pub gap: f64,
}

/// How many steps the search may take; a step looks at one piece beside another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Steps.
    pub steps: u64,
}

impl Budget {
    /// Patterns and the first filling only, a few milliseconds.
    pub const QUICK: Self = Self { steps: 60_000 };
    /// All that is known, under a fifth of a second.
    pub const FULL: Self = Self { steps: 4_000_000 };
}

/// Where one piece lies: its template turned about the origin of its own drawing, then moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Its template's place in the list.
    pub template: usize,
    /// Turned anticlockwise, in degrees.
    pub turn: f64,
    /// Moved by, from the lower left corner of the strip.
    pub shift: Vec2,
}

impl Place {
    /// The motion that brings the template's outline to its place in the strip.
    #[must_use]
    pub fn pose(&self) -> Pose {
        Pose::turn_deg(self.turn).then(Pose::shift(self.shift))
    }
}

/// Equal strips across the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Along the cloth.
    pub height: f64,
    /// How many of them are cut.
    pub times: u32,
    /// The pieces of one, from below and from the left.
    pub places: Vec<Place>,
}

/// A layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Nesting {
    /// Length of cloth.
    pub length: f64,
    /// No layout is shorter: area of all pieces over the cloth's width.
    pub area_bound: f64,
    /// The strips in the order of cutting, a gap between them.
    pub strips: Vec<Strip>,
}

impl Nesting {
    /// Share of the cloth that becomes pieces.
    #[must_use]
    pub fn density(&self) -> f64 {
        self.area_bound / self.length
    }

    /// Every piece with its place on the whole cloth, strip by strip.
    pub fn places(&self, gap: f64) -> impl Iterator<Item = Place> + '_ {
        let mut y = 0.0;
        let each = self.strips.iter().flat_map(|strip| (0..strip.times).map(move |_| strip));
        each.flat_map(move |strip| {
            let low = y;
            y += strip.height + gap;
            strip.places.iter().map(move |place| Place { shift: place.shift + Vec2::new(0.0, low), ..*place })
        })
    }
}

/// Why templates cannot be nested.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NestError {
    /// No usable width.
    #[error("{}", tr!("the cloth is {width} wide with {gap} between pieces: give the usable width, and a gap of 0 or more", width, gap))]
    Cloth {
        /// Width as given.
        width: f64,
        /// Gap as given.
        gap: f64,
    },
    /// Nothing to cut.
    #[error("{}", tr!("there are no templates to cut: add some"))]
    NoTemplates,
    /// An outline that encloses nothing.
    #[error("{}", tr!("template `{name}` encloses no area: draw it as a closed outline of at least three corners", name))]
    NoShape {
        /// Its name.
        name: String,
    },
    /// An outline that crosses itself.
    #[error("{}", tr!("template `{name}` crosses itself: draw its outline once round, corner after corner", name))]
    Crosses {
        /// Its name.
        name: String,
    },
    /// An outline that is very small or very large beside the cloth.
    #[error("{}", tr!("template `{name}` is {size} across on cloth {width} wide: check the unit of both", name, size, width))]
    Size {
        /// Its name.
        name: String,
        /// The greater side of its box.
        size: f64,
        /// Width of the cloth.
        width: f64,
    },
    /// An outline with very many corners.
    #[error("{}", tr!("template `{name}` has {corners} corners: simplify it to {most} or fewer", name, corners, most))]
    TooFine {
        /// Its name.
        name: String,
        /// Corners it has.
        corners: usize,
        /// Corners it may have.
        most: usize,
    },
    /// Wider than the cloth however it is turned.
    #[error(
        "{}", tr!("template `{name}` is {needs} wide in the narrowest turn allowed, the cloth {width}: take wider cloth, allow more turns, or divide the template", name, needs, width))]
    TooWide {
        /// Its name.
        name: String,
        /// Its least width.
        needs: f64,
        /// Width of the cloth.
        width: f64,
    },
    /// No pieces, or too many.
    #[error("{}", tr!("template `{name}` is to be cut {count} times: give a number from 1 to {most}, or leave it out", name, count, most = MOST_COPIES))]
    Count {
        /// Its name.
        name: String,
        /// Count as given.
        count: u32,
    },
    /// No turn allowed.
    #[error("{}", tr!("template `{name}` may lie in no way: list a turn in degrees, `0` for as drawn", name))]
    NoTurn {
        /// Its name.
        name: String,
    },
}
