"""Pay a little more for fewer parcels or for longer rated life, as far as the user allows and no further."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from recap.model import Status
from recap.order.compare import by_life, by_parcels, rated_lives

if TYPE_CHECKING:
    from decimal import Decimal

    from recap.model import Outcome, Problem
    from recap.order.compare import Solve, Step


def fewer_parcels(problem: Problem, best: Outcome, percent: Decimal, solve_one: Solve) -> tuple[Problem, Outcome]:
    """Return the cheapest order in the fewest parcels that ``percent`` more pays for, and the problem it solves."""
    if best.order is None or percent <= 0:
        return problem, best
    limit = best.order.total * (1 + percent / 100)
    for step in by_parcels(problem, len(best.order.suppliers) - 1, solve_one):
        if _affordable(step, limit):
            return replace(problem, max_suppliers=int(step.at)), step.outcome
    return problem, best


def longer_life(problem: Problem, best: Outcome, percent: Decimal, solve_one: Solve) -> tuple[Outcome, Decimal | None]:
    """Return the cheapest order whose wet parts, where so sold, last longest for ``percent`` more at most.

    With it comes that life in hours, None where nothing longer can be had for the money.
    """
    if best.order is None or percent <= 0:
        return best, None
    limit = best.order.total * (1 + percent / 100)
    for hours in reversed(rated_lives(problem)):
        (step,) = by_life(problem, [hours], solve_one)
        if _affordable(step, limit):
            return step.outcome, hours
    return best, None


def _affordable(step: Step, limit: Decimal) -> bool:
    outcome = step.outcome
    return outcome.status is Status.OPTIMAL and outcome.order is not None and outcome.order.total <= limit
