"""Parts of two safety classes, however they are written: they stand across the mains and from it to the case.

The classes X1 to X3 and Y1 to Y4, and parts that are of both: IEC 60384-14.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import facts

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize("written", ["X1Y2", "X1/Y2", "X1 Y2", "X1-Y2", "X1+Y2", "x1y2".upper(), "class X1/Y2"])
def test_a_part_of_two_classes_is_of_both(written: str) -> None:
    assert facts(f"C1 4.7nF 250V {written}\nC2 1uF 50V")[0] == "C1 4.7 nF 250 V safety X1/Y2"


def test_so_it_is_in_a_column_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Ref;Value;V;Class\nC1;4n7;250;X1Y2\nC2;2n2;250;x1 / y2\nC3;0.1uF;275;X2\n", encoding="utf-8")
    assert [p.safety for p in read_cap_list(path)[0]] == ["X1/Y2", "X1/Y2", "X2"]


@pytest.mark.parametrize("written", ["X-class", "class Y", "Klasse X", "classe Y"])
def test_a_class_without_its_number_makes_a_safety_part_all_the_same(written: str) -> None:
    assert facts(f"C1 4.7nF 250V {written}\nC2 1uF 50V")[0] == "C1 4.7 nF 250 V safety"


@pytest.mark.parametrize("written", ["Y2", "y2", "class-Y2", "Klasse-Y2", "cl.-Y2", "CLASS-Y2", "(Y2)", "(y2)"])
def test_a_class_is_heard_behind_a_hyphen_in_brackets_and_in_small_letters(written: str) -> None:
    """Nobody counts with a Y: of a small one a plain part was made."""
    assert facts(f"C1 4.7nF 250VAC {written}\nC2 1uF 50V")[0] == "C1 4.7 nF 250 V safety Y2"


def test_x2_in_brackets_beside_alternating_voltage_is_a_class_and_otherwise_a_count() -> None:
    assert facts("C1 0.1uF (X2) 275VAC\nC3 1uF 50V")[0] == "C1 0.1 µF 275 V safety X2"
    assert facts("C1 0.1uF 275 V~ (X2)\nC3 1uF 50V")[0] == "C1 0.1 µF 275 V safety X2"
    assert facts("C1, C2 10uF 25V (X2)\nC3 1uF 50V")[:2] == ["C1 10 µF 25 V", "C2 10 µF 25 V"]


@pytest.mark.parametrize("written", ["mains suppression cap", "suppression capacitor", "mains suppressor"])
def test_what_suppresses_interference_at_the_mains_is_a_safety_part(written: str) -> None:
    """IEC 60384-14 is about just these."""
    assert facts(f"C1 0.1uF 250VAC {written}\nC2 1uF 50V")[0] == "C1 0.1 µF 250 V safety"
