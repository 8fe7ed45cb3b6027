"""Rows below a header that hold nothing but the units of its columns (``µF | V | mm``)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import clean, squeeze
from recap.read.units import FIELD_QUANTITY, UNIT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.read.cells import Row

_FIELD_OF: Final = {"value": "value", "volts": "volts", "temp": "temp", "length": "size", "ripple": "ripple"}


def with_unit(column: Column, unit: str | None) -> Column:
    """Give a column its unit; a header that says little (``Rating``) then holds what the unit measures."""
    if unit is None:
        return column
    field = _FIELD_OF.get(UNIT_FIELDS.get(unit.casefold().replace("μ", "µ"), ""))
    if column.field in {"text", "unknown", ""} and field is not None:
        return replace(column, unit=unit, field=field)
    return replace(column, unit=unit)


def are_units(texts: Sequence[str]) -> bool:
    """Tell whether a row holds nothing but units."""
    told = [text.strip("()[] ").casefold().replace("μ", "µ") for text in texts if text]
    return bool(told) and all(text in UNIT_FIELDS for text in told)


def units(row: Row, planned: Sequence[Column]) -> dict[int, str] | None:
    """Return the units in ``row`` by column, or None where it is a row of data."""
    found: dict[int, str] = {}
    for cell in row.cells:
        text = squeeze(clean(cell.text).text).strip("()[] ")
        if text:
            found[row.cells.index(cell)] = text
    by_index = {column.index: column for column in planned}
    for index, text in found.items():
        quantity = UNIT_FIELDS.get(text.casefold().replace("μ", "µ"))
        column = by_index.get(index)
        if quantity is None or column is None:
            return None
        if FIELD_QUANTITY.get(column.field, quantity) != quantity:
            return None
    return found or None
