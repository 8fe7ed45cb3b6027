"""Surge voltage, leakage, discharge, re-forming: the makers' figures and the arithmetic of them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.match.discharge import discharge, hand_resistor, resistor_for, voltage_after
from recap.match.ratings import leakage_limit, surge_voltage
from recap.match.shelf import Shelf, age_years, current_limit, judge_shelf, procedure
from recap.model import Kind

D = Decimal
POSITIVE = st.decimals(D("0.1"), D(1000), places=2)


@pytest.mark.parametrize(
    ("rated", "surge"),
    [("16", "18.4"), ("50", "57.5"), ("63", "72.45"), ("250", "287.5"), ("400", "440"), ("450", "495")],
)
def test_surge_voltage(rated: str, surge: str) -> None:
    # 1.15 x to 250 V, 1.10 x from 400 V: EPCOS B41505/B43505, November 2008; Vishay 28309.
    assert surge_voltage(D(rated)) == D(surge)


@pytest.mark.parametrize(("rated", "surge"), [("315", "362.25"), ("350", "385")])
def test_surge_voltage_at_the_boundary_of_315_volts(rated: str, surge: str) -> None:
    # The boundary is IEC 60384-4 from memory; makers' sheets have nothing between 250 and 400 V.
    assert surge_voltage(D(rated)) == D(surge)


@pytest.mark.parametrize(
    ("value", "volts", "limit"),
    [("1000", "16", "160"), ("10", "16", "3"), ("100", "100", "100"), ("100", "200", "410")],
)
def test_leakage_limit(value: str, volts: str, limit: str) -> None:
    # 0.01 CV or 3 µA (16-100 V), 0.02 CV + 10 µA (160-450 V): KEMET ESL.
    assert leakage_limit(D(value), D(volts)) == D(limit)


def test_time_to_a_safe_voltage() -> None:
    # t = R C ln(V0/60): 400 V, 220 µF, 2 kΩ: 0.44 ln 6.667 = 0.835 s (own arithmetic).
    found = discharge(D(220), D(400), D(2000))
    assert found.seconds == pytest.approx(D("0.835"), abs=D("0.0005"))
    assert found.time_constant_s == D("0.44")
    assert found.energy_J == D("17.6")
    assert found.peak_A == D("0.2")
    assert found.steady_W == 80


def test_what_is_safe_already_takes_no_time() -> None:
    assert discharge(D(1000), D(60), D(1000)).seconds == 0
    assert resistor_for(D(1000), D(50), D(5)) is None


def test_discharging_by_hand_takes_one_ohm_for_each_volt() -> None:
    # EIA-815: about 1 Ω per volt; 400 V -> about 400 Ω.
    assert hand_resistor(D(400)) == 400


@given(POSITIVE, st.decimals(D(61), D(2000), places=1), st.decimals(D(1), D(10**6), places=0))
def test_after_the_stated_time_the_safe_voltage_is_left(value: D, volts: D, ohm: D) -> None:
    found = discharge(value, volts, ohm)
    assert voltage_after(value, volts, ohm, found.seconds) == pytest.approx(D(60), rel=D("1e-15"))


@given(POSITIVE, st.decimals(D(61), D(2000), places=1), st.decimals(D("0.1"), D(60), places=1))
def test_the_resistor_for_a_time_takes_that_time(value: D, volts: D, seconds: D) -> None:
    ohm = resistor_for(value, volts, seconds)
    assert ohm is not None
    assert discharge(value, volts, ohm).seconds == pytest.approx(seconds, rel=D("1e-15"))


@pytest.mark.parametrize(("rated", "ohm"), [("16", "100"), ("100", "100"), ("101", "1000"), ("160", "1000")])
def test_re_forming_resistor(rated: str, ohm: str) -> None:
    # EIA-815 and IEC 60384-4 pre-conditioning: 100 Ω to 100 V, 1000 Ω above, one hour, rest 12-48 h.
    steps = procedure(D(100), D(rated))
    assert steps.resistor_ohm == D(ohm)
    assert steps.hours == 1
    assert steps.rest_h == (12, 48)


@pytest.mark.parametrize(("leakage_mA", "limit_mA"), [("1", "5"), ("4", "8")])
def test_re_forming_current(leakage_mA: str, limit_mA: str) -> None:
    # KEMET A4035 (PEH169), page 5: at most twice the leakage limit or 5 mA, the greater.
    assert current_limit(D(leakage_mA) * 1000) == D(limit_mA)


@pytest.mark.parametrize(
    ("years", "verdict"),
    [
        ("0", Shelf.USABLE),
        ("2.0", Shelf.USABLE),
        ("2.1", Shelf.REFORM),
        ("10.0", Shelf.REFORM),
        ("10.1", Shelf.REPLACE),
    ],
)
def test_age_decides_what_to_do(years: str, verdict: Shelf) -> None:
    # Two years: Nichicon as quoted; ten years: common practice.
    assert judge_shelf(D(years)).verdict is verdict


def test_no_known_age_is_treated_as_old_and_film_needs_no_forming() -> None:
    assert judge_shelf(None).verdict is Shelf.UNKNOWN
    assert judge_shelf(D(30), kind=Kind.FILM).verdict is Shelf.NO_FORMING


def test_an_age_in_the_future_is_refused() -> None:
    with pytest.raises(ValueError, match="future"):
        judge_shelf(D("-0.5"))


def test_age_in_years_to_a_tenth() -> None:
    assert age_years(date(2020, 1, 1), date(2022, 7, 2)) == D("2.5")
    assert age_years(date(2024, 1, 1), date(2023, 1, 1)) < 0
