"""Where a catalogue's headers are and what they say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error
from recap.read.headers import Headers, find_header, recognise
from recap.read.vocabulary import CATALOGUE

if TYPE_CHECKING:
    from recap.read.cells import Table


def header_of(table: Table, file: str) -> tuple[int, Headers, list[Diagnostic]] | list[Diagnostic]:
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
