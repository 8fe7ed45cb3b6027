"""Files of an order: what a spreadsheet or a basket is handed must be what the catalogue says, and inert."""

from __future__ import annotations

import csv
import io
import zipfile
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from recap.order.baskets import FORMULA_STARTS, basket, basket_field, file_names, file_stem
from recap.order.cautions import LETHAL, PRICES, TRAINED
from recap.order.files import WouldOverwriteError, write_order_files
from tests.order.sample import a_report, an_order

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook


def written(tmp_path: Path, first: str = "=1+1") -> Workbook:
    write_order_files(tmp_path / "out", a_report(first))
    return load_workbook(tmp_path / "out" / "order.xlsx")


def test_one_workbook_and_one_basket_per_supplier(tmp_path: Path) -> None:
    done = write_order_files(tmp_path / "out", a_report("HRN-47-25"))
    assert [path.name for path in done.paths] == ["order.xlsx", "order-shop-a.csv", "order-shop-b.csv"]
    assert (tmp_path / "out" / "order-shop-a.csv").read_text() == "part,quantity\nHRN-47-25,4\nSW-1,1\n"
    assert (done.cautions, done.stale) == ((), ())


def test_the_workbook_has_a_sheet_for_every_question(tmp_path: Path) -> None:
    book = written(tmp_path)
    assert book.sheetnames == [
        "Summary",
        "Order shop-a",
        "Order shop-b",
        "Needs",
        "By set",
        "Drawer",
        "Unmet",
        "Comparison",
    ]


def cells(book: Workbook, sheet: str) -> list[list[object]]:
    return [[value for value in row if value is not None] for row in book[sheet].iter_rows(values_only=True)]


def test_the_workbook_says_what_kills_and_leaves_it_to_those_who_are_trained(tmp_path: Path) -> None:
    said = {value for row in cells(written(tmp_path), "Summary") for value in row}
    assert {LETHAL, TRAINED, PRICES} <= said


def test_what_is_not_covered_stands_on_the_first_sheet_and_with_its_reason(tmp_path: Path) -> None:
    book = written(tmp_path)
    assert any("NOT COVERED: 1 pieces of 1 groups" in str(row[0]) for row in cells(book, "Summary") if row)
    (row,) = (row for row in cells(book, "Unmet") if row and row[0] == "8 µF 600 V axial")
    assert row == [
        "8 µF 600 V axial",
        1,
        "no part has the voltage",
        "shop-b AX 8/450 (no): 450 V is below the old 600 V",
        "set-2 C77",
    ]


def test_who_gets_what_is_dealt_by_set_board_and_designator_and_the_drawer_goes_first(tmp_path: Path) -> None:
    rows = [row for row in cells(written(tmp_path, "HRN"), "By set") if row and str(row[0]).startswith("set-")]
    assert [(row[0], row[1], row[2]) for row in rows[:4]] == [
        ("set-1", "no board named", "C30"),
        ("set-1", "AUDIO", "C2"),
        ("set-1", "POWER", "C9"),
        ("set-1", "POWER", "C10"),
    ]
    assert [row[-1] for row in rows[1:4]] + [rows[0][-2]] == ["drawer", "drawer", "shop-a", "shop-b"]


def test_money_is_exact_and_formatted(tmp_path: Path) -> None:
    sheet = written(tmp_path)["Order shop-b"]
    by_label = {row[-5].value: row[-3] for row in sheet.iter_rows(min_row=5) if row[-5].value}
    assert by_label["goods"].value == 3.125  # 10 × 0.3125, nothing rounded
    assert by_label["goods"].number_format == "#,##0.00"
    assert by_label["landed, EUR"].value == pytest.approx((3.125 + 5.90) * 1.19 * 0.92)


def test_every_sheet_prints_on_paper_a_person_can_read(tmp_path: Path) -> None:
    for sheet in written(tmp_path).worksheets:
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        setup, footer = sheet.sheet_properties.pageSetUpPr, sheet.oddFooter
        assert setup is not None
        assert setup.fitToPage
        assert footer is not None
        assert "&P" in (footer.right.text or "")
        if sheet.title != "Summary":
            assert sheet.freeze_panes is not None
            assert sheet.print_title_rows is not None


HOSTILE = ["=1+1", "+1", "-4711", "@SUM(A1)", "\t=1", '=HYPERLINK("http://x.example")', "A;=1+1", "'x", "_x003D_1+1"]


@pytest.mark.parametrize("number", HOSTILE)
def test_no_text_of_a_catalogue_becomes_a_formula_in_the_workbook(tmp_path: Path, number: str) -> None:
    book = written(tmp_path, number)
    for sheet in book.worksheets:
        assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "n", "d", "inlineStr"}
    with zipfile.ZipFile(tmp_path / "out" / "order.xlsx") as raw:
        sheets = [raw.read(name).decode() for name in raw.namelist() if "worksheets" in name]
    assert not any("<f>" in sheet for sheet in sheets)


def test_text_that_looks_like_a_spreadsheet_escape_is_shown_as_it_is(tmp_path: Path) -> None:
    # ECMA-376 part 1, 22.9.2.19 (ST_Xstring): _x0041_ in a string stands for the letter A; its own
    # underscore is escaped as _x005F_ (from memory)
    write_order_files(tmp_path / "out", a_report("KW_x0041_7"))
    with zipfile.ZipFile(tmp_path / "out" / "order.xlsx") as raw:
        assert b"KW_x005F_x0041_7" in raw.read("xl/worksheets/sheet2.xml")


