"""A leaf with several parcels to be counted piece by piece: every way to cover the groups that is near enough is tried.

Where several parcels have to reach thresholds, what is needed of each comes near to them, and few ways to share the
groups out among the suppliers are within the gap. Each of them leaves a subset-sum for every parcel, which
:func:`recap.optimise.sums.parcel` solves. Ways are left out by two bounds. With ``base`` what a parcel's lines come to
at least, an order costs no less than

    fixed charges + levels + sum_s goods cost_s max(base_s, least_s)
    bound of the leaf + excesses + sum_s [ reach_s max(base_s - least_s, 0) + net_s max(least_s - base_s, 0) ]

While clusters are still to be covered, each takes what it has at least into these. Since what one parcel is spared
another must have, the sum of max(base_s - least_s, 0) is bounded for suppliers taken together, too.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise import covers as covering
from recap.optimise import sums
from recap.optimise.residue import FINE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from recap.optimise.covers import Choice, Cover
    from recap.optimise.leaf import Leaf
    from recap.optimise.sums import Effort, Found, Taken

MOST_TRIED, MOST_FOUND = 4 * 10**6, 3000
"""Partial ways to cover all groups that are looked at, and whole ones counted; beyond these a program is better."""

PATIENCE = 20.0
"""Seconds after which counting is given up: the program may do it, or nothing does."""

FEW = 4
"""Parcels of which all sets are taken together; of more only each alone, and all."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """One counted supplier: what its goods must reach, what a unit of them costs and is worth, and the rest of it.

    ``known``: what its choices were found to cost at least, and how much that was allowed to be.
    """

    supplier: int
    least: int
    goods_cost: int
    reach: float
    net: float
    known: dict[tuple[int, ...], tuple[int, tuple[int, Taken] | None]] = field(default_factory=dict)

    def cheapest(self, choices: Sequence[Choice], most: int) -> tuple[int, Taken] | None:
        """Return the cheapest way to take one of each choice; None above ``most``.

        Raises OverflowError where it is too much to count.
        """
        key = tuple([id(choice) for choice in choices])
        allowed, found = self.known.get(key, (-1, None))
        if found is None and allowed < most:
            found = sums.parcel(choices, self.least, self.goods_cost, most)
            self.known[key] = most, found
        return found if found is not None and found[0] <= most else None


@dataclass(frozen=True, slots=True)
class Options:
    """The covers of one cluster: what each comes to at least by parcel (``base``), its level, and its excess."""

    covers: Sequence[Cover]
    base: np.ndarray
    level: np.ndarray
    excess: np.ndarray


class Bound:
    """A bound on what orders cost: a start, what covers add to it, and for each parcel ``over`` or ``under`` a unit."""

    def __init__(
        self,
        parcels: Sequence[Parcel],
        options: Sequence[Options],
        *,
        start: float,
        added: Sequence[np.ndarray],
        over: np.ndarray,
        under: np.ndarray,
    ) -> None:
        """Work out what the clusters from each on come to at least."""
        count = len(parcels)
        sizes = range(1, count + 1) if count <= FEW else (1, count)
        sets = [each for size in sizes for each in combinations(range(count), size)]
        self.over = np.array([[over[s] * (s in each) for s in range(count)] for each in sets]).reshape(-1, count)
        self.under = under
        self.start = start
        self.least = np.array([float(each.least) for each in parcels])
        self.added = _from_each([float(each.min()) for each in added])
        self.fewest = _from_each([(each.base @ self.over.T).min(axis=0) for each in options])
        self.most = _from_each([each.base.max(axis=0) for each in options])

    def at_least(self, clusters: int, added: np.ndarray, base: np.ndarray) -> np.ndarray:
        """Return what orders cost at least of which so many clusters are covered, with their bases in the last axis."""
        over = (base - self.least) @ self.over.T + self.fewest[clusters]
        under = np.maximum(self.least - base - self.most[clusters], 0.0) @ self.under
        found: np.ndarray = self.start + added + self.added[clusters] + over.max(axis=-1, initial=0.0) + under
        return found


def _from_each(values: Sequence[np.ndarray | float]) -> np.ndarray:
    """Return the sums of all values from each on; the last is of none."""
    every = np.array([*values, np.zeros_like(values[0])])
    found: np.ndarray = np.cumsum(every[::-1], axis=0)[::-1]
    return found


def counted(
    leaf: Leaf, exact: frozenset[int], value: float, best: int | None, effort: Effort = sums.USUAL
) -> Found | bool:
    """Return the leaf's cheapest order, with the ``exact`` suppliers counted; False where none costs up to ``best``.

    True where this isn't the way to find out: the drawer is shared, charges rise, or it takes more ``effort``. Orders
    near ``value``, which none is below, are looked for first.
    """
    answer: Found | bool = True
    if len(exact) == 1:
        answer = sums.cheapest(leaf, next(iter(exact)), value, best, effort)
    return cheapest(leaf, value, best, effort) if answer is True else answer


def cheapest(leaf: Leaf, value: float, best: int | None, effort: Effort = sums.USUAL) -> Found | bool:
    """Return the same, with all suppliers counted whose goods have to reach something."""
    until = time.monotonic() + effort.share * PATIENCE

    def hurry() -> None:
        effort.check()
        if time.monotonic() > until:
            raise OverflowError

    try:
        return sums.nearest(value, best, lambda most: _up_to(leaf, most, hurry))
    except OverflowError:
        return True


def _up_to(leaf: Leaf, most: int, check: Callable[[], object]) -> Found | bool:
    """Return the cheapest order up to ``most``; raises OverflowError where a parcel is too much to count."""
    parcels = _parcels(leaf)
    covers = None
    if parcels is not None:
        covers = covering.find(leaf, frozenset(each.supplier for each in parcels), most - leaf.bound)
    if parcels is None or covers is None:
        return True
    whole = _whole(leaf, parcels, covers, most) if all(covers) else []
    if whole is None:
        return True
    found: Found | bool = False
    for least, ways in sorted(((_at_least(leaf, parcels, each), each) for each in whole), key=lambda each: each[0]):
        check()
        priced = _priced(parcels, ways, least, most)
        if priced is not None:
            total, taken = priced
            found = total, *sums.bought(leaf, [column for cover in ways for column in cover.others], taken)
            most = total - 1
    return found


def _parcels(leaf: Leaf) -> tuple[Parcel, ...] | None:
    """Return the suppliers whose goods have to reach something; None where none has, or some must keep below."""
    found = []
    for s, k in leaf.tiers.items():
        terms = leaf.frame.instance.suppliers[s]
        tier = terms.tiers[k]
        if (tier.most is not None and terms.rising) or not terms.goods_cost:
            return None
        if tier.least:
            reach = (leaf.point.reach[s] - leaf.point.stay[s]) * leaf.frame.scale
            found.append(Parcel(s, tier.least, terms.goods_cost, reach, leaf.net(s)))
    return tuple(found) or None


def _whole(
    leaf: Leaf, parcels: Sequence[Parcel], covers: Sequence[Sequence[Cover]], most: int
) -> list[tuple[Cover, ...]] | None:
    """Return the ways to cover all groups that may cost up to ``most``; None where they are too many."""
    options = [_options(leaf, parcels, cluster, each) for cluster, each in enumerate(covers)]
    options.sort(key=lambda each: len(each.covers))
    thresholds = leaf.fixed + sum(each.goods_cost * each.least for each in parcels)
    costs = np.array([float(each.goods_cost) for each in parcels])
    reach, net = np.array([each.reach for each in parcels]), np.array([each.net for each in parcels])
    levels, excesses = [each.level for each in options], [each.excess for each in options]
    bounds = (
        Bound(parcels, options, start=float(thresholds), added=levels, over=costs, under=np.zeros_like(net)),
        Bound(parcels, options, start=leaf.bound, added=excesses, over=reach, under=net),
    )
    room = most + FINE * max(abs(leaf.bound), 1.0)
    base = np.zeros((1, len(parcels)))
    paid = np.zeros((2, 1))
    paths: list[tuple[np.ndarray, np.ndarray]] = []
    tried = 0
    for i, each in enumerate(options):
        tried += len(base) * len(each.covers)
        if tried > MOST_TRIED:
            return None
        own = base[:, None] + each.base
        spent = paid[:, :, None] + np.stack([each.level, each.excess])[:, None]
        near = np.ones(own.shape[:2], dtype=bool)
        for bound, so_far in zip(bounds, spent, strict=True):
            near &= bound.at_least(i + 1, so_far, own) <= room
        before, taken = np.nonzero(near)
        paths.append((before, taken))
        base, paid = own[before, taken], spent[:, before, taken]
    if len(base) > MOST_FOUND:
        return None
    return [_path(options, paths, end) for end in range(len(base))]


def _options(leaf: Leaf, parcels: Sequence[Parcel], cluster: int, covers: Sequence[Cover]) -> Options:
    """Return the covers of one cluster with their levels, excesses and bases."""
    bases = [[float(_base(cover.choices[parcel.supplier])) for parcel in parcels] for cover in covers]
    excess = np.array([cover.value for cover in covers]) - leaf.prices[cluster].cheapest
    level = np.array([float(cover.level) for cover in covers])
    return Options(covers, np.array(bases).reshape(len(covers), len(parcels)), level, excess)


def _path(options: Sequence[Options], paths: Sequence[tuple[np.ndarray, np.ndarray]], end: int) -> tuple[Cover, ...]:
    """Return the covers that lead to one of the last ways."""
    found = []
    for each, (before, taken) in zip(reversed(options), reversed(paths), strict=True):
        found.append(each.covers[taken[end]])
        end = before[end]
    return tuple(found)


def _at_least(leaf: Leaf, parcels: Sequence[Parcel], covers: Sequence[Cover]) -> int:
    """Return what an order with these covers costs at least."""
    goods = sum(each.goods_cost * max(each.least, _base(_choices(covers, each))) for each in parcels)
    return leaf.fixed + sum(cover.level for cover in covers) + goods


def _choices(covers: Sequence[Cover], parcel: Parcel) -> list[Choice]:
    return [choice for cover in covers for choice in cover.choices[parcel.supplier]]


def _base(choices: Sequence[Choice]) -> int:
    return sum(min(way.goods for way in choice) for choice in choices)


def _priced(parcels: Sequence[Parcel], covers: Sequence[Cover], least: int, most: int) -> tuple[int, Taken] | None:
    """Return what the cheapest order with these covers costs, ``least`` or more, with what it takes.

    None where that is above ``most``. Raises OverflowError where a parcel is too much to count.
    """
    total = least
    every: Taken = []
    for parcel in parcels:
        choices = _choices(covers, parcel)
        lowest = parcel.goods_cost * max(parcel.least, _base(choices))
        found = parcel.cheapest(choices, lowest + most - total) if total <= most else None
        if found is None:
            return None
        cost, taken = found
        total += cost - lowest
        every += taken
    return total, every
