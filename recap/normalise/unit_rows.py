"""Rows below a header that hold nothing but the units of its columns (``µF | V | mm``)."""

from __future__ import annotations

import re
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
    field = _FIELD_OF.get(_quantity(unit) or "")
    if column.field in {"text", "unknown", ""} and field is not None:
        return replace(column, unit=unit, field=field)
    return replace(column, unit=unit)


def are_units(texts: Sequence[str]) -> bool:
    """Tell whether a row holds nothing but units."""
    told = [_unit(text) for text in texts if text]
    return bool(told) and all(told)


def _unit(text: str) -> str | None:
    """Return the unit that a cell below a header is, be it with what is measured in it: ``D x L mm``, ``mA 100 Hz``."""
    bare = text.strip("()[] ")
    if _quantity(bare) is not None:
        return bare
    match = _WITH_MORE.fullmatch(bare)
    unit = "" if match is None else match["unit"] or match["rated"] or match["length"] or match["current"]
    return unit if _quantity(unit) is not None else None


def _quantity(unit: str) -> str | None:
    """Return what a unit measures."""
    return UNIT_FIELDS.get(unit.casefold().replace("μ", "µ"))


_WITH_MORE: Final = re.compile(
    r"(?P<rated>V)[ .,]?\(?(?:d\.?c\.?|a\.?c\.?|max\.?|work(?:ing|g)?\.?)\)?|(?:max|rated|w)\.?\s?(?P<unit>V|°C)"
    r"|[DøØLWHldwh](?:\s?[x×*]\s?[DøØLWHldwh]){1,2}\s?[(\[]?(?P<length>mm|cm|in|inch(?:es)?)"
    r"|(?P<current>m?A)\s?(?:r\.?m\.?s\.?|,?\s?\d+\s?k?Hz|at\s\d+\s?k?Hz)",
    re.IGNORECASE,
)


def units(row: Row, planned: Sequence[Column]) -> dict[int, str] | None:
    """Return the units in ``row`` by column, or None where it is a row of data."""
    found: dict[int, str] = {}
    for cell in row.cells:
        text = squeeze(clean(cell.text).text).strip("()[] ")
        if text:
            found[row.cells.index(cell)] = text
    by_index = {column.index: column for column in planned}
    for index, text in found.items():
        unit = _unit(text)
        quantity = _quantity(unit) if unit is not None else None
        column = by_index.get(index)
        if quantity is None or column is None:
            return None
        if FIELD_QUANTITY.get(column.field, quantity) != quantity:
            return None
    return {index: _unit(text) or text for index, text in found.items()} or None
