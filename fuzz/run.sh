#!/usr/bin/env bash
# Bad input, guided by coverage: `bash fuzz/run.sh SECONDS [TRIAL...]` shares the seconds among the trials, all unless some
# are named, one process at a time. What breaks a law is left in `fuzz/found`, and the exit code says so.
#   --libraries guided by the coverage of all libraries too, which are built anew for it: a quarter of an hour of two cores
#   --address   the same, with the address sanitizer, which needs the nightly toolchain
#   --fewer     takes what was found new into the corpus and keeps the fewest inputs that reach the same
# The compiler of every day does: coverage is a pass of LLVM. Only the address sanitizer is nightly's.
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
cd "$here/.."
toolchain=() libraries=no address=() fewer=no seconds=60 trials=()
for word in "$@"; do
  case "$word" in
    --libraries) libraries=yes ;;
    --address) libraries=yes toolchain=(+nightly) address=(-Zsanitizer=address) ;;
    --fewer) fewer=yes ;;
    [0-9]*) seconds=$word ;;
    *) trials+=("$word") ;;
  esac
done
[ ${#trials[@]} -gt 0 ] || trials=(quilt ledger class drawing photo cutting maker member)
if ! command -v c++ >/dev/null; then echo "no C++ compiler, which the fuzzer is built with: nothing is fuzzed" >&2; exit 2; fi
# Coverage by the pass that the fuzzer understands. `instrumented.sh` gives the same to the crates of the house.
coverage=(-Cpasses=sancov-module)
for flag in -level=4 -inline-8bit-counters -pc-table -trace-compares; do coverage+=("-Cllvm-args=-sanitizer-coverage$flag"); done
export SEAMFALL_COVERAGE="${coverage[*]}"
if [ "$libraries" = yes ]; then
  export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$here/target}" RUSTFLAGS="${coverage[*]} ${address[*]}"
  build=(-p seamfall-trial --profile guided --target "$(rustc -vV | sed -n 's/host: //p')")
else
  # The libraries that the tests are built with, and the house once more.
  export RUSTC_WORKSPACE_WRAPPER="$here/instrumented.sh" CARGO_PROFILE_DEV_OPT_LEVEL=1
  build=(--workspace)
fi
test=(cargo "${toolchain[@]}" test --locked "${build[@]}" --features seamfall-trial/guided --test guided --no-run --message-format=json)
guided="$("${test[@]}" | sed -n 's/.*"executable":"\([^"]*guided[^"]*\)".*/\1/p')"
# A server of a trial keeps its store where no disk has to turn.
[ ! -d /dev/shm ] || export TMPDIR=/dev/shm
each=$((seconds / ${#trials[@]}))
broken=0
for trial in "${trials[@]}"; do
  corpus="$here/corpus/$trial" work="$here/work/$trial" found="$here/found/$trial" log="$here/work/$trial.log"
  mkdir -p "$work" "$found" "$corpus"
  words=(); [ ! -f "$here/words/$trial" ] || words=("-dict=$here/words/$trial")
  export SEAMFALL_TRIAL=$trial
  if [ "$each" -gt 0 ]; then
    largest=$(case $trial in quilt) echo 6000 ;; photo) echo 16384 ;; *) echo 3000 ;; esac)
    echo "== $trial, $each s"
    "$guided" "$work" "$corpus" "${words[@]}" "-artifact_prefix=$found/" -max_total_time=$each -max_len=$largest -timeout=60 \
      -rss_limit_mb=2500 -print_final_stats=1 -verbosity=1 >"$log" 2>&1 || broken=1
    grep -aE "^#[0-9]+.*(DONE|pulse|NEW)" "$log" | tail -1 || true
    grep -aE "stat::|panicked|ERROR|Test unit written" -A1 "$log" | grep -v "^--" | head -20 || true
  fi
  if [ "$fewer" = yes ]; then
    mkdir -p "$work.fewer"
    "$guided" -merge=1 "$work.fewer" "$corpus" "$work" -timeout=60 -max_len=6000 >"$log" 2>&1
    # The seeds that were written by hand and the inputs that broke something keep their names.
    find "$corpus" -regextype posix-extended -regex '.*/[0-9a-f]{40}' -delete
    # No more than every check has time for: the smallest, which say most clearly what they reach.
    ls -Sr "$work.fewer" | head -n 120 | while read -r input; do cp -n "$work.fewer/$input" "$corpus/"; done
    rm -r "$work.fewer"
  fi
done
exit $broken
