#!/usr/bin/env bash
# All checks and all tests. The slow ones are the first build and the browser.
# Databases of advisories are not fetched; licences, bans and sources are checked.
set -euo pipefail
cd "$(dirname "$0")/.."
export RUSTFLAGS="-D warnings" RUSTDOCFLAGS="-D warnings" INSTA_UPDATE=no
step() { printf '\n== %s\n' "$*"; "$@"; }
step cargo fmt --all --check
step cargo clippy --workspace --all-targets --locked
step cargo nextest run --workspace --locked --no-fail-fast
step bash fuzz/run.sh 120
step cargo test --doc --workspace --locked --quiet
step cargo doc --workspace --no-deps --locked
# All of the above ran with the compiler at hand: where that is not the oldest that is promised, the oldest has its say too.
minimum="$(sed -n 's/^rust-version = "\(.*\)"/\1/p' Cargo.toml)"
case "$(rustc --version)" in
  "rustc $minimum."*) echo "checked with the minimum version, $minimum" ;;
  *) step cargo "+$minimum" check --workspace --all-targets --locked --target-dir target/minimum ;;
esac
step cargo deny check licenses bans sources
