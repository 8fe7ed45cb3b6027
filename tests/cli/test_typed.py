"""Quantities typed on the command line follow the rules of the lists; what has two readings is refused."""

from __future__ import annotations

from decimal import Decimal

import pytest
import typer

from recap.cli import typed


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [
        ("470uF", "470"),
        ("470", "470"),
        ("1,000", "1000"),
        ("0,47", "0.47"),
        ("46.8", "46.8"),
        ("4u7", "4.7"),
        ("47nF", "0.047"),
    ],
)
def test_capacitances(text: str, microfarads: str) -> None:
    # common practice: a comma before three digits groups thousands; a measured value may be any number
    assert typed.capacitance(text, "--cap") == Decimal(microfarads)


@pytest.mark.parametrize(
    ("text", "volts"),
    [("25", "25"), ("25V", "25"), ("6v3", "6.3"), ("1,000 V", "1000"), ("13,8", "13.8"), ("0", "0"), ("0.0V", "0")],
)
def test_voltages(text: str, volts: str) -> None:
    assert typed.volts(text, "--operating") == Decimal(volts)


@pytest.mark.parametrize("text", ["1.000uF", "47-100uF", "l00uF", "100m", "many", "", "-5uF"])
def test_a_capacitance_with_two_readings_is_refused(text: str) -> None:
    with pytest.raises(typer.BadParameter, match="470uF"):
        typed.capacitance(text, "--cap")


@pytest.mark.parametrize("text", ["1.000", "25/50V", "2SV", "16V?", "-5", "high"])
def test_a_voltage_with_two_readings_is_refused(text: str) -> None:
    with pytest.raises(typer.BadParameter, match="25V"):
        typed.volts(text, "--operating")
