#!/bin/sh
# Install what the tests need (a virtual environment, a browser) and pass them all: lint, types, tests.
set -eu
cd "$(dirname "$0")/.."
python="${PYTHON:-python3}"
venv="${RECAP_VENV:-.venv-test}"

[ -x "$venv/bin/python" ] || "$python" -m venv "$venv"
"$venv/bin/python" -m pip install --quiet --disable-pip-version-check -e '.[test]'

# The bench page is tested in a real browser: Debian's Chromium, installed here where it is missing.
if ! command -v chromium >/dev/null 2>&1 && ! command -v chromium-browser >/dev/null 2>&1; then
    if ! command -v apt-get >/dev/null 2>&1; then
        echo "The page tests need Chromium and can't install it here: please install it and run this again." >&2
        exit 1
    fi
    as_root=""
    [ "$(id -u)" = 0 ] || as_root="sudo"
    $as_root apt-get update -qq
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends chromium >/dev/null
fi

"$venv/bin/python" -m ruff check .
"$venv/bin/python" -m mypy
# All of it below is run with the newest libraries; the lowest ones that are allowed go the whole way of the work once.
# They are of the time of the lowest Python: newer ones have no use for them.
if [ $# = 0 ] && "$venv/bin/python" -c 'import sys; sys.exit(sys.version_info[:2] != (3, 11))'; then
    PYTHON="$python" RECAP_VENV="$venv-lowest" sh tests/lowest.sh --way
fi

exec "$venv/bin/python" -m pytest -n 2 "$@"
