"""Find the cheapest order and prove it: the one entrance to the optimiser.

Where each group takes one part, columns and a search over suppliers and tiers do it
(:mod:`recap.optimise.search`). Where groups may be split, where an offer suits very many groups, and with CBC, it is
the program over price steps (:mod:`recap.optimise.program`), searched in the same order by
:mod:`recap.optimise.branching` unless CBC is asked for. Either way the order is rebuilt from whole pieces,
priced by :mod:`recap.money` and checked by :mod:`recap.optimise.verify`: the solver's own figures are never quoted.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap import money
from recap.model import Outcome, Status
from recap.optimise import branching, columns, program, rebuild, search, start, ties, verify
from recap.optimise import instance as instances
from recap.optimise.decode import total_of
from recap.optimise.residue import FINE
from recap.optimise.solver import INFINITE, Answer, Found, Patience, run

if TYPE_CHECKING:
    from recap.model import Order, Problem
    from recap.optimise.instance import Instance
    from recap.optimise.program import Model
    from recap.optimise.rebuild import Choice
    from recap.optimise.solver import Report

Progress = Callable[[Decimal | None, Decimal, float], None]
"""Called on long solves with the best total so far, the bound, and the gap (0.05 is 5 %)."""

HAIR = Decimal("0.01")
"""So near to the best total, in the bench's currency, an order need not be proven to the last digit …"""

HAIR_SECONDS = 60.0
"""… where that takes longer than this: prices of six decimals and a threshold to be met make it a puzzle of its own."""

LEAST_SECONDS, MOST_SECONDS = 1.0, 5.0
"""What looking into preferences may always take, the time limit allowing, and what it may take at most."""

ANY = 1e300
"""A gap within which every order is."""

READABLE = 10**7
"""Objectives are scaled to about this size: a solver's own tolerances are then far below any price."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How to search: until when (:func:`time.monotonic`), whom to tell, and which order will do."""

    deadline: float | None = None
    progress: Progress | None = None
    prefer: bool = True
    any_order: bool = False


def solve(
    problem: Problem,
    *,
    solver: str = "highs",
    time_limit: float | None = None,
    progress: Progress | None = None,
    prefer: bool = True,
    any_order: bool = False,
) -> Outcome:
    """Return the cheapest order, or the best found within ``time_limit`` seconds, with its bound.

    ``solver``: "highs", or "cbc" that PuLP brings. Ctrl-C ends the search like the time limit. Without ``prefer`` any
    order of the least total will do. With ``any_order`` the search ends with the first order there is.
    """
    began = time.monotonic()
    problem = replace(problem, needs=tuple(need for need in problem.needs if need.pieces > 0))
    if not problem.needs:
        return Outcome(Status.OPTIMAL, money.order(()), Decimal(0), solver)
    if not all(problem.suits.get(need.group) or problem.drawer_suits.get(need.group) for need in problem.needs):
        return Outcome(Status.IMPOSSIBLE, solver=solver)
    instance = instances.build(problem)
    manner = Manner(None if time_limit is None else began + time_limit, progress, prefer, any_order)
    outcome = None
    if _by_columns(instance, solver):
        outcome = _solve_columns(instance, manner)
    if outcome is None:
        outcome = _solve_steps(instance, solver, manner)
    return replace(outcome, solver=solver, seconds=time.monotonic() - began)


def _by_columns(instance: Instance, engine: str) -> bool:
    """Tell whether columns are tried: with HiGHS, one part for each group, and no spares that groups share."""
    return engine == "highs" and instance.problem.one_part_per_group and not any(instance.spares)


def _solve_columns(instance: Instance, manner: Manner) -> Outcome | None:
    """Search over columns; None where the problem has too many of them, or the solver is at a loss."""
    began = time.monotonic()
    try:
        all_columns = columns.build(instance)
    except ValueError:
        return None

    if len({g for column in all_columns.all for g in column.groups}) < len(instance.needs):
        return Outcome(Status.IMPOSSIBLE)

    def told(best: float | None, bound: float) -> None:
        _tell(instance, manner.progress, best, bound)

    try:
        state = search.search(instance, all_columns, _patience(instance, manner, 1), told)
    except RuntimeError:
        return None  # floating point can't tell: the program over price steps may
    bound = instance.amount(surely(state.bound))
    if state.choice is None:
        return Outcome(Status.IMPOSSIBLE) if state.proven else Outcome(Status.FEASIBLE, None, bound)
    if state.proven:
        any_order = ties.Settled(state.choice, all=False)
        until = _until(began, manner.deadline)
        return _optimal(instance, ties.settle_columns(state, until) if manner.prefer else any_order)
    order = checked(instance, rebuild.order_of(instance, state.choice))
    return Outcome(Status.FEASIBLE, order, min(bound, order.total))


