"""Looking ahead: pace, sessions, what comes due, and what each way to go with a set would cost."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console

from recap.audit.due import Due, Usage, due, usage_of
from recap.audit.estimate import EVERYTHING, LEAVE, SUSPECTS, choices, comparison, purchase, suspects
from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.audit.pace import MINUTES_PER_PART, Pace, learnt, sessions
from recap.audit.state import PlaceState
from recap.audit.trace import Step
from recap.match.life import estimate as life
from recap.model import DRAWER, DrawerPart, Position, Role, SetOnBench
from recap.show.estimate_view import print_estimate
from tests.audit.stories import MONDAY, minutes, part, position, tick

if TYPE_CHECKING:
    from recap.bench import Bench
    from recap.model import Part


def run_of(*gaps: float, start: float = 0) -> list[Event]:
    """Parts fitted one after the other, so many minutes apart."""
    events, at = [tick(EventKind.IN, "C0", start)], start
    for number, gap in enumerate(gaps, start=1):
        at += gap
        events.append(tick(EventKind.IN, f"C{number}", at))
    return events


def test_the_pace_is_learnt_from_the_middle_gap_between_parts() -> None:
    pace = learnt(run_of(*[5] * 9, 6, 18, 300))
    assert (pace.per_part, pace.learnt_from) == (Decimal("5.0"), 11)


def test_a_few_parts_teach_nothing() -> None:
    assert learnt(run_of(2, 2, 2)) == Pace()
    assert Pace().per_part == MINUTES_PER_PART


def test_everything_on_one_picture_monitor_takes_three_to_four_hours() -> None:
    # Common practice: a whole picture monitor, about fifty capacitors, is three to four hours of work.
    assert 3 <= Pace().hours(49) <= 4
    assert Pace().hours(0) == 0


def test_a_long_gap_ends_a_session() -> None:
    story = [*run_of(5, 5), *run_of(5, start=200)]
    assert [(s.minutes, s.fitted) for s in sessions(story, "S1")] == [(10, 3), (5, 2)]


def used(*readings: tuple[float, str], per_week: str | None = None) -> Usage:
    events = [new_event(EventKind.HOURS, minutes(at), set="S1", data={"hours": hours}) for at, hours in readings]
    if per_week is not None:
        events.append(new_event(EventKind.HOURS, minutes(0), set="S1", data={"per_week": per_week}))
    return usage_of(events, "S1")


WEEK = 7 * 24 * 60


def test_hours_run_come_from_readings_in_proportion_and_from_habit_beyond_them() -> None:
    usage = used((0, "100"), (WEEK, "170"), per_week="35")
    assert usage.since(minutes(0), minutes(WEEK / 2)) == 35
    assert usage.since(minutes(WEEK), minutes(3 * WEEK)) == 70
    assert used().since(minutes(0), minutes(WEEK)) is None
    assert used((0, "100")).since(minutes(0), minutes(WEEK)) is None
    assert used(per_week="10").since(minutes(0), minutes(WEEK)) == 10


def fitted(of: Part, at: float = 0, asked: Position | None = None) -> Step:
    state = PlaceState(fitted=(tick(EventKind.IN, "C1", at),))
    place = asked or position("C1")
    return Step(PlaceKey("S1", "AUDIO", "C1"), place, place, True, (), state, of)


def soonest(step: Step, usage: Usage, weeks: float = 0) -> Due:
    (one,) = due([step], usage, minutes(weeks * WEEK), Decimal(45))
    return one


def test_life_is_the_published_formulas_and_the_date_is_what_is_left_of_it() -> None:
    # 5000 h at 105 °C, ten degrees to a doubling: 320000 h at 45 °C; makers stand for 15 years of it at most.
    one = soonest(fitted(part("HRN-47")), used((0, "0"), per_week="100"), weeks=1)
    assert one.life_h == round(life(5000, 105, 45).hours)
    assert one.run_h == 100
    assert one.left_h == one.life_h - 100
    assert one.on is not None
    assert one.on <= MONDAY.date() + timedelta(days=365 * 15 + 1)


def test_the_part_of_shorter_life_comes_due_first() -> None:
    plain = fitted(replace(part("SHORT"), temp_C=85, life_h=Decimal(2000)))
    better = fitted(part("LONG"))
    found = due([better, plain], used(), MONDAY, Decimal(60))
    assert [one.part.number for one in found] == ["SHORT", "LONG"]
    assert all(one.on is None and one.left_h is None for one in found)


def test_a_part_of_unknown_life_is_left_out_not_guessed() -> None:
    assert due([fitted(replace(part("X"), life_h=None))], used(), MONDAY) == ()


@given(st.integers(0, 5000), st.integers(1, 168))
@settings(max_examples=40, deadline=None)
def test_more_use_never_moves_the_day_later(run: int, weekly: int) -> None:
    step = fitted(part("HRN-47"))
    light = soonest(step, used((0, "0"), (WEEK, str(run)), per_week=str(weekly)), weeks=1)
    heavy = soonest(step, used((0, "0"), (WEEK, str(run + 100)), per_week=str(weekly)), weeks=1)
    assert light.on is not None
    assert heavy.on is not None
    assert heavy.on <= light.on


def test_each_way_to_go_is_a_real_order_and_hours_by_the_pace(bench: Bench) -> None:
    found = choices(bench, bench.sets[0], (), Pace(Decimal(6), Decimal(0)), boards=["AUDIO"])
    assert [(c.name, c.parts, c.cost, c.hours) for c in found] == [
        (LEAVE, 0, Decimal(0), Decimal(0)),
        (SUSPECTS, 1, Decimal("8.00"), Decimal("0.1")),
        ("board AUDIO", 2, Decimal("6.00"), Decimal("0.2")),
        (EVERYTHING, 4, Decimal("69.50"), Decimal("0.4")),
    ]
    assert all(choice.proven for choice in found)


def test_where_nothing_can_be_had_there_is_no_cost_to_name(bench: Bench) -> None:
    bare = replace(bench, catalogues={})
    found = {c.name: c for c in choices(bare, replace(bench.sets[1], boards=()), (), Pace())}
    assert (found[EVERYTHING].cost, found[EVERYTHING].without) == (None, 4)


def test_what_is_in_already_needs_no_parts(bench: Bench) -> None:
    done = [tick(EventKind.IN, "C1", board="POWER")]
    found = {c.name: c for c in choices(bench, bench.sets[1], done, Pace())}
    assert found[EVERYTHING].parts == 2
    theirs = [tick(EventKind.IN, "C1", set_name="S2", board="POWER")]
    found = {c.name: c for c in choices(bench, bench.sets[1], theirs, Pace())}
    assert (found[EVERYTHING].parts, found[SUSPECTS].cost) == (1, Decimal(0))


def test_one_order_for_all_saves_the_shipping_of_the_others(bench: Bench) -> None:
    singles = [choices(bench, unit, (), Pace())[-1] for unit in bench.sets]
    bought = purchase(bench, ["S1", "S2"], singles)
    assert bought.apart == Decimal("69.50") + Decimal("8.50")
    assert bought.saved == Decimal("5.00")


def test_one_after_the_other_takes_from_the_drawer_only_once(bench: Bench) -> None:
    # S1 wants three pieces of 47 µF beside the rest, S2 one; two lie in the drawer. Alone, each takes what it can.
    lying = DrawerPart(part("OLD-47", pitch_mm=Decimal("2.5")), 2)
    lying = replace(lying, part=replace(lying.part, supplier=DRAWER, prices=()))
    split = replace(bench.settings, one_part_per_group=False, use_drawer=True)
    stocked = replace(bench, drawer=(lying,), settings=split)
    singles = [choices(stocked, unit, (), Pace())[-1] for unit in stocked.sets]
    assert [single.cost for single in singles] == [Decimal("68.50"), Decimal("8.00")]
    # One after the other, S2 finds the drawer empty and buys its piece of 47 µF at 0.50.
    assert purchase(stocked, ["S1", "S2"], singles).apart == Decimal("68.50") + Decimal("8.50")


def test_what_is_in_already_is_bought_for_in_no_order(bench: Bench) -> None:
    done = [tick(EventKind.IN, "C1", set_name=name, board="POWER") for name in ("S1", "S2")]
    singles = [choices(bench, unit, done, Pace())[-1] for unit in bench.sets]
    bought = purchase(bench, ["S1", "S2"], singles, done)
    whole = purchase(bench, ["S1", "S2"], singles, ())
    assert bought.together is not None
    assert whole.together is not None
    assert bought.together < whole.together


@pytest.mark.parametrize(
    ("together", "proven", "words"),
    [
        ("12", True, "in one order: 12.00 EUR; one set after the other: 20.00 EUR. Buying now for all saves 8.00 EUR."),
        ("12", False, "in one order: 12.00 EUR or less; one set after the other: 20.00 EUR."),
        ("26", True, "Buying now for all costs more by 6.00 EUR."),
        ("26", False, "not found in the time, give it more (--time-limit); one set after the other: 20.00 EUR."),
    ],
)
def test_an_order_for_all_that_is_dearer_for_want_of_time_is_not_named(together: str, proven: bool, words: str) -> None:
    bought = comparison(["S1", "S2"], Decimal(together), Decimal(20), proven=proven)
    shown = Console(width=200, record=True, file=StringIO())
    print_estimate(shown, [], bought, Pace(), "EUR")
    assert words in shown.export_text()


def test_suspects_are_what_works_hardest_what_measured_bad_and_the_board_with_the_symptom() -> None:
    unit = SetOnBench("S1", "glimmer")
    rows = (position("C1", role=Role.SMOOTHING), position("C2"), position("C3", board="POWER"), position("C4"))
    worn = tick(EventKind.MEASURED, "C2", quantity="capacitance", value="9.1", of="old")
    sound = tick(EventKind.MEASURED, "C4", quantity="capacitance", value="46", of="old")
    symptom = new_event(EventKind.WORK, set="S1", board="power", data={"what": "symptom", "text": "hums"})
    found = suspects(unit, rows, [worn, sound, symptom])
    assert {key.ref for key in found} == {"C1", "C2", "C3"}


def test_a_high_rated_electrolytic_smooths_the_mains_even_if_the_list_does_not_say_so() -> None:
    rows = (position("C1", "50", "350"), position("C2", "50", "350", role=Role.COUPLING), position("C3", "50", "63"))
    assert {key.ref for key in suspects(SetOnBench("S1", "x"), rows, ())} == {"C1"}


def test_days_are_days() -> None:
    one = soonest(fitted(part("HRN-47")), used(per_week="168"))
    assert isinstance(one.on, date)
