"""What the characters on a part can mean: every reading, the likeliest first, none chosen.

A marking is one or more marks, run together or parted: ``475K 1H`` is a value, a tolerance and a
rated voltage. Each mark is split off here, read by every table that knows it
(:mod:`recap.normalise.mark_meanings`), and the readings are ranked. Farads, volts, percent; dates as
ISO text (``2012-W08``, ``1993-05``).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise import mark_meanings, preferred, standard_marks
from recap.normalise.capacitances import UNITS
from recap.normalise.decimals import MAX_LENGTH, tidy

if TYPE_CHECKING:
    from recap.normalise.mark_meanings import MarkingReading


@dataclass(frozen=True, slots=True)
class Decoded:
    """All readings of a marking, the likeliest first, and the marks that no table knows."""

    readings: tuple[MarkingReading, ...]
    unread: tuple[str, ...] = ()


_UNIT_WORDS: Final = "|".join(sorted((re.escape(unit) for unit in UNITS if len(unit) > 1), key=len, reverse=True))
_UNIT_APART: Final = re.compile(
    rf"(?<=[0-9]) (?=(?:[µu]F?|{_UNIT_WORDS}|[np]|W?VDC|VAC|WV|VW|V|%)(?![A-Za-z0-9]))", re.IGNORECASE
)
_PARTING: Final = re.compile(r"[ /;|@()]+|,(?= )|(?<=[0-9A-Za-z])-(?=[0-9A-Z])")
_LONGEST_MARK: Final = 24
_TAIL: Final = re.compile(
    r"(?P<tolerance>[A-Z])?(?:(?P<volts>[0-9]{1,4}(?:[.,][0-9])?)(?P<unit>V(?:DC|AC)?|-|~)?|(?P<code>[0-3][A-Z]))?"
)
_TOLERANCE_OR_UNIT: Final = re.compile(r"[0-9]{2}[1-9][FNP]|[0-9]*[pn][0-9]+F")


def decode(marking: str, this_year: int | None = None) -> tuple[MarkingReading, ...]:
    """Return every reading of a marking, the likeliest first; empty where nothing is understood.

    ``this_year`` (default: today's) bounds the dates: no part is from the future.
    """
    return decode_marks(marking, this_year).readings


def decode_marks(marking: str, this_year: int | None = None) -> Decoded:
    """Return the readings of a marking and the marks that no table knows."""
    year = date.today().year if this_year is None else this_year  # noqa: DTZ011 - the year on the bench's own clock
    if len(marking) > MAX_LENGTH:
        return Decoded((), (marking[: MAX_LENGTH - 1] + "…",))
    readings: list[MarkingReading] = []
    unread: list[str] = []
    marks = _marks(marking)
    for mark in marks:
        after_value = any(reading.kind == "capacitance" for reading in readings)
        found = _read(mark, year, after_value=after_value)
        if len(marks) > 1 and not after_value:  # a lone 106 may be a date; the value of several marks isn't one
            found = [reading for reading in found if reading.source != mark_meanings.COMMON or reading.kind != "date"]
        readings += found
        if not found:
            unread.append(mark)
    ordered = sorted(readings, key=lambda reading: reading.rank)
    return Decoded(tuple(dict.fromkeys(ordered)), tuple(unread))


def _marks(marking: str) -> list[str]:
    """Part a marking at spaces and slashes, a unit staying with its number."""
    return [mark for mark in _PARTING.split(_UNIT_APART.sub("", tidy(marking))) if mark]


def _read(mark: str, year: int, *, after_value: bool) -> list[MarkingReading]:
    """Read one mark by every table; behind a value another one is unlikely: a bare number is a voltage first."""
    if len(mark) > _LONGEST_MARK:
        return []
    found = [
        *mark_meanings.values(mark),
        *mark_meanings.voltages(mark, bare=after_value),
        *mark_meanings.tolerances(mark),
        *mark_meanings.dates(mark, year),
    ]
    if after_value and any(reading.kind != "capacitance" for reading in found):
        found = [replace(r, rank=r.rank + 5) if r.kind == "capacitance" else r for r in found]
    if _TOLERANCE_OR_UNIT.fullmatch(mark) or not any(reading.kind == "capacitance" for reading in found):
        found += _run_together(mark)
    other = mark_meanings.class_or_temperature(mark)
    if other is not None:
        found = [other, *(replace(reading, rank=reading.rank + 2) for reading in found)]
    best = min((reading.rank for reading in found), default=0)
    return [replace(reading, rank=reading.rank - best) for reading in found]


def _run_together(mark: str) -> list[MarkingReading]:
    """Read ``475K``, ``2A474J``, ``104K50``, ``47µ16V``: voltage code, value, tolerance, voltage in one word."""
    best: list[MarkingReading] = []
    front = mark[:2] if standard_marks.rated_voltage(mark[:2]) is not None else ""
    for head in dict.fromkeys((front, "")):
        rest = mark[len(head) :]
        for end in range(len(rest), 0, -1):
            found = _parts(head, rest[:end], rest[end:])
            if found and _better(found, best):
                best = found
    return best


def _parts(head: str, value: str, tail: str) -> list[MarkingReading]:
    match = _TAIL.fullmatch(tail)
    values = mark_meanings.values(value) if match is not None and (head or tail) else []
    if match is None or not values or (value.isdigit() and len(value) < 3):  # noqa: PLR2004 - 10K is a resistor
        return []
    if match["volts"] and not (match["tolerance"] or match["unit"]):
        return []
    readings = [*values, *(mark_meanings.voltages(head, bare=False) if head else [])]
    if match["tolerance"]:
        likeliest_first = sorted(values, key=lambda reading: reading.rank)
        farads = [reading.value for reading in likeliest_first if isinstance(reading.value, Decimal)]
        spreads = mark_meanings.tolerances(match["tolerance"], tuple(value / mark_meanings.PICO for value in farads))
        if not spreads:
            return []
        readings += spreads
    volts = match["code"] or (match["volts"] and match["volts"] + "V")
    if volts:
        rated = mark_meanings.voltages(volts, bare=False)
        if not rated:
            return []
        readings += rated
    return readings


def _better(found: list[MarkingReading], best: list[MarkingReading]) -> bool:
    return not best or _oddness(found) < _oddness(best)


def _oddness(readings: list[MarkingReading]) -> int:
    """Count what no part bears: a value of no series, a voltage of no rating."""
    values = [
        r.value / mark_meanings.PICO for r in readings if r.kind == "capacitance" and isinstance(r.value, Decimal)
    ]
    ratings = [r.value for r in readings if r.kind == "voltage" and isinstance(r.value, Decimal)]
    odd = not any(map(preferred.is_standard_or_historic, values))
    return odd + sum(not preferred.is_rated_voltage(volts) for volts in ratings)
