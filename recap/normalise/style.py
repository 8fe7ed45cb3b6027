"""How one list is written, seen over all its lines: what a number at the start of a line means there.

A single line ``2 200uF`` can't tell a count from thousands; its neighbours often can.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise.later import compiled
from recap.normalise.second_values import stand_beside

if TYPE_CHECKING:
    from collections.abc import Sequence

_UNIT: Final = r"(?:[uµμnp]\s?F?|mfd|mf|mmfd?)(?![A-Za-z])"
_LEAD: Final = compiled(
    rf"^[\s*•-]*(?P<lead>\d{{1,4}})(?:\s+|\s*[-:]\s+|\t)(?P<rest>.*\d\s?{_UNIT}.*)$", re.IGNORECASE
)
_VALUE: Final = compiled(rf"(?P<digits>\d+)[\d.,]*\s?{_UNIT}", re.IGNORECASE)
_TIMES: Final = compiled(r"^[\s*•-]*\d{1,3}\s?(?:[x×]|pcs?|off|ea|stk|stück)\b", re.IGNORECASE)
_PIECES: Final = r"(?:pcs?|pieces?|off|ea|stk|stück|szt|pz)\b"
_COUNTED: Final = compiled(
    rf"^[\s*•-]*(?:\(\d{{1,3}}\)|\d{{1,3}}\s?(?:[x×*]|{_PIECES})\.?|\d{{1,3}}\s)\s?\d[\d.,]*\s?{_UNIT}", re.IGNORECASE
)
_TRAILED: Final = compiled(
    rf"^[\s*•-]*\d[\d.,]*\s?{_UNIT}.*(?:[x×]\s?\d{{1,3}}|\d{{1,3}}\s?(?:[x×]|{_PIECES})\.?)\s*$", re.IGNORECASE
)
_APART: Final = compiled(r"^\s*(?:[-*•]\s+)?(?P<lead>[1-9]\d{0,2})(?:\s{2,}|\t)\S")
_OF: Final = compiled(r"^\W*[1-9]\d{0,2}\s+of\s+[\d.,µ]", re.IGNORECASE)
_OF_THEM: Final = compiled(
    r"(?:of|da|de|von|van|di|[x×]|pcs?|pieces?|off|ea|each|stk|stück|st|stuks|pezzi|pz|pi[eè]ces?|uds?|caps"
    r"|V(?:DC|AC)?|WV|volts?)\b",
    re.IGNORECASE,
)
"""Behind one of these the number in front is a count or a voltage, and doesn't number its line."""
_NAMED: Final = compiled(r"[A-Z]{1,3}-?[\dOIl]{2,5}[A-Z]?(?![\w.,]|\s?[uµμnp]F)")
"""Behind the number stands a designator, so the number is none."""
ENOUGH: Final = 3
"""So many lines make a habit."""
SURE: Final = 5
"""Fewer lines than this may be counted 1, 2, 3 by chance."""
SMALLEST_NUMBERED: Final = 100
"""Designators that are only numbers have three digits or more (common practice of some makers' service sheets)."""


@dataclass(frozen=True, slots=True)
class Style:
    """What a bare number at a line's start is: a count, the line's own number, or a designator."""

    counts_lead: bool = False
    ordinals_lead: bool = False
    few: bool = False
    """They number so few lines that they may as well be counts."""
    numbers_are_refs: bool = False
    counts_values: bool = False
    """Lines are counts with values: a kit's contents, a shopping list."""
    counts_trail: bool = False
    """Their counts stand at the line's end."""
    counts_end: bool = False
    """A bare number apart at the end of each line is a count."""
    counts_apart: bool = False
    """A number that wide blanks part from what follows is a count."""
    counts_of: bool = False
    """``2 of 470uF`` is a count; in Dutch and on a line alone it may be a choice."""
    volts_below: bool = False
    """A record's voltage stands on a line of its own below it."""
    blanks_repeat: bool = False
    """A line says that an empty cell means the same as above."""
    a_joins: bool = False
    """Its language is Czech: ``C1 a C2`` are two, and no range."""
    legend: tuple[tuple[str, str], ...] = ()
    """Its own abbreviations and what they mean."""
    bare_pitch: bool = False
    """A line that names the fields of each record names the lead pitch last."""
    replacements_beside: bool = False
    """Wide blanks part a record from what replaced it."""
    pairs: bool = False
    """Its pairs are values and voltages (``22/450``): two equal numbers are so, too."""
    unit: str | None = None
    """The unit of bare capacitances, where a line says it (``all values in µF``)."""


