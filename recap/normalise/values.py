"""Capacitances and rated voltages, read from text and written to it.

With its siblings for plain numbers (:mod:`recap.normalise.decimals`) and whole markings
(:mod:`recap.normalise.markings`) this is the only place that knows how a capacitance, a voltage or
an IEC 60062 code is spelt. Every reader is total: a value, or nothing and the reason as doubt
codes, or None where the text is no such quantity. Values are µF and V, exact.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise import preferred
from recap.normalise.decimals import MAX_LENGTH, misread_number, number, tidy

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity read. ``value`` is None where nothing decides between ``readings``.

    ``doubts`` are codes of :data:`recap.codes.LISTS`. ``tolerance`` is what stood behind the value
    (``K``, ``20%``), ``ac`` tells that a voltage was marked as alternating.
    """

    value: Decimal | None
    doubts: tuple[str, ...] = ()
    readings: tuple[Decimal, ...] = ()
    tolerance: str | None = None
    ac: bool = False


# --- words -----------------------------------------------------------------------------------

_MICRO: Final = Decimal(1)
_NANO: Final = Decimal("1e-3")
_PICO: Final = Decimal("1e-6")
_MILLI: Final = Decimal("1e3")
_FARAD: Final = Decimal("1e6")

_MICRO_WORDS: Final = (
    "u uf ufd ufarad mf mfd mfds mfarad m.f. m.f.d. micro microf microfarad microfarads mikro mikrofarad "
    "microfaradio microfaradios мкф мф"
)
_NANO_WORDS: Final = "n nf nfd nanofarad nanofarads nanofaradio kpf нф"
_PICO_WORDS: Final = "p pf pfd picofarad picofarads picofaradio pikofarad mmf mmfd m.m.f. m.m.f.d. uuf uufd uu пф"
UNITS: Final[dict[str, Decimal]] = {
    **dict.fromkeys((word.rstrip(".") for word in _MICRO_WORDS.split()), _MICRO),
    **dict.fromkeys((word.rstrip(".") for word in _NANO_WORDS.split()), _NANO),
    **dict.fromkeys((word.rstrip(".") for word in _PICO_WORDS.split()), _PICO),
}
"""µF per unit, by the unit in lower case with µ written u and without a final point.

In lists mf, mF and MF are µF and mmf is pF (old trade writing); milli stands only in letter codes.
"""
_LONGEST_FIRST: Final = tuple(sorted(UNITS, key=len, reverse=True))
_LETTERS: Final = {"u": _MICRO, "µ": _MICRO, "n": _NANO, "p": _PICO, "m": _MILLI, "R": _MICRO}
"""µF per unit of the letter that stands for the decimal point (IEC 60062); R is the point of a bare number."""

_LETTER_CODE: Final = re.compile(r"(?P<whole>[0-9]{0,4})(?P<letter>[uUµnNpPmR])(?P<part>[0-9]{1,4})[fF]?")
_DIGIT_CODE: Final = re.compile(r"(?P<figures>[1-9][0-9])(?P<power>[0-9])(?P<tolerance>[BCDFGHJKMNQSTZ])?")
_FARADS: Final = re.compile(r"(?P<number>.*[0-9.,])\s?(?P<lost>[?\ufffd]\s?)?(?:f|fd|farad|farads)", re.IGNORECASE)
_MILLI_OR_MICRO: Final = re.compile(r"(?P<number>[0-9.,]+)\s?m")
_TOLERANCE_LETTER: Final = re.compile(r"(?P<value>.*[a-zµF].*?)\s?(?P<tolerance>[GHJKMNQSTZ])")
_TOLERANCE_PERCENT: Final = re.compile(
    r"(?P<value>.*?)[ ,(]*"
    r"(?P<tolerance>(?:±|\+/-|\+-)? ?[0-9]{1,2}(?:[.,][0-9])? ?%|-[0-9]{1,2} ?[/+]{1,2}[0-9]{1,3} ?%)\)?"
)
_UNSURE: Final = re.compile(
    r"(?P<before>\?|~|≈|ca\.?|approx\.?|about|circa|etwa)?\s?(?P<value>.*?)\s?(?P<after>\(\?+\)|\?+)?", re.IGNORECASE
)
_OR: Final = re.compile(r"\s?(?:/|-|~|…|\.\.+|\||\bor\b|\boder\b|\bou\b|\bof\b|\bto\b|\bbis\b)\s?", re.IGNORECASE)
_MANTISSAS: Final = frozenset(preferred.E24) | {Decimal("2.5"), Decimal(4), Decimal(5), Decimal(6), Decimal(8)}
_CLEAR_POWERS: Final = "4567"
_TIGHT: Final = "BCDFGHJK"
_LARGEST_UF: Final = Decimal("1e7")
_SMALLEST_UF: Final = Decimal("1e-7")


