"""Counting parcels by all their sums is exact to the last unit: what it finds is found with no money to spare.

Checked against every way to buy, tried one after the other, and coin by coin (the change-making problem).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import product
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.optimise import parcels, rebuild, verify
from recap.optimise.relaxation import Relaxation
from tests.optimise.problems import offer, problem, terms
from tests.optimise.test_leaf_bounds import framed, leaf_of_relaxation

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.optimise.leaf import Leaf

QUARTER = Decimal("0.25")
Wanted = tuple[int, int | None, int]
"""Pieces; the price of one at the first shop, if it has the part, and at the other; in quarters."""

ONE = st.tuples(st.integers(1, 3), st.integers(2, 8), st.integers(2, 8)) | st.tuples(
    st.integers(1, 3), st.none(), st.integers(2, 8)
)
WANTED = st.lists(ONE, min_size=2, max_size=4).filter(lambda every: any(own is not None for _, own, _ in every))


def opened(wanted: Sequence[Wanted], minimums: tuple[int, int]) -> Leaf:
    """Both shops buying, each at its minimum or above; postage is 1.00 each."""
    names = [f"g{i}" for i in range(len(wanted))]
    offers, fits = [], {}
    for name, (_, own, other) in zip(names, wanted, strict=True):
        sold = {"A": own, "B": other}
        offers += [offer(shop, f"{shop}{name}", f"1:{price * QUARTER}") for shop, price in sold.items() if price]
        fits[name] = " ".join(f"{shop}{name}" for shop, price in sold.items() if price)
    shops = [replace(terms(name, "0:1"), minimum=least * QUARTER) for name, least in zip("AB", minimums, strict=True)]
    needs = {name: count for name, (count, _, _) in zip(names, wanted, strict=True)}
    frame = framed(problem(needs, offers, fits, shops))
    relaxation = Relaxation(frame.instance, frame.columns)
    found = leaf_of_relaxation(frame, relaxation, {s: len(frame.instance.suppliers[s].tiers) - 1 for s in range(2)})
    assert found is not None
    return found[1]


def by_trying(wanted: Sequence[Wanted], minimums: tuple[int, int]) -> int:
    """Return the least goods of both shops, in quarters, that cover everything and reach the minimums."""
    prices = [[one[1] for one in wanted if one[1] is not None], [one[2] for one in wanted]]
    totals = []
    for shops in product((0, 1), repeat=len(wanted)):
        goods = [0, 0]
        for shop, (count, *costs) in zip(shops, wanted, strict=True):
            price = costs[shop]
            if price is None:
                break
            goods[shop] += count * price
        else:
            totals.append(sum(raised(*each) for each in zip(goods, prices, minimums, strict=True)))
    return min(totals)


def raised(goods: int, coins: Sequence[int], minimum: int) -> int:
    """Return the least from the minimum on that the goods and any number of coins come to."""
    reached = {goods}
    while below := {sum_ + coin for sum_ in reached if sum_ < minimum for coin in coins} - reached:
        reached |= below
    return min(sum_ for sum_ in reached if sum_ >= minimum)


@settings(max_examples=120, deadline=None)
@given(WANTED, st.tuples(st.integers(1, 24), st.just(0) | st.integers(1, 24)))
def test_an_order_is_found_for_just_its_price_and_none_for_a_unit_less(
    wanted: list[Wanted], minimums: tuple[int, int]
) -> None:
    """A bound on what later groups cost that is too high by anything would lose it, and call another one proven."""
    here = opened(wanted, minimums)
    built = here.frame.instance
    total = int((by_trying(wanted, minimums) * QUARTER + 2) / built.unit)
    exact = frozenset(shop for shop in (0, 1) if minimums[shop])
    for most in (total, total + 1, 2 * total):
        answer = parcels.counted(here, exact, here.bound, most)
        assume(answer is not True)  # too much to try, which such small ones hardly are
        assert not isinstance(answer, bool)
        assert answer[0] == total
        assert not verify.faults(built.problem, rebuild.order_of(built, answer[1]))
    for most in (total - 1, total // 2, 0):
        assert parcels.counted(here, exact, here.bound, most) is False


@pytest.mark.parametrize(
    ("minimums", "quarters"),
    [((3, 0), 8), ((8, 0), 8), ((9, 0), 10), ((12, 0), 12), ((5, 5), 11), ((4, 6), 10), ((6, 3), 11)],
)
def test_by_hand(minimums: tuple[int, int], quarters: int) -> None:
    """Two pieces at 0.50 or 0.75, one at 1.00 or 1.25: 2.00 at the first shop, and then what reaches the minimums."""
    assert by_trying([(2, 2, 3), (1, 4, 5)], minimums) == quarters
