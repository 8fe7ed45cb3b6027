"""Each reason to look at a place again: when it is one, and what outweighs what (common practice)."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from recap.audit.events import Event, EventKind, PlaceKey
from recap.audit.kept import Assignment
from recap.audit.state import PlaceState
from recap.audit.suspicion import Setting, setting_of, suspicions
from recap.audit.trace import Marked, Step
from recap.model import DRAWER, Kind, Part, Settings
from tests.audit.stories import minutes, part, position, tick

HERE = PlaceKey("S1", "AUDIO", "C1")
HRN, OLD = part("HRN-47"), part("OLD-47", supplier=DRAWER)
NOTHING = Setting(Settings())
C1 = position("C1")


def piece(of: Part = HRN, qty: int = 1, key: PlaceKey = HERE) -> Assignment:
    return Assignment("first", key, C1, "47 µF", of, of.supplier, qty)


def state(out: float | None = None, fitted: float | None = None, *checks: float, **more: Any) -> PlaceState:
    """Ticks of C1, by the minute."""

    def ticks(kind: EventKind, at: float | None) -> tuple[Event, ...]:
        return () if at is None else (tick(kind, "C1", at),)

    checked = tuple(tick(EventKind.CHECKED, "C1", at) for at in checks)
    return PlaceState(ticks(EventKind.OUT, out), ticks(EventKind.IN, fitted), checked, **more)


def step(at: PlaceState, of: Part | None = HRN, pieces: tuple[Assignment, ...] = (piece(),), **more: Any) -> Step:
    known: dict[str, Any] = {"key": HERE, "listed": C1, "ordered": C1, "on_job": True, **more}
    return Step(pieces=pieces, state=at, fitted=of if at.fitted else None, **known)


DONE = state(0, 5, 9)


def kinds(one: Step, setting: Setting = NOTHING) -> list[str]:
    return [reason.kind for reason in suspicions(one, setting)]


def test_work_that_was_done_and_checked_leaves_nothing_to_look_at() -> None:
    assert kinds(step(DONE)) == []


@pytest.mark.parametrize(
    ("at", "found"),
    [
        (state(), ["not done"]),
        (state(0), ["unfinished"]),
        (state(0, 5), ["polarity"]),
        (state(None, 5, 9), ["order"]),  # never ticked as out
        (state(6, 5, 9), ["order"]),  # in before out
        (state(5, 5, 9), []),
        (state(0, 5, 4), ["order"]),  # checked before it went in
        (state(0, 5, 4, 9), []),
        (state(None, None, 9), ["order", "not done"]),
    ],
)
def test_ticks_tell_what_is_missing(at: PlaceState, found: list[str]) -> None:
    assert kinds(step(at)) == found
    assert kinds(step(at, on_job=False)) == [kind for kind in found if kind != "not done"]


@pytest.mark.parametrize(
    ("kind", "found"),
    [
        (Kind.ELECTROLYTIC, "polarity"),
        (Kind.TANTALUM, "polarity"),
        (Kind.UNKNOWN, "polarity"),
        (Kind.BIPOLAR, "unchecked"),
        (Kind.FILM, "unchecked"),
        (Kind.CERAMIC, "unchecked"),
    ],
)
def test_polarity_that_nobody_checked_outweighs_a_part_that_has_none(kind: Kind, found: str) -> None:
    fitted = replace(HRN, kind=kind)
    asked = replace(C1, kind=kind)
    found_here = kinds(step(state(0, 5), fitted, listed=asked, ordered=asked))
    assert found in found_here
    assert not {"polarity", "unchecked"} - {found} & set(found_here)


def test_a_place_whose_part_nobody_knows_has_the_polarity_of_the_list() -> None:
    assert "polarity" in kinds(step(state(0, 5), None))
    film = position("C1", kind=Kind.FILM)
    assert kinds(step(state(0, 5), None, listed=film, ordered=film)) == ["part", "unchecked"]


def test_what_does_not_fit_comes_before_what_fits_with_care_and_both_before_another_value() -> None:
    low = part("LOW", volts="16")
    assert kinds(step(DONE, low))[0] == "voltage"
    assert "doesn't fit" in suspicions(step(DONE, low), NOTHING)[0].text
    high = suspicions(step(DONE, part("HIGH", volts="63")), NOTHING)
    assert [reason.kind for reason in high] == ["voltage", "voltage"]
    assert "with care" in high[0].text
    assert high[1].text == "63 V where the list says 25 V"
    assert [reason.text for reason in suspicions(step(DONE, part("X", "56")), NOTHING)][-1] == (
        "56 µF where the list says 47 µF"
    )
    unknown = replace(C1, value_uF=None, volts=None)
    assert not [r for r in suspicions(step(DONE, listed=unknown, ordered=unknown), NOTHING) if "list says" in r.text]


@pytest.mark.parametrize(
    ("homes", "kind"),
    [
        ([("S2", "AUDIO")], "bag"),
        ([("S2", "AUDIO"), ("S1", "POWER")], "board"),
        ([("S1", "POWER")], "board"),
        ([("S1", "AUDIO")], "part"),
        ([("S1", "AUDIO"), ("S1", "POWER")], "part"),
        ([], "part"),
    ],
)
def test_another_part_than_planned_may_be_out_of_another_bag(homes: list[tuple[str, str]], kind: str) -> None:
    """Meant for another set, for another board of this one, or for a neighbour."""
    meant = frozenset(PlaceKey(name, board, "C9") for name, board in homes)
    setting = Setting(Settings(), homes={"BIG-47": meant})
    one = step(DONE, part("BIG-47"), said="BIG-47")
    assert kinds(one, setting) == [kind]
    assert "planned was HRN-47" in suspicions(one, setting)[0].text
    assert kinds(step(DONE, said="HRN-47"), setting) == []


def test_a_part_that_nobody_knows_is_told() -> None:
    assert kinds(step(DONE, None, said="ODD-1")) == ["part", "part"]
    assert kinds(step(DONE, None)) == ["part"]


@pytest.mark.parametrize(
    ("marked", "found"),
    [
        (("47 µF 25 V", "47", "25"), []),
        (("47 µF", "47", None), []),
        (("100 µF 25 V", "100", "25"), ["marking"]),
        (("47 µF 16 V", "47", "16"), ["marking"]),
        (("16 V", None, "16"), ["marking"]),
        (("25 V", None, "25"), []),
        (("brown thing", None, None), ["marking"]),
    ],
)
def test_what_came_out_is_compared_with_the_list(marked: tuple[str, str | None, str | None], found: list[str]) -> None:
    text, value, volts = marked
    was = Marked(text, value and Decimal(value), volts and Decimal(volts))  # type: ignore[arg-type]
    assert kinds(step(DONE, marked=was)) == found


def test_another_value_on_the_old_part_outweighs_another_voltage() -> None:
    value, volts, both = (
        suspicions(step(DONE, marked=Marked("?", Decimal(uF), Decimal(V))), NOTHING)[0]
        for uF, V in ((100, 25), (47, 16), (100, 16))
    )
    assert value.weight == both.weight > volts.weight
    assert "another value and voltage" in both.text


def test_what_other_sets_had_in_this_place_tells_of_a_revision() -> None:
    setting = Setting(Settings(), marked={("AUDIO", "C1"): (("S2", "47 µF 16 V"), ("S1", "47 µF 25 V"))})
    same = Marked("47 µF 25 V", Decimal(47), Decimal(25))
    assert kinds(step(DONE, marked=same), setting) == ["revision"]
    assert kinds(step(DONE), setting) == ["revision"]
    alike = Setting(Settings(), marked={("AUDIO", "C1"): (("S2", "47 µF 25 V"),)})
    assert kinds(step(DONE, marked=same), alike) == []


@pytest.mark.parametrize(
    ("changes", "weighty"),
    [
        ({"value_uF": Decimal(100)}, True),
        ({"volts": Decimal(35)}, True),
        ({"safety": "X2"}, True),
        ({"kind": Kind.BIPOLAR}, False),
        ({"pitch_mm": Decimal(5)}, False),
        ({"note": "new"}, None),
    ],
)
def test_a_list_that_was_changed_after_the_order(changes: dict[str, Any], weighty: bool | None) -> None:
    found = [r for r in suspicions(step(state(), ordered=replace(C1, **changes)), NOTHING) if r.kind == "revision"]
    assert bool(found) is (weighty is not None)
    if found:
        assert (found[0].weight > 50) is weighty
    # what was ordered before orders kept the row says nothing
    assert kinds(step(DONE, ordered=None)) == []


def test_a_position_that_the_list_no_longer_has_weighs_more_once_it_was_touched() -> None:
    idle, out = (suspicions(step(at, listed=None, on_job=False), NOTHING)[-1] for at in (state(), state(0)))
    assert (idle.kind, out.kind) == ("revision", "revision")
    assert out.weight > idle.weight


def test_more_pieces_in_than_came_are_another_part() -> None:
    setting = Setting(Settings(), came={"HRN-47": 2}, used={"HRN-47": 3})
    assert kinds(step(DONE), setting) == ["count"]
    assert kinds(step(DONE), replace(setting, used={"HRN-47": 2})) == []
    assert kinds(step(DONE), replace(setting, came={})) == []
    assert kinds(step(DONE, OLD, (piece(OLD),)), replace(setting, came={"OLD-47": 0}, used={"OLD-47": 1})) == []


@pytest.mark.parametrize(
    ("reading", "bad"),
    [
        (("capacitance", "47"), False),
        (("capacitance", "20"), True),
        (("capacitance", "0"), True),  # open, or not in the leads
        (("ESR", "0.1"), False),
        (("ESR", "40"), True),
        (("ESR", "0"), False),
        (("leakage", "40"), False),
    ],
)
def test_a_new_part_that_measures_bad(reading: tuple[str, str], bad: bool) -> None:
    quantity, value = reading
    new = tick(EventKind.MEASURED, "C1", quantity=quantity, value=value, of="new", unit="µF")
    old = tick(EventKind.MEASURED, "C1", quantity=quantity, value=value, of="old", unit="µF")
    assert kinds(step(replace(DONE, measured=(new,)))) == (["measured"] if bad else [])
    assert kinds(step(replace(DONE, measured=(old,)))) == []


@pytest.mark.parametrize(
    ("others", "found"),
    [([0, 1, 2], ["burst"]), ([0, 4, -4], ["burst"]), ([0, 4], []), ([0, 1, 4.5], [])],
)
def test_checks_within_seconds_were_not_looked_at_one_by_one(others: list[float], found: list[str]) -> None:
    """Four checks, this one with them, within four seconds."""
    moment = minutes(9).timestamp()
    setting = Setting(Settings(), checks=(moment, *(moment + second for second in others)))
    assert kinds(step(DONE), setting) == found


def test_doubts_of_the_list_are_told_and_those_that_block_weigh_more() -> None:
    listed = replace(C1, doubts=("range-backwards", "range-absurd"))
    found = suspicions(step(DONE, listed=listed, ordered=listed), NOTHING)
    assert [reason.kind for reason in found] == ["doubt", "doubt"]
    assert "no board holds" in found[0].text
    assert found[0].weight > found[1].weight


def test_what_the_reasons_need_is_gathered_from_all_sets() -> None:
    there = PlaceKey("S2", "AUDIO", "C1")
    marked = Marked("47 µF", Decimal(47), None)
    steps = [
        step(DONE, pieces=(piece(qty=2),), marked=marked),
        step(DONE, key=there, pieces=(piece(key=there),)),
        step(DONE, OLD, pieces=(piece(OLD),)),
        step(DONE, pieces=()),  # fitted without an order: one piece
        step(state()),
    ]
    found = setting_of(steps, Settings(), {"HRN-47": 9})
    assert found.homes == {"HRN-47": frozenset({HERE, there}), "OLD-47": frozenset({HERE})}
    assert dict(found.used) == {"HRN-47": 4}
    assert found.marked == {("AUDIO", "C1"): (("S1", "47 µF"),)}
    assert found.checks == (minutes(9).timestamp(),) * 4
