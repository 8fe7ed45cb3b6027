"""Stopped before the proof: the best order so far, legal and priced right, with a bound below it."""

from __future__ import annotations

import _thread
import signal
import threading
from dataclasses import replace
from decimal import Decimal

import pytest

from recap.model import Outcome, Problem, Status
from recap.optimise import verify
from recap.optimise.solve import Progress, solve
from tests.bench.instances import random_order
from tests.optimise.problems import offer, problem, terms

LARGE = random_order(300, 12, 4000, seed=1)
"""Some two minutes to the proof."""


def is_honest(asked: Problem, outcome: Outcome) -> None:
    assert outcome.status is Status.FEASIBLE
    assert outcome.order is not None
    assert verify.faults(asked, outcome.order) == []
    assert outcome.bound is not None
    assert 0 <= outcome.bound < outcome.order.total  # 0: a slow machine may know no better one by then


def stopped(asked: Problem, progress: Progress | None = None) -> tuple[Outcome, float]:
    """Solve with ever longer limits until there is an order, so that a slow machine gets there too."""
    limit = 2.0
    while (outcome := solve(asked, time_limit=limit, progress=progress)).order is None:
        limit *= 2
    return outcome, limit


def test_the_time_limit_keeps_the_best_so_far_and_its_bound() -> None:
    seen: list[tuple[Decimal | None, Decimal, float]] = []
    outcome, limit = stopped(LARGE, progress=lambda *told: seen.append(told))
    is_honest(LARGE, outcome)
    assert outcome.seconds < 3 * limit + 30
    assert seen
    assert all(best is None or bound <= best for best, bound, _ in seen)


def test_ctrl_c_keeps_the_best_so_far_and_its_bound() -> None:
    # the signal comes once there is an order to keep
    called = threading.Event()

    def stop(best: Decimal | None, bound: Decimal, gap: float) -> None:
        if best is not None and bound < best and gap > 0 and not called.is_set():
            called.set()
            _thread.interrupt_main()

    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # as at the command line
    try:
        is_honest(LARGE, solve(LARGE, progress=stop, time_limit=60))
    finally:
        signal.signal(signal.SIGINT, before)
    assert called.is_set()


def test_where_groups_may_be_split_the_time_limit_holds_too() -> None:
    asked = random_order(80, 8, 1000, seed=0, one_part=False)
    outcome = solve(asked, time_limit=3)
    assert outcome.seconds < 60
    if outcome.order is not None:  # a slow machine has none by then
        is_honest(asked, outcome)


def test_no_time_at_all_is_no_order_and_no_claim() -> None:
    outcome = solve(LARGE, time_limit=0)
    assert (outcome.status, outcome.order, outcome.bound) == (Status.FEASIBLE, None, Decimal(0))


@pytest.mark.parametrize("one_part", [True, False])
def test_any_order_ends_with_the_first_one_and_says_so(one_part: bool) -> None:
    asked = random_order(40, 6, 500, 1, one_part=one_part)
    first, cheapest = solve(asked, any_order=True), solve(asked, prefer=False, time_limit=20)
    assert first.order is not None
    assert cheapest.order is not None
    assert first.bound is not None
    assert first.bound <= cheapest.order.total <= first.order.total
    assert first.status is (Status.OPTIMAL if first.bound == first.order.total else Status.FEASIBLE)


def test_any_order_of_what_has_none_is_told_impossible() -> None:
    apart = problem(
        {"a": 1, "b": 1},
        [offer("north", "A1", "1:1.00"), offer("south", "B1", "1:2.00")],
        {"a": "A1", "b": "B1"},
        [terms("north"), terms("south")],
        max_suppliers=1,
    )
    assert solve(apart, any_order=True).status is Status.IMPOSSIBLE
    assert solve(replace(apart, max_suppliers=2), any_order=True).order is not None
