"""A catalogue as columns of text: each distinct text once, and which row has which.

Catalogues repeat themselves (a hundred voltages over a million rows), so texts are parsed once per
column and not once per row. Small files, workbooks and files with odd lines are read row by row;
large plain ones through Arrow. Both ways give the same columns.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.assembling import HEADING, assemble
from recap.bench.facts import cell_of
from recap.bench.grids import as_list
from recap.bench.headless import headed
from recap.bench.heads import NO_HEADER_HINT, header_of
from recap.bench.in_words import IN_WORDS
from recap.bench.quick import through_arrow
from recap.bench.sections import Sections
from recap.bench.taking import take
from recap.bench.texts import Gathering, TextColumn, TextTable
from recap.diagnostics import Diagnostic, Source, error, has_errors, note, warning
from recap.read.cells import Cell, Row, Table
from recap.read.decoding import decode
from recap.read.delimited import choose_delimiter, parse_delimited, records, split_lines
from recap.read.headers import is_comment, units_row
from recap.read.pasted import as_tabbed
from recap.read.sniff import MAX_LINE, check_regular, check_type, is_workbook
from recap.read.tables import read_tables

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from recap.bench.layout import Layout

LARGE = 512 * 1024
"""Files from this size on go through Arrow."""
MAX_CATALOGUE_BYTES = 2**30
FEW = 4
"""A row with more different cells than these is an offer."""
HEAD_LINES = 200
"""The header stands in so many lines."""
MOST_PASTED = 20_000
"""Nobody sets more lines than these apart by blanks."""


def read_columns(
    path: Path, currency: str | None = None
) -> tuple[TextTable | None, bytes | None, list[Diagnostic]]:
    """Return the columns of the catalogue in ``path``, and the content that they were read from, but of no workbook.

    None and errors where it can't be used. ``currency`` is the supplier's, if it is known.
    """
    fault = check_regular(path)
    if fault is not None:
        return None, None, [fault]
    if is_workbook(path):
        table, told = _from_workbook(path, currency)
        return table, None, told
    data, fault = _bytes_of(path)
    if data is None or fault is not None:
        return None, None, [fault] if fault is not None else []
    quick = through_arrow(data, str(path), currency) if len(data) >= LARGE and b"\x00" not in data else None
    table, told = quick or _row_by_row(data, str(path), currency)
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


def _from_workbook(path: Path, currency: str | None) -> tuple[TextTable | None, list[Diagnostic]]:
    tables, told = read_tables(path)
    if not tables:
        return None, told
    made: list[TextTable] = []
    for table in tables:
        file = str(path)
        header = header_of(table, file, currency)
        if isinstance(header, list):
            plain = Table(table.name if len(tables) > 1 else "", tuple(row for row in table.rows if not _struck(row)))
            found, said = _shaped(plain, header, file, None, currency)
            if found is not None or len(tables) == 1:
                told += said
            elif any(row.cells for row in table.rows):
                message = f"sheet {table.name!r} has no row of headers; it was passed over"
                say = note if said is header else warning  # what looks like a list lacks but its header
                told.append(say("sheet-passed-over", message, Source(file, table.name), said[0].hint if said else None))
            made += [found] if found is not None else []
            continue
        layout, said = header
        told += said
        below = table.rows[layout.last + 1 :]
        rows = ((row.source.row or 0, [c.text for c in row.cells]) for row in below if not _struck(row))
        told += _odd_cells(below, layout)
        built, said = _build(rows, layout, file, table.name)
        told += said
        made.append(built)
    if not made and has_errors(told):
        return None, told
    if not made:
        return None, [*told, error("header-missing", "no sheet has a row of headers", Source(str(path)))]
    return (None, told) if has_errors(told) else (_joined(made), told)


def _shaped(
    table: Table, missing: list[Diagnostic], file: str, delimiter: str | None, currency: str | None
) -> tuple[TextTable | None, list[Diagnostic]]:
    """Read a table in which no header was found: a grid, or a list whose cells say what they are.

    ``missing`` tells why there is no header; it stays where neither is found. The table's name tells it from others.
    """
    shaped = as_list(table, file)
    if shaped is None and any(one.code == "header-missing" and one.hint == NO_HEADER_HINT for one in missing):
        shaped = headed(table, delimiter)
    if shaped is None or isinstance(shaped, list):
        return None, shaped or missing
    found, told = shaped
    header = header_of(found, file, currency)
    if isinstance(header, list):
        return None, told + header
    layout, said = header
    told += said
    rows = ((row.source.row or 0, [c.text for c in row.cells]) for row in found.rows[layout.last + 1 :])
    built, said = _build(rows, layout, file, table.rows[0].source.sheet)
    told += said
    return (None if has_errors(told) else built), told


def _struck(row: Row) -> bool:
    filled = [cell for cell in row.cells if cell.text]
    return bool(filled) and all(cell.struck for cell in filled)


def _odd_cells(rows: Sequence[Row], layout: Layout) -> list[Diagnostic]:
    """Tell of dates where a spreadsheet made them out of other text, and of rows struck through."""
    told: list[Diagnostic] = []
    for row in rows:
        if _struck(row):
            told.append(note("row-struck", "the row is struck through; it was passed over", row.source))
            continue
        for name, index in layout.columns.items():
            if index < len(row.cells) and row.cells[index].is_date and name != "updated":
                cell = row.cells[index]
                place = Source(row.source.file, row.source.sheet, row.source.row, layout.texts[index])
                message = f"the spreadsheet holds a date here ({cell.text}), not a {name}"
                told.append(error("cell-is-date", message, place, "format the cell as text, type it again", cell.text))
    return told


def _joined(tables: list[TextTable]) -> TextTable:
    """Put price lists on several sheets under one another; a column that one of them lacks is blank there."""
    if len(tables) == 1:
        return tables[0]
    names = list(dict.fromkeys(name for table in tables for name in table.columns))
    quantities = sorted({quantity for table in tables for quantity, _ in table.breaks})
    columns = {name: _stacked(name, [table.columns.get(name) for table in tables], tables) for name in names}
    breaks = [(q, _stacked("prices", [dict(table.breaks).get(q) for table in tables], tables)) for q in quantities]
    starts = np.cumsum([0, *(len(table) for table in tables[:-1])])
    sheets = tuple((int(start), table.sheets[0][1]) for start, table in zip(starts, tables, strict=True))
    rows = np.concatenate([table.rows for table in tables])
    return TextTable(tables[0].file, columns, tuple(breaks), rows, sheets)


def _stacked(name: str, parts: list[TextColumn | None], tables: list[TextTable]) -> TextColumn:
    first = next(part for part in parts if part is not None)
    in_words = all(part is None or part.unit == IN_WORDS for part in parts)
    gathered = Gathering()
    for part, table in zip(parts, tables, strict=True):
        for row in range(len(table)):
            text = "" if part is None else part.text(row)
            # sheets may state different units in their headers: the unit goes into the cell
            unit = part.unit if part else None
            if unit == IN_WORDS and not in_words:
                text = _said_in_words(name, text)
            elif unit and not in_words and _bare(text):
                text = f"{text} {unit}"
            gathered.add(text)
    return gathered.column(first.header, IN_WORDS if in_words else None)


def _said_in_words(name: str, text: str) -> str:
    """Return what running text says as a cell of the field's own column; what is unclear stays, and is told there."""
    taken = take(name, text, IN_WORDS)
    return text if taken.code is not None else "" if taken.value is None else cell_of(name, taken.value)


