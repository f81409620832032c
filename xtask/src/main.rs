//! What must hold about the house itself, as tests (`cargo test -p xtask`): the page that describes it, who uses whom, headers.

fn main() {
    println!(
        "The checks of the house are tests: run `cargo test -p xtask`. Scripts: check.sh, measure.sh, install-test-tools.sh."
    );
}

#[cfg(test)]
mod house;
