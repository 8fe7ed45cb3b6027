"""A count at a line's start that only its place tells: wide blanks behind it, or ``4 of``, ``n. 4 da``."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise.later import compiled
from recap.normalise.style import ENDING

if TYPE_CHECKING:
    from recap.normalise.style import Style

_APART: Final = compiled(
    r"^(?P<lead>\s*\d{1,3})(?:\s{2,}|\t)(?=\d+(?:[.,]\d+)?\s?[uµμnp]F?(?![A-Za-z]))", re.IGNORECASE
)
_PIECES_OF: Final = compiled(
    r"^(?P<lead>\s*(?:[-*•]\s+)?)(?:n(?:[.°º]|[ro]\.?)\s*)?(?P<count>[1-9]\d{0,2})\s+(?:da|de|von|di|x)\s+"
    r"(?=[.,]?\d+(?:[.,]\d+)?\s?[uµμn])",
    re.IGNORECASE,
)
"""``n. 4 da 100µF``, ``3 von 10µF``: so many pieces."""
_OF: Final = compiled(r"^(?P<lead>\s*(?:[-*•]\s+)?[1-9]\d{0,2})\s+of\s+(?=[.,]?\d)", re.IGNORECASE)
_PAIRS: Final = compiled(
    r"^(?P<lead>\s*(?:[-*•]\s+)?)(?P<pairs>[1-9]\d?)\s+(?:pairs?|pr|Paare?|paires?|paia|pares|par|paar|pary)\s+(?:(?:of|von|de|di|van)\s+)?"
    r"(?=[.,]?\d+(?:[.,]\d+)?\s?(?:[uµμnp]F?|mfd)(?![A-Za-z]))",
    re.IGNORECASE,
)
"""``2 pairs of 33uF``: two for each pair."""
_ANY_APART: Final = compiled(r"^(?P<lead>\s*(?:[-*•]\s+)?[1-9]\d{0,2})(?:\s{2,}|\t)(?=\S)")


_PRICED: Final = compiled(
    r"^\s*(?:\d{1,2}[.)]?\s+)?(?P<count>[1-9]\d{0,3})\s?[x×]?\s+\S.*?(?P<prices>\s+[€$£]?(?P<each>\d{1,4}[.,]\d\d)\s?[€$£]?\s+[€$£]?"
    r"(?P<sum>\d{1,5}[.,]\d\d)\s?(?:[€$£]|EUR|USD|GBP)?)\s*$"
)


def _without_sum(text: str) -> str:
    """Take what the pieces cost from the end of a receipt's line, where count and price make the sum."""
    match = _PRICED.match(text) if text[-1:].isalnum() or text[-1:] in "€$£ " else None
    if match is None:
        return text
    each, whole = (Decimal(match[name].replace(",", ".")) for name in ("each", "sum"))
    return text[: match.start("prices")] if int(match["count"]) * each == whole else text


def count_apart(text: str, style: Style) -> str:
    """Mark a number for a count that wide blanks part from the value: ``2   100pF`` is two columns."""
    text = _without_sum(text)
    if style.counts_end and (match := ENDING.match(text)) is not None:
        return f"{text[: match.start('apart')]} x{match['count']}"
    text = _PIECES_OF.sub(r"\g<lead>\g<count>x ", text)
    text = _PAIRS.sub(lambda m: f"{m['lead']}{2 * int(m['pairs'])}x ", text)
    if style.counts_of:
        text = _OF.sub(r"\g<lead>x ", text)
    if style.ordinals_lead or style.numbers_are_refs:
        return text
    apart = _ANY_APART if style.counts_apart else _APART
    match = apart.match(text)
    return text if match is None else f"{match['lead']}x {text[match.end() :]}"
