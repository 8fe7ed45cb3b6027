"""Large plain files through Arrow, which reads them on all cores; anything odd in them is left to the slow way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from recap.bench.arrow import strings, to_numpy
from recap.bench.assembling import HEADING, assemble
from recap.bench.heads import header_of
from recap.bench.texts import TextColumn
from recap.diagnostics import has_errors
from recap.read.decoding import decode
from recap.read.delimited import choose_delimiter, parse_delimited
from recap.read.headers import units_row

if TYPE_CHECKING:
    from recap.bench.layout import Layout
    from recap.bench.texts import TextTable
    from recap.diagnostics import Diagnostic
    from recap.read.cells import Table

_NOTHING = strings([""])
HEAD_BYTES = 16 * 1024
FIRST_LINES = 6


def through_arrow(
    data: bytes, file: str, currency: str | None = None
) -> tuple[TextTable | None, list[Diagnostic]] | None:
    """Read a large plain file; None where any line of it needs the slow way (odd lines, odd bytes)."""
    head = data[:HEAD_BYTES].rpartition(b"\n")[0]
    text, of_bytes = decode(head, file)
    if text is None or b"\r" in head.replace(b"\r\n", b""):
        return None
    delimiter = choose_delimiter(text)
    if delimiter is None:
        return None
    top = _header(text, file, delimiter, currency)
    if top is None:
        return None
    table, layout, told = top
    below = table.rows[layout.last + 1]
    if not below.cells or units_row(below, layout.columns) is not None:
        return None
    skipped = (below.source.row or 1) - 1
    found = _arrow_table(data, layout, delimiter, skipped)
    if found is None or _has_other_rows(found, layout):
        return None
    raw = {at: _arrow_column(found.column(str(at)), layout.texts[at]) for at in layout.used}
    rows = np.arange(skipped + 1, skipped + 1 + found.num_rows, dtype=np.int64)
    made, said = assemble(layout, raw, rows, (file, None), _of_titles(layout, len(rows)))
    return made, of_bytes + told + said


def _of_titles(layout: Layout, count: int) -> dict[str, TextColumn]:
    codes = np.zeros(count, np.int32)
    return {name: TextColumn(HEADING, None, strings([text]), codes) for name, text in layout.stated.items()}


def _header(
    text: str, file: str, delimiter: str, currency: str | None
) -> tuple[Table, Layout, list[Diagnostic]] | None:
    """Return the first rows, what the header among them says and what is to be told; None without one.

    It nearly always stands in the first lines; more are looked at only where it doesn't, or may go on below them.
    """
    lines = text.split("\n")
    first = "\n".join(lines[:FIRST_LINES])
    for part in (first, text) if '"' not in first else (text,):
        table, _ = parse_delimited(part, file, delimiter)
        header = header_of(table, file, currency)
        if part is first and not isinstance(header, list) and header[1]:
            continue  # what cells have shown is to be seen in more of them
        if not isinstance(header, list) and header[0].last + 1 < len(table.rows) and len(header[0].texts) > 1:
            return None if has_errors(header[1]) else (table, *header)
    return None


def _arrow_table(data: bytes, layout: Layout, delimiter: str, skipped: int) -> pa.Table | None:
    body = len(data)
    while body and data[body - 1] in b"\r\n":
        body -= 1
    singular = {layout.columns.get("part"), layout.prices.lone}
    repeating = pa.dictionary(pa.int32(), pa.string())
    types = {str(at): pa.string() if at in singular else repeating for at in layout.used}
    try:
        found = arrow_csv.read_csv(
            pa.BufferReader(pa.py_buffer(memoryview(data)[:body])),
            arrow_csv.ReadOptions(
                skip_rows=skipped, column_names=[str(i) for i in range(len(layout.texts))], block_size=2**23
            ),
            arrow_csv.ParseOptions(delimiter=delimiter, newlines_in_values=False, ignore_empty_lines=False),
            arrow_csv.ConvertOptions(
                column_types=types,
                include_columns=list(types),
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


def _has_other_rows(found: pa.Table, layout: Layout) -> bool:
    """Tell whether a row is blank (or has no part number), repeats the headers or, priceless, may be a heading."""
    at = layout.columns.get("part")
    if at is None:
        return True
    numbers = found.column(str(at))
    if pc.any(_blank(numbers)).as_py() or pc.any(pc.is_in(numbers, value_set=strings([layout.rows[-1][at]]))).as_py():
        return True
    bare: Any = None
    for index in (*layout.prices.all, *(layout.columns[name] for name in ("value", "volts") if name in layout.columns)):
        blank = _blank(found.column(str(index)))
        bare = blank if bare is None else pc.and_(bare, blank)
    return bool(bare is not None and pc.any(bare).as_py())


def _blank(texts: pa.ChunkedArray) -> Any:  # noqa: ANN401 - a chunked array of booleans
    if not pa.types.is_dictionary(texts.type):
        return pc.is_in(texts, value_set=_NOTHING)
    whole = texts.unify_dictionaries()
    blank = pc.is_in(whole.chunk(0).dictionary if whole.num_chunks else _NOTHING, value_set=_NOTHING)
    return pa.chunked_array([blank.take(chunk.indices) for chunk in whole.chunks], pa.bool_())


def _arrow_column(chunks: pa.ChunkedArray, header: str) -> TextColumn:
    if not pa.types.is_dictionary(chunks.type):
        whole = chunks.combine_chunks()
        return TextColumn(header, None, whole.chunk(0) if isinstance(whole, pa.ChunkedArray) else whole)
    whole = chunks.unify_dictionaries().combine_chunks()
    if isinstance(whole, pa.ChunkedArray):
        whole = whole.chunk(0)
    return TextColumn(header, None, whole.dictionary, to_numpy(whole.indices))
