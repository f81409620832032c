#!/usr/bin/env bash
# Installs what the tests need beyond Rust: the test runner, so far.
set -euo pipefail
command -v cargo-nextest >/dev/null || cargo install --locked cargo-nextest
