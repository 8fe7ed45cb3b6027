"""One rated voltage in text: ``16 V``, ``6v3``, ``450 WVDC``, ``275 VAC``, ``1.6 kV``, in V, exact."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import Final

from recap.normalise import preferred
from recap.normalise.decimals import MAX_LENGTH, misread_number, number
from recap.normalise.reading import CACHE_SIZE, OR, Reading, doubted, guarded

_VOLT_UNIT: Final = re.compile(
    r"(?:(?P<front>AC|DC)\s?)?(?P<number>[0-9OolI|SBZ.,' ]*?)\s?(?P<kilo>k)?"
    r"(?:(?P<before>AC|DC)?\s?W?\.?\s?V\.?\s?(?:W|L(?:av)?)?\.?|volts?|voltios?|wolt(?:y|a|ów|ow)?|вольт|в)\s?"
    r"(?P<behind>AC|CA|CC|DC|A\.C\.?|D\.C\.?|~|=|-|DC\s?W|W\s?DC)?(?:\s?rms)?\.?",
    re.IGNORECASE,
)
"""V in its old and new company: WV, VW, WVDC, DCWV, VDCW, VL (Italian: lavoro), V AC, V~, volts."""
_ALTERNATING: Final = frozenset({"AC", "CA", "A.C.", "A.C", "~"})
_VOLT_CODE: Final = re.compile(r"(?P<whole>[0-9]{1,4})(?P<kilo>[kK])?[vV](?P<part>[0-9]{1,2})(?:DC|dc)?")

LEAST_V: Final = 1
"""No part is rated lower (common practice): ``,25V`` behind a value is a comma and 25 V."""


def voltage(text: str, *, bare: bool = False) -> Reading | None:
    """Read the whole text as one voltage in V, or return None where it isn't one.

    A naked number is a voltage only with ``bare`` (a column of volts). ``25/50 V`` has no value, both
    readings and the doubt ``alternatives``; a number no part is marked with is doubted ``odd-voltage``.
    """
    return _read(text, bare) if len(text) <= MAX_LENGTH else None


@lru_cache(CACHE_SIZE)
def _read(text: str, bare: bool) -> Reading | None:
    return guarded(text, lambda tidied: _voltage(tidied, bare=bare))


def _voltage(text: str, *, bare: bool) -> Reading | None:
    found = _plain_voltage(text, bare=bare)
    if found is None:
        return _either_voltage(text, bare=bare)
    if found.value is None:
        return found
    if found.value == 0:
        return None
    sound = found.value >= LEAST_V and preferred.is_rated_voltage(found.value)
    return found if sound else doubted(found, "odd-voltage")


def _plain_voltage(text: str, *, bare: bool) -> Reading | None:
    if match := _VOLT_CODE.fullmatch(text):
        value = Decimal(f"{match['whole']}.{match['part']}")
        return Reading(value * 1000 if match["kilo"] else value)
    match = _VOLT_UNIT.fullmatch(text)
    digits = match["number"].strip() if match else text if bare else ""
    found = number(digits) or (misread_number(digits) if match or bare else None)
    if found is None:
        return None
    factor, ac = 1, False
    if match is not None:
        factor = 1000 if match["kilo"] else 1
        ac = any((match[name] or "").upper() in _ALTERNATING for name in ("front", "before", "behind"))
    volts = None if found.value is None else found.value * factor
    return Reading(volts, found.doubts, tuple(reading * factor for reading in found.readings), ac=ac)


def _either_voltage(text: str, *, bare: bool) -> Reading | None:
    parts = [part.rstrip("? ") for part in OR.split(text) if part]
    if not 2 <= len(parts) <= 4:  # noqa: PLR2004 - more is a list
        return None
    if not bare and _plain_voltage(parts[-1], bare=False) is None:
        return None
    found = [_plain_voltage(part, bare=True) for part in parts]
    values = [reading.value for reading in found if reading is not None and reading.value is not None]
    if len(values) != len(parts):
        return None
    return Reading(None, ("alternatives",), tuple(dict.fromkeys(values)))
