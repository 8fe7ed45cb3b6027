"""What a line is cut into: the sorts of tokens, the token, and what the lexer remembers of a text."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from recap.normalise.style import PLAIN, Style


class Sort(StrEnum):
    """What a token is. The comment names what its ``what`` holds."""

    REFS = "refs"  # RefGroup
    OTHER_REF = "other part"  # None
    CAP = "capacitance"  # values.Reading
    SECTIONS = "sections"  # tuple[Decimal, ...]
    PAIR = "pair"  # tuple[values.Reading, values.Reading]
    VOLTS = "volts"  # values.Reading
    TEMP = "temperature"  # int
    SIZE = "size"  # sizes.Size
    COUNT = "count"  # int
    RIPPLE = "ripple"  # Decimal, mA
    SAFETY = "safety class"  # str
    KIND = "kind"  # Kind
    MOUNT = "mount"  # Mount
    ROLE = "role"  # Role
    NOT_FITTED = "not fitted"  # None
    DITTO = "ditto"  # None
    REPLACED = "replaced by"  # None
    ORIGINAL = "originally"  # None
    MEASURED = "measured"  # None
    LIKE = "like"  # None
    DATE = "date"  # None
    ASIDE = "aside"  # None
    NUMBER = "number"  # str
    CODE = "code"  # None
    WORD = "word"  # str, folded
    MARK = "mark"  # str


@dataclass(frozen=True, slots=True)
class Token:
    """One token; ``what`` depends on its sort (see :class:`Sort`)."""

    sort: Sort
    text: str
    start: int
    end: int
    what: Any = None
    doubts: tuple[str, ...] = ()


@dataclass(slots=True)
class Scan:
    """The text and what was seen so far of it."""

    text: str
    strict: bool = False
    refs_seen: bool = False
    cap_seen: bool = False
    at_start: bool = True
    last_end: int = 0
    style: Style = PLAIN


def hyphenated(scan: Scan, at: int) -> bool:
    """Tell whether a hyphen joins ``at`` to a letter in front of it: the end of a name, no quantity by itself."""
    return at > 1 and scan.text[at - 1] == "-" and scan.text[at - 2].isalpha()


def glued(scan: Scan, at: int) -> bool:
    """Tell whether ``at`` is the middle of a word or number rather than the end of the token before."""
    text = scan.text
    if at in {0, scan.last_end} and not text[at - 1 : at].isdigit():
        return False
    return text[at - 1].isalnum() or (text[at - 1] in ".," and at > 1 and text[at - 2].isdigit())
