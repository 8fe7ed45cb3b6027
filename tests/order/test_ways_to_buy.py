"""Which other ways to buy stand beside an order, and what is said where one was not worked out. Own arithmetic."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from recap.model import Extra, Group, Kind, Order, Outcome, Placed, Position, Problem, SparesRule, Status
from recap.optimise.solve import solve
from recap.order.compare import alternatives, lasting
from recap.order.report import Alternative
from tests.optimise.problems import lying, offer, problem, terms

SHOPS = ("north", "south", "east")
THREE = problem(
    {"a": 1, "b": 1, "c": 1},
    [offer(shop, part, "1:1.00") for shop, part in zip(SHOPS, "ABC", strict=True)]
    + [offer("north", "B2", "1:2.50"), offer("north", "C2", "1:4.00")],
    {"a": "A", "b": "B B2", "c": "C C2"},
    [terms(shop, "0:1.00") for shop in SHOPS],
)
"""Three parcels of 2.00 each are 6.00; with b from north too 1.00 + 2.50 + 1.00 and 2.00: 6.50; all at north 8.50."""


def group(name: str, *sets: str, qty: int = 1) -> Group:
    return Group(name, Position(value_uF=Decimal(1)), tuple(Placed(each, Position(ref="C1", qty=qty)) for each in sets))


ONE_SET = tuple(group(name, "one") for name in "abc")
PLAIN = SparesRule()


def best(given: Problem) -> Order:
    order = solve(given).order
    assert order is not None
    return order


def ways(given: Problem, groups: tuple[Group, ...] = ONE_SET) -> dict[str, tuple[Decimal | None, str]]:
    return {way.name: (way.total, way.note) for way in alternatives(given, best(given), groups, PLAIN, solve)}


def test_fewer_parcels_are_told_one_by_one_below_those_of_the_order() -> None:
    assert ways(THREE) == {
        "this order": (Decimal("6.00"), ""),
        "one parcel: the best single supplier": (Decimal("8.50"), ""),
        "at most 2 parcels": (Decimal("6.50"), ""),
        "cheapest part, line by line": (Decimal("6.00"), ""),
    }


def test_of_an_order_in_one_parcel_none_has_fewer() -> None:
    single = replace(THREE, suppliers={**THREE.suppliers, "east": terms("east", "0:9"), "south": terms("south", "0:9")})
    assert set(ways(single)) == {"this order", "cheapest part, line by line"}


def test_what_took_too_long_has_no_sum_and_what_was_not_proven_says_so() -> None:
    order = best(THREE)
    late = alternatives(THREE, order, ONE_SET, PLAIN, lambda _: Outcome(Status.FEASIBLE))
    assert [(way.total, way.note) for way in late[1:]] == [(None, "not worked out in time")] * 3
    never = alternatives(THREE, order, ONE_SET, PLAIN, lambda _: Outcome(Status.IMPOSSIBLE))
    assert [(way.total, way.note) for way in never[1:]] == [(None, "can't meet every need")] * 3
    rough = alternatives(THREE, order, ONE_SET, PLAIN, lambda asked: replace(solve(asked), status=Status.FEASIBLE))
    assert [(way.total is None, way.note) for way in rough[1:]] == [(False, "best found in time, not proven")] * 3
    assert late[0] == rough[0] == Alternative("this order", Decimal("6.00"), "", 3, 3)


SETS = (group("a", "one", "two"), group("b", "two"), group("c", "one", qty=3))
NEEDS = problem(
    {"a": 2, "b": 1, "c": 3},
    [offer("north", part, price) for part, price in (("A", "1:1.00"), ("B", "1:2.00"), ("C", "1:0.50 3:0.40"))],
    {"a": "A", "b": "B", "c": "C"},
    [terms("north", "0:3.00")],
)


@pytest.mark.parametrize("status", [Status.OPTIMAL, Status.FEASIBLE])
def test_each_set_alone_pays_its_postage_and_counts_its_parcels_and_lines(status: Status) -> None:
    """Together 2.00 + 2.00 + 1.20 + 3.00; one: 1.00 + 1.20 + 3.00 in two lines; two: 1.00 + 2.00 + 3.00 in two."""
    solved = lambda asked: replace(solve(asked), status=status)  # noqa: E731
    assert best(NEEDS).total == Decimal("8.20")
    alone = alternatives(NEEDS, best(NEEDS), SETS, PLAIN, solved)[-1]
    note = "" if status is Status.OPTIMAL else "best found in time, not proven"
    assert alone == Alternative("each set ordered on its own", Decimal("11.20"), note, 2, 4)


@pytest.mark.parametrize(("of", "total"), [("two", "11.80"), ("one", "11.80"), (None, "11.80"), ("three", "14.80")])
def test_an_extra_is_bought_with_its_set_or_with_the_first(of: str | None, total: str) -> None:
    """A switch for 0.60; for a set of which nothing else is wanted it is a parcel of its own: 3.00 more."""
    asked = replace(
        NEEDS,
        needs=(*NEEDS.needs, replace(NEEDS.needs[0], group="x", pieces=1)),
        offers=(*NEEDS.offers, offer("north", "SW", "1:0.60")),
        suits={**NEEDS.suits, "x": (3,)},
        drawer_suits={**NEEDS.drawer_suits, "x": ()},
    )
    groups = (*SETS, Group("x", None, extra=Extra("switch", 1, ("SW",), of)))
    alone = alternatives(asked, best(asked), groups, PLAIN, solve)[-1]
    assert alone.total == Decimal(total)


def test_an_emptied_drawer_stays_empty_for_the_sets_that_follow() -> None:
    """Of three pieces that lie there the first set takes two, the second one, and buys one: 1.00 + 3.00."""
    asked = problem(
        {"a": 4}, [offer("north", "A", "1:1.00")], {"a": "A"}, [terms("north", "0:3.00")], drawer=[lying("A", 3)]
    )
    groups = (group("a", "one", "two", qty=2),)
    alone = alternatives(asked, best(asked), groups, PLAIN, solve)[-1]
    assert (alone.total, alone.parcels, alone.lines) == (Decimal("4.00"), 1, 1)


def test_line_by_line_pays_fees_and_duty_that_nobody_thought_of() -> None:
    """South's part is 0.10 cheaper, and 10 % duty, 0.30 a line and 1.50 for the order come upon it: 2.79."""
    asked = problem(
        {"a": 1},
        [offer("north", "A", "1:1.00"), offer("south", "A", "1:0.90")],
        {"a": "A"},
        [terms("north"), terms("south", handling="1.50", line_fee="0.30", duty_percent="10")],
        max_suppliers=1,
    )
    found = {way.name: way.total for way in alternatives(asked, best(asked), ONE_SET[:1], PLAIN, solve)}
    assert found == {"this order": Decimal("1.00"), "cheapest part, line by line": Decimal("2.79")}


def test_film_that_states_no_life_outlasts_every_wet_part() -> None:
    film = replace(offer("north", "F", "1:1.00"), kind=Kind.FILM)
    wet = replace(offer("north", "E", "1:1.00", life_h=Decimal(2000)), kind=Kind.ELECTROLYTIC)
    asked = problem({"a": 1}, [film, wet], {"a": "F E"}, [terms("north")])
    assert lasting(asked, Decimal(5000)).suits == {"a": (0,)}
    assert lasting(asked, Decimal(2000)).suits == {"a": (0, 1)}
