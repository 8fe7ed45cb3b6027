"""Several parcels counted piece by piece: the same as the program says, as trying everything, and worked by hand."""

from __future__ import annotations

import random
import time
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recap.model import Problem, Status
from recap.optimise import parcels, sums
from recap.optimise.covers import NOTHING, Way
from recap.optimise.relaxation import Relaxation
from recap.optimise.solve import solve
from tests.optimise.problems import offer, problem, terms
from tests.optimise.test_leaf_bounds import framed, leaf_of_relaxation
from tests.optimise.test_residue import KINDS, opened
from tests.optimise.test_sums import as_the_program_says
from tests.optimise.test_sums import puzzle as one_shop


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])
@given(st.data())
def test_every_way_near_enough_comes_to_what_the_program_says(kind: str, data: st.DataObject) -> None:
    asked = data.draw(KINDS[kind])
    here, _ = opened(asked, data)
    assume(here.tiers)
    most = int(here.bound + here.highest + data.draw(st.sampled_from([0, 10**9, 10**13]))) + 1
    answer = parcels.cheapest(here, here.bound, most)
    assume(answer is not True)
    as_the_program_says(here, frozenset(here.tiers), most, answer)


NUMBERS = st.builds(int.__mul__, st.integers(0, 30), st.sampled_from([1, 10, 100]))
WAYS = st.builds(Way, st.none(), st.integers(0, 40), NUMBERS, NUMBERS, st.integers(0, 3))
CHOICES = st.lists(st.one_of(st.lists(WAYS, min_size=1, max_size=3), WAYS.map(lambda way: [NOTHING, way])), max_size=4)


@settings(max_examples=300)
@given(CHOICES, st.integers(0, 900), st.integers(1, 3), st.integers(0, 4000))
def test_a_parcel_costs_what_trying_everything_says(
    listed: list[list[Way]], least: int, goods_cost: int, most: int
) -> None:
    choices = [tuple(each) for each in listed]
    counts = [[(way, count) for way in choice for count in range(way.count + 1)] for choice in choices]
    costs = []
    for taken in product(*counts):
        goods = sum(way.goods + count * way.more for way, count in taken)
        if goods >= least:
            costs.append(goods_cost * goods + sum(way.level for way, _ in taken))
    cheapest = min(costs, default=most + 1)
    found = sums.parcel(choices, least, goods_cost, most)
    if cheapest > most:
        assert found is None
        return
    assert found is not None
    cost, ways = found
    assert cost == cheapest
    goods = sum(way.goods + count * way.more for way, count in ways)
    assert goods >= least
    assert cost == goods_cost * goods + sum(way.level for way, _ in ways)


def test_by_hand() -> None:
    """A: two at 0.70 and one at 0.15, minimum 3.00; B: one at 0.45 and one at 0.11, minimum 2.00; each at one shop.

    14 n + 3 m = 60 with three and six, and 45 n + 11 m = 200 with two and ten: both minimums are met to the cent.
    """
    asked = problem(
        {"g": 2, "h": 1, "i": 1, "j": 1},
        [offer("A", "p", "1:0.70"), offer("A", "q", "1:0.15"), offer("B", "r", "1:0.45"), offer("B", "s", "1:0.11")],
        {"g": "p", "h": "q", "i": "r", "j": "s"},
        [replace(terms("A", "0:1"), minimum=Decimal(3)), replace(terms("B", "0:2"), minimum=Decimal(2))],
    )
    found = solve(asked)
    assert found.order is not None
    assert found.order.total == 3 + 2 + 1 + 2


def puzzle(seed: int) -> Problem:
    """Twelve groups, some at one shop, some at the other, some at both; minimum orders near what each would get."""
    chance = random.Random(seed)
    prices = {
        f"{shop}{i}": f"1:{chance.randrange(60_000, 900_000) / 10 ** chance.choice([6, 6, 5]):.6f}"
        for shop in "pq"
        for i in range(12)
    }
    needs = {f"g{i}": 1 + i % 4 for i in range(12)}
    usual = sum((Decimal(prices[f"p{i}"][2:]) * needs[f"g{i}"] for i in range(12)), Decimal(0))
    least = (usual * Decimal("0.6")).quantize(Decimal("0.0001"))
    return problem(
        needs,
        [offer("A" if number[0] == "p" else "B", number, price) for number, price in prices.items()],
        {f"g{i}": f"p{i}" if i < 3 else f"q{i}" if i < 6 else f"p{i} q{i}" for i in range(12)},
        [
            replace(terms("A", "0:9"), minimum=least, duty_percent=Decimal("2.7")),
            replace(terms("B", "0:8"), minimum=least, tax_percent=Decimal("8.1")),
        ],
    )


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_two_parcels_whose_thresholds_no_sum_meets_are_proven_soon(seed: int) -> None:
    began = time.process_time()
    found = solve(puzzle(seed), time_limit=60)
    assert found.status is Status.OPTIMAL
    assert time.process_time() - began < 20


def late() -> None:
    """Stand for a search whose time is up."""
    raise TimeoutError


@pytest.mark.parametrize("asked", [one_shop(), puzzle(1)], ids=["one parcel", "two"])
def test_counting_ends_when_the_time_is_up_or_it_takes_too_much(asked: Problem) -> None:
    frame = framed(asked)
    tiers = dict.fromkeys(range(len(frame.instance.suppliers)), 0)
    found = leaf_of_relaxation(frame, Relaxation(frame.instance, frame.columns), tiers)
    assert found is not None
    here = found[1]
    assert here is not None
    every = frozenset(tiers)
    with pytest.raises(TimeoutError):
        parcels.counted(here, every, here.bound, None, sums.Effort(1.0, late))
    assert parcels.counted(here, every, here.bound, None, sums.Effort(0.0)) is True
    assert not isinstance(parcels.counted(here, every, here.bound, None), bool)
