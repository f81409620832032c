//! From a bed to the size of its quilt, the settings that reach it, and how a quilt hangs on it.
//!
//! In: the bed of the quilt file; for a quilt that is designed, the size of its top. Out: the size wanted and the size to piece, the drops that
//! come out, every shape of corner with how far it reaches, what to mind. [`search`](search::search) finds settings for a size, and
//! [`edits`] brings them into the quilt file. The same answers can be had without a quilt. It stands before every other stage:
//! the size of a top is handed to it. It draws nothing.

pub mod corner;
pub mod edits;
mod hang;
mod say;
pub mod search;
mod settings;
#[cfg(test)]
mod tests;
mod wanted;
mod wish;

pub use corner::{CornerCut, Drops, corner_cut, corner_edge};
pub use edits::{as_edit, wishes};
pub use hang::{CornerHang, OnBed, Pieced, on_bed};
pub use search::{Candidate, Found, Rank, search};
pub use settings::{Base, Figures, Setting, Standing};
pub use wanted::{Wanted, check, wanted};
pub use wish::{Parity, Steps, Wishes};

use crate::Staged;
use crate::answer::{Answer, Ruler};
use crate::caution::{Caution, infants, is_crib_sized};
use seamfall_model::{Bed, Quilt};

/// A quilt for its bed.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The bed.
    pub bed: Bed,
    /// The size that is wanted.
    pub wanted: Wanted,
    /// How the quilt as designed hangs; nothing where its top could not be set.
    pub hang: Option<OnBed>,
    /// Figures, part by part.
    pub answers: Vec<Answer>,
    /// What to take care of.
    pub cautions: Vec<Caution>,
}

/// Works out how `quilt` fits its bed, its top being as it is pieced; nothing without a bed.
#[must_use]
pub fn derive(quilt: &Quilt, top: Pieced) -> Staged<Option<Fit>> {
    let Some(bed) = quilt.bed else { return Staged { result: None, findings: Vec::new() } };
    let ruler = Ruler::of(quilt);
    let wanted = wanted(&bed, ruler);
    let mut answers = vec![wanted.answer(&bed, ruler)];
    // Where the top could not be set nothing hangs; that has been said.
    let hang = (top.size.x > 0.0 && top.size.y > 0.0).then(|| on_bed(&bed, top, ruler));
    let findings = hang.as_ref().map_or_else(Vec::new, |hang| say::findings(&bed, quilt.corners, hang, ruler));
    answers.extend(hang.iter().flat_map(|hang| hang.answers(&bed, ruler)));
    Staged { result: Some(Fit { bed, wanted, hang, answers, cautions: cautions(&bed, ruler) }), findings }
}

/// What to take care of with a quilt for `bed`.
#[must_use]
pub fn cautions(bed: &Bed, ruler: Ruler) -> Vec<Caution> {
    let mattress = seamfall_geom::Vec2::new(bed.width.value(), bed.length.value());
    let is_crib = bed.standard.is_some_and(|standard| standard.infant) || is_crib_sized(mattress, ruler.measure);
    is_crib.then(infants).into_iter().collect()
}
