#!/usr/bin/env bash
# Builds the program twice from clones in two folders of different names, and compares what comes out, byte by byte.
set -euo pipefail
cd "$(dirname "$0")/.."
scratch="$(mktemp -d)"
trap 'rm -rf "$scratch"' EXIT
for folder in one another-one; do
  git clone -q . "$scratch/$folder"
  (cd "$scratch/$folder" && env -u CARGO_TARGET_DIR bash xtask/release.sh "$scratch/$folder.out")
  rm -rf "$scratch/$folder/target"
done
cmp "$scratch/one.out/seamfall" "$scratch/another-one.out/seamfall"
echo "the same bytes from two folders: $(cut -c1-64 "$scratch/one.out/SHA256SUMS" | head -1)"
