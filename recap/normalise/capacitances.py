"""One capacitance in text: every spelling of old and new lists, in µF, exact.

The words stand as data; the readers try, in this order, an IEC 60062 letter code, a number with its
unit, a farad whose prefix is lost, and a bare number. A value no series has is doubted, never changed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from typing import Final

from recap.normalise import preferred
from recap.normalise.decimals import EXPONENT, MAX_LENGTH, MISREAD, misread_number, number, tidy
from recap.normalise.later import compiled
from recap.normalise.reading import CACHE_SIZE, OR, Reading, doubted, guarded

MICRO: Final = Decimal(1)
NANO: Final = Decimal("1e-3")
PICO: Final = Decimal("1e-6")
MILLI: Final = Decimal("1e3")
FARAD: Final = Decimal("1e6")

_MICRO_WORDS: Final = (
    "u uf ufd u.f. ufarad mu muf mikrof "
    "mf mfd mfds mfarad m.f. m.f.d. micro microf microfarad microfarads mikro mikrofarad "
    "microfaradio microfaradios mikrofarady mikrofarada mikrofaradów mikrofaradow mikrofaradů mikrofaradu "
    "мкф мф микрофарад микрофарада микрофарады"
)
_NANO_WORDS: Final = "n nf n.f. nfd nanofarad nanofarads nanofaradio kpf нф"
_PICO_WORDS: Final = "p pf p.f. pfd picofarad picofarads picofaradio pikofarad mmf mmfd m.m.f. m.m.f.d. uuf uufd uu пф"
_FARAD_WORDS: Final = frozenset(("f", "farad", "farads"))
IN_FARADS: Final = "farads, with exponents"
"""The unit of a column of farads in which no prefix is lost, also as it is shown: its numbers have exponents."""
UNITS: Final[dict[str, Decimal]] = {
    **dict.fromkeys((word.rstrip(".") for word in _MICRO_WORDS.split()), MICRO),
    **dict.fromkeys((word.rstrip(".") for word in _NANO_WORDS.split()), NANO),
    **dict.fromkeys((word.rstrip(".") for word in _PICO_WORDS.split()), PICO),
}
"""µF per unit, by the unit in lower case with µ written u and without a final point.

