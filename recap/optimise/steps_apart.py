"""The program over price steps, cluster by cluster: what its relaxation misses there.

Groups that share no offer (:mod:`recap.optimise.clusters`) meet only in rows about suppliers and the drawer. With the
multipliers of these rows the program falls apart into a small one for each cluster; solved in whole numbers, each costs
at least what the relaxation says, and often more: that is its lift. With π those multipliers, c̄ = c - π A:

    bound = relaxation + sum over clusters of [ least c̄ x in whole numbers - c̄ x of the relaxation ]

A row that joins one cluster with suppliers whose use isn't settled is in both: in c̄ by its multiplier, and in the
cluster's program with the supplier taken for used. Only clusters torn by the relaxation are looked at.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import highspy
import numpy as np

from recap.optimise import clusters
from recap.optimise.solver import exact_solver

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.optimise.program import Model
    from recap.optimise.solver import Quiet

SECONDS, TOGETHER = 0.5, 5.0
"""What one cluster may take, and all of them; the bound reached by then counts."""

WHOLE = 1e-6
"""How far from whole a variable of a cluster may be that isn't torn."""

NOWHERE = -1
"""The cluster of variables that are of none."""


@dataclass(frozen=True, slots=True)
class Point:
    """A solved relaxation: value, by variable its value and reduced cost, and the rows' multipliers."""

    value: float
    x: np.ndarray
    reduced: np.ndarray
    duals: np.ndarray
    basis: highspy.HighsBasis


@dataclass(frozen=True, slots=True)
class Cluster:
    """One cluster's program: its own variables, then those of suppliers and tiers in its rows, in ``highs``."""

    own: np.ndarray
    terms: np.ndarray
    highs: Quiet


class Apart:
    """The program's variables and rows by cluster; ``of`` is by variable, for those of suppliers :data:`NOWHERE`."""

    def __init__(self, model: Model, lp: highspy.HighsLp) -> None:
        """Sort the rows: of one cluster, or joining several."""
        self.of = _clusters(model, lp.num_col_)
        self.kinds = list(lp.integrality_)  # HiGHS copies them whenever they are asked for, like the bounds
        self.columns = np.array(lp.col_lower_), np.array(lp.col_upper_)
        self.rows = np.array(lp.row_lower_), np.array(lp.row_upper_)
        self.costs = np.array(lp.col_cost_)
        starts = np.array(lp.a_matrix_.start_)
        self.column, self.value = np.array(lp.a_matrix_.index_, dtype=np.int32), np.array(lp.a_matrix_.value_)
        self.row = np.repeat(np.arange(lp.num_row_), np.diff(starts))
        of = self.of[self.column]
        first, last = np.full(lp.num_row_, len(self.of)), np.full(lp.num_row_, NOWHERE)
        np.minimum.at(first, self.row, np.where(of == NOWHERE, len(self.of), of))
        np.maximum.at(last, self.row, of)
        self.home = np.where(first == last, last, NOWHERE)
        self._known: dict[int, Cluster] = {}

    def lifts(
        self, point: Point, fixed: Mapping[int, int], enough: float, seconds: float | None = None
    ) -> np.ndarray:
        """Return by cluster how much more it costs than a solved relaxation says, until the sum is ``enough``.

        ``fixed``: what was settled of suppliers and tiers. Infinite where a cluster can't be supplied. Of clusters that
        the ``seconds`` don't suffice for, nothing is said.
        """
        x, until = point.x, time.monotonic() + (TOGETHER if seconds is None else min(TOGETHER, seconds))
        settled = np.zeros(len(x), dtype=bool)
        settled[list(fixed)] = True
        unsettled = (self.of[self.column] == NOWHERE) & ~settled[self.column]
        joins = self.home == NOWHERE
        joins[self.row[unsettled]] = True
        taken = np.where(joins, point.duals, 0.0)[self.row] * self.value
        costs = self.costs - np.bincount(self.column, taken, len(x))
        found = np.zeros(int(self.of.max(initial=0)) + 1)
        torn = self.of[(np.abs(x - np.round(x)) > WHOLE) & (self.of != NOWHERE)]
        for cluster in np.unique(torn).tolist():
            found[cluster] = self._lift(cluster, x, costs, fixed)
            if found.sum() > enough or time.monotonic() > until:
                break
        return found

    def stuck(self, point: Point, lifts: np.ndarray, room: float) -> dict[int, float]:
        """Return the variables that stay as they are in a relaxation, in any order within ``room`` of its bound.

        A variable that moves may spare its cluster the lift, and costs its reduced cost instead.
        """
        own = np.where(self.of == NOWHERE, np.inf, lifts[self.of])
        staying = np.flatnonzero(np.abs(point.reduced) - own > room)
        return {place: float(np.round(point.x[place])) for place in staying.tolist()}

    def _lift(self, cluster: int, x: np.ndarray, costs: np.ndarray, fixed: Mapping[int, int]) -> float:
        here = self._known.get(cluster)
        if here is None:
            here = self._known[cluster] = self._program(cluster)
        own, terms, highs = here.own, here.terms, here.highs
        highs.changeColsCost(len(own), np.arange(len(own), dtype=np.int32), costs[own])
        for place, term in enumerate(terms.tolist(), start=len(own)):
            low, high = (float(fixed.get(term, side[term])) for side in self.columns)
            highs.changeColBounds(place, low, high)  # of carries in rows of many digits, too, that aren't 0 or 1
        highs.setOptionValue("time_limit", highs.getRunTime() + SECONDS)
        highs.run()
        status = highs.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return float("inf")
        if status not in {highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kTimeLimit}:
            return 0.0
        return max(highs.getInfo().mip_dual_bound - float(costs[own] @ x[own]), 0.0)

    def _program(self, cluster: int) -> Cluster:
        """Write the rows of one cluster; suppliers and tiers in them are variables of no cost."""
        own = np.flatnonzero(self.of == cluster)
        rows = np.flatnonzero(self.home == cluster)
        entries = np.flatnonzero(self.home[self.row] == cluster)
        columns = self.column[entries]
        terms = np.unique(columns[self.of[columns] == NOWHERE])
        every = np.concatenate([own, terms])
        place = np.zeros(len(self.of), dtype=np.int32)
        place[every] = np.arange(len(every))
        part = highspy.HighsLp()
        part.num_col_, part.num_row_ = len(every), len(rows)
        part.col_cost_ = np.zeros(len(every))
        part.col_lower_, part.col_upper_ = (side[every] for side in self.columns)
        part.integrality_ = [self.kinds[i] for i in every.tolist()]
        part.row_lower_, part.row_upper_ = (side[rows] for side in self.rows)
        part.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        counts = np.bincount(np.searchsorted(rows, self.row[entries]), minlength=len(rows))
        part.a_matrix_.start_ = np.concatenate([[0], np.cumsum(counts)]).astype(np.int32)
        part.a_matrix_.index_, part.a_matrix_.value_ = place[columns], self.value[entries]
        return Cluster(own, terms, exact_solver(part))


def _clusters(model: Model, count: int) -> np.ndarray:
    """Return the cluster of each variable."""
    offers, cluster_of = model.instance.offers, clusters.find(model.instance).of
    of = np.full(count, NOWHERE)
    for by_offer in (model.step, model.beyond):
        for (o, _), var in by_offer.items():
            if offers[o].groups:
                of[var.index] = cluster_of[offers[o].groups[0]]
    for by_group in (model.takes, model.pieces, model.drawn, model.from_drawer):
        for key, var in by_group.items():
            of[var.index] = cluster_of[key[0]]
    return of
