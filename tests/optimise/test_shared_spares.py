"""Spares that several groups share, worked by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from recap.model import Need, Problem
from recap.optimise import verify
from recap.optimise.solve import solve
from tests.optimise.problems import lying, offer, problem, terms


def with_spares(asked: Problem, **spares: int) -> Problem:
    return replace(asked, needs=tuple(Need(n.group, n.pieces, spares.get(n.group, 0)) for n in asked.needs))


def bought(asked: Problem) -> dict[str, int]:
    outcome = solve(asked)
    assert outcome.order is not None
    assert verify.faults(asked, outcome.order) == []
    return {line.part.number: line.qty for parcel in outcome.order.suppliers for line in parcel.lines}


TWO = problem(
    {"25 V": 4, "35 V": 4},
    [offer("A", "p25", "1:0.20"), offer("A", "p35", "1:0.30")],
    {"25 V": "p25 p35", "35 V": "p35"},
    [terms("A", "0:4.00")],
)
"""The 35 V part suits both groups, the 25 V part only one."""


def test_one_spare_of_the_part_that_suits_both_serves_both() -> None:
    # apart: 5 x 0.20 + 5 x 0.30 = 2.50; shared: 4 x 0.20 + 5 x 0.30 = 2.30
    assert bought(with_spares(TWO, **{"25 V": 1, "35 V": 1})) == {"p25": 4, "p35": 5}


def test_the_larger_count_decides() -> None:
    # of the three spares that 25 V wants, 35 V wants one: it must be the dearer part, the others needn't
    assert bought(with_spares(TWO, **{"25 V": 3, "35 V": 1})) == {"p25": 6, "p35": 5}


def test_what_stays_in_the_drawer_is_a_spare() -> None:
    asked = replace(TWO, drawer=(lying("p35", 1),), drawer_suits={"25 V": (0,), "35 V": (0,)})
    # to fit it would save 0.30, but then a spare would have to be bought for 0.30: the total is the same
    outcome = solve(with_spares(asked, **{"25 V": 1, "35 V": 1}))
    assert outcome.order is not None
    assert outcome.order.total == Decimal("6.00")


def test_a_spare_short_is_a_fault_that_the_check_names() -> None:
    order = solve(TWO).order
    assert order is not None
    faults = verify.faults(with_spares(TWO, **{"35 V": 1}), order)
    assert faults == ["35 V: 0 pieces left over for 1 spares"]
