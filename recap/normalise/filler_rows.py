"""Rows of a table that hold no part: sums, sums carried from page to page, the head of a page."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import columns
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_TOTALS: Final = frozenset(
    "total totals sum summe gesamt totale totaal subtotal zwischensumme suma somme insgesamt totali totaux razem summa "
    "yhteensä celkem összesen sammanlagt итого всего 合計 計 übertrag riporto overdracht transporte".split()
)
MOST_WORDS: Final = 6
"""A sum's name has no more."""
_WORDS: Final = compiled(r"[^\W\d_]+")
_BARE: Final = compiled(r"[\d.,' ]+|[€$£]?\s?[\d.,]+\s?[€$£]?|=.*")
_PAGE: Final = compiled(
    r"(?i:page|seite|blatt|sheet|p[aá]gina|strana|sida|side)\s\d{1,3}(?:\s?(?:of|von|/|de|di|van|av)\s?\d{1,3})?"
)


def is_total(texts: Sequence[str], draft: Draft) -> bool:
    """Tell whether a row only adds up the column of counts."""
    short = [text for text in texts if len(text.split()) <= MOST_WORDS]
    named = [text for text in short if set(_WORDS.findall(text.casefold())) & _TOTALS]
    if not named or draft.refs:
        return False
    others = [text.strip() for text in texts if text.strip() and text not in named]
    return not draft.has_value or all(_BARE.fullmatch(text) for text in others)


def is_page(texts: Sequence[str]) -> bool:
    """Tell whether a row numbers a page and holds no part (``Parts List | Page 2 of 5``)."""
    return any(map(_PAGE.fullmatch, texts)) and not any(map(columns.holds_data, texts))
