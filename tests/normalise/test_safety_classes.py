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
