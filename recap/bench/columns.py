"""A catalogue as columns of text: each distinct text once, and which row has which.

Catalogues repeat themselves (a hundred voltages over a million rows), so texts are parsed once per
column and not once per row. Small files, workbooks and files with odd lines are read row by row;
large plain ones through Arrow. Both ways give the same columns.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from recap.diagnostics import Diagnostic, Source, error, has_errors, note, warning
from recap.read.cells import Cell, Row
from recap.read.decoding import decode
from recap.read.delimited import choose_delimiter, parse_delimited, records, split_lines
from recap.read.headers import Headers, find_header, is_comment, recognise, units_row
from recap.read.sniff import MAX_LINE, check_regular, check_type, is_workbook
from recap.read.tables import read_tables
from recap.read.vocabulary import CATALOGUE

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from recap.read.cells import Table

LARGE = 512 * 1024
"""Files from this size on go through Arrow."""
MAX_CATALOGUE_BYTES = 2**30
HEAD_BYTES = 256 * 1024
SINGULAR = frozenset({"part", "prices"})
"""Columns whose texts hardly repeat."""


@dataclass(frozen=True, slots=True)
class TextColumn:
    """One column: ``texts`` and, unless each row has its own, the index into them for every row."""

    header: str
    unit: str | None
    texts: pa.Array
    codes: NDArray[np.int32] | None = None

    def text(self, row: int) -> str:
        """Return the text in ``row``, counted from 0."""
        return str(self.texts[row if self.codes is None else int(self.codes[row])].as_py())

    def only(self, wanted: NDArray[np.bool_]) -> TextColumn:
        """Return the column with the rows for which ``wanted`` is true."""
        if self.codes is None:
            return TextColumn(self.header, self.unit, self.texts.filter(pa.array(wanted)))
        return TextColumn(self.header, self.unit, self.texts, self.codes[wanted])


@dataclass(frozen=True, slots=True)
class TextTable:
    """All understood columns; ``rows`` has the file's row number of each, ``breaks`` the price columns by quantity.

    ``sheets`` pairs the first row of each sheet with its name, for workbooks of several price lists.
    """

    file: str
    columns: dict[str, TextColumn]
    breaks: tuple[tuple[int, TextColumn], ...]
    rows: NDArray[np.int64]
    sheets: tuple[tuple[int, str | None], ...] = ((0, None),)

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.rows)

    def only(self, wanted: NDArray[np.bool_]) -> TextTable:
        """Return the table with the rows for which ``wanted`` is true."""
        kept = np.cumsum(wanted)
        sheets = tuple((int(kept[start - 1]) if start else 0, name) for start, name in self.sheets)
        columns = {name: column.only(wanted) for name, column in self.columns.items()}
        breaks = tuple((quantity, column.only(wanted)) for quantity, column in self.breaks)
        return TextTable(self.file, columns, breaks, self.rows[wanted], sheets)

    def place(self, row: int, header: str | None = None) -> Source:
        """Return where ``row``, counted from 0, stands in the file."""
        sheet = next((name for start, name in reversed(self.sheets) if start <= row), None)
        return Source(self.file, sheet, int(self.rows[row]), header)


@dataclass(slots=True)
class _Gathering:
    """Distinct texts of one column as they come."""

    index: dict[str, int] = field(default_factory=dict)
    codes: list[int] = field(default_factory=list)

    def add(self, text: str) -> None:
        self.codes.append(self.index.setdefault(text, len(self.index)))

    def column(self, header: str, unit: str | None) -> TextColumn:
        return TextColumn(header, unit, pa.array(list(self.index), pa.string()), np.array(self.codes, np.int32))


def read_columns(path: Path) -> tuple[TextTable | None, list[Diagnostic]]:
    """Return the columns of the catalogue in ``path``; None and errors where it can't be used."""
    fault = check_regular(path)
    if fault is not None:
        return None, [fault]
    if is_workbook(path):
        return _from_workbook(path)
    data, fault = _bytes_of(path)
    if data is None or fault is not None:
        return None, [fault] if fault is not None else []
    if len(data) >= LARGE and b"\x00" not in data:
        quick = _through_arrow(data, str(path))
        if quick is not None:
            return quick
    return _row_by_row(data, str(path))


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