# --- capacitance -----------------------------------------------------------------------------


def capacitance(text: str, unit: str | None = None) -> Reading | None:
    """Read the whole text as one capacitance in µF, or return None where it isn't one.

    ``unit`` is what a header states (``"uF"``, ``"nF"``, ``"pF"``): a bare number then has that unit and
    no doubt. Sections (``50+50µF``) and pairs (``100/16``) are not one capacitance: see :func:`sections`
    and :func:`capacitance_and_voltage`.
    """
    return _guarded(text, lambda tidied: _capacitance(tidied, unit))


def _guarded(text: str, read: Callable[[str], Reading | None]) -> Reading | None:
    if len(text) > MAX_LENGTH:
        return None
    match = _UNSURE.fullmatch(tidy(text))
    if match is None or not match["value"]:
        return None
    found = read(match["value"])
    if found is None:
        return None
    value = None if found.value is None else _neat(found.value)
    found = replace(found, value=value, readings=tuple(map(_neat, found.readings)))
    unsure = value is not None and (match["before"] or match["after"])
    return _doubted(found, "marked-uncertain") if unsure else found


def _neat(value: Decimal) -> Decimal:
    """Return the same number without zeros behind its point and without a positive exponent."""
    whole = value.to_integral_value()
    return whole.quantize(_MICRO) if value == whole else value.normalize()


def _doubted(reading: Reading, *codes: str) -> Reading:
    return replace(reading, doubts=tuple(dict.fromkeys((*reading.doubts, *codes))))


def _capacitance(text: str, unit: str | None) -> Reading | None:
    return _sound(text, unit) or _with_tolerance(text, unit) or _alternatives(text)


def _sound(text: str, unit: str | None) -> Reading | None:
    found = _letters(text)
    if found is not None and found.value and preferred.in_series(found.value, "E96"):
        return found  # 33µ2: three figures in a letter code are printed, not measured
    return _checked(found or _plain_capacitance(text, unit))


def _plain_capacitance(text: str, unit: str | None) -> Reading | None:
    return _letters(text) or _amount(text) or _odd_prefix(text) or _bare(text, unit)


def _checked(reading: Reading | None) -> Reading | None:
    """Doubt a value that no series has; zero is no capacitance."""
    if reading is None or reading.value is None:
        return reading
    if reading.value == 0:
        return None
    if not _SMALLEST_UF <= reading.value <= _LARGEST_UF:
        return _doubted(reading, "implausible-value")
    if preferred.looks_measured(reading.value):
        return _doubted(reading, "looks-measured")
    return reading if preferred.is_standard_or_historic(reading.value) else _doubted(reading, "no-preferred-value")


def _letters(text: str) -> Reading | None:
    """``4u7 4µ7 4n7 R47 0R47 p33 µ47 33µ2 m10 1m0``: the letter is unit and decimal point (IEC 60062)."""
    match = _LETTER_CODE.fullmatch(text)
    if match is None:
        return None
    letter = match["letter"] if match["letter"] in _LETTERS else match["letter"].lower()
    value = Decimal(f"{match['whole'] or 0}.{match['part']}") * _LETTERS[letter]
    bare = letter == "R" and value >= 1
    return Reading(value, ("unit-missing",) if bare else ())


