"""Find the cheapest order and prove it: the one entrance to the optimiser."""

from __future__ import annotations

import time
from collections.abc import Callable
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.model import Outcome, Status
from recap.optimise import instance as instances
from recap.optimise import program, rebuild, rows, solver, verify

if TYPE_CHECKING:
    from recap.model import Order, Problem
    from recap.optimise.instance import Instance

Progress = Callable[[Decimal | None, Decimal, float], None]
"""Called on long solves with the best total so far, the bound, and the gap (0.05 is 5 %)."""

READABLE = 10**7
"""Objectives are scaled to about this size: a solver's own tolerances are then far below any price."""


def solve(
    problem: Problem,
    *,
    solver: str = "highs",
    time_limit: float | None = None,
    progress: Progress | None = None,
) -> Outcome:
    """Return the cheapest order, or the best found within ``time_limit`` seconds, with its bound."""
    began = time.monotonic()
    instance = instances.build(problem)
    outcome = _solve_steps(instance, solver, time_limit, progress)
    return Outcome(outcome.status, outcome.order, outcome.bound, solver, time.monotonic() - began)


def _solve_steps(instance: Instance, engine: str, time_limit: float | None, progress: Progress | None) -> Outcome:
    model = program.build(instance)
    costs = model.costs()
    scale = max(1, sum(c for c, _ in costs) // max(len(costs), 1) * len(instance.needs) // READABLE)
    model.lp.setObjective(rows.total([(c / scale, x) for c, x in costs]))

    def report(best: float, bound: float) -> None:
        if progress is not None:
            low = instance.amount(int(max(bound, 0) * scale))
            high = instance.amount(int(best * scale)) if best < 1e300 else None  # noqa: PLR2004 - HiGHS's infinity
            progress(high, low, float((high - low) / high) if high else 1.0)

    answer = solver.run(model.lp, engine, time_limit, report)
    if answer.found is solver.Found.INFEASIBLE:
        return Outcome(Status.IMPOSSIBLE)
    bound = instance.amount(max(int(answer.bound * scale), 0)) if answer.bound > 0 else Decimal(0)
    if answer.found is solver.Found.NOTHING:
        return Outcome(Status.FEASIBLE, None, bound)
    order = checked(instance, rebuild.order_of(instance, model.choice()))
    if answer.found is solver.Found.PROVEN:
        return Outcome(Status.OPTIMAL, order, order.total)
    return Outcome(Status.FEASIBLE, order, min(bound, order.total))


def checked(instance: Instance, order: Order) -> Order:
    """Return the order; raises AssertionError with the faults where it is not legal."""
    faults = verify.faults(instance.problem, order)
    assert not faults, "; ".join(faults)
    return order
