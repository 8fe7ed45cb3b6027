"""How much can be had at most, and which single change makes an order possible. Own arithmetic beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from recap.model import Need, Outcome, Problem, Status
from recap.optimise.solve import solve
from recap.order.impossible import Impossible, look_into
from tests.optimise.problems import lying, offer, problem, terms


def looked_into(given: Problem) -> Impossible:
    assert solve(given).status is Status.IMPOSSIBLE
    return look_into(given, solve)


def needing(pieces: int, *stocks: int, spares: int = 0, one_part: bool = True, drawer: int = 0, **more: int) -> Problem:
    """One group and a shop for each stock; the drawer holds pieces of the first shop's part number."""
    shops = "north south east west".split()[: len(stocks)]
    parts = [
        offer(shop, "A" if at == 0 else f"A{at}", "1:1.00", stock=stock, **more)
        for at, (shop, stock) in enumerate(zip(shops, stocks, strict=True))
    ]
    given = problem(
        {"a": pieces},
        parts,
        {"a": " ".join(part.number for part in parts)},
        [terms(shop) for shop in shops],
        drawer=[lying("A", drawer)] if drawer else None,
        one_part=one_part,
    )
    return replace(given, needs=(Need("a", pieces, spares),))


@pytest.mark.parametrize(
    ("given", "wanted", "most", "where"),
    [
        (needing(6, 5), 6, 5, "5 (north A)"),
        (needing(6, 3, 5, 4), 6, 5, "5 (south A1)"),  # one part for the whole group
        (needing(6, 7, multiple=4), 6, 4, "4 (north A)"),  # of seven in fours only four can be bought
        (needing(3, 5, minimum=6), 3, 0, "0 (north A)"),
        (needing(6, 3, drawer=2), 6, 5, "5 (north A)"),  # the same part number lies in the drawer
        (needing(6, 0, drawer=2), 6, 2, "2 (north A)"),
        (needing(7, 3, 3, one_part=False), 7, 6, "the drawer together have 6"),
        (needing(9, 3, 3, one_part=False, drawer=2), 9, 8, "the drawer together have 8"),
        (needing(3, 4, spares=2), 5, 4, "the drawer together have 4"),
        (needing(3, 2, 2, 2, spares=2), 3, 2, "2 (north A)"),
    ],
)
def test_the_most_that_can_be_had(given: Problem, wanted: int, most: int, where: str) -> None:
    found = looked_into(given)
    (short,) = found.shortages
    assert (short.group, short.pieces, short.most) == ("a", wanted, most)
    assert short.reason.endswith(where)
    assert found.left_out == ("a",)


@pytest.mark.parametrize(
    "given",
    [
        needing(5, 5),
        needing(4, 7, multiple=4),
        needing(6, 6, minimum=6),
        needing(5, 3, drawer=2),
        needing(6, 3, 3, one_part=False),
        needing(3, 5, spares=2),
        needing(3, 3, 2, spares=2),
    ],
)
def test_just_enough_is_no_shortage(given: Problem) -> None:
    assert solve(given).status is Status.OPTIMAL
    assert look_into(given, solve).shortages == ()


def test_where_one_offer_has_no_limit_nothing_is_short() -> None:
    given = needing(6, 1, 1)
    unlimited = replace(given, offers=(replace(given.offers[0], stock=None), given.offers[1]))
    assert look_into(unlimited, solve).shortages == ()


def test_what_nobody_offers_is_to_be_had_nowhere() -> None:
    given = replace(needing(2, 5), suits={"a": ()})
    (short,) = looked_into(given).shortages
    assert (short.most, short.reason) == (0, "the most that can be had of one part is 0 (nowhere)")


def test_what_is_sold_out_is_called_so() -> None:
    def told(*stocks: int, **more: int) -> str:
        return looked_into(needing(2, *stocks, **more)).shortages[0].reason

    assert told(0) == "all that fits is sold out (north A)"
    assert told(0, 0, 0, 0) == "all that fits is sold out (north A, south A1, east A2 …)"
    assert told(0, 1) == "the most that can be had of one part is 1 (south A1)"
    assert told(0, drawer=1).startswith("the most that can be had of one part is 1 (")


