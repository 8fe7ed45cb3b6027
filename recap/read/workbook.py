"""A workbook to tables, one for each sheet, with what a spreadsheet shows rather than what it stores.

Numbers become the shortest decimal text of at most 15 digits, which is what a spreadsheet can
show; units, percent signs, zeros in front and money that a number format adds are kept.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from recap.diagnostics import Diagnostic, Source, error, note, warning
from recap.read.cells import Cell, Row, Table
from recap.read.container import inspect_container
from recap.read.decoding import TURNED, turned_here
from recap.read.delimited import BLANKS, column_letters
from recap.read.sheet_words import CURRENCIES
from recap.read.sniff import MAX_WORKBOOK_CELLS

if TYPE_CHECKING:
    from pathlib import Path

    from openpyxl.cell.cell import Cell as SheetCell
    from openpyxl.worksheet.worksheet import Worksheet

_UNIT_IN_FORMAT = re.compile(r'"([^"]*)"\s*$')


def parse_workbook(path: Path) -> tuple[tuple[Table, ...], list[Diagnostic]]:
    """Return every sheet of ``path`` as a table; errors where the file is broken or hostile."""
    import openpyxl  # takes a fifth of a second, and most files are no workbooks

    contents, fault = inspect_container(path)
    if fault is not None:
        return (), [fault]
    source = Source(str(path))
    try:
        book = openpyxl.load_workbook(path, data_only=True, rich_text=True)
        formulas = openpyxl.load_workbook(path) if contents.formulas else None
    except Exception as fault_met:  # noqa: BLE001 - the library raises whatever a malformed part leads it to
        message = f"{path.name} is damaged: {type(fault_met).__name__}: {fault_met}"[:300]
        return (), [error("workbook-broken", message, source, "open it in a spreadsheet and save it again")]
    tables: list[Table] = []
    found: list[Diagnostic] = []
    for sheet in book.worksheets:
        twin = formulas[sheet.title] if formulas is not None else None
        table, told = _read_sheet(sheet, twin, path)
        tables.append(table)
        found.extend(told)
    if not tables:
        found.append(error("file-empty", f"{path.name} has no sheet with cells", source, "put the table on a sheet"))
    elif not any(row.cells for table in tables for row in table.rows):
        found.append(error("file-empty", f"{path.name} has only empty sheets", source, "fill it, or delete it"))
    return tuple(tables), found


def _read_sheet(sheet: Worksheet, formulas: Worksheet | None, path: Path) -> tuple[Table, list[Diagnostic]]:
    file, title = str(path), sheet.title
    source = Source(file, title)
    if sheet.max_row * sheet.max_column > 8 * MAX_WORKBOOK_CELLS:
        message = f"the sheet spreads over {sheet.max_row:,} rows and {sheet.max_column:,} columns"
        return Table(title, ()), [error("too-many-cells", message, source, "delete what lies far from the table")]
    found: list[Diagnostic] = []
    if sheet.sheet_state != "visible":
        message = f"sheet {title!r} is hidden; it was read like the others"
        found.append(note("sheet-hidden", message, source, "show it and look, or delete it"))
    found += _hidden(sheet, source)
    merged = _merged(sheet)
    rows: list[Row] = []
    for number, line in enumerate(sheet.iter_rows(), start=1):
        cells: list[Cell] = []
        for index, raw in enumerate(line):
            origin = merged.get((number, index + 1), raw)
            place = Source(file, title, number, column_letters(index))
            cell = _cell(origin, place)
            if origin is raw and raw.value is not None:
                found.extend(_said_of(raw, cell))
            if formulas is not None and formulas.cell(number, index + 1).data_type == "f":
                blank = raw.data_type == "str"  # a text, and nothing in it: its result is stored
                found += [] if blank and not cell.text else [_formula(cell, formulas.cell(number, index + 1).value)]
                cell = cell if cell.text or blank else replace(cell, text=NOT_WORKED_OUT)
            cells.append(cell)
        while cells and not cells[-1].text:
            cells.pop()
        rows.append(Row(tuple(cells), Source(file, title, number)))
    while rows and not rows[-1].cells:
        rows.pop()
    return Table(title, tuple(rows)), found


NOT_WORKED_OUT = "#FORMULA"
"""Stands in a cell whose formula has no result, as ``#REF!`` does where it is one: nobody takes it for a value, and who
needs the cell says that it can't be read."""
MOST_NAMED = 20
"""So many hidden rows are named in one message."""


def _hidden(sheet: Worksheet, source: Source) -> list[Diagnostic]:
    """Say which rows and columns of a sheet are hidden, by a filter perhaps: they are read like the others."""
    last = sheet.max_row
    rows = [str(number) for number, row in sorted(sheet.row_dimensions.items()) if row.hidden and number <= last]
    columns = [str(letters) for letters, column in sheet.column_dimensions.items() if column.hidden]
    found = []
    for what, named in (("row", rows), ("column", columns)):
        if named:
            shown = ", ".join(named[:MOST_NAMED]) + (" …" if len(named) > MOST_NAMED else "")
            message = f"{what}s {shown} are hidden; they were read like the others"
            found.append(note("cells-hidden", message, source, "show them and look, or delete them"))
    return found


