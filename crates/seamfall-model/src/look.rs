//! How a cloth looks where it is more than one colour: stripes, checks, dots, or a photograph of it.
//!
//! Sizes are those of the cloth itself. A picture is what repeats: of a photograph what is left once its edges are cut off, of stripes and
//! the like one step across and one along. Pixels are never seen here, only how many there are.

use crate::{Colour, Length};

/// How a cloth looks.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// A figure on the ground, which is the cloth's colour.
    Figure(Figure),
    /// A photograph of the cloth itself.
    Photo(Photo),
}

/// A plain figure that repeats on a ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Which.
    pub kind: FigureKind,
    /// Its colour.
    pub colour: Colour,
    /// Width of a stripe, or across a dot.
    pub size: Length,
    /// From one stripe to the next, or from a dot to the next of its row.
    pub repeat: Length,
    /// How far it is turned to the left, in degrees. Stripes run along the selvage where it is not.
    pub angle_deg: f64,
}

/// Figures there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureKind {
    /// Stripes.
    Stripes,
    /// Stripes both ways, through which the ground is seen except where they cross.
    Checks,
    /// Dots in rows, every other row moved by half a step.
    Dots,
}

impl FigureKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Stripes, Self::Checks, Self::Dots];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Stripes => "stripes",
            Self::Checks => "checks",
            Self::Dots => "dots",
        }
    }
}

/// A photograph of a cloth, its upper edge across the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// Name of its file, which lies beside the quilt file.
    pub file: String,
    /// How wide the photographed piece of cloth really is, from the left edge of the photograph to the right one.
    pub width: Length,
    /// Pixels across and down: how high it is follows from them.
    pub pixels: [u32; 2],
    /// What is cut off it at the left, the top, the right and the bottom, in per cent of its width or height. What is left is one repeat.
    pub crop: [f64; 4],
}

impl Photo {
    /// Width and height of the whole photograph.
    #[must_use]
    pub fn whole(&self) -> [Length; 2] {
        let [across, down] = self.pixels.map(f64::from);
        [self.width, self.width * (down / across)]
    }

    /// Left, top, width and height of what repeats, from the photograph's upper left corner.
    #[must_use]
    pub fn kept(&self) -> [Length; 4] {
        let [width, height] = self.whole();
        let [left, top, right, bottom] = self.crop.map(|cut| cut / 100.0);
        [width * left, height * top, width * (1.0 - left - right), height * (1.0 - top - bottom)]
    }
}

impl Look {
    /// Across and along: after how much of the cloth it is the same again. A figure's angle is not in it.
    #[must_use]
    pub fn repeat(&self) -> [Length; 2] {
        match self {
            Self::Figure(figure) => [figure.repeat; 2],
            Self::Photo(photo) => {
                let [_, _, width, height] = photo.kept();
                [width, height]
            }
        }
    }

    /// The photograph, if it is one.
    #[must_use]
    pub fn photo(&self) -> Option<&Photo> {
        if let Self::Photo(photo) = self { Some(photo) } else { None }
    }

    /// How far its figure is turned to the left of the cloth's selvage, in degrees.
    #[must_use]
    pub fn angle_deg(&self) -> f64 {
        if let Self::Figure(figure) = self { figure.angle_deg } else { 0.0 }
    }
}
