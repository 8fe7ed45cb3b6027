"""Habits of parts lists that are published with open designs, and of notes on repairs.

The lines are our own; the habits are common practice of such lists.
"""

from __future__ import annotations

import pytest

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