def _patience(instance: Instance, manner: Manner, scale: int) -> Patience:
    """Return how long to search; a time limit that the user gave is the only one."""
    if manner.any_order:
        return Patience(manner.deadline, ANY, 0.0)
    if manner.deadline is not None:
        return Patience(manner.deadline)
    return Patience(None, float(HAIR / instance.unit) / scale, time.monotonic() + HAIR_SECONDS)


def _until(began: float, deadline: float | None) -> float:
    """Return until when preferences may be looked into: half as long again as the least total took."""
    now = time.monotonic()
    until = now + min(max(LEAST_SECONDS, (now - began) / 2), MOST_SECONDS)
    return until if deadline is None else min(until, deadline)


def _optimal(instance: Instance, settled: ties.Settled) -> Outcome:
    order = checked(instance, rebuild.order_of(instance, settled.choice))
    return Outcome(Status.OPTIMAL, order, order.total, preferred=settled.all)


def _solve_steps(instance: Instance, engine: str, manner: Manner) -> Outcome:
    """Solve the program over price steps."""
    began = time.monotonic()
    deadline = manner.deadline
    model = program.build(instance)
    costs = model.costs()
    scale = max(1, sum(c for c, _ in costs) // max(len(costs), 1) * len(instance.needs) // READABLE)
    model.minimise(costs, scale)

    def report(best: float, bound: float) -> None:
        if bound < INFINITE:
            _tell(instance, manner.progress, best * scale if best < INFINITE else None, bound * scale)

    tried = engine != "highs" or _by_columns(instance, engine)  # columns that failed once would fail again
    first = None if tried else start.first_choice(instance, deadline)
    known = float("inf") if first is None else total_of(instance, first.bought) / scale
    answer = _answer(model, engine, _patience(instance, manner, scale), report, known)
    choice = _better(instance, first, None if answer.objective is None else model.choice())
    if choice is None and answer.found is Found.INFEASIBLE:
        return Outcome(Status.IMPOSSIBLE)
    bound = instance.amount(surely(min(answer.bound, known) * scale)) if answer.bound > 0 else Decimal(0)
    if choice is None:
        return Outcome(Status.FEASIBLE, None, bound)
    if answer.found in {Found.PROVEN, Found.INFEASIBLE}:
        any_order = ties.Settled(choice, all=False)
        until = _until(began, deadline)
        return _optimal(instance, ties.settle_steps(model, choice, engine, until) if manner.prefer else any_order)
    order = checked(instance, rebuild.order_of(instance, choice))
    return Outcome(Status.FEASIBLE, order, min(bound, order.total))


def _better(instance: Instance, first: Choice | None, second: Choice | None) -> Choice | None:
    """Return the cheaper of two orders, priced exactly; the other where one is None."""
    if first is None or second is None:
        return first or second
    return min(second, first, key=lambda choice: total_of(instance, choice.bought))


def _answer(model: Model, engine: str, patience: Patience, report: Report, known: float) -> Answer:
    """Solve; ``known`` is the objective of an order at hand, and only cheaper ones need be found."""
    if engine == "highs":
        try:
            return branching.search_steps(model, patience, report, known)
        except RuntimeError:
            pass  # the relaxation is too hard on floating point: HiGHS may do it its own way
    seconds = None if patience.deadline is None else patience.deadline - time.monotonic()
    beyond = known * (1 + 2 * FINE) if known < INFINITE else None
    return run(model.lp, engine, seconds, report=report, beyond=beyond)


def surely(bound: float) -> int:
    """Return a bound in total units, less what floating point can be wrong by: what is claimed must be true."""
    return max(int(bound * (1 - FINE)), 0)


def _tell(instance: Instance, progress: Progress | None, best: float | None, bound: float) -> None:
    if progress is not None:
        low = instance.amount(surely(max(bound, 0.0)))
        high = None if best is None else instance.amount(int(best))
        progress(high, low, float((high - low) / high) if high else 1.0)


def checked(instance: Instance, order: Order) -> Order:
    """Return the order; raises AssertionError with the faults where it is not legal."""
    faults = verify.faults(instance.problem, order)
    assert not faults, "; ".join(faults)
    return order
