"""The best order by trying everything: own pricing in fractions, shared with nothing in the package.

The best is the cheapest, of these the one with the fewest suppliers, then lines, then the longest rated life.

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

Best = tuple[Fraction, int, int, Fraction]
"""Total, suppliers, lines, and less the rated life."""

NO_PARCEL = (Fraction(0), 0, 0)


def best(problem: Problem) -> Best | None:
    """Return what the best of all legal orders comes to, or None where there is none."""
    return _sharing(problem) if any(need.spares for need in problem.needs) else _plain(problem)


def _plain(problem: Problem) -> Best | None:
    tables = {name: _Parcels(problem, name) for name in problem.suppliers}
    least: Best | None = None
    for required, _, life in _requirements(problem):
        wanted: defaultdict[str, dict[int, int]] = defaultdict(dict)
        for offer, pieces in required.items():
            wanted[problem.offers[offer].supplier][offer] = pieces
        if problem.max_suppliers and len(wanted) > problem.max_suppliers:
            continue
        found = [tables[name].least(each) for name, each in wanted.items()]
        parcels = [parcel for parcel in found if parcel is not None]
        if len(parcels) == len(found):
            total, lines = sum((p[0] for p in parcels), Fraction(0)), sum(p[1] for p in parcels)
            each_best = (total, len(parcels), lines, -life)
            least = each_best if least is None else min(least, each_best)
    return least


def _sharing(problem: Problem) -> Best | None:
    """Try every set of parcels with every way to use its pieces, and count what is left over for each group."""
    parcels = [[(*NO_PARCEL, {}), *_Parcels(problem, name).each()] for name in problem.suppliers]
    ways = list(_requirements(problem))
    least: Best | None = None
    for chosen in itertools.product(*parcels):
        total = sum((p[0] for p in chosen), Fraction(0))
        used, lines = sum(p[1] for p in chosen), sum(p[2] for p in chosen)
        if (problem.max_suppliers and used > problem.max_suppliers) or (least and (total, used, lines) > least[:3]):
            continue
        bought = {o: q for p in chosen for o, q in p[3].items()}
        for required, drawn, life in ways:
            if all(bought.get(o, 0) >= n for o, n in required.items()) and _enough_left(
                problem, bought, required, drawn
            ):
                found = (total, used, lines, -life)
                least = found if least is None else min(least, found)
    return least


def _enough_left(problem: Problem, bought: dict[int, int], required: dict[int, int], drawn: dict[int, int]) -> bool:
    for need in problem.needs:
        left = sum(bought.get(o, 0) - required.get(o, 0) for o in problem.suits.get(need.group, ()))
        left += sum(problem.drawer[i].qty - drawn.get(i, 0) for i in problem.drawer_suits.get(need.group, ()))
        if left < need.spares:
            return False
    return True


def _requirements(problem: Problem) -> Iterator[tuple[dict[int, int], dict[int, int], Fraction]]:
    """Yield every way to cover all needs: pieces per offer, pieces per drawer lot, rated life of all these pieces."""
    ways = [list(_ways(problem, need.group, need.pieces)) for need in problem.needs]
    hours: dict[str, Fraction] = {}
    for part in [*problem.offers, *(lot.part for lot in problem.drawer)]:
        hours[part.number] = max(hours.get(part.number, Fraction(0)), Fraction(part.life_h or 0))
    seen: set[object] = set()
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
        life = sum((n * hours[problem.offers[o].number] for o, n in pieces.items()), Fraction(0))
        life += sum((n * hours[problem.drawer[lot].part.number] for lot, n in drawn.items()), Fraction(0))
        key = (tuple(sorted(pieces.items())), tuple(sorted(drawn.items())))
        if key not in seen:
            seen.add(key)
            yield dict(pieces), dict(drawn), life


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
        wanted = sum(need.pieces + need.spares for need in problem.needs)
        ladders = [_quantities(problem.offers[i], terms, wanted) for i in self.offers]
        parcels = []
        for quantities in itertools.product(*ladders):
            if any(quantities):
                cost = _landed(terms, [(problem.offers[i], q) for i, q in zip(self.offers, quantities, strict=True)])
                if cost is not None:
                    parcels.append((cost, sum(q > 0 for q in quantities), quantities))
        self.parcels = sorted(parcels)

    def least(self, required: dict[int, int]) -> tuple[Fraction, int] | None:
        wanted = [required.get(i, 0) for i in self.offers]
        for cost, lines, quantities in self.parcels:
            if all(q >= w for q, w in zip(quantities, wanted, strict=True)):
                return cost, lines
        return None

    def each(self) -> Iterator[tuple[Fraction, int, int, dict[int, int]]]:
        for cost, lines, quantities in self.parcels:
            yield cost, 1, lines, dict(zip(self.offers, quantities, strict=True))


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
