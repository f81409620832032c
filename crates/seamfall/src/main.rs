//! The command line of Seamfall.
fn main() {}
