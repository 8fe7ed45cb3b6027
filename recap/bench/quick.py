"""Large plain files through Arrow, which reads them on all cores; anything odd in them is left to the slow way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from recap.bench.heads import header_of
from recap.bench.texts import TextColumn, TextTable
from recap.diagnostics import has_errors
from recap.read.decoding import decode
from recap.read.delimited import choose_delimiter, parse_delimited
from recap.read.headers import units_row

if TYPE_CHECKING:
    from recap.diagnostics import Diagnostic
    from recap.read.cells import Row, Table
    from recap.read.headers import Headers

HEAD_BYTES = 16 * 1024
FIRST_LINES = 6
SINGULAR = frozenset({"part", "prices"})
"""Columns whose texts hardly repeat."""


def through_arrow(data: bytes, file: str) -> tuple[TextTable | None, list[Diagnostic]] | None:
    """Read a large plain file; None where any line of it needs the slow way (odd lines, odd bytes)."""
    head = data[:HEAD_BYTES].rpartition(b"\n")[0]
    text, _ = decode(head, file)
    if text is None or b"\r" in head.replace(b"\r\n", b""):
        return None
    delimiter = choose_delimiter(text)
    if delimiter is None:
        return None
    top = _header(text, file, delimiter)
    if top is None:
        return None
    table, at, headers, told = top
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


def _header(text: str, file: str, delimiter: str) -> tuple[Table, int, Headers, list[Diagnostic]] | None:
    """Return the first rows, which of them is the header, what it says and what is to be told; None without one.

    It nearly always stands in the first lines; more are looked at only where it doesn't, or may go on below them.
    """
    first = "\n".join(text.split("\n")[:FIRST_LINES])
    for part in (first, text) if '"' not in first else (text,):
        table, _ = parse_delimited(part, file, delimiter)
        header = header_of(table, file)
        if not isinstance(header, list) and header[0] + 1 < len(table.rows) and len(table.rows[header[0]].cells) > 1:
            return None if has_errors(header[2]) else (table, *header)
    return None


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
                column_types=types,
                include_columns=list(dict.fromkeys(wanted.values())),
                strings_can_be_null=False,
                check_utf8=not data.isascii(),
            ),
        )
    except pa.ArrowInvalid:
        return None
    if b'"' not in data and b"\r" not in data:
        return found  # then each line is a row: one of too few or too many cells would have been refused
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
