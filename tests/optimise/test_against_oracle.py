"""The optimiser against trying everything: the same total to the last digit, and of these the preferred order."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from recap.model import Order, Problem, Status
from recap.optimise import verify
from recap.optimise.solve import solve
from tests.optimise.oracle import Best, best
from tests.optimise.problems import offer, problem, sharing_problems, small_problems, terms

few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def reached(problem: Problem, order: Order) -> Best:
    """Return what the order comes to, as the oracle counts it."""
    parts = [*problem.offers, *(lot.part for lot in problem.drawer)]
    hours = {number: max(p.life_h or 0 for p in parts if p.number == number) for number in {p.number for p in parts}}
    lines = [line for parcel in order.suppliers for line in parcel.lines]
    used = [(line.part.number, use.qty) for line in lines for use in line.uses]
    used += [(drawn.part.part.number, use.qty) for drawn in order.drawer for use in drawn.uses]
    life = sum((Fraction(hours[number]) * pieces for number, pieces in used), Fraction(0))
    return Fraction(order.total), len(order.suppliers), len(lines), -life


def agrees(problem: Problem, solver: str = "highs") -> None:
    expected = best(problem)
    outcome = solve(problem, solver=solver)
    if expected is None:
        assert outcome.status is Status.IMPOSSIBLE
        return
    assert outcome.status is Status.OPTIMAL
    assert outcome.order is not None
    assert verify.faults(problem, outcome.order) == []
    assert outcome.preferred
    assert reached(problem, outcome.order) == expected
    assert outcome.bound == outcome.order.total


@few
@given(small_problems())
def test_highs_finds_what_trying_everything_finds(problem: Problem) -> None:
    agrees(problem)


@few
@given(small_problems(rising=True))
def test_prices_and_charges_that_rise_are_no_trap(problem: Problem) -> None:
    agrees(problem)


@few
@given(small_problems(coarse=True))
def test_of_equal_totals_the_preferred_order_comes_out(problem: Problem) -> None:
    agrees(problem)


@few
@given(sharing_problems())
def test_shared_spares_count_for_every_group_that_they_suit(problem: Problem) -> None:
    agrees(problem)


@pytest.mark.parametrize("digits", [12, 17, 30])
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_problems())
def test_prices_as_long_as_a_spreadsheet_works_them_out(digits: int, problem: Problem) -> None:
    """0.1 times 1.19 is 0.11899999999999999 in a program that counts in binary floats, and that is what it saves."""
    hair = Decimal(1).scaleb(-digits)
    longer = [
        replace(part, prices=tuple(replace(step, unit_price=step.unit_price - hair) for step in part.prices))
        for part in problem.offers
    ]
    agrees(replace(problem, offers=tuple(longer)))


def test_a_tier_is_reached_however_fine_the_prices_are() -> None:
    """Three pieces at 0.349999999999 pass 1.01, where postage falls from 4.24 to 2.59: 3.639999999997 in all."""
    asked = problem({"g": 1}, [offer("A", "p", "1:0.349999999999")], {"g": "p"}, [terms("A", "0:4.24 1.01:2.59")])
    order = solve(asked).order
    assert order is not None
    assert order.total == Decimal("3.639999999997")


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_problems(rising=True))
def test_cbc_finds_the_same(problem: Problem) -> None:
    agrees(problem, "cbc")
