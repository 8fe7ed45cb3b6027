"""Delimited text to a table: which delimiter, quoted cells, rows numbered as the user's editor numbers them.

The standard library's reader is not used because of two habits of hand-typed lists: a ditto mark
(``"``) alone in a cell, and inch marks, both of which it takes for the start of a quoted cell
that may swallow the rows below.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error, warning
from recap.read.cells import Cell, Row, Table
from recap.read.sniff import MAX_CELLS, MAX_COLUMNS, MAX_LINE, MAX_ROWS

if TYPE_CHECKING:
    from collections.abc import Iterator

DELIMITERS = ("\t", ";", ",")
"""In the order of preference where two explain the text equally well: a comma may be a decimal comma."""

RARE_DELIMITERS = ("|", "^", "~")
"""Of old programs' exports; believed only where they cut every line alike, and into more cells than the usual ones."""

SAMPLE_LINES = 300
QUOTED_LINES = 60
"""A quoted cell that would run over more lines than this is no quoted cell."""

STRAY = -1

BLANKS = " \t\r\n\v\f\u00a0\u200b\u2007\u202f\u2060\ufeff"
_NEWLINE = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True)
class Record:
    """Cells of one row as text, the 1-based line it starts on, and a stray quote's cell where there is one."""

    row: int
    cells: list[str]
    stray_quote: str | None = None


def split_lines(text: str) -> list[str]:
    """Split at CR LF, CR and LF only, as editors do; a last line end opens no further line."""
    lines = _NEWLINE.split(text)
    if lines and not lines[-1]:
        lines.pop()
    return lines


def choose_delimiter(text: str) -> str | None:
    """Return the delimiter that cuts the first lines into equally many cells, or None where none does.

    Remarks, lines that begin with ``#``, have no say unless there is nothing else: they are prose, with prose's commas.
    """
    head = split_lines(text[: SAMPLE_LINES * 2000])[:SAMPLE_LINES]
    head = [line for line in head if not line.lstrip(BLANKS).startswith("#")] or head
    best = 0.0
    chosen: str | None = None
    for delimiter in DELIMITERS:
        share = _agreement([len(r.cells) for r in records(head, delimiter) if any(r.cells)])
        if share > best:
            best, chosen = share, delimiter
    rare = _rare(head)
    if rare is not None and (chosen is None or head[0].count(rare) > head[0].count(chosen)):
        return rare
    return chosen


def _rare(lines: list[str]) -> str | None:
    filled = [line.strip(BLANKS) for line in lines if line.strip(BLANKS)]
    for delimiter in RARE_DELIMITERS:
        counts = {line.count(delimiter) for line in filled}
        if len(filled) > 2 and len(counts) == 1 and min(counts) > 1 and not filled[0].startswith(delimiter):  # noqa: PLR2004
            return delimiter
    return None


def _agreement(counts: list[int]) -> float:
    """Return the share of the rows that have the commonest number of cells, where that is 2 or more."""
    several = Counter(n for n in counts if n > 1)
    if not several:
        return 0.0
    return several.most_common(1)[0][1] / len(counts)


def records(lines: list[str], delimiter: str) -> Iterator[Record]:
    """Yield one record per row; blank lines yield a record without cells."""
    at = 0
    while at < len(lines):
        line = lines[at]
        if not line.strip(BLANKS):
            yield Record(at + 1, [])
            at += 1
        elif '"' not in line:
            yield Record(at + 1, [cell.strip(BLANKS) for cell in line.split(delimiter)])
            at += 1
        else:
            record, used = _quoted_record(lines, at, delimiter)
            yield record
            at += used


def _quoted_record(lines: list[str], at: int, delimiter: str) -> tuple[Record, int]:
    """Read the record that begins in ``lines[at]``, and how many lines it takes."""
    cells: list[str] = []
    stray: str | None = None
    line, start, used = lines[at], 0, 1
    while True:
        opening = start + len(line[start:]) - len(line[start:].lstrip(" "))
        closed = None
        if line[opening : opening + 1] == '"':
            closed = _close(lines, at + used - 1, line, opening, delimiter)
        if closed is not None:
            text, line, end, more = closed
            used += more
            cells.append(text.strip(BLANKS))
        else:
            end = line.find(delimiter, start)
            end = len(line) if end < 0 else end
            text = line[start:end].strip(BLANKS)
            if text.startswith('"') and len(text) > 1:
                stray = stray or text
            cells.append(text)
        if end >= len(line):
            return Record(at + 1, cells, stray), used
        start = end + 1


