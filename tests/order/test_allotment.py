"""Which piece goes where, and what a little more money may buy. Own arithmetic beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from recap.model import DRAWER, Group, Kind, Position, Status
from recap.optimise.solve import solve
from recap.order.allot import NO_BOARD, allot, natural, place_name
from recap.order.prefer import fewer_parcels, longer_life
from tests.optimise.problems import offer, problem, terms
from tests.order.sample import (
    AXIAL,
    AXIAL_GROUP,
    MISSING_GROUP,
    RADIAL,
    RADIAL_GROUP,
    an_order,
    place,
)


def test_designators_stand_in_the_order_of_their_numbers() -> None:
    refs = ["C10", "C2", "C2B", "C²", "A1C3", "C02", "C", "C1", "2101", "3"]
    assert sorted(refs, key=natural) == ["3", "2101", "A1C3", "C", "C1", "C2", "C02", "C2B", "C10", "C²"]


@pytest.mark.parametrize(
    ("position", "name"),
    [
        (Position(ref="C5", value_uF=Decimal(47)), "C5"),
        (Position(value_uF=Decimal("4.70"), volts=Decimal("25.0"), qty=3), "4.7 µF 25 V ×3"),
        (Position(value_uF=Decimal(1000), qty=2), "1000 µF ×2"),
        (Position(volts=Decimal(16)), "? µF 16 V ×1"),
    ],
)
def test_a_place_without_a_designator_is_named_by_what_it_takes(position: Position, name: str) -> None:
    assert place_name(position) == name


def test_the_drawer_serves_first_then_the_parcels_and_what_cannot_be_had_is_told() -> None:
    """Of the radial ones two lie in the drawer and three are bought for four places; the fifth is the spare."""
    found = [
        (piece.set, piece.board, place_name(piece.position), piece.qty, piece.supplier, piece.from_drawer)
        for piece in allot((RADIAL_GROUP, AXIAL_GROUP, MISSING_GROUP), an_order("A-1"))
    ]
    assert found == [
        ("set-1", NO_BOARD, "C30", 1, "shop-b", False),
        ("set-1", "AUDIO", "C2", 1, DRAWER, True),
        ("set-1", "POWER", "C9", 1, DRAWER, True),
        ("set-1", "POWER", "C10", 1, "shop-a", False),
        ("set-2", "AUDIO", "0.47 µF 350 V ×2", 2, "shop-b", False),
        ("set-2", "POWER", "C9", 1, "shop-a", False),
        ("set-2", "POWER", "C77", 1, None, False),
    ]


def test_places_without_designators_may_be_served_from_two_piles_and_the_rest_is_missing() -> None:
    """Seven wanted: two of the drawer, three of the shop, two that nobody has."""
    group = Group(RADIAL_GROUP.id, RADIAL, (place("set-1", None, "POWER", RADIAL, 7),))
    found = [(piece.qty, piece.supplier, piece.part is None) for piece in allot((group,), an_order("A-1"))]
    assert found == [(2, DRAWER, False), (3, "shop-a", False), (2, None, True)]


def test_without_an_order_every_place_is_missing() -> None:
    group = Group(AXIAL_GROUP.id, AXIAL, (place("set-1", "C1", None, AXIAL),))
    assert [(piece.qty, piece.part) for piece in allot((group,), None)] == [(1, None)]


PARCELS = problem(
    {"a": 1, "b": 1},
    [offer("north", "A1", "1:10.00"), offer("south", "A2", "1:11.50"), offer("south", "B1", "1:4.50")],
    {"a": "A1 A2", "b": "B1"},
    [terms("north", "0:1.00"), terms("south", "0:4.50")],
)
"""In two parcels 10.00 + 1.00 + 4.50 + 4.50 = 20.00; in one 11.50 + 4.50 + 4.50 = 20.50, which is 2.5 % more."""


@pytest.mark.parametrize(
    ("percent", "total"),
    [("-1", "20.00"), ("0", "20.00"), ("0.5", "20.00"), ("2.49", "20.00"), ("2.5", "20.50"), ("3", "20.50")],
)
def test_one_parcel_less_is_paid_for_up_to_the_percent_and_no_further(percent: str, total: str) -> None:
    best = solve(PARCELS)
    given, found = fewer_parcels(PARCELS, best, Decimal(percent), solve)
    assert found.order is not None
    assert found.order.total == Decimal(total)
    assert given.max_suppliers == (1 if total == "20.50" else PARCELS.max_suppliers)


def test_no_more_is_paid_for_anything_where_there_is_no_order() -> None:
    best = replace(solve(PARCELS), order=None, status=Status.IMPOSSIBLE)
    assert fewer_parcels(PARCELS, best, Decimal(10), solve) == (PARCELS, best)
    assert longer_life(PARCELS, best, Decimal(10), solve) == (best, None)


def test_nothing_that_is_not_proven_is_taken_for_the_better_order() -> None:
    """A search whose time ran out may have missed a cheaper one: what it found is no reason to pay more."""
    best = solve(PARCELS)
    unproven = lambda given: replace(solve(given), status=Status.FEASIBLE)  # noqa: E731
    assert fewer_parcels(PARCELS, best, Decimal(10), unproven)[1] is best
    nothing = lambda given: replace(solve(given), order=None)  # noqa: E731
    assert fewer_parcels(PARCELS, best, Decimal(10), nothing)[1] is best


LASTING = problem(
    {"a": 1},
    [offer("north", number, f"1:{price}", life_h=hours) for number, price, hours in (
        ("A1", "10.00", Decimal(2000)), ("A2", "10.05", Decimal(5000)), ("A3", "10.00", Decimal(3000))
    )],
    {"a": "A1 A2 A3"},
    [terms("north")],
)  # fmt: skip


@pytest.mark.parametrize(
    ("percent", "total", "hours"),
    [("-1", "10.00", None), ("0", "10.00", None), ("0.4", "10.00", 3000), ("0.5", "10.05", 5000), ("9", "10.05", 5000)],
)
def test_longer_rated_life_is_paid_for_up_to_the_percent_and_no_further(
    percent: str, total: str, hours: int | None
) -> None:
    """5,000 h cost half a percent more, 3,000 h nothing; where nothing more may be paid it isn't looked for."""
    wet = replace(LASTING, offers=tuple(replace(o, kind=Kind.ELECTROLYTIC) for o in LASTING.offers))
    found, lasts = longer_life(wet, solve(wet), Decimal(percent), solve)
    assert found.order is not None
    assert (found.order.total, lasts) == (Decimal(total), hours)
