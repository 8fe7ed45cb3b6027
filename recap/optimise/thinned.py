"""The relaxation without offers that another of the same supplier always replaces: half the work for the same search.

In whole numbers no offer may be left out because a cheaper one is there: the dearer may be what reaches a tier. In a
relaxation it may, with *topping up* in its place, pieces of any size bought beyond need:

    goods_s + T_s >= sum_k least_sk v_sk   (R8),   T_s >= 0 at the cost of goods

An order that has the dearer offer becomes one that has the other in its place and T_s larger by what that saves, of the
same total. So what is found here bounds all orders, a little less tightly than :mod:`recap.optimise.program` itself.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import highspy
import numpy as np

from recap.optimise.columns import is_mergeable
from recap.optimise.relaxation import fix, resolved
from recap.optimise.rows import BASE
from recap.optimise.solver import exact_solver
from recap.optimise.steps_apart import Point

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from recap.optimise.instance import Instance, Offer
    from recap.optimise.program import Model
    from recap.optimise.solver import Quiet

MOST_PIECES = 10_000
"""Offers of more pieces than these are not compared."""


def replaceable(instance: Instance) -> frozenset[int]:
    """Return the offers that another of the same supplier replaces whatever is bought, for no more.

    Only where groups may be split, and nobody counts what is left over.
    """
    if instance.problem.one_part_per_group or any(instance.spares):
        return frozenset()
    by_supplier: defaultdict[int, list[tuple[Offer, np.ndarray]]] = defaultdict(list)
    for offer in instance.offers:
        wanted = sum(instance.needs[g] for g in offer.groups)
        if offer.groups and offer.steps and wanted <= MOST_PIECES:
            by_supplier[offer.supplier].append((offer, _goods(offer, wanted)))
    gone: set[int] = set()
    for offers in by_supplier.values():
        for offer, goods in offers:
            if any(
                other is not offer
                and other.index not in gone
                and _replaces(instance, other, others, offer, goods)
                for other, others in offers
            ):
                gone.add(offer.index)
    return frozenset(gone)


def _replaces(instance: Instance, one: Offer, goods: np.ndarray, other: Offer, others: np.ndarray) -> bool:
    """Tell whether ``one`` serves all groups of the other, and costs no more for any number of pieces."""
    if not set(one.groups).issuperset(other.groups) or not is_mergeable(instance, one):
        return False
    if goods[-1] == np.inf:
        return False
    same = goods[: len(others)]
    if one.groups == other.groups and np.array_equal(same, others):
        return one.index < other.index
    return bool((same <= others).all())


def _goods(offer: Offer, wanted: int) -> np.ndarray:
    """Return the least goods for at least 0, 1, … ``wanted`` pieces; infinite where they can't be bought."""
    lots = -(-np.arange(wanted + 1) // offer.multiple) * offer.multiple
    found = np.full(wanted + 1, np.inf)
    for step in offer.steps:
        quantity = np.maximum(step.low, lots)
        found = np.where(quantity <= step.high, np.minimum(found, quantity * float(step.price)), found)
    return found


class Relaxed:
    """A program's linear relaxation in HiGHS; ``thinner``: with offers left out, and topping up in their place."""

    def __init__(self, model: Model, lp: highspy.HighsLp, without: frozenset[int]) -> None:
        """Take over what has nothing to do with the offers ``without``."""
        keeps = np.ones(lp.num_col_, dtype=bool)
        for (o, _), var in (*model.step.items(), *model.beyond.items()):
            keeps[var.index] = o not in without
        for (_, o, _), var in model.pieces.items():
            keeps[var.index] = o not in without
        self.thinner = bool(without)
        self.keeps = keeps
        self.place = (np.cumsum(keeps) - 1).tolist()
        self.tops = _tops(model) if without else []
        self._lp = lp
        self.highs = _program(lp, keeps, self.tops)
        self.highs.setOptionValue("presolve", "off")

    def in_whole_numbers(self, kinds: np.ndarray) -> Quiet:
        """Return the program, to be solved in whole numbers but for topping up; ``kinds`` by variable of the whole."""
        highs = _program(self._lp, self.keeps, self.tops)
        own = kinds[self.keeps]
        highs.changeColsIntegrality(len(own), np.arange(len(own), dtype=np.int32), own)
        return highs

    def spread(self, values: Sequence[float]) -> np.ndarray:
        """Return values in the places of the whole program; what is left out is 0."""
        found = np.zeros(len(self.keeps))
        found[self.keeps] = values[: int(self.keeps.sum())]
        return found

    def dearer_topped(self, point: Point) -> bool:
        """Tell whether topping up would only make the whole program's relaxation dearer, solved to this point."""
        return all(point.duals[row] <= cost for row, cost in self.tops)

    def solve(
        self,
        terms: Iterable[int],
        fixed: Mapping[int, int],
        basis: highspy.HighsBasis | None,
        seconds: float | None,
        beyond: float,
    ) -> Point | None:
        """Solve with some of the ``terms`` fixed; None where nothing up to ``beyond`` is feasible.

        Values stand in the places of the whole program, duals don't where offers are left out. Raises as
        :func:`recap.optimise.relaxation.resolved` does.
        """
        highs = self.highs
        fix(highs, [self.place[p] for p in terms], {self.place[p]: value for p, value in fixed.items()})
        if not resolved(highs, basis, seconds, beyond):
            return None
        solution = highs.getSolution()
        x, reduced = self.spread(solution.col_value), self.spread(solution.col_dual)
        cost = highs.getInfo().objective_function_value
        return Point(cost, x, reduced, np.array(solution.row_dual), highs.getBasis())


def _tops(model: Model) -> list[tuple[int, float]]:
    """Return the rows where topping up counts, and what one costs there: each supplier's, for each of its digits.

    In that of the topmost digits alone, what is short by a unit would have to be topped up by a whole carry.
    """
    suppliers = model.instance.suppliers
    return [
        (row.index, float(suppliers[s].goods_cost * BASE**below) / model.scale)
        for s, rows in model.reached.items()
        for below, row in enumerate(rows)
    ]


def _program(lp: highspy.HighsLp, keeps: np.ndarray, tops: Iterable[tuple[int, float]]) -> Quiet:
    """Return HiGHS with the kept variables and all rows but those that say something of others only."""
    starts, column, value = (np.array(each) for each in (lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_))
    row = np.repeat(np.arange(lp.num_row_), np.diff(starts))
    entries = keeps[column]
    rows = np.setdiff1d(np.arange(lp.num_row_), np.setdiff1d(row, row[entries]))
    here = np.searchsorted(rows, row[entries])
    part = highspy.HighsLp()
    part.num_col_, part.num_row_ = int(keeps.sum()), len(rows)
    part.col_cost_ = np.array(lp.col_cost_)[keeps]
    part.col_lower_, part.col_upper_ = np.array(lp.col_lower_)[keeps], np.array(lp.col_upper_)[keeps]
    part.row_lower_, part.row_upper_ = np.array(lp.row_lower_)[rows], np.array(lp.row_upper_)[rows]
    part.offset_ = lp.offset_
    part.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    part.a_matrix_.start_ = np.concatenate([[0], np.cumsum(np.bincount(here, minlength=len(rows)))]).astype(np.int32)
    part.a_matrix_.index_ = (np.cumsum(keeps) - 1)[column[entries]].astype(np.int32)
    part.a_matrix_.value_ = value[entries]
    highs = exact_solver(part)
    for reached, cost in tops:
        place = np.searchsorted(rows, [reached]).astype(np.int32)
        highs.addCol(cost, 0.0, highspy.kHighsInf, 1, place, np.ones(1))
    return highs