In lists mf, mF and MF are µF and mmf is pF (old trade writing); milli stands only in letter codes.
"""
LONGEST_FIRST: Final = tuple(sorted(UNITS, key=len, reverse=True))
_LETTERS: Final = {"u": MICRO, "µ": MICRO, "n": NANO, "p": PICO, "m": MILLI, "R": MICRO, "r": MICRO}
"""µF per unit of the letter that stands for the decimal point (IEC 60062); R is the point of a bare number."""

_LETTER_CODE: Final = compiled(
    r"(?![UNP]|1N[0-9]{2}|[0-9]+[UNP][0-9]{3})"  # U3 and P5 are no values, nor are 1N60 and 2N2222
    r"(?P<whole>[0-9]{0,9})(?P<letter>[uUµnNpPmRr])(?P<part>[0-9]{1,12})[fF]?"
)
_DIGIT_CODE: Final = compiled(r"(?P<figures>[1-9][0-9])(?P<power>[0-9])(?P<tolerance>[BCDFGHJKMNQSTZ])?")
_CODE_OR_AMOUNT: Final = compiled(r"(?P<figures>[1-9][0-9])(?P<power>[1-7])(?P<letter>[NP])")
_FARADS: Final = compiled(r"(?P<number>.*[0-9.,])\s?(?P<lost>[?\ufffd]\s?)?(?:f|fd|farad|farads)", re.IGNORECASE)
_MILLI_OR_MICRO: Final = compiled(r"(?P<number>[0-9.,]+)\s?m")
_TOLERANCE_LETTER: Final = compiled(r"(?P<value>.*(?:[a-zµF]|[0-9][PNU]).*?)\s?(?P<tolerance>[GHJKMNQSTZ])")
_PREFIX_LAST: Final = compiled(r".*[0-9]\s?[uUµnNpPmM]")
"""With an H behind it this is an inductance: without a figure behind the prefix no letter code ends here."""
_HENRY_CODE: Final = compiled(r"[0-9]*[uµnm][0-9]+H")
"""``4u7H``: a capacitance of ±2.5 or ±3 % (IEC 60062), or an inductance written alike."""
_TOLERANCE_PERCENT: Final = compiled(
    r"(?P<value>.*?)[ ,(]*"
    r"(?P<tolerance>(?:±|\+/-|\+-)? ?[0-9]{1,2}(?:[.,][0-9])? ?%|-[0-9]{1,2} ?[/+]{1,2}[0-9]{1,3} ?%)\)?"
)
_MANTISSAS: Final = frozenset(preferred.E24) | {Decimal("2.5"), Decimal(4), Decimal(5), Decimal(6), Decimal(8)}
_CLEAR_POWERS: Final = "34567"
"""With these a second reading in µF would be 10,000 µF and more: not doubted (common practice)."""
_TINY: Final = {"8": Decimal("0.01"), "9": Decimal("0.1")}
"""The third digits 8 and 9 also stand for hundredths and tenths of a pF."""
_TIGHT: Final = "BCDFGHJK"
"""Tolerances of 10 % and less are film's and ceramic's, whose codes count in pF (common practice)."""
_LARGEST_UF: Final = Decimal("1e7")
_SMALLEST_UF: Final = Decimal("1e-7")


def capacitance(text: str, unit: str | None = None) -> Reading | None:
    """Read the whole text as one capacitance in µF, or return None where it isn't one.

    ``unit`` is what a header states (``"uF"``, ``"nF"``, ``"pF"``): a bare number then has that unit and
    no doubt. Sections (``50+50µF``) and pairs (``100/16``) are not one capacitance: see :func:`sections`
    and :func:`capacitance_and_voltage`.
    """
    return _read(text, unit) if len(text) <= MAX_LENGTH else None


@lru_cache(CACHE_SIZE)
def _read(text: str, unit: str | None) -> Reading | None:
    return guarded(text, lambda tidied: _capacitance(tidied, unit))


def _capacitance(text: str, unit: str | None) -> Reading | None:
    return _sound(text, unit) or _with_tolerance(text, unit) or _alternatives(text)


def _sound(text: str, unit: str | None) -> Reading | None:
    found = _letters(text)
    if found is not None and found.value and preferred.in_series(found.value, "E96"):
        return found  # 33µ2: three figures in a letter code are printed, not measured
    return _checked(found or plain_capacitance(text, unit))


def plain_capacitance(text: str, unit: str | None) -> Reading | None:
    """Read tidied text as one capacitance without asking whether any series has it."""
    return _letters(text) or _code_or_amount(text) or _amount(text) or _odd_prefix(text) or _bare(text, unit)


def _checked(reading: Reading | None) -> Reading | None:
    """Doubt a value that no series has; zero is no capacitance."""
    if reading is None or reading.value is None:
        return reading
    if reading.value == 0:
        return None
    if not _SMALLEST_UF <= reading.value <= _LARGEST_UF:
        return doubted(reading, "implausible-value")
    if preferred.looks_measured(reading.value):
        return doubted(reading, "looks-measured")
    return reading if preferred.is_standard_or_historic(reading.value) else doubted(reading, "no-preferred-value")


def _letters(text: str) -> Reading | None:
    """``4u7 4µ7 4n7 R47 0R47 p33 µ47 33µ2 m10 1m0``: the letter is unit and decimal point (IEC 60062)."""
    match = _LETTER_CODE.fullmatch(text)
    if match is None:
        return None
    letter = match["letter"] if match["letter"] in _LETTERS else match["letter"].lower()
    value = Decimal(f"{match['whole'] or 0}.{match['part']}") * _LETTERS[letter]
    bare = letter in "Rr" and value >= 1
    return Reading(value, ("unit-missing",) if bare else ())


def _code_or_amount(text: str) -> Reading | None:
    """``475N``, ``104P``: a code with its tolerance letter, or an amount of nF or pF; nothing decides."""
    match = _CODE_OR_AMOUNT.fullmatch(text)
    if match is None:
        return None
    coded = Decimal(match["figures"]).scaleb(int(match["power"])) * PICO
    amount = Decimal(match["figures"] + match["power"]) * UNITS[match["letter"].lower()]
    return Reading(None, ("three-digit-code",), (coded, amount))


def _amount(text: str) -> Reading | None:
    """Read a number with its unit behind it."""
    lowered = text.lower().replace("µ", "u").removesuffix(".")
    if not lowered.isascii() and len(lowered) != len(text.removesuffix(".")):
        return None
    for unit in LONGEST_FIRST:
        if lowered.endswith(unit):
            amount = text.removesuffix(".")[: -len(unit)].strip()
            micro = unit in {"uf", "u"}
            if micro and (point := _K_FOR_POINT.fullmatch(amount)):
                read = _scaled(f"{point[1]}.{point[2]}", UNITS[unit] * 1000)
                return None if read is None else doubted(read, "kilo-point")
            kilo = _KILO.fullmatch(amount) if micro else None
            return _scaled(kilo[1], UNITS[unit] * 1000) if kilo else _scaled(amount, UNITS[unit])
    return None


_KILO: Final = compiled(r"([0-9][0-9.,]*)\s?k")
"""``10 kµF`` of old power supplies."""
_K_FOR_POINT: Final = compiled(r"^([0-9]{1,3})[Kk]([0-9]{1,2})$")
"""``2K2 µF``: the K of IEC 60062 and the unit as well (common practice)."""


_R_FOR_POINT: Final = compiled(r"^([0-9]*)[Rr]([0-9]+)$")
"""``4R7 µF``, ``R47 µF``: the R of IEC 60062 and the unit as well (common practice)."""


def _scaled(text: str, unit_uF: Decimal) -> Reading | None:
    text = _R_FOR_POINT.sub(r"\1.\2", text)
    found = number(text) or misread_number(text)
    if found is None:
        return None
    if (lost := _point_lost(text)) is not None:
        return Reading(None, (*found.doubts, "point-lost"), tuple(reading * unit_uF for reading in lost))
    grouped = unit_uF == PICO and found.doubts == ("thousands-or-decimal",)  # nobody measures thousandths of a pF
    value = found.readings[-1] if grouped else found.value
    value = None if value is None else value * unit_uF
    return Reading(value, found.doubts, tuple(reading * unit_uF for reading in found.readings))


def _point_lost(text: str) -> tuple[Decimal, ...] | None:
    """Return what ``047`` may be, a whole number with a zero in front: .047, 0.47 or 47. None for other numbers."""
    digits = text.strip().translate(MISREAD)
    if not _ZERO_LEADS.fullmatch(digits) or not digits.strip("0"):
        return None
    return Decimal(f".{digits}"), Decimal(f"{digits[0]}.{digits[1:]}"), Decimal(digits)


_ZERO_LEADS: Final = compiled(r"0[0-9]{1,5}")


def _odd_prefix(text: str) -> Reading | None:
    """Read a number whose prefix is missing or has two meanings: ``47F``, ``47 ?F``, ``100m``."""
    if match := _MILLI_OR_MICRO.fullmatch(text):
        found = number(match["number"])
        if found is None or found.value is None:
            return None
        return Reading(None, ("milli-or-micro",), (found.value, found.value * MILLI))
    match = _FARADS.fullmatch(text)
    found = number(match["number"]) if match else None
    if match is None or found is None or found.value is None:
        return None
    if EXPONENT.fullmatch(match["number"].strip()) and not match["lost"]:
        return Reading(found.value * FARAD)  # ``4.7E-6 F``: nobody counts prefixes besides
    if match["lost"] or found.value >= 10:  # noqa: PLR2004 - no part of a set has 10 F
        return Reading(found.value, ("prefix-missing", *found.doubts))
    return Reading(None, ("prefix-missing",), (found.value, found.value * FARAD))


def _bare(text: str, unit: str | None) -> Reading | None:
    """Read a number without a unit: the header's, a three-digit code, or µF (doubted from 1 up)."""
    if unit is not None:
        named = tidy(unit).lower().replace("µ", "u").removesuffix(".")
        if named in _FARAD_WORDS and (lost := _odd_prefix(f"{text}F")):
            return lost  # ``Value (F)``: a list in farads, or one that has lost its µ
        factor = FARAD if named == IN_FARADS else UNITS.get(named)
        if factor is not None and (stated := _scaled(text, factor)):
            return stated
    if match := _DIGIT_CODE.fullmatch(text):
        return _digits(match["figures"], match["power"], match["tolerance"])
    return _number(text)


