"""The tables of marks on parts, each with where it stands: tolerances, rated voltages, dates, two-character values.

Both ways: what a mark means, and the mark of a meaning. Which mark a text holds is
:mod:`recap.normalise.markings`'s business. Where sources disagree both meanings stand here.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

IEC: Final = "IEC 60062"
IEC_FROM_MEMORY: Final = "IEC 60062 (from memory)"
EIA: Final = "EIA and JIS usage"
VOLTAGE_SOURCE: Final = "Japanese and EIA part numbers"
TWO_CHARACTER_SOURCE: Final = "EIA-198 two-character code (from memory)"


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What one letter allows: ``low`` and ``high`` in percent, or in pF for ``unit`` pF."""

    low: Decimal
    high: Decimal
    unit: str = "%"
    source: str = IEC

    def __str__(self) -> str:
        """Write ``±10 %`` or ``-20/+80 %``."""
        if -self.low == self.high:
            return f"±{self.high} {self.unit}"
        return f"{'-0' if self.low == 0 else self.low}/+{self.high} {self.unit}"


def _both_ways(percent: str, source: str = IEC) -> Tolerance:
    return Tolerance(-Decimal(percent), Decimal(percent), source=source)


def _picofarad(spread: str) -> Tolerance:
    return Tolerance(-Decimal(spread), Decimal(spread), "pF")


TOLERANCES: Final[dict[str, tuple[Tolerance, ...]]] = {
    "E": (_both_ways("0.005", IEC_FROM_MEMORY),),
    "L": (_both_ways("0.01", IEC_FROM_MEMORY),),
    "W": (_both_ways("0.05", IEC_FROM_MEMORY),),
    "B": (_both_ways("0.1"),),
    "C": (_both_ways("0.25"),),
    "D": (_both_ways("0.5"),),
    "F": (_both_ways("1"),),
    "G": (_both_ways("2"),),
    "H": (_both_ways("3"),),
    "J": (_both_ways("5"),),
    "K": (_both_ways("10"),),
    "M": (_both_ways("20"),),
    "N": (_both_ways("30"),),
    "Q": (Tolerance(Decimal(-10), Decimal(30)),),
    "T": (Tolerance(Decimal(-10), Decimal(50)),),
    "S": (Tolerance(Decimal(-20), Decimal(50), source=IEC_FROM_MEMORY),),
    "Z": (Tolerance(Decimal(-20), Decimal(80)),),
    # the standard's ±0.02 % and the older -0/+100 % share a letter: on an electrolytic only the second makes sense
    "P": (Tolerance(Decimal(0), Decimal(100), source=EIA), _both_ways("0.02", IEC_FROM_MEMORY)),
}
"""Relative tolerances by letter, the likelier first. A has no fixed meaning (IEC 60062: agreed elsewhere)."""

PICOFARAD_TOLERANCES: Final[dict[str, Tolerance]] = {
    "A": Tolerance(Decimal("-0.05"), Decimal("0.05"), "pF", "makers' tables of ceramic chips"),
    "B": _picofarad("0.1"),
    "C": _picofarad("0.25"),
    "D": _picofarad("0.5"),
    "F": _picofarad("1"),
    "G": _picofarad("2"),
}
"""What the letters mean on capacitors below 10 pF (IEC 60062)."""
PICOFARAD_LIMIT_UF: Final = Decimal("1e-5")

VOLTAGE_MANTISSAS: Final = {
    letter: Decimal(number)
    for letter, number in zip(
        "ABCDEFGHJKVWLPQZ", "1.0 1.25 1.6 2.0 2.5 3.15 4.0 5.0 6.3 8.0 3.5 4.5 5.5 2.2 1.1 1.8".split(), strict=True
    )
}
"""Volts = mantissa times ten to the digit in front: 1H is 5.0 x 10 V. A to K follow R10 (ISO 3)."""
DISPUTED_VOLTAGES: Final = {"3L": (Decimal(1200), Decimal(5500))}
"""Codes that tables and the rule read differently: both are offered."""

YEAR_LETTERS: Final = "ABCDEFHJKLMNPRSTUVWX"
"""Year letters of IEC 60062 in order from 1990; after X (2009) the cycle begins again. No G I O Q Y Z."""
YEAR_CYCLE_START: Final = 1990
MONTH_CHARACTERS: Final = "123456789OND"
"""January to September by digit, October, November, December by initial (IEC 60062)."""

TWO_CHARACTER_MANTISSAS: Final = {
    letter: Decimal(number)
    for letter, number in zip(
        "ABCDEFGHJKLMNPQRSTUVWXYZ" + "abdefmnty",
        (
            "1.0 1.1 1.2 1.3 1.5 1.6 1.8 2.0 2.2 2.4 2.7 3.0 3.3 3.6 3.9 4.3 4.7 5.1 5.6 6.2 6.8 7.5 8.2 9.1 "
            "2.5 3.5 4.0 4.5 5.0 6.0 7.0 8.0 9.0"
        ).split(),
        strict=True,
    )
}
"""pF = mantissa times ten to the digit behind, 9 for a tenth: A5 is 0.1 µF. Capitals are E24 in order."""


def rated_voltage(code: str) -> Decimal | None:
    """Return the volts of a two-character code such as ``1H``, or None where it is none."""
    if len(code) != 2 or code[0] not in "0123" or code[1] not in VOLTAGE_MANTISSAS:  # noqa: PLR2004 - two characters
        return None
    return None if code in DISPUTED_VOLTAGES else VOLTAGE_MANTISSAS[code[1]].scaleb(int(code[0]))


def rated_voltage_code(volts: Decimal) -> str | None:
    """Return the two-character code of a rated voltage (``35`` V is ``1V``), or None where it has none."""
    for power in "0123":
        for letter in VOLTAGE_MANTISSAS:
            if rated_voltage(power + letter) == volts:
                return power + letter
    return None


def tolerance_letter(low: Decimal, high: Decimal, unit: str = "%") -> str | None:
    """Return the letter of a tolerance in percent or pF (``-20, 80`` is Z), or None where no letter says it."""
    if unit == "pF":
        absolute = PICOFARAD_TOLERANCES.items()
        return next((letter for letter, found in absolute if (found.low, found.high) == (low, high)), None)
    for letter, meanings in TOLERANCES.items():
        if any((meaning.low, meaning.high) == (low, high) for meaning in meanings):
            return letter
    return None


def years_of(letter: str, until: int) -> tuple[int, ...]:
    """Return the years a letter stands for, from 1970 to ``until``; they repeat every 20 years."""
    first = YEAR_CYCLE_START - 20 + YEAR_LETTERS.index(letter)
    return tuple(range(first, until + 1, 20))


def date_mark(year: int, month: int) -> str:
    """Return the two-character date code: 1993 May is ``D5``. The year can't be told from 20 years off."""
    return YEAR_LETTERS[(year - YEAR_CYCLE_START) % 20] + MONTH_CHARACTERS[month - 1]


def week_mark(year: int, week: int) -> str:
    """Return the four-digit date code: week 8 of 2012 is ``1208``."""
    return f"{year % 100:02d}{week:02d}"


def two_character_value(code: str) -> Decimal | None:
    """Return the µF of a two-character capacitance code such as ``S3`` (4.7 nF), or None where it is none."""
    if len(code) != 2 or code[0] not in TWO_CHARACTER_MANTISSAS or code[1] not in "0123456789":  # noqa: PLR2004
        return None
    power = -1 if code[1] == "9" else int(code[1])
    return TWO_CHARACTER_MANTISSAS[code[0]].scaleb(power - 6)
