"""A lower bound that knows whole numbers: clusters of groups, each solved outright.

Two groups belong to one cluster where an offer serves both. Once suppliers and tiers are fixed, clusters hang
together by few rows only: what each supplier's goods must reach, and the drawer. Given a worth for each of these rows
(Lagrange multipliers, from the linear relaxation) every cluster is a small partition problem of its own. With the
value of a column

    value_c = cost_c - (reach_s - stay_s) goods_c + lot_l drawn_c

    bound = fixed charges + sum_s (reach_s least_s - stay_s most_s) - sum_l lot_l pieces_l
            + sum over clusters of the cheapest partition

holds for every order with these suppliers and tiers, whatever the multipliers. A column in no partition that is within
the gap can be dropped: its *excess* is how much dearer than the cheapest the best partition with it is. Offers that
can't be merged are in one column at most; that is heeded within a small cluster, and in a large one has a worth too.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import highspy
import numpy as np

from recap.optimise.solver import Quiet

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.optimise.columns import Columns
    from recap.optimise.instance import Instance

LARGEST = 12
"""Most groups of a cluster for which all partitions are weighed; beyond, its linear relaxation serves."""

MOST_RIVALS = 4
"""Most offers of a cluster of which it is heeded that they can't be merged; with each, the work doubles."""

NEVER = float("inf")

Valued = tuple[float, int, int]
"""A column: its value, its groups as bits, and its offer where that can't be merged, else -1."""


@dataclass(frozen=True, slots=True)
class Clusters:
    """``of[g]`` is the cluster of group g, ``bit[g]`` its place in it, ``members`` the groups of each."""

    of: tuple[int, ...]
    bit: tuple[int, ...]
    members: tuple[tuple[int, ...], ...]

    def mask(self, groups: Sequence[int]) -> int:
        """Return groups of one cluster as bits."""
        return sum(1 << self.bit[g] for g in groups)


def find(instance: Instance) -> Clusters:
    """Join the groups that share an offer."""
    parent = list(instance.groups)

    def root(group: int) -> int:
        while parent[group] != group:
            parent[group] = parent[parent[group]]
            group = parent[group]
        return group

    for offer in instance.offers:
        for group in offer.groups[1:]:
            parent[root(group)] = root(offer.groups[0])
    members: defaultdict[int, list[int]] = defaultdict(list)
    for group in instance.groups:
        members[root(group)].append(group)
    of, bit = [0] * len(parent), [0] * len(parent)
    for i, groups in enumerate(members.values()):
        for place, group in enumerate(groups):
            of[group], bit[group] = i, place
    return Clusters(tuple(of), tuple(bit), tuple(tuple(groups) for groups in members.values()))


@dataclass(frozen=True, slots=True)
class Prices:
    """What is left to pay for each group or set of groups of one cluster, for excess and bound.

    ``cheapest`` is the cluster's cheapest partition. ``rest[taken, mask]`` is that of a part of the cluster without
    the ``rivals`` in ``taken``: offers that several columns would have liked. Where the cluster is too large, ``duals``
    price its groups one by one instead.
    """

    cheapest: float
    rest: np.ndarray | None
    duals: tuple[float, ...]
    rivals: tuple[int, ...] = ()

    def excess(self, value: float, mask: int) -> float:
        """Return how much above the cheapest partition one is at least that has a column (value, mask)."""
        if self.rest is not None:
            return float(value + self.rest[0, (self.rest.shape[1] - 1) ^ mask] - self.cheapest)
        return value - sum(dual for i, dual in enumerate(self.duals) if mask >> i & 1)

    def excesses(self, values: np.ndarray, masks: tuple[int, ...], lone: tuple[int, ...]) -> np.ndarray:
        """Return the excess of each of many columns."""
        if self.rest is not None:
            others = (self.rest.shape[1] - 1) ^ np.array(masks, dtype=np.int64)
            taken: list[int] | int = [self.taken(offer) for offer in lone] if self.rivals else 0
            found: np.ndarray = values + self.rest[taken, others] - self.cheapest
            return found
        return np.array([self.excess(value, mask) for value, mask in zip(values.tolist(), masks, strict=True)])

    def taken(self, offer: int) -> int:
        """Return an offer as a bit of what is taken: none where it is no rival."""
        return 1 << self.rivals.index(offer) if offer in self.rivals else 0


@dataclass(frozen=True, slots=True)
class Parted:
    """Columns by the cluster they belong to: their places in the list of columns, and their groups as bits.

    ``lone``: the offer of each that can't be merged, else -1. ``of``: the cluster of each column in the list.
    """

    rows: tuple[np.ndarray, ...]
    masks: tuple[tuple[int, ...], ...]
    lone: tuple[tuple[int, ...], ...]
    of: np.ndarray


def part(clusters: Clusters, columns: Columns) -> Parted:
    """Sort columns into clusters."""
    rows: list[list[int]] = [[] for _ in clusters.members]
    masks: list[list[int]] = [[] for _ in clusters.members]
    lone: list[list[int]] = [[] for _ in clusters.members]
    of = [clusters.of[column.groups[0]] for column in columns.all]
    for i, (column, cluster) in enumerate(zip(columns.all, of, strict=True)):
        rows[cluster].append(i)
        masks[cluster].append(clusters.mask(column.groups))
        lone[cluster].append(columns.lone(column))
    return Parted(
        tuple(np.array(each, dtype=np.int64) for each in rows),
        tuple(tuple(each) for each in masks),
        tuple(tuple(each) for each in lone),
        np.array(of, dtype=np.int64),
    )


