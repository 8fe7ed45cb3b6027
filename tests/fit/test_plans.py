"""What goes to which place and what is left over: by one order, and by the record of all. Own arithmetic."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.fit.bags import sort_into_bags
from recap.fit.plan import plan_of_order, plan_of_record
from recap.model import DRAWER, CapList, DrawerPart, DrawerUse, Extra, Group, Order, SetOnBench, Use
from tests.audit.stories import from_drawer, group, kept, line, minutes, order, part, position

if TYPE_CHECKING:
    from recap.fit.plan import Plan

HRN, OLD, SWITCH = part("HRN-47"), part("OLD-47", supplier=DRAWER), part("SW-1")
C1, C2, C3 = (position(f"C{n}") for n in (1, 2, 3))
UNIT = SetOnBench("S1", "glimmer", job=("full",))
LIST = CapList("glimmer", (C1, C2, C3))


def leftovers(plan: Plan) -> list[tuple[str, str, int]]:
    return [(left.part.number, left.supplier, left.qty) for left in plan.leftovers]


def extras(plan: Plan) -> list[tuple[str, int, str | None, str | None]]:
    return [(e.extra.item, e.qty, e.part.number if e.part else None, e.supplier) for e in plan.extras]


def came(qty: int) -> Event:
    data = {"order": "first", "supplier": "Norlicht", "part": "HRN-47", "qty": qty}
    return new_event(EventKind.RECEIVED, minutes(1), data=data)


CLOSED = new_event(EventKind.CLOSED, minutes(2), data={"order": "first"})
FIVE = kept(order(line(HRN, 5, ("47 µF", 5))), group("47 µF", ("S1", C1), ("S1", C2)), name="first")
"""Five pieces, two of which two places take."""


@pytest.mark.parametrize(
    ("events", "left"),
    [
        ((), 3),  # will be left
        ((came(5),), 3),
        ((came(4),), 2),
        ((came(2),), 0),
        ((came(1),), 0),
        ((CLOSED,), 0),
        ((came(4), CLOSED), 2),
    ],
)
def test_what_is_left_over_by_the_record(events: tuple[Event, ...], left: int) -> None:
    found = leftovers(plan_of_record([UNIT], {"glimmer": LIST}, [FIVE], events))
    assert found == ([("HRN-47", "Norlicht", left)] if left else [])


def test_a_line_without_a_piece_too_many_leaves_nothing() -> None:
    two = kept(order(line(HRN, 2, ("47 µF", 2))), group("47 µF", ("S1", C1), ("S1", C2)), name="first")
    assert leftovers(plan_of_record([UNIT], {"glimmer": LIST}, [two])) == []


def test_places_on_the_job_without_an_order_are_there_and_those_done_are_not() -> None:
    def dealt(*done: str, unit: SetOnBench = UNIT) -> list[tuple[str | None, int, str | None]]:
        there = frozenset(PlaceKey("S1", "AUDIO", ref) for ref in done)
        found = plan_of_record([unit], {"glimmer": LIST}, [FIVE], (), there)
        return [(a.position.ref, a.qty, a.part.number if a.part else None) for a in found.allotments]

    assert dealt() == [("C1", 1, "HRN-47"), ("C2", 1, "HRN-47"), ("C3", 1, None)]
    assert dealt("C1") == [("C2", 1, "HRN-47"), ("C3", 1, None)]
    # off the job only what was ordered stays
    assert dealt(unit=replace(UNIT, job=("none",))) == [("C1", 1, "HRN-47"), ("C2", 1, "HRN-47")]
    assert dealt(unit=replace(UNIT, chassis="unknown")) == []


def test_pieces_of_one_order_that_no_place_takes_are_left_over() -> None:
    """Five bought and three drawn, of which four places take; one of the drawer and three bought are over."""
    group_of = group("47 µF", *(("S1", position(f"C{n}")) for n in (1, 2, 3, 4)))
    given = order(line(HRN, 5, ("47 µF", 2)), drawer=(from_drawer(OLD, 3, ("47 µF", 2)),))
    found = plan_of_order([group_of], given, "now")
    assert [a.supplier for a in found.allotments] == [DRAWER, DRAWER, "Norlicht", "Norlicht"]
    assert leftovers(found) == [("HRN-47", "Norlicht", 3)]
    exact = order(line(HRN, 4, ("47 µF", 4)))
    assert leftovers(plan_of_order([group_of], exact, "now")) == []
    assert leftovers(plan_of_order([group_of], None, "now")) == []


def test_an_extra_gets_its_pieces_and_is_told_what_is_missing() -> None:
    extra = Group("extra: switch", None, extra=Extra("switch", 3, ("SW-1",), "S1"))
    enough = order(line(SWITCH, 3, ("extra: switch", 3)))
    assert extras(plan_of_order([extra], enough, "now")) == [("switch", 3, "SW-1", "Norlicht")]
    more = order(line(SWITCH, 5, ("extra: switch", 5)))
    assert extras(plan_of_order([extra], more, "now")) == [("switch", 3, "SW-1", "Norlicht")]
    assert leftovers(plan_of_order([extra], more, "now")) == [("SW-1", "Norlicht", 2)]
    some = order(line(SWITCH, 2, ("extra: switch", 2)))
    assert extras(plan_of_order([extra], some, "now")) == [("switch", 2, "SW-1", "Norlicht"), ("switch", 1, None, None)]
    assert extras(plan_of_order([extra], None, "now")) == [("switch", 3, None, None)]
    (bag,) = sort_into_bags(plan_of_order([extra], some, "now")).bags
    assert bag.pieces == 2


def test_parts_of_the_drawer_are_named_with_their_place_in_it() -> None:
    def drawn(place: str | None) -> Order:
        return order(drawer=(DrawerUse(DrawerPart(OLD, 3, place=place or ""), (Use("47 µF", 1),)),))

    group_of = group("47 µF", ("S1", C1))
    assert plan_of_order([group_of], drawn("box 2"), "now").drawer_places == {"OLD-47": "box 2"}
    assert plan_of_order([group_of], drawn(None), "now").drawer_places == {"OLD-47": DRAWER}
    assert plan_of_order([group_of], None, "now").drawer_places == {}
    both = replace(drawn("box 2"), drawer=(*drawn("box 2").drawer, *drawn("box 7").drawer, *drawn("box 2").drawer))
    assert plan_of_order([group_of], both, "now").drawer_places == {"OLD-47": "box 2, box 7"}
    sources = [
        content.source
        for bag in sort_into_bags(plan_of_order([group_of], drawn("box 2"), "now")).bags
        for compartment in bag.compartments
        for content in compartment.contents
    ]
    assert len(sources) == 1
    assert "box 2" in sources[0]


def test_each_board_has_its_compartment_and_a_list_without_boards_one() -> None:
    bare = position("C9", board=None)
    given = order(line(HRN, 4, ("47 µF", 4)))
    places = group("47 µF", ("S1", C1), ("S1", position("C5", board="POWER")), ("S1", bare), ("S2", C2))
    bags = sort_into_bags(plan_of_order([places], given, "now")).bags
    assert [(bag.set, [(c.board, [x.refs for x in c.contents]) for c in bag.compartments]) for bag in bags] == [
        ("S1", [("", [("C9",)]), ("AUDIO", [("C1",)]), ("POWER", [("C5",)])]),
        ("S2", [("AUDIO", [("C2",)])]),
    ]
    contents = [content for bag in bags for compartment in bag.compartments for content in compartment.contents]
    assert {(content.source, content.qty) for content in contents} == {("Norlicht", 1)}
