"""The program over price steps, searched by suppliers and tiers: these decide, and a general search meets them late.

Best bound first. A node fixes some z and v and solves the linear relaxation, warm from its parent's basis. Where all of
them come out whole, the whole program with them fixed is solved by HiGHS; what lies around that point are nodes again,
each with one term turned over. Where that takes long it waits its turn as a node with the bound reached so far, and
has twice the time then: the last cent of one choice of suppliers must not keep the others waiting.
"""

from __future__ import annotations

import heapq
import itertools
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import highspy
import numpy as np

from recap.optimise.relaxation import ANSWERS, HALF
from recap.optimise.residue import FINE
from recap.optimise.solver import TOLERANCE, Answer, Event, Found, Quiet, as_arrays

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from recap.optimise.program import Model

WHOLE = 1e-6
"""How far from whole a term may be where a node is settled."""

ROUGH = 0.01
"""The gap at which the first order will do."""

PATIENCE = 4.0
"""Seconds that a node's program may take at first."""

Array = Any
"""A numpy array of floats by variable."""

Told = Callable[[float, float], None]
"""Called with the best objective so far and the bound."""


class Stopped(Exception):  # noqa: N818 - not an error: the best so far stands
    """The time is up, or the user pressed Ctrl-C."""


@dataclass(order=True, slots=True)
class Node:
    """Terms fixed, a bound for all orders that have them so, and how long solving their program may take."""

    bound: float
    turn: int
    fixed: dict[int, int] = field(compare=False)
    basis: highspy.HighsBasis | None = field(compare=False, default=None)
    patience: float = field(compare=False, default=PATIENCE)


@dataclass(frozen=True, slots=True)
class Point:
    """A solved relaxation: value, and by variable its value and reduced cost."""

    value: float
    x: Array
    reduced: Array
    basis: highspy.HighsBasis


class Branching:
    """One search; ``best`` and ``values`` are the cheapest solution so far."""

    def __init__(self, model: Model, deadline: float | None, told: Told | None) -> None:
        """Pass the program to HiGHS as it is, and once more without whole numbers."""
        self.model = as_arrays(model.lp)
        self.used = [var.index for var in model.used.values()]
        self.tiers = [var.index for var in model.tier.values()]
        self.terms = [*self.used, *self.tiers]
        self.deadline = deadline
        self.told = told
        self.best = float("inf")
        self.values: Array | None = None
        self.turns = itertools.count()
        self.interrupted = False
        count = self.model.num_col_
        self.relaxed = _solver(self.model)
        self.relaxed.setOptionValue("presolve", "off")
        kinds = np.array([highspy.HighsVarType.kContinuous] * count)
        self.relaxed.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)

    def seconds(self) -> float | None:
        """Return the time left; raises Stopped where none is."""
        if self.deadline is None:
            return None
        left = self.deadline - time.monotonic()
        if left <= 0:
            raise Stopped
        return left

    def hopeless(self, bound: float) -> bool:
        """Tell whether nothing with this bound can be as cheap as the best."""
        return bound > self.best * (1 + FINE)

    def relax(self, node: Node) -> Point | None:
        """Solve the relaxation; None where nothing is feasible that is as cheap as the best.

        Raises RuntimeError where HiGHS can't tell, which is no proof of anything.
        """
        highs = self.relaxed
        for place in self.terms:
            low, high = (node.fixed.get(place, free) for free in (0, 1))
            highs.changeColBounds(place, float(low), float(high))
        if node.basis is not None:
            highs.setBasis(node.basis)
        seconds = self.seconds()
        if seconds is not None:
            highs.setOptionValue("time_limit", highs.getRunTime() + max(seconds, 0.01))
        highs.setOptionValue("objective_bound", self.best * (1 + 2 * FINE))
        highs.run()
        status = highs.getModelStatus()
        if status not in ANSWERS:
            highs.clearSolver()
            highs.run()
            status = highs.getModelStatus()
        if status == highspy.HighsModelStatus.kTimeLimit:
            raise Stopped
        if status not in ANSWERS:
            raise RuntimeError(f"HiGHS: {status.name}")
        if status != highspy.HighsModelStatus.kOptimal:
            return None
        solution = highs.getSolution()
        cost = highs.getInfo().objective_function_value
        return Point(cost, np.array(solution.col_value), np.array(solution.col_dual), highs.getBasis())

    def settle(self, fixed: Mapping[int, int], bound: float, patience: float) -> float:
        """Find the cheapest order with these terms, or learn that there is none cheaper than the best.

        Returns the bound for what was left undone, infinite where nothing was. The first order is looked for roughly:
        the exact search goes faster with one at hand.
        """
        if self.values is None:
            self.solve(fixed, ROUGH, bound, patience)
        return self.solve(fixed, 0.0, bound, patience)

    def solve(self, fixed: Mapping[int, int], gap: float, bound: float, patience: float) -> float:
        """Solve the program with the terms fixed, up to a relative gap; keep what is better."""
        highs = _solver(self.model)
        for place, value in fixed.items():
            highs.changeColBounds(place, float(value), float(value))
        highs.setOptionValue("mip_rel_gap", gap)
        if self.best < float("inf"):
            highs.setOptionValue("objective_bound", self.best * (1 + 2 * FINE))
        seconds = self.seconds()
        highs.setOptionValue("time_limit", patience if seconds is None else min(seconds, patience))
        self._watch(highs, bound)
        info, status = highs.getInfo(), highs.getModelStatus()
        if info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
            self._keep(info.objective_function_value, highs.getSolution().col_value)
        if self.interrupted:
            raise Stopped
        if status == highspy.HighsModelStatus.kTimeLimit:
            self.seconds()
            return float(info.mip_dual_bound)
        if status not in ANSWERS and status != highspy.HighsModelStatus.kUnboundedOrInfeasible:
            raise RuntimeError(f"HiGHS: {status.name}")
        return float("inf")

    def _keep(self, objective: float, values: Iterable[float]) -> None:
        if objective < self.best:
            self.best, self.values = objective, np.array(values)

    def _watch(self, highs: Quiet, bound: float) -> None:
        """Run in a thread, so that Ctrl-C reaches us; it stops the solver, which keeps its best solution."""

        def stop(event: Event) -> None:
            if self.interrupted:
                event.data_in.user_interrupt = True

        def log(event: Event) -> None:
            if self.told is not None:
                self.told(min(self.best, event.data_out.mip_primal_bound), bound)

        highs.cbMipInterrupt += stop
        highs.cbMipLogging += log
        worker = threading.Thread(target=highs.run, daemon=True)
        worker.start()
        while worker.is_alive():
            try:
                worker.join(0.1)
            except KeyboardInterrupt:
                self.interrupted = True


