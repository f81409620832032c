//! Rectangles out of cloth by straight edge-to-edge cuts, with a bound that is proven.
//!
//! In: a [`job::Job`], kinds of pieces on a cutting grid and cloth of one width and any length. Out: a [`layout::Layout`] that is as
//! short as can be found within a budget of steps, and a [`bound::Proof`] that nothing shorter than so much exists. Of use to
//! anyone with rectangles to cut: no word about quilts, no files, no clock; the same job gives the same layout on every machine.
//!
//! [`sheets`] does the same for sheets of several sizes and prices, least price first.
//!
//! [`check::check`] verifies a layout from the definition alone and shares no code with the search. [`mod@file`] reads and writes the
//! JSON of lists and layouts. [`nest`] lays templates that are no rectangles. Not here: yards and prices, drawings.

pub mod bound;
pub mod check;
pub mod file;
mod grid;
pub mod handbook;
pub mod job;
pub mod layout;
mod lp;
pub mod nest;
mod search;
pub mod sheets;
pub mod steps;

pub use search::{Budget, Cutting, cut, cut_while};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}
