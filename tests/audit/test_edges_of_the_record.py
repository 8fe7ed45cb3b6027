"""Pins, photos, sessions, pace and suspects, where one more minute, volt or word makes the difference."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from recap.audit.estimate import suspects
from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.audit.pace import Pace, learnt, sessions
from recap.audit.state import BoardPhoto, Pin, live, photos, pins, place_states, since
from recap.model import Kind, Role, SetOnBench
from tests.audit.stories import minutes, position, tick

C1 = PlaceKey("S1", "AUDIO", "C1")
UNIT = SetOnBench("S1", "glimmer")


def test_what_was_taken_back_does_not_stand_nor_does_the_taking_back() -> None:
    one, two = tick(EventKind.IN, "C1"), tick(EventKind.IN, "C2")
    undone = new_event(EventKind.UNDONE, data={"undoes": [one.id]})
    assert live([one, two, undone]) == (two,)
    # only a taking back takes back
    named = replace(two, data={"undoes": [one.id]})
    assert live([one, named]) == (one, named)


def test_only_ticks_readings_and_notes_of_a_place_are_its_state() -> None:
    told = [
        tick(EventKind.OUT, "C1"),
        tick(EventKind.PINNED, "C1", x=0.5, y=0.5),
        new_event(EventKind.NOTE, set="S1", data={"text": "of the whole set"}),
        tick(EventKind.PINNED, "C2", x=0.1, y=0.1),
    ]
    assert list(place_states(told)) == [C1]


def test_a_pin_is_where_it_was_put_last_and_gone_when_it_was_taken_away() -> None:
    put, moved = tick(EventKind.PINNED, "C1", 1, x=0.1, y=0.2), tick(EventKind.PINNED, "C1", 2, x=0.3, y=0.4)
    assert pins([put, moved]) == {C1: Pin(0.3, 0.4)}
    assert pins([put, moved, tick(EventKind.IN, "C1", 3)]) == {C1: Pin(0.3, 0.4)}
    assert pins([put, tick(EventKind.PINNED, "C1", 3)]) == {}
    assert pins([tick(EventKind.PINNED, "C1", 3, x=0.1)]) == {}
    assert pins([tick(EventKind.PINNED, "C1", 3, y=0.1)]) == {}
    assert pins([replace(put, ref=None)]) == {}


def test_the_latest_photo_of_each_board_counts() -> None:
    def photo(at: float, board: str | None = "AUDIO", set_name: str | None = "S1", **data: Any) -> Event:
        return new_event(EventKind.PHOTO, minutes(at), set=set_name, board=board, data=data)

    told = [
        photo(1, photo="aa", width=1600, height=900),
        photo(2, photo="bb"),
        photo(3, None, photo="cc"),
        photo(4, width=5),
        photo(5, set_name=None, photo="dd"),
        tick(EventKind.NOTE, "C1", 6, photo="ee"),
    ]
    assert photos(told) == {("S1", "AUDIO"): BoardPhoto("bb", 4, 3), ("S1", ""): BoardPhoto("cc", 4, 3)}
    assert photos(told[:1]) == {("S1", "AUDIO"): BoardPhoto("aa", 1600, 900)}


def test_since_a_moment_is_with_that_moment() -> None:
    told = [tick(EventKind.IN, f"C{at}", at) for at in (1, 2, 3)]
    assert since(told, minutes(2)) == tuple(told[1:])


@pytest.mark.parametrize(("gap", "lengths"), [(20, [(20, 2)]), (20.5, [(0, 1), (0, 1)])])
def test_a_pause_is_longer_than_twenty_minutes(gap: float, lengths: list[tuple[int, int]]) -> None:
    told = [tick(EventKind.IN, "C1", 0), tick(EventKind.IN, "C2", gap)]
    assert [(session.minutes, session.fitted) for session in sessions(told, "S1")] == lengths
    assert sessions(told, "S2") == ()


def test_old_parts_out_lengthen_a_session_and_count_as_none_fitted() -> None:
    told = [tick(EventKind.OUT, "C1", 0), tick(EventKind.IN, "C1", 7), tick(EventKind.NOTE, "C1", 15)]
    assert [(session.minutes, session.fitted) for session in sessions(told, "S1")] == [(7, 1)]


def paced(*gaps: float, place: str | None = None) -> Pace:
    at, told = 0.0, [tick(EventKind.IN, "C0", 0)]
    for number, gap in enumerate(gaps, start=1):
        at += gap
        told.append(tick(EventKind.IN, place or f"C{number}", at))
    return learnt(told)


def test_the_pace_is_learnt_from_ten_gaps_that_are_no_pauses() -> None:
    assert paced(*[3] * 9) == Pace()
    assert paced(*[3] * 10) == Pace(Decimal("3.0"), learnt_from=10)
    assert paced(*[3] * 9, 20) == Pace(Decimal("3.0"), learnt_from=10)
    assert paced(*[3] * 9, 20.1) == Pace()
    assert paced(*[3] * 9, 0) == Pace()
    assert paced(*[3] * 10, place="C0") == Pace()  # one place again and again
    assert paced(*[3] * 5, *[4] * 5) == Pace(Decimal("3.5"), learnt_from=10)


def test_hours_are_those_of_the_set_and_of_its_parts() -> None:
    """Fifteen minutes to open the set and four for each part (common practice)."""
    assert (Pace().hours(0), Pace().hours(1), Pace().hours(45)) == (0, Decimal(19) / 60, Decimal("3.25"))


@pytest.mark.parametrize(
    ("asked", "suspected"),
    [
        ({"volts": "160"}, True),  # smooths a mains supply (common practice)
        ({"volts": "150"}, False),
        ({"volts": "160", "kind": Kind.UNKNOWN}, False),
        ({"volts": "160", "kind": Kind.FILM}, False),
        ({"volts": "400", "safety": "X2"}, False),
        ({"volts": "160", "role": Role.COUPLING}, False),
        ({"role": Role.SMOOTHING}, True),
        ({"role": Role.SWITCHING}, True),
        ({"role": Role.SMOOTHING, "kind": Kind.UNKNOWN}, True),
        ({"role": Role.SMOOTHING, "kind": Kind.FILM}, False),
        ({"role": Role.SMOOTHING, "kind": Kind.BIPOLAR}, False),
    ],
)
def test_what_works_hardest_is_suspected(asked: dict[str, Any], suspected: bool) -> None:
    assert (suspects(UNIT, [position("C1", **asked)], ()) == {C1}) is suspected


@pytest.mark.parametrize(
    ("reading", "suspected"),
    [
        ({"quantity": "capacitance", "value": "20", "of": "old"}, True),  # of 47 µF
        ({"quantity": "capacitance", "value": "20"}, True),
        ({"quantity": "capacitance", "value": "20", "of": "new"}, False),
        ({"quantity": "capacitance", "value": "47", "of": "old"}, False),
        ({"quantity": "capacitance", "value": "0", "of": "old"}, True),  # open
        ({"quantity": "ESR", "value": "0", "of": "old"}, False),
        ({"quantity": "capacitance", "value": "-1", "of": "old"}, False),
        ({"quantity": "ESR", "value": "40", "of": "old"}, True),
        ({"quantity": "ESR", "value": "0.1", "of": "old"}, False),
        ({"quantity": "leakage", "value": "20", "of": "old"}, False),
    ],
)
def test_what_measured_bad_is_suspected(reading: dict[str, str], suspected: bool) -> None:
    told = [tick(EventKind.MEASURED, "C1", **reading)]
    assert (suspects(UNIT, [position("C1"), position("C2")], told) == {C1}) is suspected
    assert suspects(UNIT, [position("C2")], told) == frozenset()
    if reading["value"] != "0":
        assert suspects(UNIT, [replace(position("C1"), volts=None)], told) == frozenset()


def test_a_symptom_is_that_of_its_own_board_and_set() -> None:
    def symptom(set_name: str, board: str | None, what: str = "symptom") -> Event:
        return new_event(EventKind.WORK, set=set_name, board=board, data={"what": what, "text": "hums"})

    rows = [position("C1"), position("C2", board="POWER"), position("C3", board=None)]
    assert {key.ref for key in suspects(UNIT, rows, [symptom("S1", "audio")])} == {"C1"}
    assert suspects(UNIT, rows, [symptom("S2", "AUDIO")]) == frozenset()
    assert suspects(UNIT, rows, [symptom("S1", None)]) == frozenset()
    assert suspects(UNIT, rows, [symptom("S1", "AUDIO", "cleaned")]) == frozenset()
