"""Marks in cells that say nothing of a part: drawn lines, and the marks of items in front of designators."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from recap.read.cells import Row


def without_bullet(row: Row) -> Row:
    """Take an item's mark or number from in front of the designators in a row's first cell."""
    if not row.cells or _BULLET.match(row.cells[0].text) is None:
        return row
    first = replace(row.cells[0], text=_BULLET.sub("", row.cells[0].text))
    return replace(row, cells=(first, *row.cells[1:]))


_BULLET: Final = re.compile(r"\s*(?:[-*•·–]|\d{1,3}[.)]|(?:#|N[or]\.?\s?)\d{1,3})\s+(?=(?:A\d)?C[A-Z]?[-\s]?\d)")


def without_rules(row: Row) -> Row:
    """Empty the cells that only draw a line (``-----``), where others hold text."""
    if not any(_DRAWN.fullmatch(cell.text) for cell in row.cells):
        return row
    return Row(tuple(replace(c, text="") if _DRAWN.fullmatch(c.text) else c for c in row.cells), row.source)


_DRAWN: Final = re.compile(r"\s*[-=_.~*]{3,}\s*")
