"""Numbers as people type them: decimal comma, thousands in groups, and digits a scanner misread.

``4,7`` is four and seven tenths, ``10,000`` is ten thousand (three digits behind a comma, no zero
in front), ``1.000`` may be either and gets no value. Nothing here knows what is counted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

MAX_LENGTH: Final = 80
"""Longer text is no single quantity; it also bounds the work on hostile input."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number read, or None with the ``readings`` between which nothing decides; doubts are codes."""

    value: Decimal | None
    doubts: tuple[str, ...] = ()
    readings: tuple[Decimal, ...] = ()


_MOST_DIGITS: Final = 24
"""Longer numbers are no quantity of the trade; below, decimal arithmetic (28 digits) stays exact."""
_SPACES: Final = (
    "\t\n\r\f\v\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
)
_NOTHING: Final = "\u00ad\u200b\u200c\u200d\u2060\ufeff"
_LOOK_ALIKES: Final = {
    **dict.fromkeys(map(ord, _SPACES), " "),
    **dict.fromkeys(map(ord, _NOTHING), None),
    **{code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)},  # full-width forms of ASCII
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2015\u2212"), "-"),
    **dict.fromkeys(map(ord, "\u2044\u2215"), "/"),
    **dict.fromkeys(map(ord, "\u2019\u02bc\u2032"), "'"),
    ord("\u00b7"): ".",  # 4·7, the raised point of British sheets
    ord("\u22c5"): ".",
    ord("\u03bc"): "\u00b5",  # Greek mu for the micro sign
    ord("\u338c"): "\u00b5F",
    ord("\u338b"): "nF",
    ord("\u338a"): "pF",
}
_MOJIBAKE: Final = (("\u00c2\u00b5", "\u00b5"), ("\u00ce\u00bc", "\u00b5"), ("&micro;", "\u00b5"), ("&mu;", "\u00b5"))
"""The micro sign's UTF-8 bytes shown as single letters, and its names in web pages."""


def tidy(text: str) -> str:
    """Return text with one kind of space, dash, slash, point and micro sign, none of it at the ends."""
    text = text.translate(_LOOK_ALIKES)
    for wrong, right in _MOJIBAKE:
        text = text.replace(wrong, right)
    return " ".join(text.split())


_EXPONENT: Final = re.compile(
    r"(?<![\w.,+-])(?P<digits>[0-9]{1,15}(?:[.,][0-9]{1,15})?)[eE]\+(?P<power>0?[0-9])(?![0-9]|[.,][0-9])"
)


def without_exponent(text: str) -> str:
    """Return text with large numbers as ``2.20E+03``, which spreadsheets show, written out: ``2200``.

    Those below one (``4.7E-05``) are left to the readers of values, which tell farads by them.
    """
    return _EXPONENT.sub(_written_out, text) if "e+" in text or "E+" in text else text


def _written_out(match: re.Match[str]) -> str:
    number = f"{Decimal(match['digits'].replace(',', '.')).scaleb(int(match['power'])):f}"
    return number.rstrip("0").rstrip(".") if "." in number else number


_PLAIN: Final = re.compile(r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+")
_COMMA: Final = re.compile(r"[0-9]*,[0-9]+")
_BY_COMMA: Final = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_BY_POINT: Final = re.compile(r"[1-9][0-9]{0,2}(?:\.[0-9]{3})+(?:,[0-9]+)?")
_BY_SPACE: Final = re.compile(r"[1-9][0-9]{0,2}(?:[ '][0-9]{3})+(?:[.,][0-9]+)?")
_WRITINGS: Final = ((_BY_COMMA, ",", "."), (_BY_POINT, ".", ","), (_PLAIN, ",", "."), (_COMMA, ".", ","))
"""How a number may be written: its pattern, what groups its thousands, what is its decimal point."""
_ONE_POINT_GROUP: Final = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}")

EXPONENT: Final = re.compile(
    r"(?P<figures>[0-9]{1,12}(?:[.,][0-9]{0,12})?|[.,][0-9]{1,12})[eE](?P<power>[-+][0-9]{1,2})"
)
"""``4.70E-06``, as spreadsheets and programs write it. Without a sign behind the E it may be a part number."""

MISREAD: Final = str.maketrans("OolLI|SsBZ", "0011115582")
"""Letters that a scanner gives for digits (common practice)."""


def number(text: str) -> Number | None:
    """Read one unsigned number, or None where the text isn't one.

    Doubts: ``thousands-or-decimal`` (no value, both readings given) and ``count-or-thousands``
    (``2 200``: read as 2200, though 2 pieces of 200 may be meant).
    """
    text = text.strip()
    if len(text) > _MOST_DIGITS:
        return None
    if _ONE_POINT_GROUP.fullmatch(text):
        return Number(None, ("thousands-or-decimal",), (Decimal(text), Decimal(text.replace(".", ""))))
    if _BY_SPACE.fullmatch(text):
        return _spaced(text)
    if match := EXPONENT.fullmatch(text):
        return Number(Decimal(match["figures"].replace(",", ".")).scaleb(int(match["power"])))
    for pattern, grouping, point in _WRITINGS:
        if pattern.fullmatch(text):
            return Number(Decimal(text.replace(grouping, "").replace(point, ".")))
    return None


def _spaced(text: str) -> Number:
    value = Decimal(text.replace(" ", "").replace("'", "").replace(",", "."))
    _, _, second = text.partition(" ")
    if second and second[0] != "0" and " " not in second:
        return Number(value, ("count-or-thousands",), (value, Decimal(second.replace("'", "").replace(",", "."))))
    return Number(value)


def misread_number(text: str) -> Number | None:
    """Read a number in which letters stand for digits (``l00``, ``47O``), doubted ``ocr-digit``.

    Needs one true digit; text without such letters is :func:`number`'s business and gives None here.
    """
    changed = text.translate(MISREAD)
    if changed == text or not any("0" <= letter <= "9" for letter in text):
        return None
    found = number(changed)
    return None if found is None else Number(found.value, (*found.doubts, "ocr-digit"), found.readings)
