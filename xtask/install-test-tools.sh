#!/usr/bin/env bash
# Installs what the tests need beyond Rust: a browser with its driver, a PDF renderer, a database server, the accessibility checker, the test
# runner, the checker of licences, and readers of PDF and DXF in a folder of their own.
set -euo pipefail
cd "$(dirname "$0")/.."
as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }
missing=()
command -v c++ >/dev/null || missing+=(g++) # builds the fuzzer
command -v chromium >/dev/null || missing+=(chromium)
command -v chromedriver >/dev/null || missing+=(chromium-driver)
command -v pdftoppm >/dev/null || missing+=(poppler-utils)
command -v pg_ctl >/dev/null || [ -n "$(ls -d /usr/lib/postgresql/*/bin/pg_ctl 2>/dev/null)" ] || missing+=(postgresql)
command -v npm >/dev/null || missing+=(npm)
python3 -c "import ensurepip" 2>/dev/null || missing+=(python3-venv)
if [ ${#missing[@]} -gt 0 ]; then
  as_root apt-get update -q
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
fi
command -v cargo-nextest >/dev/null || cargo install --locked cargo-nextest
command -v cargo-deny >/dev/null || cargo install --locked cargo-deny
npm ci --prefix crates/seamfall-web/tests --no-audit --no-fund
readers="${SEAMFALL_READERS:-$HOME/.cache/seamfall-readers}"
[ -x "$readers/bin/python" ] || python3 -m venv "$readers"
"$readers/bin/pip" install -q --disable-pip-version-check -r xtask/readers/requirements.txt
