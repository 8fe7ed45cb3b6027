"""What a parcel costs, worked by hand: break and tier hit exactly, quantities that can be bought, fee, duty and tax."""

from __future__ import annotations

import decimal
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap import money
from recap.model import DrawerUse, Part, SupplierTerms
from tests.optimise.problems import lying, offer, terms

if TYPE_CHECKING:
    from recap.model import SupplierOrder

TUBE = offer("A", "tube", "1:0.30 10:0.25 100:0.20")
"""Sold loose, at three prices."""
REEL = offer("A", "reel", "1:0.30", minimum=20, multiple=50)
"""On tape: fifty at a time, whatever the minimum says."""
STRIP = offer("A", "strip", "10:0.30 100:0.20", multiple=5, stock=97)
"""No price below ten; five at a time; 97 are left."""
FEW = offer("A", "few", "1:1", stock=5)


@pytest.mark.parametrize(
    ("part", "least"),
    [(TUBE, 1), (REEL, 50), (STRIP, 10), (offer("A", "p", "1:1", minimum=7, multiple=5), 10), (Part("A", "free"), 1)],
    ids=lambda each: each.number if isinstance(each, Part) else "",
)
def test_the_least_that_can_be_bought(part: Part, least: int) -> None:
    assert money.least_quantity(part) == least
    assert money.is_legal(part, least)
    assert not money.is_legal(part, least - 1)


@pytest.mark.parametrize(
    ("part", "wanted", "bought"),
    [
        *[(TUBE, 1, 1), (TUBE, 37, 37), (REEL, 1, 50), (REEL, 50, 50), (REEL, 51, 100)],
        *[(STRIP, 3, 10), (STRIP, 11, 15), (STRIP, 95, 95), (STRIP, 96, None)],
        *[(FEW, 5, 5), (FEW, 6, None), (offer("A", "out", "1:1", stock=0), 1, None)],
    ],
)
def test_a_wanted_number_goes_up_to_what_can_be_bought(part: Part, wanted: int, bought: int | None) -> None:
    assert money.legal_quantity(part, wanted) == bought


@pytest.mark.parametrize(
    ("part", "quantity", "legal"),
    [
        *[(STRIP, 95, True), (STRIP, 96, False), (STRIP, 97, False), (STRIP, 100, False), (STRIP, 5, False)],
        *[(FEW, 4, True), (FEW, 5, True), (FEW, 6, False)],
    ],
)
def test_steps_and_stock_bound_a_line(part: Part, quantity: int, legal: bool) -> None:
    assert money.is_legal(part, quantity) is legal


@pytest.mark.parametrize(("quantity", "price"), [(1, "0.30"), (9, "0.30"), (10, "0.25"), (99, "0.25"), (100, "0.20")])
def test_the_price_of_the_break_that_is_reached_holds_for_every_piece(quantity: int, price: str) -> None:
    line = money.line(TUBE, quantity)
    assert (line.unit_price, line.goods) == (Decimal(price), quantity * Decimal(price))


def test_a_ladder_written_in_any_order_is_the_same_ladder() -> None:
    assert money.unit_price(offer("A", "p", "100:0.20 1:0.30 10:0.25"), 10) == Decimal("0.25")


def test_below_the_first_price_there_is_none() -> None:
    with pytest.raises(ValueError, match="A strip: no price for 9 pieces"):
        money.unit_price(STRIP, 9)


def test_a_line_that_cannot_be_bought_is_not_priced() -> None:
    with pytest.raises(ValueError, match="A strip: 96 pieces can't be bought"):
        money.line(STRIP, 96)


TIERS = "0:9.00 50:4.50 100:0"


@pytest.mark.parametrize(
    ("goods", "charge"),
    [
        ("0", "9.00"),
        ("49.99", "9.00"),
        ("50", "4.50"),
        ("50.00", "4.50"),
        ("99.999", "4.50"),
        ("100", "0"),
        ("5000", "0"),
    ],
)
def test_goods_exactly_on_a_tier_have_reached_it(goods: str, charge: str) -> None:
    assert money.shipping(terms("A", TIERS), Decimal(goods)) == Decimal(charge)


@pytest.mark.parametrize(("goods", "charge"), [("9.99", "8"), ("10", "8"), ("19.99", "8"), ("20", "5")])
def test_below_the_lowest_tier_its_charge_holds(goods: str, charge: str) -> None:
    assert money.shipping(terms("A", "20:5 10:8"), Decimal(goods)) == Decimal(charge)


def test_no_tiers_no_shipping() -> None:
    assert money.shipping(terms("A"), Decimal("3.20")) == 0


@pytest.mark.parametrize(("goods", "met"), [("24.99", False), ("25", True), ("25.01", True)])
def test_goods_exactly_on_the_minimum_meet_it(goods: str, met: bool) -> None:
    assert money.meets_minimum(terms("A", minimum="25"), Decimal(goods)) is met


ABROAD = terms("A", TIERS, rate="1.17", handling="1.50", line_fee="0.10", duty_percent="3.7", tax_percent="19")


def parcel(of: SupplierTerms) -> SupplierOrder:
    return money.parcel(of, [money.line(TUBE, 100), money.line(STRIP, 15)])


def test_duty_is_on_the_goods_and_tax_on_everything() -> None:
    # by hand: 100 at 0.20 and 15 at 0.30 are 24.50; two lines at 0.10 and 1.50 are 1.70; 3.7 % of 24.50 is 0.9065;
    # 19 % of 24.50 + 9.00 + 1.70 + 0.9065 = 36.1065 is 6.860235; 42.966735 at 1.17 is 50.27107995
    priced = parcel(ABROAD)
    assert (priced.goods, priced.shipping, priced.fees) == (Decimal("24.50"), Decimal(9), Decimal("1.70"))
    assert (priced.duty, priced.tax) == (Decimal("0.9065"), Decimal("6.860235"))
    assert priced.landed == Decimal("50.27107995")


def test_an_order_is_the_sum_of_its_parcels_and_the_drawer_costs_nothing() -> None:
    home = money.parcel(terms("B"), [money.line(offer("B", "p", "1:0.10"), 3)])
    whole = money.order([parcel(ABROAD), home], [DrawerUse(lying("old", 4), ())])
    assert whole.total == Decimal("50.57107995")
    assert [len(whole.suppliers), len(whole.drawer)] == [2, 1]
    assert money.order([]).total == 0


def test_money_is_never_rounded() -> None:
    # a calculation in the usual 28 digits would drop the last figures of both
    goods = money.line(offer("A", "p", "1:1.2345"), 10**30 + 1).goods
    assert str(goods) == "1234500000000000000000000000001.2345"
    priced = money.parcel(terms("A", rate="1.000000000000000000000000000001"), [money.line(TUBE, 1)])
    assert priced.landed == Decimal("0.3000000000000000000000000000003")
    with pytest.raises(decimal.Inexact):
        money.EXACT.divide(Decimal(1), Decimal(3))
