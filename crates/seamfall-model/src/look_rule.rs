//! The rules of cloth as it looks and of motifs cut from it: each with its sentence and its source.
//!
//! In: nothing. Out: words. They stand apart from the other rules because they belong to one thing.

use tr::tr;

/// A rule of looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LookRule {
    /// How light a photographed cloth is.
    Lightness,
    /// Motifs that can be cut side by side.
    MotifsAcross,
    /// Rows of motifs.
    MotifRows,
    /// Cloth for rows of motifs.
    MotifLength,
    /// Cloth that no fewer rows can do with.
    MotifLeast,
    /// Room in which one motif is found wherever the print begins.
    MotifRoom,
}

impl LookRule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::Lightness => {
                tr!(
                    "The light that the whole photograph gives back, on average, as the lightness L* that the eye sees: from 0, black, to 100, white. Light, medium and dark are a third of that each."
                )
            }
            Self::MotifsAcross => {
                tr!(
                    "The middle of a motif lies half a piece from either edge or more; in what is between, motifs follow one another by whole repeats, and it is not known where the first one lies."
                )
            }
            Self::MotifRows => tr!("As many rows as hold all pieces, each cut by itself."),
            Self::MotifLength => {
                tr!(
                    "From row to row by whole repeats, and a piece; one repeat more, since the shop cuts the cloth where it likes."
                )
            }
            Self::MotifLeast => {
                tr!(
                    "With the first motif as near to the edges as it can lie no width holds more of them, so that no length is less."
                )
            }
            Self::MotifRoom => {
                tr!("In a piece and a repeat more, across and along, a whole motif is found wherever the print begins.")
            }
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> String {
        match self {
            Self::Lightness => {
                tr!("IEC 61966-2-1 (sRGB) for the light, CIE 15:2004, 8.2.1, for L*; the thirds are common practice")
            }
            Self::MotifsAcross | Self::MotifLength | Self::MotifLeast | Self::MotifRoom => tr!("plane geometry"),
            Self::MotifRows => tr!("counting"),
        }
    }
}
