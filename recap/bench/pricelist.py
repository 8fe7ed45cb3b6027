"""Write a price list in the canonical columns, each quantity with its unit, so that nothing can be misread."""

from __future__ import annotations

import csv
import io
import os
from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.catalogues import read_catalogue
from recap.bench.fields import NOTHING
from recap.bench.heads import header_of
from recap.bench.in_words import IN_WORDS
from recap.bench.price_heads import price_head
from recap.diagnostics import Severity
from recap.files import alone_in, keep_beside, take_away, write_atomically
from recap.model import Kind
from recap.normalise.values import format_capacitance, plain
from recap.read.tables import read_tables
from recap.read.vocabulary import CATALOGUE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence
    from datetime import date
    from pathlib import Path

    from recap.bench.offers import Catalogue
    from recap.diagnostics import Diagnostic
    from recap.model import Part
    from recap.read.cells import Table

_COLUMNS: Mapping[str, Callable[[Part], str]] = {
    "part": lambda p: p.number,
    "maker": lambda p: p.maker or "",
    "series": lambda p: p.series or "",
    "value": lambda p: "" if p.value_uF is None else format_capacitance(p.value_uF),
    "tolerance": lambda p: p.tolerance or "",
    "volts": lambda p: "" if p.volts is None else f"{plain(p.volts)} V",
    "temp": lambda p: "" if p.temp_C is None else f"{p.temp_C} °C",
    "life": lambda p: "" if p.life_h is None else f"{plain(p.life_h)} h",
    "mount": lambda p: p.mount.value if p.mount else "",
    "kind": lambda p: "" if p.kind is Kind.UNKNOWN else p.kind.value,
    "pitch": lambda p: "" if p.pitch_mm is None else f"{plain(p.pitch_mm)} mm",
    "diameter": lambda p: "" if p.diameter_mm is None else f"{plain(p.diameter_mm)} mm",
    "height": lambda p: "" if p.height_mm is None else f"{plain(p.height_mm)} mm",
    "ripple": lambda p: "" if p.ripple_mA is None else f"{plain(p.ripple_mA)} mA",
    "impedance": lambda p: "" if p.impedance_ohm is None else f"{plain(p.impedance_ohm)} Ω",
    "safety": lambda p: p.safety or "",
    "minimum": lambda p: str(p.minimum) if p.minimum != p.prices[0].quantity else "",
    "multiple": lambda p: str(p.multiple) if p.multiple != 1 else "",
    "stock": lambda p: "" if p.stock is None else str(p.stock),
    "prices": lambda p: " ".join(f"{step.quantity}:{step.unit_price:f}" for step in p.prices),
    "updated": lambda p: "" if p.updated is None else p.updated.isoformat(),
}


class NotTheSameError(Exception):
    """What was written does not read as what was meant; nothing was replaced."""


class ChangedMeanwhileError(Exception):
    """The old list is no longer the one that the new one was laid over; nothing was replaced."""


State = tuple[int, int, int]
"""Size, time of the last writing, and number of a file."""

Texts = dict[str, dict[str, str]]
"""Texts of a price list by column and part number."""


def texts_beyond(path: Path, catalogue: Catalogue) -> tuple[Texts, list[Diagnostic]]:
    """Return what stands in a price list and has no place in its parts.

    That is columns that aren't understood, whole, and cells that aren't: a can's ``50+50 µF``.
    A file too large to be looked through cell by cell is told; its further columns are left out.
    """
    beyond: Texts = {}
    for name, column in catalogue.fields.items():
        texts = catalogue.table.columns[name]
        if texts.unit == IN_WORDS:
            continue  # the description goes with the further columns
        unclear = {index for index, value in enumerate(column.meanings) if value is None}
        for at in np.flatnonzero(np.isin(column.codes, list(unclear))).tolist():
            text = texts.text(at).strip()
            if text.casefold() not in NOTHING:
                beyond.setdefault(name, {})[str(catalogue.numbers[at].as_py())] = text
    tables, told = read_tables(path)
    places = map(catalogue.table.place, range(len(catalogue)))
    numbers = {(p.sheet, p.row): number for p, number in zip(places, catalogue.numbers.to_pylist(), strict=True)}
    for table in tables:
        _further_columns(table, numbers, beyond)
    return beyond, [d for d in told if d.severity is Severity.ERROR]


