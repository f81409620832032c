//! Checks, generation and measurements of the workspace.
fn main() {}