def _merged(sheet: Worksheet) -> dict[tuple[int, int], Any]:
    """Map each cell of a merged area (row, column) to the area's first cell, which holds its content."""
    origin: dict[tuple[int, int], Any] = {}
    for area in sheet.merged_cells.ranges:
        first = sheet.cell(area.min_row, area.min_col)
        for row in range(area.min_row, area.max_row + 1):
            for column in range(area.min_col, area.max_col + 1):
                origin[row, column] = first
    return origin


def _cell(raw: SheetCell, place: Source) -> Cell:
    value = raw.value
    struck = value is not None and bool(raw.font is not None and raw.font.strike)
    if isinstance(value, list):  # rich text: runs of one font each
        struck = struck or all(_is_struck(run) for run in value if str(run).strip())
    if isinstance(value, datetime | date | time | timedelta):
        return Cell(_date_text(value), place, struck, is_date=True)
    if isinstance(value, int | float | Decimal) and not isinstance(value, bool):
        text = decimal_text(value)
        shown = _with_format(text, raw.number_format or "")
        return Cell(shown, place, struck, is_number=shown == text)
    text = "" if value is None else str(value).strip(BLANKS)
    return Cell(text.upper() if isinstance(value, bool) else text, place, struck)


def _date_text(moment: datetime | date | time | timedelta) -> str:
    if isinstance(moment, timedelta):
        return str(moment)
    if isinstance(moment, datetime):
        return moment.date().isoformat() if moment.time() == time(0) else moment.isoformat(" ")
    return moment.isoformat()


def decimal_text(number: float | Decimal) -> str:
    """Return the shortest plain decimal text of ``number`` to 15 significant digits, without exponent."""
    if isinstance(number, float):
        if number != number or number in {float("inf"), float("-inf")}:  # noqa: PLR0124 - not a number
            return str(number)
        number = Decimal(f"{number:.15g}")
    text = f"{Decimal(number):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


_THOUSANDS_OFF = re.compile(r"[0#?](?P<commas>,+)(?![0#?,])")
"""Each comma behind the last digit of a format shows thousands (ECMA-376, from memory): 4700 as 4.7 by ``0.0,``."""


_ALL_ZEROS = re.compile(r"0{5,20}")
"""``00000000`` shows leading zeros, as part numbers have them; shorter ones may be values."""
_MONEY_IN_FORMAT = re.compile(r"\[\$(?P<code>[^\]\-]+)(?:-[^\]]*)?\]|(?<!\[)(?P<sign>[€£¥₺₴$])")
"""``[$€-407] #,##0.00``, ``"$"#,##0.00``; what stands behind the hyphen is a language."""

_PIECES_IN_FORMAT = re.compile(
    r'"([^"]*(?:/|\b(?:per|je|pro|pour|par|al|por|à)\s)\s*'
    r'(?:\d|hundred|hundert|cent|thousand|tausend|mil|[CM]\b)[^"]*)"',
    re.IGNORECASE,
)
"""``0.00" €/100"``: the price of so many pieces, said by nothing but its format."""


def _with_format(text: str, number_format: str) -> str:
    """Add what the format shows beside the number: a percent sign, a unit in quotation marks, zeros in front, money."""
    positive = number_format.split(";", maxsplit=1)[0]
    plain = re.sub(r'"[^"]*"', "", positive)
    if scaled := _THOUSANDS_OFF.search(plain):
        text = decimal_text(Decimal(text).scaleb(-3 * len(scaled["commas"])))
    if "%" in plain:
        return f"{decimal_text(Decimal(text) * 100)}%"
    if _ALL_ZEROS.fullmatch(plain) and text.isdecimal():
        return text.zfill(len(plain))
    if (behind := _PIECES_IN_FORMAT.search(positive)) is not None:
        return f"{text} {behind[1].strip()}"
    money = _MONEY_IN_FORMAT.search(positive)
    shown = (money["code"] or money["sign"]).strip() if money else ""
    if shown.casefold() in CURRENCIES:
        return text if _is_built_in(number_format) else f"{text} {shown}"
    unit = _UNIT_IN_FORMAT.search(positive)
    return f"{text} {unit[1].strip()}".strip() if unit else text


def _is_built_in(number_format: str) -> bool:
    """Tell whether a format is one that shows the money of whoever looks (ECMA-376-1, 18.8.30, from memory)."""
    from openpyxl.styles.numbers import is_builtin

    return is_builtin(number_format)


def _is_struck(run: object) -> bool:
    font = getattr(run, "font", None)
    return font is not None and bool(font.strike)


def _said_of(raw: SheetCell, cell: Cell) -> list[Diagnostic]:
    if raw.data_type == "e":
        message = f"the cell holds the error {cell.text}"
        return [warning("cell-error", message, cell.source, "put the value in its place", cell.text)]
    if TURNED.search(cell.text):
        return [turned_here(cell.text, cell.source)]
    value = raw.value
    if isinstance(value, list) and not cell.struck and any(_is_struck(run) for run in value):
        message = "part of the text is struck through; all of it was read"
        return [warning("cell-part-struck", message, cell.source, "leave only what counts", cell.text[:120])]
    return []


def _formula(cell: Cell, formula: object) -> Diagnostic:
    written = str(getattr(formula, "text", formula))[:80]
    if not cell.text:
        message = "a formula without a stored result: its value is not known"
        return warning("cell-formula-empty", message, cell.source, "open and save it in a spreadsheet", written)
    message = f"a formula; its last stored result {cell.text[:40]!r} was used and may be out of date"
    return warning("cell-formula", message, cell.source, "put the value in its place", written)
