"""What one mark can mean, table by table: its values, tolerances, voltages, dates, safety class, temperature."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise import preferred, standard_marks
from recap.normalise.capacitances import capacitance
from recap.normalise.quantities import temperature_C, tolerance_percent
from recap.normalise.voltages import voltage
from recap.normalise.writing import format_capacitance, format_voltage, plain

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class MarkingReading:
    """One thing a mark can mean.

    ``kind`` is capacitance, tolerance, voltage, date, temperature, polarity or safety. ``value`` is a number in
    ``unit`` (F, V, %, pF, °C), a pair (low, high) for an asymmetric tolerance, ISO text for a date, the class
    for safety. ``rank`` 0 is the likeliest.
    """

    kind: str
    value: Decimal | tuple[Decimal, Decimal] | str
    unit: str | None
    text: str
    source: str
    mark: str
    hint: str | None = None
    rank: int = 0


_THREE_DIGITS: Final = re.compile(r"(?P<figures>[0-9]{2})(?P<power>[0-9])")
_POINT_CODE: Final = re.compile(r"(?P<whole>[0-9]{0,2})R(?P<part>[0-9]{1,3})")
_MILLI_CODE: Final = re.compile(r"(?P<whole>[0-9]{0,3})m(?P<part>[0-9]{0,3})")
_LETTER_CODE: Final = re.compile(r"[0-9]{0,3}[µunp][0-9]{0,3}")
_LETTER_WITHIN: Final = re.compile(r"[a-zA-Zµ]")
_SAFETY_CLASS: Final = re.compile(r"X[123]|Y[1234]")
PICO: Final = Decimal("1e-6")
_LARGEST_ELECTROLYTIC_UF: Final = Decimal(68_000)
_TYPICAL_YEAR: Final = 1998
"""The middle of the years whose sets are recapped today (common practice): it ranks dates, it excludes none."""

PART_NUMBERS: Final = "makers' part numbers"
PLAIN_DIGITS: Final = "makers' printing"
DIGIT_CODE: Final = "IEC 60062, EIA-198"
PRINTED: Final = "as printed"
COMMON: Final = "common practice"


# --- values ----------------------------------------------------------------------------------


def _farads(value_uF: Decimal, source: str, mark: str, rank: int = 0, hint: str | None = None) -> MarkingReading:
    text = format_capacitance(value_uF)
    return MarkingReading("capacitance", (value_uF * PICO).normalize(), "F", text, source, mark, hint, rank)


def values(mark: str) -> list[MarkingReading]:
    """Return every capacitance that a mark without tolerance or voltage can mean."""
    if match := _THREE_DIGITS.fullmatch(mark):
        return list(_three_digits(mark, match["figures"], int(match["power"])))
    if match := _POINT_CODE.fullmatch(mark):
        number = Decimal(f"{match['whole'] or 0}.{match['part']}")
        if number == 0:
            return []
        return [
            _farads(number, PART_NUMBERS, mark, hint="R is the decimal point; on an electrolytic the unit is µF"),
            _farads(number * PICO, DIGIT_CODE, mark, 1, "R is the decimal point; on a ceramic part the unit is pF"),
        ]
    if match := _MILLI_CODE.fullmatch(mark):
        return list(_milli(mark, match["whole"], match["part"]))
    small = standard_marks.two_character_value(mark)
    if small is not None:
        return [_farads(small, standard_marks.TWO_CHARACTER_SOURCE, mark, 2, "on small chips")]
    return _written(mark)


def _written(mark: str) -> list[MarkingReading]:
    """Return the readings of a value written as in a list: with its unit, a letter code, a bare number."""
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
            yield _farads(two * tiny * PICO, DIGIT_CODE, mark, 9 - power, f"third digit {power} multiplies by {tiny}")
        large = two.scaleb(power) * PICO
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


def tolerances(mark: str, values_uF: tuple[Decimal, ...] = ()) -> list[MarkingReading]:
    """Return the meanings of a tolerance; a letter counts in pF where the value may be below 10 pF.

    ``0%`` is none: no part is exact.
    """
    stated = tolerance_percent(mark)
    if stated is not None:
        return [_spread(standard_marks.Tolerance(*stated, source=PRINTED), mark, 0)] if any(stated) else []
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


def voltages(mark: str, *, bare: bool) -> list[MarkingReading]:
    """Return the meanings of a voltage, coded or printed; with ``bare`` a rated number alone is one."""
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


def dates(mark: str, year: int) -> list[MarkingReading]:
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


# --- other marks ---------------------------------------------------------------------------


_NO_POLARITY: Final = re.compile(r"[NB]\.?P\.?|BIPOL(?:AR)?|NONPOL(?:AR)?", re.IGNORECASE)
"""``NP``, ``BP``; ``NP0`` is a class of ceramic."""


def class_or_temperature(mark: str) -> MarkingReading | None:
    """Read ``X2``, ``NP`` and ``105C``, which look like a date and a value but on most parts are neither."""
    if _SAFETY_CLASS.fullmatch(mark):
        text = f"safety class {mark}"
        hint = "replace only by an approved part of this class, or a stricter one of the same letter"
        return MarkingReading("safety", mark, None, text, "IEC 60384-14", mark, hint)
    if _NO_POLARITY.fullmatch(mark):
        hint = "no plus and no minus; a polar part never takes its place"
        return MarkingReading("polarity", "bipolar", None, "bipolar", COMMON, mark, hint)
    degrees = temperature_C(mark)
    if degrees is None or degrees.value is None:
        return None
    text = f"{plain(degrees.value)} °C"
    return MarkingReading("temperature", degrees.value, "°C", text, PRINTED, mark, "rated temperature")
