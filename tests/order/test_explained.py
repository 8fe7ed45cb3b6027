"""Why an order is as it is: candidates, pieces over, what a supplier's terms did. Own arithmetic beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from recap import money
from recap.model import DrawerUse, Need, Order, OrderLine, Part, Problem, SupplierTerms, Use
from recap.optimise.solve import solve
from recap.order.explain import Explanation, explain
from tests.optimise.problems import lying, offer, problem, terms


def bought(given: Problem, *lines: tuple[int, int, dict[str, int]], drawer: tuple[DrawerUse, ...] = ()) -> Order:
    """An order of these lines (which offer, pieces, pieces by group), with each supplier's true terms."""
    by_supplier: dict[str, list[OrderLine]] = {}
    for which, qty, uses in lines:
        part = given.offers[which]
        line = money.line(part, qty, [Use(group, count) for group, count in uses.items()])
        by_supplier.setdefault(part.supplier, []).append(line)
    return money.order([money.parcel(given.suppliers[name], own) for name, own in by_supplier.items()], drawer)


def one(part: Part, qty: int, used: int, of: SupplierTerms) -> Explanation:
    given = problem({"a": used}, [part], {"a": part.number}, [of])
    return explain(given, bought(given, (0, qty, {"a": used})))


NORTH = terms("north")


@pytest.mark.parametrize(
    ("prices", "qty", "used", "of", "reason"),
    [
        ("1:1.00 10:0.90", 10, 9, NORTH, "10 pieces cost no more than 9"),
        ("1:1.00 10:0.50", 10, 9, NORTH, "10 pieces cost 5.00, 9 would cost 9.00: the price break is cheaper"),
        ("1:1.00", 10, 9, terms("north", minimum="10"), "lifts the parcel over the minimum order of 10 EUR"),
        ("1:1.00", 10, 9, terms("north", "0:5 10:1"), "lifts the parcel to the next shipping step, which saves 4 EUR"),
        ("1:1.00", 10, 9, NORTH, "together with others it lifts the parcel over a threshold, or costs nothing more"),
    ],
)
def test_pieces_over_have_their_reason(prices: str, qty: int, used: int, of: SupplierTerms, reason: str) -> None:
    (over,) = one(offer("north", "A1", prices), qty, used, of).over
    assert (over.supplier, over.number, over.pieces, over.reason) == ("north", "A1", qty - used, reason)


def test_what_is_sold_in_steps_is_told_with_them() -> None:
    """From six on in fours: eight are the least."""
    (over,) = one(offer("north", "A1", "1:1.00", minimum=6, multiple=4), 8, 5, NORTH).over
    assert over.reason == "sold from 8 pieces, in steps of 4"


def test_where_nothing_is_over_there_is_nothing_to_explain() -> None:
    assert one(offer("north", "A1", "1:1.00"), 9, 9, NORTH).over == ()


SHARING = problem(
    {"a": 3, "b": 2, "c": 1},
    [offer("north", "AB", "1:1.00"), offer("north", "B", "1:1.00"), offer("north", "C", "1:1.00")],
    {"a": "AB", "b": "AB B", "c": "C"},
    [NORTH],
)


@pytest.mark.parametrize(
    ("spares", "over", "reason"),
    [
        ({"a": 1}, 1, "spare for a"),
        ({"a": 1, "b": 1}, 1, "spare for a, b"),
        ({"a": 1, "c": 1}, 1, "spare for a"),
        ({"a": 2, "b": 1}, 2, "spare for a, b"),
    ],
)
def test_shared_spares_are_told_with_the_groups_that_count_on_them(
    spares: dict[str, int], over: int, reason: str
) -> None:
    given = replace(SHARING, needs=tuple(Need(n.group, n.pieces, spares.get(n.group, 0)) for n in SHARING.needs))
    order = bought(given, (0, 5 + over, {"a": 3, "b": 2}), (2, 2, {"c": 1}))
    told = {each.number: each.reason for each in explain(given, order).over}
    assert told["AB"] == reason
    assert ("spare" in told["C"]) is ("c" in spares)


