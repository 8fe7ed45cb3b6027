"""Rows of a table that hold nothing but the rest of a description that was too long for its line.

What they say belongs to the row above them and to no other: ``16 V`` below ``3300 uF,`` is no heading.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise import values
from recap.normalise.clean import clean, squeeze
from recap.normalise.joining import ATTRIBUTES
from recap.normalise.ledger import Fate
from recap.normalise.tokens import Sort, sorts, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.ledger import Ledger
    from recap.normalise.rows import Memory
    from recap.read.cells import Row

MOST: Final = 4
"""So many rows may go on with one."""
_OPEN: Final = re.compile(r"(?:[,:;/(+&-]|\b(?:and|with|und|mit|et|avec|con|met))\s*$", re.IGNORECASE)
_WRAPPED: Final = frozenset(("text", "kind", "value", "unknown"))
_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))


def gathered(rows: Sequence[Row], at: int, memory: Memory) -> tuple[Row, list[int]]:
    """Return row ``at`` with what the rows right below it go on with, and the numbers of those rows."""
    row = rows[at]
    place = next((column.index for column in memory.columns if column.field == "ref"), None)
    taken: list[int] = []
    if place is None or place >= len(row.cells) or not row.cells[place].text.strip():
        return row, taken
    wrapping = {column.index for column in memory.columns if column.field in _WRAPPED and not column.side}
    for below in rows[at + 1 : at + 1 + MOST]:
        filled = [index for index, cell in enumerate(below.cells) if cell.text.strip()]
        index = filled[0] if len(filled) == 1 else -1
        if index not in wrapping or index >= len(row.cells) or below.source.row is None or below.cells[index].struck:
            break
        above, rest = (squeeze(clean(each.cells[index].text).text) for each in (row, below))
        rated = not taken and _is_rating_of(above, rest, [squeeze(_all_of(row)) for row in rows[at + 2 : at + 4]])
        if not rated and not _goes_on(above, rest):
            break
        cell = replace(row.cells[index], text=f"{above} {rest}")
        row = replace(row, cells=(*row.cells[:index], cell, *row.cells[index + 1 :]))
        taken.append(below.source.row)
    return row, taken


def account(ledger: Ledger, number: int, rows: Sequence[int]) -> None:
    """Enter the rows that went on with row ``number`` as what it was."""
    if ledger.fates.get(number) is Fate.POSITIONS:
        ledger.with_row(rows)
        return
    for row in rows:
        ledger.passed(row, "line-passed-over", f"goes on with row {number}: passed over", "")


def _goes_on(above: str, rest: str) -> bool:
    """Tell whether a cell that has no end goes on: with a comma or bracket left open, or without the value below it."""
    if not above or not sorts(tokenise(rest, refs_seen=True)) & (ATTRIBUTES | _VALUES):
        return False
    if above.count("(") > above.count(")") or _OPEN.search(above) is not None:
        return True
    begins = values.capacitance(rest.split(",", maxsplit=1)[0]) is not None
    return begins and not sorts(tokenise(above, refs_seen=True)) & _VALUES


def _is_rating_of(above: str, rest: str, below: Sequence[str]) -> bool:
    """Tell whether a voltage alone is that of the value above it: what follows has its own, so it heads nothing."""
    if sorts(tokenise(rest, refs_seen=True)) != {Sort.VOLTS} or rest.endswith(":"):
        return False
    said = sorts(tokenise(above, refs_seen=True))
    if not said & _VALUES or said & {Sort.VOLTS, Sort.PAIR}:
        return False
    told = [sorts(tokenise(text)) for text in below]
    return not told or bool(told[0] & {Sort.VOLTS, Sort.OTHER_REF}) or (len(told) > 1 and told[1] == {Sort.VOLTS})


def _all_of(row: Row) -> str:
    return " ".join(clean(cell.text).text for cell in row.cells)
