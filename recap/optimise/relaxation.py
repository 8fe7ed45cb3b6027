"""The linear relaxation over columns, in HiGHS, solved again and again as suppliers and tiers get fixed.

Variables: x_c column c is chosen, z_s supplier s is used, v_sk tier k of s, T_s goods bought beyond need.

    min  sum cost_c x_c + sum_s (handling z_s + charge_k v_sk) charge cost + goods cost_s T_s
    C1   every group in exactly one column:            sum_{c of g} x_c = 1
    C2   one column of an offer that can't be merged:  sum_{c of o} x_c <= 1
    C3   strong linking, as it is torn (:class:`Links`):    sum_{c of s and g} x_c <= z_s
    C4   one tier:                                     sum_k v_sk = z_s
    C5   it is reached:                                goods_s + T_s >= sum_k least_sk v_sk
    C6   and not passed, where a later tier is dearer: goods_s + T_s <= sum_k most_sk v_sk
    C7   the drawer holds so much:                     sum_c drawn_c x_c <= pieces_l
    C8   at most so many suppliers:                    sum_s z_s <= max

Every legal order is a solution (with T_s what it buys beyond its cheapest columns), so the value is a bound.
The model goes to HiGHS as arrays: warm starts between hundreds of solves are what PuLP can't give.
Money is divided by ``scale`` (cost) and by each supplier's own ``size`` (goods), which keeps numbers near 1000.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import highspy
import numpy as np

from recap.optimise.solver import TOLERANCE, Quiet

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from recap.optimise.columns import Column, Columns
    from recap.optimise.instance import Instance

INFINITY = highspy.kHighsInf
HALF = 0.5
ANSWERS = frozenset(
    {
        highspy.HighsModelStatus.kOptimal,
        highspy.HighsModelStatus.kInfeasible,
        highspy.HighsModelStatus.kObjectiveBound,
        highspy.HighsModelStatus.kTimeLimit,
    }
)
BASIC = highspy.HighsBasisStatus.kBasic
TORN = 1e-6
"""More than this above its supplier's use, a group doesn't keep to a link."""
LIKELY = 2
"""Suppliers of each group whose links are there from the first."""
LARGE = 1e6
"""About the size of the total in the solver's units."""


@dataclass(frozen=True, slots=True)
class Point:
    """A solved relaxation: its value, z and v by variable, and what the rows that span groups are worth.

    By column: ``chosen`` how much of it, ``reduced`` by how much at least the value grows with it, and ``worth`` what
    it costs when the rows that span clusters are paid for (:mod:`recap.optimise.clusters`).
    ``turning`` is by how much at least the value grows where a whole z or v is turned over. ``reach[s]`` is the worth
    of one unit of goods towards the tier, ``stay[s]`` of one unit less where a later tier is dearer, ``lot[l]`` of one
    piece in the drawer, ``single[o]`` of one more column of an offer; all in units of the relaxation's cost, none
    negative.
    """

    value: float
    terms: Mapping[int, float]
    turning: Mapping[int, float]
    reach: Sequence[float]
    stay: Sequence[float]
    lot: Mapping[int, float]
    single: Mapping[int, float]
    chosen: np.ndarray
    reduced: np.ndarray
    worth: np.ndarray
    basis: highspy.HighsBasis


def column_cost(instance: Instance, column: Column) -> int:
    """Return a column's cost in total units: goods and the line's fee; the drawer is free."""
    if column.supplier < 0:
        return 0
    terms = instance.suppliers[column.supplier]
    return column.goods * terms.goods_cost + terms.line_fee * terms.charge_cost


def scale_of(instance: Instance, columns: Sequence[Column]) -> int:
    """Return how many total units are one unit of cost, so that a total is about :data:`LARGE`."""
    cheapest: dict[int, int] = {}
    for column in columns:
        cost = column_cost(instance, column)
        for group in column.groups if column.offer >= 0 else ():
            cheapest[group] = min(cost, cheapest.get(group, cost))
    charges = max((tier.charge * terms.charge_cost for terms in instance.suppliers for tier in terms.tiers), default=0)
    return max(1, int((sum(cheapest.values()) + charges) / LARGE))


