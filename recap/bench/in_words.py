"""What running text says of one field of a part: a description, a size, a heading over rows.

Nothing is taken that has two readings; what the text doesn't say isn't missed.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from recap.bench.fields import FIELDS, NONE, TRUSTED_DOUBTS, Taken, in_both_units, unpolarised
from recap.model import Kind
from recap.normalise.later import compiled
from recap.normalise.one_part import read_part

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


IN_WORDS = "in words"
"""Stands in the place of a header's unit where the column is a description: what it doesn't say isn't missed."""
BETWEEN = " ; "
"""Stands between the texts of several columns that were put together."""
_MAINS = compiled(
    r"safety|suppress|interfer|entstör|antiparas|class|klasse|60384-14|V\s?AC\b|V\s?~|\d{3}\s?~", re.IGNORECASE
)
"""A class in running text counts only beside a word that speaks of the mains: ``10 µF X2`` may be two pieces.

Where a cell holds nothing else it says what it is.
"""
_NO_POLARITY = compiled(
    r"\b(?:polari(?:ty|tät|tà|té|dad|teit)|polari[sz]ed|gepolt)\s*[:=]\s*(?:no|none|nein|non|nee)\b", re.IGNORECASE
)
_CLASSES = compiled(r"\b([XY][1-4])(?:\s*/?\s*([XY][1-4]))?\b")
_SIDE = r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:mm)?"
_SIZE = compiled(rf"[ØøΦφ⌀D]?\s*{_SIDE}\s*[x×*]\s*[HL]?\s*{_SIDE}(?:\s+[a-z -]+)?", re.IGNORECASE)
_MARKED = compiled(
    rf"(?:Ø|⌀|D|Dia\.?)\s?[:=]?\s?{_SIDE}[\s,;/x×*]*(?:[HL])\s?[:=]?\s?{_SIDE}(?:\s+[a-z -]+)?", re.IGNORECASE
)
_INCH_MARK = compiled(r"\d\s?(?:\"|″|''|in\b)")
_TIMES = compiled(r"\s*[x×*]\s*")
INCHES_BELOW = 3
"""No body is so small in both directions, mm."""
_DRY = frozenset({Kind.FILM, Kind.CERAMIC, Kind.SAFETY, None})
_SIZES_DOUBTED = frozenset({"size-unclear", "size-unit-unclear"})
_OF_TEMPERATURE = frozenset({"temp-conflict"})
_OF_VOLTAGE = frozenset({"volts-conflict"})
_FARADS = compiled(r"\d\s?(?:[µμunpm]?F|mfd)(?![^\W\d_])", re.IGNORECASE)
_DEGREES_HOURS = compiled(
    r"(?<![\d.,])(?P<degrees>[67890]5|70|1[0-5][05])\s?(?:°\s?C?|C)?\s?[/@]\s?"
    r"(?P<hours>\d{1,2}[.,' ]?\d{3})(?![\d.,]|\s?[µμunpmV])"
)
"""``105/5000``: a temperature that capacitors are rated for, and hours."""
_HOURS = (
    r"(?:k\s?)?(?:h|hrs?|hours?|std|stunden|heures|ore|horas|uur|timmar|timer|godz\w*|hodin)(?![^\W\d_])\.?"
)
_LIVES = compiled(rf"\d[\d.,' ]*\s?(?:[-–]|to|bis|\.\.+)\s?\d[\d.,' ]*\s?{_HOURS}", re.IGNORECASE)
_LIFE = compiled(rf"(?<![\w.,])(?P<number>\d{{1,3}}(?:[.,' ]\d{{3}})|\d{{1,6}})\s?(?P<unit>{_HOURS})", re.IGNORECASE)
WARM = 40
"""No range of temperatures begins so high: two are stated."""
SHORTEST_LIFE = 250
"""No capacitor is rated for fewer hours: less is a time of day or of delivery."""
_RANGE = compiled(
    r"(?<![\d.,])(?P<below>[-−–]\s?)?(?P<low>\d{1,3})\s?(?:°|º)?\s?C?\s?(?:to|bis|\.\.+|…|~|/|-|–)\s?\+?(?P<high>\d{2,3})\s?(?:°|º|C\b|℃)"
)
_DEGREES = compiled(
    r"(?:@|\b(?:at|bei|à)\b)\s?\+?(?P<at>\d{2,3})(?!\d|\s?[µμnuV])"
    r"|(?<![\d.,−-])(?P<degrees>\d{2,3})\s?(?:°\s?C?|º\s?C?|℃|C\b)",
    re.IGNORECASE,
)
_PITCH = compiled(
    r"\b(?:RM|raster(?:ma(?:ß|ss))?|lead spacing|lead pitch|pitch|pas|passo|paso|steek|rozstaw)\s?[:=]?\s?"
    r"(?P<behind>\d{1,2}(?:[.,]\d{1,2})?)(?:\s?mm)?(?![\w.,])"
    r"|(?<=\s)P\s?=?\s?(?P<short>(?:1|[2357]\.5|5|10|15|22\.5)(?:\.0)?)(?:\s?mm)?(?![\w.,])"
    r"|(?<![\d.,])(?P<before>\d{1,2}(?:[.,]\d{1,2})?)\s?mm\s(?:lead )?(?:pitch|raster|spacing|pas|passo|paso)\b",
    re.IGNORECASE,
)
_BODY = compiled(
    r"(?<![\d.,x×*])(?<![x×*]\s)(?:Ø|⌀|D)?\s?(?P<diameter>\d{1,3}(?:[.,]\d{1,2})?)\s?(?:mm)?\s?[x×*]\s?(?:[HL]\s?)?"
    r"(?P<height>\d{1,3}(?:[.,]\d{1,2})?)(?:\s?mm)?(?![\d.,]|\s?[x×*]|\s?(?:[µμunpm]F|mfd)|\s?V)",
    re.IGNORECASE,
)
_LONGEST = 300
_FAR_TOO_LONG = 2000
"""Nothing that describes a part; to look through it for numbers would take minutes."""


