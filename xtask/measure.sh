#!/usr/bin/env bash
# Runs all benchmarks and writes what they say to docs/figures.md, below the line that says so.
set -euo pipefail
cd "$(dirname "$0")/.."
page=docs/figures.md
marker='<!-- below this line: written by xtask/measure.sh -->'
kept=$(awk -v marker="$marker" '{ print } $0 == marker { exit }' "$page")
{
  printf '%s\n\n' "$kept"
  printf 'Rust %s, %s cores.\n\n' "$(rustc --version | cut -d' ' -f2)" "$(nproc)"
  for crate in seamfall-geom seamfall-solve seamfall-drape seamfall-plan seamfall-draw seamfall-book; do
    printf '## %s\n\n```text\n' "$crate"
    cargo bench --quiet -p "$crate" --bench '*' 2>/dev/null | sed 's/[[:space:]]*$//'
    printf '```\n\n'
  done
} > "$page.new"
mv "$page.new" "$page"
