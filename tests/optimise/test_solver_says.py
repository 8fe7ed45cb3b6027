"""What came of a solve, said truly: small programs worked by hand, and one that no solver ends in a blink.

That one is a market split (Cornuéjols and Dawande 1998, "A class of hard small 0-1 programs"): rows of random whole
coefficients below 100, each to be met at half its sum, and the miss is the objective. Branch and bound can't prune it.
"""

from __future__ import annotations

import random
import time
from typing import Any

import pulp
import pytest

from recap.optimise.solver import Found, run

BOTH = pytest.mark.parametrize("solver", ["highs", "cbc"])

Program = Any


def bags(*, most_bags: int | None = None, wanted: int = 12) -> tuple[Program, Program, Program]:
    """Bags of ten at 2.00 and single pieces at 0.30, and 0.50 whatever is bought; 12 are 2.00 + 0.60 + 0.50."""
    program = pulp.LpProblem("bags", pulp.LpMinimize)
    bag = program.add_variable("bag", 0, most_bags, pulp.LpInteger)
    single = program.add_variable("single", 0, 9, pulp.LpInteger)
    program.setObjective(2.0 * bag + 0.3 * single + 0.5)
    program.addConstraint(pulp.LpConstraint(10 * bag + single, pulp.LpConstraintGE, "wanted", wanted))
    return program, bag, single