def test_a_group_that_is_short_is_left_out_and_the_rest_is_ordered() -> None:
    given = problem(
        {"a": 6, "b": 2},
        [offer("north", "A", "1:1.00", stock=5), offer("north", "B", "1:0.50")],
        {"a": "A", "b": "B"},
        [terms("north", "0:3")],
    )
    found = looked_into(given)
    assert (found.left_out, found.ways) == (("a",), ())
    assert found.outcome.order is not None
    assert found.outcome.order.total == Decimal("4.00")  # 2 x 0.50 and 3.00


def ways(given: Problem) -> list[tuple[str, Decimal]]:
    return [(way.text, way.total) for way in looked_into(given).ways]


def test_more_suppliers_are_named_with_the_fewest_that_do() -> None:
    """Three parts in three shops of 1.00 each."""
    given = problem(
        {"a": 1, "b": 1, "c": 1},
        [offer(shop, part, "1:1.00") for shop, part in (("north", "A"), ("south", "B"), ("east", "C"))],
        {"a": "A", "b": "B", "c": "C"},
        [terms("north"), terms("south"), terms("east"), terms("west")],
        max_suppliers=1,
    )
    assert ways(given) == [("with 3 suppliers instead of 1 it can be done", Decimal("3.00"))]
    found = looked_into(given)
    # of three that want a shop each, one is kept
    assert len(found.left_out) == 2
    assert found.outcome.order is not None
    assert found.outcome.order.total == Decimal("1.00")


def test_a_minimum_order_that_stands_in_the_way_is_named_alone() -> None:
    """south wants 5.00 and has but two pieces of 1.00; north has a minimum too, which is reached."""
    given = problem(
        {"a": 1, "b": 2},
        [offer("north", "A", "1:9.00"), offer("south", "B", "1:1.00", stock=2)],
        {"a": "A", "b": "B"},
        [terms("north", minimum="5"), terms("south", minimum="5")],
    )
    assert ways(given) == [("without the minimum order of south, 5 EUR, it can be done", Decimal("11.00"))]


def test_stock_that_two_groups_share_and_several_parts_for_one_group_are_ways_out() -> None:
    """Two groups of two want the three of AB; with four of them, or with B for one piece, it goes."""
    given = problem(
        {"a": 2, "b": 2},
        [offer("north", "AB", "1:1.00", stock=3), offer("north", "B", "1:1.50", stock=1)],
        {"a": "AB", "b": "AB B"},
        [terms("north")],
    )
    assert ways(given) == [
        ("with more than 3 pieces of north AB it can be done", Decimal("4.00")),
        ("with groups made up of several parts (--split) it can be done", Decimal("4.50")),
    ]


def test_what_helps_nothing_is_not_named() -> None:
    given = problem(
        {"a": 2, "b": 2},
        [offer("north", "AB", "1:1.00", stock=3), offer("south", "A", "1:1.00", stock=9)],
        {"a": "AB", "b": "AB"},
        [terms("north"), terms("south", minimum="0")],
    )
    assert ways(given) == [("with more than 3 pieces of north AB it can be done", Decimal("4.00"))]


def test_where_nothing_was_found_in_time_there_is_no_order_but_what_is_short_is_told() -> None:
    found = look_into(needing(6, 5), lambda _: Outcome(Status.FEASIBLE))
    assert (found.outcome.order, found.left_out) == (None, ("a",))


def test_groups_left_out_stand_in_the_order_of_the_needs() -> None:
    names = [f"{number} µF" for number in (220, 47, 1, 1000, 10, 4700, 33, 2)]
    given = problem(
        dict.fromkeys(names, 2),
        [offer("north", name, "1:1.00", stock=1) for name in names],
        {},
        [terms("north")],
    )
    short = replace(given, suits={name: (at,) for at, name in enumerate(names)})
    assert list(look_into(short, solve).left_out) == names