PLAIN: Final = Style()


def _counts_apart(lines: Sequence[str]) -> bool:
    """Tell whether numbers in a column of their own open the lines and don't number them."""
    leads = [int(match["lead"]) for line in lines if (match := _APART.match(line[:40]))]
    return len(leads) >= ENOUGH and any(later <= earlier for earlier, later in pairwise(leads))


ENDING: Final = compiled(
    rf"^\W*(?P<record>\d[\d.,]*\s?{_UNIT}.*?\d\s?(?:V(?:DC)?|[uµμnp]F?/\d{{1,3}})(?![A-Za-z0-9])[^\d]*?)"
    r"(?P<apart>\s{2,}|\t\s*|\s*\.{3,}\s*|\s*[:=,-]\s+)(?P<count>[1-9]\d?)\s*$",
    re.IGNORECASE,
)
"""``10uF 25V ........ 12``: a value with its voltage, and apart from it a number."""
_VALUED: Final = compiled(rf"^\W*\d[\d.,]*\s?{_UNIT}", re.IGNORECASE)
_DEGREES: Final = frozenset(("85", "95", "105", "125"))
_PITCHES: Final = frozenset(("2", "5", "10"))
"""Where no other numbers stand they may be lead pitches in mm (common practice)."""
MOST_ENDING: Final = 0.8
"""Of the lines with values so many must end so."""


def _counts_end(lines: Sequence[str]) -> bool:
    """Tell whether the values of a list without designators each end in a number of their own: a column of counts."""
    valued = [line for line in lines if len(line) < LONGEST_SAID and _VALUED.match(line)]
    ending = [line for line in valued if line.split()[-1].lstrip(".:=,-").isdigit()]
    if len(ending) < max(ENOUGH, MOST_ENDING * len(valued)):
        return False
    found = [match for line in ending if (match := ENDING.match(line))]
    told = {match["count"] for match in found}
    plain = len(told) > 1 and not told <= _PITCHES and not told <= _DEGREES
    enough = len(found) >= ENOUGH and len(found) >= MOST_ENDING * len(valued)
    return enough and plain and not any(_RECORD.match(line) for line in lines)


def _volts_below(lines: Sequence[str]) -> bool:
    """Tell whether each record without a voltage has one on the line below it: record, voltage, record, voltage."""
    sorts = ["v" if _VOLTS_ALONE.match(line) else "r" if _NO_VOLTS.match(line[:80]) else "-" for line in lines]
    told = "".join(sort for sort, line in zip(sorts, lines, strict=True) if line.strip()).strip("-")
    return re.fullmatch(r"(?:rv){2,}", told) is not None


def _mostly_rated(lines: Sequence[str]) -> bool:
    """Tell whether nearly all records of a list have their voltage beside their value: no line of volts heads any."""
    records = [line for line in lines if len(line) < LONGEST_SAID and _VALUED_RECORD.match(line)]
    return len(records) >= ENOUGH and sum(1 for line in records if _RATED.search(line)) >= MOST_RATED * len(records)


def is_voltage(line: str) -> bool:
    """Tell whether a line begins with a voltage and is no heading."""
    return _VOLTAGE_FIRST.match(line) is not None and not line.rstrip().endswith(":")


MOST_RATED: Final = 0.7
_VALUED_RECORD: Final = compiled(rf"[\s>*•-]*C[A-Z]?-?\d.*\d\s?{_UNIT}", re.IGNORECASE)
_RATED: Final = compiled(r"\d\s?(?:W\.?V|V)|[uµFf]\s?/\s?\d|\d\s?volts?", re.IGNORECASE)
_VOLTAGE_FIRST: Final = compiled(
    r"[\s>]*(?:[@/]\s?)?\d{1,4}(?:[.,]\d)?\s?(?:W\.?\s?V|V(?:DC|AC)?(?![A-Za-uw-z])|volts?)", re.IGNORECASE
)
_VOLTS_ALONE: Final = compiled(r"\s*\d{1,3}(?:[.,]\d)?\s?(?:V(?:DC)?|volts?)\s*$", re.IGNORECASE)
_NO_VOLTS: Final = compiled(rf"[\s*•-]*C[A-Z]?-?\d[^V]*\d\s?{_UNIT}[^V]*$", re.IGNORECASE)


