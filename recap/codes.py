"""The register of diagnostic and doubt codes: what each means and what to do about it.

A doubt is a code that sticks to a position until the user settles it. ``blocks`` tells whether
`recap order` refuses to buy for a position that carries it. Codes are kebab-case and never reused.
Each stage keeps its own table here, in the order of the work.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Code:
    """One code: a title, an example as it is met, what to do, and whether it blocks an order."""

    title: str
    example: str
    todo: str
    blocks: bool = False


FILES: dict[str, Code] = {}
"""Files and tables as such: missing, empty, broken, too large."""

LISTS: dict[str, Code] = {}
"""Cap lists: doubts about a position, lines passed over."""

BENCH: dict[str, Code] = {}
"""The bench folder: catalogues, terms, sets, drawer, extras, settings."""

ORDER: dict[str, Code] = {}
"""Working out the order."""

WORK: dict[str, Code] = {}
"""Goods in, checklist, page, record."""


def register() -> dict[str, Code]:
    """Return every code of every stage."""
    return FILES | LISTS | BENCH | ORDER | WORK
