"""The program over price steps, searched by suppliers and tiers: these decide, and a general search meets them late.

Best bound first. A node fixes some z and v and solves the linear relaxation, warm from its parent's basis, without
offers that others always replace (:mod:`recap.optimise.thinned`). Where all of the terms come out whole, it is solved
with all offers; what that misses within clusters of groups is added to its bound (:mod:`recap.optimise.steps_apart`),
and the program with the terms fixed is solved by HiGHS, without what is too dear for it; what lies around that point
are nodes again, each with one term turned over. Where that takes long it waits its turn as a node with the bound
reached so far, and has twice the time then: the last cent of one choice of suppliers must not keep the others waiting.
"""

from __future__ import annotations

import heapq
import itertools
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any

import highspy
import numpy as np

from recap.optimise.relaxation import ANSWERS, HALF, fix
from recap.optimise.residue import FINE
from recap.optimise.solver import NONE, SEARCHES, UNTIRING, Answer, Found, as_arrays, exact_solver, watched
from recap.optimise.steps_apart import Apart, Point
from recap.optimise.thinned import Relaxed, replaceable

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from recap.optimise.program import Model
    from recap.optimise.solver import Patience, Quiet, Report

WHOLE = 1e-6
"""How far from whole a term may be where a node is settled."""

ROUGH = 0.01
"""The gap at which the first order will do."""

NARROW, NEAR = 2e-4, 1e-4
"""How far above the bound, as a share, a good order is looked for before the proof, and how near to the best it is."""

KNOWN = 5e-3
"""A best order this near to the bound is not worth looking for better ones on the way to the proof."""

LOOSE = 1e-8
"""Share of a relaxation's value that its multipliers may be wrong by where they are used once more."""

BRIEF, PATIENCE, ENDLESS = 10.0, 12.0, 1e9
"""Seconds for a good order, and for the proof where other nodes wait at first, and where none does."""

Array = Any
"""A numpy array of floats by variable."""


@dataclass(order=True, slots=True)
class Node:
    """Terms fixed, a bound for all orders that have them so, and how long solving their program may take.

    ``looked``: a good order with them was looked for.
    """

    bound: float
    turn: int
    fixed: dict[int, int] = field(compare=False)
    basis: highspy.HighsBasis | None = field(compare=False, default=None)
    patience: float = field(compare=False, default=PATIENCE)
    looked: bool = field(compare=False, default=False)


