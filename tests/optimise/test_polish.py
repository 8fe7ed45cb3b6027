"""Ways to cover groups that hang together: all of those within the width, and never more than are asked for."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, cast

import numpy as np
import pytest

from recap.optimise.columns import Column
from recap.optimise.polish import WAYS, _cover, _legal

if TYPE_CHECKING:
    from recap.optimise.leaf import Leaf

GROUPS = 3
ALL = (1 << GROUPS) - 1


def column(offer: int, lot: int = -1, drawn: int = 0) -> Column:
    return Column(offer, 0, (0,), 0, 1, lot, drawn)


PRICED = [(4.0, 0b001), (3.0, 0b010), (5.0, 0b100), (6.0, 0b011), (9.0, 0b110), (7.5, 0b101), (11, 0b111), (4.5, 0b001)]
"""What each set of the groups costs: a alone 4.00 or 4.50, a and b together 6.00, and so on."""
VALUED = [(value, mask, column(at)) for at, (value, mask) in enumerate(PRICED)]


def partitions(left: int) -> list[list[int]]:
    """Return every way to cover ``left`` exactly, by trying everything."""
    if not left:
        return [[]]
    found = []
    for at, (_, mask) in enumerate(PRICED):
        if mask & (left & -left) and not mask & ~left:
            found += [[at, *rest] for rest in partitions(left ^ mask)]
    return found


def cost(way: list[int]) -> float:
    return sum(PRICED[at][0] for at in way)


def rest() -> np.ndarray:
    return np.array([min((cost(way) for way in partitions(mask)), default=np.inf) for mask in range(ALL + 1)])


@pytest.mark.parametrize("most", [10.0, 11.0, 11.5, 12.0, 12.5, 13.0, 99.0])
def test_every_way_within_the_width_is_found_once(most: float) -> None:
    found = [(spent, sorted(each.offer for each in columns)) for spent, columns in _cover(VALUED, rest(), ALL, most)]
    expected = [(cost(way), sorted(way)) for way in partitions(ALL) if cost(way) <= most]
    assert sorted(found) == sorted(expected)


def test_no_more_ways_than_are_looked_at() -> None:
    many = [(1.0, 0b1, column(at)) for at in range(WAYS + 20)]
    assert len(list(_cover(many, np.array([0.0, 1.0]), 0b1, 5.0))) == WAYS
    assert len(list(_cover(many[: WAYS - 1], np.array([0.0, 1.0]), 0b1, 5.0))) == WAYS - 1


@pytest.mark.parametrize(
    ("picked", "legal"),
    [
        ([], True),
        ([column(0, 0, 3)], True),
        ([column(0, 0, 2), column(1, 0, 2)], False),  # three lie in the first lot
        ([column(0, 0, 2), column(1, 1, 2)], True),
        ([column(-1, 0, 3), column(-1, 1, 5)], True),
        ([column(-1, 1, 6)], False),
        ([column(0), column(0)], True),  # bought together
        ([column(1), column(1)], False),
        ([column(1), column(0), column(0)], True),
    ],
)
def test_the_drawer_holds_what_is_drawn_and_an_offer_that_cannot_be_merged_is_taken_once(
    picked: list[Column], legal: bool
) -> None:
    columns = SimpleNamespace(mergeable=(True, False))
    instance = SimpleNamespace(lots=(("A", 3), ("B", 5)))
    leaf: Any = SimpleNamespace(frame=SimpleNamespace(columns=columns, instance=instance))
    assert _legal(cast("Leaf", leaf), picked) is legal
