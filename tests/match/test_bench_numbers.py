"""Numbers a bench works by: limits beside a reading, and re-forming. The modules name the source of each limit."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from recap.match.condition import Condition, Measured, Rated, assess, measured_loss
from recap.match.shelf import Shelf, age_years, current_limit, judge_shelf, procedure
from recap.model import Kind

D = Decimal
PART = Rated(D(47), D(25))


def judged(rated: Rated = PART, **measured: Any) -> tuple[str, Condition, list[float | None]]:
    """Return quantity, condition and the limits: of a new part, good to, bad from; rounded to four figures."""
    (found,) = assess(rated, Measured(**measured))
    limits = [found.new, found.good_to, found.bad_from]
    return found.quantity, found.condition, [None if limit is None else float(f"{limit:.4g}") for limit in limits]


@pytest.mark.parametrize(
    ("value", "condition", "limits"),
    [
        ("47", Condition.GOOD, [47, 56.4, 68.15]),  # ±20 % of the marking, ±45 % of use: the side where it lies
        ("56.4", Condition.GOOD, [47, 56.4, 68.15]),
        ("56.5", Condition.TIRED, [47, 56.4, 68.15]),
        ("68.2", Condition.BAD, [47, 56.4, 68.15]),
        ("46.9", Condition.GOOD, [47, 37.6, 25.85]),
        ("37.6", Condition.GOOD, [47, 37.6, 25.85]),
        ("37.5", Condition.TIRED, [47, 37.6, 25.85]),
        ("25.8", Condition.BAD, [47, 37.6, 25.85]),
        ("0", Condition.BAD, [47, 37.6, 25.85]),
    ],
)
def test_capacitance_has_its_limits_on_the_side_where_it_lies(
    value: str, condition: Condition, limits: list[float]
) -> None:
    """IEC 60384-4 and CECC 30301, as recap/match/condition.py names them: 6.3 V < 25 V <= 100 V."""
    assert judged(value_uF=D(value)) == ("capacitance", condition, limits)


def test_reading_high_asks_for_the_leakage_and_only_then() -> None:
    def reason(value: int) -> str:
        return assess(PART, Measured(value_uF=D(value)))[0].reason

    assert "measure its leakage" in reason(60)
    assert "measure its leakage" in reason(90)
    assert "leakage" not in reason(50)
    assert "leakage" not in reason(30)


@pytest.mark.parametrize(
    ("measured", "condition", "limits"),
    [
        ({"tan_delta": D("0.14")}, Condition.GOOD, [0.14, 0.182, 0.42]),
        ({"tan_delta": D("0.182")}, Condition.GOOD, [0.14, 0.182, 0.42]),  # 1.3 times
        ({"tan_delta": D("0.183")}, Condition.TIRED, [0.14, 0.182, 0.42]),
        ({"tan_delta": D("0.42")}, Condition.TIRED, [0.14, 0.182, 0.42]),  # 3 times
        ({"tan_delta": D("0.421")}, Condition.BAD, [0.14, 0.182, 0.42]),
        ({"tan_delta": D("0.1"), "frequency_Hz": D(50)}, Condition.GOOD, [0.14, 0.182, 0.42]),
        ({"tan_delta": D("0.1"), "frequency_Hz": D(150)}, Condition.GOOD, [0.14, 0.182, 0.42]),
        ({"tan_delta": D("0.1"), "frequency_Hz": D(49)}, Condition.UNDECIDED, [None, None, None]),
        ({"tan_delta": D("0.1"), "frequency_Hz": D(151)}, Condition.UNDECIDED, [None, None, None]),
        # 0.14 / (2 pi 120 Hz 47 µF) = 3.95 Ω
        ({"esr_ohm": D("5.1"), "frequency_Hz": D(120)}, Condition.GOOD, [3.951, 5.136, 11.85]),
        ({"esr_ohm": D("5.2"), "frequency_Hz": D(120)}, Condition.TIRED, [3.951, 5.136, 11.85]),
        ({"esr_ohm": D(12), "frequency_Hz": D(120)}, Condition.BAD, [3.951, 5.136, 11.85]),
        ({"leakage_uA": D("11.75")}, Condition.GOOD, [11.75, 11.75, 11.75]),  # 0.01 CV
        ({"leakage_uA": D("11.76")}, Condition.BAD, [11.75, 11.75, 11.75]),
    ],
)
def test_losses_and_leakage(measured: dict[str, Decimal], condition: Condition, limits: list[float | None]) -> None:
    assert judged(**measured)[1:] == (condition, limits)


def test_only_leakage_that_is_too_much_may_be_helped_by_re_forming() -> None:
    assert "re-form" in assess(PART, Measured(leakage_uA=D(20)))[0].reason
    assert "re-form" not in assess(PART, Measured(leakage_uA=D(2)))[0].reason


def test_an_impedance_of_the_sheet_counts_above_the_low_frequencies_only() -> None:
    """Twice the sheet's impedance is good, three times worn out."""
    stated = Rated(D(47), D(25), impedance_ohm=D("0.5"))
    assert judged(stated, esr_ohm=D(1), frequency_Hz=D(100000)) == ("ESR", Condition.GOOD, [0.5, 1, 1.5])
    assert judged(stated, esr_ohm=D("1.6"), frequency_Hz=D(100000))[1] is Condition.BAD
    assert judged(stated, esr_ohm=D("1.6"), frequency_Hz=D(120)) == ("ESR", Condition.GOOD, [3.951, 5.136, 11.85])


