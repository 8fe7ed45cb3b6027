"""Voltages that head columns are those of what stands below them; where that isn't plain, it is doubted.

Matrices of values by voltage are common practice of hand-written shopping lists.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    ("text", "volts"),
    [
        ("Ref,10V,16V,25V\nC1,100uF,,\nC2,,47uF,\n", ("10", "16")),
        ('Value,16V,25V,50V\n100uF,"C1",,\n47uF,,"C2",\n', ("16", "25")),
        ("Ref  10V  16V\nC1  100uF  -\nC2  -  47uF\n", ("10", "16")),
        ("| Value | 16V | 25V |\n|---|---|---|\n| 100uF | C1 | |\n| 47uF | C2 | |\n", ("16", "16")),
        ("Ref;6,3V;16V\nC1;100uF;\nC2;;47uF\n", ("6.3", "16")),
    ],
)
def test_parts_below_voltages_that_head_columns_have_these(text: str, volts: tuple[str, str]) -> None:
    assert facts(text) == [f"C1 100 µF {volts[0]} V", f"C2 47 µF {volts[1]} V"]


@pytest.mark.parametrize(
    "text",
    [
        'Value,16V,25V,50V\n100uF,"C1",,2\n47uF,,"C2",\n',
        "Ref  10V  16V\nC1  100uF  -\nC2  see text  47uF\n",
        "Ref;Value;6,3V;16V\nC1;100uF;x;\nC2;47uF;;x\n",
    ],
)
def test_where_it_is_not_plain_which_voltage_is_whose_the_parts_are_doubted(text: str) -> None:
    assert [each.split(" ?")[0] for each in facts(text)][:1] == ["C1 100 µF"]
    assert all("?" in each for each in facts(text))


@pytest.mark.parametrize(
    "text",
    ["Rails 5V 12V 24V\nC1 100uF\nC2 47uF\n", "PSU: 5V, 12V\nC1 100uF\nC2 47uF\n", "25V\nC1 100uF\nC2 47uF\n"],
)
def test_other_lines_of_voltages_head_no_columns(text: str) -> None:
    assert not any("volts-over" in each for each in facts(text))


def test_parts_with_voltages_of_their_own_are_plain() -> None:
    assert facts("Ref,10V,16V\nC1 100uF 16V\nC2 47uF 25V\n") == ["C1 100 µF 16 V", "C2 47 µF 25 V"]
