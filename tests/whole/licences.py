"""Under which licences the libraries come: ``python tests/whole/licences.py`` prints the table for DEVELOPERS.md."""

from __future__ import annotations

import sys
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import TYPE_CHECKING

from packaging.requirements import Requirement

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole.lowest import bounds

if TYPE_CHECKING:
    from importlib.metadata import Distribution

OURS = "recap-workbench"
BEGIN = "<!-- licences: python tests/whole/licences.py -->"
END = "<!-- end of licences -->"

LONG_NAMES = {
    "License :: OSI Approved :: BSD License": "BSD",
    "License :: OSI Approved :: MIT License": "MIT",
    "License :: OSI Approved :: ISC License (ISCL)": "ISC",
    "License :: OSI Approved :: Apache Software License": "Apache-2.0",
    "License :: OSI Approved :: Python Software Foundation License": "PSF-2.0",
    "License :: OSI Approved :: Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
FREE = {"MIT", "MIT-CMU", "HPND", "BSD", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "ISC", "Zlib", "CC0-1.0", "Apache-2.0",
        "PSF-2.0", "Python-2.0"}  # fmt: skip
"""Licences that let anybody use the tool for anything; each word of an expression must be one of them."""


def licence(found: Distribution) -> str:
    """The SPDX expression where the library states one, else its trove classifier in short, else its own word."""
    stated = found.metadata.get("License-Expression")
    if stated:
        return str(stated)
    for classifier in found.metadata.get_all("Classifier") or []:
        if classifier in LONG_NAMES:
            return LONG_NAMES[classifier]
    return str(found.metadata.get("License") or "not stated")


def words(expression: str) -> set[str]:
    """The licences an expression names."""
    plain = expression.replace("(", " ").replace(")", " ").split()
    return {word for word in plain if word not in {"AND", "OR", "WITH"}}


def come_along() -> dict[str, Distribution]:
    """Every library that installing the tool brings: those it names and those they name, as installed here."""
    found: dict[str, Distribution] = {}
    waiting = [OURS]
    while waiting:
        name = waiting.pop()
        try:
            here = distribution(name)
        except PackageNotFoundError:  # a requirement for another Python or system
            continue
        key = here.metadata["Name"].lower().replace("_", "-")
        if key in found:
            continue
        found[key] = here
        for text in here.requires or []:
            wanted = Requirement(text)
            if wanted.marker is None or wanted.marker.evaluate({"extra": ""}):
                waiting.append(wanted.name)
    del found[OURS]
    return found


def table() -> str:
    """The table of DEVELOPERS.md, markers included."""
    lines = ["| library | from | below | licence |", "| --- | --- | --- | --- |"]
    lines += [
        f"| {name} | {low} | {high or ''} | {licence(distribution(name))} |" for name, (low, high) in bounds().items()
    ]
    return "\n".join([BEGIN, *lines, END])


if __name__ == "__main__":
    sys.stdout.write(table() + "\n")
