"""Tables: headers by meaning, units, original and replacement, dittos, dates, side by side (common practice)."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import openpyxl
import pytest
from openpyxl.styles import Font

from recap.normalise.caplist import read_cap_list, read_cap_text
from tests.normalise.facts import codes, fact, facts

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    "table",
    [
        "| Ref | Value (µF) | V | Mount |\n|---|---|---|---|\n| C1 | 4,7 | 50 | radial |",
        "Ref;Wert;Spannung;Bauform\n;µF;V;\nC1;4,7;50;radial",
        "Designator\tCapacitance\tVoltage\tLead style\nC1\t4.7 µF\t50V\tradial",
        "Pos.,Cap. (uF),WV,Radial/Axial\nC1,4.7,50,R",
        "Ref   Cap(uF)   Volt(V)   Mount\nC1    4.7       50        radial",
        '{| class="wikitable"\n! Ref !! Value !! Voltage !! Type\n|-\n| C1 || 4.7µF || 50V || Radial\n|}',
        "Repère;Capacité (µF);Tension;Montage\nC1;4,7;50 V;radial",
    ],
)
def test_one_part_however_the_table_is_written(table: str) -> None:
    assert facts(table) == ["C1 4.7 µF 50 V radial"]


def test_a_bare_number_without_unit_in_the_header_is_doubted() -> None:
    assert facts("Ref,Value,Voltage\nC1,10,16\nC2,.47,50") == ["C1 10 µF 16 V ?unit-missing", "C2 0.47 µF 50 V"]


def test_original_columns_count_and_replacements_are_notes() -> None:
    table = "Ref;Original;;Replacement;\n;µF;V;µF;V\nC1;100;16;100;25\nC2;;;10;50"
    assert facts(table) == ["C1 100 µF 16 V", "C2 ? ?value-missing"]
    assert facts("Part,Replacement cap\nC1,100uF 25V") == ["C1 100 µF 25 V"]


def test_two_lists_beside_each_other() -> None:
    table = "Ref,Value,V,Ref,Value,V\nC1,1uF,50,C2,10uF,16\nC3,2u2,50,,,"
    assert facts(table) == ["C1 1 µF 50 V", "C2 10 µF 16 V", "C3 2.2 µF 50 V"]


def test_the_ref_column_is_told_by_what_is_in_it() -> None:
    assert facts("#,Location,Cap\n1,C1,10uF 16V\n2,C2,10uF 16V\n3,C3,1uF 50V") == [
        "C1 10 µF 16 V", "C2 10 µF 16 V", "C3 1 µF 50 V",
    ]  # fmt: skip


def test_dittos_take_the_row_above_and_nothing_older() -> None:
    table = 'Ref | Value | Volts | Note\nC1 | 10uF | 16V | bipolar\nC2 | " | " |\nC3 | " | " | "'
    assert facts(table) == ["C1 10 µF 16 V bipolar", "C2 10 µF 16 V", "C3 10 µF 16 V ?ditto-unclear"]


def test_headers_not_understood_are_named() -> None:
    told = codes("Ref,Value,Frobnication\nC1,10uF,yes")
    assert (1, "header-unknown") in told


def test_a_count_that_does_not_match_is_doubted() -> None:
    assert facts('Ref,Qty,Value\n"C1,C2",3,10uF') == ["C1 10 µF ?count-mismatch", "C2 10 µF ?count-mismatch"]


def test_other_parts_in_a_parts_list_are_passed_over() -> None:
    table = "Reference,Value\nR1,10k\nC1,10uF\nU2,OPA9999\nL1,10uH\nQ3,BC000"
    assert facts(table) == ["C1 10 µF"]


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("Comment;Qty\n2.2uF/35V;3\n10uF/16V;2", ["- x3 2.2 µF 35 V", "- x2 10 µF 16 V"]),
        ("Type;Qté;Layer\n1000uF/6.3V;8;Bottom\n47uF/16V;2;Top", ["- x8 1000 µF 6.3 V", "- x2 47 µF 16 V"]),
        ("Qty\tGrid\tValue\tVolts\n4\tD2\t4,7uF\t250\n1\tC5\t10uF\t16", ["- x4 4.7 µF 250 V", "- 10 µF 16 V"]),
        ("Supplier;Value;V;Qty\nQ4 Parts;47uF;16 V;2", ["- x2 47 µF 16 V"]),
        ("Comment;Height;Rif.\nElko 1µF 16V;12;C21", ["C21 1 µF 16 V electrolytic H12"]),
    ],
)
def test_columns_that_are_named_oddly(table: str, expected: list[str]) -> None:
    """Squares of a map, suppliers and layers are no designators; a column of comments may hold the values."""
    assert facts(table) == expected


def workbook(path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Power"
    sheet["A1"] = "Capacitors of the Ellerby 20"
    sheet.merge_cells("A1:E1")
    for row in (
        ["Pos", "Value", "Voltage", "Size", "Note"],
        [None, "µF", "V", "mm", None],
        ["C1", 100, 16, "6.3x11", "105°C"],
        ["C2", "47", "25", datetime(2024, 10, 16, tzinfo=UTC).replace(tzinfo=None), None],
        ["C3", 4.7, 63, "5x11", None],
    ):
        sheet.append(row)
    for cell in sheet[6]:
        cell.font = Font(strike=True)
    book.create_sheet("Audio").append(["Ref", "Value"])
    book["Audio"].append(["C1", "1uF 50V NP"])
    book.save(path)


def test_a_workbook_with_title_units_dates_struck_rows_and_sheets(tmp_path: Path) -> None:
    workbook(tmp_path / "list.xlsx")
    positions, _ = read_cap_list(tmp_path / "list.xlsx")
    assert [fact(p) for p in positions] == [
        "C1 100 µF 16 V 105 °C D6.3 H11 @ Power",
        "C2 47 µF 25 V @ Power ?date-in-cell",
        "C1 1 µF 50 V bipolar @ Audio",
    ]
    assert positions[2].source is not None
    assert positions[2].source.sheet == "Audio"


@pytest.mark.parametrize("header", ["| Property | Value |\n|---|---|\n", "| Propriété | Valeur |\n|---|---|\n"])
def test_a_table_that_stands_upright_is_one_record(header: str) -> None:
    one = f"{header}| Designator | C1 |\n| Capacitance | 10 µF |\n| Voltage | 25 V |\n| Type | Electrolytic |\n"
    two = f"{header}| Designator | C2 |\n| Value | 22 µF |\n| Voltage | 16 V |\n"
    assert facts(f"{one}\nSome words.\n\n{two}") == ["C1 10 µF 25 V electrolytic", "C2 22 µF 16 V"]


def test_two_columns_of_designators_and_values_stand_as_they_are() -> None:
    assert facts("| Ref | Value |\n|---|---|\n| C1 | 10uF |\n| C2 | 22uF |\n| C3 | 1uF |\n") == [
        "C1 10 µF",
        "C2 22 µF",
        "C3 1 µF",
    ]


def test_what_else_stands_in_a_cell_for_designators() -> None:
    """Words that say where it sits are kept; kind and mounting are no note; letters of other parts are doubted."""
    cells = ["C1 near heatsink", "C2 (bipolar)", "C9 radial", "BAT-1", "A, K"]
    text = "Ref;Value;V\n" + "".join(f"{cell};10uF;16\n" for cell in cells)
    positions, _ = read_cap_text(text, "list")
    assert [(p.ref, p.note, p.kind.value, p.doubts) for p in positions] == [
        ("C1", "C1 near heatsink", "unknown", ()),
        ("C2", None, "bipolar", ()),
        ("C9", None, "unknown", ()),
        ("BAT1", None, "unknown", ("ref-other-part",)),
        ("A", None, "unknown", ()),
        ("K", None, "unknown", ()),
    ]
