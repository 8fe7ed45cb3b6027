"""Sharing a voltage between parts in series: what each may get, and the resistors that hold it there.

Two things part the voltage: capacitance while charging, leakage afterwards. Both are taken at their
worst: capacitances at opposite ends of ±20 %, one part leaking nothing and the others their limit.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from recap.match import ratings
from recap.model import Citation
from recap.normalise.preferred import E12, mantissa

TOLERANCE: Final = Decimal("0.2")
POWER_MARGIN: Final = Decimal(2)
POWERS_W: Final = tuple(map(Decimal, "0.25 0.5 1 2 3 5".split()))
LEAST_OHM: Final = Decimal(1000)
SOURCE: Final = Citation(
    "published",
    "R ≤ (n·Vr − Vb)/((n − 1)·I), I the leakage limit: own working for one part that leaks nothing; "
    "for n = 2 it is the rule (n·Vr − Vb)/I of va1der.ca, Balance Resistors for Series Capacitors; "
    "Rubycon technical notes 5.4 allow the larger R = WV/I; rated for twice its dissipation (common practice)",
)


@dataclass(frozen=True, slots=True)
class Balancing:
    """One resistor across each piece. ``charging_V`` and ``leaking_V`` are the worst voltage on one piece, each way."""

    ohm: Decimal
    power_W: Decimal
    rating_W: Decimal
    resistor_V: Decimal
    charging_V: Decimal
    leaking_V: Decimal
    leakage_uA: Decimal
    source: Citation = SOURCE


def charging_share(count: int) -> Decimal:
    """Return the largest part of the whole voltage that one of ``count`` pieces may get while charging.

    The one at −20 % against the others at +20 %: 0.6 for two.
    """
    small, large = 1 - TOLERANCE, 1 + TOLERANCE
    return (1 / small) / (1 / small + (count - 1) / large)


def least_rating(works_at_V: Decimal, count: int) -> Decimal:
    """Return the rating that each of ``count`` pieces in series needs at least, V."""
    return works_at_V * charging_share(count)


def balance(value_uF: Decimal, rated_V: Decimal, works_at_V: Decimal, count: int) -> Balancing | None:
    """Return the resistors for ``count`` equal pieces of this value and rating, or None where none will do.

    None where the pieces together are not rated above the voltage, or a resistor would have to be
    absurdly low or strong (under 1 kΩ, over 5 W). Raises ValueError for fewer than two pieces.
    """
    if count < 2:  # noqa: PLR2004 - series needs two
        raise ValueError("series needs at least two pieces")
    room = count * rated_V - works_at_V
    if room <= 0 or least_rating(works_at_V, count) > rated_V:
        return None
    leakage_uA = ratings.leakage_limit(value_uF, rated_V)
    most_ohm = room / ((count - 1) * leakage_uA) * 1_000_000
    if most_ohm < LEAST_OHM:
        return None
    ohm = preferred_below(most_ohm)
    leaking_V = (works_at_V + (count - 1) * ohm * leakage_uA / 1_000_000) / count
    worst_V = max(leaking_V, least_rating(works_at_V, count))
    power = worst_V**2 / ohm
    rating = next((w for w in POWERS_W if w >= power * POWER_MARGIN), None)
    if rating is None:
        return None
    return Balancing(
        ohm=ohm,
        power_W=power,
        rating_W=rating,
        resistor_V=rated_V,
        charging_V=least_rating(works_at_V, count),
        leaking_V=leaking_V,
        leakage_uA=leakage_uA,
    )


def preferred_below(ohm: Decimal) -> Decimal:
    """Return the largest E12 resistance that is not above ``ohm`` (> 0)."""
    base = mantissa(ohm)
    return max(number for number in E12 if number <= base).scaleb(ohm.adjusted())
