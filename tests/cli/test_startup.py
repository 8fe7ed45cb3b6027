"""Help and decoding answer at once: what is heavy is imported only by the commands that need it."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("pandas", "numpy", "scipy", "openpyxl", "pulp", "highspy", "matplotlib", "reportlab", "starlette", "rapidfuzz")

RUN_AND_LIST_MODULES = """
import sys
from recap.cli import main
sys.argv = ["recap", *sys.argv[1:]]
try:
    main()
except SystemExit as end:
    status = end.code
print(*sorted({name.partition(".")[0] for name in sys.modules}), file=sys.stderr)
sys.exit(status)
"""


@pytest.mark.parametrize(
    "arguments", [["--help"], ["decode", "475"], ["decode", "475", "--json"], ["decode", "--help"]]
)
def test_light_commands_import_nothing_heavy(arguments: list[str]) -> None:
    run = subprocess.run(
        [sys.executable, "-c", RUN_AND_LIST_MODULES, *arguments],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    imported = set(run.stderr.split())
    assert "recap" in imported
    assert not imported & set(HEAVY)