def _solver(model: highspy.HighsLp) -> Quiet:
    """Return HiGHS with the model, gaps of nothing and tight tolerances."""
    highs = Quiet()
    options = ("mip_feasibility_tolerance", "primal_feasibility_tolerance", "dual_feasibility_tolerance")
    for option, value in (("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0)):
        highs.setOptionValue(option, value)
    for option in options:
        highs.setOptionValue(option, TOLERANCE)
    passed = highs.passModel(model)
    assert passed is not highspy.HighsStatus.kError, "HiGHS takes the program"
    return highs


def search_steps(model: Model, deadline: float | None = None, told: Told | None = None) -> Answer:
    """Search to the end or the deadline (:func:`time.monotonic`); the values stand in the program's variables.

    Raises RuntimeError where HiGHS is at a loss.
    """
    search = Branching(model, deadline, told)
    heap = [Node(0.0, next(search.turns), {})]
    proven, bound = True, float("inf")
    try:
        _explore(search, heap)
    except (Stopped, KeyboardInterrupt) as stop:
        search.interrupted |= isinstance(stop, KeyboardInterrupt)
        proven, bound = False, min((node.bound for node in heap), default=0.0)
    bound = min(bound, search.best)
    if search.values is None:
        return Answer(Found.INFEASIBLE if proven else Found.NOTHING, None, bound, interrupted=search.interrupted)
    for var in model.lp.variables():
        var.varValue = search.values[var.index]
    return Answer(Found.PROVEN if proven else Found.FEASIBLE, search.best, bound, interrupted=search.interrupted)


def _explore(search: Branching, heap: list[Node]) -> None:
    while heap and not search.hopeless(heap[0].bound):
        node = heap[0]
        if search.told is not None:
            search.told(search.best, node.bound)
        point = search.relax(node)
        for child in _children(search, node, point) if point is not None else ():
            child.bound = max(child.bound, node.bound)  # rounding must not put it before its parent
            heapq.heappush(heap, child)
        heapq.heappop(heap)  # the node still: its turn came before; so an interruption here loses nothing


def _children(search: Branching, node: Node, point: Point) -> list[Node]:
    """Return two halves by the most doubtful term, else what lies around the point once that is settled."""
    if search.hopeless(point.value):
        return []
    for places in (search.used, search.tiers):
        far, place = max(((abs(point.x[p] - round(point.x[p])), p) for p in places), default=(0.0, -1))
        if far > WHOLE:
            return [Node(point.value, next(search.turns), {**node.fixed, place: v}, point.basis) for v in (0, 1)]
    fixed = dict(node.fixed)
    around = []
    whole = {place: round(point.x[place]) for place in search.terms}
    undone = search.settle(whole, max(node.bound, point.value), node.patience)
    if undone < float("inf") and not search.hopeless(undone):
        around.append(Node(undone, next(search.turns), whole, point.basis, 2 * node.patience))
    tiers = [place for place in search.tiers if round(point.x[place])]
    for place in (*search.used, *tiers):
        if place in fixed:
            continue
        value = round(point.x[place])
        turning = max(point.reduced[place] if point.x[place] < HALF else -point.reduced[place], 0.0)
        around.append(Node(point.value + turning, next(search.turns), {**fixed, place: 1 - value}, point.basis))
        fixed[place] = value
    return around
