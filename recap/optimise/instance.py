"""A problem in whole numbers: money in the smallest unit that holds every amount exactly.

Per supplier one unit (a power of ten of its currency) holds every price, threshold and charge.
With rate r, tax t and duty d, all of them per piece of the supplier's money::

    landed = goods * r (1 + t)(1 + d)  +  (shipping + handling + line fee * lines) * r (1 + t)

so one unit of goods and one unit of charges each cost a fixed whole number of *total units*,
the smallest unit of the bench currency that holds every landed amount exactly.

Quantities are bounded by what can be sensible. Within one price step, a piece more than (a) the
step's own start, (b) all pieces that any groups could want of the offer, and (c) what alone reaches the
supplier's highest threshold worth reaching, can be left out: every use, every tier and the minimum stay.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, localcontext
from typing import TYPE_CHECKING

from recap import money
from recap.money import EXACT, PERCENT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.model import Part, Problem, SupplierTerms


@dataclass(frozen=True, slots=True)
class Step:
    """One price step of an offer: legal quantities ``low`` to ``high`` (both multiples), units a piece."""

    low: int
    high: int
    price: int


@dataclass(frozen=True, slots=True)
class Offer:
    """One offer that suits at least one group; ``supplier``, ``groups`` are indexes."""

    index: int
    supplier: int
    number: str
    multiple: int
    steps: tuple[Step, ...]
    groups: tuple[int, ...]

    @property
    def most(self) -> int:
        """The largest sensible quantity; 0 where nothing can be bought."""
        return max((step.high for step in self.steps), default=0)

    def goods(self, pieces: int) -> int | None:
        """Return the least goods value that buys at least ``pieces``; None where stock is short."""
        costs = (
            max(step.low, -(-pieces // self.multiple) * self.multiple) * step.price
            for step in self.steps
            if step.high >= pieces
        )
        return min(costs, default=None)


@dataclass(frozen=True, slots=True)
class Tier:
    """A shipping tier with the minimum order folded in: goods ``least`` to ``most`` (None: no end) cost ``charge``."""

    least: int
    most: int | None
    charge: int


@dataclass(frozen=True, slots=True)
class Supplier:
    """One supplier's terms in whole units; ``goods_cost`` and ``charge_cost`` are total units for one unit."""

    name: str
    tiers: tuple[Tier, ...]
    handling: int
    line_fee: int
    goods_cost: int
    charge_cost: int
    unit: Decimal

    @property
    def target(self) -> int:
        """The highest goods value worth reaching: the minimum, or a tier cheaper than the one before."""
        lowest = self.tiers[0].least if self.tiers else 0
        cheaper = (b.least for a, b in zip(self.tiers, self.tiers[1:], strict=False) if b.charge < a.charge)
        return max(cheaper, default=lowest)

    @property
    def rising(self) -> bool:
        """Whether a later tier charges more, so that staying below it is worth something."""
        return any(b.charge > a.charge for a, b in zip(self.tiers, self.tiers[1:], strict=False))


@dataclass(frozen=True, slots=True)
class Instance:
    """The whole problem; ``needs[g]`` pieces of group g, ``unit`` is the bench currency of one total unit.

    ``spares[g]``: pieces that suit g and must be left over, whoever else counts on them too.

    ``lots``: (part number, pieces) in the drawer; ``lot_groups[l]``: the groups that lot l may serve.
    """

    problem: Problem
    needs: tuple[int, ...]
    spares: tuple[int, ...]
    offers: tuple[Offer, ...]
    suppliers: tuple[Supplier, ...]
    lots: tuple[tuple[str, int], ...]
    lot_groups: tuple[tuple[int, ...], ...]
    unit: Decimal

    @property
    def groups(self) -> range:
        """Indexes of the groups."""
        return range(len(self.needs))

    def amount(self, total_units: int) -> Decimal:
        """Return total units as money in the bench currency, exactly."""
        with localcontext(EXACT):
            return (total_units * self.unit).normalize()


def decimals(amounts: Iterable[Decimal]) -> int:
    """Return how many digits after the point hold all ``amounts`` exactly."""
    exponents = [int(a.normalize(EXACT).as_tuple().exponent) for a in amounts if a]
    return max((-e for e in exponents), default=0)


def whole(amount: Decimal, places: int) -> int:
    """Return ``amount`` in units of 10^-places."""
    return int(amount.scaleb(places, EXACT))


