//! Whole-number problems with a proof.
//!
//! In: numbers. Out: the best answer, its cost, and a bound below which there is nothing, with the argument for it ([`Proven`]).
//! Nothing here knows what the numbers stand for. Work is counted in steps ([`Budget`]), never in seconds, so that the same
//! problem gives the same answer on every machine; a search that ends at its budget says so by a bound below its cost.
//!
//! [`stacks`]: two values for every node of a signed graph, with the fewest edges unmet. [`choices`]: one of a few labels for
//! every node, with costs for labels and for pairs of them. [`paths`]: the fewest paths along all lines of a graph. [`placing`]: items
//! in places, so that sides that meet differ least.

mod chance;
pub mod choices;
mod order;
pub mod paths;
pub mod placing;
mod proof;
pub mod stacks;
mod tables;

pub use chance::Chance;
pub use proof::{Argument, Budget, Proven};
