"""Tokens that hold a quantity: capacitances, voltages, pairs, sections, temperatures, sizes, ripple, safety classes."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Final

from recap.normalise import patterns, quantities, sizes, values
from recap.normalise.later import compiled
from recap.normalise.token_joined_pairs import is_usual
from recap.normalise.token_sorts import Scan, Sort, Token, glued, hyphenated
from recap.normalise.words import MENTIONING

_ALTERNATING: Final = compiled(r"\d\s?(?:V\s?)?(?:~|AC\b)", re.IGNORECASE)


def safety_class(scan: Scan, at: int) -> Token | None:
    """Read an X or Y class, in brackets too; ``(X2)`` beside no alternating voltage may be a count."""
    if scan.text[at] == "(":
        within = patterns.SAFETY.match(scan.text, at + 1)
        if within is None or scan.text[within.end() : within.end() + 1] != ")":
            return None
        if within["safety"].upper()[0] == "X" and not _ALTERNATING.search(scan.text):
            return None
        return Token(Sort.SAFETY, f"({within[0]})", at, within.end() + 1, _classes(within))
    match = patterns.SAFETY.match(scan.text, at)
    if match is None or (
        scan.at_start
        and not scan.refs_seen
        and not re.match(
            r"\s*-?(?:\d|class|cap|film|safety|suppress|mains|kond|cond|rated|typ|$|:)",
            scan.text[match.end() :],
            re.IGNORECASE,
        )
    ):
        return None
    if re.match(r"\s?\d[\d.]*\s?MHz", scan.text[match.end() :]):
        return None
    return Token(Sort.SAFETY, match[0], at, match.end(), _classes(match))


def _classes(match: re.Match[str]) -> str:
    return "/".join(re.findall(r"[XY]\d", match["safety"].upper()))


def temperature(scan: Scan, at: int) -> Token | None:
    """Read a rated temperature; of a range its upper end."""
    match = patterns.TEMPERATURE.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    number = int(next(g for g in (match["top"], match["deg"], match["plain"], match["tee"]) if g))
    if number not in patterns.RATED_TEMPERATURES and (match["plain"] or match["top"]):
        return None
    if match["top"] and "C" not in match[0].upper() and "°" not in match[0] and not _is_range(scan.text, match):
        return None
    doubts = () if number in patterns.RATED_TEMPERATURES else ("temp-unusual",)
    return Token(Sort.TEMP, match[0], at, match.end(), number, doubts)


def _is_range(text: str, match: re.Match[str]) -> bool:
    """Tell whether ``-40..105`` is a range of temperatures though no unit stands there, and no tolerance."""
    low = re.match(r"-(\d{2})\s?(?:(?:\.{2,3}|to|bis|~|à|a)\s?\+?|/\s?\+)\d", match[0])
    unit = re.match(r"\s?(?:%|[VvWµunpmkF])", text[match.end() :])
    return low is not None and low[1] in {"25", "40", "55"} and unit is None


def size(scan: Scan, at: int) -> Token | None:
    """Read diameter, height, pitch, or several of them."""
    found = sizes.find(scan.text, at)
    if found is None or (at and scan.text[at - 1] in ".,"):
        return None
    size, end = found
    if _LETTERED.fullmatch(scan.text, at, end) and (
        _OTHER_PART.match(scan.text, end) or _MENTIONED.search(scan.text, max(at - 24, 0), at)
    ):
        return None  # ``R5 220k`` is a resistor, ``see D4`` a diode
    if scan.refs_seen and (_is_spoken_of(scan, at) or not scan.cap_seen) and _POINT_CODE.fullmatch(scan.text, at, end):
        return None  # R47 between a designator and its voltage is 0.47 µF; behind a value it is a lead pitch
    return Token(Sort.SIZE, scan.text[at:end], at, end, size, size.doubts)


def _is_spoken_of(scan: Scan, at: int) -> bool:
    """Tell whether a word in front says that something else is only named: ``across R12``, ``and R5``."""
    return _SPOKEN_OF.search(scan.text, max(at - 14, 0), at) is not None


_CUES: Final = MENTIONING | set("and und et e y en or with mit of".split())
_SPOKEN_OF: Final = compiled(rf"(?<![^\W\d_])(?:{'|'.join(sorted(_CUES))})\s$", re.IGNORECASE)
_POINT_CODE: Final = compiled(r"R\d{1,3}", re.IGNORECASE)
_LETTERED: Final = compiled(r"[DHLPR]\d{1,3}", re.IGNORECASE)
_OTHER_PART: Final = compiled(
    r"[\s:=(,]+(?:is\s|was\s)?(?:\d+(?:[.,]\d+)?\s?(?:[kKM](?:\d|\b)|[kKM]?(?:Ω|ohms?\b)|[uµmn]H\b)|[12][NS]\d)"
    r"|\s(?:burnt|open|fried|diode|coil|choke|connector|plug|socket|resistor|transistor|pot|hole)\b"
)
"""What stands behind the designator of a resistor, a coil, a diode: its value, its type, what it is."""
_SPEAKING: Final = "|".join(sorted(MENTIONING - {"is", "a", "est", "ist", "e"}))
_MENTIONED: Final = compiled(
    rf"(?<![^\W\d_])(?:{_SPEAKING})\s(?:[A-Z]\d{{1,3}}\s?(?:and|und|et|&|,)\s)?$", re.IGNORECASE
)


def pair(scan: Scan, at: int) -> Token | None:
    """Read ``100/16`` and its like: a capacitance and a voltage."""
    match = patterns.PAIR.match(scan.text, at)
    if match is None or glued(scan, at) or _LEADING_ZERO.search(match[0]) or _NAMED_AT.match(match[0]):
        return None
    if scan.last in {Sort.CAP, Sort.SECTIONS} and patterns.VOLTAGES.match(scan.text, at) is not None:
        return None  # ``40+20uF 450/350V``: the value stands there already
    if re.match(r"\s?/\s?\d", scan.text[match.end() :]) and values.sections(_run(scan.text, at)):
        return None
    found = values.capacitance_and_voltage(match[0])
    if found is None:
        return None
    if scan.style.pairs and found[0].doubts == ("pair-or-sections",):
        found = (replace(found[0], doubts=()), found[1])
    return Token(Sort.PAIR, match[0], at, match.end(), found)


_NAMED_AT: Final = compiled(r"[\d.,]+\s?[A-Za-zµ][^@]*@")
"""``470uF @ 25V``: each of the two says what it is."""
_LEADING_ZERO: Final = compiled(r"(?<![\d.,])0\d")
"""``0805``, ``0207/10``: a size or a code, never a quantity."""


def pair_misread(scan: Scan, at: int) -> Token | None:
    """Read ``l000/16`` behind a designator."""
    match = patterns.PAIR_MISREAD.match(scan.text, at) if scan.refs_seen and not scan.cap_seen else None
    if match is None or glued(scan, at):
        return None
    value = values.capacitance(match["value"].translate(_MISREAD), "uF")
    rated = values.voltage(match["volts"].translate(_MISREAD), bare=True)
    if value is None or rated is None or value.doubts or rated.doubts:
        return None
    return Token(Sort.PAIR, match[0], at, match.end(), (value, rated), ("ocr-digit",))


def _run(text: str, at: int) -> str:
    match = patterns.SECTIONS.match(text, at)
    return "" if match is None else match[0]


def sections(scan: Scan, at: int) -> Token | None:
    """Read the sections of one can."""
    match = patterns.SECTIONS.match(scan.text, at)
    if match is None or glued(scan, at) or _LEADING_ZERO.search(match[0]):
        return None
    found = values.sections(match[0])
    return None if found is None else Token(Sort.SECTIONS, match[0], at, match.end(), found)


def sections_by_x(scan: Scan, at: int) -> Token | None:
    """Read ``20x20x20 mfd``: three sections or more."""
    match = None if glued(scan, at) else patterns.SECTIONS_BY_X.match(scan.text, at)
    found = values.sections(re.sub(r"\s?[x×]\s?", "+", match[0], flags=re.IGNORECASE)) if match else None
    return None if match is None or found is None else Token(Sort.SECTIONS, match[0], at, match.end(), found)


def capacitance(scan: Scan, at: int) -> Token | list[Token] | None:
    """Read one capacitance, well written or as scanners and old lists have it."""
    if glued(scan, at) or (scan.text[at].isalpha() and _LETTER_FIRST.match(scan.text, at) is None):
        return None
    for read in (_torn, _written, _milli, _letters_for_digits, _odd_unit):
        found = read(scan, at)
        if found is not None:
            return found if found.start == at else _behind_number(scan.text, at, found)
    return None


def _behind_number(text: str, at: int, value: Token) -> Token | list[Token]:
    """Return a value with the number in front of it that is no part of it (``16 470uF``)."""
    number = text[at : value.start].strip()
    return [Token(Sort.NUMBER, number, at, at + len(number), number), value] if number.isdigit() else value


_LETTER_FIRST: Final = compiled(r"[nµpuR]\d|[OolI|SBZ][OolI|SBZ.,\d]|(?-i:[lI])\s?[uµ]F", re.IGNORECASE)
"""A capacitance that begins with a letter goes on like this: a code, or a number misread."""


def _written(scan: Scan, at: int) -> Token | None:
    for pattern in (patterns.CAPACITANCES, patterns.CAPACITANCE, patterns.CAPACITANCE_MISREAD):
        match = pattern.match(scan.text, at)
        if match is None:
            continue
        text = _without_count(match[0])
        if text.upper().startswith("R") and (scan.cap_seen or not scan.refs_seen or _is_spoken_of(scan, at)):
            return None  # behind a value it is a resistor or a lead pitch, behind ``across`` a neighbour
        reading = values.capacitance(text)
        if _TYPE_PREFIX.match(scan.text, at):
            return None
        named = hyphenated(scan, at) or _NUMBERED.search(scan.text[max(at - 6, 0) : match.end()])
        if reading is not None and not (named and _SINGLE_LETTER.search(text)):
            offset = match[0].rfind(text)
            return Token(Sort.CAP, text, at + max(offset, 0), match.end(), reading, reading.doubts)
    return None


_TYPE_PREFIX: Final = compiled(r"[12][NS]-(?=[A-Za-z]{2})")
"""``1N-type diodes``: the beginning of semiconductors' names."""
_NUMBERED: Final = compiled(r"\d{3,}-\d+F$")
_SINGLE_LETTER: Final = compiled(r"\d\s?[fpnuµ]$", re.IGNORECASE)
"""At the end of a hyphenated word such a letter is no unit: ``TERMINAL-2P``, ``MODULE-12F``."""


