"""A lower bound that knows whole numbers: clusters of groups, each solved outright.

Two groups belong to one cluster where an offer serves both. Once suppliers and tiers are fixed, clusters hang
together by few rows only: what each supplier's goods must reach, the drawer, the offers that can't be merged.
Given a worth for each of these rows (Lagrange multipliers, from the linear relaxation) every cluster is a small
partition problem of its own. With the value of a column

    value_c = cost_c - (reach_s - stay_s) goods_c + lot_l drawn_c + single_o

    bound = fixed charges + sum_s (reach_s least_s - stay_s most_s) - sum_l lot_l pieces_l - sum_o single_o
            + sum over clusters of the cheapest partition

holds for every order with these suppliers and tiers, whatever the multipliers. A column in no partition that is within
the gap can be dropped: its *excess* is how much dearer than the cheapest the best partition with it is.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import highspy
import numpy as np

from recap.optimise.solver import Quiet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.optimise.instance import Instance

LARGEST = 12
"""Most groups of a cluster for which all partitions are weighed; beyond, its linear relaxation serves."""

NEVER = float("inf")


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

    ``cheapest`` is the cluster's cheapest partition. ``rest[mask]`` is that of a part of the cluster; where the
    cluster is too large, ``duals`` price its groups one by one instead.
    """

    cheapest: float
    rest: np.ndarray | None
    duals: tuple[float, ...]

    def excess(self, value: float, mask: int) -> float:
        """Return how much above the cheapest partition the best one is that has a column (value, mask)."""
        if self.rest is not None:
            return float(value + self.rest[(len(self.rest) - 1) ^ mask] - self.cheapest)
        return value - sum(dual for i, dual in enumerate(self.duals) if mask >> i & 1)

    def excesses(self, values: np.ndarray, masks: tuple[int, ...]) -> np.ndarray:
        """Return the excess of each of many columns."""
        if self.rest is not None:
            others = (len(self.rest) - 1) ^ np.array(masks, dtype=np.int64)
            found: np.ndarray = values + self.rest[others] - self.cheapest
            return found
        return np.array([self.excess(value, mask) for value, mask in zip(values.tolist(), masks, strict=True)])


@dataclass(frozen=True, slots=True)
class Parted:
    """Columns by the cluster they belong to: their places in the list of columns, and their groups as bits."""

    rows: tuple[np.ndarray, ...]
    masks: tuple[tuple[int, ...], ...]


def part(clusters: Clusters, groups: Sequence[Sequence[int]]) -> Parted:
    """Sort columns, given by the groups of each, into clusters."""
    rows: list[list[int]] = [[] for _ in clusters.members]
    masks: list[list[int]] = [[] for _ in clusters.members]
    for i, each in enumerate(groups):
        cluster = clusters.of[each[0]]
        rows[cluster].append(i)
        masks[cluster].append(clusters.mask(each))
    return Parted(tuple(np.array(each, dtype=np.int64) for each in rows), tuple(tuple(each) for each in masks))


def weigh(clusters: Clusters, parted: Parted, values: np.ndarray) -> tuple[list[Prices], np.ndarray] | None:
    """Price every cluster from the columns' values (infinite: not to be had), with each column's excess.

    None where some group can't be covered.
    """
    prices = []
    excesses = np.full(len(values), NEVER)
    for members, rows, masks in zip(clusters.members, parted.rows, parted.masks, strict=True):
        own = values[rows]
        price = _price(len(members), own, masks)
        if price is None:
            return None
        prices.append(price)
        excesses[rows] = price.excesses(own, masks)
    return prices, excesses


def _price(size: int, values: np.ndarray, masks: tuple[int, ...]) -> Prices | None:
    if size == 1:
        least = values.min(initial=NEVER)
        return None if least == NEVER else Prices(float(least), np.array([0.0, least]), ())
    columns = [(value, mask) for value, mask in zip(values.tolist(), masks, strict=True) if value < NEVER]
    return _partition(size, columns) if size <= LARGEST else _relaxed(size, columns)


def _partition(size: int, columns: list[tuple[float, int]]) -> Prices | None:
    """Dynamic programme over subsets: the lowest group of a subset is in one of its columns."""
    lowest: list[list[tuple[float, int]]] = [[] for _ in range(size)]
    cheapest: dict[int, float] = {}
    for value, mask in columns:
        if value < cheapest.get(mask, NEVER):
            cheapest[mask] = value
    for mask, value in cheapest.items():
        lowest[(mask & -mask).bit_length() - 1].append((value, mask))
    rest = [0.0] + [NEVER] * ((1 << size) - 1)
    for mask in range(1, 1 << size):
        best = NEVER
        for value, part in lowest[(mask & -mask).bit_length() - 1]:
            if not part & ~mask and value + rest[mask ^ part] < best:
                best = value + rest[mask ^ part]
        rest[mask] = best
    return None if rest[-1] == NEVER else Prices(rest[-1], np.array(rest), ())


def _relaxed(size: int, columns: list[tuple[float, int]]) -> Prices | None:
    """Linear relaxation of the partition; its duals, lowered until no column is below zero, bound it safely."""
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), size
    model.col_cost_ = np.array([value for value, _ in columns])
    model.col_lower_, model.col_upper_ = np.zeros(len(columns)), np.full(len(columns), highspy.kHighsInf)
    model.row_lower_ = model.row_upper_ = np.ones(size)
    bits = [[i for i in range(size) if mask >> i & 1] for _, mask in columns]
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
    for (value, _), each in zip(columns, bits, strict=True):
        short = value - sum(duals[i] for i in each)
        if short < 0:
            duals[each[0]] += short
    return Prices(sum(duals), None, tuple(duals))
