#!/bin/sh
# Pass the tests with the lowest versions of the libraries that pyproject.toml allows; arguments go to pytest.
# With --way first: only tests that go the whole way of the work once, and only what those need is installed.
set -eu
cd "$(dirname "$0")/.."
python="${PYTHON:-python3.11}"
venv="${RECAP_VENV:-.venv-lowest}"

[ -x "$venv/bin/python" ] || "$python" -m venv "$venv"
"$venv/bin/python" tests/whole/lowest.py >"$venv/lowest.txt"
pip() {
    "$venv/bin/python" -m pip --quiet --disable-pip-version-check --retries 10 install --no-compile \
        -c "$venv/lowest.txt" "$@"
}
if [ "${1:-}" = --way ]; then
    shift
    pip --only-binary=:all: -e . hypothesis pypdfium2 pytest pytest-xdist zxing-cpp
    set -- -q tests/demo tests/order/test_files.py tests/fit/test_checklist_files.py tests/fit/test_labels.py \
        tests/cli/test_first_hour.py tests/read/test_workbook.py tests/optimise/test_worked_cases.py \
        tests/cli/test_help.py::test_the_bench_page_serves_until_it_is_stopped "$@"
else
    pip -e '.[test]'
fi
# Old libraries warn of what newer ones of theirs will drop: that is their business.
exec "$venv/bin/python" -m pytest -n 2 -W ignore "$@"