def _torn(scan: Scan, at: int) -> Token | None:
    match = patterns.CAPACITANCE_TORN.match(scan.text, at)
    return None if match is None else _doubted(match, match["a"] + match["b"], "ocr-digit")


def _milli(scan: Scan, at: int) -> Token | None:
    """Read ``100m`` behind a designator, which has two meanings."""
    match = patterns.MILLI_OR_MICRO.match(scan.text, at) if scan.refs_seen and not scan.cap_seen else None
    return None if match is None else _doubted(match, match[0])


def _letters_for_digits(scan: Scan, at: int) -> Token | None:
    match = patterns.LETTERS_ONLY.match(scan.text, at)
    return None if match is None else _doubted(match, match["digits"].translate(_MISREAD) + match["unit"], "ocr-digit")


def _odd_unit(scan: Scan, at: int) -> Token | None:
    match = patterns.ODD_UNIT.match(scan.text, at)
    return None if match is None else _doubted(match, f"{match['number']}µF", "unit-misread")


def _doubted(match: re.Match[str], text: str, *doubts: str) -> Token | None:
    reading = values.capacitance(text)
    if reading is None:
        return None
    return Token(Sort.CAP, match[0], match.start(), match.end(), reading, (*reading.doubts, *doubts))


_MISREAD: Final = str.maketrans("OolI|SBZ", "00111582")


