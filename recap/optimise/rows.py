"""Rows over whole numbers that hold exactly, though the solver counts in floating point.

A solver lets a row be missed by about 1e-7. Where all coefficients are whole and below
:data:`BASE` that can't turn a miss into a hit: a miss is at least 1. Larger ones (prices with many
decimals against thresholds of hundreds) are split into digits to that base. With c = BASE h + l for each::

    sum c x >= 0   <=>   there is a whole w with   sum h x - w >= 0   and   BASE w + sum l x >= 0

where w needs no more room than sum l x can fill, so all coefficients stay below BASE.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pulp

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.optimise.solver import Program

BASE = 1_000_000

Variable = Any
"""A ``pulp.LpVariable``."""

Row = Any
"""A ``pulp.LpConstraint``."""

Expression = Any
"""A ``pulp.LpAffineExpression``."""

Terms = list[tuple[int, Variable]]
"""Whole coefficients with their variables."""


def total(terms: Sequence[tuple[float, Variable]]) -> Expression:
    """Return the sum of coefficients times variables."""
    return pulp.LpAffineExpression([(x, c) for c, x in terms])


def minus(terms: Terms) -> Terms:
    """Return the terms with their signs turned."""
    return [(-c, x) for c, x in terms]


def at_least_zero(program: Program, terms: Terms, name: str) -> tuple[Row, ...]:
    """Add rows that say: the sum of ``terms`` is not negative. All variables are whole and bounded.

    Returns them from the lowest digits to the topmost.
    """
    terms = [(c, x) for c, x in terms if c]
    if all(abs(c) < BASE for c, _ in terms):
        row = pulp.LpConstraint(total(terms), pulp.LpConstraintGE, name, 0)
        program.addConstraint(row)
        return (row,)
    high: Terms = []
    low: Terms = []
    for c, x in terms:
        h, rest = divmod(c + BASE // 2, BASE)
        high.append((h, x))
        low.append((rest - BASE // 2, x))
    room = sum(abs(c) * max(abs(x.lowBound), abs(x.upBound)) for c, x in low) // BASE + 1
    carry = program.add_variable(f"carry|{name}", -room, room, pulp.LpInteger)
    above = at_least_zero(program, [*high, (-1, carry)], f"{name}|high")
    low = [(c, x) for c, x in low if c]
    row = pulp.LpConstraint(total([(BASE, carry), *low]), pulp.LpConstraintGE, f"{name}|low", 0)
    program.addConstraint(row)
    return (row, *above)
