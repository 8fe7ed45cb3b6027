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