def _without_count(text: str) -> str:
    """Drop a number in front of a value where together they make no sense as thousands (``16 470uF``)."""
    match = re.match(r"(\d{1,3}) (\d{3}.*)", text)
    if match is None:
        return text
    whole, alone = values.capacitance(text), values.capacitance(match[2])
    odd = whole is None or not {"no-preferred-value", "looks-measured"}.isdisjoint(whole.doubts)
    unlikely = odd or (is_usual(alone) and not is_usual(whole))
    return match[2] if unlikely and (whole is None or (alone is not None and not alone.doubts)) else text



def volts_list(scan: Scan, at: int) -> Token | None:
    """Read the voltages of a can's sections (``450/450/25 V``)."""
    match = None if glued(scan, at) else patterns.VOLTAGE_LIST.match(scan.text, at)
    reading = values.voltage(match[0]) if match else None
    if match is None or reading is None:
        return None
    return Token(Sort.VOLTS, match[0], at, match.end(), reading, reading.doubts)


_VOLTS_LETTER_FIRST: Final = compiled(
    r"[AD]C|W|V|U\s?[:=]|rated|Spannung|tension|[OolI|SBZ][OolI|SBZ.,\d]", re.IGNORECASE
)
"""A voltage that begins with a letter begins like this: its unit or name in front, or a number misread."""


def volts(scan: Scan, at: int) -> Token | None:
    """Read one voltage, or several between which the list leaves a choice."""
    if glued(scan, at) or (scan.text[at].isalpha() and _VOLTS_LETTER_FIRST.match(scan.text, at) is None):
        return None
    if scan.refs_seen and not scan.cap_seen and _value_and_volts(scan.text, at):
        return None
    for pattern in (patterns.VOLTAGES, patterns.VOLTAGE, patterns.VOLTAGE_MISREAD):
        match = pattern.match(scan.text, at)
        reading = values.voltage(match[0]) if match else None
        if match is not None and reading is not None and (apart := _two_ratings(match[0], reading)) is not None:
            reading = apart
        if match is not None and reading is not None and reading.value is None:
            reading = _direct_or_alternating(match[0], scan.text) or reading
        if match is not None and reading is not None:
            return Token(Sort.VOLTS, match[0], at, match.end(), reading, reading.doubts)
    torn = patterns.VOLTAGE_TORN.match(scan.text, at)
    reading = values.voltage(torn["a"] + torn["b"], bare=True) if torn else None
    if torn is not None and reading is not None:
        return Token(Sort.VOLTS, torn[0], at, torn.end(), reading, (*reading.doubts, "ocr-digit"))
    front = patterns.VOLTAGE_FRONT.match(scan.text, at)
    reading = values.voltage(front["number"], bare=True) if front else None
    if front is None or reading is None:
        return None
    return Token(Sort.VOLTS, front[0], at, front.end(), reading, reading.doubts)