CHANCE = random.Random(7)
WEIGHTS = [[CHANCE.randrange(100) for _ in range(40)] for _ in range(5)]
HALVES = [sum(row) // 2 for row in WEIGHTS]


def split() -> Program:
    program = pulp.LpProblem("split", pulp.LpMinimize)
    chosen = [program.add_variable(f"x{i}", 0, 1, pulp.LpInteger) for i in range(40)]
    missed = []
    for row, (weights, half) in enumerate(zip(WEIGHTS, HALVES, strict=True)):
        over, under = (program.add_variable(f"{name}{row}", 0, None, pulp.LpContinuous) for name in ("over", "under"))
        total = pulp.lpSum(w * x for w, x in zip(weights, chosen, strict=True)) + under - over
        program.addConstraint(pulp.LpConstraint(total, pulp.LpConstraintEQ, f"row{row}", half))
        missed += [over, under]
    program.setObjective(pulp.lpSum(missed))
    return program


@BOTH
def test_an_order_solved_to_the_end_is_proven_and_its_bound_is_its_total(solver: str) -> None:
    program, bag, single = bags()
    answer = run(program, solver)
    assert answer.found is Found.PROVEN
    assert answer.objective == pytest.approx(3.10)
    assert answer.bound == pytest.approx(3.10)
    assert not answer.interrupted
    assert (round(bag.varValue), round(single.varValue)) == (1, 2)


@BOTH
def test_limits_of_pieces_and_rows_are_kept(solver: str) -> None:
    """No bag is to be had: nine single ones are the most; eight of them are 2.40 + 0.50."""
    program, bag, single = bags(most_bags=0, wanted=8)
    answer = run(program, solver)
    assert (answer.found, answer.objective) == (Found.PROVEN, pytest.approx(2.90))
    assert (round(bag.varValue), round(single.varValue)) == (0, 8)
    program, _, _ = bags(most_bags=0, wanted=10)
    assert run(program, solver).found is Found.INFEASIBLE
    assert run(program, solver, 60.0).found is Found.INFEASIBLE


@BOTH
def test_what_may_be_below_nothing_and_what_may_not_be_above(solver: str) -> None:
    """Least of x - y where x is from -3 on, y at most 4, and both together are 2 at the most: -3 - 4."""
    program = pulp.LpProblem("signs", pulp.LpMinimize)
    x = program.add_variable("x", -3, None, pulp.LpInteger)
    y = program.add_variable("y", None, 4, pulp.LpContinuous)
    program.setObjective(x - y)
    program.addConstraint(pulp.LpConstraint(x + y, pulp.LpConstraintLE, "most", 2))
    answer = run(program, solver)
    assert (answer.found, answer.objective) == (Found.PROVEN, pytest.approx(-7))
    assert (x.varValue, y.varValue) == (pytest.approx(-3), pytest.approx(4))


@BOTH
def test_pieces_are_whole_only_where_that_is_asked(solver: str) -> None:
    """Half a bag is enough for five where bags may be parted, 1.00 + 0.50; else it is five single ones, 1.50 + 0.50."""
    program, bag, _ = bags(wanted=5)
    assert run(program, solver).objective == pytest.approx(2.0)
    bag.cat = pulp.LpContinuous
    answer = run(program, solver)
    assert (answer.found, answer.objective, answer.bound) == (Found.PROVEN, pytest.approx(1.5), pytest.approx(1.5))


def test_a_program_without_whole_numbers_has_its_total_for_bound() -> None:
    program, bag, single = bags(wanted=5)
    bag.cat = single.cat = pulp.LpContinuous
    answer = run(program)
    assert (answer.found, answer.objective, answer.bound) == (Found.PROVEN, pytest.approx(1.5), pytest.approx(1.5))


@BOTH
@pytest.mark.parametrize("seconds", [0.0, -1.0])
def test_without_time_nothing_is_found_and_nothing_is_claimed(solver: str, seconds: float) -> None:
    answer = run(bags()[0], solver, seconds)
    assert (answer.found, answer.objective, answer.bound) == (Found.NOTHING, None, float("-inf"))


def test_a_solver_that_is_not_there_is_named() -> None:
    with pytest.raises(ValueError, match="unknown solver 'simplex': highs or cbc"):
        run(bags()[0], "simplex")


@pytest.mark.parametrize(
    ("beyond", "found"), [(None, Found.PROVEN), (3.2, Found.PROVEN), (3.0, Found.INFEASIBLE), (2.0, Found.INFEASIBLE)]
)
def test_where_only_cheaper_ones_are_wanted_none_may_be_found(beyond: float | None, found: Found) -> None:
    answer = run(bags()[0], beyond=beyond)
    assert answer.found is found
    assert (answer.objective is None) is (found is Found.INFEASIBLE)


@BOTH
def test_a_solve_that_the_time_ended_is_not_called_proven(solver: str) -> None:
    """The miss can't be below nothing, and a bound says no more than was shown."""
    program = split()
    began = time.monotonic()
    answer = run(program, solver, 0.6)
    assert time.monotonic() - began < 30
    assert answer.found in {Found.FEASIBLE, Found.NOTHING}
    if answer.objective is not None:
        assert answer.found is Found.FEASIBLE
        assert answer.bound <= answer.objective
        missed = sum(var.varValue for var in program.variables() if var.name.startswith(("over", "under")))
        assert answer.objective == pytest.approx(missed, abs=1e-4)


def test_how_far_a_long_solve_is_gets_told() -> None:
    told: list[tuple[float, float]] = []
    run(split(), "highs", 0.6, report=lambda best, bound: told.append((best, bound)))
    assert told
    assert all(bound <= best for best, bound in told)


def test_a_solution_to_begin_with_is_at_hand_and_the_best_is_found_all_the_same() -> None:
    """Two bags are an order; a bag and two single ones are the cheapest."""
    program, bag, single = bags()
    answer = run(program, start={"bag": 2})
    assert (answer.found, answer.objective) == (Found.PROVEN, pytest.approx(3.10))
    assert (round(bag.varValue), round(single.varValue)) == (1, 2)


@pytest.mark.parametrize("rough", [False, True])
def test_what_was_known_at_the_beginning_is_not_lost(rough: bool) -> None:
    """With nothing chosen each row misses by its half; whatever the time, no worse comes out."""
    answer = run(split(), "highs", 0.3, start={f"under{row}": half for row, half in enumerate(HALVES)}, rough=rough)
    assert answer.found is Found.FEASIBLE
    assert answer.objective is not None
    assert 0 <= answer.objective <= sum(HALVES)