def _further_columns(table: Table, numbers: Mapping[tuple[str | None, int | None], str], beyond: Texts) -> None:
    """Add the texts of the columns that are no field's and no price's, by the part numbers of their rows."""
    found = header_of(table, table.name)
    if isinstance(found, list):
        return
    layout = found[0]
    paired = {at for pair in layout.prices.pairs for at in pair}
    worked_out = {at for _, at in layout.prices.discounts}
    read = {*layout.columns.values(), *layout.prices.all, layout.prices.per_at, *paired, *worked_out}
    further = [at for at, text in enumerate(layout.texts) if text and at not in read and not _in_other_money(text)]
    for row in table.rows[layout.last + 1 :]:
        number = numbers.get((row.source.sheet, row.source.row))
        for at in further if number else ():
            if at < len(row.cells) and row.cells[at].text:
                beyond.setdefault(layout.texts[at], {})[str(number)] = row.cells[at].text


def _in_other_money(header: str) -> bool:
    """Tell whether a column holds the prices in another currency: kept, it would be a second column of prices."""
    head = price_head(header)
    return head is not None and head.paid and head.currency is not None


def price_list(parts: Sequence[Part], beyond: Texts | None = None) -> str:
    """Return ``parts`` as CSV, and the texts ``beyond`` them in their cells or in columns of their own."""
    assert set(_COLUMNS) == set(CATALOGUE)
    texts = beyond or {}
    further = [header for header in texts if header not in _COLUMNS]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*_COLUMNS, *further])
    for part in parts:
        own = [write(part) or texts.get(name, {}).get(part.number, "") for name, write in _COLUMNS.items()]
        writer.writerow([*own, *(texts[header].get(part.number, "") for header in further)])
    return out.getvalue()


def replace_price_list(
    path: Path, parts: Sequence[Part], today: date, beyond: Texts | None = None, seen: State | None = None
) -> tuple[Path, Path]:
    """Write ``parts`` in the place of the price list ``path``; returns the new file and where the old one lies now.

    A workbook becomes a CSV file. The old file is kept beside it, and is only replaced after the new
    one has been read back and holds the same, and while its :func:`state` is the one that was ``seen``.
    Raises OSError, :class:`NotTheSameError` or :class:`ChangedMeanwhileError`.
    """
    with alone_in(path.parent):
        if seen is not None and seen != state(path):
            raise ChangedMeanwhileError(f"{path.name} was changed while the new list was laid over it")
        return _replace(path, parts, today, beyond)


def state(path: Path) -> State:
    """Return by what it is noticed that a file was written to or replaced; raises OSError."""
    about = path.stat()
    return about.st_size, about.st_mtime_ns, about.st_ino


def _replace(path: Path, parts: Sequence[Part], today: date, beyond: Texts | None) -> tuple[Path, Path]:
    target = path.with_suffix(".csv")
    trial = target.with_name(f".{target.name}.trial.csv")
    text = price_list(parts, beyond)
    try:
        write_atomically(trial, text)
        _check(trial, parts)
    finally:
        take_away(trial)
    backup = keep_beside(path, _backup_names(path, today))
    write_atomically(target, text)
    if target != path:
        os.remove(path)  # noqa: PTH107 - its content lies in the backup
    return target, backup


def _check(trial: Path, parts: Sequence[Part]) -> None:
    supplier = parts[0].supplier if parts else ""
    found, told = read_catalogue(trial, supplier)
    if found is None or len(found) != len(parts):
        raise NotTheSameError(told[0].message if told else "rows are missing")
    for row, part in enumerate(parts):
        back = replace(found.part(row), source=part.source)
        if back != part:
            raise NotTheSameError(f"part {part.number} does not read back as it was")


def _backup_names(path: Path, today: date) -> Iterator[Path]:
    """Yield names for the backup, which no catalogue bears, until one is free."""
    yield path.with_name(f"{path.name}.{today.isoformat()}.bak")
    for number in count(2):
        yield path.with_name(f"{path.name}.{today.isoformat()}-{number}.bak")
