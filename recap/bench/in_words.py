"""What running text says of one field of a part: a description, a size, a heading over rows.

Nothing is taken that has two readings; what the text doesn't say isn't missed.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from recap.bench.fields import FIELDS, NONE, TRUSTED_DOUBTS, Taken, in_both_units
from recap.model import Kind
from recap.normalise.one_part import read_part

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.model import Position
    from recap.normalise.one_part import OnePart

IN_WORDS = "in words"
"""Stands in the place of a header's unit where the column is a description: what it doesn't say isn't missed."""
BETWEEN = " ; "
"""Stands between the texts of several columns that were put together."""
_MAINS = re.compile(
    r"safety|suppress|interfer|entstör|antiparas|class|klasse|60384-14|V\s?AC\b|V\s?~|\d{3}\s?~", re.IGNORECASE
)
"""A class in running text counts only beside a word that speaks of the mains: ``10 µF X2`` may be two pieces."""
_CLASSES = re.compile(r"\b([XY][1-4])(?:\s*/?\s*([XY][1-4]))?\b")
_SIDE = r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:mm)?"
_SIZE = re.compile(rf"[Øø⌀D]?\s*{_SIDE}\s*[x×*]\s*[HL]?\s*{_SIDE}(?:\s+[a-z -]+)?", re.IGNORECASE)
_MARKED = re.compile(
    rf"(?:Ø|⌀|D|Dia\.?)\s?[:=]?\s?{_SIDE}[\s,;/x×*]*(?:[HL])\s?[:=]?\s?{_SIDE}(?:\s+[a-z -]+)?", re.IGNORECASE
)
_INCH_MARK = re.compile(r"\d\s?(?:\"|″|''|in\b)")
_TIMES = re.compile(r"\s*[x×*]\s*")
INCHES_BELOW = 3
"""No body is so small in both directions, mm."""
_DRY = frozenset({Kind.FILM, Kind.CERAMIC, Kind.SAFETY, None})
_SIZES_DOUBTED = frozenset({"size-unclear", "size-unit-unclear"})
_DEGREES_HOURS = re.compile(
    r"(?P<degrees>[67890]5|70|1[0-5][05])\s?(?:°\s?C?|C)?\s?[/@,; ]\s?(?P<hours>\d{1,2}[.,' ]?\d{3})"
)
"""``105/5000``: a temperature that capacitors are rated for, and hours."""
_LIVES = re.compile(r"(\d[\d.,' ]*)\s?(?:[-–]|to|bis|\.\.+)\s?(\d[\d.,' ]*)\s?(?:h|hrs?|hours|std)\b", re.IGNORECASE)
_DEGREES = re.compile(
    r"(?:@|\bat\b|\bbei\b|\bà\b)\s?\+?(?P<at>\d{2,3})(?!\d)|(?<![\d.,])(?P<degrees>\d{2,3})\s?(?:°\s?C?|º\s?C?|℃)",
    re.IGNORECASE,
)
_PITCH = re.compile(
    r"\b(?:RM|raster(?:ma(?:ß|ss))?|lead spacing|lead pitch|pitch|pas|passo|paso|steek|rozstaw)\s?[:=]?\s?"
    r"(?P<behind>\d{1,2}(?:[.,]\d{1,2})?)(?:\s?mm)?(?![\w.,])"
    r"|(?<![\d.,])(?P<before>\d{1,2}(?:[.,]\d{1,2})?)\s?mm\s(?:lead )?(?:pitch|raster|spacing|pas|passo|paso)\b",
    re.IGNORECASE,
)
_LONGEST = 300


def in_words(name: str, text: str) -> Taken:
    """Return what ``text`` says of the field ``name``; nothing where it says nothing, or two things."""
    read = _READERS.get(name)
    return NONE if read is None else read(name, text)


def _text(_name: str, text: str) -> Taken:
    return Taken(text)


def _word(name: str, text: str) -> Taken:
    """Return kind, way of mounting or safety class."""
    kind = FIELDS["kind"](text, None, None).value
    classes = _CLASSES.search(text) if kind in _DRY and _MAINS.search(text) else None
    if name == "safety":
        return _class(text, kind, classes)
    if name == "kind":
        return Taken(Kind.SAFETY if classes is not None else kind)
    return Taken(FIELDS[name](text, None, None).value)


