"""Tables that stand upright, a row for each field of one part: ``| Value | 10 µF |`` below ``| Ref | C1 |``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import columns
from recap.normalise.clean import clean, squeeze
from recap.read.cells import Row

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.read.cells import Cell

FEWEST: Final = 3
"""So many fields make a record."""
MOST: Final = 14
SHARE: Final = 0.6


def turned(rows: Sequence[Row]) -> tuple[Row, Row] | None:
    """Return the names of the fields and what stands beside them as two rows, or None where a table is none such."""
    pairs = [pair for row in rows if (pair := _pair(row)) is not None]
    if pairs and _heads(pairs[0]):
        pairs, rows = pairs[1:], rows[1:]
    filled = sum(1 for row in rows if any(cell.text.strip() for cell in row.cells))
    if len(pairs) != filled or not FEWEST <= len(pairs) <= MOST:
        return None
    fields = [columns.understand(_text(name), 0).field for name, _ in pairs]
    known = [field for field in fields if field in columns.STRONG]
    holds_part = {"value", "text"} & set(known) and {"ref", "volts", "qty"} & set(known)
    if not holds_part or len(set(known)) < max(FEWEST, SHARE * len(pairs)) or len(known) > len(set(known)):
        return None
    if columns.holds_data(_text(pairs[0][0])) or any(columns.holds_data(_text(name)) for name, _ in pairs):
        return None
    names, told = zip(*pairs, strict=True)
    first = next(cell.source for (cell, _), field in zip(pairs, fields, strict=True) if field in columns.STRONG)
    return Row(tuple(names), first), Row(tuple(told), first)


def _heads(pair: tuple[Cell, Cell]) -> bool:
    """Tell whether a row only heads the two columns: ``Property | Value``."""
    return columns.understand(_text(pair[0]), 0).field == "unknown" and columns.understand(_text(pair[1]), 0).field in {
        "value", "text"
    }  # fmt: skip


def _pair(row: Row) -> tuple[Cell, Cell] | None:
    filled = [cell for cell in row.cells if cell.text.strip()]
    return (filled[0], filled[1]) if len(filled) == 2 else None  # noqa: PLR2004 - a name and what it is


def _text(cell: Cell) -> str:
    return squeeze(clean(cell.text).text)
