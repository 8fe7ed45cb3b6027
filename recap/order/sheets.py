"""Worksheets that look made by a careful person: tables with headers, widths, number formats, print set-up.

Text is always written as text. A cell of a catalogue that begins with ``=`` would else become a
formula the moment the file is opened; here it is stored as a string and marked with the quote
prefix, so that it stays one when somebody edits the cell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING, Final

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties

if TYPE_CHECKING:
    from collections.abc import Sequence

    from openpyxl.worksheet.worksheet import Worksheet

CellValue = str | int | Decimal | date | None

MONEY: Final = "#,##0.00"
UNIT_PRICE: Final = "#,##0.00####"
COUNT: Final = "#,##0"
QUANTITY: Final = "General"
DATE: Final = "yyyy-mm-dd"
TEXT: Final = "@"

A4: Final = "9"
LINE_HEIGHT: Final = 15.0
HIGHEST_ROW: Final = 409.0
"""Points; the second as spreadsheet programs have it."""
LONGEST_TEXT: Final = 32_767
"""Most characters a cell can hold (ECMA-376 spreadsheets as programs implement them)."""

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_ESCAPE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_BAD_TITLE = re.compile(r"[\[\]:*?/\\\x00-\x1f]")
_TITLE_LENGTH = 31

_HEAD_FILL = PatternFill("solid", start_color="FFE4E4E4")
FACE: Final = "Calibri"
"""What new workbooks are set in; a font without a name is shown as serif by some programs."""
_HEAD_FONT = Font(name=FACE, bold=True, size=11)
_RULE = Side(style="thin", color="FF9A9A9A")
_HEAD_BORDER = Border(top=_RULE, bottom=Side(style="medium", color="FF000000"))
_ROW_BORDER = Border(bottom=Side(style="hair", color="FF9A9A9A"))
_TOTAL_BORDER = Border(top=Side(style="medium", color="FF000000"))


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its title, width in characters, number format; text wraps where ``wrap``."""

    title: str
    width: float
    form: str = TEXT
    wrap: bool = False


def new_book() -> Workbook:
    """Return a workbook without sheets, so that every sheet is made by :func:`add_sheet`."""
    book = Workbook()
    for sheet in book.worksheets:
        book.remove(sheet)
    book.properties.creator = "recap"
    return book


def add_sheet(book: Workbook, title: str, *, landscape: bool = False) -> Worksheet:
    """Add a sheet set up for print: A4, as wide as the page, page numbers and its name in the footer."""
    sheet: Worksheet = book.create_sheet(sheet_title(title, book.sheetnames))
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = A4
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins.left = sheet.page_margins.right = 0.5
    footer = sheet.oddFooter
    assert footer is not None
    footer.left.text = "&A"
    footer.right.text = "page &P of &N"
    sheet.sheet_view.showGridLines = False
    return sheet


def sheet_title(wanted: str, taken: Sequence[str]) -> str:
    r"""Return a title a spreadsheet accepts: no ``[]:*?/\\``, at most 31 characters, unlike those taken."""
    clean = _BAD_TITLE.sub("-", plain_text(wanted)).strip(" '") or "sheet"
    lower = {name.casefold() for name in taken}
    title, number = clean[:_TITLE_LENGTH], 2
    while title.casefold() in lower:
        tail = f" {number}"
        title, number = clean[: _TITLE_LENGTH - len(tail)] + tail, number + 1
    return title


def plain_text(text: str) -> str:
    """Return text a cell can hold: characters that XML forbids become U+FFFD, and no more than fits."""
    return _CONTROL.sub("\ufffd", text)[:LONGEST_TEXT]


def put(sheet: Worksheet, row: int, column: int, value: CellValue, *, form: str = TEXT, bold: bool = False) -> Cell:
    """Write one value; text never becomes a formula, and ``_x0041_`` in it is not read as an escape."""
    cell = sheet.cell(row, column)
    assert isinstance(cell, Cell)
    if isinstance(value, str):
        cell.value = _ESCAPE.sub("_x005F_", plain_text(value))
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in "=+-@'" and value != ""
    elif value is not None:
        cell.value = value
        cell.number_format = form
    if bold:
        cell.font = _HEAD_FONT
    return cell


