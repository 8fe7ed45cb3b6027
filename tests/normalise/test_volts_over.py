"""Voltages that head columns are read for no part; what stands below them is doubted, not left without a word.

Matrices of values by voltage are common practice of hand-written shopping lists.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    "text",
    [
        "Ref,10V,16V,25V\nC1,100uF,,\nC2,,47uF,\n",
        'Value,16V,25V,50V\n100uF,"C1",,\n47uF,,"C2",\n',
        "Ref  10V  16V\nC1  100uF  -\nC2  -  47uF\n",
        "| Value | 16V | 25V |\n|---|---|---|\n| 100uF | C1 | |\n| 47uF | C2 | |\n",
        "Ref;6,3V;16V\nC1;100uF;\nC2;;47uF\n",
    ],
)
def test_parts_below_voltages_that_head_columns_are_doubted(text: str) -> None:
    assert facts(text) == ["C1 100 µF ?volts-over", "C2 47 µF ?volts-over"]


@pytest.mark.parametrize(
    "text",
    ["Rails 5V 12V 24V\nC1 100uF\nC2 47uF\n", "PSU: 5V, 12V\nC1 100uF\nC2 47uF\n", "25V\nC1 100uF\nC2 47uF\n"],
)
def test_other_lines_of_voltages_head_no_columns(text: str) -> None:
    assert not any("volts-over" in each for each in facts(text))


def test_parts_with_voltages_of_their_own_are_plain() -> None:
    assert facts("Ref,10V,16V\nC1 100uF 16V\nC2 47uF 25V\n") == ["C1 100 µF 16 V", "C2 47 µF 25 V"]
