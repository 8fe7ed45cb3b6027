"""Sizes without a unit that are too small to be in millimetres: a part taken for smaller than it is won't fit."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, warning

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.bench.meanings import Field
    from recap.bench.texts import TextTable

SMALLEST_MM: Final = 2
"""No capacitor with leads has a smaller diameter (common practice: the smallest cans have 3 mm)."""
_UNIT = re.compile(r"[^\W\d_]|[\"″']")
_SIDES = ("diameter", "height")


def without_inches(table: TextTable, fields: Mapping[str, Field]) -> tuple[dict[str, Field], list[Diagnostic]]:
    """Return the fields; where every diameter is below 2 mm and none bears a unit, sizes count as not stated."""
    column, diameters = table.columns.get("diameter"), fields.get("diameter")
    if column is None or diameters is None or column.unit is not None:
        return dict(fields), []
    stated = [value for value in diameters.meanings if value is not None]
    if not stated or max(stated) >= SMALLEST_MM or _UNIT.search("".join(column.texts.to_pylist())):
        return dict(fields), []
    left = dict(fields)
    for name in _SIDES:
        if name in fields and table.columns[name].unit is None:
            left[name] = replace(fields[name], meanings=(None,) * len(fields[name].meanings))
    message = f"no diameter is {SMALLEST_MM} mm or more: they may be in inches; the sizes count as not stated"
    hint = "head the columns with the unit: Diameter (mm), Diameter (inch)"
    return left, [warning("size-inches", message, table.place(0, column.header), hint)]
