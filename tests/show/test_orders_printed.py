"""An order as it is printed and as JSON: money, pieces, what is proven, what can't be had. Own arithmetic beside each.

The order is that of :mod:`tests.order.sample`, with its parts renamed here.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from recap import money
from recap.match.combine import Combination, Joining
from recap.model import DRAWER, Citation, Group, Status, Use, Verdict
from recap.order.report import Alternative, NearMiss, UnmetNeed
from recap.order.unmet import IN_DOUBT
from recap.show.order_document import order_document
from recap.show.order_view import print_order
from tests.order.sample import (
    AXIAL_GROUP,
    EXTRA_GROUP,
    MISSING_GROUP,
    RADIAL,
    RADIAL_GROUP,
    a_report,
    an_order,
    part,
    place,
    terms,
)
from tests.show.printed import lines

if TYPE_CHECKING:
    from recap.order.report import Report

PLAIN = replace(a_report("A-1"), unmet=(), care={}, alternatives=())


def printed(report: Report, **more: Any) -> list[str]:
    return lines(print_order, report, **more)


def test_each_line_has_its_pieces_and_each_parcel_its_sum() -> None:
    """shop-a: 4 x 0.42 + 0.42 = 2.10, 5.90 postage, 19 % of 8.00.

    shop-b: 10 x 0.3125, 5.90 and 19 % are 10.73975 USD, at 0.92 they are 9.88057 EUR.
    """
    told = printed(PLAIN)
    assert told[:4] == [
        "shop-a: 2 lines, prices in EUR",
        "part what it is buy needed each goods",
        "A-1 47 µF 35 V radial 6.3×11 4 3 0.42 1.68",
        "SW-1 ? µF 35 V radial 6.3×11 1 1 0.42 0.42",
    ]
    assert "goods 2.10 + shipping 5.90 + tax 1.52 = 9.52 EUR" in told
    assert "shop-b: 1 line, prices in USD" in told
    assert "AX 0.47/450 47 µF 35 V axial bipolar 6.3×11 10 3 0.3125 3.12" in told
    assert "goods 3.12 + shipping 5.90 + tax 1.71 USD, × 0.92 = 9.88 EUR" in told
    assert told[told.index("From the drawer") + 2] == "OLD-1 47 µF 35 V radial 6.3×11 box 2 2"


def test_fees_and_duty_are_named_where_there_are_any_and_postage_always() -> None:
    """Goods 4.20; 1.50 and 2 x 0.25 fees; 10 % duty on the goods; no tax: 6.62, at half a euro 3.31."""
    given = replace(
        terms("far", "USD", "0.50"),
        shipping=(),
        handling=Decimal("1.50"),
        line_fee=Decimal("0.25"),
        duty_percent=Decimal(10),
        tax_percent=Decimal(0),
    )
    bought = [money.line(part(number, "far"), 5, [Use(RADIAL_GROUP.id, 5)]) for number in ("A", "B")]
    order = money.order([money.parcel(given, bought)])
    told = printed(replace(PLAIN, order=order, bound=order.total))
    assert "goods 4.20 + shipping 0.00 + fees 2.00 + duty 0.42 USD, × 0.5 = 3.31 EUR" in told
    assert "From the drawer" not in told


@pytest.mark.parametrize(
    ("status", "bound", "claim"),
    [
        (Status.OPTIMAL, None, "proven: no order costs less"),
        (Status.FEASIBLE, "12.5", "the best found in time; no order can cost less than 12.50 EUR"),
        (Status.FEASIBLE, None, "the best found in time; not proven"),
    ],
)
def test_the_total_says_what_is_proven_of_it(status: Status, bound: str | None, claim: str) -> None:
    told = printed(replace(PLAIN, status=status, bound=bound and Decimal(bound)))
    assert f"Total 19.40 EUR in 2 parcels ({claim})." in told


def test_pieces_groups_and_spares_are_counted_over_all_sets() -> None:
    """Four places of one group and a spare, one and a pair of the other, one more, and a switch: nine and one."""
    assert "It covers 9 pieces in 4 groups, and 1 spare." in printed(PLAIN)
    one = replace(PLAIN, groups=(Group("g", RADIAL, (place("s", "C1", None),), spares=2),))
    assert "It covers 1 piece in 1 group, and 2 spares." in printed(one)


def test_an_order_of_what_can_be_had_claims_no_more_than_that() -> None:
    """What is unmet comes first; the bound of a part of the needs is no bound of all."""
    whole = replace(a_report("A-1"), status=Status.IMPOSSIBLE, order=None, bound=None, alternatives=())
    part_order = replace(PLAIN, groups=PLAIN.groups[:2])
    told = printed(whole, part_order=part_order)
    assert told[:5] == [
        "No order can meet every need.",
        "8 µF 600 V axial: 1 piece can't be had",
        "where: set-2: C77",
        "why: no part has the voltage",
        "near: shop-b AX 8/450 (no): 450 V is below the old 600 V",
    ]
    assert told.index("The cheapest order for all that can be had:") < told.index("shop-a: 2 lines, prices in EUR")
    assert "Total 19.40 EUR in 2 parcels (proven: no order costs less)." in told
    late = printed(whole, part_order=replace(part_order, status=Status.FEASIBLE, bound=Decimal(12)))
    assert "Total 19.40 EUR in 2 parcels (the best found in time; not proven)." in late
    nothing = printed(whole)
    assert not any(line.startswith(("Total", "The cheapest")) for line in nothing)


def test_of_what_comes_near_the_first_two_are_named_and_all_where_asked() -> None:
    misses = tuple(NearMiss("s", f"N{i}", Verdict.NO, f"fault {i}", f"fault {i}") for i in range(5))
    need = UnmetNeed(MISSING_GROUP.id, 3, "N0 does not fit", misses)
    report = replace(PLAIN, status=Status.IMPOSSIBLE, order=None, unmet=(need,))
    brief, full = printed(report), printed(report, everything=True)
    assert "8 µF 600 V axial: 3 pieces can't be had" in brief
    assert sum(line.startswith("near:") for line in brief) == 2
    assert sum(line.startswith("near:") for line in full) >= 4


def test_places_in_doubt_are_counted_together_with_their_sets() -> None:
    held = [Group(f"{IN_DOUBT}set-1 C{i}", RADIAL, (place("set-1", f"C{i}", None, RADIAL, 2),)) for i in (4, 5)]
    unmet = tuple(UnmetNeed(group.id, 2, "the value is in doubt") for group in held)
    told = printed(replace(PLAIN, status=Status.IMPOSSIBLE, order=None, groups=tuple(held), unmet=unmet))
    assert f"{IN_DOUBT}2 positions: 4 pieces can't be had" in told
    assert "where: set-1: C4, C5" in told


def test_how_many_could_be_had_with_care_is_said() -> None:
    needs = tuple(UnmetNeed(f"g{i}", 1, "nothing fits", care=i < 2) for i in range(3))
    told = printed(replace(PLAIN, status=Status.IMPOSSIBLE, order=None, groups=(), unmet=needs))
    words = "2 of them could be had from parts that fit with care: --care-if-needed takes such parts there."
    assert words in told


def test_an_extra_without_ratings_is_told_by_its_name() -> None:
    """It has no value of its own; a part beside it that no group uses has neither."""
    bare = part("SW-1", value_uF=None, volts=None, mount=None, diameter_mm=None, height_mm=None)
    bought = [money.line(bare, 1, [Use(EXTRA_GROUP.id, 1)]), money.line(replace(bare, number="SW-2"), 2, [])]
    order = money.order([money.parcel(terms("shop-a"), bought)])
    told = printed(replace(PLAIN, order=order))
    assert "SW-1 mains switch 1 1 0.42 0.42" in told
    assert "SW-2 2 0 0.42 0.84" in told


def test_parts_to_be_joined_are_told_with_their_counts_and_where_they_come_from() -> None:
    pair = Combination(
        Joining.SERIES, ((part("HV-100", "shop-b"), 2),), Decimal(50), Decimal(450), None, None, "half of 100 µF", (),
        Citation("common practice", "two in series"),
    )  # fmt: skip
    need = UnmetNeed(MISSING_GROUP.id, 1, "nothing fits", joined=(pair,))
    told = printed(replace(PLAIN, status=Status.IMPOSSIBLE, order=None, unmet=(need,)))
    assert "joined, with care: 2 × HV-100 (shop-b) series: half of 100 µF" in told


def test_of_prices_that_are_young_and_orders_that_are_whole_nothing_is_said() -> None:
    assert not any(line.startswith("*") or "with care" in line or "can't be had" in line for line in printed(PLAIN))


def test_old_prices_are_starred_and_counted() -> None:
    told = printed(replace(PLAIN, old=frozenset({("shop-a", "A-1"), ("shop-b", "SW-1")})))
    assert "A-1 * 47 µF 35 V radial 6.3×11 4 3 0.42 1.68" in told
    assert "SW-1 ? µF 35 V radial 6.3×11 1 1 0.42 0.42" in told
    assert "* 2 lines with an old price: ask the supplier before you order (offer_days in bench.toml)." in told


def test_other_ways_to_buy_stand_with_what_this_order_saves() -> None:
    """25.00 and 19.40: 5.60 saved. What can't be had, or wasn't worked out, has no sum."""
    total = Decimal("19.40")
    ways = (
        Alternative("this order", total, parcels=2, lines=3),
        Alternative("one parcel", Decimal("25.00"), "best found in time, not proven", 1, 3),
        Alternative("each set on its own", None, "can't meet every need"),
    )
    told = printed(replace(PLAIN, alternatives=ways))
    assert told[-5:] == [
        "What other ways to buy the same would cost",
        "way total parcels lines this saves",
        "this order 19.40 2 3",
        "one parcel (best found in time, not proven) 25.00 1 3 5.60",
        "each set on its own can't meet every need",
    ]
    assert not any("other ways" in line for line in printed(replace(PLAIN, alternatives=ways[:1])))


def test_nothing_on_the_job_is_no_order_of_nothing() -> None:
    (told,) = printed(replace(PLAIN, groups=(), order=None))
    assert told.startswith("Nothing to buy: no position is on the job.")


# --- as JSON -----------------------------------------------------------------------------------


def test_the_document_has_exact_money_and_counts_pieces() -> None:
    """9.88057 in euro for shop-b; 19.40057 in all."""
    found = order_document(PLAIN, None, ())
    assert (found["status"], found["total"], found["bound"]) == ("optimal", "19.40057", "19.40057")
    here, abroad = found["suppliers"]
    assert {name: here[name] for name in ("goods", "shipping", "fees", "duty", "tax", "landed", "rate")} == {
        "goods": "2.10", "shipping": "5.90", "fees": "0.00", "duty": "0.00", "tax": "1.52", "landed": "9.52",
        "rate": "1.00",
    }  # fmt: skip
    assert (abroad["currency"], abroad["rate"]) == ("USD", "0.92")
    assert (abroad["tax"], abroad["landed"]) == ("1.71475", "9.88057")
    (line,) = abroad["lines"]
    assert (line["qty"], line["unit_price"], line["goods"]) == (10, "0.3125", "3.125")
    assert line["uses"] == [{"group": AXIAL_GROUP.id, "qty": 3}]
    assert found["drawer"] == [
        {"part": "OLD-1", "qty": 2, "place": "box 2", "uses": [{"group": RADIAL_GROUP.id, "qty": 2}]}
    ]
    groups = {group["group"]: group for group in found["groups"]}
    radial = groups[RADIAL_GROUP.id]
    assert (radial["value_uF"], radial["volts"], radial["need"], radial["spares"]) == (47, 25, 5, 1)
    assert radial["from"] == [
        {"supplier": DRAWER, "part": "OLD-1", "qty": 2},
        {"supplier": "shop-a", "part": "A-1", "qty": 3},
    ]
    assert groups[AXIAL_GROUP.id]["value_uF"] == 0.47
    assert groups[EXTRA_GROUP.id]["positions"] == [{"set": "set-1", "ref": None, "item": "mains switch"}]


def test_old_lines_are_marked_in_the_document_by_supplier_and_number() -> None:
    found = order_document(replace(PLAIN, old=frozenset({("shop-a", "A-1"), ("shop-b", "SW-1")})), None, ())
    old = {line["part"]: line["old"] for parcel in found["suppliers"] for line in parcel["lines"]}
    assert old == {"A-1": True, "SW-1": False, "AX 0.47/450": False}


def test_an_order_that_was_not_found_in_time_has_neither_total_nor_bound() -> None:
    found = order_document(replace(PLAIN, status=Status.FEASIBLE, order=None, bound=None), None, ())
    assert (found["status"], found["total"], found["bound"]) == ("feasible", None, None)
    assert (found["suppliers"], found["drawer"]) == ([], [])
    late = order_document(replace(PLAIN, status=Status.FEASIBLE, bound=Decimal("12.5")), None, ())
    assert (late["total"], late["bound"]) == ("19.40057", "12.50")


def test_an_impossible_order_has_no_total_and_what_can_be_had_stands_apart() -> None:
    whole = replace(a_report("A-1"), status=Status.IMPOSSIBLE)  # even were there an order at hand
    found = order_document(whole, PLAIN, ())
    assert (found["status"], found["total"], found["bound"], found["suppliers"]) == ("impossible", None, None, [])
    assert (found["unmet"][0]["group"], found["unmet"][0]["need"]) == (MISSING_GROUP.id, 1)
    assert found["unmet"][0]["positions"] == [{"set": "set-2", "ref": "C77", "board": "POWER"}]
    assert found["part_order"]["total"] == "19.40057"
    assert [parcel["landed"] for parcel in found["part_order"]["suppliers"]] == ["9.52", "9.88057"]
    assert [(a["name"], a["total"]) for a in found["alternatives"]] == [
        ("only shop-a", None),
        ("without the drawer", "20.65057"),
    ]
    assert order_document(whole, None, ())["part_order"] is None
    assert an_order("A-1").total == Decimal("19.40057")
