#!/usr/bin/env bash
# Bad input, guided by coverage: `bash fuzz/run.sh SECONDS [TRIAL...]` shares the seconds among the trials, all unless some
# are named, one process at a time. What breaks a law is left in `fuzz/found`, and the exit code says so.
#   --fewer     takes what was found new into the corpus and keeps the fewest inputs that reach the same
#   --address   with the address sanitizer, which needs the nightly toolchain
# The compiler of every day does: coverage is a pass of LLVM. Only the address sanitizer is nightly's.
set -euo pipefail
cd "$(dirname "$0")"
toolchain=stable flags=() fewer=no seconds=60 trials=()
for word in "$@"; do
  case "$word" in
    --address) toolchain=nightly flags=(-Zsanitizer=address) ;;
    --fewer) fewer=yes ;;
    [0-9]*) seconds=$word ;;
    *) trials+=("$word") ;;
  esac
done
[ ${#trials[@]} -gt 0 ] || trials=(quilt ledger class drawing photo cutting)
if ! command -v c++ >/dev/null; then echo "no C++ compiler, which the fuzzer is built with: nothing is fuzzed" >&2; exit 2; fi
cargo=(cargo)
if command -v rustup >/dev/null; then
  if ! rustup run "$toolchain" true 2>/dev/null; then echo "no $toolchain toolchain: rustup toolchain install $toolchain --profile minimal" >&2; exit 2; fi
  cargo=(cargo "+$toolchain")
elif [ "$toolchain" = nightly ]; then echo "no rustup and so no nightly: nothing is fuzzed" >&2; exit 2; fi
for flag in -level=4 -inline-8bit-counters -pc-table -trace-compares; do flags+=("-Cllvm-args=-sanitizer-coverage$flag"); done
target=$(rustc -vV | sed -n 's/host: //p')
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$PWD/target}"
# The versions of the house, and the fuzzer's beside them.
cp ../Cargo.lock Cargo.lock
RUSTFLAGS="-Cpasses=sancov-module ${flags[*]}" \
  "${cargo[@]}" build --release --target "$target"
binary="$CARGO_TARGET_DIR/$target/release/seamfall-fuzz"
each=$((seconds / ${#trials[@]}))
broken=0
for trial in "${trials[@]}"; do
  mkdir -p "work/$trial" "found/$trial" "corpus/$trial"
  words=(); [ ! -f "words/$trial" ] || words=("-dict=words/$trial")
  export SEAMFALL_TRIAL=$trial
  if [ "$each" -gt 0 ]; then
    largest=$(case $trial in quilt) echo 6000 ;; photo) echo 16384 ;; *) echo 3000 ;; esac)
    echo "== $trial, $each s"
    "$binary" "work/$trial" "corpus/$trial" "${words[@]}" "-artifact_prefix=found/$trial/" -max_total_time=$each -max_len=$largest -timeout=20 \
      -rss_limit_mb=2500 -print_final_stats=1 -verbosity=1 >"work/$trial.log" 2>&1 || broken=1
    grep -E "^#[0-9]+.*(DONE|pulse|NEW)" "work/$trial.log" | tail -1 || true
    grep -E "stat::|panicked|ERROR|Test unit written" -A1 "work/$trial.log" | grep -v "^--" | head -20 || true
  fi
  if [ "$fewer" = yes ]; then
    mkdir -p "work/$trial.fewer"
    "$binary" -merge=1 "work/$trial.fewer" "corpus/$trial" "work/$trial" -timeout=20 -max_len=6000 >"work/$trial.log" 2>&1
    # The seeds that were written by hand and the inputs that broke something keep their names.
    find "corpus/$trial" -regextype posix-extended -regex '.*/[0-9a-f]{40}' -delete
    # No more than every check has time for: the smallest, which say most clearly what they reach.
    ls -Sr "work/$trial.fewer" | head -n 120 | while read -r input; do cp -n "work/$trial.fewer/$input" "corpus/$trial/"; done
    rm -r "work/$trial.fewer"
  fi
done
exit $broken
