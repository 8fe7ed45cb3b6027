"""Ripple current and the heat it makes: frequencies brought to one, case and core temperature.

Ripple ratings hold at one frequency (100 or 120 Hz); above it ESR is lower and the same current heats
less. mA, Hz, °C, K, mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Final

from recap.model import Citation

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass(frozen=True, slots=True)
class Multipliers:
    """What one sheet allows at other frequencies: (Hz, factor) rising, for ratings above one voltage to another."""

    product: str
    above_V: float
    to_V: float
    factors: tuple[tuple[float, float], ...]


def _factors(frequencies: str, factors: str) -> tuple[tuple[float, float], ...]:
    return tuple(zip(map(float, frequencies.split()), map(float, factors.split()), strict=True))


_ASM: Final = "50 100 300 1000 3000 10000"
_PSM: Final = "50 100 200 400 1000 2000 4000 10000"
MULTIPLIERS: Final = (
    Multipliers("Vishay 021 ASM", 0, 16, _factors(_ASM, ".95 1.00 1.07 1.12 1.15 1.20")),
    Multipliers("Vishay 021 ASM", 16, 40, _factors(_ASM, ".90 1.00 1.12 1.20 1.25 1.30")),
    Multipliers("Vishay 021 ASM", 40, 100, _factors(_ASM, ".85 1.00 1.20 1.30 1.35 1.40")),
    Multipliers("Vishay 048 RML", 0, 25, _factors(_ASM, ".95 1.00 1.07 1.12 1.15 1.20")),
    Multipliers("Vishay 048 RML", 25, 40, _factors(_ASM, ".85 1.00 1.20 1.30 1.35 1.40")),
    Multipliers("Vishay 048 RML", 40, 63, _factors(_ASM, ".80 1.00 1.25 1.40 1.50 1.60")),
    Multipliers("Vishay 056/057", 0, 25, _factors(_PSM, ".93 1.00 1.04 1.07 1.11 1.13 1.15 1.18")),
    Multipliers("Vishay 056/057", 25, 100, _factors(_PSM, ".91 1.00 1.05 1.09 1.13 1.15 1.18 1.22")),
    Multipliers("Vishay 056/057", 100, 1000, _factors(_PSM, ".86 1.00 1.13 1.21 1.29 1.32 1.35 1.40")),
)
MULTIPLIER_SOURCE: Final = Citation(
    "published",
    "ripple current by frequency: Vishay 021 ASM (28325), 048 RML (28318), 056/057 PSM-SI (28340); "
    "the least factor of those for the rating, at the next lower frequency listed",
)
SUM_SOURCE: Final = Citation("published", "I = √Σ(In/kn)², “Life of Alum Caps”, equation 4.6 (scribd 510653990)")

ALPHA: Final = ((8.0, 1.0), (12.5, 1.1), (18.0, 1.2), (22.0, 1.3), (25.0, 1.4), (30.0, 1.5), (35.0, 1.6))
"""Core rise over case rise, by case diameter up to that many mm."""
ALPHA_SOURCE: Final = Citation(
    "published", "Ta = Tc − ΔTj/α: Rubycon Engineering Division, Lifetime calculation formula, section 2"
)


def frequency_factor(frequency_Hz: float, rated_V: float | None = None) -> float:
    """Return how much more ripple a part bears at this frequency than at 100 Hz; the least of the sheets.

    Between listed frequencies the lower one counts, below 50 Hz its factor falls in proportion. Without a
    rating all sheets count. Raises ValueError unless the frequency is above 0.
    """
    if frequency_Hz <= 0:
        raise ValueError("a frequency must be above 0 Hz")
    sheets = [m for m in MULTIPLIERS if rated_V is None or m.above_V < rated_V <= m.to_V] or list(MULTIPLIERS)
    return min(_at(sheet, frequency_Hz) for sheet in sheets)


def _at(sheet: Multipliers, frequency_Hz: float) -> float:
    lowest, factor = sheet.factors[0]
    if frequency_Hz < lowest:
        return factor * frequency_Hz / lowest
    return max(f for at, f in sheet.factors if at <= frequency_Hz)


def equivalent_ripple(currents: Iterable[tuple[float, float]]) -> float:
    """Return the one current that heats like all of these together: (current, factor) pairs, √Σ(I/k)²."""
    return hypot(*(current / factor for current, factor in currents))


def ambient_from_case(case_C: float, core_rise_K: float, diameter_mm: float) -> float:
    """Return the ambient temperature that a measured case temperature and the core's rise stand for.

    Cases above 35 mm count as 35 mm. Raises ValueError unless the diameter is above 0.
    """
    if diameter_mm <= 0:
        raise ValueError("a case diameter must be above 0 mm")
    alpha = next((a for largest, a in ALPHA if diameter_mm <= largest), ALPHA[-1][1])
    return case_C - core_rise_K / alpha
