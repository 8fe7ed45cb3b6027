"""A cluster's cheapest partition and every column's excess, against trying all partitions.

Dearer than the truth, and the cheapest order might be dropped; an offer that can't be merged counts once at most.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.optimise import clusters
from recap.optimise.clusters import NEVER, Clusters, Parted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.optimise.clusters import Valued

NEAR = 1e-6


@st.composite
def columns_of_one(draw: st.DrawFn) -> tuple[int, list[Valued]]:
    """Two to four groups; columns by value, groups as bits, and the offer where it can't be merged."""
    size = draw(st.integers(2, 4))
    lone = st.sampled_from([-1, -1, 3, 5, 8])
    column = st.tuples(st.integers(1, 30).map(float), st.integers(1, (1 << size) - 1), lone)
    return size, draw(st.lists(column, min_size=2, max_size=9))


def partitions(size: int, given_columns: list[Valued]) -> Iterator[tuple[float, tuple[int, ...]]]:
    """Yield the value and the columns of every partition in which each lone offer is at most once."""

    def further(left: int, lone: frozenset[int]) -> Iterator[tuple[float, tuple[int, ...]]]:
        if not left:
            yield 0.0, ()
            return
        for i, (value, mask, offer) in enumerate(given_columns):
            if mask & left & -left and not mask & ~left and offer not in lone:
                for rest, others in further(left ^ mask, lone | ({offer} - {-1})):
                    yield value + rest, (i, *others)

    return further((1 << size) - 1, frozenset())


def priced(size: int, columns: list[Valued]) -> clusters.Prices | None:
    whole = Clusters((0,) * size, tuple(range(size)), (tuple(range(size)),))
    values, masks, lone = (tuple(each) for each in zip(*columns, strict=True))
    rows = np.arange(len(columns))
    parted = Parted((rows,), (masks,), (lone,), np.zeros(len(columns), dtype=np.int64))
    return clusters.price_of(whole, parted, 0, np.array(values))


@settings(max_examples=150)
@given(columns_of_one())
def test_a_small_cluster_is_weighed_outright(asked: tuple[int, list[Valued]]) -> None:
    size, columns = asked
    every = list(partitions(size, columns))
    price = priced(size, columns)
    if price is None:
        assert not every
        return
    assume(every)  # where a lone offer is indispensable twice, the cheapest may be of no order: a bound all the same
    least = min(value for value, _ in every)
    assert price.cheapest == pytest.approx(least)
    values, masks, lone = (tuple(each) for each in zip(*columns, strict=True))
    excesses = price.excesses(np.array(values), masks, lone)
    for i, excess in enumerate(excesses.tolist()):
        with_it = min((value for value, chosen in every if i in chosen), default=NEVER)
        assert excess <= with_it - least + NEAR
        assert price.excess(values[i], masks[i]) <= with_it - least + NEAR
        assert excess >= -NEAR
    best = min(every)[1]
    assert all(excesses[i] == pytest.approx(0) for i in best)


@settings(max_examples=100)
@given(columns_of_one())
def test_a_large_cluster_has_a_bound_that_no_partition_is_below(asked: tuple[int, list[Valued]]) -> None:
    size, columns = asked
    every = list(partitions(size, columns))
    before, clusters.LARGEST = clusters.LARGEST, 1
    try:
        price = priced(size, columns)
    finally:
        clusters.LARGEST = before
    if price is None:
        assert not every
        return
    assert price.rest is None
    assert price.cheapest == pytest.approx(sum(price.duals))
    for value, chosen in every:
        assert price.cheapest <= value + NEAR
        for i in chosen:
            assert price.cheapest + price.excess(*columns[i][:2]) <= value + NEAR
    assert all(price.excess(*column[:2]) >= -NEAR for column in columns)


def test_an_offer_short_of_stock_is_not_taken_twice() -> None:
    columns = [(1.0, 0b01, 7), (1.0, 0b10, 7), (4.0, 0b01, -1), (6.0, 0b10, -1), (9.0, 0b11, -1)]
    price = priced(2, columns)
    assert price is not None
    assert price.cheapest == 5  # one of the offer's two for 1, the other group from another offer for 4
    values, masks, lone = (tuple(each) for each in zip(*columns, strict=True))
    assert price.excesses(np.array(values), masks, lone).tolist() == [2, 0, 0, 2, 4]
    assert price.rivals == (7,)


def test_a_torn_cluster_is_lifted_to_what_it_costs_whole() -> None:
    columns = [(1.0, 0b01, 7), (1.0, 0b10, 7), (4.0, 0b01, -1), (6.0, 0b10, -1)]
    values = np.array([value for value, _, _ in columns])
    parted = Parted(
        (np.arange(4),),
        (tuple(mask for _, mask, _ in columns),),
        (tuple(offer for _, _, offer in columns),),
        np.zeros(4, dtype=np.int64),
    )
    whole = Clusters((0, 0), (0, 1), ((0, 1),))
    halves = np.array([0.5, 0.5, 0.5, 0.5])  # costs 6 in halves, whole 5: nothing to lift; taken twice it costs 2
    assert clusters.lifts(whole, parted, [0], halves, values).tolist() == [0]
    assert clusters.lifts(whole, parted, [0], np.array([1.0, 1.0, 0.0, 0.0]), values).tolist() == [3]
    assert clusters.lifts(whole, parted, [], np.array([1.0, 1.0, 0.0, 0.0]), values).tolist() == [0]