def _amount(text: str) -> Reading | None:
    """Read a number with its unit behind it."""
    lowered = text.lower().replace("µ", "u").removesuffix(".")
    if not lowered.isascii() and len(lowered) != len(text.removesuffix(".")):
        return None
    for unit in _LONGEST_FIRST:
        if lowered.endswith(unit):
            return _scaled(text.removesuffix(".")[: -len(unit)].strip(), UNITS[unit])
    return None


def _scaled(text: str, unit_uF: Decimal) -> Reading | None:
    text = re.sub(r"(?<=[0-9])R(?=[0-9])", ".", text) if text.count("R") == 1 else text
    found = number(text) or misread_number(text)
    if found is None:
        return None
    value = None if found.value is None else found.value * unit_uF
    return Reading(value, found.doubts, tuple(reading * unit_uF for reading in found.readings))


def _odd_prefix(text: str) -> Reading | None:
    """Read a number whose prefix is missing or has two meanings: ``47F``, ``47 ?F``, ``100m``."""
    if match := _MILLI_OR_MICRO.fullmatch(text):
        found = number(match["number"])
        if found is None or found.value is None:
            return None
        return Reading(None, ("milli-or-micro",), (found.value, found.value * _MILLI))
    match = _FARADS.fullmatch(text)
    found = number(match["number"]) if match else None
    if match is None or found is None or found.value is None:
        return None
    if match["lost"] or found.value >= 10:  # noqa: PLR2004 - no part of a set has 10 F
        return Reading(found.value, ("prefix-missing", *found.doubts))
    return Reading(None, ("prefix-missing",), (found.value, found.value * _FARAD))


def _bare(text: str, unit: str | None) -> Reading | None:
    """Read a number without a unit: the header's, a three-digit code, or µF (doubted from 1 up)."""
    if unit is not None:
        factor = UNITS.get(tidy(unit).lower().replace("µ", "u").removesuffix("."))
        if factor is not None and (stated := _scaled(text, factor)):
            return stated
    if match := _DIGIT_CODE.fullmatch(text):
        return _digits(match["figures"], match["power"], match["tolerance"])
    found = number(text)
    if found is None:
        return None
    bare = found.value is not None and found.value >= 1
    return Reading(found.value, found.doubts + (("unit-missing",) if bare else ()), found.readings)


def _digits(figures: str, power: str, tolerance: str | None) -> Reading | None:
    """Read three digits: a code in pF where they can't be a plain number of µF, else that number, doubted.

    475 and 104K are codes; 220 may be 22 pF, 22 µF or 220 µF and is taken as µF; 102 is 1 nF by the code, but
    1000 µF in part numbers of electrolytics. ``220K`` is more likely a resistor: None.
    """
    literal = Decimal(figures + power)
    coded = Decimal(figures).scaleb(int(power)) * _PICO
    is_code = power != "0" and Decimal(figures).scaleb(-1) in _MANTISSAS
    if tolerance is not None and not is_code:
        return None
    if not is_code or (tolerance is None and preferred.is_standard_or_historic(literal)):
        in_code = (Decimal(figures), Decimal(figures) * _PICO) if power == "0" else ()
        return Reading(literal, ("unit-missing",), (literal, *in_code) if in_code else ())
    if power in _CLEAR_POWERS or (tolerance is not None and tolerance in _TIGHT):
        return Reading(coded, tolerance=tolerance)
    # 8 and 9 also stand for 0.01 and 0.1 pF; 1 to 3 also count in µF (see the docstring)
    other = {"8": Decimal("0.01"), "9": Decimal("0.1")}.get(power)
    second = Decimal(figures).scaleb(int(power)) if other is None else Decimal(figures) * other * _PICO
    return Reading(coded, ("three-digit-code",), (coded, second), tolerance)


def _with_tolerance(text: str, unit: str | None) -> Reading | None:
    for pattern in (_TOLERANCE_PERCENT, _TOLERANCE_LETTER):
        match = pattern.fullmatch(text)
        found = _sound(match["value"].rstrip(" (,"), unit) if match else None
        if match is not None and found is not None:
            return replace(found, tolerance=match["tolerance"].replace(" ", ""))
    return None


