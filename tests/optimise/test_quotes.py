"""What offers cost for sets of groups, all at once, against the same worked out one by one; and topping parcels up."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given, settings

from recap.optimise import clusters, columns, fill, instance, quotes, search
from recap.optimise.fill import Line
from recap.optimise.gains import Gains, Turn
from tests.optimise.oracle import best
from tests.optimise.problems import offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Problem


def test_sets_are_counted_in_binary() -> None:
    assert quotes.members(2) == [(), (0,), (1,), (0, 1)]
    assert quotes.sums(np.array([[3, 5], [1, 10]])).tolist() == [[0, 3, 5, 8], [0, 1, 10, 11]]


@settings(max_examples=60)
@given(small_problems(rising=True))
def test_all_at_once_is_as_one_by_one(asked: Problem) -> None:
    built = instance.build(asked)
    seen = set()
    for each in quotes.quotes(built, built.offers):
        goods, quantity = each.cheapest()
        for n, part in enumerate(each.offers):
            seen.add(part.index)
            for mask, places in enumerate(quotes.members(len(part.groups))):
                pieces = sum(built.needs[part.groups[i]] for i in places)
                expected = columns.quote(part, pieces)
                if expected is None:
                    assert goods[n, mask] == quotes.NEVER
                else:
                    assert (goods[n, mask], quantity[n, mask]) == expected
    assert seen == {part.index for part in built.offers if part.groups and part.steps}


def test_amounts_beyond_64_bits_are_counted_as_well() -> None:
    price = "1:12345678901234.00000012 10:1"
    asked = problem({"g": 3, "h": 4}, [offer("A", "p", price)], {"g": "p", "h": "p"}, [terms("A")])
    built = instance.build(asked)
    (each,) = quotes.quotes(built, built.offers)
    goods, quantity = each.cheapest()
    assert quantity.tolist() == [[10, 10, 10, 10]]  # ten at 1 are cheaper than one at twelve billions
    assert goods.tolist() == [[10 * 10**8] * 4]
    assert columns.build(built).all


@pytest.mark.parametrize(
    ("prices", "target", "goods"),
    [
        # 9 pieces are 0.90; from ten on they are 0.05 each, and twenty of them are a euro
        ("1:0.10 10:0.05", "1.00", 100),
        # the smallest step, of a cent, stands on a rung that begins at 10.00: what is near is another dime
        ("1:0.10 1000:0.01", "1.05", 110),
    ],
)
def test_a_parcel_is_topped_up_as_near_as_can_be(prices: str, target: str, goods: int) -> None:
    shop = terms("A", f"0:5 {target}:0", handling="0.01")
    built = instance.build(problem({"g": 9}, [offer("A", "p", prices)], {"g": "p"}, [shop]))
    least = built.suppliers[0].target
    lines = fill.top_up(built, 0, [Line(0, (0,), 9)], least)
    assert lines is not None
    (line,) = lines
    step = next(step for step in built.offers[0].steps if step.low <= line.quantity <= step.high)
    assert line.quantity * step.price == goods


def test_topping_up_reaches_the_least_sum_from_the_target_on() -> None:
    """Every sum of two lines, one by one: pieces of 0.07 from 3 on, of 0.11 from 2 on, or of 0.02 from 50 on."""
    offers = [offer("A", "p", "1:0.07"), offer("A", "q", "1:0.11 50:0.02")]
    for target in range(43, 90):
        shop = terms("A", f"0:5 0.{target}:0", handling="0.01")
        built = instance.build(problem({"g": 3, "h": 2}, offers, {"g": "p", "h": "q"}, [shop]))
        lines = fill.top_up(built, 0, [Line(0, (0,), 3), Line(1, (1,), 2)], target)
        assert lines is not None
        found = sum(built.offers[each.offer].goods(each.quantity) or 0 for each in lines)
        sums = [7 * p + (11 if q < 50 else 2) * q for p, q in product(range(3, 20), range(2, 60))]
        assert found == min(each for each in sums if each >= target)


def test_that_term_is_branched_on_of_which_both_sides_cost_much() -> None:
    gains = Gains()
    terms_at = {1: 0.5, 2: 0.5, 3: 1.0, 4: 0.02}
    assert gains.choose([3], terms_at, 1e-6) is None
    gains.note(Turn(1, 0, 0.5), 10.0)
    gains.note(Turn(1, 1, 0.5), 10.0)
    gains.note(Turn(2, 0, 0.5), 100.0)
    gains.note(Turn(2, 1, 0.5), 0.0)
    assert gains.choose(terms_at, terms_at, 1e-6) == 1
    gains.note(Turn(2, 1, 0.5), 100.0)  # on the whole 50 on this side, so 2 is better than 1 now
    assert gains.choose(terms_at, terms_at, 1e-6) == 2


def test_a_part_that_is_short_is_counted_once_within_its_groups() -> None:
    """Of p there are 5: it can't serve g and h and also k; taken in halves it would seem to."""
    asked = problem(
        {"g": 2, "h": 2, "k": 2},
        [offer("A", "p", "1:0.10", stock=5), offer("A", "q", "1:1.00")],
        {"g": "p q", "h": "p q", "k": "p q"},
        [terms("A", handling="0.01")],
    )
    built = instance.build(replace(asked, one_part_per_group=True))
    listed = columns.build(built)
    lone = {column.groups for column in listed.all if listed.lone(column) == 0}
    assert (0, 1, 2) not in lone
    assert {(0,), (1,), (2,), (0, 1), (0, 2), (1, 2)} == lone
    found = clusters.find(built)
    parted = clusters.part(found, listed)
    values = np.array([float(column.goods) for column in listed.all])
    weighed = clusters.weigh(found, parted, values)
    assert weighed is not None
    (price,), excesses = weighed
    assert price.cheapest == 4 * 10 + 2 * 100  # two groups of p, the third of q
    assert price.rivals == (0,)
    by_column = dict(zip([(c.offer, c.groups) for c in listed.all], excesses.tolist(), strict=True))
    assert by_column[0, (0, 1)] == 0
    assert by_column[0, (0,)] == 2 * 10 + 4 * 100 - price.cheapest


@settings(max_examples=30)
@given(small_problems(rising=True))
def test_columns_too_dear_once_an_order_is_known_are_in_none_as_cheap(asked: Problem) -> None:
    """Whatever few are left out: the least total is that of all orders, tried one by one."""
    asked = replace(asked, one_part_per_group=True)
    built = instance.build(asked)
    listed = columns.build(built)
    assume({g for column in listed.all for g in column.groups} == set(built.groups))
    expected = best(asked)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "NARROWER", 0.999)
        found = search.search(built, listed)
    assert found.proven
    if expected is None:
        assert found.best is None
    else:
        assert found.best is not None
        assert found.best * Fraction(built.unit) == expected[0]