def survey(lines: Sequence[str]) -> Style:
    """Return the style of a list's lines."""
    czech = any(_CZECH.search(line) for line in lines)
    told = replace(_numbers(lines), a_joins=czech, unit=_unit_below(lines), counts_end=_counts_end(lines))
    return replace(told, pairs=_pairs(lines))


_PAIRED: Final = compiled(r"(?<![\w./,+-])(?P<value>\d[\d.,]{0,5})/(?P<volts>[1-9]\d{0,2})(?![\w./+-]|,\d)")
_SECTIONED: Final = compiled(
    r"\d\s?\+\s?\d|\d/\d+/\d|\d-\d+(?:-\d+)?\s?/|\b(?:cans?|sections?|dual|twin|triple|double)\b", re.IGNORECASE
)


def _pairs(lines: Sequence[str]) -> bool:
    """Tell whether bare pairs of a list are plainly values with voltages, and nothing speaks of sections of cans."""
    found = [match for line in lines if len(line) < LONGEST_SAID for match in _PAIRED.finditer(line)]
    plain = sum(1 for match in found if match["value"] != match["volts"] and match["volts"] in _RATINGS)
    return plain >= SURE and plain * 2 > len(found) and not any(map(_SECTIONED.search, lines))


_RATINGS: Final = frozenset(
    "4 6 10 12 16 20 25 35 40 50 63 70 80 100 150 160 200 250 300 315 350 385 400 450 500".split()
)


_RECORD: Final = compiled(r"[\s|*•-]*C[A-Z]?-?\d{1,4}\b")
NEAR_THE_END: Final = 12


def _unit_below(lines: Sequence[str]) -> str | None:
    """Return the unit that a line behind all the records gives to bare values, where no line above gives another."""
    said = {at: unit for at, line in enumerate(lines) if len(line) < LONGEST_SAID and (unit := unit_said(line))}
    if len(said) != 1:
        return None
    at, unit = next(iter(said.items()))
    below = any(_RECORD.match(line) for line in lines[at + 1 :])
    return unit if not below and any(_RECORD.match(line) for line in lines[max(at - NEAR_THE_END, 0) : at]) else None


LONGEST_SAID: Final = 120


_CZECH: Final = compiled(r"[ěřůĚŘŮ]")
_A_JOINS: Final = compiled(r"(?<=\d)\sa\s(?=C[A-Z]?-?\d)")


def joined(text: str, style: Style) -> str:
    """Return the text with a comma for the Czech ``a``, which elsewhere makes a range."""
    return _A_JOINS.sub(", ", text) if style.a_joins else text


def _numbers(lines: Sequence[str]) -> Style:
    """Return what numbers at the lines' starts and ends are."""
    found = [(int(match["lead"]), match["rest"]) for line in lines if (match := _LEAD.match(line[:300]))]
    of_them = sum(1 for line in lines if _OF.match(line[:40])) > 1
    found = [(lead, rest) for lead, rest in found if not _OF_THEM.match(rest)]
    leads = [lead for lead, _ in found]
    apart = _counts_apart(lines)
    fronted = sum(1 for line in lines if _COUNTED.match(line[:300]))
    trailed = sum(1 for line in lines if _TRAILED.match(line[:300]))
    beside = sum(map(stand_beside, lines)) >= ENOUGH
    kit, trailing = fronted + trailed >= ENOUGH - 1, trailed > fronted
    if _runs(leads):
        return Style(ordinals_lead=True, few=len(leads) < SURE, replacements_beside=beside)
    named = [lead for lead, rest in found if _NAMED.match(rest)]
    if len(named) >= ENOUGH and len(named) * 2 > len(leads) and all(a < b for a, b in pairwise(named)):
        return Style(ordinals_lead=True, replacements_beside=beside)  # ``103  C102  10uF``: items of a book
    bare = [(lead, rest) for lead, rest in found if not _NAMED.match(rest) and not _is_thousands(rest)]
    numbered = [lead for lead, _ in bare if lead >= SMALLEST_NUMBERED]
    if len(numbered) > 1 and len(set(numbered)) == len(numbered) and len(numbered) * 2 > len(leads):
        return Style(numbers_are_refs=True)
    counted = any(_TIMES.match(line[:40]) for line in lines) or any(
        (value := _VALUE.match(rest)) is not None and len(value["digits"]) != 3  # noqa: PLR2004 - no thousands
        for _, rest in found
    )
    lead = counted and bool(leads)
    return Style(
        counts_lead=lead,
        counts_apart=apart,
        counts_values=kit,
        counts_trail=trailing,
        counts_of=of_them or (kit and fronted > 0),
        volts_below=_volts_below(lines) or _mostly_rated(lines),
        replacements_beside=beside,
    )