def build(problem: Problem) -> Instance:
    """Turn a problem into whole numbers. Raises ValueError where an offer names an unknown supplier."""
    names = sorted({part.supplier for part in problem.offers})
    missing = [name for name in names if name not in problem.suppliers]
    if missing:
        raise ValueError(f"no terms for supplier {missing[0]}")
    by_supplier: dict[str, list[Part]] = {name: [] for name in names}
    for part in problem.offers:
        by_supplier[part.supplier].append(part)
    places = {name: _places(problem.suppliers[name], by_supplier[name]) for name in names}
    factors = {name: _factors(problem.suppliers[name]) for name in names}
    total_places = max((places[name] + decimals(factors[name]) for name in names), default=0)
    suppliers = tuple(_supplier(problem.suppliers[name], places[name], factors[name], total_places) for name in names)
    serves: list[list[int]] = [[] for _ in problem.offers]
    lot_groups: list[list[int]] = [[] for _ in problem.drawer]
    for group, need in enumerate(problem.needs):
        for offer in dict.fromkeys(problem.suits.get(need.group, ())):
            serves[offer].append(group)
        for lot in dict.fromkeys(problem.drawer_suits.get(need.group, ())):
            lot_groups[lot].append(group)
    needs = tuple(need.pieces for need in problem.needs)
    most = [need.pieces + need.spares for need in problem.needs]
    order = {name: i for i, name in enumerate(names)}
    targets = [each.target for each in suppliers]
    offers = tuple(
        Offer(
            index=i,
            supplier=order[part.supplier],
            number=part.number,
            multiple=part.multiple,
            steps=_steps(part, places[part.supplier], sum([most[g] for g in serves[i]]), targets[order[part.supplier]]),
            groups=tuple(serves[i]),
        )
        for i, part in enumerate(problem.offers)
    )
    return Instance(
        problem=problem,
        needs=needs,
        spares=tuple(need.spares for need in problem.needs),
        offers=offers,
        suppliers=suppliers,
        lots=tuple((lot.part.number, lot.qty) for lot in problem.drawer),
        lot_groups=tuple(tuple(each) for each in lot_groups),
        unit=Decimal(1).scaleb(-total_places),
    )


def _places(terms: SupplierTerms, parts: Iterable[Part]) -> int:
    amounts = [step.unit_price for part in parts for step in part.prices]
    amounts += [amount for tier in terms.shipping for amount in (tier.goods, tier.charge)]
    return decimals([*amounts, terms.minimum, terms.handling, terms.line_fee])


def _factors(terms: SupplierTerms) -> tuple[Decimal, Decimal]:
    with localcontext(EXACT):
        charges = terms.rate * (1 + terms.tax_percent * PERCENT)
        return charges * (1 + terms.duty_percent * PERCENT), charges


def _supplier(terms: SupplierTerms, places: int, factors: tuple[Decimal, Decimal], total_places: int) -> Supplier:
    goods_cost, charge_cost = (whole(factor, total_places - places) for factor in factors)
    return Supplier(
        name=terms.supplier,
        tiers=_tiers(terms, places),
        handling=whole(terms.handling, places),
        line_fee=whole(terms.line_fee, places),
        goods_cost=goods_cost,
        charge_cost=charge_cost,
        unit=Decimal(1).scaleb(-places),
    )


def _tiers(terms: SupplierTerms, places: int) -> tuple[Tier, ...]:
    """Return the tiers in order, from the minimum order up; equal neighbours are one."""
    steps = sorted((whole(t.goods, places), whole(t.charge, places)) for t in terms.shipping) or [(0, 0)]
    steps[0] = (0, steps[0][1])
    merged = [steps[0]]
    for goods, charge in steps[1:]:
        if charge != merged[-1][1]:
            merged.append((goods, charge))
    ends = [goods - 1 for goods, _ in merged[1:]]
    minimum = whole(terms.minimum, places)
    return tuple(
        Tier(max(goods, minimum), end, charge)
        for (goods, charge), end in zip(merged, [*ends, None], strict=True)
        if end is None or end >= minimum
    )


def _steps(part: Part, places: int, wanted: int, target: int) -> tuple[Step, ...]:
    """Return the price steps with their legal and sensible quantities; those that have none are left out."""
    multiple, least = part.multiple, money.least_quantity(part)
    prices = sorted((step.quantity, whole(step.unit_price, places)) for step in part.prices)
    ends: list[int | None] = [start - 1 for start, _ in prices[1:]]
    legal: list[Step] = []
    for (start, price), end in zip(prices, [*ends, None] if prices else [], strict=True):
        low = -(-max(start, least) // multiple) * multiple
        fill = -(-target // price) if price > 0 else 0
        high = -(-max(low, wanted, fill) // multiple) * multiple
        for limit in (end, part.stock):
            high = high if limit is None else min(high, limit // multiple * multiple)
        if low <= high:
            legal.append(Step(low, high, price))
    return tuple(legal)
