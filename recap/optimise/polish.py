"""Look for orders that cost just what a leaf's program says, by trying many of its cheapest ways to cover the groups.

Where a parcel must be brought up to a threshold, the program reckons that any amount can be had. Whether whole
pieces come to it to the unit depends on which lines are in the parcel, and of these there may be very many ways that
the program doesn't tell apart: for a solver it is a subset-sum hidden in a large program, while one that hits
is often soon met with by trying. What isn't found here is left to the program, so nothing is lost but a little time.
"""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from recap.optimise.clusters import LARGEST, NEVER
from recap.optimise.decode import Decoded, topped_up

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np

    from recap.optimise.columns import Column
    from recap.optimise.leaf import Leaf

WAYS = 60
"""Ways to cover one cluster of groups that are tried at most."""

Way = tuple[float, tuple["Column", ...]]
"""How much dearer than the cheapest one way to cover a cluster is, and its columns."""


def tries(leaf: Leaf, width: float) -> Iterator[Decoded | None]:
    """Yield orders of the leaf within ``width`` of its bound before topping up, in random order, without end.

    A try that is no legal order is None, so that whoever asks can count it too. Nothing comes where all groups hang
    together too much, or where there is but one way.
    """
    ways = _ways(leaf, width)
    if ways is None or all(len(each) == 1 for each in ways):
        return
    chance = random.Random(0)  # noqa: S311 - the same order every time
    instance = leaf.frame.instance
    while True:
        picked: list[Column] = []
        left = width
        for each in ways:
            allowed = [way for way in each if way[0] <= left]
            above, columns = chance.choice(allowed or each[:1])
            left -= above
            picked += columns
        legal = _legal(leaf, picked)
        yield topped_up(instance, leaf.tiers, [(column, -1) for column in picked], {}) if legal else None


def _ways(leaf: Leaf, width: float) -> list[list[Way]] | None:
    """Return for each cluster the ways to cover it that are within ``width``, the cheapest first."""
    frame = leaf.frame
    near = (leaf.excesses <= width) & (leaf.excesses < NEVER)
    found = []
    for cluster, members in enumerate(frame.clusters.members):
        if len(members) > LARGEST:
            return None
        rows, masks = frame.parted.rows[cluster], frame.parted.masks[cluster]
        price = leaf.prices[cluster]
        columns = [(frame.columns.all[i], masks[n]) for n, i in enumerate(rows.tolist()) if near[i]]
        assert price.rest is not None, "all partitions of a small cluster are weighed"
        rest = price.rest[0]
        valued = [(leaf.value(column), mask, column) for column, mask in columns]
        ways = list(_cover(valued, rest, len(rest) - 1, float(rest[-1]) + width))
        lowest = min((cost for cost, _ in ways), default=0.0)
        found.append(sorted(((cost - lowest, way) for cost, way in ways), key=lambda way: way[0]))
        if not found[-1]:
            return None
    return found


def _cover(valued: list[tuple[float, int, Column]], rest: np.ndarray, mask: int, most: float) -> Iterator[Way]:
    """Yield ways to cover the groups in ``mask`` for at most so much, :data:`WAYS` of them at most."""
    count = 0
    stack: list[tuple[float, int, tuple[Column, ...]]] = [(0.0, mask, ())]
    while stack and count < WAYS:
        spent, left, columns = stack.pop()
        if not left:
            count += 1
            yield spent, columns
            continue
        lowest = left & -left
        stack += [
            (spent + value, left ^ part, (*columns, column))
            for value, part, column in valued
            if part & lowest and not part & ~left and spent + value + rest[left ^ part] <= most
        ]


def _legal(leaf: Leaf, picked: list[Column]) -> bool:
    """Tell whether the drawer has what is drawn, and no offer is taken twice that can't be bought together."""
    frame = leaf.frame
    drawn: dict[int, int] = {}
    taken: set[int] = set()
    for column in picked:
        if column.drawn:
            drawn[column.lot] = drawn.get(column.lot, 0) + column.drawn
        if column.offer >= 0 and not frame.columns.mergeable[column.offer]:
            if column.offer in taken:
                return False
            taken.add(column.offer)
    return all(pieces <= frame.instance.lots[lot][1] for lot, pieces in drawn.items())