def _header_of(table: Table, file: str) -> tuple[int, Headers, list[Diagnostic]] | list[Diagnostic]:
    """Return the header's index in ``table``, what it says and what is to be told; or why there is none."""
    at = find_header(table, CATALOGUE, quantities=True)
    if at is None:
        shown = next((row for row in table.rows if row.cells), None)
        found = ", ".join(cell.text for cell in shown.cells)[:100] if shown else None
        message = "no row of headers was found"
        hint = "the first row names the columns: part, value, volts, prices …"
        return [error("header-missing", message, Source(file, row=shown.source.row if shown else 1), hint, found)]
    headers = recognise(table.rows[at].cells, CATALOGUE, quantities=True, strict=True)
    told = list(headers.diagnostics)
    place = table.rows[at].source
    for missing in ("part",) if headers.quantities else ("part", "prices"):
        if missing not in headers:
            message = f"there is no column for {missing}"
            hint = "name one: " + ", ".join((missing, *CATALOGUE[missing][:4]))
            told.append(error("header-missing", message, place, hint, ", ".join(headers.texts)[:100]))
    if headers.quantities and "prices" in headers:
        message = "prices stand in a column of their own and in columns by quantity; which count is not clear"
        told.append(error("header-twice", message, place, "delete or rename one kind"))
    return at, headers, told


def _from_workbook(path: Path) -> tuple[TextTable | None, list[Diagnostic]]:
    tables, told = read_tables(path)
    if not tables:
        return None, told
    made: list[TextTable] = []
    for table in tables:
        file = str(path)
        header = _header_of(table, file)
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
    gathered = _Gathering()
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
    header = _header_of(head, file)
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
    names = {name: _Gathering() for name in headers.columns}
    breaks = {quantity: _Gathering() for quantity, _ in headers.quantities}
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


def _through_arrow(data: bytes, file: str) -> tuple[TextTable | None, list[Diagnostic]] | None:
    """Read a large plain file; None where any line of it needs the slow way (odd lines, odd bytes)."""
    head = data[:HEAD_BYTES].rpartition(b"\n")[0]
    text, _ = decode(head, file)
    if text is None or b"\r" in head.replace(b"\r\n", b""):
        return None
    delimiter = choose_delimiter(text)
    if delimiter is None:
        return None
    table, _ = parse_delimited(text, file, delimiter)
    header = _header_of(table, file)
    if isinstance(header, list) or has_errors(header[2]) or header[0] + 1 >= len(table.rows):
        return None
    at, headers, told = header
    below = table.rows[at + 1]
    if not below.cells or units_row(below, headers) is not None:
        return None
    skipped = (below.source.row or 1) - 1
    found = _arrow_table(data, headers, delimiter, skipped)
    if found is None or _has_other_rows(found.column(str(headers.columns["part"])), table.rows[at], headers):
        return None
    columns = {
        name: _arrow_column(found.column(str(index)), headers.texts[index], headers.units.get(name))
        for name, index in headers.columns.items()
    }
    breaks = tuple(
        (quantity, _arrow_column(found.column(str(index)), headers.texts[index], None))
        for quantity, index in headers.quantities
    )
    rows = np.arange(skipped + 1, skipped + 1 + found.num_rows, dtype=np.int64)
    return TextTable(file, columns, breaks, rows), told


def _arrow_table(data: bytes, headers: Headers, delimiter: str, skipped: int) -> pa.Table | None:
    body = len(data)
    while body and data[body - 1] in b"\r\n":
        body -= 1
    wanted = {name: str(index) for name, index in headers.columns.items()}
    wanted |= {str(quantity): str(index) for quantity, index in headers.quantities}
    repeating = pa.dictionary(pa.int32(), pa.string())
    types = {column: pa.string() if name in SINGULAR else repeating for name, column in wanted.items()}
    try:
        found = arrow_csv.read_csv(
            pa.BufferReader(pa.py_buffer(memoryview(data)[:body])),
            arrow_csv.ReadOptions(
                skip_rows=skipped, column_names=[str(i) for i in range(len(headers.texts))], block_size=2**23
            ),
            arrow_csv.ParseOptions(delimiter=delimiter, newlines_in_values=False, ignore_empty_lines=False),
            arrow_csv.ConvertOptions(
                column_types=types, include_columns=list(wanted.values()), strings_can_be_null=False
            ),
        )
    except pa.ArrowInvalid:
        return None
    lines = data.count(b"\n", 0, body) + 1
    return found if found.num_rows + skipped == lines else None


def _has_other_rows(numbers: pa.ChunkedArray, header: Row, headers: Headers) -> bool:
    """Tell whether a row is blank (or without a part number) or repeats the headers."""
    blank = pc.any(pc.equal(pc.binary_length(numbers), 0)).as_py()
    return bool(blank or pc.any(pc.equal(numbers, header.cells[headers.columns["part"]].text)).as_py())


def _arrow_column(chunks: pa.ChunkedArray, header: str, unit: str | None) -> TextColumn:
    if not pa.types.is_dictionary(chunks.type):
        whole = chunks.combine_chunks()
        return TextColumn(header, unit, whole.chunk(0) if isinstance(whole, pa.ChunkedArray) else whole)
    whole = chunks.unify_dictionaries().combine_chunks()
    if isinstance(whole, pa.ChunkedArray):
        whole = whole.chunk(0)
    return TextColumn(header, unit, whole.dictionary, whole.indices.to_numpy(zero_copy_only=False))
