"""Delimited lists without a header: ``C1,10,16V,2``, where the comma parts cells and is no decimal comma.

What parts the cells is told from all lines together; a semicolon is put in its place, which is never part of a number.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Sequence

_RECORD: Final = compiled(r"C[A-Z]?-?\d{1,4}[A-Z]?,(?!C[A-Z]?-?\d)[^\s,\"][^,\"]*(?:,[^,\"]*)+")
_BARE: Final = compiled(r"\d,\d")
_POINT: Final = compiled(r"(?<=,)\d*\.\d+")
ENOUGH: Final = 3
MOST: Final = 0.8
"""At least so many lines, and such a share of all that aren't blank, are records cut alike."""


def parted(lines: Sequence[str]) -> list[str]:
    """Return the lines with semicolons between their cells where commas without blanks part these."""
    records = [line for line in lines if line.count(",") > 1 and ", " not in line and _RECORD.fullmatch(line.strip())]
    known = set(records)
    filled = [line for line in lines if line.strip()]
    if len(records) < max(ENOUGH, MOST * len(filled)) or not any(map(_BARE.search, records)):
        return list(lines)
    if any("," in line for line in filled if line not in known):
        return list(lines)  # a header, of which the table's own reader makes more
    if len({line.count(",") for line in records}) > 1 and not any(map(_POINT.search, records)):
        return list(lines)  # ``C1,4,7,50`` beside ``C2,10,50``: a decimal comma
    return [line.replace(",", " ; ") if line in known else line for line in lines]