def _bare(text: str) -> bool:
    return bool(text) and text.replace(".", "").replace(",", "").isdecimal()


def _row_by_row(data: bytes, file: str, currency: str | None) -> tuple[TextTable | None, list[Diagnostic]]:
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
    head, said = parse_delimited("\n".join(lines[:HEAD_LINES]), file, delimiter)
    header = header_of(head, file, currency)
    if isinstance(header, list) and len(lines) <= MOST_PASTED and (tabbed := as_tabbed(lines)) is not None:
        lines, delimiter = tabbed, "\t"
        head, said = parse_delimited("\n".join(lines[:HEAD_LINES]), file, delimiter)
        header = header_of(head, file, currency)
    if isinstance(header, list) and len(lines) <= MOST_PASTED:
        whole, said = parse_delimited("\n".join(lines), file, delimiter)
        made, shown = _shaped(Table("", whole.rows), header, file, delimiter, currency)
        return made, told + said + shown
    delimiter = delimiter or "\x00"
    if isinstance(header, list):
        return None, told + said + header
    layout, said = header
    told += said
    below = head.rows[layout.last + 1 :]
    first = (below[0].source.row if below else None) or len(lines) + 1
    rows = []
    for record in records(lines[first - 1 :], delimiter):
        if record.stray_quote is not None:
            message = "a cell begins with a quotation mark that is never closed; it was read as it stands"
            place = Source(file, row=record.row + first - 1)
            found = record.stray_quote[:80]
            told.append(warning("quote-unclosed", message, place, "close it, or double the mark", found))
        rows.append((record.row + first - 1, record.cells))
    built, said = _build(rows, layout, file, None)
    told += said
    return (None if has_errors(told) else built), told


