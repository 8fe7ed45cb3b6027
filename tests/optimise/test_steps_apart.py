"""What the relaxation over price steps misses within clusters of groups: never more than there is, and all of it.

A lift that is too high calls an order proven that isn't; one that is too low costs time only.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.optimise import instance, program
from recap.optimise.branching import Branching, Node, search_steps
from recap.optimise.solver import UNTIRING, Found
from tests.optimise.oracle import best
from tests.optimise.problems import offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Problem
    from recap.optimise.program import Model

NEAR = 1 + 1e-9
MONEY = 1e-4
ENDLESS = float("inf")
SPLIT = st.one_of(small_problems(), small_problems(rising=True)).map(
    lambda asked: replace(asked, one_part_per_group=False, max_suppliers=0)
)


def written(asked: Problem) -> Model:
    """Write the program with its total in ten-thousandths of the bench currency, for floating point's sake."""
    model = program.build(instance.build(asked))
    model.minimise(model.costs(), MONEY / float(model.instance.unit))
    return model


def settled(model: Model) -> tuple[float, dict[int, int]] | None:
    """Return the least total and the suppliers and tiers of an order that costs it."""
    answer = search_steps(model)
    if answer.objective is None:
        return None
    places = [*model.used.values(), *model.tier.values()]
    return answer.objective, {var.index: program.rounded(var) for var in places}


@settings(max_examples=40)
@given(SPLIT, st.data())
def test_the_cheapest_order_is_not_below_the_bound_whatever_is_settled_of_its_terms(
    asked: Problem, data: st.DataObject
) -> None:
    model = written(asked)
    assume(model.step)
    found = settled(model)
    assume(found is not None)
    assert found is not None
    least, chosen = found
    fixed = {place: side for place, side in chosen.items() if data.draw(st.booleans())}
    search = Branching(model, UNTIRING, None, ENDLESS)
    point = search.relax(Node(0.0, 0, fixed))
    assert point is not None
    lifts = search.apart.lifts(point, fixed, ENDLESS)
    assert (lifts >= 0).all()
    assert point.value + lifts.sum() <= least * NEAR + 1e-6


@settings(max_examples=40)
@given(SPLIT, st.sampled_from([0.0, 0.001, 0.1, 1.0]))
def test_what_is_stuck_keeps_no_order_away_that_is_as_cheap_as_was_asked(asked: Problem, more: float) -> None:
    model = written(asked)
    assume(model.step)
    found = settled(model)
    assume(found is not None)
    assert found is not None
    least, fixed = found
    search = Branching(model, UNTIRING, None, ENDLESS)
    point = search.relax(Node(0.0, 0, fixed))
    assert point is not None
    lifts = search.apart.lifts(point, fixed, ENDLESS)
    room = least * (1 + more) * NEAR + 1e-6 - point.value - float(lifts.sum())
    stuck = search.apart.stuck(point, lifts, room)
    assert all(value == round(value) for value in stuck.values())
    search.solve(fixed, stuck, 0.0, {"time_limit": 60.0})
    assert search.best <= least * NEAR + 1e-6


def test_a_third_of_the_least_quantity_cannot_be_bought() -> None:
    """Need 8: six of a at 0.10 are in stock, b costs 0.20 in twos, at least six of them.

    By hand: the relaxation takes six of a and two of b, a third of their least, for 1.00. Whole: six of b and two of a
    for 1.40, against eight of b for 1.60. The lift is 0.40.
    """
    offers = [offer("A", "a", "1:0.10", stock=6), offer("A", "b", "1:0.20", multiple=2, minimum=5)]
    model = written(problem({"g": 8}, offers, {"g": "a b"}, [terms("A")], one_part=False))
    answer = search_steps(model)
    assert answer.found is Found.PROVEN
    assert answer.objective == pytest.approx(1.40 / MONEY)
    search = Branching(model, UNTIRING, None, ENDLESS)
    fixed = {model.used[0].index: 1, model.tier[0, 0].index: 1}
    point = search.relax(Node(0.0, 0, fixed))
    assert point is not None
    assert point.value == pytest.approx(1.00 / MONEY)
    assert search.apart.lifts(point, fixed, ENDLESS).tolist() == pytest.approx([0.40 / MONEY])