def test_a_group_with_spares_enough_elsewhere_counts_on_none_of_these() -> None:
    """b has two of B left over and wants one: it could do without the piece of AB."""
    given = replace(SHARING, needs=(Need("a", 3, 1), Need("b", 2, 1), Need("c", 1)))
    order = bought(given, (0, 4, {"a": 3}), (1, 4, {"b": 2}), (2, 1, {"c": 1}))
    told = {each.number: each.reason for each in explain(given, order).over}
    assert told["AB"] == "spare for a"
    assert "spare" not in told["B"]  # nor does it need these: one of AB is left for it


def test_candidates_stand_by_cost_those_taken_first_and_those_short_of_stock_last() -> None:
    offers = [
        offer("north", "SHORT", "1:0.10", stock=2),
        offer("north", "A4", "1:4.00"),
        offer("north", "A2", "1:2.00"),
        offer("south", "A2", "1:2.00"),
        offer("north", "TAKEN", "1:9.00"),
        offer("north", "A1", "1:1.00"),
        offer("north", "A3", "1:3.00"),
    ]
    given = problem({"a": 3}, offers, {"a": "SHORT A4 A2 TAKEN A1 A3"}, [NORTH, terms("south")])
    (why,) = explain(given, bought(given, (4, 3, {"a": 3}))).groups
    shown = [(c.part.supplier, c.part.number, c.cost, c.taken) for c in why.candidates]
    assert shown == [
        ("north", "TAKEN", Decimal("27.00"), 3),
        ("north", "A1", Decimal("3.00"), 0),
        ("north", "A2", Decimal("6.00"), 0),
        ("south", "A2", Decimal("6.00"), 0),
        ("north", "A3", Decimal("9.00"), 0),
    ]
    assert (why.need, why.suited, why.from_drawer) == (3, 7, 0)
    few = problem({"a": 3}, offers[:2], {"a": "SHORT A4"}, [NORTH])
    (told,) = explain(few, bought(few, (1, 3, {"a": 3}))).groups
    assert [(c.part.number, c.lot, c.cost) for c in told.candidates] == [
        ("A4", 3, Decimal("12.00")),
        ("SHORT", None, None),
    ]


def test_a_candidates_cost_is_with_duty_and_tax_and_without_postage_and_fees() -> None:
    """3 x 1.00, ten percent duty, twenty percent tax on both: 3.96, in a currency of half the bench's: 1.98."""
    dear = terms("north", "0:7", rate="0.5", handling="2", line_fee="1", duty_percent="10", tax_percent="20")
    (why,) = one(offer("north", "A1", "1:1.00"), 3, 3, dear).groups
    assert [c.cost for c in why.candidates] == [Decimal("1.98")]


def test_pieces_from_the_drawer_are_counted_group_by_group() -> None:
    given = problem(
        {"a": 2, "b": 3}, [offer("north", "X", "1:1.00")], {"a": "D", "b": "D X"}, [NORTH], drawer=[lying("D", 9)]
    )
    order = solve(given).order
    assert order is not None
    drawn = {why.group: (why.need, why.from_drawer) for why in explain(given, order).groups}
    assert drawn == {"a": (2, 2), "b": (3, 3)}


@pytest.mark.parametrize(
    ("of", "qty", "words"),
    [
        (NORTH, 5, []),
        (terms("north", "0:6 10:2 20:0"), 5, ["5.00 more in goods would change the shipping to 2"]),
        (
            terms("north", "0:6 10:2 20:0"),
            12,
            [
                "goods of 12.00 reach a shipping step that saves 4",
                "8.00 more in goods would change the shipping to 0",
            ],
        ),
        (terms("north", "0:6 10:2 20:0"), 20, ["goods of 20.00 reach a shipping step that saves 6"]),
        (terms("north", minimum="5"), 5, ["the minimum order of 5 is met with 0.00 to spare"]),
        (terms("north", handling="1.50"), 5, ["fees: 1.50 for the order, 0 for each of 1 lines"]),
        (terms("north", line_fee="0.20"), 5, ["fees: 0 for the order, 0.20 for each of 1 lines"]),
        (terms("north", tax_percent="19"), 5, ["duty 0 %, tax 19 %"]),
        (terms("north", duty_percent="3"), 5, ["duty 3 %, tax 0 %"]),
    ],
)
def test_what_the_terms_did(of: SupplierTerms, qty: int, words: list[str]) -> None:
    (told,) = one(offer("north", "A1", "1:1.00"), qty, qty, of).terms
    assert list(told.words) == words
