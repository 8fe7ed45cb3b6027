"""Files to tables: the one entrance for delimited text and workbooks, and for text as such.

Nothing here raises on any content; what can't be read is an error with its place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error, has_errors
from recap.read.decoding import decode
from recap.read.delimited import parse_delimited, too_many_lines
from recap.read.sniff import MAX_BYTES, check_regular, check_type, is_workbook
from recap.read.workbook import parse_workbook

if TYPE_CHECKING:
    from pathlib import Path

    from recap.read.cells import Table


def read_tables(path: Path) -> tuple[tuple[Table, ...], list[Diagnostic]]:
    """Return every sheet of a workbook, or the one table of a delimited file, and what is to be said.

    On an error no tables are returned. Rows keep the numbers that an editor or spreadsheet shows.
    """
    data, found = _read_bytes(path)
    if data is None:
        return (), found
    if is_workbook(path):
        tables, told = parse_workbook(path)
        return (() if has_errors(told) else tables), found + told
    text, told = decode(data, str(path))
    found += told
    if text is None:
        return (), found
    if not text.strip():
        return (), [*found, error("file-empty", f"{path} has only blank lines", Source(str(path)), "fill or delete it")]
    delimiter = "\t" if path.suffix.lower() == ".tsv" and "\t" in text else None
    table, told = parse_delimited(text, str(path), delimiter)
    return (() if has_errors(told) else (table,)), found + told


def table_from_text(text: str, name: str) -> Table:
    """Return delimited ``text`` as a table; ``name`` stands as the file in every place."""
    return parse_delimited(text, name)[0]


def read_text(path: Path) -> tuple[str | None, list[Diagnostic]]:
    """Return the text of ``path`` as it stands, line ends kept, or None and the error."""
    data, found = _read_bytes(path)
    if data is None:
        return None, found
    if is_workbook(path):
        message = f"{path.name} is a workbook, a text was expected"
        return None, [*found, error("file-wrong-type", message, Source(str(path)), "save it as text or CSV")]
    text, told = decode(data, str(path))
    if text is not None and not text.strip():
        text = None
        told = [*told, error("file-empty", f"{path} has only blank lines", Source(str(path)), "fill or delete it")]
    if text is not None:
        fault = too_many_lines(text.count("\n") + text.count("\r") - text.count("\r\n"), str(path))
        if fault is not None:
            return None, [*found, *told, fault]
    return text, found + told


def _read_bytes(path: Path) -> tuple[bytes | None, list[Diagnostic]]:
    fault = check_regular(path)
    if fault is not None:
        return None, [fault]
    source = Source(str(path))
    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            fault = check_type(path, file.read(64))
            if fault is not None:
                return None, [fault]
            if size > MAX_BYTES:
                message = f"{path.name} has {size:,} bytes; the most that is read is {MAX_BYTES:,}"
                return None, [error("file-too-large", message, source, "split it, or name the right file")]
            file.seek(0)
            return file.read(MAX_BYTES + 1), []
    except OSError as problem:
        message = f"{path} can't be read: {problem.strerror or problem}"
        return None, [error("file-unreadable", message, source, "check its permissions")]
