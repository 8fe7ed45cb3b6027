"""Preferred numbers against independent libraries, and the old values beside them."""

from __future__ import annotations

from decimal import Decimal

import eseries
import pytest
import renard
from hypothesis import given
from hypothesis import strategies as st

from recap.normalise.preferred import (
    E6,
    E_SERIES,
    OLD_PRACTICE,
    R_SERIES,
    figures,
    in_series,
    is_rated_voltage,
    is_standard_or_historic,
    looks_measured,
    mantissa,
    nearest,
    successor,
)

POSITIVE = st.builds(lambda number, power: Decimal(number).scaleb(power), st.integers(1, 10**6), st.integers(-12, 6))


@pytest.mark.parametrize("name", sorted(E_SERIES))
def test_e_series_agree_with_the_eseries_library(name: str) -> None:
    """IEC 60063:2015, as PyPI eseries has it."""
    of_library = eseries.series(eseries.ESeries[name])
    assert [float(number) for number in E_SERIES[name]] == [
        number / 10 ** (len(str(int(number))) - 1) for number in of_library
    ]


@pytest.mark.parametrize("name", sorted(R_SERIES))
def test_r_series_agree_with_the_renard_library(name: str) -> None:
    """ISO 3, as PyPI renard has it."""
    of_library = renard.series(renard.RenardSeriesKey[name])
    assert sorted(float(mantissa(number)) for number in R_SERIES[name]) == pytest.approx(
        sorted(number / 10 ** (len(str(int(number))) - 1) for number in of_library)
    )


@given(st.floats(0.001, 1e6), st.sampled_from(["E6", "E12", "E24", "E96"]))
def test_the_nearest_value_is_no_farther_than_the_librarys(value: float, name: str) -> None:
    found = float(nearest(Decimal(value), name))
    assert in_series(Decimal(f"{found:.6g}"), name)
    theirs = eseries.find_nearest(eseries.ESeries[name], value)
    assert max(found / value, value / found) <= max(theirs / value, value / theirs) * (1 + 1e-9)


@given(POSITIVE, st.sampled_from(sorted(E_SERIES | R_SERIES)))
def test_a_member_is_its_own_nearest_and_decades_are_alike(value: Decimal, name: str) -> None:
    found = nearest(value, name)
    assert in_series(found, name)
    assert nearest(found, name) == found
    assert nearest(value * 10, name) == found * 10
    assert in_series(value, name) == (found == value)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("25", "22"),
        ("50", "47"),
        ("250", "220"),
        ("500", "470"),
        ("8", "10"),
        ("16", "15"),
        ("32", "33"),
        ("40", "47"),
        ("2", "2.2"),
        ("4", "4.7"),
        ("5", "4.7"),
        ("0.05", "0.047"),
        ("0.02", "0.022"),
        ("2500", "2200"),
        ("640", "680"),
    ],
)
def test_obsolete_values_have_a_successor_in_e6(old: str, new: str) -> None:
    # common practice
    assert successor(Decimal(old)) == Decimal(new)


@pytest.mark.parametrize("value", ["22", "4.7", "0.68", "1000", "1.1", "39", "178.3", "7.3"])
def test_other_values_have_none(value: str) -> None:
    assert successor(Decimal(value)) is None


@given(POSITIVE)
def test_a_successor_is_near_and_in_e6(value: Decimal) -> None:
    new = successor(value)
    if new is not None:
        assert mantissa(new) in E6
        assert mantissa(value) in (*OLD_PRACTICE, Decimal("1.6"))
        assert Decimal("0.88") <= new / value <= Decimal("1.25")


@pytest.mark.parametrize(
    "value", ["4.7", "8", "16", "25", "500", "0.02", "0.0033", "12.5", "0.332", "0.00000102", "6800"]
)
def test_values_that_are_or_were_made(value: str) -> None:
    assert is_standard_or_historic(Decimal(value))
    assert not looks_measured(Decimal(value))


@pytest.mark.parametrize(
    ("value", "measured"), [("0.1783", True), ("46.8", True), ("102", True), ("46", False), ("7", False)]
)
def test_values_that_never_were(value: str, measured: bool) -> None:
    assert not is_standard_or_historic(Decimal(value))
    assert looks_measured(Decimal(value)) is measured


VOLTAGES_OF_MAKERS = (
    "6.3 10 16 25 35 50 63 100 160 200 250 350 400 420 450 500 "  # KEMET ESH, A4005, 2016
    "6.3 10 16 25 40 50 63 100 160 250 350 385 400 450 500 "  # Vishay EL/EB/EG
    "2.5 4 6.3 10 16 25 40 63 100 160 250 400 630 20 80 125 200 315 180"  # members of R5, R10, R20 (ISO 3)
)


@pytest.mark.parametrize("volts", sorted(set(VOLTAGES_OF_MAKERS.split())))
def test_voltages_that_makers_list(volts: str) -> None:
    assert is_rated_voltage(Decimal(volts))


@pytest.mark.parametrize(
    "volts", ["3", "6", "12", "15", "30", "64", "70", "150", "275", "300", "350", "475", "525", "1500"]
)
def test_voltages_of_old_parts(volts: str) -> None:
    # common practice
    assert is_rated_voltage(Decimal(volts))


@pytest.mark.parametrize("volts", ["61", "17", "23", "36", "253", "0", "-16", "1001"])
def test_voltages_of_no_part(volts: str) -> None:
    assert not is_rated_voltage(Decimal(volts))


def test_figures_leave_zeros_out() -> None:
    assert [figures(Decimal(text)) for text in ("1000", "178.30", "0.00470", "4.7", "0")] == [1, 4, 2, 2, 1]


@pytest.mark.parametrize("value", ["0", "-1", "NaN", "Infinity"])
def test_only_positive_numbers_have_a_decade(value: str) -> None:
    with pytest.raises(ValueError, match="no decade"):
        mantissa(Decimal(value))


@pytest.mark.parametrize(
    ("volts", "rated"), [("330", True), ("990", True), ("1010", False), ("1025", False), ("1050", True)]
)
def test_the_steps_of_ratings_widen_at_a_thousand_volts(volts: str, rated: bool) -> None:
    # common practice
    assert is_rated_voltage(Decimal(volts)) is rated


def test_the_highest_rating_by_steps() -> None:
    assert is_rated_voltage(Decimal(49_950))
    assert not is_rated_voltage(Decimal(50_050))


def test_of_two_equally_near_the_larger_counts() -> None:
    # ISO 3, R5: 1.60 and 2.50 are both a quarter away from 2
    assert nearest(Decimal(2), "R5") == Decimal("2.5")
    assert nearest(Decimal("0.02"), "R5") == Decimal("0.025")
