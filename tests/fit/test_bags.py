"""Bags: every piece of an order is in exactly one of them, or goes into the drawer."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from recap import money
from recap.audit.codec import encode
from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.audit.kept import KeptOrder
from recap.fit.bags import sort_into_bags
from recap.fit.bags_xlsx import bags_xlsx
from recap.fit.plan import Plan, plan_of_order, plan_of_record
from recap.model import CapList, DrawerUse, Extra, Group, Placed, Position, SetOnBench, Use
from tests.order.sample import EXTRA_GROUP, LYING, RADIAL_GROUP, a_report, part, place, terms

REPORT = a_report("HRN-47-35")
PLAN = plan_of_order(REPORT.groups, REPORT.order, "test")


def test_a_bag_goes_by_board_and_names_what_comes_from_which_place_in_the_drawer() -> None:
    first = sort_into_bags(PLAN).bags[0]
    assert (first.set, first.pieces) == ("set-1", 5)
    seen = [
        (compartment.title, content.qty, content.part.number if content.part else None, content.refs, content.source)
        for compartment in first.compartments
        for content in compartment.contents
    ]
    assert seen == [
        ("no board named", 1, "AX 0.47/450", ("C30",), "shop-b"),
        ("AUDIO", 1, "OLD-1", ("C2",), "drawer: box 2"),
        ("POWER", 1, "HRN-47-35", ("C10",), "shop-a"),
        ("POWER", 1, "OLD-1", ("C9",), "drawer: box 2"),
    ]
    assert [piece.extra.item for piece in first.extras] == ["mains switch"]


def test_what_could_not_be_had_is_in_the_list_but_not_in_the_count() -> None:
    second = sort_into_bags(PLAN).bags[1]
    missing = [c for compartment in second.compartments for c in compartment.contents if c.part is None]
    assert [(c.refs, c.value) for c in missing] == [(("C77",), "0.47 µF 350 V bipolar")]
    assert second.pieces == 3


def test_spares_and_what_a_minimum_brought_along_go_into_the_drawer() -> None:
    left = {(piece.part.number, piece.supplier): piece.qty for piece in sort_into_bags(PLAN).leftovers}
    assert left == {("HRN-47-35", "shop-a"): 2, ("AX 0.47/450", "shop-b"): 7}


def test_values_go_from_small_to_large() -> None:
    small, large = part("SMALL", value_uF=Decimal("0.47")), part("LARGE", value_uF=Decimal(1000))
    groups = [Group(one.number, Position(), (place("s", f"C{i}", "A"),)) for i, one in enumerate((large, small))]
    lines = [money.line(one, 1, [Use(one.number, 1)]) for one in (large, small)]
    plan = plan_of_order(groups, money.order([money.parcel(terms("shop-a"), lines)]), "test")
    (bag,) = sort_into_bags(plan).bags
    assert [c.value for c in bag.compartments[0].contents] == ["0.47 µF 35 V", "1000 µF 35 V"]


def test_an_extra_of_no_set_goes_into_no_bag() -> None:
    loose = replace(EXTRA_GROUP, extra=Extra("solder wick", 1, ("SW-1",)))
    sorting = sort_into_bags(plan_of_order([loose], a_report("X").order, "test"))
    assert sorting.bags == ()
    assert [piece.extra.item for piece in sorting.extras] == ["solder wick"]


@given(
    places=st.lists(
        st.tuples(st.sampled_from("ab"), st.sampled_from("XYZ"), st.integers(1, 3)), min_size=1, max_size=8
    ),
    drawn=st.integers(0, 5),
    more=st.integers(0, 4),
)
def test_every_piece_bought_or_drawn_is_in_exactly_one_place(
    places: list[tuple[str, str, int]], drawn: int, more: int
) -> None:
    placed = tuple(place(f"set-{s}", f"C{i}", board, qty=qty) for i, (s, board, qty) in enumerate(places))
    group = Group("g", Position(), placed, spares=more)
    taken = min(drawn, group.positions_count)
    bought = group.need - taken
    lines = [money.line(part("N"), bought, [Use("g", bought)])] if bought else []
    parcels = [money.parcel(terms("shop-a"), lines)] if lines else []
    order = money.order(parcels, [DrawerUse(LYING, (Use("g", taken),))] if taken else [])
    sorting = sort_into_bags(plan_of_order([group], order, "test"))
    inside: Counter[str] = Counter()
    for bag in sorting.bags:
        for compartment in bag.compartments:
            for content in compartment.contents:
                assert content.part is not None
                inside[content.part.number] += content.qty
    left = sum(piece.qty for piece in sorting.leftovers)
    assert inside["OLD-1"] == taken
    assert inside["N"] + left == bought
    assert left == more


def kept(first: str) -> KeptOrder:
    order = a_report(first).order
    assert order is not None
    return KeptOrder("2025-11-25-1", datetime(2025, 11, 25, tzinfo=UTC), order, (RADIAL_GROUP,))


def recorded(*events: Event, done: frozenset[PlaceKey] = frozenset()) -> Plan:
    positions = (*(p.position for p in RADIAL_GROUP.placed if p.set == "set-1"), Position(ref="C99", board="POWER"))
    sets = [SetOnBench("set-1", "chassis", job=("full",))]
    return plan_of_record(sets, {"chassis": CapList("chassis", positions)}, [kept("HRN")], events, done)


def test_a_kept_order_tells_which_part_and_the_list_tells_what_no_order_names() -> None:
    found = [(a.position.ref, a.part.number if a.part else None) for a in recorded().allotments]
    assert found == [("C2", "OLD-1"), ("C9", "OLD-1"), ("C10", "HRN"), ("C99", None)]


def test_what_is_in_and_checked_is_not_listed_again() -> None:
    found = recorded(done=frozenset({PlaceKey("set-1", "POWER", "C9")}))
    assert [a.position.ref for a in found.allotments] == ["C2", "C10", "C99"]


def test_asking_for_one_set_leaves_the_others_out() -> None:
    only = PLAN.for_sets({"set-2"})
    assert {a.set for a in only.allotments} == {"set-2"}
    assert (only.extras, only.leftovers) == ((), ())


def test_the_workbook_of_the_bags_opens() -> None:
    assert bags_xlsx(sort_into_bags(PLAN)).startswith(b"PK")


def test_two_lines_for_one_place_are_one_content() -> None:
    twice = Group("g", Position(), (Placed("s", Position(ref="C1")), Placed("s", Position(ref="C1"))))
    order = money.order([money.parcel(terms("shop-a"), [money.line(part("N"), 2, [Use("g", 2)])])])
    (bag,) = sort_into_bags(plan_of_order([twice], order, "t")).bags
    assert [(c.qty, c.refs) for c in bag.compartments[0].contents] == [(2, ("C1",))]


def came(number: str, qty: int, **more: object) -> Event:
    data = {"order": "2025-11-25-1", "supplier": "shop-a", "part": number, "qty": qty}
    return new_event(EventKind.RECEIVED, datetime(2025, 12, 1, tzinfo=UTC), data=data | more)


def test_a_substitute_that_came_goes_where_the_ordered_part_was_meant_to() -> None:
    substitute = part("OTHER-47")
    found = recorded(came("OTHER-47", 4, instead_of="HRN", spec=encode(substitute)))
    assert [(a.position.ref, a.part.number if a.part else None) for a in found.allotments][:3] == [
        ("C2", "OLD-1"),
        ("C9", "OLD-1"),
        ("C10", "OTHER-47"),
    ]
    assert ("OTHER-47", 2) in {(left.part.number, left.qty) for left in found.leftovers}
