"""Counts written in words: ``two 470uF 10V caps``, ``zwei Stück 100µF``; and words that count loosely."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import words
from recap.normalise.clean import fold
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

_SPELT: Final[tuple[str, ...]] = (
    "one|ein|eine|einen|un|une|uno|una|een|single",
    "two|zwei|zwo|deux|due|dos|twee|två|dwa|dwie|pair",
    "three|drei|trois|tre|tres|drie|trzy",
    "four|vier|quatre|quattro|cuatro|fyra|cztery",
    "five|fünf|cinq|cinque|cinco|vijf|fem|pięć",
    "six|sechs|sei|seis|zes|sześć",
    "seven|sieben|sept|sette|siete|zeven",
    "eight|acht|huit|otto|ocho",
    "nine|neun|neuf|nove|nueve|negen",
    "ten|zehn|dix|dieci|diez|tien",
    "eleven|elf|onze|undici|once",
    "twelve|zwölf|douze|dodici|doce|twaalf|dozen",
)
NUMBERS: Final = {fold(word): count for count, spelt in enumerate(_SPELT, start=1) for word in spelt.split("|")}
LOOSE: Final = frozenset(
    fold(word)
    for word in (
        "few some several couple paar einige mehrere quelques plusieurs alcuni alcune qualche parecchi algunos unos "
        "enkele meerdere half dozens många kilka"
    ).split()
)
_SIX: Final = ("half", "a", "dozen")
_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
_COUNTING: Final = frozenset((Sort.REFS, Sort.COUNT))
_NAMING: Final = frozenset((Sort.KIND, Sort.WORD))
_COUNTED: Final = frozenset(fold(word) for word in words.COUNT_WORDS) | {"da", "de", "di", "of", "von", "van", "x"}
_CAPACITORS: Final = frozenset(
    fold(word)
    for word in (
        "cap caps capacitor capacitors kondensator kondensatoren condensateur condensateurs condo condos condensatore "
        "condensatori condensador condensadores capacitor capacitores condensator condensatoren"
    ).split()
)
_MANIFOLD: Final = frozenset(
    fold(word) for word in "dual double twin triple quad zweifach dreifach doppio doble dubbel dubbele sections".split()
)


def counted(tokens: Sequence[Token]) -> list[Token]:
    """Return the tokens of a record with a number in front of its kind, or a spelt one beside its value, as the count.

    Beside designators only a number of just as many is one (``2 Elkos 10 µF (C1, C2)``): others may number the line.
    """
    listed = sum(len(token.what.refs) for token in tokens if token.sort is Sort.REFS)
    if listed and Sort.COUNT not in sorts(tokens) and _leads_with_count(tokens) and int(tokens[0].text) == listed:
        return [tokens[0]._replace(sort=Sort.COUNT, what=listed), *tokens[1:]]
    if not _COUNTING.isdisjoint(sorts(tokens)):
        return list(tokens)
    if _leads_with_count(tokens):
        return [tokens[0]._replace(sort=Sort.COUNT, what=int(tokens[0].text)), *tokens[1:]]
    at = next((at for at in range(len(tokens)) if _is_count(tokens, at)), None)
    if at is None:
        return list(tokens)
    token = tokens[at]
    return [*tokens[:at], Token(Sort.COUNT, token.text, token.start, token.end, NUMBERS[token.what]), *tokens[at + 1 :]]


def _leads_with_count(tokens: Sequence[Token]) -> bool:
    """Tell whether a record begins with a number right in front of a word for capacitors: ``2 Elkos 100µF``."""
    if len(tokens) < 3 or tokens[0].sort is not Sort.NUMBER or not tokens[0].text.isdigit():  # noqa: PLR2004
        return False
    named = tokens[1].sort is Sort.KIND or (tokens[1].sort is Sort.WORD and tokens[1].what in _CAPACITORS)
    return named and 0 < int(tokens[0].text) <= MOST and not _VALUES.isdisjoint(sorts(tokens))


def dozens(tokens: Sequence[Token]) -> list[Token]:
    """Return the tokens with ``half a dozen`` as one number."""
    told = [token.what if token.sort is Sort.WORD else None for token in tokens]
    for at in range(len(tokens)):
        for spelt in (_SIX, _SIX[::2]):
            if tuple(told[at : at + len(spelt)]) == spelt:
                last = tokens[at + len(spelt) - 1]
                six = tokens[at]._replace(what="six", end=last.end)
                return [*tokens[:at], six, *tokens[at + len(spelt) :]]
    return list(tokens)


def at_the_end(tokens: Sequence[Token]) -> Token | None:
    """Return the number that ends a record without designators behind a sign, where a count would stand, or None."""
    told = [token for token in tokens if token.sort is not Sort.MARK or token.text not in ")]}"]
    there = sorts(told)
    if not _COUNTING.isdisjoint(there) or len(told) < 3:  # noqa: PLR2004
        return None
    last, before = told[-1], told[-2]
    apart = (before.sort is Sort.MARK and before.text in "-:,.=;[{*") or before.what in _TIMES
    whole = last.sort is Sort.NUMBER and last.text.isdigit() and 0 < int(last.text) <= MOST
    rated = {Sort.VOLTS, Sort.CAP} <= there or Sort.PAIR in there
    return last if whole and apart and rated else None


_TIMES: Final = frozenset(("times", "by", "mal", "fois", "volte", "veces", "keer", "ganger", "krat", "x"))
MOST: Final = 100
"""So many of one value are still a count; larger numbers may be anything."""


def beside(tokens: Sequence[Token]) -> Token | None:
    """Return a spelt number in front of a value in a record that nothing else counts (``the two big ones 6800/71``)."""
    if not _COUNTING.isdisjoint(sorts(tokens)) or Sort.COUNT in sorts(counted(tokens)):
        return None
    at = next((at for at, token in enumerate(tokens) if token.sort in _VALUES), 0)
    told = [token for token in tokens[:at] if token.sort is Sort.WORD and NUMBERS.get(token.what, 1) > 1]
    return told[0] if len(told) == 1 else None


def loosely(tokens: Sequence[Token]) -> str | None:
    """Return the word that counts loosely in front of a value (``a couple of 10uF``), or None."""
    at = next(
        (
            at for at, token in enumerate(tokens)
            if token.sort is Sort.WORD and token.what in LOOSE and _leads_to_value(tokens, at, loose=True)
        ),
        None,
    )  # fmt: skip
    return None if at is None else tokens[at].text


def sections(tokens: Sequence[Token]) -> str | None:
    """Return the word that makes several sections of a lone value (``dual 20 µF 450 V``, ``Doppelelko``), or None."""
    if Sort.SECTIONS in sorts(tokens):
        return None
    at = next((at for at, token in enumerate(tokens) if token.sort in _VALUES), len(tokens))
    for token in tokens[max(at - 2, 0) : at + 6]:
        named = token.sort in _NAMING and (token.what in _MANIFOLD or fold(token.text).startswith("doppel"))
        if named:
            return token.text
    return None


def _is_count(tokens: Sequence[Token], at: int) -> bool:
    if tokens[at].sort is not Sort.WORD or tokens[at].what not in NUMBERS:
        return False
    if _leads_to_value(tokens, at):
        return True
    behind = tokens[at + 1] if at + 1 < len(tokens) else None
    closes = behind is None or (behind.sort is Sort.WORD and behind.what in _COUNTED | {"of"})
    return closes and any(token.sort in _VALUES for token in tokens[:at])


def _leads_to_value(tokens: Sequence[Token], at: int, *, loose: bool = False) -> bool:
    for token in tokens[at + 1 :]:
        if token.sort in _VALUES:
            return True
        known = token.what in _COUNTED or token.what in words.NEUTRAL or (loose and token.what in NUMBERS)
        if token.sort is Sort.WORD and not known:
            return False
        if token.sort not in {Sort.WORD, Sort.KIND, Sort.MOUNT, Sort.MARK}:
            return False
    return False
