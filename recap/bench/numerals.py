"""Numbers in a table's columns: which decimal mark a column uses, and numbers read by it.

``1.000`` and ``1,000`` alone say nothing; ``0,42`` or ``12.5`` in the same column do. Where nothing
in the file decides, a number of that shape has no value and is told.
"""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import islice
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_TOKEN = re.compile(r"(?<![\w.,])\d[\d.,]*\d(?![\w.,]*\d)|(?<=[:=@ ])\d[\d.,]*\d")
_GROUPED = re.compile(r"[1-9]\d{0,2}([.,])\d{3}")
_GROUPS_TWICE = re.compile(r"\d([.,])\d{3}\1\d")
_PLAIN = re.compile(r"\d+(?:\.\d+)?")
_SPACES = re.compile(r"(?<=\d)[ '\u00a0\u202f\u2009’](?=\d{3}(?!\d))")
ENOUGH = 4000
"""So many texts of a column are looked at to find its decimal mark."""


def decimal_mark(texts: Iterable[str]) -> str | None:
    """Return ``.`` or ``,`` where the numbers in ``texts`` show that it marks decimals, None where they don't agree."""
    sample = "\n".join(islice(texts, ENOUGH))
    if "." not in sample and "," not in sample:
        return None
    marks: set[str] = set()
    for token in _TOKEN.finditer(sample):
        mark = _evidence(token[0])
        if mark is not None:
            marks.add(mark)
            if len(marks) > 1:
                return None
            if ("," if mark == "." else ".") not in sample:
                return mark if _GROUPS_TWICE.search(sample) is None else None
    return marks.pop() if marks else None


def _evidence(token: str) -> str | None:
    points, commas = token.count("."), token.count(",")
    if points and commas:
        return "." if token.rfind(".") > token.rfind(",") else ","
    if points + commas > 1:
        return "," if points else "."
    if not points + commas or _GROUPED.fullmatch(token):
        return None
    return "." if points else ","


def plain_number(token: str, mark: str | None) -> str | None:
    """Return ``token`` (digits, points, commas) with a decimal point and no grouping, None where it has two readings.

    Raises ValueError where it is no number.
    """
    token = _SPACES.sub("", token.strip())
    if token.isdecimal() and token.isascii():
        return token
    own = _evidence(token)
    use = own or mark
    if use is None:
        if _GROUPED.fullmatch(token):
            return None
        raise ValueError(token)
    if own is not None and mark is not None and own != mark and _both(token):
        raise ValueError(token)
    other = "," if use == "." else "."
    whole, _, part = token.rpartition(use) if use in token else (token, "", "")
    if other in part or (other in whole and re.fullmatch(rf"\d{{1,3}}(?:\{other}\d{{3}})+", whole) is None):
        raise ValueError(token)
    text = whole.replace(other, "") + ("." + part if part else "")
    text = "0" + text if text.startswith(".") else text
    if _PLAIN.fullmatch(text) is None or not text.isascii():
        raise ValueError(token)
    return text


def _both(token: str) -> bool:
    return "." in token and "," in token


def plain_numbers(text: str, mark: str | None) -> str:
    """Return ``text`` with its numbers that have points or commas written plainly, as far as ``mark`` decides them."""
    if mark is None or ("," not in text and "." not in text):
        return text

    def rewrite(match: re.Match[str]) -> str:
        try:
            plain = plain_number(match[0], mark)
        except ValueError:
            return match[0]
        if plain is None:
            return match[0]
        return plain.rstrip("0").rstrip(".") if "." in plain else plain

    return re.sub(r"\d[\d.,]*\d|\d", rewrite, text)


def whole_number(text: str, mark: str | None = None) -> int | None:
    """Return the whole number that ``text`` is (``1.000`` by the column's mark), None where it is none."""
    token = text.strip()
    if token.isdecimal() and token.isascii():
        return int(token) if len(token) <= 15 else None  # noqa: PLR2004 - nobody has 10^15 of anything
    try:
        plain = plain_number(token, mark)
    except ValueError:
        return None
    if plain is None:
        return None
    value = Decimal(plain)
    return int(value) if value == value.to_integral_value() and value < Decimal(10) ** 15 else None


def decimal_number(text: str, mark: str | None = None) -> Decimal | None:
    """Return the number that ``text`` is, None where it is none or has two readings. No sign is taken."""
    token = text.strip()
    if _PLAIN.fullmatch(token) and token.isascii() and not _GROUPED.fullmatch(token):
        return Decimal(token)
    try:
        plain = plain_number(token, mark)
    except ValueError:
        return None
    return None if plain is None else Decimal(plain)