def _number(text: str) -> Reading | None:
    """Read a number that nothing gives a unit: µF, doubted from 1 up; with an exponent farads."""
    found = number(text)
    if found is None:
        return None
    if found.value is not None and EXPONENT.fullmatch(text):
        return Reading(found.value * FARAD, ("unit-missing",))  # what needs an exponent counts in farads
    bare = found.value is not None and found.value >= 1
    if (readings := _point_lost(text)) is not None:
        return Reading(None, ("point-lost",), readings)
    return Reading(found.value, found.doubts + (("unit-missing",) if bare else ()), found.readings)


def _digits(figures: str, power: str, tolerance: str | None) -> Reading | None:
    """Read three digits: a code in pF where they can't be a plain number of µF, else that number, doubted.

    475 and 104K are codes; 220 may be 22 pF, 22 µF or 220 µF and is taken as µF; 102 is 1 nF by the code, but
    1000 µF in part numbers of electrolytics. ``220K`` is more likely a resistor: None.
    """
    literal = Decimal(figures + power)
    coded = Decimal(figures).scaleb(int(power)) * PICO
    is_code = power != "0" and Decimal(figures).scaleb(-1) in _MANTISSAS
    if tolerance is not None and not is_code:
        return None
    if not is_code or (tolerance is None and preferred.is_standard_or_historic(literal)):
        in_code = (Decimal(figures), Decimal(figures) * PICO) if power == "0" else (coded,) if is_code else ()
        return Reading(literal, ("unit-missing",), (literal, *in_code) if in_code else ())
    if power in _TINY:
        return Reading(None, ("three-digit-code",), (coded, Decimal(figures) * _TINY[power] * PICO), tolerance)
    if power in _CLEAR_POWERS or (tolerance is not None and tolerance in _TIGHT):
        return Reading(coded, tolerance=tolerance)
    return Reading(coded, ("three-digit-code",), (coded, Decimal(figures).scaleb(int(power))), tolerance)


