"""Series resistance and loss factor: one from the other, and what a new part may show.

ESR = tan δ / (2π f C) at the low frequency of the test (100 or 120 Hz, 20 °C, IEC 60384-1 and -4).
The limits are those of general-purpose sheets; a low-impedance part of the same value is far better.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from recap.model import Citation, Mount

TWO_PI: Final = 2 * Decimal("3.14159265358979323846")
MICRO: Final = Decimal("1e-6")
TEST_HZ: Final = Decimal(120)
LOW_FREQUENCIES: Final = (Decimal(50), Decimal(150))
"""Between these the sheets' limits for 100 and 120 Hz may be compared with; far above, ESR is another quantity."""


@dataclass(frozen=True, slots=True)
class LossLimits:
    """The tan δ limits of one published sheet: by rated voltage, and what large values add."""

    name: str
    test_Hz: Decimal
    limits: tuple[tuple[Decimal, Decimal], ...]
    add_per_1000_uF: Decimal
    source: Citation


def _limits(text: str) -> tuple[tuple[Decimal, Decimal], ...]:
    pairs = (pair.split(":") for pair in text.split())
    return tuple((Decimal(volts), Decimal(limit)) for volts, limit in pairs)


RADIAL: Final = LossLimits(
    "radial, general purpose",
    Decimal(120),
    _limits(
        "6.3:.22 10:.19 16:.16 25:.14 35:.12 50:.10 63:.09 100:.08 160:.16 200:.18 250:.18 350:.20 400:.20 450:.20"
    ),
    Decimal("0.02"),
    Citation("published", "radial series SU, dtsheet.com 1530872: tan δ at 120 Hz, 20 °C (TDK B41856 agrees, 16-50 V)"),
)
SNAP_IN: Final = LossLimits(
    "snap-in",
    Decimal(100),
    _limits("10:.20 16:.15 25:.11 35:.10 50:.08 63:.06 100:.06 200:.13 400:.13 450:.17"),
    Decimal(0),
    Citation("published", "EPCOS B41505/B43505, November 2008: tan δ at 100 Hz, 20 °C"),
)


@dataclass(frozen=True, slots=True)
class NewPart:
    """What a new part of a rating may show at most; ``rating_V`` is the sheet's, where it differs from the part's."""

    tan_delta: Decimal
    esr_ohm: Decimal
    frequency_Hz: Decimal
    limits: LossLimits
    rating_V: Decimal


def esr_of(tan_delta: Decimal, value_uF: Decimal, frequency_Hz: Decimal) -> Decimal:
    """Return ESR in ohm. Capacitance and frequency must be above 0."""
    return tan_delta / (TWO_PI * frequency_Hz * value_uF * MICRO)


def tan_delta_of(esr_ohm: Decimal, value_uF: Decimal, frequency_Hz: Decimal) -> Decimal:
    """Return tan δ. Capacitance and frequency must be above 0."""
    return esr_ohm * TWO_PI * frequency_Hz * value_uF * MICRO


def loss_limits(mount: Mount | None) -> LossLimits:
    """Return the sheet for a size class: snap-in cans have their own, all others go by the radial one."""
    return SNAP_IN if mount is Mount.SNAP_IN else RADIAL


def tan_delta_limit(value_uF: Decimal, rated_V: Decimal, limits: LossLimits = RADIAL) -> tuple[Decimal, Decimal]:
    """Return the limit of a new part and the listed rating it is taken from.

    A rating between two listed ones gets the larger of their limits. From 1000 µF on, 0.02 per 1000 µF
    are added in proportion; sheets leave open whether they mean steps.
    """
    listed = limits.limits
    at = bisect_left(listed, rated_V, key=lambda pair: pair[0])
    exact = at < len(listed) and listed[at][0] == rated_V
    neighbours = listed[at : at + 1] if exact else listed[max(at - 1, 0) : at + 1]
    volts, limit = max(neighbours, key=lambda pair: pair[1])
    thousands = max(value_uF / 1000 - 1, Decimal(0))
    return limit + limits.add_per_1000_uF * thousands, volts


def new_part(
    value_uF: Decimal, rated_V: Decimal, *, mount: Mount | None = None, frequency_Hz: Decimal = TEST_HZ
) -> NewPart:
    """Return what a new general-purpose part of this rating shows at most, at a frequency near the test's.

    Raises ValueError for values not above 0, or a frequency that the sheets' limits don't hold at.
    """
    low, high = LOW_FREQUENCIES
    if value_uF <= 0 or rated_V <= 0:
        raise ValueError("capacitance and voltage must be above 0")
    if not low <= frequency_Hz <= high:
        raise ValueError(f"sheets give tan δ at 100 or 120 Hz; it says nothing of {frequency_Hz} Hz")
    limits = loss_limits(mount)
    tan_delta, volts = tan_delta_limit(value_uF, rated_V, limits)
    return NewPart(tan_delta, esr_of(tan_delta, value_uF, frequency_Hz), frequency_Hz, limits, volts)