def weigh(clusters: Clusters, parted: Parted, values: np.ndarray) -> tuple[list[Prices], np.ndarray] | None:
    """Price every cluster from the columns' values (infinite: not to be had), with each column's excess.

    None where some group can't be covered.
    """
    prices = []
    excesses = np.full(len(values), NEVER)
    for i, rows in enumerate(parted.rows):
        own = values[rows]
        price = price_of(clusters, parted, i, own)
        if price is None:
            return None
        prices.append(price)
        excesses[rows] = price.excesses(own, parted.masks[i], parted.lone[i])
    return prices, excesses


def lifts(
    clusters: Clusters, parted: Parted, torn: Iterable[int], chosen: np.ndarray, values: np.ndarray
) -> np.ndarray:
    """Return by cluster how much more ``torn`` ones, taken in fractions by a relaxation, cost when covered whole."""
    found = np.zeros(len(clusters.members))
    for cluster in torn:
        rows = parted.rows[cluster]
        price = price_of(clusters, parted, cluster, values[rows])
        if price is not None:
            found[cluster] = max(price.cheapest - float(values[rows] @ chosen[rows]), 0.0)
    return found


def price_of(clusters: Clusters, parted: Parted, cluster: int, values: np.ndarray) -> Prices | None:
    """Price one cluster from the values of its columns; None where some group can't be covered."""
    size = len(clusters.members[cluster])
    if size == 1:
        least = values.min(initial=NEVER)
        return None if least == NEVER else Prices(float(least), np.array([[0.0, least]]), ())
    given = zip(values.tolist(), parted.masks[cluster], parted.lone[cluster], strict=True)
    columns = [each for each in given if each[0] < NEVER]
    return _partition(size, columns) if size <= LARGEST else _relaxed(size, columns)


def _partition(size: int, columns: list[Valued]) -> Prices | None:
    """Weigh all partitions, heeding that an offer can't be merged once it turns out to matter."""
    rivals: tuple[int, ...] = ()
    while True:
        lowest = _by_lowest(size, columns, rivals)
        rest = _weigh_partitions(size, lowest, len(rivals))
        if rest[0][-1] == NEVER:
            return None
        twice = _twice(rest, lowest, (1 << size) - 1)
        if twice is None or len(rivals) == MOST_RIVALS:
            return Prices(rest[0][-1], np.array(rest), (), rivals)
        rivals += (twice,)


def _by_lowest(size: int, columns: list[Valued], rivals: tuple[int, ...]) -> list[list[tuple[float, int, int, int]]]:
    """Return value, groups, rival's bit and lone offer of the columns that matter, by their lowest group."""
    cheapest: dict[tuple[int, int], tuple[float, int]] = {}
    for value, mask, lone in columns:
        key = mask, 1 << rivals.index(lone) if lone in rivals else 0
        if key not in cheapest or value < cheapest[key][0]:
            cheapest[key] = value, lone
    lowest: list[list[tuple[float, int, int, int]]] = [[] for _ in range(size)]
    for (mask, bit), (value, lone) in cheapest.items():
        lowest[(mask & -mask).bit_length() - 1].append((value, mask, bit, lone))
    return lowest


def _weigh_partitions(size: int, lowest: list[list[tuple[float, int, int, int]]], rivals: int) -> list[list[float]]:
    """Dynamic programme over subsets: the lowest group of a subset is in one of its columns."""
    rest = [[0.0] + [NEVER] * ((1 << size) - 1) for _ in range(1 << rivals)]
    for taken in reversed(range(1 << rivals)):
        own = rest[taken]
        for mask in range(1, 1 << size):
            best = NEVER
            for value, part, bit, _ in lowest[(mask & -mask).bit_length() - 1]:
                if part & ~mask or bit & taken:
                    continue
                whole = value + (rest[taken | bit] if bit else own)[mask ^ part]
                best = min(whole, best)
            own[mask] = best
    return rest


def _twice(rest: list[list[float]], lowest: list[list[tuple[float, int, int, int]]], mask: int) -> int | None:
    """Return an offer that is no rival yet, can't be merged, and is twice in the cheapest partition."""
    taken = 0
    seen: set[int] = set()
    while mask:
        for value, part, bit, lone in lowest[(mask & -mask).bit_length() - 1]:
            if part & ~mask or bit & taken or value + rest[taken | bit][mask ^ part] != rest[taken][mask]:
                continue
            if lone >= 0 and lone in seen:
                return lone
            seen.add(lone)
            mask, taken = mask ^ part, taken | bit
            break
    return None


def _relaxed(size: int, columns: list[Valued]) -> Prices | None:
    """Linear relaxation of the partition; its duals, lowered until no column is below zero, bound it safely."""
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), size
    model.col_cost_ = np.array([value for value, _, _ in columns])
    model.col_lower_, model.col_upper_ = np.zeros(len(columns)), np.full(len(columns), highspy.kHighsInf)
    model.row_lower_ = model.row_upper_ = np.ones(size)
    bits = [[i for i in range(size) if mask >> i & 1] for _, mask, _ in columns]
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.cumsum([0, *(len(each) for each in bits)]).astype(np.int32)
    model.a_matrix_.index_ = np.array([i for each in bits for i in each], dtype=np.int32)
    model.a_matrix_.value_ = np.ones(sum(len(each) for each in bits))
    highs = Quiet()
    highs.setOptionValue("threads", 1)
    highs.passModel(model)
    highs.run()
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    duals = list(highs.getSolution().row_dual)
    for (value, _, _), each in zip(columns, bits, strict=True):
        short = value - sum(duals[i] for i in each)
        if short < 0:
            duals[each[0]] += short
    return Prices(sum(duals), None, tuple(duals))
