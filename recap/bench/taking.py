"""One cell of a price list or drawer to one field, by the column's own reader or, of a description, in words."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache

from recap.bench.fields import FIELDS, NONE, NOTHING, Taken
from recap.bench.in_words import IN_WORDS, in_words

TEXTS = frozenset({"maker", "series", "tolerance"})
_EXPONENT = re.compile(r"\d+(?:\.\d+)?[eE][+-]?\d{1,2}")


@lru_cache(maxsize=2**17)
def take(name: str, text: str, unit: str | None = None, mark: str | None = None) -> Taken:
    """Return the field ``name`` read from ``text``; blank and its like are not stated.

    What was read is remembered, for the catalogues of a bench share most of their texts.
    """
    text = text.strip()
    if text.casefold() in NOTHING:
        return NONE
    if unit == IN_WORDS:
        return in_words(name, text)
    if name not in TEXTS and _EXPONENT.fullmatch(text):
        text = f"{Decimal(text):f}"  # 1e-05, as programs write small numbers
    return FIELDS[name](text, unit, mark)