class Links:
    """C3, of which few bind: those of each group's cheapest suppliers, and others once a solution doesn't keep to them.

    Each is a pair of supplier and group, with the places of its columns and of the supplier's use.
    """

    def __init__(self, columns: Columns, used: Mapping[int, int], first: int, costs: np.ndarray) -> None:
        """Find the pairs that columns have; ``first`` is the first column's place, ``costs`` are by place."""
        pairs = sorted(
            (column.supplier, group, place, len(column.groups))
            for place, column in enumerate(columns.all, start=first)
            if column.supplier >= 0
            for group in column.groups
        )
        suppliers, groups, self._place, sizes = np.array(pairs, dtype=np.int32).reshape(-1, 4).T
        new = np.diff(suppliers, prepend=-1).astype(bool) | np.diff(groups, prepend=-1).astype(bool)
        self._link = np.cumsum(new) - 1
        self._used = np.array([used[s] for s in suppliers[new].tolist()], dtype=np.int32)
        self._added = np.zeros(len(self._used), dtype=bool)
        cheapest = np.full(len(self._used), INFINITY)
        np.minimum.at(cheapest, self._link, costs[self._place] / sizes)
        order = np.lexsort((cheapest, groups[new]))
        served = groups[new][order]
        self._likely = order[np.arange(len(order)) - np.searchsorted(served, served) < LIKELY]

    def add_likely(self, highs: Quiet) -> None:
        """Add the links of each group's cheapest suppliers."""
        self._add(highs, np.sort(self._likely))

    def add_torn(self, highs: Quiet, values: np.ndarray) -> bool:
        """Add the links that a solution doesn't keep to; tell whether there were any."""
        taken = np.bincount(self._link, values[self._place], len(self._used))
        torn = np.flatnonzero((taken > values[self._used] + TORN) & ~self._added)
        self._add(highs, torn)
        return len(torn) > 0

    def _add(self, highs: Quiet, links: np.ndarray) -> None:
        if not len(links):
            return
        wanted = np.zeros(len(self._used), dtype=bool)
        wanted[links] = True
        self._added |= wanted
        chosen = np.flatnonzero(wanted[self._link])
        ends = np.searchsorted(self._link[chosen], links, "right")
        places = np.insert(self._place[chosen], ends, self._used[links])
        entries = np.insert(np.ones(len(chosen)), ends, -1.0)
        starts = np.append(0, ends[:-1] + np.arange(1, len(ends))).astype(np.int32)
        high = np.zeros(len(links))
        highs.addRows(len(links), high - INFINITY, high, len(places), starts, places, entries)


