"""What a column holds, told by its cells where its header doesn't: numbers that bear a unit of one sort."""

from __future__ import annotations

import re
from collections.abc import Sequence  # noqa: TC003 - a plain sequence of texts
from typing import Final

_N: Final = r"\d{1,7}(?:[.,]\d{1,4})?"
_SIDE: Final = r"(?:Ø|⌀|D|Dia\.?)?\s?\d{1,3}(?:[.,]\d{1,2})?\s?(?:mm)?"
_FORMS: Final = {
    "value": re.compile(rf"{_N}\s?(?:[µμunp]|m)F|\d+[unpµ]\d*|\d{{1,3}}(?:[ .,]\d{{3}})\s?[µμu]F", re.IGNORECASE),
    "volts": re.compile(rf"(?:[XY]\d\s)?{_N}\s?(?:k?V|WV|V\s?[AD]C|V?[~=]|VDC|VAC|WVDC)(?:\s[XY]\d)?", re.IGNORECASE),
    "temp": re.compile(r"[-+−±]?\d{0,3}\s?(?:°|º)?C?\s?(?:to|bis|\.{2,3}|…|~|/|-)?\s?\+?\d{2,3}\s?(?:°|º|deg)\s?C?"),
    "life": re.compile(
        r"\d{1,2}[.,' ]?\d{3}\s?(?:h|hrs?|hours|std|stunden|heures|ore|horas|uur|timmar)\b\.?.*", re.IGNORECASE
    ),
    "size": re.compile(rf"{_SIDE}\s?[x×*]\s?(?:[HL]\s?)?{_SIDE}(?:\s?[x×*]\s?{_SIDE})?(?:\s[a-z-]+)?", re.IGNORECASE),
    "prices": re.compile(
        r"(?:€|£|\$|EUR|USD|GBP|CHF)\s?\d+[.,]\d{1,4}|\d+[.,]\d{1,4}\s?(?:€|£|\$|EUR|USD|GBP|CHF|zł|kr|Kč|PLN|SEK)",
        re.IGNORECASE,
    ),
}
MOST: Final = 0.8
"""This share of a column's cells speaks for all of it."""


def explicit_field(texts: Sequence[str]) -> str | None:
    """Return the field whose unit nearly all of ``texts`` bear (``size`` for diameter by length), None where none is.

    Blank texts have no say; bare numbers say nothing.
    """
    stated = [text.strip() for text in texts if text.strip() not in {"", "-"}]
    if not stated:
        return None
    for name, form in _FORMS.items():
        if sum(form.fullmatch(text) is not None for text in stated) >= MOST * len(stated):
            return name
    return None
