"""Workbooks: what the user sees in the spreadsheet is what is read.

That a spreadsheet shows no more than 15 significant digits: ECMA-376 stores IEEE 754 doubles, and
the published limits of the common spreadsheet give "number precision: 15 digits" (from memory).
"""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

import openpyxl
import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font

from recap.read.tables import read_tables
from recap.read.workbook import decimal_text

if TYPE_CHECKING:
    from pathlib import Path

    from openpyxl.worksheet.worksheet import Worksheet

    from recap.diagnostics import Diagnostic
    from recap.read.cells import Table


class Book:
    """A workbook under way and what comes of it."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / "caps.xlsx"
        self.book = openpyxl.Workbook()
        sheet = self.book.active
        assert sheet is not None
        self.sheet: Worksheet = sheet  # type: ignore[assignment]

    def read(self) -> tuple[tuple[Table, ...], list[Diagnostic]]:
        self.book.save(self.path)
        return read_tables(self.path)

    def row(self, number: int) -> list[str]:
        tables, told = self.read()
        assert tables, told
        return [cell.text for cell in tables[0].rows[number - 1].cells]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return Book(tmp_path)


def test_numbers_are_the_shortest_decimal_a_spreadsheet_shows(book: Book) -> None:
    book.sheet.append([4.7, 0.1 + 0.2, 1e-7, 1000000, 2200.0, 1 / 3])
    assert book.row(1) == ["4.7", "0.3", "0.0000001", "1000000", "2200", "0.333333333333333"]


@pytest.mark.parametrize(("number", "text"), [(4.7, "4.7"), (0.0, "0"), (-2.5, "-2.5"), (1e15, "1000000000000000")])
def test_decimal_text_has_no_exponent(number: float, text: str) -> None:
    assert decimal_text(number) == text


def test_units_and_percent_signs_of_the_number_format_are_kept(book: Book) -> None:
    book.sheet.append([4.7, 0.19, 16])
    book.sheet["A1"].number_format = '0.0" nF"'
    book.sheet["B1"].number_format = "0%"
    book.sheet["C1"].number_format = "0.00"
    assert book.row(1) == ["4.7 nF", "19%", "16"]


def test_dates_are_marked_as_such(book: Book) -> None:
    book.sheet.append(["C1", datetime(2024, 10, 16)])  # noqa: DTZ001 - a spreadsheet knows no zones
    (table,), _ = book.read()
    cell = table.rows[0].cells[1]
    assert (cell.text, cell.is_date, cell.is_number) == ("2024-10-16", True, False)


def test_merged_cells_are_filled_with_their_text(book: Book) -> None:
    book.sheet.append(["POWER", None, None])
    book.sheet.append(["C1", 47, 16])
    book.sheet.merge_cells("A1:C1")
    assert book.row(1) == ["POWER", "POWER", "POWER"]


def test_struck_cells_are_marked_and_half_struck_ones_told(book: Book) -> None:
    book.sheet["A1"] = "C9"
    book.sheet["A1"].font = Font(strike=True)
    book.sheet["B1"] = CellRichText(TextBlock(InlineFont(strike=True), "47 µF"), " 100 µF")
    (table,), told = book.read()
    assert [cell.struck for cell in table.rows[0].cells] == [True, False]
    assert [(d.code, d.source.column) for d in told] == [("cell-part-struck", "B")]


def test_every_sheet_is_read_and_a_hidden_one_noted(book: Book) -> None:
    book.sheet.append(["C1", 47])
    other = book.book.create_sheet("AUDIO")
    other.append(["C2", 10])
    other.sheet_state = "hidden"
    tables, told = book.read()
    assert [table.name for table in tables] == ["Sheet", "AUDIO"]
    assert [(d.code, d.source.sheet) for d in told] == [("sheet-hidden", "AUDIO")]


def test_blank_rows_keep_their_numbers(book: Book) -> None:
    book.sheet["A1"] = "ref"
    book.sheet["A4"] = "C1"
    (table,), _ = book.read()
    assert [(row.source.row, len(row.cells)) for row in table.rows] == [(1, 1), (2, 0), (3, 0), (4, 1)]


def test_a_formula_that_was_never_worked_out_is_told_at_its_cell_and_is_no_number(book: Book) -> None:
    book.sheet.append(["C1", "=2*50"])
    (table,), told = book.read()
    assert [cell.text for cell in table.rows[0].cells] == ["C1", "#FORMULA"]
    assert [(d.code, d.source.row, d.source.column, d.found) for d in told] == [("cell-formula-empty", 1, "B", "=2*50")]


def test_an_error_value_is_told(book: Book) -> None:
    book.sheet.append(["C1", "#REF!"])
    _, told = book.read()
    assert [(d.code, d.source.column) for d in told] == [("cell-error", "B")]


def test_hidden_rows_and_columns_are_read_and_said(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for line in (["Ref", "Value", "Volts"], ["C1", "10uF", 16], ["C2", "22uF", 25]):
        sheet.append(line)
    sheet.row_dimensions[3].hidden = True
    sheet.column_dimensions["C"].hidden = True
    path = tmp_path / "list.xlsx"
    book.save(path)
    tables, told = read_tables(path)
    assert [cell.text for cell in tables[0].rows[2].cells] == ["C2", "22uF", "25"]
    assert [d.message for d in told if d.code == "cells-hidden"] == [
        "rows 3 are hidden; they were read like the others",
        "columns C are hidden; they were read like the others",
    ]


@pytest.mark.parametrize(
    ("number", "number_format", "shown"),
    [
        (4700, '0.0,"nF"', "4.7 nF"),  # ECMA-376: a comma behind the digits shows thousands (from memory)
        (4700, "0.0,", "4.7"),
        (4700000, "0.0,,", "4.7"),
        (4700, "0,.0", "4.7"),
        (4700, "#,##0", "4700"),
        (4700, '#,##0 "µF"', "4700 µF"),
        (0.2, "0%", "20%"),
        (0.2, '0.0 "%"', "0.2 %"),
        (47, "General", "47"),
        (470025, "00000000", "00470025"),  # a part number
        (47, "000", "47"),
        (0.12, "[$€-407] #,##0.00", "0.12 €"),
        (0.12, '"$"#,##0.00000', "0.12 $"),
        (0.12, "#,##0.00 [$CHF]", "0.12 CHF"),
        (0.12, "[$-407]#,##0.00", "0.12"),  # a language, no money
        (0.12, '"$"#,##0_);("$"#,##0)', "0.12"),  # built in: shows the money of whoever looks
    ],
)
def test_a_number_is_read_as_its_format_shows_it(book: Book, number: float, number_format: str, shown: str) -> None:
    cell = book.sheet.cell(1, 1, number)
    cell.number_format = number_format
    assert book.row(1) == [shown]


def test_only_numbers_that_are_shown_as_they_are_count_as_plain(book: Book) -> None:
    book.sheet.append([47, "47", True, None, "x"])
    tables, _ = book.read()
    cells = tables[0].rows[0].cells
    assert [(cell.text, cell.is_number) for cell in cells] == [
        ("47", True),
        ("47", False),
        ("TRUE", False),
        ("", False),
        ("x", False),
    ]


@pytest.mark.parametrize(
    ("moment", "text"),
    [
        (datetime(2025, 3, 4), "2025-03-04"),  # noqa: DTZ001
        (datetime(2025, 3, 4, 5, 6), "2025-03-04 05:06:00"),  # noqa: DTZ001
        (time(5, 6), "05:06:00"),
        (timedelta(hours=30), "1 day, 6:00:00"),
    ],
)
def test_dates_and_times_as_text(book: Book, moment: datetime | time | timedelta, text: str) -> None:
    book.sheet.cell(1, 1, moment)
    tables, _ = book.read()
    cell = tables[0].rows[0].cells[0]
    assert (cell.text, cell.is_date) == (text, True)


def test_a_text_of_which_all_runs_are_struck_is_struck(book: Book) -> None:
    struck = InlineFont(strike=True)
    book.sheet["A1"] = CellRichText(TextBlock(struck, "C1"), TextBlock(struck, "10uF"))
    book.sheet["B1"] = CellRichText(TextBlock(struck, "C1"), TextBlock(InlineFont(), "10uF"))
    book.sheet["C1"] = "C1"
    tables, told = book.read()
    assert [cell.struck for cell in tables[0].rows[0].cells] == [True, False, False]
    assert [(d.code, d.source.column) for d in told] == [("cell-part-struck", "B")]


def test_what_lies_behind_the_last_filled_row_and_cell_is_left_out(book: Book) -> None:
    book.sheet["B2"] = "C1"
    book.sheet["D2"] = " "
    book.sheet["A5"] = ""
    book.sheet.row_dimensions[9].hidden = True
    tables, told = book.read()
    assert [[cell.text for cell in row.cells] for row in tables[0].rows] == [[], ["", "C1"]]
    assert [d.code for d in told] == []


@pytest.mark.parametrize("sheets", [1, 2])
def test_an_empty_workbook_is_told(book: Book, sheets: int) -> None:
    for _ in range(sheets - 1):
        book.book.create_sheet()
    tables, told = book.read()
    assert not any(table.rows for table in tables)
    assert "file-empty" in [d.code for d in told]