class Branching:
    """One search; ``best`` is the least objective so far, ``values`` the solution where it was found here."""

    def __init__(self, model: Model, patience: Patience, told: Report | None, best: float) -> None:
        """Pass the program to HiGHS as it is, and once more without whole numbers."""
        self.of = model
        self.model = as_arrays(model.lp)
        self.kinds = np.array(self.model.integrality_)
        self.used = [var.index for var in model.used.values()]
        self.tiers = [var.index for var in model.tier.values()]
        self.terms = [*self.used, *self.tiers]
        self.patience = patience
        self.low = 0.0
        self.alone = True
        self.told = told
        self.best = best
        self.values: Array | None = None
        self.turns = itertools.count()
        self.thinned = Relaxed(model, self.model, replaceable(model.instance))
        self.whole = Relaxed(model, self.model, frozenset()) if self.thinned.thinner else self.thinned
        self.apart = Apart(model, self.model)

    def seconds(self) -> float | None:
        """Return the time left; raises TimeoutError where there is none."""
        return self.patience.seconds(self.best, self.low)

    def hopeless(self, bound: float) -> bool:
        """Tell whether nothing with this bound can be as cheap as the best."""
        return bound > self.best * (1 + FINE)

    def look(self, node: Node) -> Point | None:
        """Solve the relaxation without offers that are always replaceable; otherwise like :meth:`relax`."""
        return self._solved(self.thinned, node)

    def relax(self, node: Node) -> Point | None:
        """Solve the relaxation; None where nothing is feasible that is as cheap as the best.

        Raises as :func:`recap.optimise.relaxation.resolved` does.
        """
        return self._solved(self.whole, node)

    def _solved(self, relaxed: Relaxed, node: Node) -> Point | None:
        basis = node.basis if relaxed is self.thinned else None
        return relaxed.solve(self.terms, node.fixed, basis, self.seconds(), self.best * (1 + 2 * FINE))

    def settle(self, node: Node, patience: float, bound: float) -> float:
        """Find the cheapest order with all terms fixed, or learn that there is none cheaper than the best.

        Returns the bound for what was left undone, infinite where nothing was. Where the best is far above what there
        may be, a good order is looked for in its place: the proof goes faster with one at hand, and may not be needed.
        """
        point = self.relax(node)
        if point is None:
            return float("inf")
        lifts = self.apart.lifts(point, node.fixed, self.best * (1 + FINE) - point.value, self.seconds())
        loose = LOOSE * point.value
        least = point.value + max(float(lifts.sum()) - loose, 0.0)
        if least == float("inf") or self.hopeless(least):
            return float("inf")
        if self.best == float("inf"):
            self.solve(node.fixed, {}, bound, {"mip_rel_gap": ROUGH, "time_limit": patience})
        beyond = self.best * (1 + 2 * FINE)
        options: dict[str, float | bool] = {"time_limit": patience, "objective_bound": beyond}
        width = NARROW * least
        # what is said of the whole relaxation holds with topping up as well, if that is no cheaper
        thinned = self.thinned if self.thinned.thinner and self.thinned.dearer_topped(point) else None
        if not node.looked and beyond - least > width:
            options.update({"time_limit": BRIEF, "mip_rel_gap": NEAR})
            stuck = self.apart.stuck(point, lifts, width + loose)
            return min(self._solve_either(node.fixed, stuck, bound, options, thinned), least + width)
        if beyond - least < KNOWN * least:
            options.update(dict.fromkeys(SEARCHES, False))
        stuck = self.apart.stuck(point, lifts, beyond - least + loose)
        return self._solve_either(node.fixed, stuck, bound, options, thinned)

    def _solve_either(
        self,
        fixed: Mapping[int, int],
        stuck: Mapping[int, float],
        bound: float,
        options: Mapping[str, float | bool],
        thinned: Relaxed | None,
    ) -> float:
        """Solve the program thinned at first, if that is given: where its orders fall short, as it is."""
        undone = None if thinned is None else self.solve(fixed, stuck, bound, options, thinned)
        if undone is None:
            undone = self.solve(fixed, stuck, bound, options)
        assert undone is not None, "only thinned it may fall short"
        return undone

    def solve(
        self,
        fixed: Mapping[int, int],
        stuck: Mapping[int, float],
        bound: float,
        options: Mapping[str, float | bool],
        thinned: Relaxed | None = None,
    ) -> float | None:
        """Solve the program with the terms fixed, and what is stuck; keep what is better.

        Returns the bound for what was left undone, by time or by a gap that was allowed. Of a ``thinned`` one: None
        where what was found had to be topped up.
        """
        highs = exact_solver(self.model) if thinned is None else thinned.in_whole_numbers(self.kinds)
        place = range(self.model.num_col_) if thinned is None else thinned.place
        for variable, value in stuck.items():
            if thinned is None or thinned.keeps[variable]:
                highs.changeColBounds(place[variable], value, value)
        fix(highs, [place[p] for p in self.terms], {place[p]: value for p, value in fixed.items()})
        seconds = self.seconds()
        for option, value in options.items():
            highs.setOptionValue(option, value)
        if seconds is not None:
            highs.setOptionValue("time_limit", min(seconds, options["time_limit"]))
        interrupted = watched(highs, None if self.told is None else partial(self._report, bound))
        short = False
        if highs.getInfo().primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
            found = highs.getSolution().col_value
            values = np.array(found) if thinned is None else thinned.spread(found)
            short = thinned is not None and not self._reached(values)
            if not short:
                self._keep(highs.getInfo().objective_function_value, values)
        if interrupted:
            raise KeyboardInterrupt
        undone = self._undone(highs, "mip_rel_gap" in options)
        return None if short and highs.getModelStatus() not in NONE else undone

    def _undone(self, highs: Quiet, gap: bool) -> float:
        """Return the bound for what a program that was solved has left undone; ``gap``: one was allowed."""
        status = highs.getModelStatus()
        if status == highspy.HighsModelStatus.kTimeLimit:
            self.seconds()
        elif status not in ANSWERS | NONE:
            raise RuntimeError(f"HiGHS: {status.name}")
        elif status in NONE or not gap:
            return float("inf")  # nothing is left undone
        return float(highs.getInfo().mip_dual_bound)

    def _reached(self, values: Array) -> bool:
        """Tell whether goods reach what their tiers ask for, counted in whole numbers."""
        for s, terms in enumerate(self.of.instance.suppliers):
            least = sum(tier.least for k, tier in enumerate(terms.tiers) if values[self.of.tier[s, k].index] > HALF)
            if least and sum(c * round(values[x.index]) for c, x in self.of.goods(s)) < least:
                return False
        return True

    def _keep(self, objective: float, values: Iterable[float]) -> None:
        if objective < self.best:
            self.best, self.values = objective, np.array(values)

    def _report(self, bound: float, best: float, _: float) -> None:
        """Tell the best so far, in this program or before it, and the bound for all that is left."""
        assert self.told is not None
        self.told(min(self.best, best), bound)


