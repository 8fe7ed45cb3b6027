#!/bin/sh
# Pass the tests with the lowest versions of the libraries that pyproject.toml allows; arguments go to pytest.
set -eu
cd "$(dirname "$0")/.."
python="${PYTHON:-python3.11}"
venv="${RECAP_VENV:-.venv-lowest}"

[ -x "$venv/bin/python" ] || "$python" -m venv "$venv"
"$venv/bin/python" tests/whole/lowest.py >"$venv/lowest.txt"
"$venv/bin/python" -m pip install --quiet --disable-pip-version-check -c "$venv/lowest.txt" -e '.[test]'
# Old libraries warn of what newer ones of theirs will drop: that is their business.
exec "$venv/bin/python" -m pytest -n 2 -W ignore "$@"