@pytest.mark.parametrize(
    ("rated", "measured"),
    [
        (Rated(D(0), D(25)), {}),
        (Rated(D(47), D(0)), {}),
        (Rated(D(47), D(-1)), {}),
        (Rated(D(47), D(25), was_uF=D(0)), {}),
        (PART, {"value_uF": D(-1)}),
        (PART, {"esr_ohm": D(-1)}),
        (PART, {"tan_delta": D("-0.1")}),
        (PART, {"leakage_uA": D(-1)}),
        (PART, {"frequency_Hz": D(0)}),
    ],
)
def test_what_no_part_can_have_is_refused(rated: Rated, measured: dict[str, Decimal]) -> None:
    with pytest.raises(ValueError, match=r"above 0|below 0"):
        assess(rated, Measured(**measured))


def test_nothing_measured_is_nothing_judged() -> None:
    assert assess(PART, Measured()) == ()
    assert measured_loss(Measured(esr_ohm=D(1))) is None
    assert measured_loss(Measured(value_uF=D(1))) is None


def test_loss_of_a_measured_part() -> None:
    """2 pi 120 Hz 47 µF 4 Ω = 0.1417."""
    found = measured_loss(Measured(value_uF=D(47), esr_ohm=D(4), frequency_Hz=D(120)))
    assert found is not None
    assert float(found) == pytest.approx(0.14175, rel=1e-4)


@pytest.mark.parametrize(
    ("value", "volts", "numbers"),
    [
        (100, 25, (100, 25, 5, D("6.25"))),  # EIA-815: 100 Ω to 100 V, 1000 Ω above
        (100, 100, (100, 100, 5, 100)),
        (100, 450, (1000, 910, 5, D("202.5"))),
        (10000, 50, (100, 5000, 10, 25)),  # twice the leakage limit, but 5 mA at least (KEMET A4035)
    ],
)
def test_the_numbers_for_re_forming(value: int, volts: int, numbers: tuple[Decimal, ...]) -> None:
    """Resistor, leakage limit in µA, current in mA, and the watts at the first moment."""
    steps = procedure(D(value), D(volts))
    assert (steps.volts, steps.discharge_ohm) == (volts, volts)
    assert (steps.resistor_ohm, steps.leakage_limit_uA, steps.current_limit_mA, steps.peak_W) == numbers
    assert (steps.hours, steps.rest_h) == (1, (12, 48))


@pytest.mark.parametrize(("leakage", "limit"), [(0, 5), (2500, 5), (2501, "5.002"), (5000, 10)])
def test_the_charging_current_is_twice_the_leakage_and_five_milliamperes_at_least(leakage: int, limit: str) -> None:
    assert current_limit(D(leakage)) == D(limit)


@pytest.mark.parametrize(("value", "volts"), [(0, 25), (100, 0), (-1, 25), (100, -1)])
def test_nothing_is_re_formed_that_is_not_above_zero(value: int, volts: int) -> None:
    with pytest.raises(ValueError, match="above 0"):
        procedure(D(value), D(volts))


@pytest.mark.parametrize(
    ("years", "verdict", "steps"),
    [
        ("0", Shelf.USABLE, False),
        ("2", Shelf.USABLE, False),
        ("2.1", Shelf.REFORM, True),
        ("10", Shelf.REFORM, True),
        ("10.1", Shelf.REPLACE, True),
        (None, Shelf.UNKNOWN, True),
    ],
)
def test_what_an_age_calls_for(years: str | None, verdict: Shelf, steps: bool) -> None:
    age = None if years is None else D(years)
    found = judge_shelf(age, value_uF=D(100), rated_V=D(25))
    assert (found.verdict, found.procedure is not None) == (verdict, steps)
    assert judge_shelf(age, value_uF=D(100)).procedure is None
    assert judge_shelf(age, rated_V=D(25)).procedure is None
    assert judge_shelf(age, kind=Kind.FILM, value_uF=D(100), rated_V=D(25)).verdict is Shelf.NO_FORMING


def test_years_are_those_of_the_calendar_to_a_tenth() -> None:
    assert age_years(date(2015, 6, 1), date(2025, 6, 1)) == D("10.0")
    assert age_years(date(2025, 1, 1), date(2025, 7, 1)) == D("0.5")
    assert age_years(date(2025, 7, 1), date(2025, 1, 1)) == D("-0.5")
    with pytest.raises(ValueError, match="future"):
        judge_shelf(D("-0.1"))
