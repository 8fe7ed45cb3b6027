"""Discharging a capacitor through a resistor: how long, how hot. A calculation, not a licence.

V(t) = V0 · e^(−t/RC). µF, V, Ω, s, W, J; exact decimal arithmetic.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from recap.model import Citation

MICRO: Final = Decimal("1e-6")
SAFE_V: Final = Decimal(60)
SAFE_SOURCE: Final = Citation(
    "from memory", "60 V DC is the usual limit of touchable voltage (IEC 62368-1 and the former IEC 60065)"
)
OHM_PER_VOLT: Final = Decimal(1)
RESISTOR_SOURCE: Final = Citation("published", "EIA-815 (1999): discharge through about 1 Ω for each volt")
POWER_MARGIN: Final = Decimal(2)
POWER_SOURCE: Final = Citation(
    "common practice", "a resistor that stays across the voltage is chosen for twice its dissipation"
)

CAUTIONS: Final = (
    "Charged capacitors kill. Unplug; one hand only; use a resistor with insulated leads, never a screwdriver.",
    "Measure afterwards, and again some minutes later: part of the voltage comes back (dielectric absorption).",
    "A bleeder may have failed open: the meter decides, not the calculation. Follow your local rules.",
)


@dataclass(frozen=True, slots=True)
class Discharge:
    """What happens while a capacitor empties. ``steady_W`` is what a bleeder dissipates while the set works."""

    value_uF: Decimal
    volts: Decimal
    resistor_ohm: Decimal
    safe_V: Decimal
    time_constant_s: Decimal
    seconds: Decimal
    peak_A: Decimal
    steady_W: Decimal
    energy_J: Decimal
    left_J: Decimal
    resistor_rating_W: Decimal


def discharge(value_uF: Decimal, volts: Decimal, resistor_ohm: Decimal, safe_V: Decimal = SAFE_V) -> Discharge:
    """Return the time to ``safe_V`` and the resistor's load. Raises ValueError unless all are above 0."""
    _positive(value_uF, volts, resistor_ohm, safe_V)
    farad = value_uF * MICRO
    constant = resistor_ohm * farad
    seconds = constant * (volts / safe_V).ln() if volts > safe_V else Decimal(0)
    steady = volts**2 / resistor_ohm
    return Discharge(
        value_uF,
        volts,
        resistor_ohm,
        safe_V,
        constant,
        seconds,
        volts / resistor_ohm,
        steady,
        farad * volts**2 / 2,
        farad * min(volts, safe_V) ** 2 / 2,
        steady * POWER_MARGIN,
    )


def resistor_for(value_uF: Decimal, volts: Decimal, seconds: Decimal, safe_V: Decimal = SAFE_V) -> Decimal | None:
    """Return the largest resistor that reaches ``safe_V`` in time, Ω; None where the voltage is safe already."""
    _positive(value_uF, volts, seconds, safe_V)
    if volts <= safe_V:
        return None
    return seconds / (value_uF * MICRO * (volts / safe_V).ln())


def hand_resistor(volts: Decimal) -> Decimal:
    """Return the resistor for discharging by hand, Ω: one ohm for each volt (EIA-815)."""
    _positive(volts)
    return volts * OHM_PER_VOLT


def voltage_after(value_uF: Decimal, volts: Decimal, resistor_ohm: Decimal, seconds: Decimal) -> Decimal:
    """Return what is left after so many seconds, V."""
    _positive(value_uF, volts, resistor_ohm)
    return volts * (-seconds / (resistor_ohm * value_uF * MICRO)).exp()


def _positive(*quantities: Decimal) -> None:
    if any(q <= 0 for q in quantities):
        raise ValueError("capacitance, voltage, resistance and time must all be above 0")
