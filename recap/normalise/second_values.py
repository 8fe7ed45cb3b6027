"""A further column that wide blanks part from a record: what somebody fitted or ordered instead of it.

``C5  22uF  35V      22uF, 50V, 105 °C``: the record is what stands first (common practice). One line of this form may
be anything; several make a habit of the list.
"""

from __future__ import annotations

import re
from typing import Final

from recap.normalise.later import compiled

_GAP: Final = compiled(r"[ ]*\t\s*|\s{3,}")
_RECORD: Final = compiled(r"\W*C[A-Z]?-?\d{1,4}[A-Z]?\W.*", re.IGNORECASE)
_FARADS: Final = compiled(r"\d\s?(?:[uµμn]F?|pF)(?![A-Za-z])", re.IGNORECASE)
_VOLTS: Final = compiled(r"\d\s?V(?:DC)?(?![A-Za-z])", re.IGNORECASE)
_VALUE: Final = compiled(r"\.?\d[\d.,]*\s?(?:[uµμn]F?|pF)(?![A-Za-z])", re.IGNORECASE)


def _gap(text: str) -> tuple[int, int] | None:
    """Return where the blanks begin and end between a whole record and a value that stands behind it."""
    for gap in _GAP.finditer(text) if _RECORD.match(text) else ():
        own = text[: gap.start()]
        whole = len(_FARADS.findall(own)) == 1 and _VOLTS.search(own) is not None
        if whole and _VALUE.match(text, gap.end()):
            return gap.span()
    return None


def stand_beside(text: str) -> bool:
    """Tell whether a line is a record with a further value in a column behind it."""
    return _gap(text) is not None


def mark_replacement(text: str) -> str:
    """Put an arrow in front of a further column's value."""
    found = _gap(text)
    return text if found is None else f"{text[: found[0]]} -> {text[found[1] :]}"
