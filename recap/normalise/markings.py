"""What the characters on a part can mean: every reading, the likeliest first, none chosen.

A marking is one or more marks, run together or parted: ``475K 1H`` is a value, a tolerance and a
rated voltage. Each mark is split off, read by every table that knows it
(:mod:`recap.normalise.standard_marks`, :mod:`recap.normalise.capacitances`), and the readings are
ranked. Farads, volts, percent; dates as ISO text (``2012-W08``, ``1993-05``).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise import preferred, standard_marks
from recap.normalise.capacitances import UNITS, capacitance
from recap.normalise.decimals import MAX_LENGTH, tidy
from recap.normalise.quantities import tolerance_percent
from recap.normalise.voltages import voltage
from recap.normalise.writing import format_capacitance, format_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class MarkingReading:
    """One thing a mark can mean.

    ``kind`` is capacitance, tolerance, voltage or date. ``value`` is a number in ``unit`` (F, V, %, pF), a
    pair (low, high) for an asymmetric tolerance, or ISO text for a date. ``rank`` 0 is the likeliest.
    """

    kind: str
    value: Decimal | tuple[Decimal, Decimal] | str
    unit: str | None
    text: str
    source: str
    mark: str
    hint: str | None = None
    rank: int = 0


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
_THREE_DIGITS: Final = re.compile(r"(?P<figures>[0-9]{2})(?P<power>[0-9])")
_POINT_CODE: Final = re.compile(r"(?P<whole>[0-9]{0,2})R(?P<part>[0-9]{1,3})")
_MILLI_CODE: Final = re.compile(r"(?P<whole>[0-9]{0,3})m(?P<part>[0-9]{0,3})")
_LETTER_CODE: Final = re.compile(r"[0-9]{0,3}[µunp][0-9]{0,3}")
_LETTER_WITHIN: Final = re.compile(r"[a-zA-Zµ]")
_TOLERANCE_OR_UNIT: Final = re.compile(r"[0-9]{2}[1-9][FNP]|[0-9]*[pn][0-9]+F")
_PICO: Final = Decimal("1e-6")
_LARGEST_ELECTROLYTIC_UF: Final = Decimal(68_000)
_TYPICAL_YEAR: Final = 1998
"""The middle of the years whose sets are recapped today (common practice): it ranks dates, it excludes none."""

PART_NUMBERS: Final = "makers' part numbers"
PLAIN_DIGITS: Final = "makers' printing"
DIGIT_CODE: Final = "IEC 60062, EIA-198"
PRINTED: Final = "as printed"
COMMON: Final = "common practice"


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
    for mark in _marks(marking):
        found = _read(mark, year, after_value=any(reading.kind == "capacitance" for reading in readings))
        readings += found
        if not found:
            unread.append(mark)
    ordered = sorted(readings, key=lambda reading: reading.rank)
    return Decoded(tuple(dict.fromkeys(ordered)), tuple(unread))


def _marks(marking: str) -> list[str]:
    """Part a marking at spaces and slashes, a unit staying with its number."""
    return [mark for mark in _PARTING.split(_UNIT_APART.sub("", tidy(marking))) if mark]


def _read(mark: str, year: int, *, after_value: bool) -> list[MarkingReading]:
    """Read one mark by every table; a bare number behind a value is a voltage first."""
    if len(mark) > _LONGEST_MARK:
        return []
    found = [*_value(mark), *_voltage(mark, bare=after_value), *_tolerance(mark), *_date(mark, year)]
    if after_value and any(reading.kind == "voltage" for reading in found):
        found = [replace(r, rank=r.rank + 3) if r.kind == "capacitance" else r for r in found]
    if _TOLERANCE_OR_UNIT.fullmatch(mark) or not any(reading.kind == "capacitance" for reading in found):
        found += _run_together(mark)
    return found


# --- values ----------------------------------------------------------------------------------


def _farads(value_uF: Decimal, source: str, mark: str, rank: int = 0, hint: str | None = None) -> MarkingReading:
    text = format_capacitance(value_uF)
    return MarkingReading("capacitance", (value_uF * _PICO).normalize(), "F", text, source, mark, hint, rank)


def _value(mark: str) -> list[MarkingReading]:
    """Return every capacitance that a mark without tolerance or voltage can mean."""
    if match := _THREE_DIGITS.fullmatch(mark):
        return list(_three_digits(mark, match["figures"], int(match["power"])))
    if match := _POINT_CODE.fullmatch(mark):
        number = Decimal(f"{match['whole'] or 0}.{match['part']}")
        return [
            _farads(number, PART_NUMBERS, mark, hint="R is the decimal point; on an electrolytic the unit is µF"),
            _farads(number * _PICO, DIGIT_CODE, mark, 1, "R is the decimal point; on a ceramic part the unit is pF"),
        ]
    if match := _MILLI_CODE.fullmatch(mark):
        return list(_milli(mark, match["whole"], match["part"]))
    small = standard_marks.two_character_value(mark)
    if small is not None:
        return [_farads(small, standard_marks.TWO_CHARACTER_SOURCE, mark, 2, "on small chips")]
    found = capacitance(mark)
    if found is None or found.tolerance is not None or "implausible-value" in found.doubts:
        return []  # value and tolerance are two marks: see _run_together
    if "three-digit-code" in found.doubts:
        found = replace(found, readings=found.readings[1:])  # the first is _run_together's too
    if not mark[-1].isalpha() and not _LETTER_WITHIN.search(mark):
        source = PLAIN_DIGITS
    else:
        source = standard_marks.IEC if _LETTER_CODE.fullmatch(mark) else PRINTED
    values = (found.value,) if found.value is not None else found.readings
    unlikely = {"no-preferred-value", "looks-measured", "prefix-missing", "three-digit-code"}
    last = 3 if unlikely & set(found.doubts) or standard_marks.rated_voltage(mark) else 0
    return [_farads(value, source, mark, rank + last) for rank, value in enumerate(values) if value]


def _three_digits(mark: str, figures: str, power: int) -> Iterator[MarkingReading]:
    """Yield the meanings of ``475``, ``220``, ``102``, ``479``: two figures and a power of ten, or three figures."""
    two = Decimal(figures)
    if two == 0:
        return
    plain = two * 10 + power
    printed_whole = preferred.is_standard_or_historic(plain)
    if two >= 10:  # noqa: PLR2004 - a first figure 0 is no code
        tiny = {8: Decimal("0.01"), 9: Decimal("0.1")}.get(power)
        if tiny is not None:
            yield _farads(two * tiny * _PICO, DIGIT_CODE, mark, 9 - power, f"third digit {power} multiplies by {tiny}")
        large = two.scaleb(power) * _PICO
        first = 2 if power == 9 else 1 if printed_whole else 0  # noqa: PLR2004 - 479 is 4.7 pF before 47 nF x 10^6
        yield _farads(large, DIGIT_CODE, mark, first, "two figures and the number of zeros, in pF")
        counted = two.scaleb(power)
        if counted <= _LARGEST_ELECTROLYTIC_UF:
            yield _farads(counted, PART_NUMBERS, mark, 2, "on an electrolytic the code may count in µF")
    if printed_whole:
        yield _farads(plain, PLAIN_DIGITS, mark, 0, "on an electrolytic the number may be the µF themselves")


def _milli(mark: str, whole: str, part: str) -> Iterator[MarkingReading]:
    """Yield both meanings of m: milli by the standard, micro where it is no decimal point."""
    if not whole and not part:
        return
    number = Decimal(f"{whole or 0}.{part or 0}")
    if number == 0:
        return
    yield _farads(number * 1000, standard_marks.IEC, mark, 0, "m is milli: 1m0 is 1000 µF")
    hint = "in old lists m stands for micro"
    yield _farads(number, COMMON, mark, 1, hint)


# --- tolerance, voltage, date ----------------------------------------------------------------


def _tolerance(mark: str, values_uF: tuple[Decimal, ...] = ()) -> list[MarkingReading]:
    """Return the meanings of a tolerance; a letter counts in pF where the value may be below 10 pF."""
    stated = tolerance_percent(mark)
    if stated is not None:
        return [_spread(standard_marks.Tolerance(*stated, source=PRINTED), mark, 0)]
    relative = list(standard_marks.TOLERANCES.get(mark, ()))
    absolute = [found] if (found := standard_marks.PICOFARAD_TOLERANCES.get(mark)) else []
    small = [value < standard_marks.PICOFARAD_LIMIT_UF for value in values_uF]
    in_picofarads = absolute if not small or any(small) else []
    meanings = absolute + relative if small and small[0] else relative + in_picofarads
    return [_spread(meaning, mark, rank) for rank, meaning in enumerate(meanings)]


def _spread(meaning: standard_marks.Tolerance, mark: str, rank: int) -> MarkingReading:
    value = meaning.high if -meaning.low == meaning.high else (meaning.low, meaning.high)
    hint = "below 10 pF" if meaning.unit == "pF" else None
    if mark == "P":
        hint = "on an electrolytic only -0/+100 % makes sense"
    return MarkingReading("tolerance", value, meaning.unit, str(meaning), meaning.source, mark, hint, rank)


def _voltage(mark: str, *, bare: bool) -> list[MarkingReading]:
    coded = standard_marks.rated_voltage(mark)
    if coded is not None:
        return [_volts(coded, standard_marks.VOLTAGE_SOURCE, mark)]
    if mark in standard_marks.DISPUTED_VOLTAGES:
        disputed = enumerate(standard_marks.DISPUTED_VOLTAGES[mark])
        return [_volts(volts, standard_marks.VOLTAGE_SOURCE, mark, rank + 1) for rank, volts in disputed]
    found = voltage(mark, bare=bare)
    if found is None or (bare and "odd-voltage" in found.doubts and voltage(mark) is None):
        return []
    values = (found.value,) if found.value is not None else found.readings
    return [_volts(value, PRINTED, mark, rank) for rank, value in enumerate(values)]


def _volts(volts: Decimal, source: str, mark: str, rank: int = 0) -> MarkingReading:
    return MarkingReading("voltage", volts.normalize(), "V", format_voltage(volts), source, mark, None, rank)


def _date(mark: str, year: int) -> list[MarkingReading]:
    """Return the dates a mark can mean: letter and month, four digits, or one digit and a week."""
    if len(mark) == 2 and mark[0] in standard_marks.YEAR_LETTERS and mark[1] in standard_marks.MONTH_CHARACTERS:  # noqa: PLR2004
        month = standard_marks.MONTH_CHARACTERS.index(mark[1]) + 1
        hint = "year letters repeat every 20 years: the age of the set decides"
        years = standard_marks.years_of(mark[0], year)
        return [_dated(f"{found}-{month:02d}", standard_marks.IEC, mark, hint, 0) for found in years]
    if re.fullmatch(r"[0-9]{4}", mark):
        return list(_four_digits(mark, year))
    if re.fullmatch(r"[0-9]{3}", mark) and 1 <= int(mark[1:]) <= 53:  # noqa: PLR2004 - weeks
        hint = "last digit of the year and the week; it repeats every 10 years"
        years = tuple(range(1970 + int(mark[0]), year + 1, 10))
        return [_dated(f"{found}-W{mark[1:]}", COMMON, mark, hint, 3) for found in years]
    return []


def _four_digits(mark: str, year: int) -> Iterator[MarkingReading]:
    """Yield ``1208`` as 2012 week 8 (IEC 60062), then as year and month, then as week and year."""
    first, second = int(mark[:2]), int(mark[2:])
    for short, number, source, rank in ((first, second, standard_marks.IEC, 0), (second, first, COMMON, 2)):
        found = short + (2000 if short <= year % 100 else 1900)
        if found >= 1960 and 1 <= number <= 53:  # noqa: PLR2004 - weeks
            hint = "year and week" if rank == 0 else "week and year"
            yield _dated(f"{found}-W{number:02d}", source, mark, hint, rank)
        if found >= 1960 and rank == 0 and 1 <= number <= 12:  # noqa: PLR2004 - months
            yield _dated(f"{found}-{number:02d}", COMMON, mark, "year and month, on large cans", 1)


def _dated(iso: str, source: str, mark: str, hint: str, rank: int) -> MarkingReading:
    """Return a date; of several years the one nearest the usual age of such sets ranks first."""
    far = 0 if abs(int(iso[:4]) - _TYPICAL_YEAR) <= 10 else 1  # noqa: PLR2004 - half of the 20-year cycle
    return MarkingReading("date", iso, None, iso.replace("-W", " week "), source, mark, hint, rank + far)


# --- marks run together ----------------------------------------------------------------------


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
    values = _value(value) if match is not None and (head or tail) else []
    if match is None or not values or (value.isdigit() and len(value) < 3):  # noqa: PLR2004 - 10K is a resistor
        return []
    if match["volts"] and not (match["tolerance"] or match["unit"]):
        return []
    readings = [*values, *(_voltage(head, bare=False) if head else [])]
    if match["tolerance"]:
        likeliest_first = sorted(values, key=lambda reading: reading.rank)
        farads = [reading.value for reading in likeliest_first if isinstance(reading.value, Decimal)]
        spreads = _tolerance(match["tolerance"], tuple(value / _PICO for value in farads))
        if not spreads:
            return []
        readings += spreads
    volts = match["code"] or (match["volts"] and match["volts"] + "V")
    if volts:
        rated = _voltage(volts, bare=False)
        if not rated:
            return []
        readings += rated
    return readings


def _better(found: list[MarkingReading], best: list[MarkingReading]) -> bool:
    return not best or _oddness(found) < _oddness(best)


def _oddness(readings: list[MarkingReading]) -> int:
    """Count what no part bears: a value of no series, a voltage of no rating."""
    values = [r.value / _PICO for r in readings if r.kind == "capacitance" and isinstance(r.value, Decimal)]
    ratings = [r.value for r in readings if r.kind == "voltage" and isinstance(r.value, Decimal)]
    odd = not any(map(preferred.is_standard_or_historic, values))
    return odd + sum(not preferred.is_rated_voltage(volts) for volts in ratings)
