"""Surge voltage and leakage current that aluminium electrolytics are specified for.

The figures are those of IEC 60384-4 as makers' sheets print them; the one boundary that no sheet
shows is marked. Capacitance in µF, voltage in V, leakage in µA.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from recap.model import Citation

SURGE_SOURCE: Final = Citation(
    "published",
    "IEC 60384-4: 1.15 × up to 315 V, 1.10 × above (the 315 V boundary from memory); "
    "EPCOS B41505/B43505: 1.15 × to 250 V, 1.10 × from 400 V; Vishay 28309: 1.15 × from 6.3 V to 160 V",
)
_SURGE_BOUNDARY_V: Final = Decimal(315)
_SURGE_LOW: Final = Decimal("1.15")
_SURGE_HIGH: Final = Decimal("1.10")


@dataclass(frozen=True, slots=True)
class LeakageLimit:
    """A general-purpose sheet's limit: ``per_CV`` · C · V, at least ``least_uA``, plus ``plus_uA``."""

    above_V: Decimal
    per_CV: Decimal
    least_uA: Decimal
    plus_uA: Decimal
    source: Citation


LEAKAGE: Final = (
    LeakageLimit(
        Decimal(0),
        Decimal("0.01"),
        Decimal(3),
        Decimal(0),
        Citation(
            "published", "0.01 CV or 3 µA after 2 min: KEMET ESL (16-100 V), radial series SU (dtsheet.com 1530872)"
        ),
    ),
    LeakageLimit(
        Decimal(100),
        Decimal("0.02"),
        Decimal(0),
        Decimal(10),
        Citation("published", "0.02 CV + 10 µA: KEMET ESL (160-450 V)"),
    ),
)


def surge_voltage(rated_V: Decimal) -> Decimal:
    """Return the voltage a part stands for at most 30 s at a time, V."""
    return rated_V * (_SURGE_LOW if rated_V <= _SURGE_BOUNDARY_V else _SURGE_HIGH)


def leakage_rule(rated_V: Decimal) -> LeakageLimit:
    """Return the limit that holds for this rating."""
    return max((rule for rule in LEAKAGE if rated_V > rule.above_V), key=lambda rule: rule.above_V)


def leakage_limit(value_uF: Decimal, rated_V: Decimal) -> Decimal:
    """Return the most a good part may leak at its rated voltage after two minutes, µA. Both must be above 0."""
    rule = leakage_rule(rated_V)
    return max(rule.per_CV * value_uF * rated_V, rule.least_uA) + rule.plus_uA
