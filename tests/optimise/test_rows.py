"""Rows of whole numbers too large for a solver's floating point: split into digits they say the same, exactly."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any

import pulp
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from recap.optimise.rows import BASE, at_least_zero

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

BOX = (-2, 3)
"""What each variable may be."""
LARGE = st.integers(-(10**20), 10**20) | st.integers(-3 * BASE, 3 * BASE) | st.sampled_from([BASE, -BASE, BASE // 2])


class Rows(pulp.LpProblem):
    """A program that keeps its rows in a list."""

    def __init__(self) -> None:
        super().__init__("rows")
        self.rows: list[Any] = []

    def addConstraint(self, constraint: Any, *rest: Any) -> None:
        self.rows.append(constraint)
        super().addConstraint(constraint, *rest)


def rows_of(coefficients: Sequence[int]) -> Rows:
    made = Rows()
    variables = [made.add_variable(f"x{i}", *BOX, pulp.LpInteger) for i in range(len(coefficients))]
    at_least_zero(made, list(zip(coefficients, variables, strict=True)), "row")
    return made


def holds(made: Rows, values: Mapping[str, int]) -> bool:
    """Tell whether whole carries within their bounds can be found so that every row holds.

    Each stands with its digits in the row ``…|low``, which says how small it may be, and with a minus in
    ``…|high``: the smallest is the best.
    """
    known = dict(values)
    carries = [x for x in made.variables() if x.name not in known]
    while carries:
        for carry in carries:
            rows = [row for row in made.rows if row.get(carry, 0) > 0]
            assert len(rows) == 1, "one row bounds a carry from below"
            (row,) = rows
            if all(x.name in known for x in row if x is not carry):
                rest = sum(int(c) * known[x.name] for x, c in row.items() if x is not carry) + int(row.constant)
                known[carry.name] = max(int(carry.lowBound), -(rest // int(row[carry])))
                if known[carry.name] > carry.upBound:
                    return False
        carries = [x for x in carries if x.name not in known]
    return all(sum(int(c) * known[x.name] for x, c in row.items()) + row.constant >= 0 for row in made.rows)


@given(st.lists(LARGE, min_size=1, max_size=3))
@example([BASE, -BASE + 1])
@example([10**14 + 1, -(10**14)])
@settings(max_examples=60, deadline=None)
def test_split_into_digits_a_row_holds_for_just_the_same_numbers(coefficients: list[int]) -> None:
    made = rows_of(coefficients)
    for values in product(range(BOX[0], BOX[1] + 1), repeat=len(coefficients)):
        truth = sum(c * v for c, v in zip(coefficients, values, strict=True)) >= 0
        assert holds(made, {f"x{i}": v for i, v in enumerate(values)}) == truth, (coefficients, values)


@given(st.lists(LARGE, min_size=1, max_size=3))
@settings(max_examples=60, deadline=None)
def test_no_row_has_a_coefficient_that_a_solver_could_miss(coefficients: list[int]) -> None:
    """A miss of 1e-7, as is usual, stays below 1 where every coefficient is below the base."""
    assert all(abs(c) <= BASE for row in rows_of(coefficients).rows for c in row.values())


@pytest.mark.parametrize("coefficients", [[], [0, 0]])
def test_nothing_at_all_is_not_negative(coefficients: list[int]) -> None:
    assert holds(rows_of(coefficients), {f"x{i}": -2 for i in range(len(coefficients))})
