"""Every way to cover a cluster of groups, with what is bought of some suppliers left open to be counted piece by piece.

Of a counted supplier a *line* is an offer with the groups it serves; at which price step it is bought, and how much
beyond need, stays open, and so do lines besides that serve no group. What other suppliers' columns cost is the cover's
*level*.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise.clusters import NEVER
from recap.optimise.relaxation import column_cost
from recap.optimise.residue import FINE, within

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from recap.optimise.columns import Column
    from recap.optimise.leaf import Leaf

MOST_COVERS = 20_000
"""Ways to cover one cluster that are tried at most."""


@dataclass(frozen=True, slots=True)
class Way:
    """A column at a price step (None: nothing bought): its level and goods, and up to ``count`` times ``more``."""

    column: tuple[Column, int] | None
    level: int
    goods: int
    more: int = 0
    count: int = 0


NOTHING = Way(None, 0, 0)

Choice = tuple[Way, ...]
"""One of these ways is taken."""


@dataclass(frozen=True, slots=True)
class Line:
    """A column with the ways to buy its line; None where its supplier isn't counted. ``value``: the least of theirs."""

    column: Column
    choice: Choice | None
    value: float


@dataclass(frozen=True, slots=True)
class Cover:
    """One way to cover a cluster: columns that aren't counted, their level with the lines' fees, and what is counted.

    ``value``: the least that all of it is worth by the leaf's multipliers.

    ``choices``, by counted supplier: one for each line that serves groups, and for each offer that may be bought
    besides.
    """

    others: tuple[Column, ...]
    level: int
    value: float
    choices: Mapping[int, tuple[Choice, ...]]


def find(leaf: Leaf, counted: frozenset[int], room: float) -> list[list[Cover]] | None:
    """Return by cluster its ways to be covered by what an order within ``room`` of the leaf's bound has.

    None where they are too many, or where clusters share a lot of the drawer.
    """
    frame, instance = leaf.frame, leaf.frame.instance
    width = room + FINE * max(abs(leaf.bound), 1.0)
    own = [(column, b) for s in sorted(counted) for column, b, _ in within(leaf, s, width)]
    near = np.flatnonzero((leaf.excesses <= width) & (leaf.excesses < NEVER)).tolist()
    others = [column for i in near if (column := frame.columns.all[i]).supplier not in counted]
    shared: dict[int, set[int]] = {}
    lines: list[list[Line]] = [[] for _ in frame.clusters.members]
    for line in [*_lines(leaf, own), *(Line(column, None, leaf.value(column)) for column in others)]:
        column = line.column
        groups = column.groups or instance.offers[column.offer].groups
        cluster = frame.clusters.of[groups[0]]
        lines[cluster].append(line)
        if column.drawn:
            shared.setdefault(column.lot, set()).add(cluster)
    if any(len(clusters) > 1 for clusters in shared.values()):
        return None
    found = []
    for cluster, members in enumerate(frame.clusters.members):
        partitions = _partitions(leaf, lines[cluster], frozenset(members), width)
        covers = [_cover(leaf, counted, lines[cluster], taken) for taken in islice(partitions, MOST_COVERS + 1)]
        if len(covers) > MOST_COVERS:
            return None
        found.append(covers)
    return found


def _lines(leaf: Leaf, columns: Iterable[tuple[Column, int]]) -> Iterator[Line]:
    """Join the columns of counted suppliers that differ only in their price step."""
    alike: defaultdict[tuple[int, ...], list[tuple[Column, int]]] = defaultdict(list)
    for column, b in columns:
        alike[column.offer, *column.groups, -1, column.lot, column.drawn].append((column, b))
    for each in alike.values():
        ways = [_way(leaf, column, b) for column, b in each]
        first = each[0][0]
        value = min(leaf.value(column) for column, _ in each)
        yield Line(first, tuple(ways if first.groups else [NOTHING, *ways]), value)


def _partitions(
    leaf: Leaf, lines: Sequence[Line], members: frozenset[int], width: float
) -> Iterator[tuple[Line, ...]]:
    """Yield each choice of lines that has every group once, no offer twice that can't be, and no lot overdrawn.

    What is above the cheapest by more than ``width`` is left out.
    """
    stack: list[tuple[frozenset[int], tuple[Line, ...], float]] = [(members, (), 0.0)]
    while stack:
        left, taken, value = stack.pop()
        if not left:
            yield taken
            continue
        first = min(left)
        for line in lines:
            groups = line.column.groups
            if first in groups and left.issuperset(groups) and _goes(leaf, taken, line):
                after, spent = left.difference(groups), value + line.value
                if spent + leaf.rest(tuple(members - after)) <= width:
                    stack.append((after, (*taken, line), spent))


def _goes(leaf: Leaf, taken: Sequence[Line], line: Line) -> bool:
    """Tell whether a line may stand beside those taken."""
    column, mergeable = line.column, leaf.frame.columns.mergeable
    for other in taken:
        same = other.column.offer == column.offer >= 0
        if same and (line.choice or other.choice or not mergeable[column.offer]):
            return False
    if not column.drawn:
        return True
    drawn = column.drawn + sum(other.column.drawn for other in taken if other.column.lot == column.lot)
    return drawn <= leaf.frame.instance.lots[column.lot][1]


def _cover(leaf: Leaf, counted: frozenset[int], lines: Sequence[Line], taken: Sequence[Line]) -> Cover:
    instance = leaf.frame.instance
    used = {line.column.offer for line in taken}
    others = tuple(line.column for line in taken if line.choice is None)
    level = sum(column_cost(instance, column) for column in others)
    value = sum(line.value for line in taken)
    choices: dict[int, list[Choice]] = {s: [] for s in counted}
    for line in taken:
        if line.choice is not None:
            terms = instance.suppliers[line.column.supplier]
            level += terms.line_fee * terms.charge_cost
            choices[line.column.supplier].append(line.choice)
    for line in lines:
        if line.choice is not None and not line.column.groups and line.column.offer not in used:
            choices[line.column.supplier].append(line.choice)
    return Cover(others, level, value, {s: tuple(each) for s, each in choices.items()})


def _way(leaf: Leaf, column: Column, b: int) -> Way:
    """Return a column as a way; the fee of a line that serves a group is in its cover's level."""
    instance = leaf.frame.instance
    offer = instance.offers[column.offer]
    terms, step = instance.suppliers[offer.supplier], offer.steps[b]
    fee = 0 if column.groups else terms.line_fee * terms.charge_cost
    more = offer.multiple * step.price
    count = (step.high - column.quantity) // offer.multiple if more else 0
    return Way((column, b), fee, column.goods, more, count)
