"""A catalogue as columns of text: each distinct text once, and which row has which.

Catalogues repeat themselves (a hundred voltages over a million rows), so texts are parsed once per
column and not once per row. Small files, workbooks and files with odd lines are read row by row;
large plain ones through Arrow. Both ways give the same columns.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from recap.bench.heads import header_of
from recap.bench.quick import through_arrow
from recap.bench.texts import Gathering, TextColumn, TextTable
from recap.diagnostics import Diagnostic, Source, error, has_errors, note, warning
from recap.read.cells import Cell, Row
from recap.read.decoding import decode
from recap.read.delimited import choose_delimiter, parse_delimited, records, split_lines
from recap.read.headers import Headers, is_comment, units_row
from recap.read.sniff import MAX_LINE, check_regular, check_type, is_workbook
from recap.read.tables import read_tables

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

LARGE = 512 * 1024
"""Files from this size on go through Arrow."""
MAX_CATALOGUE_BYTES = 2**30


def read_columns(path: Path) -> tuple[TextTable | None, bytes | None, list[Diagnostic]]:
    """Return the columns of the catalogue in ``path``, and the content that they were read from, but of no workbook.

    None and errors where it can't be used.
    """
    fault = check_regular(path)
    if fault is not None:
        return None, None, [fault]
    if is_workbook(path):
        table, told = _from_workbook(path)
        return table, None, told
    data, fault = _bytes_of(path)
    if data is None or fault is not None:
        return None, None, [fault] if fault is not None else []
    quick = through_arrow(data, str(path)) if len(data) >= LARGE and b"\x00" not in data else None
    table, told = quick or _row_by_row(data, str(path))
    return table, data, told


def _bytes_of(path: Path) -> tuple[bytes | None, Diagnostic | None]:
    size = path.stat().st_size
    if size > MAX_CATALOGUE_BYTES:
        message = f"{path.name} has {size:,} bytes; the most that is read is {MAX_CATALOGUE_BYTES:,}"
        return None, error("file-too-large", message, Source(str(path)), "split it into several suppliers")
    try:
        data = path.read_bytes()
    except OSError as problem:
        message = f"{path} can't be read: {problem.strerror or problem}"
        return None, error("file-unreadable", message, Source(str(path)), "check its permissions")
    return data, check_type(path, data[:64])


def _from_workbook(path: Path) -> tuple[TextTable | None, list[Diagnostic]]:
    tables, told = read_tables(path)
    if not tables:
        return None, told
    made: list[TextTable] = []
    for table in tables:
        file = str(path)
        header = header_of(table, file)
        if isinstance(header, list):
            if len(tables) == 1:
                return None, told + header
            if any(row.cells for row in table.rows):
                message = f"sheet {table.name!r} has no row of headers; it was passed over"
                told.append(note("sheet-passed-over", message, Source(file, table.name)))
            continue
        at, headers, said = header
        told += said
        rows = ((row.source.row or 0, [c.text for c in row.cells]) for row in table.rows[at + 1 :] if not _struck(row))
        told += _odd_cells(table.rows[at + 1 :], headers)
        built, said = _build(rows, headers, file, table.name)
        told += said
        made.append(built)
    if not made:
        return None, [*told, error("header-missing", "no sheet has a row of headers", Source(str(path)))]
    return (None, told) if has_errors(told) else (_joined(made), told)


def _struck(row: Row) -> bool:
    filled = [cell for cell in row.cells if cell.text]
    return bool(filled) and all(cell.struck for cell in filled)


def _odd_cells(rows: Sequence[Row], headers: Headers) -> list[Diagnostic]:
    """Tell of dates where a spreadsheet made them out of other text, and of rows struck through."""
    told: list[Diagnostic] = []
    for row in rows:
        if _struck(row):
            told.append(note("row-struck", "the row is struck through; it was passed over", row.source))
            continue
        for name, index in headers.columns.items():
            if index < len(row.cells) and row.cells[index].is_date and name != "updated":
                cell = row.cells[index]
                place = Source(row.source.file, row.source.sheet, row.source.row, headers.texts[index])
                message = f"the spreadsheet holds a date here ({cell.text}), not a {name}"
                told.append(error("cell-is-date", message, place, "format the cell as text, type it again", cell.text))
    return told


def _joined(tables: list[TextTable]) -> TextTable:
    """Put price lists on several sheets under one another; a column that one of them lacks is blank there."""
    if len(tables) == 1:
        return tables[0]
    names = list(dict.fromkeys(name for table in tables for name in table.columns))
    quantities = sorted({quantity for table in tables for quantity, _ in table.breaks})
    columns = {name: _stacked([table.columns.get(name) for table in tables], tables) for name in names}
    breaks = [(q, _stacked([dict(table.breaks).get(q) for table in tables], tables)) for q in quantities]
    starts = np.cumsum([0, *(len(table) for table in tables[:-1])])
    sheets = tuple((int(start), table.sheets[0][1]) for start, table in zip(starts, tables, strict=True))
    rows = np.concatenate([table.rows for table in tables])
    return TextTable(tables[0].file, columns, tuple(breaks), rows, sheets)


def _stacked(parts: list[TextColumn | None], tables: list[TextTable]) -> TextColumn:
    gathered = Gathering()
    for part, table in zip(parts, tables, strict=True):
        for row in range(len(table)):
            text = "" if part is None else part.text(row)
            # sheets may state different units in their headers: the unit goes into the cell
            gathered.add(f"{text} {part.unit}" if part and part.unit and _bare(text) else text)
    first = next(part for part in parts if part is not None)
    return gathered.column(first.header, None)


def _bare(text: str) -> bool:
    return bool(text) and text.replace(".", "").replace(",", "").isdecimal()


def _row_by_row(data: bytes, file: str) -> tuple[TextTable | None, list[Diagnostic]]:
    text, told = decode(data, file)
    if text is None:
        return None, told
    lines = split_lines(text)
    delimiter = choose_delimiter(text)
    long = next((number for number, line in enumerate(lines, start=1) if len(line) > MAX_LINE), None)
    if long is not None:
        message = f"a line of {len(lines[long - 1]):,} characters; the longest that is read has {MAX_LINE:,}"
        return None, [*told, error("line-too-long", message, Source(file, row=long), "break the line up")]
    if not text.strip():
        return None, [*told, error("file-empty", f"{file} has only blank lines", Source(file), "fill or delete it")]
    head, said = parse_delimited("\n".join(lines[:200]), file, delimiter)
    if delimiter is None:
        delimiter = "\x00"
    header = header_of(head, file)
    if isinstance(header, list):
        return None, told + said + header
    at, headers, said = header
    told += said
    first = head.rows[at + 1].source.row if at + 1 < len(head.rows) else len(lines) + 1
    first = first or 1
    rows = []
    for record in records(lines[first - 1 :], delimiter):
        if record.stray_quote is not None:
            message = "a cell begins with a quotation mark that is never closed; it was read as it stands"
            place = Source(file, row=record.row + first - 1)
            found = record.stray_quote[:80]
            told.append(warning("quote-unclosed", message, place, "close it, or double the mark", found))
        rows.append((record.row + first - 1, record.cells))
    built, said = _build(rows, headers, file, None)
    told += said
    return (None if has_errors(told) else built), told


def _build(
    rows: Iterable[tuple[int, Sequence[str]]], headers: Headers, file: str, sheet: str | None
) -> tuple[TextTable, list[Diagnostic]]:
    """Gather the columns from rows of texts, each with its number; blank and repeated header rows are left out."""
    names = {name: Gathering() for name in headers.columns}
    breaks = {quantity: Gathering() for quantity, _ in headers.quantities}
    numbers: list[int] = []
    told: list[Diagnostic] = []
    units = dict(headers.units)
    width = len(headers.texts)
    for number, cells in rows:
        if not any(cells):
            continue
        if list(cells) == list(headers.texts) or is_comment(cells):
            continue
        if not numbers:
            stated = units_row(_plain_row(cells, file, sheet, number), headers)
            if stated is not None:
                units.update(stated)
                continue
        if len(cells) > width and any(cells[width:]):
            told.append(_too_wide(cells, width, Source(file, sheet, number)))
            continue
        numbers.append(number)
        for name, index in headers.columns.items():
            names[name].add(cells[index] if index < len(cells) else "")
        for quantity, index in headers.quantities:
            breaks[quantity].add(cells[index] if index < len(cells) else "")
    columns = {
        name: gathered.column(headers.texts[headers.columns[name]], units.get(name)) for name, gathered in names.items()
    }
    ladder = tuple(
        (quantity, breaks[quantity].column(headers.texts[index], None)) for quantity, index in headers.quantities
    )
    return TextTable(file, columns, ladder, np.array(numbers, np.int64), ((0, sheet),)), told


def _plain_row(cells: Sequence[str], file: str, sheet: str | None, number: int) -> Row:
    place = Source(file, sheet, number)
    return Row(tuple(Cell(text, place) for text in cells), place)


def _too_wide(cells: Sequence[str], width: int, place: Source) -> Diagnostic:
    message = f"the row has {len(cells)} cells under {width} headers"
    hint = "a decimal comma, or a comma in a text, needs quotation marks around the cell where commas part cells"
    return error("row-too-wide", message, place, hint, " | ".join(cells)[:120])