class Relaxation:
    """The program in HiGHS: z, v and T at places that don't depend on the columns, ``used``, ``tier`` and ``top``.

    The columns come after them, from ``first`` on.
    """

    def __init__(self, instance: Instance, columns: Columns, scale: int | None = None) -> None:
        """Build the rows and pass the model; ``scale`` is worked out where not given."""
        self.instance = instance
        self.columns = columns
        self.scale = scale_of(instance, columns.all) if scale is None else scale
        self.size = [max(terms.target, 1) / 1000 for terms in instance.suppliers]
        count = len(instance.suppliers)
        self.used = {s: s for s in range(count)}
        self.top = {s: count + s for s in range(count)}
        tiers = [(s, k) for s, terms in enumerate(instance.suppliers) for k in range(len(terms.tiers))]
        self.tier = {tier: 2 * count + i for i, tier in enumerate(tiers)}
        self.first = 2 * count + len(tiers)
        self._rows: list[tuple[list[tuple[int, float]], float, float]] = []
        self._reached: dict[int, int] = {}
        self._below: dict[int, int] = {}
        self._lot: dict[int, int] = {}
        self._single: dict[int, int] = {}
        self._add_columns()
        self._add_suppliers()
        self._highs = Quiet()
        for option, value in (("threads", 1), ("presolve", "off"), ("primal_feasibility_tolerance", TOLERANCE)):
            self._highs.setOptionValue(option, value)
        model = self._model(self.first + len(columns.all))
        passed = self._highs.passModel(model)
        assert passed is not highspy.HighsStatus.kError, "HiGHS takes the relaxation"
        self._links = Links(columns, self.used, self.first, np.array(model.col_cost_))
        self._links.add_likely(self._highs)
        self._free = [*self.used.values(), *self.tier.values()]

    def solve(
        self,
        fixed: Mapping[int, int],
        basis: highspy.HighsBasis | None,
        seconds: float | None = None,
        beyond: float = INFINITY,
    ) -> Point | None:
        """Solve with some z and v fixed; None where nothing is feasible up to a value of ``beyond``.

        Raises TimeoutError where the seconds are up, and RuntimeError where HiGHS can't tell: neither proves anything.
        """
        highs = self._highs
        fix(highs, self._free, fixed)
        if basis is not None:
            basis.row_status = basis.row_status + [BASIC] * (highs.getNumRow() - len(basis.row_status))
        while True:
            if not resolved(highs, basis, seconds, beyond):
                return None
            solution = highs.getSolution()
            values = np.array(solution.col_value)
            if not self._links.add_torn(highs, values):
                break
            basis = None  # where it is now
        duals, reduced = np.array(solution.row_dual), np.array(solution.col_dual)
        reach, stay = [], []
        for s, terms in enumerate(self.instance.suppliers):
            stay.append(max(-duals[self._below[s]] / self.size[s], 0.0) if s in self._below else 0.0)
            most = terms.goods_cost / self.scale + stay[s]
            reach.append(min(max(duals[self._reached[s]] / self.size[s], 0.0), most))
        return Point(
            value=highs.getInfo().objective_function_value,
            terms={place: values[place] for place in self._free},
            turning={p: max(reduced[p] if values[p] < HALF else -reduced[p], 0.0) for p in self._free},
            reach=reach,
            stay=stay,
            lot={lot: max(-duals[row], 0.0) for lot, row in self._lot.items()},
            single={offer: max(-duals[row], 0.0) for offer, row in self._single.items()},
            chosen=values[self.first :],
            reduced=reduced[self.first :],
            worth=(reduced + np.bincount(self._within[0], duals[self._within[1]], len(reduced)))[self.first :],
            basis=highs.getBasis(),
        )

    def _row(self, entries: list[tuple[int, float]], low: float, high: float) -> int:
        self._rows.append((entries, low, high))
        return len(self._rows) - 1

    def _add_columns(self) -> None:
        """C1, C2, C7."""
        cover: list[list[tuple[int, float]]] = [[] for _ in self.instance.needs]
        single: dict[int, list[tuple[int, float]]] = {}
        lots: dict[int, list[tuple[int, float]]] = {}
        for place, column in enumerate(self.columns.all, start=self.first):
            for group in column.groups:
                cover[group].append((place, 1.0))
            if column.offer >= 0 and not self.columns.mergeable[column.offer]:
                single.setdefault(column.offer, []).append((place, 1.0))
            if column.drawn:
                lots.setdefault(column.lot, []).append((place, float(column.drawn)))
        for entries in cover:
            self._row(entries, 1.0, 1.0)
        for offer, entries in single.items():
            if len(entries) > 1:
                self._single[offer] = self._row(entries, -INFINITY, 1.0)
        within = [(place, row) for row, (entries, _, _) in enumerate(self._rows) for place, _ in entries]
        self._within = np.array(within, dtype=np.int64).T
        for lot, entries in lots.items():
            self._lot[lot] = self._row(entries, -INFINITY, float(self.instance.lots[lot][1]))

    def _add_suppliers(self) -> None:
        """C4, C5, C6, C8."""
        goods: list[list[tuple[int, float]]] = [[] for _ in self.instance.suppliers]
        for place, column in enumerate(self.columns.all, start=self.first):
            if column.goods:
                goods[column.supplier].append((place, column.goods / self.size[column.supplier]))
        for s, terms in enumerate(self.instance.suppliers):
            tiers = range(len(terms.tiers))
            self._row([*((self.tier[s, k], 1.0) for k in tiers), (self.used[s], -1.0)], 0.0, 0.0)
            bought = [*goods[s], (self.top[s], 1.0)]
            reached = [(self.tier[s, k], -terms.tiers[k].least / self.size[s]) for k in tiers]
            self._reached[s] = self._row(bought + reached, 0.0, INFINITY)
            if terms.rising:
                most = sum(value for _, value in goods[s]) + terms.tiers[-1].least / self.size[s]
                ends = [terms.tiers[k].most for k in tiers]
                below = [
                    (self.tier[s, k], -(most if end is None else end / self.size[s]))
                    for k, end in zip(tiers, ends, strict=True)
                ]
                self._below[s] = self._row(bought + below, -INFINITY, 0.0)
        if self.instance.problem.max_suppliers:
            self._row(
                [(place, 1.0) for place in self.used.values()],
                -INFINITY,
                float(self.instance.problem.max_suppliers),
            )

    def _model(self, width: int) -> highspy.HighsLp:
        costs, upper = np.zeros(width), np.ones(width)
        for place, column in enumerate(self.columns.all, start=self.first):
            costs[place] = column_cost(self.instance, column) / self.scale
        for s, terms in enumerate(self.instance.suppliers):
            costs[self.used[s]] = terms.handling * terms.charge_cost / self.scale
            costs[self.top[s]] = terms.goods_cost / self.scale * self.size[s]
            upper[self.top[s]] = INFINITY
            for k, tier in enumerate(terms.tiers):
                costs[self.tier[s, k]] = tier.charge * terms.charge_cost / self.scale
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = width, len(self._rows)
        model.col_cost_, model.col_lower_, model.col_upper_ = costs, np.zeros(width), upper
        model.row_lower_ = np.array([low for _, low, _ in self._rows])
        model.row_upper_ = np.array([high for _, _, high in self._rows])
        starts = np.cumsum([0, *(len(entries) for entries, _, _ in self._rows)])
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.start_ = starts.astype(np.int32)
        model.a_matrix_.index_ = np.array([i for entries, _, _ in self._rows for i, _ in entries], dtype=np.int32)
        model.a_matrix_.value_ = np.array([v for entries, _, _ in self._rows for _, v in entries])
        return model


def fix(highs: Quiet, free: Iterable[int], fixed: Mapping[int, int]) -> None:
    """Fix some of the ``free`` 0-1 variables, and let go of the others."""
    for place in free:
        low, high = (float(fixed.get(place, side)) for side in (0, 1))
        highs.changeColBounds(place, low, high)


def resolved(highs: Quiet, basis: highspy.HighsBasis | None, seconds: float | None, beyond: float) -> bool:
    """Solve again, from a basis; tell whether anything up to a value of ``beyond`` is feasible.

    Raises TimeoutError where the seconds are up, and RuntimeError where HiGHS can't tell: neither proves anything.
    """
    if basis is not None:
        highs.setBasis(basis)
    if seconds is not None:
        highs.setOptionValue("time_limit", highs.getRunTime() + max(seconds, 0.01))
    highs.setOptionValue("objective_bound", beyond)
    highs.run()
    if highs.getModelStatus() not in ANSWERS:
        highs.clearSolver()
        highs.run()
    status = highs.getModelStatus()
    if status not in ANSWERS:
        raise RuntimeError(f"HiGHS: {status.name}")
    if status == highspy.HighsModelStatus.kTimeLimit:
        raise TimeoutError
    return bool(status == highspy.HighsModelStatus.kOptimal)
