"""Diameter, height and lead pitch in text: ``16x25``, ``Ø10 H16 RM5``, ``0.5" x 1"``, ``CP_Radial_D8.0mm_P3.50mm``."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from typing import Final

from recap.normalise.later import compiled
from recap.normalise.reading import neat

_N: Final = (
    r"(?:\d{1,4}(?:[.,]\d{1,3})?(?:\s\d/\d{1,2}|-\d/\d{1,2}(?=\s?(?:\"|''|in)))?"
    r"|(?<![\w).,])[.,]\d{1,3}|\d/\d{1,2}|\d{2}/(?:16|32|64)(?=\s?(?:\"|''|in)))"
)
_U: Final = r"(?:\s?(?=[mcizt\"'])(?:mm|cm|mils?|thou|in(?:ch(?:es)?)?\b\.?|\"|''|zoll))?"
_END: Final = r"(?![A-Za-z0-9µ]|[.,]\d)"
_DIA: Final = (
    r"(?=[Øø⌀∅φΦdśfw])(?:Ø|wide|ø|⌀|∅|φ|Φ|dia(?:m(?:eter|\.)?|\.)?|d|durchm(?:esser|\.)?|diam[eè]tre|di[aáâ]metro|średnica|śr\."
    r"|(?<![\w-])fi(?=[\s=:]?\s?\d))"
)
_LEN: Final = (
    r"(?=[hlatwdv])(?:h(?:eight|öhe|auteur|aut|oogte|oog|öjd|øjde|øyde)?|l(?:ength|änge|ength|g|en|ongueur|unghezza|ungo|engte|ongitud"
    r"|argo|ängd|ængde|engde)?|alt(?:ezza|ura|o)?|lang|hoch|high|long|tall|wysokość|wys|długość|dł|d[eé]lka|v[yý]ška)"
)
_GAP: Final = (
    r"(?=[rlpesibdag])(?:rm|ls|lead\s?spacing|lead\s?pitch|pitch|spacing|raster(?:ma(?:ß|ss))?|pas|entraxe|passo|paso"
    r"|interasse|steek|grid(?=[\s:=~]{0,2}\d[\d.,]*\s?mm)|pin\s?spacing|(?:bein(?:chen)?|pin|loch|draht|anschluss|raster)abstand|p|r)"
)
_TIMES: Final = r"(?:\sby\s(?=\d)|\s?(?!(?<=\s)[xX][1-4](?!\d|[.,]\d))[x×*]\s?)"
"""Not of ``15 X2``, where a class of safety capacitors stands behind the lead pitch."""

_PRODUCT: Final = compiled(
    rf"(?P<m1>{_DIA}|{_LEN})?\s?[=:]?\s?(?P<a>{_N})(?P<ua>{_U})\s?(?P<n1>{_DIA}|{_LEN})?{_TIMES}(?P<m2>{_DIA}"
    rf"|{_LEN}|w)?\s?[=:]?\s?"
    rf"(?P<b>{_N})(?P<ub>{_U})\s?(?P<n2>{_DIA}(?![a-z])|{_LEN}(?![a-z]))?(?:(?:{_TIMES}"
    rf"|\s?/\s?)(?P<m3>{_GAP})?\s?(?P<c>{_N})(?P<uc>{_U}))?{_END}",
    re.IGNORECASE,
)
_LABELLED: Final = compiled(
    rf"(?P<mark>{_DIA}|{_LEN}|{_GAP})\.?\s?(?:(?:de|di|da|von|van|of|is)\s)?[=:~]?\s?(?P<n>{_N})(?P<u>{_U})(?:(?![A-Za-z0-9µ°%]|[.,]\d|\s?(?:V(?:olts?|DC|AC)?|[µu]F?)(?![A-Za-z]))"
    rf"|(?=(?:H|L|P|D|W)\d))",
    re.IGNORECASE,
)
_BEHIND: Final = compiled(
    rf"(?P<n>{_N})(?P<u>{_U})\s?-?(?P<mark>{_DIA}|{_LEN}|{_GAP})(?![A-Za-z0-9])\.?", re.IGNORECASE
)
_LONE: Final = compiled(rf"(?P<n>{_N})\s?(?P<u>mm|mils?)(?![A-Za-z0-9²³])", re.IGNORECASE)
"""A length that nothing names. In mil it is a lead pitch (common practice); in mm it may be any."""
_SHORT_MARKS: Final = frozenset("dhlpr")

MILLIMETRES: Final = {
    "mm": Decimal(1),
    "": Decimal(1),
    "cm": Decimal(10),
    "mil": Decimal("0.0254"),
    "mils": Decimal("0.0254"),
    "thou": Decimal("0.0254"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''", "zoll"), Decimal("25.4")),
}
"""Millimetres per unit; exact by definition of the inch."""  # fmt: skip

THINNEST_MM: Final = 3
"""No can is thinner or shorter (common practice)."""
LARGEST_MM: Final = Decimal(250)


@dataclass(frozen=True, slots=True)
class Size:
    """What a text says of the body and leads, in mm; None is not stated."""

    diameter: Decimal | None = None
    height: Decimal | None = None
    pitch: Decimal | None = None
    doubts: tuple[str, ...] = ()
    lone: Decimal | None = None
    """A length that nothing names."""
    along: bool = False
    """The height was called a length: of a box it is neither height nor diameter."""

    @classmethod
    def of(cls, name: str, value: Decimal) -> Size:
        """Return a size of which only ``name`` (diameter, height or pitch) is known."""
        return replace(cls(), **{name: value})  # type: ignore[arg-type]


def length(text: str, unit: str = "") -> Decimal | None:
    """Return a length in mm (``7,5 mm``, ``0.3"``, ``200 mil``, ``1-3/8"``), or None; a bare number has ``unit``."""
    match = re.fullmatch(rf"(?P<n>{_N})(?P<u>{_U})", text.strip(), re.IGNORECASE)
    if match is None:
        return None
    return _mm(match["n"], match["u"].strip() or unit)


def _mm(number: str, unit: str) -> Decimal | None:
    factor = MILLIMETRES.get(unit.strip().lower())
    if factor is None:
        return None
    try:
        total = Decimal(0)
        for piece in number.replace("-", " ").split():
            over, _, under = piece.partition("/")
            part = Decimal(over.replace(",", "."))
            total += part / Decimal(under) if under else part
    except (InvalidOperation, ZeroDivisionError):
        return None
    size = neat((total * factor).quantize(Decimal("0.001")))
    return size if 0 < size <= LARGEST_MM else None


def in_parts_of_inch(text: str, unit: str | None) -> str:
    """Return a cell of bare lengths in mm where its column counts in hundredths of an inch or the like.

    ``87 x 200`` under ``Size (1/100 inch)``. What names a unit itself stays as it is.
    """
    parts = _PARTS_OF_INCH.fullmatch(unit.strip()) if unit else None
    if parts is None or not _BARE_LENGTHS.fullmatch(text):
        return text
    inch = Decimal(1) / Decimal(parts["under"]) if parts["under"] else Decimal(parts["of"] or "0.001")
    return _BARE_LENGTH.sub(lambda m: f"{neat(Decimal(m[0].replace(',', '.')) * inch * MILLIMETRES['inch'])} mm", text)


_PARTS_OF_INCH: Final = compiled(
    r"(?:1/(?P<under>[1-9]\d{1,3})|(?P<of>0?\.0{0,2}1))\s?(?:inch(?:es)?|in|\")\.?|mils?|thou", re.IGNORECASE
)
_BARE_LENGTH: Final = compiled(r"\d+(?:[.,]\d+)?")
_BARE_LENGTHS: Final = compiled(
    rf"[ØDLHW]?\s?{_BARE_LENGTH.pattern}(?:\s?[x×*]\s?[DLHW]?\s?{_BARE_LENGTH.pattern}){{0,2}}", re.IGNORECASE
)


_LEGEND: Final = compiled(
    rf"(?:(?:{_DIA})\s?[x×*/]\s?(?:{_LEN})|(?P<length>{_LEN})\s?[x×*/]\s?(?:{_DIA}))\s?[:=]?\s(?=\d)", re.IGNORECASE
)
"""``D x H: 5 x 11``: which of the two numbers behind it is which."""


def find(text: str, at: int) -> tuple[Size, int] | None:
    """Return the size that begins at ``at`` and where it ends, or None."""
    begins_number = text[at].isdigit() or text[at] in ".,"
    legend = None if begins_number else _LEGEND.match(text, at)
    if legend is not None and (behind := find(text, legend.end())) is not None:
        told, end = behind
        return (Size(told.height, told.diameter, told.pitch, told.doubts) if legend["length"] else told), end
    product = _PRODUCT.match(text, at)
    if product is not None and re.match(r"0\d", product["a"]) is None:
        size = Size(doubts=("size-unclear",)) if _ONE_SIDED.search(product[0]) else _product(product)
        if size is not None:
            return size, product.end()
    return _number_first(text, at) if begins_number else _mark_first(text, at)


def _mark_first(text: str, at: int) -> tuple[Size, int] | None:
    labelled = _LABELLED.match(text, at)
    if labelled is None or text[at - 1 : at].isalnum():
        return None
    if _SIDE.match(text, labelled.end()) or (not at and _PAGE.match(text)):
        return None  # ``L: 10/25``: the left one
    meant = _TOLD.match(labelled[0]) or (at and _HIGH.match(text, at)) or _in_series(text, at)
    spaced = " " in labelled[0] and not meant
    size = _one(labelled["mark"], labelled["n"], labelled["u"], spaced=spaced)
    return None if size is None else (size, labelled.end())


def _number_first(text: str, at: int) -> tuple[Size, int] | None:
    lone = _LONE.match(text, at)
    if lone is not None and (mm := _mm(lone["n"], lone["u"])) is not None and not _BEHIND.match(text, at):
        return (Size(pitch=mm) if "mil" in lone["u"].lower() else Size(lone=mm)), lone.end()
    behind = _BEHIND.match(text, at)
    if (
        behind is not None
        and behind["mark"].lower() in _SHORT_MARKS
        and text[behind.end() : behind.end() + 1] in {"=", ":"}
    ):
        return None  # the letter names what follows
    if behind is not None and (behind["u"].strip() or len(behind["mark"]) > 2):  # noqa: PLR2004 - a word, not a letter
        size = _one(behind["mark"], behind["n"], behind["u"], spaced=False)
        if size is not None:
            return size, behind.end()
    return None


_TOLD: Final = compiled(r"[dh]\s?[:=]|l\s?=", re.IGNORECASE)
"""``H: 11``: the sign says that the letter names a length."""
_HIGH: Final = compiled(r"h\s|d\s[\d.,]+(?:\s?mm)?,?\s[hl]\s?\d", re.IGNORECASE)
"""A height by itself, or with the diameter in front of it: ``D 8 H 12``."""
_SERIES: Final = compiled(
    r"(?<!\w)(?:[dhlp]\s?\d+(?:[.,]\d+)?(?:\s?mm)?(?:\s?[,;x/]\s?|\s|(?=\)|$))){2,}", re.IGNORECASE
)


def _in_series(text: str, at: int) -> bool:
    """Tell whether a letter stands among others that name lengths (``H 11, D 5, P 2``)."""
    found = next((match for match in _SERIES.finditer(text) if match.start() <= at < match.end()), None)
    return found is not None and len({letter.lower() for letter in found[0] if letter.isalpha()} - {"m", "x"}) > 1


_PAGE: Final = compiled(r"p\.\s?\d{1,3}[\s:,]", re.IGNORECASE)
"""At a line's start: the page of a book."""
_SIDE: Final = compiled(r"\s?(?:/|[np]F|m?mfd)", re.IGNORECASE)


