"""The order as most would write it first: one quantity a line, price breaks switched by large numbers.

For comparing only: it is the formulation that :mod:`recap.optimise` is measured against.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pulp

from recap import money

if TYPE_CHECKING:
    from recap.model import Part, Problem, SupplierTerms

LARGE = 10_000
"""More pieces, and more money at one supplier, than any of the orders measured has."""


def program(problem: Problem) -> Any:
    """Write the program in PuLP, one part per group, in floating point."""
    lp = pulp.LpProblem("plain", pulp.LpMinimize)
    lines = {i: _line(lp, i, part) for i, part in enumerate(problem.offers)}
    takes = {
        (need.group, i): lp.add_variable(f"takes|{need.group}|{i}", 0, 1, pulp.LpInteger)
        for need in problem.needs
        for i in problem.suits[need.group]
    }
    for need in problem.needs:
        lp.addConstraint(pulp.lpSum(takes[need.group, i] for i in problem.suits[need.group]) == 1)
    wanted: dict[int, list[Any]] = {i: [] for i in lines}
    for need in problem.needs:
        for i in problem.suits[need.group]:
            wanted[i].append(need.pieces * takes[need.group, i])
    for i, (quantity, _, _) in lines.items():
        lp.addConstraint(quantity >= pulp.lpSum(wanted[i]))
    total = []
    for name, terms in problem.suppliers.items():
        own = [i for i, part in enumerate(problem.offers) if part.supplier == name]
        total.append(_parcel(lp, terms, [lines[i] for i in own]))
    lp.setObjective(pulp.lpSum(total))
    return lp


def _line(lp: Any, i: int, part: Part) -> tuple[Any, Any, Any]:
    """Add one line; returns its quantity, its goods value and whether it is bought."""
    count = lp.add_variable(f"multiples|{i}", 0, LARGE, pulp.LpInteger)
    quantity = part.multiple * count
    goods = lp.add_variable(f"goods|{i}", 0, None)
    steps = [lp.add_variable(f"step|{i}|{b}", 0, 1, pulp.LpInteger) for b in range(len(part.prices))]
    bought = pulp.lpSum(steps)
    lp.addConstraint(bought <= 1)
    lp.addConstraint(quantity <= (LARGE if part.stock is None else part.stock) * bought)
    lp.addConstraint(quantity >= money.least_quantity(part) * bought)
    for step, price in zip(steps, part.prices, strict=True):
        lp.addConstraint(quantity >= price.quantity - LARGE * (1 - step))
        lp.addConstraint(goods >= float(price.unit_price) * quantity - LARGE * (1 - step))
    return quantity, goods, bought


def _parcel(lp: Any, terms: SupplierTerms, lines: list[tuple[Any, Any, Any]]) -> Any:
    """Add one supplier; returns what its parcel costs."""
    name = terms.supplier
    used = lp.add_variable(f"used|{name}", 0, 1, pulp.LpInteger)
    tiers = [lp.add_variable(f"tier|{name}|{k}", 0, 1, pulp.LpInteger) for k in range(len(terms.shipping))]
    goods = pulp.lpSum(each for _, each, _ in lines)
    for _, _, bought in lines:
        lp.addConstraint(bought <= used)
    lp.addConstraint(pulp.lpSum(tiers) == used)
    for tier, step in zip(tiers, terms.shipping, strict=True):
        lp.addConstraint(goods >= float(step.goods) * tier)
    lp.addConstraint(goods >= float(terms.minimum) * used)
    charges = pulp.lpSum(float(step.charge) * tier for tier, step in zip(tiers, terms.shipping, strict=True))
    fees = float(terms.handling) * used + float(terms.line_fee) * pulp.lpSum(bought for _, _, bought in lines)
    duty = float(terms.duty_percent) / 100
    return float(terms.rate) * (1 + float(terms.tax_percent) / 100) * (goods * (1 + duty) + charges + fees)