def in_words(name: str, text: str) -> Taken:
    """Return what ``text`` says of the field ``name``; nothing where it says nothing, or two things."""
    read = _READERS.get(name)
    return NONE if read is None or (read is not _text and len(text) > _FAR_TOO_LONG) else read(name, text)


def _text(_name: str, text: str) -> Taken:
    return Taken(text)


def _word(name: str, text: str) -> Taken:
    """Return kind, way of mounting or safety class; large lists have a hundred thousand texts with no class in them."""
    if name == "mount":
        return Taken(FIELDS[name](text, None, None).value)
    classes = _CLASSES.search(text)
    if classes is None:
        return NONE if name == "safety" else _kind(text)
    kind = FIELDS["kind"](text, None, None).value
    alone = any(_CLASSES.fullmatch(piece.strip()) for piece in text.split(BETWEEN))
    sure = kind in _DRY and (alone or _MAINS.search(text) is not None)
    if name == "safety":
        return _class(text, kind, classes, sure=sure)
    return Taken(Kind.SAFETY if sure else kind)


def _kind(text: str) -> Taken:
    kind = FIELDS["kind"](text, None, None).value
    return unpolarised(text) if kind in {None, Kind.ELECTROLYTIC} and _NO_POLARITY.search(text) else Taken(kind)


def _class(text: str, kind: Kind | None, classes: re.Match[str], *, sure: bool) -> Taken:
    """Return the safety class; one that nothing of the mains stands beside is told, not taken."""
    if sure:
        return Taken("/".join(part for part in classes.groups() if part))
    if kind not in {Kind.FILM, Kind.CERAMIC}:
        return NONE
    message = f"{classes[0]!r} in {text[:60]!r} may be a safety class or a count; it was not taken"
    return Taken(None, "field-unclear", message, "write the class in a column safety")


@lru_cache(maxsize=2**17)  # value and voltage ask one after the other for whole columns
def _ratings(text: str) -> tuple[Mapping[str, tuple[Any, ...]], frozenset[str]] | None:
    """Return capacitances and voltages by field, and doubts; None where the text is no part."""
    part = read_part(text, "a description") if len(text) <= _LONGEST else None
    if part is None or not part.positions:
        return None
    positions = part.positions
    found = {"value": tuple(p.value_uF for p in positions), "volts": tuple(p.volts for p in positions)}
    return found, frozenset(part.doubts)


def _side(name: str, text: str) -> Taken:
    """Return one side of a size.

    Of ``6.3 x 11`` the smaller is the diameter and stands first. ``6.3 x 5.8`` is a flat can: cans are made 6.3 mm wide
    and not 5.8. Any other order is nobody's habit, and not taken unless letters say which is which.
    """
    marked = _MARKED.fullmatch(text)
    size = marked or _SIZE.fullmatch(text)
    if size is not None:
        return _of_two(name, text, size, sure=marked is not None)
    if _INCH_MARK.search(text):
        lengths = [FIELDS[name](piece.strip(), None, None).value for piece in _TIMES.split(text)]
        if len(lengths) == 2 and None not in lengths:  # noqa: PLR2004 - diameter and length
            return Taken(lengths[name == "height"]) if lengths[0] <= lengths[1] else NONE
    both = in_both_units(text)
    if both is not None and name == "diameter":
        return FIELDS[name](both, None, None)
    return _in_running_text(name, text)


def _of_two(name: str, text: str, size: re.Match[str], *, sure: bool) -> Taken:
    """Return one of two sides; ``sure`` where letters say which is which."""
    sides = [Decimal(side.replace(",", ".")) for side in size.groups()]
    if max(sides) < INCHES_BELOW:
        message = f"{text[:40]!r} may be in inches; it counts as not stated"
        return Taken(None, "field-unclear", message, "write it in mm: 6.3 x 11 mm")
    return Taken(sides[name == "height"]) if sure or _flat(*sides) or sides[0] <= sides[1] else NONE