_UNIT_SAID: Final = compiled(
    r"(?:\b(?:values?|werte|valeurs?|valori|valores|waarden|capacit\w+|kapazit\w+|cap[aA]c[lI1]tors?|caps?)\b[^.;:]{0,25}?\b(?:in|are|en|sind|sont|zijn)\s+"
    r"|\b(?:all|alle|tous|toutes|tutti|todos)\s+(?:are\s+|sind\s+|sont\s+|sono\s+|son\s+)?(?:in|en)\s+"
    r"|\b(?:all|alle|toutes\s+les|tutti\s+i|todos\s+los)\s+(?:values?|werte|valeurs|valori|valores|waarden)\s+)"
    r"(?P<unit>[uµμ]F|nF|pF|MFD|microfarads?|picofarads?|nanofarads?)(?![A-Za-z])",
    re.IGNORECASE,
)


_BLANKS_REPEAT: Final = compiled(
    r"\b(?:blanks?|empty|leer\w*|vides?|vuot[aoie]|vací[ao]s?|en\s+blanco|leeg|lege)\b[^.;]{0,45}?\b(?:as\s+above|same\s+as\s+(?:the\s+)?"
    r"(?:line|row|one|cell)?\s*above|like\s+(?:the\s+one\s+)?above|dittos?|wie\s+(?:darüber|oben|zuvor|vorher|die\s+Zeile\s+darüber)|idem|comme\s+"
    r"(?:au-dessus|ci-dessus|la\s+ligne)|come\s+sopra|como\s+(?:la\s+de\s+)?arriba|igual\s+que\s+(?:la\s+de\s+)?arriba|als\s+(?:hier)?boven|zie\s+boven)",
    re.IGNORECASE,
)


def blanks_repeat(text: str) -> bool:
    """Tell whether a line says that empty cells mean the same as above (``leere Felder = wie darüber``)."""
    return _BLANKS_REPEAT.search(text) is not None


_FIELDS_SAID: Final = compiled(
    r":\s*(?P<fields>(?:[^,;:]{2,40}[,;]\s*){2,8}(?:lead\s+(?:pitch|spacing)|(?:pin\s+)?(?:pitch|spacing)|raster(?:maß)?|rm|pas|entraxe|passo|paso"
    r"|steek))\s*(?:\([^()]{1,20}\))?\s*\.?\s*$",
    re.IGNORECASE,
)


def pitch_said(text: str) -> bool:
    """Tell whether a line names the fields of the records below and the lead pitch last of them."""
    return _FIELDS_SAID.search(text) is not None


def unit_said(text: str) -> str | None:
    """Return the unit that a line gives to all bare values (``Alle Werte in µF``), or None."""
    match = _UNIT_SAID.search(text)
    return None if match is None else match["unit"]


def told_of_all(style: Style, text: str) -> Style:
    """Return the style with what a line says of how the records below it are written."""
    return replace(
        style,
        unit=unit_said(text) or style.unit,
        blanks_repeat=style.blanks_repeat or blanks_repeat(text),
        bare_pitch=style.bare_pitch or pitch_said(text),
    )


def _runs(leads: list[int]) -> bool:
    """Tell whether the numbers count up from 1."""
    return len(leads) >= ENOUGH and leads == list(range(1, len(leads) + 1))


def _is_thousands(rest: str) -> bool:
    value = _VALUE.match(rest)
    return value is not None and len(value["digits"]) == 3  # noqa: PLR2004 - ``100 000 pF``
