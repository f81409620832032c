//! A program of faults: the real server is killed, its disk is filled, its folder closed; and then it is looked at what is left.
//!
//! `SEAMFALL_KILLS` says how often it is killed (15 unless said), `SEAMFALL_SEED` from which number chance starts. A thousand kills:
//! `SEAMFALL_KILLS=1000 cargo test -p seamfall --test faults killed -- --nocapture`.

mod after;
mod chance;
mod disk;
mod kills;
mod maker;
mod put_back;
mod server;

/// The quilt of these tests.
const SMALL: &str = include_str!("small.quilt.toml");
