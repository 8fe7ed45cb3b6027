"""Habits of lists beyond the common ones: what a line's end says of all, the rest of a list, words of more languages.

The lines are invented after ways of writing met in lists of repairers (common practice).
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    ("line", "volts"),
    [
        ("C1 (1000 µF) et C2 (470 µF), 25 V tous les deux", "25 V"),
        ("C1 1000uF, C2 470uF, both 25V", "25 V"),
        ("C1 = 1000uF and C2 = 470uF (both 25V)", "25 V"),
        ("C1 1000uF / C2 470uF @ 25V each", "25 V"),
        ("C1 1000 µF und C2 470 µF; je 25 V", "25 V"),
        ("C1 1000 µF, C2 470 µF, beide 16 V", "16 V"),
        ("C1 1000 µF e C2 470 µF, tutti da 25 V", "25 V"),
        ("C1 1000 µF y C2 470 µF: ambos de 25 V", "25 V"),
        ("C1 1000 µF en C2 470 µF, allebei 25 V", "25 V"),
    ],
)
def test_a_voltage_said_of_both_is_laid_on_both(line: str, volts: str) -> None:
    assert facts(line) == [f"C1 1000 µF {volts}", f"C2 470 µF {volts}"]


def test_what_each_has_of_its_own_stays() -> None:
    assert facts("C1 10uF 16V, C2 22uF 25V, both axial") == ["C1 10 µF 16 V axial", "C2 22 µF 25 V axial"]
    assert facts("C1 10uF, C2 47uF, C3 1uF all 16V radial")[0] == "C1 10 µF 16 V radial"


def test_a_voltage_behind_several_values_is_doubted_where_nothing_says_whose_it_is() -> None:
    assert facts("C1 10uF, C2 22uF 25V") == ["C1 10 µF ?volts-whose", "C2 22 µF 25 V"]
    assert facts("C1 10nF ceramic, C2 22uF 25V") == ["C1 10 nF ceramic", "C2 22 µF 25 V"]
    assert facts("All 25V:\nC1 10uF, C2 22uF 35V") == ["C1 10 µF 25 V", "C2 22 µF 35 V"]


@pytest.mark.parametrize(
    "rest",
    ["Others:", "The rest:", "All other capacitors:", "Autres :", "Sonstige:", "Übrige Elkos:", "Altri:", "Otros:",
     "Overige condensatoren:", "Övriga:", "Pozostałe:"],
)  # fmt: skip
def test_the_rest_of_a_list_is_not_what_the_heading_above_said(rest: str) -> None:
    found = facts(f"Bipolar, axial:\nC1 1uF 50V\n\n{rest}\nC2 10uF 16V")
    assert found[0] == "C1 1 µF 50 V axial bipolar"
    assert found[1] in {"C2 10 µF 16 V", "C2 10 µF 16 V electrolytic"}  # “Elkos” says so


def test_the_rest_of_a_board_stays_on_it() -> None:
    found = facts("PSU board\nBipolar:\nC1 1uF 50V\nOther caps\nC2 10uF 16V\nOther radials:\nC3 10uF 16V")
    assert found[1:] == ["C2 10 µF 16 V @ PSU board", "C3 10 µF 16 V radial @ PSU board"]


def test_a_class_of_parts_ends_with_the_next_board_but_what_is_said_of_all_boards_holds() -> None:
    assert facts("Axial:\nC1 1uF 50V\nMain board:\nC2 10uF 16V")[1] == "C2 10 µF 16 V @ Main board"
    assert facts("Axial:\nMain board:\nC2 10uF 16V") == ["C2 10 µF 16 V axial @ Main board"]
    assert facts("All axial:\nC1 1uF 50V\nMain board:\nC2 10uF 16V")[1] == "C2 10 µF 16 V axial @ Main board"


def test_other_parts_end_what_was_said_of_capacitors() -> None:
    assert facts("Tantalum:\nC1 1uF 35V\nDiodes:\nD1 1N4148\nC2 10uF 16V")[1] == "C2 10 µF 16 V"


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("1x 100", "- 100 µF ?unit-missing"),
        ("3 x 4.7", "- x3 4.7 µF ?unit-missing"),
        ("(2) 33", "- x2 33 µF ?unit-missing"),
        ("qty 3: 220", "- x3 220 µF ?unit-missing"),
        ("6 off 2.2", "- x6 2.2 µF ?unit-missing"),
        ("3x 470 50V", "- x3 470 µF 50 V ?unit-missing"),
        ("470 50V", "- 470 µF 50 V ?unit-missing"),
        ("100 16V radial", "- 100 µF 16 V radial ?unit-missing"),
        ("2 x 0.33", "- x2 0.33 µF"),
    ],
)
def test_a_bare_value_in_a_kit_is_read_and_doubted(line: str, fact: str) -> None:
    assert facts(f"4 x 10uF 25V\n2x 47uF 16V\n{line}\n")[2:] == [fact]


@pytest.mark.parametrize("line", ["2x 7805", "2 x 1k", "3x BC547", "2x 10 ohm", "1x 40-pin socket", "3x 555"])
def test_other_parts_in_a_kit_are_no_values(line: str) -> None:
    assert facts(f"4 x 10uF 25V\n2x 47uF 16V\n{line}\n")[2:] == []


def test_where_counts_stand_behind_the_value_comes_first() -> None:
    assert facts("10uF x 4\n22uF x 2\n100 x 3\n")[2] == "- x3 100 µF ?unit-missing"
