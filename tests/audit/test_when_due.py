"""When a fitted part's life ends, by hours run and habit. Own arithmetic beside each check.

The rule of ten degrees and the fifteen years that makers stand for: tests/match/test_life.py names the sources.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from recap.audit.due import INSIDE_C, Usage, due, usage_of
from recap.audit.events import EventKind, PlaceKey, new_event
from recap.audit.state import PlaceState
from recap.audit.trace import Step
from tests.audit.stories import MONDAY, minutes, part, position, tick

WEEK = 7 * 24 * 60
WEARS = replace(part("W-47"), temp_C=85, life_h=Decimal(1000))
"""1000 h at 85 °C: 2000 h at 75, 4000 h at 65, 8000 h at 55 °C, 16,000 h at 45 °C."""


def read(*readings: tuple[float, str], per_week: str | None = None) -> Usage:
    """Readings of the meter, by the week."""
    told = tuple((minutes(week * WEEK), Decimal(hours)) for week, hours in readings)
    return Usage(told, None if per_week is None else Decimal(per_week))


@pytest.mark.parametrize(
    ("usage", "start", "end", "hours"),
    [
        (read((0, "100"), (2, "160")), 0, 2, "60"),
        (read((0, "100"), (2, "160")), 0.5, 1.5, "30"),  # in proportion
        (read((0, "100"), (2, "160"), (3, "260")), 1, 3, "130"),
        (read((0, "100"), (2, "160"), (3, "260")), 2, 2.5, "50"),
        (read((0, "100"), (2, "160")), 1, 3, None),  # nobody said how it went on
        (read((0, "100"), (2, "160")), -1, 1, None),  # nor how it began
        (read((0, "100"), (2, "160"), per_week="10"), 1, 5, "60"),  # 30 by the meter and three weeks of 10
        (read((1, "100"), (2, "160"), per_week="10"), 0, 2, "70"),  # a week of 10 before the meter
        (read((0, "100")), 0, 0, "0"),
        (read((0, "100"), per_week="7"), 0, 2, "14"),
        (read(per_week="7"), 3, 5, "14"),
        (read(), 0, 1, None),
        (read((0, "100"), (0, "120"), (1, "130")), 0, 1, "10"),  # of two readings at once the higher counts
        (read((0, "500"), (1, "20"), per_week="5"), 0, 1, "0"),  # a meter that was changed takes nothing back
    ],
)
def test_hours_run_between_two_moments(usage: Usage, start: float, end: float, hours: str | None) -> None:
    found = usage.since(minutes(start * WEEK), minutes(end * WEEK))
    assert (None if found is None else round(found, 6)) == (None if hours is None else Decimal(hours))


def test_hours_are_told_set_by_set_and_the_last_habit_counts() -> None:
    def hours(set_name: str, at: float, **data: str) -> object:
        return new_event(EventKind.HOURS, minutes(at), set=set_name, data=data)

    story = [
        hours("S1", 20, hours="120"),
        hours("S2", 10, hours="7", per_week="50"),
        hours("S1", 10, hours="100", per_week="20"),
        hours("S1", 30, per_week="30"),
        tick(EventKind.IN, "C1", 5, hours="1"),
    ]
    assert usage_of(story, "S1") == Usage(  # type: ignore[arg-type]
        ((minutes(10), Decimal(100)), (minutes(20), Decimal(120))), Decimal(30)
    )


def step(of: object = WEARS, ref: str = "C1", **asked: Decimal) -> Step:
    state = PlaceState(fitted=(tick(EventKind.IN, ref),))
    place = replace(position(ref), **asked)
    return Step(PlaceKey("S1", "AUDIO", ref), place, place, True, (), state, of)  # type: ignore[arg-type]


def on(usage: Usage, weeks: float, ambient: int = 55) -> date | None:
    (one,) = due([step()], usage, minutes(weeks * WEEK), Decimal(ambient))
    return one.on


@pytest.mark.parametrize(
    ("per_week", "weeks", "due_after"),
    [
        ("40", 0, 200),  # 8000 h at 40 a week
        ("40", 50, 200),  # the same day, whenever it is asked
        ("80", 0, 100),
        ("80", 150, 100),  # 50 weeks ago
    ],
)
def test_the_day_is_what_is_left_over_what_it_runs(per_week: str, weeks: float, due_after: int) -> None:
    assert on(read(per_week=per_week), weeks) == MONDAY.date() + timedelta(weeks=due_after)


def test_fifteen_years_are_the_most() -> None:
    assert on(read(per_week="1"), 0) == MONDAY.date() + timedelta(days=15 * 365)
    assert on(read(per_week="1"), 100) == MONDAY.date() + timedelta(days=15 * 365)


def test_without_a_habit_there_is_no_day_but_hours_may_be_left() -> None:
    (one,) = due([step()], read((0, "100"), (2, "160")), minutes(2 * WEEK), Decimal(55))
    assert (one.run_h, one.left_h, one.on) == (60, 7940, None)
    (idle,) = due([step()], read((0, "100"), (2, "160"), per_week="0"), minutes(2 * WEEK), Decimal(55))
    assert idle.on is None


def test_the_air_in_a_closed_set_is_taken_at_45_degrees() -> None:
    assert INSIDE_C == 45
    (one,) = due([step()], read(), MONDAY)
    assert one.life_h == 16000


@pytest.mark.parametrize(
    ("part_ripple", "asked", "life_h"),
    [
        ("500", {"ripple_mA": Decimal(500)}, 8000),
        ("500", {"ripple_mA": Decimal(100)}, 8000),  # the careful reading: less than rated lengthens nothing
        ("500", {"ripple_mA": Decimal(700)}, 4835),  # 1.4 times the rating, by the core's rise of 5 K
        ("500", {}, 8000),
        (None, {"ripple_mA": Decimal(700)}, 8000),
        (None, {"operating_V": Decimal("27.5")}, 5360),  # 8000 h x (4.3 - 3.3 x 1.1)
        (None, {"operating_V": Decimal(20)}, 8000),
    ],
)
def test_more_ripple_or_voltage_than_rated_shortens_the_life(
    part_ripple: str | None, asked: dict[str, Decimal], life_h: int
) -> None:
    """The formulas with ripple and voltage: recap/match/life.py names their sources."""
    rated = replace(WEARS, ripple_mA=None if part_ripple is None else Decimal(part_ripple))
    (one,) = due([step(rated, **asked)], read(), MONDAY, Decimal(55))
    assert one.life_h == life_h


@pytest.mark.parametrize(
    "unknown", [{"life_h": None}, {"temp_C": None}, {"life_h": Decimal(0)}, {"life_h": Decimal(-5)}]
)
def test_a_part_of_unknown_life_is_not_guessed_at(unknown: dict[str, Decimal | None]) -> None:
    assert due([step(replace(WEARS, **unknown))], read(), MONDAY) == ()  # type: ignore[arg-type]


def test_what_has_no_part_or_no_tick_is_never_due() -> None:
    waiting = replace(step(), state=PlaceState())
    assert due([waiting, step(None)], read(), MONDAY) == ()


def test_the_soonest_comes_first_and_of_equals_the_designators_order() -> None:
    short = replace(WEARS, life_h=Decimal(500))
    found = due([step(ref="C2"), step(ref="C1"), step(short, "C3")], read(per_week="40"), MONDAY, Decimal(55))
    assert [one.key.ref for one in found] == ["C3", "C1", "C2"]
