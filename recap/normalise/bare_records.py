"""Records without designator and without unit: ``470 50V``, and in a list of counts and values ``1x 100``."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import values, words
from recap.normalise.later import compiled
from recap.normalise.style import PLAIN, Style
from recap.normalise.tokens import Sort, Token, tokenise

_COUNTING: Final = "|".join(
    re.escape(word) for word in sorted(words.COUNT_WORDS, key=len, reverse=True) if len(word) > 1
)
_RECORD: Final = compiled(
    rf"(?P<counted>(?P<times>\d{{1,3}})\s?[x×*]\s?|(?P<pieces>\d{{1,3}})\s?(?:{_COUNTING})\b\.?\s*[-:]?\s*"
    rf"|\((?P<bracketed>\d{{1,3}})\s?[x×]?\)\s?|(?:qty|quantity|anzahl|menge|qté|cantidad|aantal)\.?\s?:?\s?(?P<named>\d{{1,3}})\s?[:-]\s?)?"
    r"(?P<value>\d{1,5}(?:[.,]\d{1,3})?|[.,]\d{1,3})"
    r"(?![\w.,%°\"]|\s?(?:[x×*]\s?\d+\s?(?:mm|x|$)|[/'])|-(?!\d{2,3}\s?V))(?P<rest>.*)",
    re.IGNORECASE,
)
_TRAILING: Final = compiled(r"(?P<value>[\d.,]+)\s?[x×*]\s?(?P<count>\d{1,3})")
_ALLOWED: Final = frozenset(
    (Sort.MARK, Sort.COUNT, Sort.VOLTS, Sort.KIND, Sort.MOUNT, Sort.TEMP, Sort.SIZE, Sort.SAFETY, Sort.WORD)
)
_UNLIKELY: Final = frozenset(("no-preferred-value", "looks-measured", "implausible-value", "thousands-or-decimal"))


def read(text: str, style: Style = PLAIN) -> list[Token] | None:
    """Return the tokens of a line that is nothing but a bare value with a voltage, or with a count in a kit's list.

    None where it is anything else; what was read of the value bears the doubt that its unit is missing.
    """
    if style.counts_trail and (trailing := _TRAILING.fullmatch(text)) is not None:
        text = f"{trailing['value']} {trailing['count']} pcs"  # where counts stand behind, ``100 x 3`` is 3 pieces
    match = _RECORD.fullmatch(text)
    if match is None:
        return None
    value = values.capacitance(match["value"], style.unit)
    if value is None or _UNLIKELY & set(value.doubts):
        return None
    start = match.start("rest")
    rest = [_moved(token, start) for token in tokenise(match["rest"], refs_seen=True)]
    sorts = [token.sort for token in rest if token.sort is not Sort.MARK]
    if not set(sorts) <= _ALLOWED or any(t.sort is Sort.WORD and t.what not in words.NEUTRAL for t in rest):
        return None
    rated = sorts.count(Sort.VOLTS) == 1
    counted = bool(match["counted"]) != (Sort.COUNT in sorts) and style.counts_values
    if not (rated or (counted and Sort.VOLTS not in sorts)):
        return None
    number = Token(Sort.CAP, match["value"], match.start("value"), match.end("value"), value, value.doubts)
    count = next((match[name] for name in ("times", "pieces", "bracketed", "named") if match[name]), None)
    front = [] if count is None else [Token(Sort.COUNT, match["counted"], 0, match.end("counted"), int(count))]
    return [*front, number, *rest]


def _moved(token: Token, by: int) -> Token:
    return Token(token.sort, token.text, token.start + by, token.end + by, token.what, token.doubts)
