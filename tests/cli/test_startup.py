"""Help and decoding answer at once: what is heavy is imported only by the commands that need it."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from tests.bench.catalogue import make

if TYPE_CHECKING:
    from pathlib import Path

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


def test_an_order_from_catalogues_at_hand_does_not_wait_for_pandas(tmp_path: Path) -> None:
    make(tmp_path / "bench", 600, 12, 2, 14)
    run = subprocess.run(
        [sys.executable, "-c", RUN_AND_LIST_MODULES, "order", str(tmp_path / "bench"), "--json"],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert '"status"' in run.stdout, run.stderr
    assert "highspy" in run.stderr.split()
    assert "pandas" not in run.stderr.split()
