"""Several numbers in one text: a capacitance with its voltage, or the sections of one can."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Final

from recap.normalise import preferred
from recap.normalise.capacitances import LONGEST_FIRST, capacitance, plain_capacitance
from recap.normalise.decimals import MAX_LENGTH, number, tidy
from recap.normalise.reading import Reading, doubted
from recap.normalise.voltages import voltage

_NEIGHBOURS: Final = Decimal("2.5")
"""Two ratings that one part or position is known by lie this near to each other (common practice)."""
_PAIR_BREAK: Final = re.compile(r"\s?/\s?|\s?@\s?|\s?,\s|\s?-\s?|\s")


def capacitance_and_voltage(text: str) -> tuple[Reading, Reading] | None:
    """Read ``100/16``, ``100µ/16V``, ``100uF 16V``, ``16V 100uF`` as a capacitance and a voltage.

    Without units only the slash and the ``@`` make a pair, and then no unit is missing. Equal numbers (``50/50``) may
    be two sections and are doubted ``pair-or-sections``. ``25/50 V`` is two voltages: None.
    """
    if len(text) > MAX_LENGTH:
        return None
    tidied = tidy(text)
    for match in _PAIR_BREAK.finditer(tidied):
        left, right = tidied[: match.start()], tidied[match.end() :]
        found = _pair(left, right, slash=match[0].strip() in {"/", "@"})
        if found is not None and "@" in match[0]:  # ``25 @ 25``: sections are never written so
            found = (_without(found[0], "pair-or-sections"), found[1])
        if found is not None:
            return found
        found = _pair(right, left, slash=False)
        if found is not None:
            return _volts_first(*found) if "/" in match[0] else found
    return None


def _volts_first(value: Reading, volts: Reading) -> tuple[Reading, Reading]:
    """Take the unit for said in ``50V/2.2``; a number that may itself be a rating (``25V/50``) stays doubted."""
    if value.value is None or preferred.is_rated_voltage(value.value):
        return value, volts
    return _without(value, "unit-missing"), volts


def _without(reading: Reading, code: str) -> Reading:
    return replace(reading, doubts=tuple(doubt for doubt in reading.doubts if doubt != code))


_FOUR_FIGURES: Final = re.compile(r"[0-9]{4}")
"""Two of these beside each other are the sizes of a chip in inches and in millimetres (``1206/3216``)."""


def _pair(left: str, right: str, *, slash: bool) -> tuple[Reading, Reading] | None:
    if _FOUR_FIGURES.fullmatch(left) and _FOUR_FIGURES.fullmatch(right):
        return None
    named = voltage(right) is not None
    volts = voltage(right, bare=slash)
    if volts is None or (volts.value is None and not named):
        return None
    if slash:
        value = capacitance(left)
        if value is None and named:
            value = capacitance(left, "uF")  # a scanner's letters among the digits
        if value is None or value.value is None:
            return None if value is None else (value, volts)
        value = _without(value, "unit-missing")
        if named and value.value is not None and number(left) is not None and _two_voltages(value.value, volts.value):
            return None
        bare = not named and number(left) is not None
        return (doubted(value, "pair-or-sections"), volts) if bare and value.value == volts.value else (value, volts)
    value = capacitance(left)
    return None if value is None or not named else (value, volts)


def _two_voltages(left: Decimal, right: Decimal | None) -> bool:
    """Tell whether ``25/50 V`` names two ratings: the left no number of E12, and a rating a step or two below."""
    if right is None or preferred.in_series(left, "E12"):
        return False
    return left < right <= left * _NEIGHBOURS and preferred.is_rated_voltage(left)


def sections(text: str) -> tuple[Decimal, ...] | None:
    """Read the sections of one can in µF: ``50+50µF``, ``20/20/20``, ``40-20-20 MFD``, ``32/32uF``.

    Two numbers with a slash or a dash are sections only where they are equal and have a unit; three without
    a unit only where all are equal, for ``100/16/105`` is a capacitance, a voltage and a temperature.
    """
    if len(text) > MAX_LENGTH:
        return None
    tidied = tidy(text)
    for mark in "+/-":
        parts = [part.strip() for part in tidied.split(mark)]
        if 2 <= len(parts) <= 6 and all(parts):  # noqa: PLR2004 - no can has more
            return _sections(parts, mark)
    return None


_UNIT_BEHIND: Final = re.compile(r"\s?[A-Za-zµ]+\.?$")


def _all_named(parts: list[str]) -> bool:
    return all(_UNIT_BEHIND.search(part) for part in parts)


def _sections(parts: list[str], mark: str) -> tuple[Decimal, ...] | None:
    lowered = parts[-1].lower().replace("µ", "u").removesuffix(".")
    unit = next((word for word in LONGEST_FIRST if lowered.endswith(word)), None)
    found = [plain_capacitance(part, unit or "uF") for part in parts]
    values = tuple(reading.value for reading in found if reading is not None and reading.value is not None)
    if len(values) != len(parts) or 0 in values:
        return None
    equal = len(set(values)) == 1
    if mark == "/" and equal and len({_UNIT_BEHIND.sub("", part) for part in parts}) > 1 and _all_named(parts):
        return None  # ``0.1uF/100nF``: one value, written twice
    if mark == "+" or (unit and equal) or (unit and len(parts) > 2):  # noqa: PLR2004 - two may be alternatives
        return values
    return values if mark == "/" and equal and len(parts) > 2 else None  # noqa: PLR2004