def put_heading(sheet: Worksheet, row: int, text: str, *, size: int = 14) -> int:
    """Write a heading in column A and return the next free row."""
    put(sheet, row, 1, text).font = Font(name=FACE, bold=True, size=size)
    return row + 1


def put_note(sheet: Worksheet, row: int, text: str, *, columns: int, bold: bool = False, lines: int = 1) -> int:
    """Write a sentence across ``columns`` columns, ``lines`` lines high; return the next free row."""
    cell = put(sheet, row, 1, text, bold=bold)
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=columns)
    sheet.row_dimensions[row].height = LINE_HEIGHT * lines
    return row + 1


def set_widths(sheet: Worksheet, columns: Sequence[Column]) -> None:
    """Give the sheet's columns their widths."""
    for index, column in enumerate(columns, 1):
        sheet.column_dimensions[get_column_letter(index)].width = column.width


def put_table(
    sheet: Worksheet,
    row: int,
    columns: Sequence[Column],
    rows: Sequence[Sequence[CellValue]],
    *,
    main: bool = True,
) -> int:
    """Write a header and rows from ``row`` on; return the next free row.

    The ``main`` table of a sheet gets its widths, a filter, a frozen header that repeats on every page.
    """
    for index, column in enumerate(columns, 1):
        head = put(sheet, row, index, column.title)
        head.font, head.fill, head.border = _HEAD_FONT, _HEAD_FILL, _HEAD_BORDER
        head.alignment = _aligned(columns, index, vertical="center", wrap=True)
    for offset, values in enumerate(rows, 1):
        for index, (column, value) in enumerate(zip(columns, values, strict=True), 1):
            cell = put(sheet, row + offset, index, value, form=column.form)
            cell.border = _ROW_BORDER
            cell.alignment = _aligned(columns, index, vertical="top", wrap=column.wrap)
        lines = lines_of(columns, values)
        if lines > 1:  # not every program makes room for wrapped text by itself
            sheet.row_dimensions[row + offset].height = min(LINE_HEIGHT * lines, HIGHEST_ROW)
    end = row + len(rows)
    if main:
        set_widths(sheet, columns)
        sheet.freeze_panes = f"B{row + 1}"
        sheet.print_title_rows = f"{row}:{row}"
        if rows:
            sheet.auto_filter.ref = f"A{row}:{get_column_letter(len(columns))}{end}"
    return end + 1


def lines_of(columns: Sequence[Column], values: Sequence[CellValue], letter: float = 1.0) -> int:
    """Return how many lines a row takes, by its columns that wrap; ``letter``: how wide one is on average."""
    return max(
        (
            sum(-(-max(len(line), 1) // int(column.width / letter)) for line in str(value or "").split("\n"))
            for column, value in zip(columns, values, strict=True)
            if column.wrap
        ),
        default=1,
    )


def put_total(sheet: Worksheet, row: int, label: str, value: CellValue, *, label_column: int, value_column: int) -> int:
    """Write a total line with a rule above it; return the next free row."""
    for column in range(label_column, value_column + 1):
        sheet.cell(row, column).border = _TOTAL_BORDER
    put(sheet, row, label_column, label, bold=True)
    put(sheet, row, value_column, value, form=MONEY, bold=True)
    return row + 1


def _aligned(columns: Sequence[Column], index: int, *, vertical: str, wrap: bool) -> Alignment:
    """Return where the cells of a column (from 1) stand: numbers to the right, text to the left and away from a number.

    ``17`` beside ``17 × 4.7 µF`` would else read as ``1717 ×``.
    """
    side, before = _side(columns[index - 1]), _side(columns[index - 2]) if index > 1 else "left"
    indent = 1 if (before, side) == ("right", "left") else 0
    return Alignment(wrap_text=wrap, vertical=vertical, horizontal=side, indent=indent)


def _side(column: Column) -> str:
    return "left" if column.form in {TEXT, DATE} else "right"


def book_bytes(book: Workbook) -> bytes:
    """Return the workbook as the bytes of an ``.xlsx`` file."""
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()
