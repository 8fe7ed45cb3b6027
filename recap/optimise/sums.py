"""A leaf with one supplier to be counted piece by piece: its cheapest order by all sums that its goods can come to.

Where only one parcel has to reach a threshold, and it is reached by buying beyond need, what is left is a subset-sum:
to a solver a puzzle without end where prices have many decimals. Here all sums are had at once, as the set bits of
large whole numbers: cluster by cluster, every way to cover its groups shifts what was reached before, and every
multiple beyond need shifts it again. Ways differ also in what they cost besides the supplier's goods: that is their
*level*, and each level has sums of its own. The least of

    fixed charges + level + goods cost * sum,  over all sums from the threshold on

is the cheapest order with these suppliers and tiers, exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice, pairwise
from math import gcd
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise.clusters import NEVER
from recap.optimise.decode import topped_up
from recap.optimise.fill import multiplied
from recap.optimise.relaxation import column_cost
from recap.optimise.residue import FINE, within

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from recap.optimise.columns import Column
    from recap.optimise.fill import Line
    from recap.optimise.leaf import Leaf
    from recap.optimise.rebuild import Choice

MOST_BITS = 40_000_000
"""Wider sums than this are left to the solver."""

MOST_WORK, MOST_KEPT = 3 * 10**10, 4 * 10**9
"""Bits shifted in all, some seconds' work, and bits kept: what takes more is left to the solver."""

MOST_COVERS = 2000
"""Ways to cover one cluster that are tried at most."""

NEAR = (1e-5, 1e-3, 1e-1, 1e9)
"""How far above what no order is below they are looked for, as a share, one after the other."""

Found = tuple[int, "Choice", tuple["Line", ...]]
"""The total of an order, in total units, and the order."""

Sums = dict[int, int]
"""By level, the sums reached: bits of a whole number."""


@dataclass(frozen=True, slots=True)
class Way:
    """A column of the supplier (None: nothing bought): its level and goods, and up to ``count`` times ``more``."""

    column: tuple[Column, int] | None
    level: int
    goods: int
    more: int = 0
    count: int = 0


@dataclass(frozen=True, slots=True)
class Cover:
    """One way to cover a cluster: columns of other suppliers and their level, and choices of one way each."""

    others: tuple[Column, ...]
    level: int
    choices: tuple[tuple[Way, ...], ...]


NOTHING = Way(None, 0, 0)


@dataclass(frozen=True, slots=True)
class Limits:
    """Sums are counted in ``unit`` units of goods, from the ``target`` on, up to ``width``; totals up to ``most``."""

    unit: int
    target: int
    width: int
    most: int


def cheapest(leaf: Leaf, supplier: int, value: float, best: int) -> Found | bool:
    """Return the leaf's cheapest order; False where none costs up to ``best``.

    True where this isn't the way to find out: other parcels have thresholds too, the drawer is shared, or there is too
    much to try. Orders near ``value``, which none is below, are looked for first.
    """
    answer: Found | bool = False
    for share in NEAR:
        most = min(best, int(value * (1 + share)))
        answer = _up_to(leaf, supplier, most)
        if answer is not False or most == best:
            break
    return answer


