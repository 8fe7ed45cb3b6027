"""Tokens of a capacitance and its voltage that a slash alone doesn't tell: ``33µ16``, ``50M/15V``."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from recap.normalise import preferred, values
from recap.normalise.later import compiled
from recap.normalise.token_sorts import Scan, Sort, Token, glued


def mega_pico(scan: Scan, at: int) -> Token | None:
    """Read ``50M/15V`` and ``5G/35V``, the writing of old Czech lists: M (mega) and G (giga) of the pF.

    Elsewhere M is the tolerance of 20 % behind a bare number of µF, which comes to the same; a G says nothing there.
    """
    match = _MEGA_PICO.match(scan.text, at) if scan.refs_seen and not glued(scan, at) else None
    if match is None or (match["prefix"] == "G" and not scan.style.a_joins):
        return None
    value = values.capacitance(f"{match['value']} µF")
    rated = values.voltage(match["volts"])
    if value is None or value.value is None or rated is None:
        return None
    value = replace(value, value=value.value * (1000 if match["prefix"] == "G" else 1))
    doubts = () if scan.style.a_joins else ("unit-missing",)
    return Token(Sort.PAIR, match[0], at, match.end(), (value, rated), doubts)


_MEGA_PICO: Final = compiled(
    r"(?P<value>\d{1,5}(?:[.,]\d{1,2})?)\s?(?P<prefix>[MG])\s?/\s?(?P<volts>\d{1,3}(?:[.,]\d)?\s?V)(?![A-Za-z\d])"
)


def run_together(scan: Scan, at: int) -> Token | None:
    """Read ``33µ16``: a code of 33.16 µF, which nobody makes; as value and voltage it is a part, doubted."""
    if not glued(scan, at) and (code := _CODE_AND_VOLTS.match(scan.text, at)) is not None:
        return _code_and_volts(code)
    match = None if glued(scan, at) else _RUN_TOGETHER.match(scan.text, at)
    coded = values.capacitance(match[0]) if match else None
    if match is None or coded is None or not coded.doubts:
        return None
    value, rated = values.capacitance(match["value"]), values.voltage(match["volts"], bare=True)
    if value is None or rated is None or value.doubts or rated.doubts:
        return None
    return Token(Sort.PAIR, match[0], at, match.end(), (value, rated), ("volts-unit-missing",))


def _code_and_volts(match: re.Match[str]) -> Token | None:
    """Read ``4u710V``: 4.7 µF 10 V. Where ``1u250V`` may as well be 1 µF 250 V nothing is taken."""
    whole, letter, part, volts = match["whole"], match["letter"], match["part"], match["volts"]
    value, rated = values.capacitance(f"{whole}{letter}{part}"), values.voltage(volts, bare=True)
    if value is None or rated is None or rated.doubts or not is_usual(value):
        return None
    other, high = values.capacitance(f"{whole}{letter}"), values.voltage(part + volts, bare=True)
    if not is_usual(other) or high is None or high.doubts or part == "0":
        return Token(Sort.PAIR, match[0], match.start(), match.end(), (value, rated), ("volts-unit-missing",))
    read = [each.value for each in (value, other) if each is not None and each.value is not None]
    ratings = [each.value for each in (rated, high) if each.value is not None]
    either = tuple(values.Reading(None, ("alternatives",), tuple(sorted(found))) for found in (read, ratings))
    return Token(Sort.PAIR, match[0], match.start(), match.end(), either)


_CODE_AND_VOLTS: Final = compiled(
    r"(?P<whole>\d{1,3})(?P<letter>[uUµnN])(?P<part>\d)(?P<volts>[1-9]\d{1,2})V(?![\w.,])"
)
_RUN_TOGETHER: Final = compiled(r"(?P<value>[1-9]\d{1,3}[uµ])(?P<volts>\d{2,3})(?![\w.,])", re.IGNORECASE)


def is_usual(reading: values.Reading | None) -> bool:
    """Tell whether a capacitance is of the series E12."""
    return reading is not None and reading.value is not None and preferred.in_series(reading.value, "E12")
