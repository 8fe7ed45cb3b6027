"""What stands behind a record and speaks of another edition of the set, or of a part that wasn't taken.

``was 100uF on rev A`` is no original of this place, ``(35V one is too tall)`` no second rating of it.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import words
from recap.normalise.clean import fold
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
_RATED: Final = frozenset((Sort.VOLTS, Sort.PAIR))
EDITIONS: Final = frozenset(
    fold(word)
    for word in (
        "rev revision revisions version versions ver issue edition model models variant variants early earlier late "
        "later first older newer old new sets units series batch serie serien série séries première premières "
        "ausführung "
        "frühe frühen frühere früheren späte späten späteren ältere älteren neuere neueren gerät geräte geräten prima "
        "prime primi seconda vecchia vecchie vecchi nuova nuove modelli modello versione versioni modelo modelos "
        "primera primeras versión versiones eerste vroege latere oudere serienummer boards pcb chassis"
    ).split()
)
"""Words for another make of the same set than the one that is listed."""
_UNFIT: Final = frozenset(
    fold(word)
    for word in (
        "too won't wont doesn't doesnt didn't didnt can't cant taller bigger larger wider fatter hoch groß dick breit "
        "passt trop rentre troppo entra demasiado cabe hoog groot breed past"
    ).split()
)
"""With one of these a remark says why a part can't be used."""
_COUNT: Final = (
    r"(?:\d{1,2}|one|two|three|four|ein|eine|zwei|drei|un|une|deux|trois|uno|una|due|tre|dos|tres|een|twee|drie)"
)
_COUNTED: Final = compiled(
    rf"(?<![\w.,])(?:only\s+|nur\s+)?{_COUNT}\s+(?:of\s+(?:these|them|those|this)|pcs|pieces|parts|caps|off|fitted|used"
    rf"|davon|stück|de\s+ceux|pièces|di\s+questi|pezzi|de\s+estos|piezas|hiervan|stuks|in|on|bei|dans|nei|en|bij)\b",
    re.IGNORECASE,
)


def _folded(tokens: Sequence[Token]) -> set[str]:
    return {fold(word) for token in tokens for word in re.findall(r"[^\W\d_][\w'’]*", token.text)}


def names_another(tokens: Sequence[Token], said: str) -> bool:
    """Tell whether what stands behind ``was``, or the remark ``said`` behind that, names another edition of the set."""
    told = {fold(word) for word in re.findall(r"[^\W\d_]+", said)}
    return bool((told | _folded(tokens)) & EDITIONS)


def begins(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a remark on another rating begins at ``at``: behind value and voltage, to the record's end."""
    if tokens[at].text not in {"(", ",", "-", ";"} or not _is_rated(tokens[:at]):
        return False
    rest = tokens[at + 1 :]
    inside = rest
    if tokens[at].text == "(":
        end = next((i for i, token in enumerate(rest) if token.text == ")"), len(rest))
        inside = rest[:end]
        if sorts(rest[end:]) - {Sort.MARK}:
            return False
    named = next((i for i, token in enumerate(inside) if token.sort in {Sort.VOLTS, Sort.CAP, Sort.PAIR}), None)
    if named is None or Sort.REFS in sorts(inside):
        return False
    if Sort.REPLACED in sorts(inside[:named]):
        return False  # ``(use 50V if it fits)``: a suggestion
    if tokens[at].text != "(":
        return is_unfit(inside)
    return any(token.sort is Sort.WORD and fold(token.text) not in words.NEUTRAL | _OR for token in inside)


_OR: Final = frozenset(("or", "oder", "ou", "o", "of"))
"""A choice, and no remark: ``10V (or 16V)``."""


def is_unfit(tokens: Sequence[Token]) -> bool:
    """Tell whether a remark says that a part can't be used, or doesn't fit."""
    return bool(_folded(tokens) & _UNFIT)


def only_weighs(tokens: Sequence[Token]) -> bool:
    """Tell whether a remark says of a rating only why it can't be used, or that it would do, too."""
    return is_unfit(tokens) or bool(_folded(tokens) & (words.OFFERING - _OR))


def _is_rated(tokens: Sequence[Token]) -> bool:
    there = sorts(tokens)
    return not _RATED.isdisjoint(there) and not _VALUES.isdisjoint(there)


def counts_otherwise(text: str) -> str | None:
    """Return what a remark says of another number of parts in another edition: ``2 of these in late sets``."""
    match = _COUNTED.search(text)
    if match is None:
        return None
    told = {fold(word) for word in re.findall(r"[^\W\d_]+", text[match.start() :])}
    return match[0] if told & (EDITIONS | _SOME) else None


_SOME: Final = frozenset(("some", "einige", "manche", "certains", "alcuni", "algunos", "sommige"))
