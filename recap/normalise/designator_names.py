"""Designators that are names (``C_OUT``, ``CIN``), and chip sizes that look like designators (``C0805``)."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise.later import compiled

CHIP_SIZES = frozenset(
    "0201 0402 0603 0805 1005 1206 1210 1608 1806 1808 1812 1825 2010 2012 2220 2225 2512 3216 3225 3528 4532 5750 "
    "6032 7343".split()
)
"""Sizes of chip parts in hundredths of an inch (EIA) or tenths of a millimetre (common practice)."""


def is_chip_size(text: str) -> bool:
    """Tell whether ``text`` is a letter and a chip size (``C0805``): more likely a package than a designator."""
    return re.fullmatch(r"[CRL]_?\d{4}", text.strip()) is not None and text.strip()[-4:] in CHIP_SIZES


def with_sides(text: str) -> str:
    """Return a text with the side of a designator as its last letter, and without the name of a side in front of one.

    ``C5(L)`` is C5L, ``C5 (R: C25)`` is C5 (C25).
    """
    text = _SIDE_NAMED.sub("(", text) if "(" in text or "[" in text else text
    return _SIDED.sub(r"\1\2", text) if "L)" in text or "R)" in text or "L]" in text or "R]" in text else text


_SIDE_NAMED: Final = compiled(
    r"[(\[](?:R|L|right|left|rechts|links|re|li|droite?|gauche|destro|sinistro|der|izq|höger|vänster)\s?[:.=]\s?(?=C[A-Z]?\d)",
    re.IGNORECASE,
)
"""``C103 (R: C203)``: the designator of the other channel."""


def with_channels(text: str) -> str:
    """Return a cell with the numbers of further channels as designators: ``C103(203)`` is C103 and C203."""
    return _CHANNELS.sub(_spelt_out, text) if "(" in text or "[" in text else text


_CHANNELS: Final = compiled(
    r"(?<![A-Za-z0-9])(?P<letters>C[A-Z]?)(?P<number>\d{3,4})\s?[(\[](?P<others>\d{3,4}(?:\s?[,/]\s?\d{3,4})*)[)\]](?=[\s,;/]|$)"
)


def _spelt_out(match: re.Match[str]) -> str:
    others = re.findall(r"\d+", match["others"])
    if any(len(other) != len(match["number"]) for other in others):
        return match[0]
    return ", ".join(f"{match['letters']}{number}" for number in (match["number"], *others))


_SIDED: Final = compiled(r"(?<![A-Za-z0-9])(C[A-Z]?[-_]?\d{1,4})[(\[]([LR])[)\]]")
_NAME: Final = (
    r"C(?:_(?!SM[DT]|TH)[A-Z]{1,8}\d{0,4}[A-Z]?(?:_[A-Z0-9]{1,6})?|(?:IN|OUT|BST|BYP|VCC|VIN|FB|SS)_[A-Z0-9]{1,8})"
    r"(?![A-Za-z0-9_.-]|:[A-Za-z0-9])"
)
NAMES: Final = compiled(rf"{_NAME}(?:\s*[,;/&+\s]\s*{_NAME})*")
_NAMES_IN_COLUMN: Final = compiled(
    r"(?!(?:CAPS?|COIL|CONN?|COND|CASE|CHIP|CRYSTAL|CABLE|CORE|COVER|CLAMP|CLIP|CAN)(?:\d*$|_))"
    r"C(?:_[A-Za-z0-9_]{1,12}|[A-Z]{2,6}_?\d{0,3}[A-Z]?|[A-Z]{2,6}_[A-Z0-9]{1,8}|(?:in|out)\d{0,3}|[a-z]{1,2}\d{0,2})"
)
"""In a column of designators their names may be of any sort: ``CIN``, ``COUT2``, ``C_boost``."""


def named_in_column(text: str) -> tuple[str, ...]:
    """Return the names that a cell of a column of designators holds; none where it holds anything else."""
    names = re.split(r"[\s,;/&+]+", text)
    known = bool(names) and all(_NAMES_IN_COLUMN.fullmatch(name) and not is_chip_size(name) for name in names)
    return tuple(dict.fromkeys(names)) if known else ()
