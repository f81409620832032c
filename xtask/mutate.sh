#!/usr/bin/env bash
# Changes the code of the core one small thing at a time and looks whether a test fails. Every so-manieth change of each room is tried.
# Usage: mutate.sh [EVERY [FOLDER]]: 1 tries all of some twenty thousand, which takes days; without it one in 100. What no test noticed stands in
# mutants.out below FOLDER (target/mutants), room by room.
set -euo pipefail
cd "$(dirname "$0")/.."
every="${1:-100}"
out="${2:-target/mutants}"
command -v cargo-mutants >/dev/null || cargo install --locked cargo-mutants
for room in geom solve cutting model plan; do
  mkdir -p "$out/$room"
  # Every change that is missed is a finding, not a failure of the run.
  cargo mutants -p "seamfall-$room" --test-tool nextest --sharding round-robin --shard "0/$every" --timeout 300 --output "$out/$room" --colors never >"$out/$room/log" 2>&1 || true
  printf '%s: ' "$room"
  tail -n 1 "$out/$room/log"
done
