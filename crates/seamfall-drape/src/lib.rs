//! How cloth lies on a bed and hangs over its edges.
//!
//! In: a [`Scene`], which is a bed, the outline of the cloth laid flat over it, the [`Hand`] of the cloth, and how many points to
//! follow. Out: a [`Drape`], advanced in small pieces, that says where every point is, and in the end how low each corner hangs.
//!
//! Position based dynamics with compliance (M. Macklin, M. Müller, N. Chentanez, "XPBD", 2016) in many small steps of one pass each
//! (M. Macklin et al., "Small steps in physics simulation", 2019). Threads of both ways do not give (X. Provot, "Deformation
//! constraints in a mass-spring model", 1995); the bias does, a little; bending is a linear sum of positions (P. Volino,
//! N. Magnenat-Thalmann, "Simple linear bending stiffness in particle systems", 2006). The cloth is laid flat, falls, and comes to
//! rest with few points first; the rest is then followed with four times as many, until there are as many as asked.
//!
//! Cloth that does not stretch hangs the same whatever it weighs: only the ratio of stiffness to weight counts, which is a length
//! (F. T. Peirce, "The handle of cloth as a measurable quantity", 1930). So gravity is 1 here and time has no unit.
//!
//! Axes: x to the right, y to the head, z up; the origin is on the floor below the middle of the mattress. One unit of length, the
//! caller's. Only sums, products, quotients and square roots are taken, in one order: the same bytes on every machine.
//!
//! Not here: cloth does not meet itself, so the two sides of a deep fold may pass through each other; no wind, no pillows, no creases
//! that stay. The mattress does not give.

mod contact;
mod drape;
mod mesh;
mod motion;
mod pace;
mod refine;
mod scene;
mod vector;

#[cfg(test)]
mod tests;

pub use drape::{Corner, Drape, Progress};
pub use scene::{Bed, Hand, Post, Scene, SceneError, limits};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}
