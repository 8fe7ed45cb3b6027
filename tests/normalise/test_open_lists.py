"""Habits of parts lists that are published with open designs, and of notes on repairs.

The lines are our own; the habits are common practice of such lists.
"""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("C_PS1 10uF 25V", ["C_PS1 10 µF 25 V"]),
        ("C_IN, C_OUT 22uF 16V", ["C_IN 22 µF 16 V", "C_OUT 22 µF 16 V"]),
        ("CE-101 10uF 16V", ["CE101 10 µF 16 V"]),
        ("C.12: 10uF 16V", ["C12 10 µF 16 V"]),
        ("EC3 10uF 16V", ["EC3 10 µF 16 V"]),
        ("Ref;Value\nC_boost;10uF\nCIN, COUT2;22uF\n", ["C_boost 10 µF", "CIN 22 µF", "COUT2 22 µF"]),
        ("Ref;Value;Volts\nC1;10uF;16\nCONN1;1;\nCOIL;10uH;\n", ["C1 10 µF 16 V"]),
    ],
)
def test_designators_that_are_names(text: str, expected: list[str]) -> None:
    assert facts(text) == expected


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 10uF next to the 5V regulator", "C1 10 µF"),
        ("C1 10uF on the 12V line", "C1 10 µF"),
        ("C1 10uF for 24V relay", "C1 10 µF"),
        ("C1 10uF 5V rail", "C1 10 µF ?rail-voltage"),
        ("C1 10uF +12V", "C1 10 µF ?rail-voltage"),
        ("C1 10uF 25V on 5V rail", "C1 10 µF 25 V"),
        ("C1 10uF 16V (12V regulator)", "C1 10 µF 16 V"),
        ("C1 10uF 16V, +12V supply", "C1 10 µF 16 V"),
        ("C1 1000uF 16V regulator output", "C1 1000 µF 16 V"),
        ("C1 1000uF 25V power supply", "C1 1000 µF 25 V"),
        ("C1 10uF 12V", "C1 10 µF 12 V"),
    ],
)
def test_the_voltage_of_a_supply_is_no_rating(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_another_parts_voltage_in_a_column_of_words_is_no_rating() -> None:
    table = "Ref;Value;Description\nC1;10uF 25V;by transformer 9V\nC2;10uF;5V regulator\nC3;10uF;16V electrolytic\n"
    assert facts(table) == ["C1 10 µF 25 V", "C2 10 µF ?rail-voltage", "C3 10 µF 16 V electrolytic"]


def test_two_ratings_for_alternating_voltage_are_no_voltages_of_sections() -> None:
    assert facts("C1 35+5 MFD 370/440VAC") == [
        "C1a 35 µF ?alternatives ?can-sections",
        "C1b 5 µF ?alternatives ?can-sections",
    ]
    assert facts("C2 40+20uF 450/350V") == ["C2a 40 µF 450 V ?can-sections", "C2b 20 µF 350 V ?can-sections"]


def test_a_column_of_values_may_hold_the_mount_or_package_where_another_has_the_value() -> None:
    table = "Ref;Value;Spec\nC1;Radial;10uF 25V\nC2;0805 / THT;100nF\nC3;0603;1uF\nC4;Radial;\n"
    assert facts(table) == ["C1 10 µF 25 V radial", "C2 0.1 µF", "C3 1 µF smd", "C4 ? radial ?value-missing"]


def test_shop_numbers_that_look_like_designators_are_told_by_their_column() -> None:
    table = "Ref;Value;Volts;Ordered\nC3;10uF;25;C1525\nC1;10uF;25;C14663\nC2;10uF;25;C15850\n"
    assert facts(table) == ["C3 10 µF 25 V", "C1 10 µF 25 V", "C2 10 µF 25 V"]


@pytest.mark.parametrize("said", ["electrolytic (black, PET)", "electrolytic, PET sleeve", "electrolytic (PVC)"])
def test_the_plastic_of_a_sleeve_is_no_kind(said: str) -> None:
    assert facts(f"C1 10uF 25V {said}") == ["C1 10 µF 25 V electrolytic"]
    assert facts(f"Ref;Value;Type\nC1;10uF;{said}\n") == ["C1 10 µF electrolytic"]


def test_two_kinds_still_contradict_each_other() -> None:
    assert facts("C1 10uF 25V electrolytic film") == ["C1 10 µF 25 V ?kind-conflict"]


def test_a_page_that_says_one_part_several_times_is_doubted() -> None:
    page = "Value: 100µF\nVoltage: 25V\n\nSpecifications\nCapacitance: 100µF\nVoltage: 25V\nLead spacing: 2.5mm\n"
    assert [code for _, code in codes(page) if code == "counted-twice"] == ["counted-twice"]


@pytest.mark.parametrize(
    ("line", "refs"),
    [
        ("2x 100uF 25V E12, E13", ["E12", "E13"]),
        ("4 x low ESR 220uF 25v (E101, E201, E202, E207)", ["E101", "E201", "E202", "E207"]),
        ("1 x 22uF 25V (E7)", ["E7"]),
    ],
)
def test_electrolytics_with_a_letter_of_their_own(line: str, refs: list[str]) -> None:
    assert [fact.split(" ")[0] for fact in facts(line)] == refs


def test_one_such_name_without_a_count_is_a_remark() -> None:
    assert facts("22uF 25V E7")[0].startswith("- 22 µF 25 V")


@pytest.mark.parametrize("said", ["Bi-Polarized", "bipolarised", "Electrolytic Capacitors Bi-Polarized (Radial)"])
def test_bipolarised_is_bipolar(said: str) -> None:
    assert "bipolar" in facts(f"C1 47u 25V {said}")[0]


def test_the_length_of_a_box_is_no_height() -> None:
    assert facts("C1 1uF film L7.2mm P5mm") == ["C1 1 µF film P5"]
    assert facts("C1 1uF 63V electrolytic radial D5mm L11mm P2mm") == ["C1 1 µF 63 V radial electrolytic D5 H11 P2"]
    assert facts("C1 1uF film axial L=20mm D=8mm") == ["C1 1 µF axial film D8 H20"]


def test_one_value_in_two_units_is_one_part() -> None:
    assert facts("0.1µF/100nF 16V") == ["- 0.1 µF 16 V"]
    assert facts("C1 32/32µF 350V") == ["C1a 32 µF 350 V ?can-sections", "C1b 32 µF 350 V ?can-sections"]


def test_other_parts_with_figures_that_look_like_values_are_no_capacitors() -> None:
    table = 'Component;Value;Description\nC1;1uF;capacitor\nOLED1;0.91" display;screen\n7805;L7805;5V regulator\n'
    assert facts(table) == ["C1 1 µF"]


def test_words_beside_a_designator_in_its_cell_are_kept() -> None:
    positions, _ = read_cap_text("Part;Value\nC1 Elko;100µF\nC4 Elko (only on the second board);10µF/25V\n", "list.txt")
    assert "only on the second board" in (positions[1].note or "")


def test_a_bracket_of_links_over_several_lines_belongs_to_its_record() -> None:
    text = "Capacitors:\n- 100nF, 16V (\n[one](https://example.org/a) /\n[two](https://example.org/b) ) - **7 pcs.**\n"
    assert facts(text) == ["- x7 0.1 µF 16 V"]


def test_a_column_without_a_header_may_hold_the_counts() -> None:
    table = "Rectifier and so on | | |\n--|--|--\nLM7805 | 1 | 3\nCapacitor 100nF | 2 | 0,2\nElko 220uF 25V | 1 | 1,1\n"
    assert facts(table) == ["- x2 0.1 µF", "- 220 µF 25 V electrolytic"]


@pytest.mark.parametrize("net", ["5V_SERVO", "at 5V_MOTOR", "VCC_5V", "+3V3_A"])
def test_the_name_of_a_net_is_no_rating(net: str) -> None:
    assert facts(f"C8 100nF ceramic {net}") == ["C8 0.1 µF ceramic"]


def test_a_column_of_nets_rates_no_part() -> None:
    assert facts("Ref;Value;Net\nC1;10uF;+5V\nC2;10uF 16V;12V\n") == ["C1 10 µF", "C2 10 µF 16 V"]


def test_a_row_that_offers_another_part_for_listed_places_is_no_position() -> None:
    table = "Qty;Component;Value\n2;C8, C9;470nF 63V\n->;alternative C8, C9;470nF 100V\n1;C3;470pF 100V\n"
    assert facts(table) == ["C8 0.47 µF 63 V", "C9 0.47 µF 63 V", "C3 470 pF 100 V"]
    assert (3, "line-passed-over") in codes(table)


def test_a_number_with_a_minus_sign_in_its_cell_is_doubted() -> None:
    table = "Ref;Value;Volts\nC1;-10uF;16V\nC2;10uF;-16V\nC3;10uF;16V\n"
    assert [("cell-unread" in fact) for fact in facts(table)] == [True, True, False]


def test_colours_of_a_terminal_are_no_part_of_the_text() -> None:
    assert facts("\x1b[31mC2 10uF 16V\x1b[0m") == ["C2 10 µF 16 V"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("1 Elko 100uF 16V", "- 100 µF 16 V electrolytic"),
        ("2 Elkos 100uF 16V", "- x2 100 µF 16 V electrolytic"),
        ("3 capacitors 10nF 100V", "- x3 10 nF 100 V"),
        ("2 condensateurs de 470nF", "- x2 0.47 µF"),
    ],
)
def test_a_number_in_front_of_a_word_for_capacitors_counts_them(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_shop_numbers_in_the_place_of_designators_are_doubted() -> None:
    text = "| THT | C88751 | 2 | 1000uF 16V |\n| SMT | C1525 | 4 | 100nF 16V |\n| SMT | C15850 | 1 | 10uF 25V |\n"
    assert all("ref-unread" in fact for fact in facts(text))
    assert facts("C10001 10uF 16V\nC10002 22uF 16V\nC10105 22uF 16V") == [
        "C10001 10 µF 16 V",
        "C10002 22 µF 16 V",
        "C10105 22 µF 16 V",
    ]


def test_a_resistor_over_capacitors_is_no_board() -> None:
    found = facts("Parts:\n\n* 100KOhm resistor (optional)\n- 100uF/10V elko\n- 10uF/10V elko")
    assert not [fact for fact in found if "@" in fact]


def test_actual_values_that_no_meter_shows_are_those_on_the_parts() -> None:
    table = "Ref;Schematic value;Actual value;Volts\nC5;100uF;{};16\nC6;10uF;10uF;25\n"
    assert facts(table.format("220uF")) == ["C5 100 µF 16 V ?columns-disagree", "C6 10 µF 25 V"]
    assert facts(table.format("87.3uF")) == ["C5 100 µF 16 V", "C6 10 µF 25 V"]


@pytest.mark.parametrize(
    ("package", "sizes"),
    [("CAP-TH_BD6.3-P2.50-D1.0-FD", "D6.3 P2.5"), ("CAP-SMD_BD8.0-L8.3-W8.3-LS9.0-FD", "smd D8")],
)
def test_the_pins_of_a_librarys_part_are_not_its_body(package: str, sizes: str) -> None:
    assert facts(f"Ref;Value;Footprint\nC1;10uF;{package}\n") == [f"C1 10 µF {sizes}"]