def _with_tolerance(text: str, unit: str | None) -> Reading | None:
    for pattern in (_TOLERANCE_PERCENT, _TOLERANCE_LETTER):
        match = pattern.fullmatch(text)
        found = _sound(match["value"].rstrip(" (,"), unit) if match else None
        if match is not None and found is not None:
            if match["tolerance"] == "H" and _PREFIX_LAST.fullmatch(match["value"]):
                return None  # 10 µH
            found = replace(found, tolerance=match["tolerance"].replace(" ", ""))
            return doubted(found, "henry-or-tolerance") if _HENRY_CODE.fullmatch(text) else found
    return None


def _alternatives(text: str) -> Reading | None:
    """``47-100uF``, ``47uF or 100uF``: no value but the readings; the same value twice is that value."""
    parts = [part for part in OR.split(text) if part]
    if not 2 <= len(parts) <= 4:  # noqa: PLR2004 - more is a list
        return None
    last = _letters(parts[-1]) or _amount(parts[-1])
    if last is None or last.value is None:
        return None
    unit = next((word for word in LONGEST_FIRST if parts[-1].lower().replace("µ", "u").endswith(word)), None)
    found = [plain_capacitance(part, unit) for part in parts]
    values = [reading.value for reading in found if reading is not None and reading.value is not None]
    if len(values) != len(parts):
        return None
    if len(set(values)) == 1 and all(_letters(part) or _amount(part) for part in parts):
        return _checked(found[0])
    return Reading(None, ("alternatives",), tuple(dict.fromkeys(values)))
