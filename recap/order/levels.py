"""Suppliers whose prices lie far from all others': a decimal point, a pack or a rate of exchange went wrong.

A spreadsheet set to another language opens ``0.096`` as 96, and nothing in the file tells any more. What other
suppliers ask for the same does.
"""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, Source, warning

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from decimal import Decimal

    from recap.model import Part, Problem

TIMES: Final = 30
"""So many times dearer or cheaper than others, for the same needs, no shop is (common practice)."""
GROUPS: Final = 3
"""Fewer groups that others offer too tell nothing."""


def out_of_scale(problem: Problem) -> list[Diagnostic]:
    """Warn of each supplier that asks ``TIMES`` as much as the others for the same groups, or as little.

    Of two that differ so, the dearer one is named: which is wrong can't be told.
    """
    ratios: dict[str, list[Decimal]] = {}
    others: dict[str, set[str]] = {}
    for cheapest in _cheapest(problem):
        for supplier, price in cheapest.items():
            rest = {name: other for name, other in cheapest.items() if name != supplier}
            if rest:
                ratios.setdefault(supplier, []).append(price / median(rest.values()))
                others.setdefault(supplier, set()).update(rest)
    found = []
    for supplier, times in ratios.items():
        level = median(times)
        dear = level >= TIMES
        if len(times) >= GROUPS and (dear or (level * TIMES <= 1 and len(others[supplier]) > 1)):
            found.append(_told(supplier, level if dear else 1 / level, len(times), problem, dear=dear))
    return found


def _cheapest(problem: Problem) -> Iterator[Mapping[str, Decimal]]:
    """Yield for each group what one piece costs at each supplier at least, in the bench's currency."""
    for rows in problem.suits.values():
        prices: dict[str, Decimal] = {}
        for part in (problem.offers[row] for row in rows):
            price = part.prices[0].unit_price * problem.suppliers[part.supplier].rate
            if price > 0:
                prices[part.supplier] = min(price, prices.get(part.supplier, price))
        if len(prices) > 1:
            yield prices


def _told(supplier: str, level: Decimal, groups: int, problem: Problem, *, dear: bool) -> Diagnostic:
    example: Part = next(part for part in problem.offers if part.supplier == supplier)
    place = Source(example.source.file, column="prices") if example.source else Source(supplier)
    so = "as much as" if dear else "less than"
    message = f"{supplier} asks about {level:.0f} times {so} the others for the same {groups} groups"
    hint = (
        "look at its prices and at rate in suppliers.csv: a spreadsheet set to another language opens 0.096 as 96; "
        "if so, take the file as it came from the shop"
    )
    return warning("price-level", message, place, hint)
