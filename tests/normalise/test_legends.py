"""Lines that explain a list's own marks, and words of the trade that look like others. Invented, common practice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise import legends
from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts, read

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    "legend",
    [
        "(np) = non polarized, (a) = axial",
        "NP = bipolar; (a) = axial",
        "Legend: (a): axial, (np): non-polar, LS = lead spacing",
    ],
)
@pytest.mark.parametrize("above", [True, False])
def test_a_legend_says_nothing_of_all_parts(legend: str, above: bool) -> None:
    records = "C1 1uf @ 50v (np)\nC2 10uf @ 25v\nC3 470uf @ 16v (a)"
    text = f"Some monitor\n\n{legend}\n\n{records}" if above else f"Some monitor\n\n{records}\n\n{legend}"
    assert facts(text) == ["C1 1 µF 50 V bipolar", "C2 10 µF 25 V", "C3 470 µF 16 V axial"]
    assert "legend-read" in {said.code for said in read(text)[1]}


def test_marks_of_a_legend_are_understood_as_it_says() -> None:
    legend = "E = electrolytic, MY = mylar, T = tantalum"
    assert facts(f"Some monitor\n\n{legend}\n\nC1 10uF 25V E\nC2 22nF 63V MY\nC3 1uF 35V T\nC4 47uF 16V") == [
        "C1 10 µF 25 V electrolytic",
        "C2 22 nF 63 V film",
        "C3 1 µF 35 V tantalum",
        "C4 47 µF 16 V",
    ]


@pytest.mark.parametrize("heading", ["Type: axial", "NP: C1 10uF 25V", "Axial = C1"])
def test_what_is_no_legend(heading: str) -> None:
    assert "legend-read" not in {said.code for said in read(f"Some monitor\n\n{heading}\nC7 10uF 25V")[1]}


def test_the_intermediate_frequency_is_no_condition() -> None:
    assert facts("A tuner\n\nIF board: 10uF 16V (C11), 1uF 50V (C14).") == [
        "C11 10 µF 16 V @ IF board",
        "C14 1 µF 50 V @ IF board",
    ]
    assert facts("A tuner\n\nIF strip\nC2 10uF 16V") == ["C2 10 µF 16 V @ IF strip"]


def test_a_unit_may_have_a_column_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    rows = "1;10;uF;16;R;C1\n1;100;nF;63;A;C2\n1;470;pF;100;R;C3\n"
    path.write_text(f"Qty;Value;Unit;Volts;Lead;Ref\n{rows}", encoding="utf-8")
    assert [fact(position) for position in read_cap_list(path)[0]] == [
        "C1 10 µF 16 V radial",
        "C2 0.1 µF 63 V axial",
        "C3 470 pF 100 V radial",
    ]


def test_keys_over_indented_records_are_none_of_them() -> None:
    records = "  - ref: C1\n    value: 47uF\n    voltage: 25V\n  - ref: C2\n    value: 10uF\n    voltage: 50V\n"
    assert facts(f"capacitors:\n{records}") == ["C1 47 µF 25 V", "C2 10 µF 50 V"]


def test_a_peak_voltage_is_none_of_the_second_section() -> None:
    """``350/385 V`` on a can is its working and its peak voltage (common practice of German lists)."""
    assert facts("C20 Elko 50+50 µF 350/385 V") == [
        "C20a 50 µF electrolytic ?alternatives ?can-sections",
        "C20b 50 µF electrolytic ?alternatives ?can-sections",
    ]
    assert facts("C20 40+20uF 450/350V") == ["C20a 40 µF 450 V ?can-sections", "C20b 20 µF 350 V ?can-sections"]


def test_an_unknown_column_of_ratings_is_told_aloud(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Ref,Value,Quux\nC1,10uF,25\nC2,47uF,16\n", encoding="utf-8")
    _, told = read_cap_list(path)
    assert [(said.code, said.severity.name) for said in told if said.code == "header-unknown"] == [
        ("header-unknown", "WARNING")
    ]


@pytest.mark.parametrize("header", ["Vn", "Vr", "Vmax", "U", "Unenn"])
def test_symbols_of_rated_voltages_head_them(header: str) -> None:
    assert facts(f"Ref    Val       {header}     Type\nC1     10 µF     25    film\nC2     47 µF     16    film") == [
        "C1 10 µF 25 V film",
        "C2 47 µF 16 V film",
    ]


@pytest.mark.parametrize("text", ["20x20x20 mfd-450 volt", "20 x 20 x 20 µF 450V", "20-20-20 mfd-450 volt"])
def test_sections_with_crosses_or_dashes(text: str) -> None:
    assert facts(f"C2 {text}") == [f"C2{letter} 20 µF 450 V ?can-sections" for letter in "abc"]


def test_two_values_that_fall_at_a_high_voltage_are_sections() -> None:
    assert facts("C7 40-20 mfd-450 volt") == ["C7a 40 µF 450 V ?can-sections", "C7b 20 µF 450 V ?can-sections"]
    assert facts("C7 47-100uF 25V") == ["C7 ? 25 V ?alternatives"]
    assert facts("C7 40-40-20-10 mfd 450V")[3] == "C7d 10 µF 450 V ?can-sections"


def test_a_german_lead_pitch_in_front_of_the_value_is_no_resistor() -> None:
    assert facts("C2: Ø10 x 16, RM5, 470µF/25V") == ["C2 470 µF 25 V D10 H16 P5"]


def test_values_as_items_over_designators_as_items() -> None:
    items = "  - 100uF 25V\n    - C5 (under the heatsink)\n    - C6\n  - 1uF 50V\n    - C7"
    assert facts(f"# An amplifier\n\n- Power board\n{items}") == [
        "C5 100 µF 25 V @ Power board",
        "C6 100 µF 25 V @ Power board",
        "C7 1 µF 50 V @ Power board",
    ]


def test_a_backslash_in_a_legend_is_text_like_any_other() -> None:
    legend = legends.read("(a) = axial \\q, (r) = radial")
    assert legend is not None
    assert legends.spelt_out("C1 10uF 25V (a)", legend) == "C1 10uF 25V (axial \\q)"


HEAD = "Ref,Value,Volts,Remarks\n"


@pytest.mark.parametrize(
    ("legend", "mark"),
    [
        ("B = bipolar,H = 105C,,", "B"),
        ("Legend:,B = bipolar,H = 105C,", "B"),
        ("B = bipolar,,,\nH = 105°C,,,", "B"),
        ("Legend,,,\nB,bipolar,,\nH,105 °C,,", "B"),
        ("B,=,bipolar,\nH,=,105°C,", "B"),
        ("NP = bipolar,* = 105C,,", "NP"),
        ("Key: B = bipolar; H = 105C,,,", "B"),
    ],
)
@pytest.mark.parametrize("above", [True, False])
def test_legends_in_the_cells_of_a_table(tmp_path: Path, legend: str, mark: str, above: bool) -> None:
    hot = "*" if "*" in legend else "H"
    rows = f"C1,10uF,25,{mark}\nC2,22uF,25,{hot}\nC3,47uF,25,Board B\nC4,1uF,25,{mark} / {hot}\n"
    text = f"{legend}\n{HEAD}{rows}" if above else f"{HEAD}{rows},,,\n{legend}\n"
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    wanted = ["C1 10 µF 25 V bipolar", "C2 22 µF 25 V 105 °C", "C3 47 µF 25 V", "C4 1 µF 25 V 105 °C bipolar"]
    assert [fact(position) for position in read_cap_list(path)[0]] == wanted
    in_pairs = legend.startswith(("Legend,,", "B,="))
    assert facts(text) == wanted or (in_pairs and above)  # pasted, such lines above the table are none of it


def test_a_legend_on_a_sheet_of_its_own_holds_for_the_book(tmp_path: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    book.active.title = "Legend"
    for row in (("B", "bipolar"), ("*", "105 °C")):
        book["Legend"].append(row)
    sheet = book.create_sheet("Main board")
    for row in (("Ref", "Value", "V", "Note"), ("C1", "10uF", 25, "B"), ("C2*", "22uF", 25, "")):
        sheet.append(row)
    path = tmp_path / "list.xlsx"
    book.save(path)
    facts_read = [fact(position) for position in read_cap_list(path)[0]]
    assert facts_read == ["C1 10 µF 25 V bipolar @ Main board", "C2 22 µF 25 V 105 °C @ Main board"]


@pytest.mark.parametrize("legend", ["* = 105C, ** = bipolar", "* : 105 °C; ** : bipolar"])
def test_signs_of_a_legend_over_the_records(legend: str) -> None:
    assert facts(f"{legend}\nC1* 10uF 16V\nC2** 10uF 16V\nC3 10uF 16V *\nC4 10uF 16V") == [
        "C1 10 µF 16 V 105 °C",
        "C2 10 µF 16 V bipolar",
        "C3 10 µF 16 V 105 °C",
        "C4 10 µF 16 V",
    ]


def test_one_sign_above_or_below_is_only_of_what_bears_it() -> None:
    wanted = ["C1 10 µF 16 V 105 °C", "C2 10 µF 16 V"]
    assert facts("* = 105°C\nC1* 10uF 16V\nC2 10uF 16V") == wanted
    assert facts("C1* 10uF 16V\nC2 10uF 16V\n* = 105°C") == wanted


def test_what_states_a_quantity_or_a_place_is_no_legend_of_cells() -> None:
    assert facts("Ref,Value,Volts,Remarks\nC1,10uF,25,A\nA = 47uF,,,\n")[0].startswith("C1 10 µF 25 V")
    assert facts("Ref,Value,Volts\nC1,10uF,25\nA,axial,\nC2,22uF,16\n")[1] == "A ? axial ?value-missing"