def search_steps(
    model: Model, patience: Patience = UNTIRING, told: Report | None = None, best: float = float("inf")
) -> Answer:
    """Search to the end or as long as there is patience; the values stand in the program's variables.

    ``best`` is the objective of an order known already: where no better one is found the answer has none, and is
    INFEASIBLE if there is none. Raises RuntimeError where HiGHS is at a loss.
    """
    search = Branching(model, patience, told, best)
    heap = [Node(0.0, next(search.turns), {})]
    proven, bound = True, float("inf")
    try:
        _explore(search, heap)
    except (TimeoutError, KeyboardInterrupt):
        proven, bound = False, min((node.bound for node in heap), default=0.0)
    bound = min(bound, search.best)
    if search.values is None:
        return Answer(Found.INFEASIBLE if proven else Found.NOTHING, None, bound)
    for var in model.lp.variables():
        var.varValue = search.values[var.index]
    return Answer(Found.PROVEN if proven else Found.FEASIBLE, search.best, bound)


def _explore(search: Branching, heap: list[Node]) -> None:
    while heap and not search.hopeless(heap[0].bound):
        node = heap[0]
        search.low = node.bound
        search.alone = all(other is node or search.hopeless(other.bound) for other in heap)
        if search.told is not None:
            search.told(search.best, node.bound)
        point = search.look(node)
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
    whole = {place: round(point.x[place]) for place in search.terms}
    around = _around(search, node, point)
    waiting = not search.alone or any(not search.hopeless(each.bound) for each in around)
    # what is told meanwhile is the node's own bound: others may wait below the point's value
    here = Node(point.value, node.turn, whole, point.basis, looked=node.looked)
    undone = search.settle(here, node.patience if waiting else ENDLESS, node.bound)
    if undone < float("inf") and not search.hopeless(undone):
        patience = 2 * node.patience if node.looked else node.patience
        around.append(Node(undone, next(search.turns), whole, point.basis, patience, looked=True))
    return around


def _around(search: Branching, node: Node, point: Point) -> list[Node]:
    """Return the node without the point: each term in turn turned over, those before it as they are there."""
    fixed, around = dict(node.fixed), []
    tiers = [place for place in search.tiers if round(point.x[place])]
    for place in (*search.used, *tiers):
        if place in fixed:
            continue
        value = round(point.x[place])
        turning = max(point.reduced[place] if point.x[place] < HALF else -point.reduced[place], 0.0)
        around.append(Node(point.value + turning, next(search.turns), {**fixed, place: 1 - value}, point.basis))
        fixed[place] = value
    return around
