"""Ways to cover a cluster of groups: every one that may stand, and none that may not, against trying all of them."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recap.optimise import covers
from recap.optimise.clusters import NEVER
from recap.optimise.relaxation import Relaxation
from tests.optimise.problems import lying, offer, problem, terms
from tests.optimise.test_leaf_bounds import framed, leaf_of_relaxation
from tests.optimise.test_residue import KINDS, opened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.model import Problem
    from recap.optimise.columns import Column
    from recap.optimise.leaf import Leaf

ENDLESS = 1e18
"""Room that leaves nothing out."""
MANY = 2000


def exact_covers(columns: list[Column], left: frozenset[int]) -> Iterator[tuple[Column, ...]]:
    """Yield every choice of columns that has each group once, whatever else is wrong with it."""
    if not left:
        yield ()
        return
    for column in columns:
        if min(left) in column.groups and left.issuperset(column.groups):
            for rest in exact_covers(columns, left.difference(column.groups)):
                yield (column, *rest)


def may_stand(here: Leaf, chosen: tuple[Column, ...]) -> bool:
    """An offer twice only where two lines of it cost no less than one; of a lot no more than lies there."""
    offers = Counter(column.offer for column in chosen if column.offer >= 0)
    drawn: Counter[int] = Counter()
    for column in chosen:
        if column.drawn:
            drawn[column.lot] += column.drawn
    merged = all(count == 1 or here.frame.columns.mergeable[one] for one, count in offers.items())
    return merged and all(pieces <= here.frame.instance.lots[lot][1] for lot, pieces in drawn.items())


def names(chosen: tuple[Column, ...]) -> tuple[int, ...]:
    return tuple(sorted(map(id, chosen)))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=80, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(st.data())
def test_every_cover_that_may_stand_is_found_once_and_no_other(kind: str, data: st.DataObject) -> None:
    here, _ = opened(data.draw(KINDS[kind]), data)
    columns = [column for column, excess in zip(here.frame.columns.all, here.excesses, strict=True) if excess < NEVER]
    assume(len(columns) <= 40)
    found = covers.find(here, frozenset(), ENDLESS)
    if found is None:  # only where clusters share a lot, or there are more than anybody tries
        assert len({here.frame.clusters.of[column.groups[0]] for column in columns if column.drawn}) > 1
        return
    for members, each in zip(here.frame.clusters.members, found, strict=True):
        own = [column for column in columns if column.groups and set(column.groups) <= set(members)]
        tried = list(exact_covers(own, frozenset(members)))
        assume(len(tried) <= MANY)
        assert sorted(names(cover.others) for cover in each) == sorted(
            names(chosen) for chosen in tried if may_stand(here, chosen)
        )


def opened_leaf(asked: Problem) -> Leaf:
    frame = framed(asked)
    tiers = dict.fromkeys(range(len(frame.instance.suppliers)), 0)
    found = leaf_of_relaxation(frame, Relaxation(frame.instance, frame.columns), tiers)
    assert found is not None
    assert found[1] is not None
    return found[1]


@pytest.mark.parametrize(("stock", "covered"), [(None, [[0, 0]]), (3, [[0, 1], [0, 2], [1, 2]])])
def test_one_offer_for_two_groups_stands_on_two_lines_where_its_stock_is_for_both(
    stock: int | None, covered: list[list[int]]
) -> None:
    """Two and two at 0.10, which cost no more joined; of three in stock both can't be had, and a dearer part helps."""
    here = opened_leaf(
        problem(
            {"g": 2, "h": 2},
            [offer("A", "p", "1:0.10", stock=stock), offer("A", "q", "1:0.30"), offer("A", "r", "1:0.40")],
            {"g": "p q", "h": "p r"},
            [terms("A", "0:1")],
        )
    )
    found = covers.find(here, frozenset(), ENDLESS)
    assert found is not None
    assert sorted(sorted(column.offer for column in cover.others) for each in found for cover in each) == covered


@pytest.mark.parametrize(("suits_h", "together"), [("r p", True), ("r", False)])
def test_clusters_that_share_a_lot_are_not_covered_apart(suits_h: str, together: bool) -> None:
    """Four lie in the drawer that no shop sells, for g or for h: who takes them is settled together, or not here."""
    shared = problem(
        {"g": 3, "h": 3},
        [offer("A", "q", "1:0.10"), offer("A", "r", "1:0.20")],
        {"g": "q p", "h": suits_h},
        [terms("A", "0:1")],
        drawer=[lying("p", 4)],
    )
    found = covers.find(opened_leaf(shared), frozenset(), ENDLESS)
    assert (found is None) == together
    if found is not None:
        assert sorted(len(each) for each in found) == [1, 2]
