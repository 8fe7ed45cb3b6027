"""Where a catalogue's headers are and what they say."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from recap.bench.fields import IN_WORDS
from recap.diagnostics import Diagnostic, Source, error, note
from recap.read.headers import Headers, find_header, key, recognise
from recap.read.vocabulary import CATALOGUE, DESCRIPTION, SIZE

if TYPE_CHECKING:
    from recap.read.cells import Row, Table

SAID_IN_WORDS = ("kind", "mount", "safety")
"""What a description is read for where it has no column of its own. Values and voltages never are."""
SIDES = ("diameter", "height")

_TOGETHER = ((frozenset(map(key, DESCRIPTION)), SAID_IN_WORDS), (frozenset(map(key, SIZE)), SIDES))


def header_of(table: Table, file: str) -> tuple[int, Headers, list[Diagnostic]] | list[Diagnostic]:
    """Return the header's index in ``table``, what it says and what is to be told; or why there is none."""
    at = find_header(table, CATALOGUE, quantities=True)
    if at is None:
        shown = next((row for row in table.rows if row.cells), None)
        found = ", ".join(cell.text for cell in shown.cells)[:100] if shown else None
        message = "no row of headers was found"
        hint = "the first row names the columns: part, value, volts, prices …"
        return [error("header-missing", message, Source(file, row=shown.source.row if shown else 1), hint, found)]
    headers = _with_words(recognise(table.rows[at].cells, CATALOGUE, quantities=True, strict=True), table.rows[at])
    told = list(headers.diagnostics)
    place = table.rows[at].source
    for missing in ("part",) if headers.quantities else ("part", "prices"):
        if missing not in headers:
            message = f"there is no column for {missing}"
            hint = "give one of the columns that name: " + ", ".join(dict.fromkeys((missing, *CATALOGUE[missing][:4])))
            told.append(error("header-missing", message, place, hint, ", ".join(headers.texts)[:100]))
    if headers.quantities and "prices" in headers:
        message = "prices stand in a column of their own and in columns by quantity; which count is not clear"
        told.append(error("header-twice", message, place, "delete or rename one kind"))
    return at, headers, told


def _with_words(headers: Headers, row: Row) -> Headers:
    """Let a description say kind, mount and safety class, a size column diameter and length, where no column does.

    A kind column may name the safety class too.
    """
    columns, units, told = dict(headers.columns), dict(headers.units), list(headers.diagnostics)
    for words, fields in _TOGETHER:
        missing = [name for name in fields if name not in columns]
        at = next((at for at in headers.unknown if _plain(headers.texts[at]) in words), None)
        if at is None or not missing:
            continue
        header = headers.texts[at]
        message = f"column {header!r} says what has no column of its own: {', '.join(missing)}"
        told = [d for d in told if d.source != row.cells[at].source]
        told.append(note("description-read", message, row.cells[at].source, found=header))
        columns |= dict.fromkeys(missing, at)
        units |= dict.fromkeys(missing, IN_WORDS)
    if "safety" not in columns and "kind" in columns:
        columns["safety"], units["safety"] = columns["kind"], IN_WORDS
    return replace(headers, columns=columns, units=units, diagnostics=tuple(told))


def _plain(header: str) -> str:
    return key(header.replace("(", " ").replace(")", " ").replace("[", " ").replace("]", " "))