def _build(
    rows: Iterable[tuple[int, Sequence[str]]], layout: Layout, file: str, sheet: str | None
) -> tuple[TextTable, list[Diagnostic]]:
    """Gather the columns from rows of texts, each with its number.

    Blank rows, repeated headers and rows that are no offers are left out; what headings say goes with the rows below.
    """
    raw = {at: Gathering() for at in layout.used}
    sections = Sections(file, sheet, layout.stated)
    said: dict[str, Gathering] = {}
    numbers: list[int] = []
    told: list[Diagnostic] = []
    width = len(layout.texts)
    again = set(layout.rows)
    firsts = {row[0] for row in layout.rows if row}
    units: dict[str, str] = {}
    for number, cells in rows:
        if not any(cells) or (cells[0] in firsts and tuple(cells) in again) or is_comment(cells):
            continue
        if not numbers and (stated := units_row(_plain_row(cells, file, sheet, number), layout.columns)) is not None:
            units |= stated
            continue
        if len(set(cells)) <= FEW and sections.takes(number, cells):
            continue
        if len(cells) > width and any(cells[width:]):
            told.append(_too_wide(cells, width, Source(file, sheet, number)))
            continue
        numbers.append(number)
        sections.offer()
        for at, gathered in raw.items():
            gathered.add(cells[at] if at < len(cells) else "")
        if said or sections.stated:
            _add_said(said, sections.stated, len(numbers))
    if units:
        layout = replace(layout, units={**layout.units, **units})
    columns = {at: gathered.column(layout.texts[at], None) for at, gathered in raw.items()}
    headed = {name: gathered.column(HEADING, None) for name, gathered in said.items()}
    table, found = assemble(layout, columns, np.array(numbers, np.int64), (file, sheet), headed)
    return table, told + sections.told + found


def _add_said(said: dict[str, Gathering], stated: Mapping[str, str], count: int) -> None:
    """Add what headings say of row number ``count``; a field that none had spoken of before is blank up to here."""
    for name in stated.keys() - said.keys():
        said[name] = Gathering()
        for _ in range(count - 1):
            said[name].add("")
    for name, gathered in said.items():
        gathered.add(stated.get(name, ""))


def _plain_row(cells: Sequence[str], file: str, sheet: str | None, number: int) -> Row:
    place = Source(file, sheet, number)
    return Row(tuple(Cell(text, place) for text in cells), place)


def _too_wide(cells: Sequence[str], width: int, place: Source) -> Diagnostic:
    message = f"the row has {len(cells)} cells under {width} headers"
    hint = "a decimal comma, or a comma in a text, needs quotation marks around the cell where commas part cells"
    return error("row-too-wide", message, place, hint, " | ".join(cells)[:120])
