"""Columns chosen, turned back into lines, pieces for each group, goods and totals. Own arithmetic beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.optimise.columns import Column
from recap.optimise.decode import Decoded, choice_of, goods_of, topped_up, total_of
from recap.optimise.fill import Line
from recap.optimise.instance import build
from recap.optimise.rebuild import Choice, order_of
from recap.optimise.verify import faults
from tests.optimise.problems import lying, offer, problem, terms

if TYPE_CHECKING:
    from recap.model import Problem

ASKED = problem(
    {"a": 5, "b": 2, "c": 4},
    [
        offer("north", "AB", "1:1.00 5:0.80"),
        offer("north", "C", "4:0.50", minimum=4, multiple=4),
        offer("south", "AB", "1:0.90"),
        offer("south", "A", "1:0.70"),
    ],
    {"a": "AB A", "b": "AB", "c": "C"},
    [terms("north", "0:3 10:1", handling="2", line_fee="0.25"), terms("south", "0:4")],
    drawer=[lying("AB", 3), lying("C", 9)],
)
"""Three pieces of AB lie in the drawer, which a and b may draw on; and nine of C."""
AB, C, AB_SOUTH, A_SOUTH = range(4)


def decoded(*columns: Column, beyond: dict[int, int] | None = None, asked: Problem = ASKED) -> Decoded:
    return topped_up(build(asked), {0: 0, 1: 0}, [(column, -1) for column in columns], beyond or {})


def bought(found: Decoded) -> dict[int, int]:
    assert found.choice is not None
    return found.choice.bought


@pytest.mark.parametrize(
    ("drawn", "uses", "taken"),
    [
        (0, {(0, AB): 5, (1, AB): 2}, {}),
        (3, {(0, AB): 2, (1, AB): 2}, {(0, 0): 3}),
        (5, {(0, AB): 0, (1, AB): 2}, {(0, 0): 5}),
        (6, {(0, AB): 0, (1, AB): 1}, {(0, 0): 5, (1, 0): 1}),
    ],
)
def test_what_a_line_draws_goes_to_its_groups_one_after_the_other(
    drawn: int, uses: dict[tuple[int, int], int], taken: dict[tuple[int, int], int]
) -> None:
    """Seven pieces are wanted of AB, five for a and two for b; what comes from the drawer isn't bought."""
    line = Line(AB, (0, 1), 7 - drawn, lot=0, drawn=drawn, quantity=7 - drawn)
    assert choice_of(build(ASKED), [line], {}) == Choice({AB: 7 - drawn}, uses, taken)


def test_a_lot_serves_only_groups_that_it_suits() -> None:
    """Lot 1 is C's: neither a nor b may have it, though the line names it."""
    line = Line(AB, (0, 1), 4, lot=1, drawn=3, quantity=4)
    assert choice_of(build(ASKED), [line], {}).taken == {}
    whole = choice_of(build(ASKED), [], {(2, 1): 4})
    assert (whole.bought, whole.uses, whole.taken) == ({}, {}, {(2, 1): 4})


def test_columns_of_one_offer_are_bought_together() -> None:
    """a alone and b alone, 5 x 0.80 and 2 x 1.00; together seven pieces at 0.80."""
    found = decoded(Column(AB, 0, (0,), 400, 5), Column(AB, 0, (1,), 200, 2), Column(-1, -1, (2,), 0, 0, 1, 4))
    assert bought(found) == {AB: 7}
    assert found.lines == (Line(AB, (0, 1), 7, quantity=7),)
    assert found.short == frozenset()
    assert found.choice is not None
    assert found.choice.taken == {(2, 1): 4}
    order = order_of(build(ASKED), found.choice)
    assert faults(ASKED, order) == []
    assert order.total == Decimal("10.85")  # 7 x 0.80 and 3.00, 2.00, 0.25


def test_what_is_drawn_is_not_bought() -> None:
    """Three of a's five pieces of AB lie in the drawer: two are bought, and two for b."""
    found = decoded(Column(AB, 0, (0,), 200, 2, 0, 3), Column(AB, 0, (1,), 200, 2), Column(-1, -1, (2,), 0, 0, 1, 4))
    assert bought(found) == {AB: 4}
    assert found.choice is not None
    assert found.choice.uses == {(0, AB): 2, (1, AB): 2}
    assert found.choice.taken == {(0, 0): 3, (2, 1): 4}
    assert faults(ASKED, order_of(build(ASKED), found.choice)) == []


def test_multiples_beyond_are_bought_besides() -> None:
    """C comes in fours: two multiples beyond the four that are wanted make twelve."""
    found = topped_up(build(ASKED), {0: 0, 1: 0}, [(Column(C, 0, (2,), 200, 4), 0)], {C: 2})
    assert bought(found) == {C: 12}


DEMANDING = replace(ASKED, suppliers={**ASKED.suppliers, "south": terms("south", "0:4", minimum="10")})


def test_a_parcel_below_the_minimum_is_topped_up_to_it() -> None:
    """Five of AB at 0.90 are 4.50, and 10.00 are asked: the nearest that more of AB and A at 0.70 come to."""
    found = decoded(Column(AB_SOUTH, 1, (0,), 450, 5), asked=DEMANDING)
    assert found.short == frozenset({1})
    goods = goods_of(build(DEMANDING), bought(found))  # in tenths
    assert goods == min(9 * n + 7 * m for n in range(5, 20) for m in range(20) if 9 * n + 7 * m >= 100)
    exact = decoded(Column(AB_SOUTH, 1, (0,), 450, 5), asked=ASKED)
    assert (bought(exact), exact.short) == ({AB_SOUTH: 5}, frozenset())


def test_a_parcel_that_no_pieces_lift_over_the_minimum_is_no_order() -> None:
    scarce = replace(
        DEMANDING,
        offers=tuple(replace(part, stock=5 if part.supplier == "south" else None) for part in ASKED.offers),
        suppliers={**ASKED.suppliers, "south": terms("south", "0:4", minimum="100")},
    )
    found = decoded(Column(AB_SOUTH, 1, (0,), 450, 5), asked=scarce)
    assert (found.choice, found.short, found.lines) == (None, frozenset({1}), ())


@pytest.mark.parametrize(
    ("quantities", "goods"),
    [({AB: 1}, 100), ({AB: 4}, 400), ({AB: 5}, 400), ({AB: 7, C: 8}, 960), ({AB: 0}, 0), ({}, 0)],
)
def test_goods_are_at_the_price_of_their_step(quantities: dict[int, int], goods: int) -> None:
    """In cents: 4 x 1.00 = 5 x 0.80."""
    assert goods_of(build(ASKED), quantities) == goods


@pytest.mark.parametrize(
    ("quantities", "total"),
    [
        ({AB: 5}, "9.25"),  # 4.00, postage 3, handling 2, one line 0.25
        ({AB: 5, C: 8}, "13.50"),  # 4.00 + 4.00, 3, 2, two lines
        ({AB: 13}, "13.65"),  # goods of 10.40 bring the postage down to 1
        ({AB_SOUTH: 2}, "5.80"),
        ({AB: 5, AB_SOUTH: 2}, "15.05"),
        ({AB: 5, C: 0}, "9.25"),  # what isn't bought costs no line
        ({}, "0"),
    ],
)
def test_totals_are_goods_the_tier_they_reach_and_fees(quantities: dict[int, int], total: str) -> None:
    built = build(ASKED)
    assert f"{built.amount(total_of(built, quantities)):f}" in {total, total.rstrip("0").rstrip(".")}
