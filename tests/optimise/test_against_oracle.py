"""The optimiser against trying everything: the same total, to the last digit."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import HealthCheck, given, settings

from recap.model import Problem, Status
from recap.optimise import verify
from recap.optimise.solve import solve
from tests.optimise.oracle import cheapest
from tests.optimise.problems import small_problems

few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def agrees(problem: Problem, solver: str = "highs") -> None:
    expected = cheapest(problem)
    outcome = solve(problem, solver=solver)
    if expected is None:
        assert outcome.status is Status.IMPOSSIBLE
        return
    assert outcome.status is Status.OPTIMAL
    assert outcome.order is not None
    assert verify.faults(problem, outcome.order) == []
    assert Fraction(outcome.order.total) == expected
    assert outcome.bound == outcome.order.total


@few
@given(small_problems())
def test_highs_finds_what_trying_everything_finds(problem: Problem) -> None:
    agrees(problem)


@few
@given(small_problems(rising=True))
def test_prices_and_charges_that_rise_are_no_trap(problem: Problem) -> None:
    agrees(problem)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_problems(rising=True))
def test_cbc_finds_the_same(problem: Problem) -> None:
    agrees(problem, "cbc")
