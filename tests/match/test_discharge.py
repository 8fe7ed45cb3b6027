"""Discharging, and resistors across pieces in series: exponentials and Ohm's law by hand beside each check.

V(t) = V0 e^(-t/RC), W = C V^2/2 and P = V^2/R are textbook physics. 60 V as the limit of touchable direct voltage:
IEC 62368-1 (from memory).
"""

from __future__ import annotations

from decimal import Decimal
from math import exp, log

import pytest

from recap.match.balancing import LEAST_OHM, balance, charging_share, least_rating, preferred_below
from recap.match.discharge import SAFE_V, discharge, hand_resistor, resistor_for, voltage_after

D = Decimal


def test_a_reservoir_of_a_valve_amplifier() -> None:
    """220 µF at 400 V through 2.2 kΩ: RC 0.484 s; ln(400/60) = 1.897, so 0.918 s; 17.6 J, of which 0.396 J are left."""
    found = discharge(D(220), D(400), D(2200))
    assert SAFE_V == 60
    assert found.time_constant_s == D("0.484")
    assert float(found.seconds) == pytest.approx(0.484 * log(400 / 60))
    assert float(found.peak_A) == pytest.approx(400 / 2200)
    assert float(found.steady_W) == pytest.approx(400**2 / 2200)  # 72.7 W while the set works
    assert float(found.resistor_rating_W) == pytest.approx(2 * 400**2 / 2200)  # twice that (common practice)
    assert found.energy_J == D("17.6")
    assert found.left_J == D("0.396")


@pytest.mark.parametrize("volts", [D(60), D(12)])
def test_what_is_no_danger_to_touch_needs_no_time(volts: Decimal) -> None:
    found = discharge(D(1000), volts, D(100))
    assert found.seconds == 0
    assert found.left_J == found.energy_J == D("0.0005") * volts**2
    assert resistor_for(D(1000), volts, D(5)) is None


def test_another_limit_may_be_asked_for() -> None:
    found = discharge(D(100), D(325), D(1000), D(30))
    assert float(found.seconds) == pytest.approx(0.1 * log(325 / 30))
    assert found.left_J == D("0.045")


def test_the_largest_resistor_that_is_quick_enough() -> None:
    """470 µF from 350 V down to 60 V in five seconds: 5/(0.00047 ln 5.833) = 6032 Ω; and back again."""
    ohm = resistor_for(D(470), D(350), D(5))
    assert ohm is not None
    assert float(ohm) == pytest.approx(5 / (470e-6 * log(350 / 60)))
    assert float(discharge(D(470), D(350), ohm).seconds) == pytest.approx(5)


def test_by_hand_an_ohm_for_each_volt() -> None:
    """EIA-815 (1999)."""
    assert hand_resistor(D(450)) == 450


@pytest.mark.parametrize("seconds", [0, 1, 5])
def test_what_is_left_after_a_while(seconds: int) -> None:
    left = voltage_after(D(100), D(400), D(10000), D(seconds))
    assert float(left) == pytest.approx(400 * exp(-seconds / 1))  # RC is one second


@pytest.mark.parametrize(
    "numbers", [("0", "400", "1000"), ("100", "0", "1000"), ("100", "400", "0"), ("-1", "400", "1000")]
)
def test_nothing_is_worked_out_from_what_is_not_above_zero(numbers: tuple[str, str, str]) -> None:
    value, volts, ohm = map(D, numbers)
    with pytest.raises(ValueError, match="above 0"):
        discharge(value, volts, ohm)
    with pytest.raises(ValueError, match="above 0"):
        resistor_for(value, volts, ohm)
    with pytest.raises(ValueError, match="above 0"):
        voltage_after(value, volts, ohm, D(1))
    with pytest.raises(ValueError, match="above 0"):
        discharge(D(100), D(400), D(1000), D(0))
    with pytest.raises(ValueError, match="above 0"):
        hand_resistor(D(0))


@pytest.mark.parametrize(("count", "share"), [(2, "0.6"), (3, "0.4285714"), (4, "0.3333333")])
def test_the_smallest_of_pieces_in_series_gets_most_of_the_voltage(count: int, share: str) -> None:
    """Charge is equal on all: the piece of -20 % has 1/0.8 of it in volts, the others 1/1.2 each."""
    assert float(charging_share(count)) == pytest.approx(float(share))
    assert float(least_rating(D(400), count)) == pytest.approx(400 * float(share))


@pytest.mark.parametrize(
    ("ohm", "below"),
    [("1000", "1000"), ("1199", "1000"), ("1200", "1200"), ("99999", "82000"), ("100000", "100000"), ("9.99", "8.2")],
)
def test_a_resistor_is_one_of_e12_that_is_not_above(ohm: str, below: str) -> None:
    """IEC 60063."""
    assert preferred_below(D(ohm)) == D(below)


def test_two_of_350_volts_for_a_supply_of_500() -> None:
    """Two of 100 µF 350 V at 500 V: the worse piece gets 300 V while charging, and 200 V are to spare for leakage."""
    found = balance(D(100), D(350), D(500), 2)
    assert found is not None
    most = D(200) / found.leakage_uA * 1_000_000
    assert found.ohm == preferred_below(most)
    assert found.charging_V == 300
    assert float(found.leaking_V) == pytest.approx(float((500 + found.ohm * found.leakage_uA / 1_000_000) / 2))
    worst = max(found.charging_V, found.leaking_V)
    assert worst <= 350
    assert float(found.power_W) == pytest.approx(float(worst**2 / found.ohm))
    assert found.rating_W >= 2 * found.power_W
    assert found.rating_W in {D(watts) for watts in ("0.25", "0.5", "1", "2", "3", "5")}
    assert found.resistor_V == 350


@pytest.mark.parametrize(
    ("rated", "works", "count", "possible"),
    [
        (350, 500, 2, True),
        (300, 500, 2, True),  # 300 V is just what the worse piece gets
        (299, 500, 2, False),
        (250, 500, 2, False),  # nothing to spare
        (200, 500, 2, False),
        (250, 500, 3, True),
        (200, 500, 3, False),  # 214 V on the worst
    ],
)
def test_pieces_that_are_not_rated_high_enough_are_refused(rated: int, works: int, count: int, possible: bool) -> None:
    assert (balance(D(100), D(rated), D(works), count) is not None) is possible


def test_resistors_that_would_be_absurdly_low_or_strong_are_refused() -> None:
    assert balance(D(1_000_000), D(63), D(100), 2) is None
    strong = [value for value in (100, 1000, 10_000, 100_000) if balance(D(value), D(450), D(700), 2) is None]
    assert strong
    assert 100 not in strong
    assert LEAST_OHM == 1000


@pytest.mark.parametrize("count", [-1, 0, 1])
def test_one_piece_is_no_series(count: int) -> None:
    with pytest.raises(ValueError, match="two pieces"):
        balance(D(100), D(350), D(300), count)
