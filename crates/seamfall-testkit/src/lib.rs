//! Quilts that the tests and benchmarks of several crates share.
//!
//! The demo quilts and the corpus stand in `quilts/` as files that anyone can open; here they are read.

pub mod made_up;
#[cfg(unix)]
pub mod postgres;
mod pressing;

pub use pressing::{nine_of_each_block, pressing_quilts};
use seamfall_model::{Quilt, read};

macro_rules! quilts {
    ($($(#[$doc:meta])* $name:ident = $path:literal;)*) => {
        /// Every sample, by its name, with the text of its file.
        pub const SAMPLES: &[(&str, &str)] = &[$((stringify!($name), include_str!(concat!("../../../quilts/", $path)))),*];

        $($(#[$doc])*
        #[must_use]
        pub fn $name() -> Quilt {
            parsed(stringify!($name), include_str!(concat!("../../../quilts/", $path)))
        })*
    };
}

quilts! {
    /// Cot-size, straight.
    tide_pool = "tide-pool.quilt.toml";
    /// Queen, every block framed.
    lamplight = "lamplight.quilt.toml";
    /// King, several kinds of block on point.
    hill_farm = "hill-farm.quilt.toml";
    /// Rows of different blocks, in centimetres.
    market_rows = "market-rows.quilt.toml";
    /// 200 places and about 6,000 patches, to measure with.
    king_200 = "corpus/king-200.quilt.toml";
}

/// Reads a sample.
///
/// # Panics
/// When it cannot be read: then the sample is wrong, or `read` is.
fn parsed(name: &str, text: &str) -> Quilt {
    read(text).unwrap_or_else(|error| panic!("sample {name}: {error:#?}"))
}
