"""Which places are done first, and what a set costs that needs little or nothing. Own arithmetic beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from recap.audit.estimate import EVERYTHING, SUSPECTS, choices, comparison, purchase, suspects
from recap.audit.events import EventKind
from recap.audit.pace import Pace
from recap.model import Kind, Role, SetOnBench
from tests.audit.stories import position, tick

if TYPE_CHECKING:
    from recap.audit.events import Event
    from recap.bench import Bench
    from recap.model import Position

UNIT = SetOnBench("S1", "glimmer")


def suspected(*rows: Position, events: list[Event] | None = None) -> list[str]:
    return sorted(key.ref for key in suspects(UNIT, rows, events or []))


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ({"volts": "160"}, True),  # an electrolytic rated so high smooths a mains supply (common practice)
        ({"volts": "159"}, False),
        ({"volts": "450", "kind": Kind.FILM}, False),
        ({"volts": "450", "kind": Kind.UNKNOWN}, False),
        ({"volts": "450", "kind": Kind.BIPOLAR}, False),
        ({"volts": "450", "role": Role.COUPLING}, False),
        ({"volts": "25", "role": Role.SMOOTHING}, True),
        ({"volts": "25", "role": Role.SWITCHING}, True),
        ({"volts": "25", "role": Role.SMOOTHING, "kind": Kind.UNKNOWN}, True),
        ({"volts": "400", "role": Role.SMOOTHING, "kind": Kind.FILM}, False),
        ({"volts": "275", "role": Role.SMOOTHING, "kind": Kind.UNKNOWN, "safety": "X2"}, False),
    ],
)
def test_electrolytics_that_work_hot_or_at_the_mains_are_done_first(asked: dict[str, Any], first: bool) -> None:
    assert suspected(position("C1", "47", **asked)) == (["C1"] if first else [])


def measured(value: str, quantity: str = "capacitance", of: str = "old", ref: str = "C1") -> Event:
    return tick(EventKind.MEASURED, ref, quantity=quantity, value=value, of=of)


@pytest.mark.parametrize(
    ("reading", "worn"),
    [
        (measured("0"), True),  # it measures open
        (measured("20"), True),  # less than half of 47 µF
        (measured("45"), False),
        (measured("20", of="new"), False),  # the new part's own reading
        (measured("50", "ESR"), True),  # Ω; a new 47 µF 25 V part shows 4 at most
        (measured("0.5", "ESR"), False),
        (measured("0", "ESR"), False),  # a meter's zero says nothing
        (measured("900", "leakage"), False),
    ],
)
def test_what_measures_badly_is_done_first(reading: Event, worn: bool) -> None:
    assert suspected(position("C1"), position("C2"), events=[reading]) == (["C1"] if worn else [])


def test_a_reading_of_a_part_of_unknown_rating_is_only_judged_where_it_is_open() -> None:
    bare = (replace(position("C1"), value_uF=None), replace(position("C2"), volts=None))
    assert suspected(*bare, events=[measured("20"), measured("20", ref="C2")]) == []
    assert suspected(*bare, events=[measured("0"), measured("20", ref="C2")]) == ["C1"]


def test_a_place_without_a_board_is_on_no_board_with_a_symptom() -> None:
    rows = (position("C1", board=None), position("C2", board="Audio"))
    symptom = tick(EventKind.WORK, None, board="AUDIO", what="symptom", text="hums")
    assert suspected(*rows, events=[symptom]) == ["C2"]
    theirs = replace(symptom, set="S2")
    assert suspected(*rows, events=[theirs]) == []


def test_where_all_is_in_only_the_extras_are_left_to_buy(bench: Bench) -> None:
    """S1: its transformer at 60.00 and 5.00 postage; S2 has none and costs nothing."""
    places = [("POWER", "C1"), ("POWER", "C2"), ("AUDIO", "C3"), ("AUDIO", "C4")]
    done = [
        tick(EventKind.IN, ref, set_name=name, board=board) for name in ("S1", "S2") for board, ref in places
    ]
    first = {choice.name: choice for choice in choices(bench, bench.sets[0], done, Pace())}
    assert (first[EVERYTHING].parts, first[EVERYTHING].cost, first[EVERYTHING].hours) == (0, Decimal("65.00"), 0)
    assert (first[SUSPECTS].parts, first[SUSPECTS].cost) == (0, 0)
    second = choices(bench, bench.sets[1], done, Pace())
    assert [(choice.parts, choice.cost, choice.hours) for choice in second] == [(0, 0, 0)] * 3


def test_only_the_sets_that_are_named_are_bought_for_together(bench: Bench) -> None:
    single = choices(bench, bench.sets[1], (), Pace())[-1]
    bought = purchase(bench, ["S2"], [single])
    assert (bought.together, bought.apart, bought.saved) == (Decimal("8.50"), Decimal("8.50"), 0)


def test_where_nothing_can_be_had_nothing_is_compared(bench: Bench) -> None:
    bare = replace(bench, catalogues={}, extras=())
    singles = [choices(bare, unit, (), Pace())[-1] for unit in bare.sets]
    assert [single.cost for single in singles] == [None, None]
    bought = purchase(bare, ["S1", "S2"], singles)
    assert (bought.together, bought.apart, bought.saved) == (None, None, None)


@pytest.mark.parametrize(
    ("together", "apart", "proven", "named"),
    [
        (None, Decimal(20), False, None),
        (Decimal(30), None, False, Decimal(30)),
        (Decimal(20), Decimal(20), False, Decimal(20)),
        (Decimal(21), Decimal(20), False, None),
        (Decimal(21), Decimal(20), True, Decimal(21)),
    ],
)
def test_one_order_for_all_is_named_where_it_can_be_right(
    together: Decimal | None, apart: Decimal | None, proven: bool, named: Decimal | None
) -> None:
    assert comparison(["a"], together, apart, proven=proven).together == named
