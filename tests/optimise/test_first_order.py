"""Where groups may be split, the cheapest order of one part for each is the one to begin with."""

from __future__ import annotations

import time
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings

from recap.model import Need, Problem, Status
from recap.optimise import instance, rebuild, verify
from recap.optimise.solve import solve
from recap.optimise.solver import UNTIRING, Patience
from recap.optimise.start import first_choice
from tests.optimise.problems import lying, offer, problem, sharing_problems, terms


def split(asked: Problem) -> Problem:
    return replace(asked, one_part_per_group=False)


def test_the_first_order_takes_one_part_and_a_split_one_may_be_cheaper() -> None:
    # 12 pieces: a bag of 10 and two single ones cost 2.00 + 0.60; 12 single ones 3.60, two bags 4.00
    asked = split(
        problem({"g": 12}, [offer("A", "single", "1:0.30"), offer("A", "bag", "10:0.20", multiple=10)],
                {"g": "single bag"}, [terms("A")])
    )  # fmt: skip
    built = instance.build(asked)
    first = first_choice(built, None)
    assert first is not None
    assert rebuild.order_of(built, first).total == Decimal("3.60")
    outcome = solve(asked)
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.OPTIMAL, Decimal("2.60"))


def test_an_order_that_only_splitting_makes_possible_is_found_without_a_first_one() -> None:
    asked = split(
        problem({"g": 12}, [offer("A", "p", "1:0.30", stock=8), offer("B", "q", "1:0.40", stock=8)],
                {"g": "p q"}, [terms("A"), terms("B")])
    )  # fmt: skip
    assert first_choice(instance.build(asked), None) is None
    outcome = solve(asked)
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.OPTIMAL, Decimal("4.00"))


@settings(max_examples=30)
@given(sharing_problems())
def test_the_first_order_is_legal_with_spares_that_are_shared_and_pieces_in_the_drawer(asked: Problem) -> None:
    for each in (asked, split(asked)):
        built = instance.build(each)
        first = first_choice(built, None)
        assert first is None or verify.faults(each, rebuild.order_of(built, first)) == []


def test_spares_are_not_put_to_use() -> None:
    asked = problem({"g": 2}, [offer("A", "p", "1:0.30")], {"g": "p"}, [terms("A")], drawer=[lying("p", 1)])
    asked = split(replace(asked, needs=(Need("g", 2, spares=3),), drawer_suits={"g": (0,)}))
    first = first_choice(instance.build(asked), None)
    assert first is not None
    assert (first.bought, sum(first.uses.values()) + sum(first.taken.values())) == ({0: 4}, 2)


def test_a_later_tier_that_charges_more_is_paid_where_groups_may_be_split() -> None:
    # all at A: 12.00 of goods ship for 9.00, 21.00; all at B: 15.00; four at A stay below the tier: 8.00 + 1.00 + 5.00
    asked = split(
        problem({"g": 6}, [offer("A", "p", "1:2.00"), offer("B", "p", "1:2.50")], {"g": "p"},
                [terms("A", "0:1.00 10:9.00"), terms("B")])
    )  # fmt: skip
    outcome = solve(asked)
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.OPTIMAL, Decimal("14.00"))


def test_the_last_hair_is_not_waited_for() -> None:
    """Ten seconds where nothing is known or much is to be gained, one within a cent of the bound; then none."""
    now = time.monotonic()
    patience = Patience(now + 10, hair=0.01, brief=now + 1)
    assert 9 < (patience.seconds() or 0) <= 10
    assert 9 < (patience.seconds(best=5.0, bound=4.5) or 0) <= 10
    assert 0 < (patience.seconds(best=5.0, bound=4.995) or 0) <= 1
    assert UNTIRING.seconds(best=5.0, bound=5.0) is None
    with pytest.raises(TimeoutError):
        Patience(None, hair=0.01, brief=now - 1).seconds(best=5.0, bound=4.995)
    assert Patience(None, hair=0.01, brief=now - 1).seconds(best=5.0, bound=4.5) is None
