"""What is on hand and what else is wanted: ``drawer.csv`` and ``extras.csv``."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from recap.bench.dates import read_date
from recap.bench.fields import FIELDS
from recap.bench.in_words import BETWEEN, IN_WORDS
from recap.bench.numerals import whole_number
from recap.bench.offers import NUMERIC
from recap.bench.records import read_records
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, error, note, warning
from recap.model import DRAWER, DrawerPart, Extra, Kind, Part
from recap.read.vocabulary import DRAWER as DRAWER_WORDS
from recap.read.vocabulary import EXTRAS

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path
    from typing import Any

    from recap.bench.records import Record, Records

_COUNT = re.compile(r"([\d.,' ]*\d)\s*(?:pcs?\.?|pieces?|stk\.?|stück|x|×)?", re.IGNORECASE)
_PARTS = re.compile(r"[\s,;|]+")
IGNORED_IN_DRAWER = ("minimum", "multiple", "stock", "updated")


def read_drawer(path: Path) -> tuple[tuple[DrawerPart, ...], list[Diagnostic]]:
    """Return what lies in the drawer. A part without a number gets one from its row, so that it can be named."""
    records, told = read_records(path, DRAWER_WORDS, ("qty",))
    found: list[DrawerPart] = []
    for record in records.rows:
        qty, said = _quantity(record, records, least=0)
        told += said
        fields: dict[str, Any] = {}
        for name in FIELDS:
            if name in record.cells and name not in IGNORED_IN_DRAWER:
                taken = take(name, record.text(name), record.unit(name), records.mark(name))
                fields[name] = taken.value
                if taken.code is not None:
                    place = record.place(name)
                    told.append(warning(taken.code, taken.message or "", place, taken.hint, record.text(name)[:80]))
        further, said = _in_words(record, fields)
        fields |= further
        told += said
        bought, said = _bought(record)
        told += said
        number = record.text("part")
        if not number:
            number = f"drawer row {record.source.row}"
            told.append(_unnamed(number, record, usable=fields.get("value") is not None))
        if qty:
            found.append(DrawerPart(_part(number, fields, record), qty, bought, record.text("place") or None))
    return tuple(found), told


def _unnamed(number: str, record: Record, *, usable: bool) -> Diagnostic:
    """Tell of a part without a number, aloud where it has no capacitance either: then nothing can be met by it."""
    place = record.place("part")
    if usable:
        message = f"no part number: it is called {number!r} and is no supplier's part"
        return note("drawer-unnamed", message, place, "type the number printed on the bag")
    hint = "write its capacitance under value, or the number printed on the bag under part"
    return warning("drawer-unnamed", "neither part number nor capacitance: nothing can be met by it", place, hint)


_SAYERS = {
    **dict.fromkeys(("value", "volts", "temp", "life", "pitch"), ("description",)),
    "kind": ("mount", "description"),
    "mount": ("kind", "description"),
    "safety": ("kind", "mount", "volts", "description"),
    "diameter": ("size", "description"),
    "height": ("size", "description"),
}
"""Columns that may state what has no column of its own, or a blank cell in it: ``Elko radial``, ``X2 275 V``."""


def _in_words(record: Record, stated: Mapping[str, Any]) -> tuple[dict[str, Any], list[Diagnostic]]:
    """Return what the cells of other columns say of fields not ``stated``, where they say one thing; and what not."""
    found, told = {}, []
    for name, sayers in _SAYERS.items():
        text = BETWEEN.join(filter(None, map(record.text, sayers)))
        if not text or stated.get(name) is not None:
            continue
        taken = take(name, text, IN_WORDS)
        found[name] = taken.value
        if taken.code is not None and "not clear" in (taken.message or ""):
            told.append(warning(taken.code, taken.message or "", record.place(sayers[-1]), taken.hint, text[:80]))
    return found, told


def _part(number: str, fields: dict[str, Any], record: Record) -> Part:
    given: dict[str, Any] = {name: fields.get(name) for name in ("maker", "series", "tolerance", "mount", "safety")}
    given.update({called: fields.get(name) for name, called in NUMERIC.items()})
    return replace(Part(DRAWER, number, kind=fields.get("kind") or Kind.UNKNOWN, source=record.source), **given)


def _bought(record: Record) -> tuple[Any, list[Diagnostic]]:
    text = record.text("bought")
    if not text or text in {"-", "–", "?"}:
        return None, []
    found = read_date(text)
    if found is None:
        message = f"{text[:40]!r} is not understood as a date; the part's age is not known"
        return None, [warning("field-unclear", message, record.place("bought"), "write it as 2024-03-31", text[:80])]
    if found > date.today() + timedelta(days=1):  # noqa: DTZ011 - the day on the bench's own clock, or just behind it
        message = f"bought on {found.isoformat()}, which is still to come: an old part would pass for a new one"
        return found, [warning("field-unclear", message, record.place("bought"), "correct the year", text[:80])]
    return found, []


def _quantity(record: Record, records: Records, *, least: int) -> tuple[int, list[Diagnostic]]:
    text = record.text("qty")
    if not text and "qty" not in record.headers:
        return 1, []
    match = _COUNT.fullmatch(text)
    count = whole_number(match[1], records.mark("qty")) if match else None
    if count is None or count < least:
        message = f"qty must be a whole number of {least} or more, found {text[:40]!r}"
        return 0, [error("count-wrong", message, record.place("qty"), "write how many: 4", text[:80])]
    return count, []


def read_extras(path: Path) -> tuple[tuple[Extra, ...], list[Diagnostic]]:
    """Return the other parts to buy in the same order."""
    records, told = read_records(path, EXTRAS, ("item", "part"))
    found: list[Extra] = []
    for record in records.rows:
        qty, said = _quantity(record, records, least=1)
        told += said
        parts = tuple(dict.fromkeys(part for part in _PARTS.split(record.text("part")) if part))
        if not parts:
            message = f"{record.text('item') or 'the row'} names no part number"
            hint = "write the number a supplier's catalogue has for it"
            told.append(error("extra-without-part", message, record.place("part"), hint))
            continue
        item = record.text("item") or parts[0]
        extra = Extra(item, qty, parts, record.text("set") or None, record.text("note") or None, record.source)
        found.append(extra)
    return tuple(found), told
