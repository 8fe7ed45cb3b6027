"""Preferred numbers: which capacitances and rated voltages are made, were made, or never were.

E series as IEC 60063 prints them; E24 is no rounding of roots, so the numbers stand here as data.
R series as ISO 3. What old sets hold beside them (2, 4, 5, 8, 16, 25, 32, 50 µF and their decades)
follows no standard: "common practice" of the valve and early transistor years.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from typing import Final


def _decade(*numbers: str) -> tuple[Decimal, ...]:
    return tuple(Decimal(number) for number in numbers)


E3: Final = _decade("1.0", "2.2", "4.7")
E6: Final = _decade("1.0", "1.5", "2.2", "3.3", "4.7", "6.8")
E12: Final = _decade("1.0", "1.2", "1.5", "1.8", "2.2", "2.7", "3.3", "3.9", "4.7", "5.6", "6.8", "8.2")
E24: Final = tuple(
    sorted(E12 + _decade("1.1", "1.3", "1.6", "2.0", "2.4", "3.0", "3.6", "4.3", "5.1", "6.2", "7.5", "9.1"))
)
E96: Final = _decade(
    *"1.00 1.02 1.05 1.07 1.10 1.13 1.15 1.18 1.21 1.24 1.27 1.30 1.33 1.37 1.40 1.43".split(),
    *"1.47 1.50 1.54 1.58 1.62 1.65 1.69 1.74 1.78 1.82 1.87 1.91 1.96 2.00 2.05 2.10".split(),
    *"2.15 2.21 2.26 2.32 2.37 2.43 2.49 2.55 2.61 2.67 2.74 2.80 2.87 2.94 3.01 3.09".split(),
    *"3.16 3.24 3.32 3.40 3.48 3.57 3.65 3.74 3.83 3.92 4.02 4.12 4.22 4.32 4.42 4.53".split(),
    *"4.64 4.75 4.87 4.99 5.11 5.23 5.36 5.49 5.62 5.76 5.90 6.04 6.19 6.34 6.49 6.65".split(),
    *"6.81 6.98 7.15 7.32 7.50 7.68 7.87 8.06 8.25 8.45 8.66 8.87 9.09 9.31 9.53 9.76".split(),
)
E_SERIES: Final = {"E3": E3, "E6": E6, "E12": E12, "E24": E24, "E96": E96}
"""IEC 60063: the numbers of one decade, by the name of the series."""

R5: Final = _decade("1.00", "1.60", "2.50", "4.00", "6.30")
R10: Final = _decade("1.00", "1.25", "1.60", "2.00", "2.50", "3.15", "4.00", "5.00", "6.30", "8.00")
R20: Final = tuple(
    sorted(R10 + _decade("1.12", "1.40", "1.80", "2.24", "2.80", "3.55", "4.50", "5.60", "7.10", "9.00"))
)
R_SERIES: Final = {"R5": R5, "R10": R10, "R20": R20}
"""ISO 3: the numbers of one decade, by the name of the series."""

OLD_PRACTICE: Final = _decade("1.25", "2", "2.5", "3", "3.2", "4", "5", "6", "6.4", "8")
"""Capacitances of one decade that old sets hold beside the E series (common practice)."""

SUCCESSORS: Final = dict(
    zip(
        _decade("1.25", "1.6", "2", "2.5", "3", "3.2", "4", "5", "6", "6.4", "8"),
        _decade("1.5", "1.5", "2.2", "2.2", "3.3", "3.3", "4.7", "4.7", "6.8", "6.8", "10"),
        strict=True,
    )
)
"""What is fitted today where an old value stood, in one decade (common practice).

The nearest number of E6 by ratio; 4 and 8 go up, as the old parts' tolerance was -10/+50 % or wider.
"""

PRECISION_LIMIT_UF: Final = Decimal(1)
"""Above this no part is sold in three figures: such a number was measured (common practice)."""


def mantissa(value: Decimal) -> Decimal:
    """Return ``value`` moved by powers of ten into [1, 10). Raises ValueError unless positive and finite."""
    if not value.is_finite() or value <= 0:
        message = f"no decade for {value}"
        raise ValueError(message)
    return value.scaleb(-value.adjusted())


def figures(value: Decimal) -> int:
    """Return how many significant figures the number has, trailing zeros left out."""
    return len("".join(map(str, value.as_tuple().digits)).strip("0")) or 1


def in_series(value: Decimal, name: str) -> bool:
    """Tell whether a value belongs to the series ``name`` (E3 ... E96, R5 ... R20) in any decade."""
    return mantissa(value) in (E_SERIES | R_SERIES)[name]


def nearest(value: Decimal, name: str) -> Decimal:
    """Return the series' value with the smallest ratio to ``value``; of two equally near, the larger."""
    base = mantissa(value)
    series = (E_SERIES | R_SERIES)[name]
    with localcontext(prec=50):
        best = min((*series, series[0] * 10), key=lambda number: (max(number / base, base / number), -number))
    return best.scaleb(value.adjusted()).normalize()


def successor(value_uF: Decimal) -> Decimal | None:
    """Return the value made today that takes the place of an obsolete one, or None where none is needed.

    25 -> 22, 50 -> 47, 8 -> 10 µF and their decades. None for E6 members and for numbers no old practice had.
    """
    found = SUCCESSORS.get(mantissa(value_uF).normalize())
    return None if found is None else found.scaleb(value_uF.adjusted())


def is_standard_or_historic(value_uF: Decimal) -> bool:
    """Tell whether parts of this capacitance are, or were, made.

    E24 and old practice everywhere; E96 only up to 1 µF, where close-tolerance film and mica parts exist.
    """
    base = mantissa(value_uF)
    return base in E24 or base in OLD_PRACTICE or (value_uF <= PRECISION_LIMIT_UF and base in E96)


def looks_measured(value_uF: Decimal) -> bool:
    """Tell whether a capacitance reads like a meter's display (178.3 nF) rather than a printed value."""
    return not is_standard_or_historic(value_uF) and figures(value_uF) >= 3  # noqa: PLR2004 - as E24 has two


def is_rated_voltage(volts: Decimal) -> bool:
    """Tell whether a voltage is one that parts are, or were, marked with.

    R20 (ISO 3) in any decade; and, by common practice, whole multiples of 5 V up to 100 V, of 10 V and
    25 V up to 1 kV and of 50 V above, and a few others.
    """
    if volts <= 0:
        return False
    if in_series(volts, "R20") or volts in _OTHER_RATINGS:
        return True
    return any(volts <= limit and volts % step == 0 for limit, step in _STEPS)


_OTHER_RATINGS: Final = frozenset(_decade("2.7", "3", "5.5", "6", "6.4", "12", "12.5", "18", "64", "305", "385"))
"""Small old ratings, those of memory back-up cells, and of mains capacitors (common practice)."""
_STEPS: Final = tuple(
    (Decimal(limit), Decimal(step)) for limit, step in ((100, 5), (1000, 25), (1000, 10), (50_000, 50))
)
