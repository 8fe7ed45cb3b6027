"""What one column of a price list holds, told by its header, and where that says nothing, by its cells."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.bench.discounts import Discount, discount_head
from recap.bench.fields import POLARITY
from recap.bench.header_rows import BREAK_KEYS, SIZE_KEYS, is_description, shortened
from recap.bench.lifecycle import ENDED_KEYS, STATUS_KEYS
from recap.bench.price_heads import PriceHead, price_head
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.read.headers import goes_with, key, meaning
from recap.read.sheet_headers import MONEY_COLUMNS, PIECES_PRICED, PRICE_SHEET, UNITS_SOLD
from recap.read.units import UNIT_FIELDS
from recap.read.vocabulary import CAP_LIST

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.diagnostics import Source

_PIECES_KEYS = frozenset(map(key, PIECES_PRICED))
_NOTE_KEYS = frozenset(map(key, CAP_LIST["note"]))
_UNIT_BEHIND = re.compile(r"\s+(?:mm|in|inch|inches|zoll|pouces?)$")
_UNIT_KEYS = frozenset(map(key, UNITS_SOLD))
_MONEY_KEYS = frozenset(map(key, MONEY_COLUMNS))
_AND = re.compile(r"\s*(?:/|@|&|\+|,|\b(?:and|at|und|et|och|bei|à)\b)\s*")
_AT_TEMP = re.compile(
    r"\(?\s*(?:@|\b(?:at|bei|à|a|bij|vid|ved|przy)\b)\s*\+?(?P<degrees>\d{2,3})\s*(?:°|º)?\s*C\b\s*\)?"
)
_AT_HERTZ = re.compile(
    r"\(?\s*(?:@|\b(?:at|bei|à|a|bij|vid|ved|przy)\b|,)?\s*(?P<number>\d{2,3})\s*(?P<kilo>k)?Hz\b\s*\)?", re.IGNORECASE
)
MAINS_HZ = 120
"""Ripple ratings of general parts hold at 100 or 120 Hz (makers' sheets, as quoted in match/ripple.py)."""
FAST_RIPPLE = "ripple at another frequency"
_LETTER = re.compile(
    r"(?!(?i:US|SV|VS|UP)\b)[A-Za-z]{1,2}\s*[\[(]\s*(?P<unit>[^\])]+)[\])]"
    r"|(?:[CcUuTt]|[CU][RrNn]|[TU]max)\s*(?:/|\bin\b)\s*(?P<over>[µμunp]?F|k?V|°\s?C)"
)
"""``C [nF]``, and as the standards have it ``U/V`` (ISO 80000-1: quantity by unit).

Not the surge voltage (``US (V)``), which is above the rated one.
"""
_POLARITY = re.compile(r"polari|gepolt|ungepolt", re.IGNORECASE)
_CURRENT = re.compile(r"[~=⎓≈]\s*$")
"""``Volts ~``, ``U =``: of alternating or direct current."""
_QUALIFIERS = frozenset("dc max nom nominal rated typ rms col".split())
"""Words that say nothing more of a field."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its header's texts together, its place, and what they say it holds.

    ``fields`` are several where one header names several (``Temp / life``). ``role`` is that of a column that has no
    field of its own: description, size, note, pieces (for how many a price is). ``temp`` is what a header says of all
    rows: ``Life at 105°C``. ``discount``: prices from a quantity on are so much less.
    """

    at: int
    text: str
    source: Source
    fields: tuple[str, ...] = ()
    unit: str | None = None
    role: str | None = None
    price: PriceHead | None = None
    temp: str | None = None
    discount: Discount | None = None


def column_of(at: int, parts: Sequence[str], source: Source) -> Column:
    """Return what the texts ``parts`` of a header, from top to bottom, say of their column."""
    text = " ".join(parts)
    blank = Column(at, text, source)
    if not parts:
        return blank
    field, unit = _field(parts)
    if field is None and (at_temp := _AT_TEMP.search(text)) is not None:
        field, unit = _field((f"{text[: at_temp.start()]} {text[at_temp.end() :]}".strip(),))
        blank = replace(blank, temp=at_temp["degrees"] if field == "life" else None)
    if field is None:
        field, unit, role = _at_frequency(text)
        blank = replace(blank, role=role)
    if field == "prices":
        return replace(blank, price=price_head(text) or PriceHead())
    if field == "kind" and _POLARITY.match(text):
        unit = POLARITY
    if field is not None:
        return replace(blank, fields=(field,), unit=unit)
    price = price_head(text)
    discount = discount_head(text) if price is None else None
    if price is not None or discount is not None:
        return replace(blank, price=price, discount=discount)
    role = blank.role or _role(parts)
    if role is not None:
        return replace(blank, role=role)
    return replace(blank, fields=_choices(text) or _several(text))


def _at_frequency(text: str) -> tuple[str | None, str | None, str | None]:
    """Return field, unit and role of a header that names a frequency: ``Ripple mA @120Hz``, ``Z at 100 kHz``."""
    at_hertz = _AT_HERTZ.search(text)
    if at_hertz is None:
        return None, None, None
    field, unit = _field((f"{text[: at_hertz.start()]} {text[at_hertz.end() :]}".strip(" ,;@"),))
    if field == "ripple" and (at_hertz["kilo"] or Decimal(at_hertz["number"]) > MAINS_HZ):
        return None, None, FAST_RIPPLE
    return (field, unit, None) if field in {"ripple", "impedance"} else (None, None, None)


def _choices(text: str) -> tuple[str, ...]:
    """Return the field of which a header names the choices: ``radial/axial``, ``polar / bipolar``."""
    pieces = [piece.casefold() for piece in _AND.split(text) if piece.strip()]
    for field, words in (("mount", MOUNT_WORDS), ("kind", KIND_WORDS)):
        if len(pieces) > 1 and all(piece in words for piece in pieces):
            return (field,)
    return ()


def _role(parts: Sequence[str]) -> str | None:
    if is_description(parts[-1]):
        return "description"
    keys = {
        "size": SIZE_KEYS, "pieces": _PIECES_KEYS, "note": _NOTE_KEYS,
        "unit": _UNIT_KEYS, "money": _MONEY_KEYS, "status": STATUS_KEYS, "ended": ENDED_KEYS,
    }  # fmt: skip
    for part in reversed(parts):  # what stands lower says it more closely
        for name, words in keys.items():
            if _plain(part) in words or (name == "size" and _UNIT_BEHIND.sub("", _plain(part)) in words):
                return name
    return "description" if any(map(is_description, parts)) else None


def _plain(header: str) -> str:
    return key(re.sub(r"[()\[\]]", " ", header))


def _field(parts: Sequence[str]) -> tuple[str | None, str | None]:
    """Return the field and unit; under a header over several columns what stands below it counts."""
    own = [part for part in parts if key(part) not in SIZE_KEYS | BREAK_KEYS] if len(parts) > 1 else list(parts)
    if not own:
        return None, None
    field, unit = meaning(" ".join(own), PRICE_SHEET)
    if field is not None:
        return field, unit
    for part in own:
        field, unit = meaning(part, PRICE_SHEET)
        if field is not None:
            below = next((other.strip("()[] ") for other in own if goes_with(other.strip("()[] "), field)), None)
            return field, below or unit
    for part in own:  # ``C [nF]``, ``U (V)``: a letter that its unit explains
        letter = _LETTER.fullmatch(part.strip())
        unit = (letter["unit"] or letter["over"]).strip() if letter else ""
        quantity = UNIT_FIELDS.get(unit.lower().replace("μ", "µ").replace(" ", ""))
        if quantity in {"value", "volts"} or (quantity == "temp" and letter and letter["over"]):
            return quantity, unit
    plainly = " ".join(word for word in key(_CURRENT.sub("", " ".join(own))).split() if word not in _QUALIFIERS)
    field, unit = meaning(plainly, PRICE_SHEET)
    if field is not None:
        return field, unit
    return next((field for part in own if (field := shortened(part))), None), None


def _several(text: str) -> tuple[str, ...]:
    """Return the fields of ``Temp / life`` or ``uF/V``; nothing where any piece is none."""
    pieces = [piece for piece in _AND.split(text) if piece.strip(" .")]
    found = [meaning(piece, PRICE_SHEET)[0] for piece in pieces]
    if len(found) < 2 or len(set(found)) < len(found):  # noqa: PLR2004 - two or more
        return ()
    names = tuple(name for name in found if name in {"value", "volts", "temp", "life", "mount", "kind", "pitch"})
    return names if len(names) == len(found) else ()
