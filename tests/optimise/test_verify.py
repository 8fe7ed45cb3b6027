"""The check of an order before it is called proven: a right one passes, and each way of being wrong is told."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap import money
from recap.model import DrawerUse, Need, Order, Part, SupplierOrder, Use
from recap.optimise import verify
from tests.optimise.problems import lying, offer, problem, terms

if TYPE_CHECKING:
    from recap.model import OrderLine, SupplierTerms

D = Decimal
RED = offer("A", "red", "1:1.00 10:0.80", multiple=2, stock=20)
BLUE = offer("A", "blue", "1:2.00")
FAR = offer("B", "blue", "1:1.50")
HOME, ABROAD = terms("A", "0:4.90", minimum="5"), terms("B")
LOT = lying("red", 3)
ASKED = problem({"g": 4, "h": 2}, [RED, BLUE, FAR], {"g": "red", "h": "blue"}, [HOME, ABROAD], drawer=[LOT])
"""Four of red, of which three lie in the drawer, and two of blue, which both suppliers have."""
TWO_RED = money.line(RED, 2, [Use("g", 1)])
TWO_BLUE = money.line(BLUE, 2, [Use("h", 2)])
THREE_LYING = DrawerUse(LOT, (Use("g", 3),))


def order(*lines: OrderLine, of: SupplierTerms = HOME, drawer: tuple[DrawerUse, ...] = (THREE_LYING,)) -> Order:
    return money.order([money.parcel(of, lines)], drawer)


RIGHT = order(TWO_RED, TWO_BLUE)


def priced(parcel: SupplierOrder) -> Order:
    return money.order([parcel], [THREE_LYING])


def parcel_of(*lines: OrderLine) -> SupplierOrder:
    return money.parcel(HOME, lines)


def parcel_with(**changed: object) -> SupplierOrder:
    return replace(RIGHT.suppliers[0], **changed)  # type: ignore[arg-type]


def test_a_right_order_has_no_faults() -> None:
    assert verify.faults(ASKED, RIGHT) == []


FOREIGN = money.line(FAR, 2, [Use("h", 2)])
CHEAPER = Part("A", "red", prices=offer("A", "red", "1:0.10").prices)

WRONG = {
    "an odd number of a part sold in pairs": (
        order(replace(TWO_RED, qty=3, goods=D(3)), TWO_BLUE),
        {"A red: 3 pieces can't be bought"},
    ),
    "more than there are": (
        order(replace(TWO_RED, qty=22, unit_price=D("0.80"), goods=D("17.60")), TWO_BLUE),
        {"A red: 22 pieces can't be bought"},
    ),
    "the price of a break not reached": (
        order(replace(TWO_RED, unit_price=D("0.80"), goods=D("1.60")), replace(TWO_BLUE, qty=4, goods=D(8))),
        {"A red: priced wrong"},
    ),
    "a part of that number at a price of its own": (
        order(replace(TWO_RED, part=CHEAPER), TWO_BLUE),
        {"A red: not offered"},
    ),
    "a part nobody offers": (
        order(TWO_RED, TWO_BLUE, money.line(offer("A", "grey", "1:1"), 1)),
        {"A grey: not offered"},
    ),
    "a part of the other supplier, and a number twice": (
        order(TWO_RED, FOREIGN, money.line(BLUE, 2)),
        {"A blue: not offered", "A: a part number on two lines"},
    ),
    "more handed out than bought": (
        order(TWO_RED, money.line(BLUE, 2, [Use("h", 2), Use("h", 1)])),
        {"A blue: more used than bought", "h: 3 pieces for a need of 2", "h: more than one part or supplier"},
    ),
    "all of a line handed out twice": (
        order(money.line(RED, 2, [Use("g", 3)]), TWO_BLUE, drawer=(DrawerUse(LOT, (Use("g", 1),)),)),
        {"A red: more used than bought"},
    ),
    "goods of the parcel": (priced(parcel_with(goods=D("6.01"))), {"A: the parcel is priced wrong"}),
    "free shipping": (priced(parcel_with(shipping=D(0))), {"A: the parcel is priced wrong"}),
    "the landed cost": (priced(parcel_with(landed=D("10.89"))), {"A: the parcel is priced wrong"}),
    "the total": (replace(RIGHT, total=RIGHT.total - D("0.01")), {"the total is not the sum of the parcels"}),
    "below the minimum order": (
        order(TWO_BLUE, drawer=(DrawerUse(lying("red", 3), (Use("g", 3),)),)),
        {"A: below the minimum order", "g: 3 pieces for a need of 4"},
    ),
    "other terms than the supplier's": (
        order(TWO_RED, TWO_BLUE, of=replace(HOME, handling=D(1))),
        {"A: not the supplier's terms"},
    ),
    "a parcel without lines": (
        money.order([*RIGHT.suppliers, money.parcel(ABROAD, [])], [THREE_LYING]),
        {"B: a parcel without lines"},
    ),
    "two parcels of one supplier": (
        money.order(
            [parcel_of(money.line(RED, 6, [Use("g", 1)])), parcel_of(money.line(BLUE, 3, [Use("h", 2)]))], [THREE_LYING]
        ),
        {"a supplier has two parcels"},
    ),
    "too few of a group": (
        order(TWO_RED, money.line(BLUE, 2, [Use("h", 1)])),
        {"h: 1 pieces for a need of 2"},
    ),
    "a group that was left out": (order(money.line(RED, 10, [Use("g", 1)])), {"h: 0 pieces for a need of 2"}),
    "a part that does not suit": (
        order(money.line(RED, 4, [Use("g", 1), Use("h", 2)]), money.line(BLUE, 1)),
        {"A red: does not suit h"},
    ),
    "a group that nobody asked for": (
        order(TWO_RED, money.line(BLUE, 4, [Use("h", 2), Use("k", 1), Use("j", 1)])),
        {"A blue: does not suit k", "A blue: does not suit j", "pieces for groups that need none: j, k"},
    ),
    "more than lies in the drawer": (
        order(money.line(RED, 2), TWO_BLUE, drawer=(DrawerUse(LOT, (Use("g", 4),)),)),
        {"drawer red: more taken than lies there"},
    ),
    "more than lies in the drawer, in two helpings": (
        order(money.line(RED, 2), TWO_BLUE, drawer=(DrawerUse(LOT, (Use("g", 2),)), DrawerUse(LOT, (Use("g", 2),)))),
        {"drawer red: more taken than lies there"},
    ),
    "a lot that isn't in the drawer": (
        order(TWO_RED, TWO_BLUE, drawer=(DrawerUse(lying("red", 30), (Use("g", 3),)),)),
        {"drawer red: not in the drawer"},
    ),
    "a lot that does not suit": (
        order(money.line(RED, 2, [Use("g", 2)]), TWO_BLUE, drawer=(DrawerUse(LOT, (Use("g", 2), Use("h", 1))),)),
        {"drawer red: does not suit h", "h: 3 pieces for a need of 2", "h: more than one part or supplier"},
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_is_told_and_nothing_else(name: str) -> None:
    wrong, told = WRONG[name]
    assert sorted(verify.faults(ASKED, wrong)) == sorted(told)


HERE = money.parcel(HOME, [TWO_RED, money.line(BLUE, 2, [Use("h", 1)])])
BOTH = money.order([HERE, money.parcel(ABROAD, [money.line(FAR, 1, [Use("h", 1)])])], [THREE_LYING])


def test_one_group_from_two_suppliers_only_where_it_may_be_split() -> None:
    assert verify.faults(ASKED, BOTH) == ["h: more than one part or supplier"]
    assert verify.faults(replace(ASKED, one_part_per_group=False), BOTH) == []


def test_one_group_of_two_parts_only_where_it_may_be_split() -> None:
    asked = problem({"g": 2}, [RED, BLUE], {"g": "red blue"}, [terms("A")])
    mixed = order(money.line(RED, 2, [Use("g", 1)]), money.line(BLUE, 1, [Use("g", 1)]), of=terms("A"), drawer=())
    assert verify.faults(asked, mixed) == ["g: more than one part or supplier"]


@pytest.mark.parametrize(("most", "told"), [(0, []), (1, ["2 suppliers, at most 1 allowed"]), (2, [])])
def test_no_more_suppliers_than_allowed(most: int, told: list[str]) -> None:
    asked = replace(ASKED, one_part_per_group=False, max_suppliers=most)
    assert verify.faults(asked, BOTH) == told


def test_goods_exactly_on_the_minimum_are_accepted() -> None:
    asked = replace(ASKED, suppliers={"A": replace(HOME, minimum=D(6)), "B": ABROAD})
    assert verify.faults(asked, order(TWO_RED, TWO_BLUE, of=replace(HOME, minimum=D(6)))) == []


@pytest.mark.parametrize(("spares", "told"), [(1, []), (2, []), (3, ["g: 2 pieces left over for 3 spares"])])
def test_spares_are_counted_where_they_lie(spares: int, told: list[str]) -> None:
    # one red of the line and one of the lot are in no use; the third blue helps g nothing, nor does what isn't bought
    asked = replace(ASKED, needs=(Need("g", 3, spares), Need("h", 2)), suits={"g": (0, 2), "h": (1, 2)})
    bought = order(TWO_RED, money.line(BLUE, 3, [Use("h", 2)]), drawer=(DrawerUse(LOT, (Use("g", 2),)),))
    assert verify.left_over(asked, bought) == {"g": 2}
    assert verify.faults(asked, bought) == told


def test_spares_of_a_drawer_that_is_not_the_benchs_are_not_counted() -> None:
    asked = replace(ASKED, needs=(Need("g", 4, 1), Need("h", 2)))
    elsewhere = (DrawerUse(lying("red", 30), (Use("g", 2),)), DrawerUse(LOT, (Use("g", 1),)))
    assert verify.faults(asked, order(TWO_RED, TWO_BLUE, drawer=elsewhere)) == ["drawer red: not in the drawer"]
