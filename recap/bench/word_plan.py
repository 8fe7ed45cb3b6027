"""Which columns of a price list are read for what has no column of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, note

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.bench.column_heads import Column

# who may say what, in words: roles first, then fields of the columns
_SAYERS: Mapping[str, tuple[str, ...]] = {
    "value": ("description",),
    "volts": ("description",),
    "temp": ("description", "life", "series"),
    "life": ("description", "temp"),
    "kind": ("description", "note", "mount", "series", "value"),
    "mount": ("description", "note", "kind", "size", "series"),
    "pitch": ("description", "size"),
    "diameter": ("size", "description"),
    "height": ("size", "description"),
    "safety": ("description", "note", "kind", "mount", "volts", "series"),
}
_ONLY_THE_FIRST = frozenset({"diameter", "height"})
"""Of these the first that there is speaks alone."""
_BOTH_SIDES = ("diameter", "height")


def word_plan(columns: Sequence[Column], own: Mapping[str, int]) -> tuple[dict[str, tuple[int, ...]], list[Diagnostic]]:
    """Return for each field without a column in ``own`` the columns that may state it, and what is told of them."""
    by_name: dict[str, list[int]] = {}
    for column in columns:
        if column.role is not None:
            by_name.setdefault(column.role, []).append(column.at)
        for field in column.fields:
            by_name.setdefault(field if len(column.fields) == 1 else f"{field} too", []).append(column.at)
    found: dict[str, tuple[int, ...]] = {}
    for field, sayers in _SAYERS.items():
        if field in own:
            continue
        sources = [by_name[name] for name in (f"{field} too", *sayers) if name in by_name]
        if f"{field} too" in by_name or field in _ONLY_THE_FIRST:
            sources = sources[:1]
        if sources:
            found[field] = tuple(at for part in sources for at in part)
    return found, _told(columns, found)


def _told(columns: Sequence[Column], found: Mapping[str, tuple[int, ...]]) -> list[Diagnostic]:
    told = []
    for column in columns:
        fields = [name for name, sources in found.items() if column.at in sources]
        if column.role == "size":
            fields = [name for name in fields if name in _BOTH_SIDES]
        if fields and (column.role in {"description", "size"} or len(column.fields) > 1):
            message = f"column {column.text!r} says what has no column of its own: {', '.join(fields)}"
            told.append(note("description-read", message, column.source, found=column.text))
    return told