def _flat(diameter: Decimal, height: Decimal) -> bool:
    """Tell whether two sides are those of a can that is wider than high, and not the other way round."""
    return diameter in CAN_DIAMETERS and height not in CAN_DIAMETERS and height >= diameter * FLATTEST


CAN_DIAMETERS = frozenset(map(Decimal, "3 4 5 6.3 8 10 12.5 16 18".split()))
"""Diameters that cans of small aluminium electrolytics are made in, mm (common practice of makers' lists)."""
FLATTEST = Decimal("0.7")
"""A can is lower than it is wide by so much at most; boxes of film, whose length stands first, are flatter."""


def _in_running_text(name: str, text: str) -> Taken:
    """Return one side of the one body in a text; the smaller is the diameter, and no body is below 2 mm."""
    bodies = {(match["diameter"], match["height"]) for match in _BODY.finditer(text)}
    if len(bodies) != 1:
        return NONE
    diameter, height = (Decimal(side.replace(",", ".")) for side in bodies.pop())
    if not (INCHES_BELOW - 1 <= diameter <= height or _flat(diameter, height)):
        return NONE
    return Taken(height if name == "height" else diameter)


def _rating(name: str, text: str) -> Taken:
    read = _ratings(text)
    what = "capacitance" if name == "value" else "voltage"
    hint = f"write it in a column {name}"
    found = () if read is None else read[0][name]
    found = found[:1] if name == "volts" and len(set(found)) == 1 else found  # sections of one can
    doubts = frozenset() if read is None else _doubts_of(name, text, found, read[1])
    if len(found) > 1 or doubts:
        why = f" ({', '.join(sorted(doubts))})" if doubts else ""
        return Taken(None, "field-unclear", f"{text[:60]!r} is not clear as to the {what}{why}; it was not taken", hint)
    if not found or found[0] is None:
        return Taken(None, "field-unclear", f"no {what} is found in {text[:60]!r}", hint)
    return Taken(found[0])


def _doubts_of(name: str, text: str, found: tuple[Any, ...], doubts: frozenset[str]) -> frozenset[str]:
    """Return the doubts that touch this field: one about another leaves it as good as it is."""
    left = doubts - TRUSTED_DOUBTS - _SIZES_DOUBTED - _OF_TEMPERATURE
    if name == "value":
        left -= _OF_VOLTAGE
    if "no-preferred-value" in doubts and not _FARADS.search(text):
        left |= {"no-preferred-value"}  # ``40-20-20 @ 450 / 25-25V``
    return left - {"thousands-or-decimal"} if len(found) == 1 and found[0] is not None else left


def _life(_name: str, text: str) -> Taken:
    if _LIVES.search(text):
        message = f"{text[:60]!r} is a range of lives; it counts as not stated"
        return Taken(None, "field-unclear", message, "write the one that holds for this part: 2000 h")
    stated = {Decimal(re.sub(r"\D", "", match["hours"])) for match in _DEGREES_HOURS.finditer(text)}
    for match in _LIFE.finditer(text):
        thousands = 1000 if match["unit"].casefold().startswith("k") else 1
        stated.add(Decimal(re.sub(r"\D", "", match["number"])) * thousands)
    stated = {hours for hours in stated if hours >= SHORTEST_LIFE}
    return Taken(stated.pop()) if len(stated) == 1 else NONE


def _temp(_name: str, text: str) -> Taken:
    """Return the temperature; of a range that begins in the cold its end."""
    pair = _DEGREES_HOURS.search(text)
    if pair is not None:
        return Taken(int(pair["degrees"]))
    span = _RANGE.search(text)
    if span is not None and not span["below"] and int(span["low"]) >= WARM:
        return NONE  # ``85/105°C``: which of two
    stated = {span["high"]} if span else {match["at"] or match["degrees"] for match in _DEGREES.finditer(text)}
    return FIELDS["temp"](stated.pop(), None, None) if len(stated) == 1 else NONE


def _pitch(_name: str, text: str) -> Taken:
    found = [match["behind"] or match["short"] or match["before"] for match in _PITCH.finditer(text)]
    stated = {pitch.replace(",", ".") for pitch in found}
    return Taken(Decimal(stated.pop())) if len(stated) == 1 else NONE


_READERS: Mapping[str, Callable[[str, str], Taken]] = {
    **dict.fromkeys(("maker", "series", "tolerance"), _text),
    **dict.fromkeys(("kind", "mount", "safety"), _word),
    **dict.fromkeys(("diameter", "height"), _side),
    **dict.fromkeys(("value", "volts"), _rating),
    "temp": _temp,
    "life": _life,
    "pitch": _pitch,
}