def _close(lines: list[str], at: int, line: str, opening: int, delimiter: str) -> tuple[str, str, int, int] | None:
    """Find the end of the cell quoted from ``opening`` on.

    Returns its text, the line in which it ends, the place of the delimiter behind it there, and
    how many further lines it took; None where the quote is a ditto mark or never closes.
    """
    parts: list[str] = []
    begin = opening + 1
    for more in range(QUOTED_LINES):
        end = _closing_quote(line, begin, delimiter)
        if end == STRAY:
            return None
        if end is not None:
            parts.append(line[begin:end])
            text = "\n".join(parts).replace('""', '"')
            if delimiter in text and not text.strip(delimiter + BLANKS):
                return None  # between two ditto marks there is nothing but delimiters
            rest = line.find(delimiter, end + 1)
            return text, line, len(line) if rest < 0 else rest, more
        rest_of_line = line[begin:].strip(BLANKS.replace(delimiter, ""))
        if more == 0 and (not rest_of_line or rest_of_line.startswith(delimiter)):
            return None  # a ditto mark alone in its cell
        parts.append(line[begin:])
        if at + more + 1 >= len(lines) or len(parts[-1]) > MAX_LINE:
            return None
        line, begin = lines[at + more + 1], 0
    return None


def _closing_quote(line: str, begin: int, delimiter: str) -> int | None:
    """Return the place of the quote that closes the cell: undoubled, and a delimiter or the line's end behind it.

    None where the line has no undoubled quote; :data:`STRAY` where other text stands behind it.
    """
    place = begin
    while (place := line.find('"', place)) >= 0:
        if line.startswith('""', place):
            place += 2
            continue
        behind = line[place + 1 :].lstrip(" ")
        if not behind or behind.startswith(delimiter):
            return place
        return STRAY
    return None


@cache
def column_letters(index: int) -> str:
    """Return the spreadsheet's letters of a 0-based column: A to Z, then AA."""
    letters = ""
    number = index + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def too_many_lines(count: int, file: str) -> Diagnostic | None:
    """Return the error where a text has more lines than any list."""
    if count <= MAX_ROWS:
        return None
    message = f"{count:,} lines; the most that is read is {MAX_ROWS:,}: no list is that long"
    return error("too-many-rows", message, Source(file, row=MAX_ROWS + 1), "split the file, or name the right one")


def _too_large(cells_seen: int, widest: int, source: Source) -> Diagnostic | None:
    if cells_seen > MAX_CELLS:
        return error("too-many-cells", f"more than {MAX_CELLS:,} cells: no list is so large", source, "split the file")
    if widest > MAX_COLUMNS:
        return error("too-many-columns", f"{widest:,} cells in one row", source, "check the delimiter")
    return None


def parse_delimited(text: str, name: str, delimiter: str | None = None) -> tuple[Table, list[Diagnostic]]:
    """Return ``text`` as a table; where no delimiter is found every line is one cell.

    Rows keep their true line numbers, ragged rows stay ragged, blank rows are rows without cells.
    """
    lines = split_lines(text)
    long = next((at for at, line in enumerate(lines) if len(line) > MAX_LINE), None)
    if long is not None:
        message = f"a line of {len(lines[long]):,} characters; the longest that is read has {MAX_LINE:,}"
        return Table(name, ()), [error("line-too-long", message, Source(name, row=long + 1), "break the line up")]
    fault = too_many_lines(len(lines), name)
    if fault is not None:
        return Table(name, ()), [fault]
    found: list[Diagnostic] = []
    rows: list[Row] = []
    cells_seen = 0
    for record in records(lines, delimiter or choose_delimiter(text) or "\x00"):
        source = Source(name, row=record.row)
        cells_seen += len(record.cells)
        fault = _too_large(cells_seen, len(record.cells), source)
        if fault is not None:
            return Table(name, ()), [fault]
        cells = tuple(
            Cell(cell, Source(name, None, record.row, column_letters(i))) for i, cell in enumerate(record.cells)
        )
        rows.append(Row(cells, source))
        found.extend(_cell_warnings(record, source))
    return Table(name, tuple(rows)), found


def _cell_warnings(record: Record, source: Source) -> Iterator[Diagnostic]:
    if record.stray_quote is not None:
        message = "a cell begins with a quotation mark that is never closed; it was read as it stands"
        yield warning("quote-unclosed", message, source, "close it, or double the mark", record.stray_quote[:80])
    for index, cell in enumerate(record.cells):
        if cell.startswith("=") and len(cell) > 1:
            place = Source(source.file, source.sheet, source.row, column_letters(index))
            message = "a formula stands here as text; it is not worked out"
            yield warning("cell-formula", message, place, "put the value in its place", cell[:80])
