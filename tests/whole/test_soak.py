"""A short soak: one bench, a few commands, faults among them. The long one is ``python tests/whole/soak.py``."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

SOAK = Path(__file__).with_name("soak.py")


def test_nothing_is_lost_whatever_happens() -> None:
    """In a process of its own, since it forks, mounts a disk and kills."""
    done = subprocess.run(
        [sys.executable, str(SOAK), "--count", "1", "--seed", "7", "--steps", "6"],
        capture_output=True, text=True, check=False, timeout=1500,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert "1 benches, 0 with something wrong" in done.stdout


def test_what_is_stopped_at_any_moment_of_its_writing_loses_nothing() -> None:
    """One command for all: the long way round is ``python tests/whole/every_moment.py``."""
    script = SOAK.with_name("every_moment.py")
    done = subprocess.run(
        [sys.executable, str(script), "drawer"], capture_output=True, text=True, check=False, timeout=1500
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert re.fullmatch(r"drawer: \d+ moments to be killed, \d+ to be interrupted\n", done.stdout)
