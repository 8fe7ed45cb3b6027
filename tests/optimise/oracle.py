"""The cheapest order by trying everything: own pricing in fractions, shared with nothing in the package.

Only for tiny problems. Quantities go up to a cap that no cheapest order can need to pass:
all pieces wanted, every break, and what alone reaches the supplier's highest threshold.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.model import Part, Problem, SupplierTerms

Use = tuple[int, int, int]
"""(offer index or -1, drawer lot or -1, pieces)"""


def cheapest(problem: Problem) -> Fraction | None:
    """Return the least total of any legal order, or None where there is none."""
    tables = {name: _Parcels(problem, name) for name in problem.suppliers}
    best: Fraction | None = None
    for required in _requirements(problem):
        wanted: defaultdict[str, dict[int, int]] = defaultdict(dict)
        for offer, pieces in required.items():
            wanted[problem.offers[offer].supplier][offer] = pieces
        if problem.max_suppliers and len(wanted) > problem.max_suppliers:
            continue
        costs = [tables[name].least(each) for name, each in wanted.items()]
        if all(cost is not None for cost in costs):
            total = sum((cost for cost in costs if cost is not None), Fraction(0))
            best = total if best is None else min(best, total)
    return best


def _requirements(problem: Problem) -> Iterator[dict[int, int]]:
    """Yield every way to cover all needs as pieces required per offer."""
    ways = [list(_ways(problem, need.group, need.pieces)) for need in problem.needs]
    seen: set[tuple[tuple[int, int], ...]] = set()
    for combination in itertools.product(*ways):
        pieces: defaultdict[int, int] = defaultdict(int)
        drawn: defaultdict[int, int] = defaultdict(int)
        for offer, lot, count in itertools.chain(*combination):
            if offer >= 0:
                pieces[offer] += count
            else:
                drawn[lot] += count
        if any(count > problem.drawer[lot].qty for lot, count in drawn.items()):
            continue
        key = tuple(sorted(pieces.items()))
        if key not in seen:
            seen.add(key)
            yield dict(pieces)


def _ways(problem: Problem, group: str, need: int) -> Iterator[tuple[Use, ...]]:
    offers = [(o, -1) for o in problem.suits.get(group, ())]
    lots = [(-1, lot) for lot in problem.drawer_suits.get(group, ())]
    for counts in itertools.product(range(need + 1), repeat=len(offers) + len(lots)):
        if sum(counts) != need:
            continue
        way = tuple((*source, count) for source, count in zip(offers + lots, counts, strict=True) if count)
        if problem.one_part_per_group:
            numbers = {problem.offers[o].number if o >= 0 else problem.drawer[lot].part.number for o, lot, _ in way}
            if len(numbers) > 1 or sum(o >= 0 for o, _, _ in way) > 1:
                continue
        yield way


class _Parcels:
    """All parcels one supplier could send, cheapest first."""

    def __init__(self, problem: Problem, name: str) -> None:
        terms = problem.suppliers[name]
        self.offers = [i for i, part in enumerate(problem.offers) if part.supplier == name]
        wanted = sum(need.pieces for need in problem.needs)
        ladders = [_quantities(problem.offers[i], terms, wanted) for i in self.offers]
        parcels = []
        for quantities in itertools.product(*ladders):
            if any(quantities):
                cost = _landed(terms, [(problem.offers[i], q) for i, q in zip(self.offers, quantities, strict=True)])
                if cost is not None:
                    parcels.append((cost, quantities))
        self.parcels = sorted(parcels)

    def least(self, required: dict[int, int]) -> Fraction | None:
        wanted = [required.get(i, 0) for i in self.offers]
        for cost, quantities in self.parcels:
            if all(q >= w for q, w in zip(quantities, wanted, strict=True)):
                return cost
        return None


def _quantities(part: Part, terms: SupplierTerms, wanted: int) -> list[int]:
    highest = max([terms.minimum, *(tier.goods for tier in terms.shipping)])
    cheapest_piece = min((b.unit_price for b in part.prices if b.unit_price > 0), default=None)
    fill = ceil(Fraction(highest) / Fraction(cheapest_piece)) if cheapest_piece else 0
    breaks = [b.quantity for b in part.prices]
    cap = max(wanted, fill, *breaks, part.minimum) + part.multiple
    least = max(part.minimum, breaks[0])
    return [0] + [
        q
        for q in range(1, cap + 1)
        if q >= least and q % part.multiple == 0 and (part.stock is None or q <= part.stock)
    ]


def _landed(terms: SupplierTerms, lines: list[tuple[Part, int]]) -> Fraction | None:
    goods = Fraction(0)
    count = 0
    for part, quantity in lines:
        if quantity:
            price = [b.unit_price for b in part.prices if b.quantity <= quantity][-1]
            goods += quantity * Fraction(price)
            count += 1
    if goods < Fraction(terms.minimum):
        return None
    charges = [tier.charge for tier in terms.shipping if Fraction(tier.goods) <= goods]
    carriage = Fraction(charges[-1]) if charges else Fraction(0)
    fees = Fraction(terms.handling) + count * Fraction(terms.line_fee)
    duty = goods * Fraction(terms.duty_percent) / 100
    before = goods + carriage + fees + duty
    return (before + before * Fraction(terms.tax_percent) / 100) * Fraction(terms.rate)