def _up_to(leaf: Leaf, supplier: int, most: int) -> Found | bool:
    terms = leaf.frame.instance.suppliers[supplier]
    least = terms.tiers[leaf.tiers[supplier]].least
    covers = _covers(leaf, supplier, most - leaf.bound) if _alone(leaf, supplier) and terms.goods_cost else None
    if covers is None:
        return True
    if not all(covers):
        return False
    left = most - leaf.fixed - sum(min(cover.level for cover in each) for each in covers)
    if left < terms.goods_cost * least:
        return False
    unit = gcd(*(n for each in covers for way in _ways(each) for n in (way.goods, way.more * bool(way.count)))) or 1
    width = left // (terms.goods_cost * unit)
    if width > MOST_BITS:
        return True
    return _best(leaf, supplier, covers, Limits(unit, -(-least // unit), width, most))


def _best(leaf: Leaf, supplier: int, covers: list[list[Cover]], limits: Limits) -> Found | bool:
    goods_cost = leaf.frame.instance.suppliers[supplier].goods_cost
    highest = limits.most - leaf.fixed - goods_cost * limits.unit * limits.target
    later = _least_later(covers)
    reached: list[Sums] = [{0: 1}]
    work = kept = 0
    for each, rest in zip(covers, later, strict=True):
        joined: Sums = {}
        work += len(reached[-1]) * limits.width * sum(2 + way.count.bit_length() for way in _ways(each))
        kept += len(reached[-1]) * limits.width
        if work > MOST_WORK or kept > MOST_KEPT:
            return True
        for cover in each:
            for level, sums in _steps(reached[-1], cover, limits, highest - rest)[-1].items():
                joined[level] = joined.get(level, 0) | sums
        reached.append(joined)
    found = []
    for level, sums in reached[-1].items():
        over = sums >> limits.target
        if over:
            goods = limits.target + (over & -over).bit_length() - 1
            found.append((leaf.fixed + level + goods_cost * goods * limits.unit, level, goods))
    total, level, goods = min(found, default=(limits.most + 1, 0, 0))
    if total > limits.most:
        return False
    picked: list[tuple[Column, int]] = []
    beyond: dict[int, int] = {}
    for each, before, rest in zip(reversed(covers), reversed(reached[:-1]), reversed(later), strict=True):
        cover, taken, level, goods = _traced(each, before, (level, goods), limits, highest - rest)
        picked += [(column, -1) for column in cover.others]
        for way, count in taken:
            if way.column is not None:
                picked.append(way.column)
                beyond[way.column[0].offer] = count
    decoded = topped_up(leaf.frame.instance, leaf.tiers, picked, {o: n for o, n in beyond.items() if n})
    assert decoded.choice is not None, "sums from the threshold on are an order"
    return total, decoded.choice, decoded.lines


def _alone(leaf: Leaf, supplier: int) -> bool:
    """Tell whether no other parcel must reach or keep below anything, nor this one keep below."""
    for s, k in leaf.tiers.items():
        terms = leaf.frame.instance.suppliers[s]
        tier = terms.tiers[k]
        if (tier.most is not None and terms.rising) or (s != supplier and tier.least):
            return False
    return True


def _covers(leaf: Leaf, supplier: int, room: float) -> list[list[Cover]] | None:
    """Return by cluster its ways to be covered by what an order within ``room`` has; None where they are too many."""
    frame, instance = leaf.frame, leaf.frame.instance
    width = room + FINE * max(abs(leaf.bound), 1.0)
    own = [(column, b) for column, b, _ in within(leaf, supplier, width)]
    near = np.flatnonzero((leaf.excesses <= width) & (leaf.excesses < NEVER)).tolist()
    others = [column for i in near if (column := frame.columns.all[i]).supplier != supplier]
    shared: dict[int, set[int]] = {}
    count = len(frame.clusters.members)
    by_cluster: list[list[tuple[Column, int]]] = [[] for _ in range(count)]
    for column, b in [*own, *((column, -1) for column in others)]:
        groups = column.groups or instance.offers[column.offer].groups
        cluster = frame.clusters.of[groups[0]]
        by_cluster[cluster].append((column, b))
        if column.drawn:
            shared.setdefault(column.lot, set()).add(cluster)
    if any(len(clusters) > 1 for clusters in shared.values()):
        return None
    found = []
    for cluster, members in enumerate(frame.clusters.members):
        partitions = _partitions(leaf, supplier, by_cluster[cluster], frozenset(members))
        covers = list(islice(partitions, MOST_COVERS + 1))
        if len(covers) > MOST_COVERS:
            return None
        found.append(covers)
    return found


def _partitions(
    leaf: Leaf, supplier: int, columns: Sequence[tuple[Column, int]], members: frozenset[int]
) -> Iterator[Cover]:
    """Yield each choice of columns that has every group once, no offer twice that can't be, and no lot overdrawn."""
    instance = leaf.frame.instance
    terms = instance.suppliers[supplier]
    besides: dict[int, list[Way]] = {}
    for column, b in columns:
        if not column.groups:
            besides.setdefault(column.offer, [NOTHING]).append(_way(leaf, column, b))
    stack: list[tuple[frozenset[int], tuple[tuple[Column, int], ...]]] = [(members, ())]
    while stack:
        left, taken = stack.pop()
        if left:
            first = min(left)
            for column, b in columns:
                if first in column.groups and left.issuperset(column.groups) and _goes(leaf, taken, column, b):
                    stack.append((left.difference(column.groups), (*taken, (column, b))))
            continue
        others = tuple(column for column, b in taken if b < 0)
        bought = [(column, b) for column, b in taken if b >= 0]
        used = {column.offer for column, _ in bought}
        choices: list[tuple[Way, ...]] = [(_way(leaf, column, b),) for column, b in bought]
        choices += [tuple(ways) for offer, ways in besides.items() if offer not in used]
        level = sum(column_cost(instance, column) for column in others)
        level += len(bought) * terms.line_fee * terms.charge_cost
        yield Cover(others, level, tuple(choices))


def _goes(leaf: Leaf, taken: Sequence[tuple[Column, int]], column: Column, b: int) -> bool:
    """Tell whether a column may stand beside those taken."""
    for other, c in taken:
        if other.offer == column.offer >= 0 and (b >= 0 or c >= 0 or not leaf.frame.columns.mergeable[column.offer]):
            return False
    if not column.drawn:
        return True
    drawn = column.drawn + sum(other.drawn for other, _ in taken if other.lot == column.lot)
    return drawn <= leaf.frame.instance.lots[column.lot][1]


def _way(leaf: Leaf, column: Column, b: int) -> Way:
    """Return a column as a way; the fee of a line that serves a group is in its cover's level."""
    instance = leaf.frame.instance
    offer = instance.offers[column.offer]
    terms, step = instance.suppliers[offer.supplier], offer.steps[b]
    fee = 0 if column.groups else terms.line_fee * terms.charge_cost
    more = offer.multiple * step.price
    count = (step.high - column.quantity) // offer.multiple if more else 0
    return Way((column, b), fee, column.goods, more, count)


def _ways(covers: Sequence[Cover]) -> Iterator[Way]:
    for cover in covers:
        for choice in cover.choices:
            yield from choice


def _least_later(covers: Sequence[Sequence[Cover]]) -> list[int]:
    """Return for each cluster the least level of all clusters after it."""
    lows = [min(cover.level for cover in each) for each in covers]
    return [sum(lows[i + 1 :]) for i in range(len(lows))]


def _steps(before: Sums, cover: Cover, limits: Limits, highest: int) -> list[Sums]:
    """Return the sums after the cover's level, then after each of its choices; above ``highest`` nothing is kept."""
    steps = [{level + cover.level: sums for level, sums in before.items() if level + cover.level <= highest}]
    for choice in cover.choices:
        joined: Sums = {}
        for level, sums in steps[-1].items():
            for way in choice:
                if level + way.level <= highest:
                    reached = joined.get(level + way.level, 0)
                    joined[level + way.level] = reached | _shifted(sums, way, limits)
        steps.append(joined)
    return steps


def _shifted(sums: int, way: Way, limits: Limits) -> int:
    """Return the sums with the way's goods, and any number of its multiples, up to the widest."""
    unit, width = limits.unit, limits.width
    if way.goods // unit > width:
        return 0
    mask = (1 << width + 1) - 1
    return multiplied(sums << way.goods // unit & mask, way.more // unit, way.count, width)


def _traced(
    covers: Sequence[Cover], before: Sums, end: tuple[int, int], limits: Limits, highest: int
) -> tuple[Cover, list[tuple[Way, int]], int, int]:
    """Return the cover and ways that lead to a level and sum, and the level and sum before them."""
    for cover in covers:
        steps = _steps(before, cover, limits, highest)
        level, goods = end
        if not steps[-1].get(level, 0) >> goods & 1:
            continue
        taken = []
        for choice, (earlier, _) in zip(reversed(cover.choices), reversed(list(pairwise(steps))), strict=True):
            way, count, level, goods = _taken(choice, earlier, level, goods, limits.unit)
            taken.append((way, count))
        return cover, taken, level - cover.level, goods
    raise AssertionError("a sum that was reached has a way")


def _taken(choice: Sequence[Way], earlier: Sums, level: int, goods: int, unit: int) -> tuple[Way, int, int, int]:
    for way in choice:
        sums = earlier.get(level - way.level, 0)
        for count in range(way.count + 1):
            rest = goods - (way.goods + count * way.more) // unit
            if rest < 0:
                break
            if sums >> rest & 1:
                return way, count, level - way.level, rest
    raise AssertionError("a sum that was reached has a way")