def _alternatives(text: str) -> Reading | None:
    """``47-100uF``, ``47uF or 100uF``: no value but the readings; the same value twice is that value."""
    parts = [part for part in _OR.split(text) if part]
    if not 2 <= len(parts) <= 4:  # noqa: PLR2004 - more is a list
        return None
    last = _letters(parts[-1]) or _amount(parts[-1])
    if last is None or last.value is None:
        return None
    unit = next((word for word in _LONGEST_FIRST if parts[-1].lower().replace("µ", "u").endswith(word)), None)
    found = [_plain_capacitance(part, unit) for part in parts]
    values = [reading.value for reading in found if reading is not None and reading.value is not None]
    if len(values) != len(parts):
        return None
    if len(set(values)) == 1 and all(_letters(part) or _amount(part) for part in parts):
        return _checked(found[0])
    return Reading(None, ("alternatives",), tuple(dict.fromkeys(values)))


# --- voltage ---------------------------------------------------------------------------------

_VOLT_UNIT: Final = re.compile(
    r"(?P<front>AC|DC)?\s?(?P<number>[0-9OolI|SBZ.,' ]*?)\s?(?P<kilo>[kK])?"
    r"(?:V\.?\s?(?P<ac>AC|A\.C\.?|~)|W\.?\s?V\.?\s?(?P<wac>AC)|W\.?\s?V\.?\s?(?:DC)?|V\.?\s?W|"
    r"V\.?\s?(?:DC|D\.C\.?|=|-)?|volts?\s?(?P<voltsac>AC)?(?:DC)?|volt|вольт|в)\.?",
    re.IGNORECASE,
)
_VOLT_CODE: Final = re.compile(r"(?P<whole>[0-9]{1,4})(?P<kilo>[kK])?[vV](?P<part>[0-9]{1,2})(?:DC|dc)?")


def voltage(text: str, *, bare: bool = False) -> Reading | None:
    """Read the whole text as one voltage in V, or return None where it isn't one.

    A naked number is a voltage only with ``bare`` (a column of volts). ``25/50 V`` has no value, both
    readings and the doubt ``alternatives``; a number no part is marked with is doubted ``odd-voltage``.
    """
    return _guarded(text, lambda tidied: _voltage(tidied, bare=bare))


def _voltage(text: str, *, bare: bool) -> Reading | None:
    found = _plain_voltage(text, bare=bare)
    if found is None:
        return _either_voltage(text, bare=bare)
    if found.value is None:
        return found
    if found.value == 0:
        return None
    return found if preferred.is_rated_voltage(found.value) else _doubted(found, "odd-voltage")


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
        ac = any(match[name] for name in ("ac", "wac", "voltsac")) or (match["front"] or "").upper() == "AC"
    volts = None if found.value is None else found.value * factor
    return Reading(volts, found.doubts, tuple(reading * factor for reading in found.readings), ac=ac)


def _either_voltage(text: str, *, bare: bool) -> Reading | None:
    parts = [part.rstrip("? ") for part in _OR.split(text) if part]
    if not 2 <= len(parts) <= 4:  # noqa: PLR2004 - more is a list
        return None
    if not bare and _plain_voltage(parts[-1], bare=False) is None:
        return None
    found = [_plain_voltage(part, bare=True) for part in parts]
    values = [reading.value for reading in found if reading is not None and reading.value is not None]
    if len(values) != len(parts):
        return None
    return Reading(None, ("alternatives",), tuple(dict.fromkeys(values)))


# --- pairs and sections ----------------------------------------------------------------------

_PAIR_BREAK: Final = re.compile(r"\s?/\s?|\s?@\s?|\s?,\s|\s?-\s?|\s")