def test_each_cluster_has_its_own_lift_until_there_is_enough() -> None:
    """The same twice and a group of one plain part: 0.40, 0.40 and nothing; after the first, 0.30 would be enough."""
    offers = [offer("A", "a", "1:0.10", stock=6), offer("A", "b", "1:0.20", multiple=2, minimum=5)]
    offers += [replace(each, number=each.number * 2) for each in offers]
    needs, suits = {"g": 8, "h": 8, "i": 1}, {"g": "a b", "h": "aa bb", "i": "c"}
    model = written(problem(needs, [*offers, offer("A", "c", "1:2.00")], suits, [terms("A")], one_part=False))
    search = Branching(model, UNTIRING, None, ENDLESS)
    fixed = {model.used[0].index: 1, model.tier[0, 0].index: 1}
    point = search.relax(Node(0.0, 0, fixed))
    assert point is not None
    assert search.apart.lifts(point, fixed, ENDLESS).tolist() == pytest.approx([0.40 / MONEY, 0.40 / MONEY, 0])
    assert search.apart.lifts(point, fixed, 0.30 / MONEY).tolist() == pytest.approx([0.40 / MONEY, 0, 0])
    assert search.apart.lifts(point, fixed, ENDLESS, seconds=0.0).tolist() == pytest.approx([0.40 / MONEY, 0, 0])


def test_what_only_half_a_bag_would_keep_below_a_tier_is_told_to_be_impossible() -> None:
    """Need 5; p and q come in one bag of four each, at 1.00 a piece, and from 7.00 on shipping costs more.

    Two bags cost 8.00; the relaxation stays below the tier with a bag and a quarter, 5.00.
    """
    offers = [offer("A", number, "1:1.00", multiple=4, stock=4) for number in ("p", "q")]
    model = written(problem({"g": 5}, offers, {"g": "p q"}, [terms("A", "0:1.00 7.00:5.00")], one_part=False))
    search = Branching(model, UNTIRING, None, ENDLESS)
    fixed = {model.used[0].index: 1, model.tier[0, 0].index: 1, model.tier[0, 1].index: 0}
    point = search.relax(Node(0.0, 0, fixed))
    assert point is not None
    assert point.value == pytest.approx(6.00 / MONEY)
    assert search.apart.lifts(point, fixed, ENDLESS).tolist() == [ENDLESS]
    answer = search_steps(model)
    assert answer.objective == pytest.approx((8.00 + 5.00) / MONEY)


def test_prices_of_many_decimals_leave_the_bound_below_the_cheapest_order() -> None:
    """Goods in 10^-12 are counted with carries, which may be more than one; against trying everything."""
    offers = [
        offer("A", "p", "1:1.769999999999", multiple=3),
        offer("A", "q", "1:0.369999999999"),
        offer("B", "p", "1:1.969999999999 2:0.959999999999 3:0.839999999999", stock=3),
    ]
    suppliers = [terms("A", minimum="2.5"), terms("B", "0:1.94 1.28:0.66 4.6:0")]
    asked = problem({"g": 3, "h": 4}, offers, {"g": "p", "h": "p q"}, suppliers, one_part=False)
    model, expected = written(asked), best(asked)
    assert expected is not None
    found = settled(model)
    assert found is not None
    assert found[0] * MONEY == pytest.approx(float(expected[0]))
    search = Branching(model, UNTIRING, None, ENDLESS)
    point = search.relax(Node(0.0, 0, found[1]))
    assert point is not None
    lifts = search.apart.lifts(point, found[1], ENDLESS)
    assert (point.value + lifts.sum()) * MONEY <= float(expected[0]) * NEAR
