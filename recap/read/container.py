"""Look into a workbook's zip container before a workbook reader sees it.

Sizes are taken from the container's directory (which bounds what can be unpacked), then every XML
part is run through the parser alone, which refuses document types (and so entities) and counts
cells, so that nothing can grow without bound afterwards.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass, field
from typing import IO, TYPE_CHECKING
from xml.parsers import expat

from recap.diagnostics import Diagnostic, Source, error
from recap.read.sniff import MAX_COLUMNS, MAX_ROWS, MAX_WORKBOOK_CELLS

if TYPE_CHECKING:
    from pathlib import Path

MAX_PARTS = 2_000
MAX_PART_BYTES = 96 * 2**20
MAX_UNPACKED_BYTES = 160 * 2**20
MAX_RATIO = 200
"""Packed XML shrinks to a tenth or a thirtieth; over this and :data:`RATIO_FROM` it is a bomb."""
RATIO_FROM = 4 * 2**20
MAX_DEPTH = 64
CHUNK = 2**18
MAX_MERGED_CELLS = 200_000

_FORBIDDEN_IN_NAME = re.compile(r"[\\/*?:\[\]\x00-\x1f]")
_AREA = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?")


MAX_SHEETS = 500
AGAIN = "open it in a spreadsheet and save it again"
_SHEET_PARTS = frozenset({"worksheet", "chartsheet", "dialogsheet", "macrosheet"})


class _RefusedError(Exception):
    """Why a part is not read on: code, message, what to do."""

    def __init__(self, code: str, message: str, hint: str) -> None:
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


@dataclass(slots=True)
class Contents:
    """What the parts of a container hold in all."""

    formulas: bool = False
    cells: int = 0
    merged_cells: int = 0
    sheets: int = 0
    sheet_parts: int = 0
    depth: int = field(default=0, repr=False)
    row: str = field(default="1", repr=False)
    rows: set[str] = field(default_factory=set, repr=False)
    in_row: set[str] = field(default_factory=set, repr=False)


def inspect_container(path: Path) -> tuple[Contents, Diagnostic | None]:
    """Return what the workbook holds, or the error for which it must not be opened."""
    contents = Contents()
    source = Source(str(path))
    try:
        with zipfile.ZipFile(path) as container:
            _check_directory(container)
            for part in container.infolist():
                if part.filename.lower().endswith((".xml", ".rels")):
                    with container.open(part) as stream:
                        _scan_part(stream, part.filename, contents)
        _check_sheets(contents)
    except _RefusedError as refusal:
        return contents, error(refusal.code, refusal.message, source, refusal.hint)
    except expat.ExpatError as fault:
        message = f"{path.name} is damaged: {fault}"
        return contents, error("workbook-broken", message, source, "open it in a spreadsheet and save it again")
    except (zipfile.BadZipFile, OSError, ValueError, RuntimeError, NotImplementedError, EOFError, KeyError) as fault:
        message = f"{path.name} is damaged: {fault}"
        return contents, error("workbook-broken", message, source, "open it in a spreadsheet and save it again")
    except Exception as fault:  # noqa: BLE001 - decompressors raise errors of their own (zlib, lzma)
        message = f"{path.name} can't be unpacked: {fault}"
        return contents, error("workbook-broken", message, source, "open it in a spreadsheet and save it again")
    return contents, None


def _check_directory(container: zipfile.ZipFile) -> None:
    parts = container.infolist()
    names = {part.filename for part in parts}
    if len(names) < len(parts):
        message = "two parts of the workbook bear one name: which of them counts is not clear"
        raise _RefusedError("workbook-broken", message, AGAIN)
    if "xl/workbook.xml" not in names:
        message = "this zip container holds no workbook"
        raise _RefusedError("file-wrong-type", message, "save the table as .xlsx or .csv")
    if len(parts) > MAX_PARTS:
        raise _RefusedError("workbook-bomb", f"{len(parts):,} parts in one workbook", "save one sheet as CSV")
    for part in parts:
        if part.flag_bits & 1:
            raise _RefusedError("workbook-broken", "the workbook is protected by a password", "save it without one")
        ratio = part.file_size / max(part.compress_size, 1)
        if part.file_size > RATIO_FROM and ratio > MAX_RATIO:
            message = f"{part.filename} unpacks to {part.file_size:,} bytes from {part.compress_size:,}: a zip bomb"
            raise _RefusedError("workbook-bomb", message, "don't trust this file; ask its sender for a CSV")
        if part.file_size > MAX_PART_BYTES:
            message = f"{part.filename} unpacks to {part.file_size:,} bytes; at most {MAX_PART_BYTES:,} are read"
            raise _RefusedError("file-too-large", message, "save the sheet as CSV: large catalogues are fast in that")
    total = sum(part.file_size for part in parts)
    if total > MAX_UNPACKED_BYTES:
        message = f"the workbook unpacks to {total:,} bytes; the most that is read is {MAX_UNPACKED_BYTES:,}"
        raise _RefusedError("workbook-bomb", message, "save the sheet that matters as CSV")


def _scan_part(stream: IO[bytes], name: str, contents: Contents) -> None:
    parser = expat.ParserCreate(namespace_separator=" ")
    contents.depth, contents.row, contents.rows = 0, "", set()

    def refuse_doctype(*_: object) -> None:
        message = f"{name} declares a document type, which can define entities that expand without end"
        raise _RefusedError("workbook-entities", message, "don't trust this file; ask its sender for a CSV")

    def start(tag: str, attributes: dict[str, str]) -> None:
        contents.depth += 1
        if contents.depth > MAX_DEPTH:
            raise _RefusedError("workbook-broken", f"{name} is nested too deep", "save the table as CSV")
        _met(tag.rpartition(" ")[2], attributes, name, contents)

    def end(_: str) -> None:
        contents.depth -= 1

    parser.StartDoctypeDeclHandler = refuse_doctype
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    while chunk := stream.read(CHUNK):
        parser.Parse(chunk, False)
    parser.Parse(b"", True)


def _met(local: str, attributes: dict[str, str], name: str, contents: Contents) -> None:
    """Count and check one element of a part."""
    if contents.depth == 1:
        contents.sheet_parts += local in _SHEET_PARTS
    if local == "c":
        _count_cell(contents)
        _check_row(contents.row)
        _check_place(attributes.get("r", ""), contents, name)
    elif local == "row":
        contents.row = attributes.get("r", "")  # the last row of all may have a height and no cells
        _begin_row(contents, name)
    elif local == "f":
        contents.formulas = True
    elif local == "sheet":
        contents.sheets += name.endswith("workbook.xml")
        _check_sheet_name(attributes.get("name", ""))
    elif local == "mergeCell":
        _count_merged(attributes.get("ref", ""), contents)
    if local in {"c", "dimension"}:
        _check_column(attributes.get("r", ""))


def _check_sheet_name(title: str) -> None:
    if _FORBIDDEN_IN_NAME.search(title):
        message = f"the sheet's name {title[:60]!r} holds characters no spreadsheet allows (a path, perhaps)"
        raise _RefusedError("sheet-name", message, "rename the sheet; ask who sent it")


def _count_cell(contents: Contents) -> None:
    contents.cells += 1
    if contents.cells > MAX_WORKBOOK_CELLS:
        message = f"more than {MAX_WORKBOOK_CELLS:,} cells in the workbook"
        raise _RefusedError("too-many-cells", message, "save the sheet as CSV: large catalogues are fast in that")


def _check_row(number: str) -> None:
    if number.isdecimal() and (len(number) > 9 or int(number) > MAX_ROWS):  # noqa: PLR2004 - no row number is longer
        message = f"a row numbered {number[:12]}; the most that is read is {MAX_ROWS:,}"
        raise _RefusedError("too-many-rows", message, "delete the rows below the table, or save it as CSV")


def _check_sheets(contents: Contents) -> None:
    if contents.sheets > MAX_SHEETS:
        message = f"{contents.sheets:,} sheets; the most that is read is {MAX_SHEETS}"
        raise _RefusedError("too-many-cells", message, "save the sheets that matter as a workbook of their own")
    if contents.sheets > contents.sheet_parts:
        raise _RefusedError("workbook-broken", "several sheets stand for one part, or for none", AGAIN)


def _begin_row(contents: Contents, name: str) -> None:
    """Refuse a row number that stands twice or is none: one of the rows would be lost."""
    contents.in_row = set()
    number = contents.row
    if not number:
        return
    if not number.isdecimal() or int(number[:9]) == 0 or number in contents.rows:
        raise _RefusedError("workbook-broken", f"row {number[:12]} of {name} stands there twice, or is none", AGAIN)
    contents.rows.add(number)
    if len(contents.rows) > MAX_ROWS:
        message = f"more than {MAX_ROWS:,} rows in {name}, if only formatted ones"
        raise _RefusedError("too-many-rows", message, "delete the rows below the table, or save it as CSV")


def _check_place(reference: str, contents: Contents, name: str) -> None:
    """Refuse a cell that stands in another row than its own, or twice: the last one would count unseen."""
    area = _AREA.fullmatch(reference)
    elsewhere = area is not None and bool(contents.row) and area[2] != contents.row
    if reference and (area is None or elsewhere or reference in contents.in_row):
        message = f"the cell {reference[:12]!r} of {name} stands there twice, or in another row than its own"
        raise _RefusedError("workbook-broken", message, AGAIN)
    contents.in_row.add(reference)


def _check_column(reference: str) -> None:
    area = _AREA.fullmatch(reference)
    if area and column_number(area[1]) > MAX_COLUMNS:
        message = f"a cell in column {area[1]}; the most that is read is {MAX_COLUMNS:,} columns"
        raise _RefusedError("too-many-columns", message, "delete the columns beside the table, or save it as CSV")


def _count_merged(reference: str, contents: Contents) -> None:
    area = _AREA.fullmatch(reference)
    if area is None:
        raise _RefusedError("workbook-broken", f"merged cells {reference[:40]!r} make no sense", "save it again")
    if area[3] is None:
        return
    wide = column_number(area[3]) - column_number(area[1]) + 1
    high = int(area[4]) - int(area[2]) + 1
    contents.merged_cells += max(wide, 0) * max(high, 0)
    if contents.merged_cells > MAX_MERGED_CELLS:
        message = f"more than {MAX_MERGED_CELLS:,} merged cells"
        raise _RefusedError("too-many-cells", message, "undo the merging, or save the sheet as CSV")


def column_number(letters: str) -> int:
    """Return the 1-based number of a spreadsheet column: A is 1, AA is 27."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number
