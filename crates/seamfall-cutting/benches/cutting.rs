//! How long the bounds and the layouts take.
fn main() {
    divan::main();
}