def volts_of_letters(scan: Scan, at: int) -> Token | None:
    """Read a voltage of which a scanner left no digit."""
    match = patterns.VOLTAGE_LETTERS.match(scan.text, at) if scan.cap_seen and not glued(scan, at) else None
    reading = values.voltage(match[0].rstrip(" VDCvdc").translate(_MISREAD), bare=True) if match else None
    if match is None or reading is None or reading.doubts:
        return None
    return Token(Sort.VOLTS, match[0], at, match.end(), reading, ("ocr-digit",))


def _value_and_volts(text: str, at: int) -> bool:
    """Tell whether a blank parts a bare value from its voltage (``C1 20 450V``): no part bears 20,450 V."""
    match = _APART.match(text, at)
    apart = values.voltage(match[2], bare=True) if match is not None else None
    return apart is not None and not apart.doubts and patterns.CAPACITANCE.search(text, at) is None


_APART: Final = compiled(r"([3-9]|[1-9]\d{1,2}) (\d{3})(?=\s?(?:W?V|volts?)(?![A-Za-z]))", re.IGNORECASE)
"""A first number of 3 or more: ``1 600 V`` and ``2 000 V`` are ratings."""


def _two_ratings(text: str, reading: values.Reading) -> values.Reading | None:
    """Return a reading without a value where a blank parts two ratings (``110 125 VAC``) rather than thousands."""
    match = re.match(r"(\d{2,3}) (\d{3})(?=\s?V)", text, re.IGNORECASE)
    if match is None or "odd-voltage" not in reading.doubts:
        return None
    return values.Reading(None, ("alternatives",), (Decimal(match[1]), Decimal(match[2])), ac=reading.ac)


def _direct_or_alternating(text: str, line: str) -> values.Reading | None:
    """Return which of one part's two ratings counts (``250 VDC / 160 VAC``): DC, or AC for a safety class."""
    found = [values.voltage(part.strip(), bare=True) for part in text.split("/")]
    if len(found) != 2 or not text.rstrip().upper().endswith(_MARKED_LAST):  # noqa: PLR2004 - two ratings
        return None
    alternating = [reading for reading in found if reading is not None and reading.ac]
    direct = [reading for reading in found if reading is not None and not reading.ac]
    if len(alternating) != 1 or len(direct) != 1 or direct[0].value is None or alternating[0].value is None:
        return None
    if direct[0].value <= alternating[0].value:
        return None  # a capacitor bears more direct than alternating voltage
    return alternating[0] if patterns.SAFETY.search(line) else direct[0]


_MARKED_LAST: Final = ("C", "~", "-", "=", "V")


def ripple(scan: Scan, at: int) -> Token | None:
    """Read a ripple current in mA."""
    match = patterns.RIPPLE.match(scan.text, at)
    found = quantities.current_mA(f"{match['number']} {match['unit']}") if match else None
    if match is None or found is None or found.value is None:
        return None
    return Token(Sort.RIPPLE, match[0], at, match.end(), found.value)


def operating(scan: Scan, at: int) -> Token | None:
    """Read the voltage that a part works at, which rates nothing: ``sits at 21 V``."""
    match = patterns.OPERATING.match(scan.text, at)
    if match is None:
        return None
    reading = values.voltage(f"{match['number']} {match['kilo'] or ''}V")
    return Token(Sort.ASIDE, match[0], at, match.end(), reading.value if reading is not None else None)


_HYPHENATES: Final = compiled(r"-[^\W\d_]{3,}")


def number(scan: Scan, at: int) -> Token | None:
    """Read a number that nothing else has claimed."""
    match = patterns.PLAIN_NUMBER.match(scan.text, at)
    if match is None or glued(scan, at) or _HYPHENATES.match(scan.text, match.end()):
        return None  # ``20-pin`` is a word
    if not scan.at_start and scan.text[match.end() :] == "-":
        return Token(Sort.CODE, scan.text[at:], at, len(scan.text))  # what is left of a part number
    if hyphenated(scan, at):
        return Token(Sort.WORD, match[0], at, match.end(), match[0])  # the end of a name: ``X7R-5``
    return Token(Sort.NUMBER, match[0], at, match.end(), match[0])
