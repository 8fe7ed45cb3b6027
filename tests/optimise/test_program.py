"""The integer program by itself, without the search around it: against trying everything, and worked by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from recap.model import Need, Problem
from recap.optimise import program, rebuild, verify
from recap.optimise.decode import total_of
from recap.optimise.instance import Offer, Step, build
from recap.optimise.program import by_multiples, trimmed
from recap.optimise.solver import Found, run
from tests.optimise.oracle import best
from tests.optimise.problems import lying, offer, problem, sharing_problems, small_problems, terms

some = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def least(asked: Problem) -> Fraction | None:
    """Return the least total by the program alone; its objective, its choice and the order agree."""
    instance = build(asked)
    model = program.build(instance)
    model.minimise(model.costs(), 1)
    answer = run(model.lp)
    if answer.found is Found.INFEASIBLE:
        return None
    assert answer.found is Found.PROVEN
    choice = model.choice()
    order = rebuild.order_of(instance, choice)
    assert verify.faults(asked, order) == []
    assert answer.objective is not None
    assert round(answer.objective) == total_of(instance, choice.bought) or answer.objective == pytest.approx(
        total_of(instance, choice.bought), rel=1e-6
    )
    return Fraction(order.total)


def agrees(asked: Problem) -> None:
    expected = best(asked)
    assert least(asked) == (None if expected is None else expected[0])


@some
@given(small_problems(coarse=True))
def test_the_least_total_is_that_of_trying_everything(asked: Problem) -> None:
    agrees(asked)


@some
@given(small_problems(rising=True, coarse=True))
def test_so_it_is_where_prices_and_charges_rise(asked: Problem) -> None:
    agrees(asked)


@some
@given(sharing_problems())
def test_so_it_is_where_spares_are_shared(asked: Problem) -> None:
    agrees(asked)


TWO = problem(
    {"a": 4, "b": 3},
    [offer("north", "A", "1:1.00"), offer("south", "AB", "1:1.20 5:0.90"), offer("north", "B", "1:1.00")],
    {"a": "A AB", "b": "AB B"},
    [terms("north", "0:2", handling="1.50", line_fee="0.25"), terms("south", "0:3 6:1", rate="2")],
)
"""All at north 7.00 + 2.00 + 1.50 + 2 x 0.25 = 11.00; all at south 2 x (7 x 0.90 + 1.00) = 14.60; mixed dearer."""


def test_goods_postage_handling_and_the_fee_of_each_line_all_count() -> None:
    assert least(TWO) == 11
    dear = replace(TWO, suppliers={**TWO.suppliers, "north": terms("north", "0:2", handling="5.20", line_fee="0.25")})
    assert least(dear) == Fraction("14.6")  # 14.70 at north
    fees = replace(TWO, suppliers={**TWO.suppliers, "north": terms("north", "0:2", handling="1.50", line_fee="2.10")})
    assert least(fees) == Fraction("14.6")


def test_a_higher_charge_for_more_goods_is_paid() -> None:
    """Seven pieces of 1.00 cost 3.00 to send; up to 5.00 of goods it would be 1.00."""
    heavy = problem({"a": 7}, [offer("north", "A", "1:1.00")], {"a": "A"}, [terms("north", "0:1 6:3")])
    assert least(heavy) == 10
    light = problem({"a": 5}, [offer("north", "A", "1:1.00")], {"a": "A"}, [terms("north", "0:1 6:3")])
    assert least(light) == 6
    # a piece more for nothing is not bought to be dearer to send
    free = problem({"a": 5}, [offer("north", "A", "1:1.00 9:0.60")], {"a": "A"}, [terms("north", "0:1 5.2:3")])
    assert least(free) == 6


def test_the_drawer_gives_what_it_has_and_the_rest_is_bought() -> None:
    """Three of A lie there; of seven wanted four are bought, of the part that lies there or, split, of any."""
    asked = problem(
        {"a": 4, "b": 3},
        [offer("north", "A", "1:1.00"), offer("north", "B", "1:0.10")],
        {"a": "A", "b": "A B"},
        [terms("north")],
        drawer=[lying("A", 3)],
    )
    assert least(asked) == Fraction("1.3")  # three and one of A for a, three of B for b
    assert least(replace(asked, one_part_per_group=False)) == Fraction("1.3")
    scarce = replace(asked, drawer=(lying("A", 1),))
    assert least(scarce) == Fraction("3.3")
    nothing = replace(asked, offers=asked.offers[:1], suits={"a": (0,), "b": (0,)}, drawer=(lying("A", 7),))
    assert least(nothing) == 0
    assert least(replace(nothing, drawer=(lying("A", 6),))) == 1


def test_shared_spares_may_lie_in_the_drawer_or_be_left_of_another_group() -> None:
    """One of A is left over for a and b alike; of C three are to be left, of which two lie in the drawer."""
    asked = problem(
        {"a": 2, "b": 1, "c": 1},
        [offer("north", "A", "1:1.00"), offer("north", "C", "1:0.50")],
        {"a": "A", "b": "A", "c": "C"},
        [terms("north")],
        drawer=[lying("C", 2)],
    )
    spare = replace(asked, needs=(Need("a", 2, 1), Need("b", 1, 1), Need("c", 1, 3)))
    assert least(asked) == 3
    assert least(spare) == 5  # four of A; four of C are wanted in all, two are bought


def test_no_more_suppliers_than_allowed() -> None:
    apart = problem(
        {"a": 1, "b": 1},
        [offer("north", "A", "1:1.00"), offer("south", "A", "1:3.00"), offer("south", "B", "1:1.00")],
        {"a": "A", "b": "B"},
        [terms("north"), terms("south")],
    )
    assert least(apart) == 2
    assert least(replace(apart, max_suppliers=2)) == 2
    assert least(replace(apart, max_suppliers=1)) == 4
    lone = replace(apart, offers=(apart.offers[0], apart.offers[2]), suits={"a": (0,), "b": (1,)})
    assert least(replace(lone, max_suppliers=1)) is None


@pytest.mark.parametrize(
    ("multiple", "needs", "spares", "expected"),
    [
        (5, 7, 0, [(5, 5), (10, 10), (15, 40)]),  # ten are enough; each multiple up to that is a step of its own
        (5, 7, 4, [(5, 5), (10, 10), (15, 15), (20, 40)]),
        (5, 60, 0, [*((n, n) for n in range(5, 41, 5))]),
        (5, 61, 0, [(5, 40)]),  # thirteen multiples are many
        (1, 7, 0, [(5, 40)]),
    ],
)
def test_what_is_sold_in_few_multiples_has_a_step_for_each(
    multiple: int, needs: int, spares: int, expected: list[tuple[int, int]]
) -> None:
    plain = build(problem({"g": 1}, [offer("A", "p", "1:1")], {"g": "p"}, [terms("A")]))
    sold = Offer(0, 0, "p", multiple, (Step(5, 40, 100),), (0,))
    found = by_multiples(replace(plain, needs=(needs,), spares=(spares,), offers=(sold,)))
    assert [(step.low, step.high) for step in found.offers[0].steps] == expected
    assert {step.price for step in found.offers[0].steps} == {100}


@pytest.mark.parametrize(
    ("taken", "uses", "kept"),
    [
        ({(0, 0): 3}, {}, {(0, 0): 3}),
        ({(0, 0): 6}, {}, {(0, 0): 5}),  # no more than the five wanted
        ({(0, 0): 3}, {(0, 7): 4}, {(0, 0): 1}),
        ({(0, 0): 3}, {(0, 7): 5}, {}),
        ({(0, 0): 3, (0, 1): 4}, {}, {(0, 0): 3, (0, 1): 2}),
        ({(0, 0): 5, (0, 1): 4, (1, 1): 2}, {}, {(0, 0): 5, (1, 1): 2}),
    ],
)
def test_no_more_is_taken_from_the_drawer_than_a_group_wants(
    taken: dict[tuple[int, int], int], uses: dict[tuple[int, int], int], kept: dict[tuple[int, int], int]
) -> None:
    assert trimmed(taken, uses, (5, 2)) == kept
