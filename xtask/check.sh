#!/usr/bin/env bash
# All checks and all tests of the rooms that are furnished so far; the workroom and the command line join when they build.
set -euo pipefail
cd "$(dirname "$0")/.."
step() { printf '\n== %s\n' "$*"; "$@"; }
step cargo nextest run -p seamfall-geom -p seamfall-solve -p seamfall-model -p seamfall-plan -p seamfall-draw -p seamfall-store -p xtask --no-fail-fast
