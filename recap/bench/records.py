"""Small hand-kept tables (sets, terms, drawer, extras) as records: a field's cell by name, each with its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.bench.numerals import decimal_mark
from recap.diagnostics import Diagnostic, Source, error, note
from recap.read.headers import Headers, find_header, is_comment, recognise, units_row
from recap.read.tables import read_tables

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from recap.read.cells import Cell, Row, Table

NO_NUMBERS = frozenset({"part", "note", "updated", "bought", "item", "series", "maker"})
DATES = frozenset({"updated", "bought"})
"""Fields in which a spreadsheet's date is meant."""


@dataclass(frozen=True, slots=True)
class Record:
    """One row: its cells by field. A field without a column reads as blank."""

    cells: Mapping[str, Cell]
    source: Source
    headers: Headers

    def text(self, field: str) -> str:
        """Return what stands under ``field``, trimmed; blank where there is no such column."""
        cell = self.cells.get(field)
        return cell.text.strip() if cell is not None else ""

    def place(self, field: str) -> Source:
        """Return where ``field`` stands, with the column's header as the user wrote it."""
        index = self.headers.columns.get(field)
        header = field if index is None else self.headers.texts[index]
        return Source(self.source.file, self.source.sheet, self.source.row, header)

    def unit(self, field: str) -> str | None:
        """Return the unit that the header of ``field`` names."""
        return self.headers.units.get(field)


@dataclass(frozen=True, slots=True)
class Records:
    """All rows of one file, and the decimal mark that each field's cells show (``None`` where they don't)."""

    rows: tuple[Record, ...]
    marks: Mapping[str, str | None]

    def mark(self, field: str) -> str | None:
        """Return the decimal mark of a field's cells, else the one that all others share."""
        own = self.marks.get(field)
        if own is not None:
            return own
        shared = {mark for mark in self.marks.values() if mark is not None}
        return shared.pop() if len(shared) == 1 else None


def read_records(
    path: Path, vocabulary: Mapping[str, tuple[str, ...]], required: tuple[str, ...]
) -> tuple[Records, list[Diagnostic]]:
    """Return the rows of every table in ``path`` that has headers; ``required`` fields must have a column."""
    tables, told = read_tables(path)
    rows: list[Record] = []
    headed = 0
    for table in tables:
        at = find_header(table, vocabulary, least=min(2, len(required) + 1))
        if at is None:
            if len(tables) > 1 and any(row.cells for row in table.rows):
                place = Source(str(path), table.name)
                told.append(note("sheet-passed-over", f"sheet {table.name!r} has no row of headers", place))
            continue
        headed += 1
        headers = recognise(table.rows[at].cells, vocabulary, strict=True)
        told += headers.diagnostics
        missing = _missing(headers, required, vocabulary, table.rows[at])
        told += missing
        if missing:
            continue
        found, said = _rows(table, at, headers)
        rows += found
        told += said
    if tables and not headed:
        told.append(_no_header(tables[0], path, vocabulary))
    names = {name for row in rows for name in row.cells}
    marks = {name: decimal_mark(row.text(name) for row in rows) for name in names - NO_NUMBERS}
    return Records(tuple(rows), marks), told


def _missing(
    headers: Headers, required: tuple[str, ...], vocabulary: Mapping[str, tuple[str, ...]], row: Row
) -> list[Diagnostic]:
    return [
        error(
            "header-missing",
            f"there is no column for {name}",
            row.source,
            "name one: " + ", ".join(dict.fromkeys((name, *vocabulary[name][:4]))),
            ", ".join(headers.texts)[:100],
        )
        for name in required
        if name not in headers
    ]


def _no_header(table: Table, path: Path, vocabulary: Mapping[str, tuple[str, ...]]) -> Diagnostic:
    first = next((row for row in table.rows if row.cells), None)
    found = ", ".join(cell.text for cell in first.cells)[:100] if first else None
    place = Source(str(path), row=first.source.row if first else 1)
    hint = "the first row names the columns: " + ", ".join(vocabulary)
    return error("header-missing", "no row of headers was found", place, hint, found)


def _rows(table: Table, at: int, headers: Headers) -> tuple[list[Record], list[Diagnostic]]:
    rows: list[Record] = []
    told: list[Diagnostic] = []
    width = len(headers.texts)
    units = dict(headers.units)
    for number, row in enumerate(table.rows[at + 1 :]):
        filled = [cell for cell in row.cells if cell.text]
        if not filled or [cell.text for cell in row.cells] == list(headers.texts):
            continue
        if is_comment([cell.text for cell in row.cells]):
            continue
        stated = units_row(row, headers.columns) if number == 0 else None
        if stated is not None:
            units.update(stated)
            continue
        if all(cell.struck for cell in filled):
            told.append(note("row-struck", "the row is struck through; it was passed over", row.source))
            continue
        if any(cell.text for cell in row.cells[width:]):
            message = f"the row has {len(row.cells)} cells under {width} headers"
            hint = "a decimal comma, or a comma in a text, needs quotation marks around the cell"
            shown = " | ".join(cell.text for cell in row.cells)[:120]
            told.append(error("row-too-wide", message, row.source, hint, shown))
            continue
        stands = Headers(headers.columns, units, headers.quantities, headers.unknown, headers.texts)
        cells = {name: row.cells[i] for name, i in headers.columns.items() if i < len(row.cells)}
        record = Record(cells, row.source, stands)
        told += _dates(record)
        rows.append(record)
    return rows, told


def _dates(record: Record) -> list[Diagnostic]:
    told = []
    for name, cell in record.cells.items():
        if cell.is_date and name not in DATES:
            message = f"the spreadsheet holds a date here ({cell.text}), not a {name}"
            hint = "format the cell as text and type it again"
            told.append(error("cell-is-date", message, record.place(name), hint, cell.text))
    return told