_ONE_SIDED: Final = compiled(r"\d[x×*] \d|\d(?:mm)? [x×*]\d")
"""``10x 5mm``, ``5mm x20``: the sign may belong to a count of pieces."""


def _is_length_mark(mark: str | None) -> bool:
    return bool(mark) and re.fullmatch(_LEN, mark or "", re.IGNORECASE) is not None


def _product(match: re.Match[str]) -> Size | None:
    unit = next((match[u].strip() for u in ("ub", "ua", "uc") if match[u] and match[u].strip()), "")
    first = _mm(match["a"], match["ua"].strip() or unit)
    second = _mm(match["b"], match["ub"].strip() or unit)
    if first is None or second is None:
        return None
    third = _mm(match["c"], (match["uc"] or "").strip() or unit) if match["c"] else None
    marks_first, marks_second = (match["m1"] or match["n1"]), (match["m2"] or match["n2"])
    if not unit and not (marks_first or marks_second) and max(first, second) < 3:  # noqa: PLR2004 - inches, perhaps
        return Size(doubts=("size-unit-unclear",))
    if _is_length_mark(marks_first) or (marks_second and not _is_length_mark(marks_second)):
        first, second = second, first
    if third is not None and not match["m3"] and third > max(first, Decimal(8)):
        return Size(doubts=("size-unclear",))
    return Size(first, second, third)


def _one(mark: str, number: str, unit: str, *, spaced: bool) -> Size | None:
    low = mark.lower()
    if low in _SHORT_MARKS and spaced and not unit.strip():
        return None
    size = _mm(number, unit)
    if size is None or (not unit.strip() and size > 120):  # noqa: PLR2004 - no body is that long
        return None
    if low in {"d", "h", "l"} and not unit.strip() and size < THINNEST_MM:
        return None  # ``D1``, ``L2``: a diode, a coil
    if low == "grid" or re.fullmatch(_GAP, mark, re.IGNORECASE):
        return Size(pitch=size)
    if not _is_length_mark(mark):
        return Size(diameter=size)
    return Size(height=size, along=low.startswith(("l", "d")))