@pytest.mark.parametrize("number", ["HRN-47-25", "KW.R-4.7-50", "1N/5", "AX 0.47", "#7", "(9)", "'x"])
def test_a_harmless_number_reaches_the_basket_byte_for_byte(number: str) -> None:
    assert basket_field(number) == number


@pytest.mark.parametrize("number", HOSTILE[:6])
def test_a_number_that_spreadsheets_would_run_is_defused_and_named(tmp_path: Path, number: str) -> None:
    done = write_order_files(tmp_path / "out", a_report(number))
    assert len(done.cautions) == 1
    assert repr(number) in done.cautions[0]


def test_other_delimiters_inside_a_number_are_quoted() -> None:
    # a program set to ";" would else cut "=1+1" out of the middle as a cell of its own
    assert basket_field("A;=1+1") == '"A;=1+1"'
    assert basket_field('3" coil, 7') == '"3"" coil, 7"'


@given(st.text(min_size=1).filter(str.strip))
def test_no_basket_cell_starts_like_a_formula_and_every_line_survives(number: str) -> None:
    text = basket(an_order(number).suppliers[0]).text
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len(rows) == 3
    assert rows[1][1] == "4"
    assert rows[1][0].lstrip()[:1] not in set(FORMULA_STARTS)
    if number[0].isalnum() and number.isprintable():
        assert rows[1][0] == number


@given(st.text())
@settings(max_examples=200)
def test_a_file_name_never_leaves_its_folder(supplier: str) -> None:
    stem = file_stem(supplier)
    assert Path(stem).name == stem
    assert not stem.startswith((".", "-"))
    assert 0 < len(stem) <= 60


@pytest.mark.parametrize(
    ("supplier", "stem"),
    [("../../etc/passwd", "etc-passwd"), ("a\\b:c", "a-b-c"), ("Köhler & Co.", "Köhler-Co"), ("..", "supplier")],
)
def test_path_tricks_in_a_suppliers_name(supplier: str, stem: str) -> None:
    assert file_stem(supplier) == stem


def test_suppliers_that_differ_only_in_case_or_signs_get_files_of_their_own() -> None:
    names = file_names(["Shop", "shop", "shop?"])
    assert list(names.values()) == ["order-Shop.csv", "order-shop-2.csv", "order-shop-3.csv"]


def test_nothing_is_overwritten_in_silence(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "order-shop-b.csv").write_text("mine")
    with pytest.raises(WouldOverwriteError) as refused:
        write_order_files(out, a_report())
    assert [path.name for path in refused.value.paths] == ["order-shop-b.csv"]
    assert [path.name for path in out.iterdir()] == ["order-shop-b.csv"]
    assert (out / "order-shop-b.csv").read_text() == "mine"


def test_a_basket_of_an_earlier_order_is_named_not_deleted(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "order-gone.csv").write_text("part,quantity\nX,1\n")
    done = write_order_files(out, a_report(), force=True)
    assert [path.name for path in done.stale] == ["order-gone.csv"]
    assert (out / "order-gone.csv").exists()


@given(st.text(max_size=40))
@settings(max_examples=25, deadline=None)
def test_any_suppliers_name_makes_a_book_that_opens(tmp_path_factory: pytest.TempPathFactory, supplier: str) -> None:
    out = tmp_path_factory.mktemp("out") / "o"
    done = write_order_files(out, a_report("N-1", supplier))
    assert all(path.parent == out for path in done.paths)
    assert len(load_workbook(out / "order.xlsx").sheetnames) == 8


@pytest.mark.parametrize("number", ["0012", "1E5", "12345678901234567", "3-10", "3/10", "3.10", "MAR1", "Sep-02"])
def test_a_number_that_a_spreadsheet_would_change_on_opening_is_named(tmp_path: Path, number: str) -> None:
    done = write_order_files(tmp_path / "out", a_report(number))
    assert len(done.cautions) == 1
    assert number in done.cautions[0]
    assert "order.xlsx" in done.cautions[0]
    assert number in (tmp_path / "out" / "order-shop-a.csv").read_text()


@pytest.mark.parametrize("number", ["100-50", "E12", "1200", "MARK1", "3-10-A", "565-1106-ND"])
def test_a_number_that_a_spreadsheet_leaves_alone_is_not(tmp_path: Path, number: str) -> None:
    assert write_order_files(tmp_path / "out", a_report(number)).cautions == ()


def test_a_count_does_not_run_into_the_count_beside_it(tmp_path: Path) -> None:
    """17 covered, from "17 × A": without room between them it reads 1717 × A."""
    for sheet in written(tmp_path).worksheets:
        for row in sheet.iter_rows():
            for left, right in pairwise(row):
                if left.alignment.horizontal == "right" and right.alignment.horizontal == "left":
                    assert right.alignment.indent > 0


def test_text_of_several_lines_has_room_in_any_program(tmp_path: Path) -> None:
    report = a_report()
    told = replace(report.unmet[0], reason="no part has the voltage; " * 12)
    write_order_files(tmp_path / "out", replace(report, unmet=(told,)))
    sheet = load_workbook(tmp_path / "out" / "order.xlsx")["Unmet"]
    assert float(sheet.row_dimensions[4].height or 0) > 4 * 15
    assert {cell.font.name for row in sheet.iter_rows() for cell in row} == {"Calibri"}


def test_every_heading_of_a_sheet_has_room() -> None:
    """A heading as long as its column is cut or broken over the line above."""
    from recap.fit import bags_xlsx
    from recap.order import book, sheets

    held = [value for module in (book, bags_xlsx) for value in vars(module).values() if isinstance(value, tuple | list)]
    columns = [column for value in held for column in value if isinstance(column, sheets.Column)]
    assert columns
    assert [column.title for column in columns if len(column.title) + 1 > column.width] == []
