"""The entrance to the optimiser: what it says where there is nothing to buy, of bounds, of progress and of time."""

from __future__ import annotations

import time
from decimal import Decimal

import pytest

from recap.model import Status
from recap.optimise import columns, search, solve, ties
from recap.optimise import instance as instances
from recap.optimise.residue import FINE
from tests.optimise.problems import offer, problem, terms

EVERY_WAY = pytest.mark.parametrize(("one_part", "solver"), [(True, "highs"), (False, "highs"), (True, "cbc")])


@EVERY_WAY
def test_nothing_needed_is_an_order_of_nothing(one_part: bool, solver: str) -> None:
    for needs in ({}, {"g": 0}):
        asked = problem(needs, [offer("A", "p", "1:1.00")], {"g": ""}, [terms("A", "0:5")], one_part=one_part)
        outcome = solve.solve(asked, solver=solver)
        assert outcome.order is not None
        assert (outcome.status, outcome.bound, outcome.order.suppliers) == (Status.OPTIMAL, 0, ())


@EVERY_WAY
def test_a_group_of_no_pieces_asks_for_no_part(one_part: bool, solver: str) -> None:
    asked = problem(
        {"g": 0, "h": 2}, [offer("A", "p", "1:1.50")], {"g": "", "h": "p"}, [terms("A", "0:4")], one_part=one_part
    )
    outcome = solve.solve(asked, solver=solver)
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.OPTIMAL, Decimal(7))


@EVERY_WAY
def test_a_group_that_nothing_suits_makes_it_impossible(one_part: bool, solver: str) -> None:
    asked = problem(
        {"g": 1, "h": 2}, [offer("A", "p", "1:1.50")], {"g": "", "h": "p"}, [terms("A")], one_part=one_part
    )
    assert solve.solve(asked, solver=solver).status is Status.IMPOSSIBLE


@pytest.mark.parametrize("bound", [1e6, 123456789012345.0, 9e15])
def test_a_bound_is_told_a_little_lower_than_it_was_counted(bound: float) -> None:
    """What is claimed must be true whatever the last digits of floating point are."""
    assert bound * (1 - 2 * FINE) - 1 <= solve.surely(bound) < bound


def test_no_bound_is_below_nothing() -> None:
    assert solve.surely(-3.5) == 0
    assert solve.surely(0.0) == 0


@pytest.mark.parametrize(
    ("best", "bound", "told"),
    [
        (None, 0.0, (None, Decimal(0), 1.0)),
        (None, -7.0, (None, Decimal(0), 1.0)),
        (0, 0.0, (Decimal(0), Decimal(0), 1.0)),
        (800, 600.0, (Decimal(8), Decimal("5.99"), 0.25125)),
    ],
)
def test_progress_tells_best_bound_and_gap(
    best: float | None, bound: float, told: tuple[Decimal | None, Decimal, float]
) -> None:
    asked = problem({"g": 1}, [offer("A", "p", "1:1.01")], {"g": "p"}, [terms("A")])
    seen: list[tuple[Decimal | None, Decimal, float]] = []
    solve._tell(instances.build(asked), lambda *words: seen.append(words), best, bound)
    assert seen == [told]


def test_preferences_are_looked_into_half_as_long_again_as_the_total_took() -> None:
    now = time.monotonic()
    assert solve._until(now - 6, None) == pytest.approx(now + 3, abs=1)
    assert solve._until(now - 60, None) == pytest.approx(now + solve.MOST_SECONDS, abs=1)
    assert solve._until(now, None) == pytest.approx(now + solve.LEAST_SECONDS, abs=0.5)
    assert solve._until(now - 20, now + 3) == now + 3


def test_without_time_preferences_are_left_open_and_the_total_stays() -> None:
    asked = problem(
        {"g": 1, "h": 1},
        [offer("A", "low", "1:1.50"), offer("A", "high", "1:1.50"), offer("A", "both", "1:1.50")],
        {"g": "low both", "h": "high both"},
        [terms("A", "0:4.90")],
    )
    instance = instances.build(asked)
    state = search.search(instance, columns.build(instance), told=lambda *_: None)
    assert state.choice is not None
    late = ties.settle_columns(state, time.monotonic() - 10)
    assert not late.all
    in_time = ties.settle_columns(state, time.monotonic() + 60)
    assert in_time.all
    assert len(in_time.choice.bought) <= len(late.choice.bought)
