"""The lowest versions that pyproject.toml allows, as constraints for pip: ``python tests/whole/lowest.py``.

What the tests need beside them stays within its own bounds.
"""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).parent.parent.parent / "pyproject.toml"
BOUND = re.compile(r"(?P<name>[A-Za-z0-9_.-]+)>=(?P<low>[0-9.]+)(?:,<(?P<high>[0-9.]+))?")


def bounds() -> dict[str, tuple[str, str | None]]:
    """Name of each library the package needs: (lowest version, the version it must stay below)."""
    found = {}
    for text in _project()["dependencies"]:
        match = BOUND.fullmatch(text)
        if match is None:
            raise ValueError(f"{text!r}: write it as name>=low,<high")
        found[match["name"]] = (match["low"], match["high"])
    return found


def _project() -> dict[str, Any]:
    stated: dict[str, Any] = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]
    return stated


if __name__ == "__main__":
    lowest = [f"{name}=={low}" for name, (low, _) in bounds().items()]
    sys.stdout.writelines(f"{line}\n" for line in (*lowest, *_project()["optional-dependencies"]["test"]))
