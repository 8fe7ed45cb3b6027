"""Which columns hold values, voltages and designators where the headers don't say so, told by their cells."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import column_contents, further_columns
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
    return _with_volts(columns, body)


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
    named = [column for column in columns if key(column.header) in _RATINGS]
    rated = {column.index for column in named if _holds_ratings(column, body, valued=valued)}
    return [replace(column, field="volts") if column.index in rated else column for column in columns]


def _holds_ratings(column: Column, body: Sequence[Sequence[Cell]], *, valued: bool) -> bool:
    """Tell whether a column holds voltages; beside one of values plain numbers that parts are rated with are enough."""
    if column_contents.holds_volts(column.index, body):
        return True
    degrees = set(column_contents.texts_of(column.index, body)) <= _DEGREES
    return valued and not degrees and further_columns.perhaps_volts(column, body)


_DEGREES: Final = frozenset("85 105 125 130 135 150".split())


_RATINGS: Final = frozenset(("rating", "ratings", "rated", "max", "limit"))
