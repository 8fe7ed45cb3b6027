"""Which columns hold values, voltages and designators where the headers don't say so, told by their cells."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import column_contents, designators, further_columns
from recap.normalise.clean import clean
from recap.normalise.later import compiled
from recap.read.headers import key

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.read.cells import Cell


def settled(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Return the columns with those of this module told."""
    columns = _numbered_places(columns, body)
    named = any(c.field == "value" or (c.field == "text" and _values_held(c, body)) for c in columns)
    if not named:
        columns = _with_values(columns, body)
    return _with_volts(_with_counts(columns, body), body)


def _with_counts(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Where no header names counts, take a column for them that says of most rows how many designators they have."""
    placed = next((column.index for column in columns if column.field == "ref"), None)
    if placed is None or any(column.field == "qty" for column in columns):
        return columns
    unknown = [column for column in columns if column.field == "unknown" and not column.side]
    counting = [column for column in unknown if _counts_refs(column.index, placed, body)]
    if len(counting) != 1:
        return columns
    return [replace(column, field="qty") if column is counting[0] else column for column in columns]


def _counts_refs(index: int, placed: int, body: Sequence[Sequence[Cell]]) -> bool:
    rows = [row for row in body if max(index, placed) < len(row) and row[placed].text.strip()]
    counts = [row[index].text.strip() for row in rows]
    if len(rows) < 3 or not all(text.isdecimal() and 0 < int(text) < MOST_COUNTED for text in counts):  # noqa: PLR2004
        return False
    groups = [designators.find_group(clean(row[placed].text).text.strip(), 0) for row in rows]
    agreeing = sum(
        group is not None and len(group.refs) == int(text) for group, text in zip(groups, counts, strict=True)
    )
    return agreeing >= column_contents.NEARLY_ALL * len(rows)


MOST_COUNTED: Final = 100


def _numbered_places(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Take a column headed ``C`` beside one of values that holds rising whole numbers for the designators."""
    valued = [column for column in columns if column.field == "value" and not column.side]
    if len(valued) < 2 or any(column.field == "ref" for column in columns):  # noqa: PLR2004 - another has the values
        return columns
    for column in valued:
        told = column_contents.texts_of(column.index, body)
        numbers = [int(text) for text in told if text.isdecimal()]
        rising = len(numbers) == len(told) > 1 and all(a < b for a, b in pairwise(numbers))
        if rising and column.unit is None and key(column.header) in _CAPACITORS:
            return [replace(other, field="ref") if other is column else other for other in columns]
    return columns


_CAPACITORS: Final = frozenset(("c", "cap", "caps", "capacitor", "capacitors"))


def _with_values(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Where no header names values, read the column that holds capacitances for them (``Item: 10uF 25V``)."""
    placed = next((column.index for column in columns if column.field == "ref"), None)
    own = body if placed is None else column_contents.of_capacitors(placed, body)
    held = [_values_held(column, own) for column in columns]
    best = max(held, default=0)
    return [
        replace(column, field="text") if best and at == held.index(best) else column
        for at, column in enumerate(columns)
    ]


def _values_held(column: Column, body: Sequence[Sequence[Cell]]) -> int:
    """Return how many capacitances a column holds beside capacitors; of remarks only where most cells hold one."""
    held = 0 if column.field in _NO_VALUES else column_contents.count_of_values(column.index, body)
    if column.field != "note" or held >= column_contents.MOST * len(column_contents.texts_of(column.index, body)):
        return held
    return 0


_NO_VALUES: Final = frozenset(("ref", "volts", "package", "passed over", "done"))


def _with_volts(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Where no header names voltages, take the column that holds nothing else for them (``Rating``)."""
    if any(column.field == "volts" for column in columns):
        return columns
    valued = any(column.field == "value" and not column.side for column in columns)
    named = [column for column in columns if key(column.header) in _RATINGS or _is_unknown(column, body)]
    rated = {column.index for column in named if _holds_ratings(column, body, valued=valued)}
    return [replace(column, field="volts") if column.index in rated else column for column in columns]


def _is_unknown(column: Column, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether nothing but voltages with their unit stands under a word that isn't understood."""
    texts = column_contents.texts_of(column.index, body) if column.field == "unknown" and not column.side else []
    return len(texts) > 1 and all(_VOLTS.fullmatch(text) for text in texts)


_VOLTS: Final = compiled(r"\d{1,4}(?:[.,]\d)?\s?(?:V(?:DC|AC)?|В|Β)\.?", re.IGNORECASE)


def _holds_ratings(column: Column, body: Sequence[Sequence[Cell]], *, valued: bool) -> bool:
    """Tell whether a column holds voltages; beside one of values plain numbers that parts are rated with are enough."""
    if column_contents.holds_volts(column.index, body):
        return True
    degrees = set(column_contents.texts_of(column.index, body)) <= _DEGREES
    return valued and not degrees and further_columns.perhaps_volts(column, body)


_DEGREES: Final = frozenset("85 105 125 130 135 150".split())


_RATINGS: Final = frozenset(("rating", "ratings", "rated", "max", "limit"))