def capacitance_and_voltage(text: str) -> tuple[Reading, Reading] | None:
    """Read ``100/16``, ``100µ/16V``, ``100uF 16V``, ``16V 100uF`` as a capacitance and a voltage.

    Without units only the slash makes a pair, and then no unit is missing. Equal numbers (``50/50``) may be
    two sections and are doubted ``pair-or-sections``.
    """
    if len(text) > MAX_LENGTH:
        return None
    tidied = tidy(text)
    for match in _PAIR_BREAK.finditer(tidied):
        left, right = tidied[: match.start()], tidied[match.end() :]
        found = _pair(left, right, slash="/" in match[0]) or _pair(right, left, slash=False)
        if found is not None:
            return found
    return None


def _pair(left: str, right: str, *, slash: bool) -> tuple[Reading, Reading] | None:
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
        value = replace(value, doubts=tuple(code for code in value.doubts if code != "unit-missing"))
        bare = not named and number(left) is not None
        return (_doubted(value, "pair-or-sections"), volts) if bare and value.value == volts.value else (value, volts)
    value = capacitance(left)
    return None if value is None or not named else (value, volts)


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


def _sections(parts: list[str], mark: str) -> tuple[Decimal, ...] | None:
    lowered = parts[-1].lower().replace("µ", "u").removesuffix(".")
    unit = next((word for word in _LONGEST_FIRST if lowered.endswith(word)), None)
    found = [_plain_capacitance(part, unit or "uF") for part in parts]
    values = tuple(reading.value for reading in found if reading is not None and reading.value is not None)
    if len(values) != len(parts) or 0 in values:
        return None
    equal = len(set(values)) == 1
    if mark == "+" or (unit and equal) or (unit and len(parts) > 2):  # noqa: PLR2004 - two may be alternatives
        return values
    return values if mark == "/" and equal and len(parts) > 2 else None  # noqa: PLR2004


# --- writing ---------------------------------------------------------------------------------


def plain(value: Decimal) -> str:
    """Write a number without exponent and without zeros at its end; never so that it reads as thousands."""
    text = f"{value:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    whole, point, part = text.partition(".")
    # 1.234 could be read as one thousand two hundred and thirty-four: a fourth decimal settles it
    return f"{text}0" if point and len(part) == 3 and whole != "0" and len(whole) <= 3 else text  # noqa: PLR2004


def format_capacitance(value_uF: Decimal) -> str:
    """Write a capacitance as the trade does: pF below 1 nF, nF below 0.1 µF, else µF (``4.7 µF``). Exact."""
    if value_uF < _NANO:
        return f"{plain(value_uF / _PICO)} pF"
    return f"{plain(value_uF / _NANO)} nF" if value_uF < Decimal("0.1") else f"{plain(value_uF)} µF"


def letter_code(value_uF: Decimal) -> str:
    """Write a capacitance with the prefix letter as its decimal point: ``4µ7``, ``470n``, ``33p`` (IEC 60062). Exact.

    From 1000 µF up the letter is m (milli) and always has a digit behind it (``10m0``), because ``10m`` is
    10 µF to many.
    """
    letter, factor = next(
        ((letter, factor) for letter, factor in (("m", _MILLI), ("µ", _MICRO), ("n", _NANO)) if value_uF >= factor),
        ("p", _PICO),
    )
    whole, _, part = f"{(value_uF / factor):f}".partition(".")
    part = part.rstrip("0")
    if not part and (letter == "m" or len(whole) == 1):
        part = "0"
    return f"{'' if whole == '0' else whole}{letter}{part}"


def three_digit_code(value_uF: Decimal) -> str | None:
    """Write the three-character code in pF (``475``, ``4R7``), or None where two figures don't hold the value."""
    picofarads = value_uF / _PICO
    if not Decimal("0.1") <= picofarads <= Decimal("99e7") or preferred.figures(picofarads) > 2:  # noqa: PLR2004
        return None
    if picofarads < 10:  # noqa: PLR2004 - below two figures R is the decimal point
        return f"{picofarads:.1f}".replace(".", "R") if picofarads == picofarads.quantize(Decimal("0.1")) else None
    power = picofarads.adjusted() - 1
    return f"{int(picofarads.scaleb(-power))}{power}"


def format_voltage(volts: Decimal) -> str:
    """Write a voltage: ``6.3 V``, ``1000 V``. Exact."""
    return f"{plain(volts)} V"
