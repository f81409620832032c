#!/usr/bin/env bash
# The compiler as cargo calls it for the crates of the house, with coverage: see `run.sh`.
compiler="$1"
shift
case " $* " in
  *" --crate-name "*) read -ra coverage <<<"$SEAMFALL_COVERAGE"; exec "$compiler" "$@" "${coverage[@]}" ;;
  *) exec "$compiler" "$@" ;;
esac
