"""Random orders of a given size, as a workshop might have them, for measuring the optimiser.

Groups come in families (one capacitance) and grades (voltage): an offer suits the groups of its family
whose grade is at most its own and more than two grades lower. Prices fall by a factor with quantity; each
supplier has its own level of prices, tiers and, some of them, minimum, handling, line fee, duty, tax and currency.
"""

from __future__ import annotations

import random
from decimal import Decimal

from recap.model import Need, Part, PriceBreak, Problem, ShippingTier, SupplierTerms


def random_order(
    groups: int, suppliers: int, offers: int, seed: int = 0, *, hard: bool = False, one_part: bool = True
) -> Problem:
    """Make an order; ``hard`` puts thresholds and minimums near what a supplier would get of it."""
    rng = random.Random(seed)
    family = [rng.randrange(max(groups // 3, 1)) for _ in range(groups)]
    grade = [rng.randrange(5) for _ in range(groups)]
    needs = [rng.choice([1, 2, 2, 3, 4, 6, 8, 10, 12, 16, 20, 30]) for _ in range(groups)]
    base = {f: Decimal(str(round(rng.lognormvariate(-1.3, 0.8), 4))) for f in set(family)}
    spend = sum(base[f] * n for f, n in zip(family, needs, strict=True)) / Decimal("1.4")
    names = [f"S{i:02d}" for i in range(suppliers)]
    terms = {name: _terms(rng, name, spend / suppliers * 3 if hard else Decimal(60)) for name in names}
    parts: list[Part] = []
    served: list[list[int]] = []
    while len(parts) < offers:
        wanted = rng.randrange(groups)
        level = grade[wanted] + rng.randrange(2)
        suits = [g for g in range(groups) if family[g] == family[wanted] and level - 2 < grade[g] <= level]
        name = names[len(parts) % suppliers]
        parts.append(_part(rng, name, f"P{len(parts)}", base[family[wanted]] * (10 + level) / 10))
        served.append(suits)
    suits_of: dict[str, list[int]] = {f"g{g}": [] for g in range(groups)}
    for offer, each in enumerate(served):
        for g in each:
            suits_of[f"g{g}"].append(offer)
    return Problem(
        needs=tuple(Need(f"g{g}", n) for g, n in enumerate(needs)),
        offers=tuple(parts),
        suits={g: tuple(each) for g, each in suits_of.items()},
        suppliers=terms,
        one_part_per_group=one_part,
    )


def _terms(rng: random.Random, name: str, threshold: Decimal) -> SupplierTerms:
    first = (threshold * Decimal(rng.randrange(60, 120)) / 100).quantize(Decimal(1))
    charge = Decimal(rng.choice(["3.90", "5.90", "6.50", "8.00", "12.00"]))
    tiers = ((Decimal(0), charge), (first, (charge / 2).quantize(Decimal("0.01"))), (2 * first, Decimal(0)))
    abroad = rng.random() < 0.3
    return SupplierTerms(
        name,
        "EUR" if not abroad else "USD",
        Decimal(1) if not abroad else Decimal("0.9213"),
        tuple(ShippingTier(goods, cost) for goods, cost in tiers),
        minimum=(first / 2).quantize(Decimal(1)) if rng.random() < 0.4 else Decimal(0),
        handling=Decimal(rng.choice(["0", "0", "1.50"])),
        line_fee=Decimal(rng.choice(["0", "0", "0.20"])),
        duty_percent=Decimal("3.7") if abroad else Decimal(0),
        tax_percent=Decimal(rng.choice(["19", "20"])),
    )


def _part(rng: random.Random, supplier: str, number: str, price: Decimal) -> Part:
    level = price * Decimal(rng.randrange(75, 135)) / 100
    breaks = [1, *sorted(rng.sample([5, 10, 25, 50, 100], rng.randrange(4)))]
    prices = []
    for quantity in breaks:
        prices.append(PriceBreak(quantity, max(level.quantize(Decimal("0.0001")), Decimal("0.0010"))))
        level *= Decimal(rng.randrange(70, 95)) / 100
    multiple = rng.choice([1, 1, 1, 1, 5, 10])
    stock = rng.choice([None, None, None, rng.randrange(5, 200)])
    return Part(supplier, number, prices=tuple(prices), minimum=1, multiple=multiple, stock=stock)
