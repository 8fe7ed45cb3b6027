"""The linear relaxation is asked many times with terms fixed: each answer is its own, and what it promises is kept.

A promise of more than is kept would drop the cheapest order unseen.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import pytest

from recap.optimise import columns, instance, relaxation
from recap.optimise.relaxation import Point, Relaxation
from tests.bench.instances import random_order
from tests.optimise.problems import offer, problem, terms

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.optimise.columns import Columns
    from recap.optimise.instance import Instance

WHOLE, NEAR = 1e-6, 1e-6
SEEDS = range(4)


@cache
def workshop(seed: int) -> tuple[Instance, Columns]:
    """Ten groups, five suppliers, thresholds near what each would get; at most two of them."""
    built = instance.build(replace(random_order(10, 5, 60, seed, hard=True), max_suppliers=2))
    return built, columns.build(built)


def relaxed(seed: int) -> Relaxation:
    return Relaxation(*workshop(seed))


def terms_at_random(asked: Relaxation, seed: int, times: int = 12) -> Iterator[dict[int, int]]:
    """Yield terms to fix: none, then some suppliers used or not."""
    chance = random.Random(seed)
    yield {}
    for _ in range(times):
        yield {place: chance.randrange(2) for place in asked.used.values() if chance.random() < 0.5}


@pytest.mark.parametrize("seed", SEEDS)
def test_links_that_come_late_bind_as_if_they_had_been_there(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    late = relaxed(seed)
    monkeypatch.setattr(relaxation, "LIKELY", 99)
    whole = relaxed(seed)
    built, listed = workshop(seed)
    before, torn = None, 0
    for fixed in terms_at_random(late, seed):
        point, expected = late.solve(fixed, before), whole.solve(fixed, None)
        assert (point is None) == (expected is None)
        if point is None or expected is None:
            continue
        before = point.basis
        assert point.value == pytest.approx(expected.value)
        assert all(point.terms[place] == pytest.approx(side, abs=WHOLE) for place, side in fixed.items())
        assert sum(point.terms[place] for place in late.used.values()) <= built.problem.max_suppliers + WHOLE
        chosen = list(zip(point.chosen.tolist(), listed.all, strict=True))
        for s, place in late.used.items():
            assert sum(point.terms[tier] for (t, _), tier in late.tier.items() if t == s) == pytest.approx(
                point.terms[place], abs=WHOLE
            )
            for g in built.groups:
                served = sum(x for x, column in chosen if column.supplier == s and g in column.groups)
                assert served <= point.terms[place] + 2 * WHOLE
                torn += served > 0.5
    assert torn


def test_an_offer_whose_stock_is_short_of_both_groups_serves_one_in_all() -> None:
    asked = problem(
        {"g": 2, "h": 2},
        [offer("A", "p", "1:0.10", stock=3), offer("A", "q", "1:0.90")],
        {"g": "p q", "h": "p q"},
        [terms("A")],
    )
    built = instance.build(asked)
    listed = columns.build(built)
    point = Relaxation(built, listed).solve({}, None)
    assert point is not None
    taken = [x for x, column in zip(point.chosen.tolist(), listed.all, strict=True) if listed.lone(column) == 0]
    assert sum(taken) == pytest.approx(1)
    assert point.single[0] > 0


@pytest.mark.parametrize("seed", SEEDS)
def test_turning_a_term_over_costs_at_least_what_was_promised(seed: int) -> None:
    asked = relaxed(seed)
    promised = []
    for fixed in terms_at_random(asked, seed, 5):
        point = asked.solve(fixed, None)
        if point is None:
            continue
        for place, value in point.terms.items():
            if place in fixed or abs(value - round(value)) > WHOLE:
                continue
            promised.append(point.turning[place])
            turned = asked.solve({**fixed, place: 1 - round(value)}, None)
            assert turned is None or turned.value >= point.value + promised[-1] - NEAR * point.value
    assert min(promised) >= 0
    assert max(promised) > 1


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_asked_up_to_a_value_is_found_up_to_it(seed: int) -> None:
    asked = relaxed(seed)
    point = asked.solve({}, None)
    assert isinstance(point, Point)
    again = asked.solve({}, None, beyond=point.value * 1.001)
    assert again is not None
    assert again.value == pytest.approx(point.value)
    assert relaxed(seed).solve({}, None, beyond=point.value * 0.5) is None
