"""Codes by which parts are ordered: letters and figures that look like designators or values and are neither."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise.later import compiled

_GROUPS: Final = r"[A-Z\d]{2,8}-\d{4,}(?:-[A-Z\d]+)*"
"""``161-2508-EX``: groups of figures that no capacitance and voltage would be."""
_ONE: Final = compiled(_GROUPS, re.IGNORECASE)
_AMONG: Final = compiled(rf"(?<![\w-]){_GROUPS}(?![\w-])", re.IGNORECASE)
_SHOPS: Final = compiled(r"[A-Z]{1,3}[- ]?\d{4,6}", re.IGNORECASE)
"""``C-4711``, ``R-6101``: more figures than any board has places."""
_BEHIND_COUNT: Final = compiled(r"\d{2,6}-[\w-]{2,20}\s")


def is_one(text: str) -> bool:
    """Tell whether a whole text is the number that a part is ordered by."""
    return _ONE.fullmatch(text) is not None


def stands_in(text: str) -> bool:
    """Tell whether such a number stands anywhere in a text."""
    return _AMONG.search(text) is not None


def is_of_shop(text: str) -> bool:
    """Tell whether a whole text is a shop's short code, one that looks like a designator."""
    return _SHOPS.fullmatch(text) is not None


def begins(text: str) -> bool:
    """Tell whether a text behind a count begins with such a number: ``2x 594-2222 100µF``."""
    return _BEHIND_COUNT.match(text) is not None
