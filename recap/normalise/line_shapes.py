"""What a line of text looks like before anything is made of it: bullets, rules, leads, footnotes, records."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import designators, patterns
from recap.normalise.later import compiled
from recap.normalise.surroundings import holds_values

if TYPE_CHECKING:
    from recap.normalise.fields import Draft
    from recap.normalise.heading_marks import Marked
    from recap.normalise.record_line import Line

RULE: Final = compiled(r"[\s\-=_*~+#.|:]{3,}$|[-=_]{2,}$")
LEADS: Final = compiled(r"(?<=[.;])\s+(?=[^\W\d][^\d:;=.,]{1,40}:\s+C[A-Z]?\d)")
LEAD: Final = compiled(r"(?P<lead>[^\d:;=]{2,40}):\s+(?=\S)")
INSTEAD: Final = compiled(
    r"\W*(?:replacement|replaced?(?:\s(?:with|by))?|substitute|new|ersatz(?:typ)?|neu|remplacement|nouveau|sostituto|nuovo"
    r"|sustituto|nuevo|reemplazo|vervanging|nieuw)\s*(?:part|value|type|typ)?\s*[:=]|\s*(?:→|➔|➜|=>|-+>)\s*\d",
    re.IGNORECASE,
)
FOOTNOTE: Final = compiled(
    r"(?:(?P<mark>\*{1,3}|[†‡§#^+])\)?|\[(?P<bracket>[0-9a-z])\]|\(?(?P<figure>\d)\))\s*[=:-]?\s*(?P<text>\S.*)$"
)


def without_ordinal(text: str) -> str:
    """Take an ordinal from the line's start."""
    match = patterns.ORDINAL.match(text)
    return text[match.end() :] if match is not None and match.end() < len(text) else text


def without_bullet(text: str) -> str:
    """Take a bullet or an ordinal from the line's start."""
    for mark in (patterns.BULLET, patterns.BULLET, patterns.ORDINAL):  # ``- [x] 1) C1``
        match = mark.match(text)
        if match is not None and match.end() < len(text):
            text = text[match.end() :]
    return text


def repeats(line: Line, text: str, above: Draft | None, *, in_item: bool) -> bool:
    """Tell whether a line only speaks again of the record above it.

    It says what replaces it (``Replacement: 47µF 35V``), or is indented below a list's item and names its value
    (``search for: 47µF``).
    """
    if above is None or line.has_refs:
        return False
    if above.refs and above.has_value and INSTEAD.match(text):
        return True
    if not in_item or not line.has_values or ":" not in text:
        return False
    stated = {reading.value for draft in line.drafts for reading in draft.caps}
    return bool(line.lead) and stated == {reading.value for reading in above.caps}


_OR: Final = compiled(
    r"\W{0,3}(?:or|oder|ou|oppure|of|eller|lub|albo|nebo|vagy|tai|veya|или)\s+(?=[\d.,])", re.IGNORECASE
)


def offers_another(line: Line, text: str, above: Draft | None) -> bool:
    """Tell whether a line names nothing but another value for the record above it: ``or 22uF 25V in later sets``."""
    named = above is not None and bool(above.refs) and above.has_value
    return named and not line.has_refs and line.has_values and _OR.match(text) is not None


def heads_items(text: str, below: str) -> bool:
    """Tell whether an item stands over records that are marked otherwise (``* PSU`` over ``- C1``).

    Over records that aren't marked at all only the larger signs head anything (``■ PSU`` over ``C1``).
    """
    mark, next_mark = patterns.BULLET.match(text), patterns.BULLET.match(below)
    if mark is None or mark[0].strip().startswith("[") or not holds_values(below):
        return False
    if next_mark is None:
        return mark[0].strip() in _LARGE
    return next_mark[0].strip() != mark[0].strip()


_LARGE: Final = frozenset("▪■□●○►▶»▫◦")


def heads_designators(line: Line, text: str, marked: Marked) -> bool:
    """Tell whether a line is marked as a heading and is nothing but a value (``## 10 µF 25 V``, ``10 µF 25 V:``)."""
    if len(line.drafts) != 1 or line.has_refs or not line.drafts[0].has_value:
        return False
    return marked.strength > 1 or (marked.strength == 1 and text.endswith(":"))


def bears_designators(line: Line, raw: str, below: str) -> bool:
    """Tell whether an item is nothing but a value and designators alone stand as items indented below it."""
    if len(line.drafts) != 1 or line.has_refs or not line.drafts[0].has_value or patterns.BULLET.match(below) is None:
        return False
    deeper = len(below) - len(below.lstrip()) > len(raw) - len(raw.lstrip())
    return deeper and designators.find_group(without_bullet(below)) is not None and not _FARADS.search(below)


_FARADS: Final = compiled(r"\d\s?(?:[uµμnp]F?|mfd)(?![A-Za-z])", re.IGNORECASE)


DATED_HEADING: Final = compiled(r"^\D*\b(?:0?[1-9]|[12]\d|3[01])/(?:0?[1-9]|[12]\d|3[01])\b\D*:$")
"""``Caps replaced 3/14:``: a day, and no value and voltage."""
SENTENCE: Final = 3
"""So many words beside a ditto make a sentence."""


def holds_record(line: Line) -> bool:
    """Tell whether a line holds a record of a part rather than words."""
    if line.has_refs or line.has_values:
        return bool(line.drafts)
    spoken = line.chatter >= SENTENCE and not line.has_refs  # ``left and right are the same``
    return any(
        (draft.dittos and not spoken) or draft.like or (draft.not_fitted and draft.refs) for draft in line.drafts
    )


def mark_struck(line: Line, struck: str) -> None:
    """Take a place of which all was struck through for one not fitted; elsewhere what was struck is doubted."""
    for draft in line.drafts:
        if draft.refs and not draft.has_value:
            draft.not_fitted = True
        else:
            draft.doubt("struck-part", f"{struck!r} is struck through")
