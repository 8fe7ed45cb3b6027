"""The search ends, whatever rounding does to its bounds, and no bound it tells of is above the true least total."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.model import Problem, Status
from recap.optimise import verify
from recap.optimise.solve import solve
from tests.bench.instances import random_order
from tests.optimise.oracle import best
from tests.optimise.problems import lying, offer, problem, sharing_problems, small_problems, terms

ENOUGH = 20.0
"""Seconds; each of these orders takes a small part of one."""


@pytest.mark.parametrize("seed", [13, 18, 20])
def test_a_child_rounded_below_its_parent_does_not_keep_the_parents_turn_from_ending(seed: int) -> None:
    outcome = solve(random_order(3, 2, 8, seed, hard=True), time_limit=ENOUGH)
    assert outcome.status is Status.OPTIMAL


def test_a_bound_of_nothing_does_not_keep_the_search_from_widening() -> None:
    # the drawer has pieces enough, but no two of its lots serve three groups whole: one must be bought
    asked = problem(
        {"a": 2, "b": 2, "c": 2},
        [offer("A", "x", "1:1.00"), offer("A", "y", "1:1.00"), offer("A", "z", "1:1.00")],
        {"a": "m n x", "b": "m n y", "c": "m n z"},
        [terms("A")],
        drawer=[lying("m", 3), lying("n", 3)],
    )
    outcome = solve(asked, time_limit=ENOUGH)
    assert outcome.status is Status.OPTIMAL
    assert outcome.order is not None
    assert outcome.order.total == outcome.bound == Decimal(2)


def test_one_line_towards_a_minimum_order_is_no_dearer_than_two_of_less_goods() -> None:
    # apart 4.00 + 4.00 and two fees are 9.60, but the minimum order makes them 11.60; together 10.00 and one fee
    asked = problem(
        {"a": 1, "b": 1},
        [
            offer("A", "p", "1:4.00"),
            offer("A", "q", "1:4.00"),
            offer("A", "both", "1:5.00"),
            offer("B", "r", "1:5.60"),
            offer("B", "s", "1:5.60"),
        ],
        {"a": "p both r", "b": "q both s"},
        [terms("A", minimum="10", line_fee="0.80"), terms("B")],
    )
    outcome = solve(asked)
    assert outcome.order is not None
    assert outcome.order.total == outcome.bound == Decimal("10.80")


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.one_of(small_problems(), small_problems(rising=True), small_problems(coarse=True), sharing_problems()),
    st.sampled_from([0.003, 0.01, 0.03, 0.1]),
)
def test_a_bound_is_never_above_the_least_total_wherever_the_time_ends(asked: Problem, seconds: float) -> None:
    told: list[Decimal] = []
    outcome = solve(asked, time_limit=seconds, progress=lambda _, bound, __: told.append(bound))
    expected = best(asked)
    if expected is None:
        assert outcome.status is not Status.OPTIMAL
        return
    assert outcome.status is not Status.IMPOSSIBLE
    assert outcome.bound is not None
    assert all(Fraction(bound) <= expected[0] for bound in [*told, outcome.bound])
    if outcome.order is not None:
        assert verify.faults(asked, outcome.order) == []
        assert Fraction(outcome.order.total) >= expected[0]


def test_a_bound_told_while_one_program_is_solved_leaves_room_for_what_waits() -> None:
    # only one supplier may be used: A's parts cost 2.00 and are looked at first, B's cost 1.20
    asked = problem(
        {"g": 1, "h": 1},
        [offer("A", "p", "1:1"), offer("A", "q", "1:1"), offer("B", "p", "1:0.6")],
        {"g": "p q", "h": "p q"},
        [terms("A"), terms("B")],
        drawer=[lying("p", 1)],
    )
    asked = replace(
        asked,
        needs=tuple(replace(need, spares=1) if need.group == "h" else need for need in asked.needs),
        one_part_per_group=False,
        max_suppliers=1,
    )
    told: list[Decimal] = []
    outcome = solve(asked, progress=lambda _, bound, __: told.append(bound))
    assert outcome.order is not None
    assert outcome.order.total == Decimal("1.2")
    assert max(told) <= Decimal("1.2")
