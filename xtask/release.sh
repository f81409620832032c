#!/usr/bin/env bash
# Builds what is given out: the program, its bill of materials (CycloneDX, every library with its version and licence) and their checksums.
# Usage: release.sh FOLDER. The same sources give the same bytes wherever they lie: see reproduce.sh.
set -euo pipefail
out="$(mkdir -p "$1" && cd "$1" && pwd)"
cd "$(dirname "$0")/.."
command -v cargo-cyclonedx >/dev/null || cargo install --locked cargo-cyclonedx
home="${CARGO_HOME:-$HOME/.cargo}"
# Neither where the sources lie nor when they are built shows in what comes out, in Rust or in the C of the database.
export RUSTFLAGS="--remap-path-prefix=$PWD=. --remap-path-prefix=$home=cargo"
export CFLAGS="-ffile-prefix-map=$PWD=. -ffile-prefix-map=$home=cargo"
SOURCE_DATE_EPOCH="$(git log -1 --format=%ct)"
export SOURCE_DATE_EPOCH
cargo build --release --locked -p seamfall
cargo cyclonedx --manifest-path crates/seamfall/Cargo.toml --format json --describe binaries --spec-version 1.5
sed "s|file://$PWD|file://.|g" crates/seamfall/seamfall_bin.cdx.json > "$out/seamfall.cdx.json"
rm crates/seamfall/seamfall_bin.cdx.json xtask/xtask_bin.cdx.json
cp "${CARGO_TARGET_DIR:-target}/release/seamfall" "$out/"
(cd "$out" && sha256sum seamfall seamfall.cdx.json > SHA256SUMS && cat SHA256SUMS)