def _class(text: str, kind: Kind | None, classes: re.Match[str] | None) -> Taken:
    """Return the safety class; one that nothing of the mains stands beside is told, not taken."""
    if classes is not None:
        return Taken("/".join(part for part in classes.groups() if part))
    bare = _CLASSES.search(text) if kind in {Kind.FILM, Kind.CERAMIC} else None
    if bare is None:
        return NONE
    message = f"{bare[0]!r} in {text[:60]!r} may be a safety class or a count; it was not taken"
    return Taken(None, "field-unclear", message, "write the class in a column safety")


@lru_cache(maxsize=4096)
def _part(text: str) -> OnePart | None:
    return read_part(text, "a description") if len(text) <= _LONGEST else None


def _side(name: str, text: str) -> Taken:
    """Return one side of a size.

    Of ``6.3 x 11`` the smaller is the diameter and stands first; any other order is nobody's habit, and not taken
    unless letters say which is which.
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
    return Taken(sides[name == "height"]) if sure or sides[0] <= sides[1] else NONE


def _in_running_text(name: str, text: str) -> Taken:
    part = _part(text) if re.search(r"[^\W\d_]{3}", text) else None
    if part is None or len(part.positions) != 1 or _SIZES_DOUBTED & set(part.doubts):
        return NONE
    diameter, height = part.positions[0].diameter_mm, part.positions[0].height_mm
    if diameter is None or height is None or diameter > height:
        return NONE
    return Taken(height if name == "height" else diameter)


def _rating(name: str, text: str) -> Taken:
    part = _part(text)
    what = "capacitance" if name == "value" else "voltage"
    hint = f"write it in a column {name}"
    if part is None or not part.positions:
        return Taken(None, "field-unclear", f"no {what} is found in {text[:60]!r}", hint)
    found: list[Any] = [one.value_uF if name == "value" else one.volts for one in part.positions]
    doubts = set(part.doubts) - TRUSTED_DOUBTS - _SIZES_DOUBTED
    if len(found) > 1 or doubts:
        why = f" ({', '.join(sorted(doubts))})" if doubts else ""
        return Taken(None, "field-unclear", f"{text[:60]!r} is not clear as to the {what}{why}; it was not taken", hint)
    if found[0] is None:
        return Taken(None, "field-unclear", f"no {what} is found in {text[:60]!r}", hint)
    return Taken(found[0])


def _life(_name: str, text: str) -> Taken:
    if _LIVES.search(text):
        message = f"{text[:60]!r} is a range of lives; it counts as not stated"
        return Taken(None, "field-unclear", message, "write the one that holds for this part: 2000 h")
    pair = _DEGREES_HOURS.search(text)
    if pair is not None:
        return FIELDS["life"](pair["hours"], None, None)
    part = _part(text)
    return NONE if part is None else Taken(part.life_h)


def _temp(_name: str, text: str) -> Taken:
    pair = _DEGREES_HOURS.search(text)
    if pair is not None:
        return Taken(int(pair["degrees"]))
    position = _position(text)
    if position is not None and position.temp_C is not None:
        return Taken(position.temp_C)
    stated = {match["at"] or match["degrees"] for match in _DEGREES.finditer(text)}
    return FIELDS["temp"](stated.pop(), None, None) if len(stated) == 1 else NONE


def _pitch(_name: str, text: str) -> Taken:
    position = _position(text)
    if position is None or _SIZES_DOUBTED & set(position.doubts):
        return NONE
    if position.pitch_mm is not None:
        return Taken(position.pitch_mm)
    # without a capacitance in the text ``RM5`` reads like a designator there
    stated = {(match["behind"] or match["before"]).replace(",", ".") for match in _PITCH.finditer(text)}
    return Taken(Decimal(stated.pop())) if len(stated) == 1 else NONE


def _position(text: str) -> Position | None:
    part = _part(text)
    return part.positions[0] if part is not None and len(part.positions) == 1 else None


_READERS: Mapping[str, Callable[[str, str], Taken]] = {
    **dict.fromkeys(("maker", "series", "tolerance"), _text),
    **dict.fromkeys(("kind", "mount", "safety"), _word),
    **dict.fromkeys(("diameter", "height"), _side),
    **dict.fromkeys(("value", "volts"), _rating),
    "temp": _temp,
    "life": _life,
    "pitch": _pitch,
}
