#!/usr/bin/env bash
# Installs what the tests need beyond Rust: a browser with its driver, a PDF renderer, the accessibility checker, the test runner
# and the checker of licences.
set -euo pipefail
cd "$(dirname "$0")/.."
as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }
missing=()
command -v chromium >/dev/null || missing+=(chromium)
command -v chromedriver >/dev/null || missing+=(chromium-driver)
command -v pdftoppm >/dev/null || missing+=(poppler-utils)
command -v npm >/dev/null || missing+=(npm)
if [ ${#missing[@]} -gt 0 ]; then
  as_root apt-get update -q
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
fi
command -v cargo-nextest >/dev/null || cargo install --locked cargo-nextest
command -v cargo-deny >/dev/null || cargo install --locked cargo-deny
npm ci --prefix crates/seamfall-web/tests --no-audit --no-fund
